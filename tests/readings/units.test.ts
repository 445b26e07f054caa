import { describe, expect, test } from "vitest";
import type { Question } from "../../engine/readings/question.ts";
import { recheckMapping } from "../../engine/readings/recheck.ts";
import { linesOf, look, readProposed, readUnit, target } from "./support.ts";

const CELLAR = target("taken: instant, gravity: °P, temp: °C");

/** A CSV of a day's rows with the given entries in its second column. */
const csvOf = (header: string, entries: readonly string[]): string =>
  [
    `Taken,${header}`,
    ...entries.map(
      (entry, at) => `2026-03-10 ${String(at % 24).padStart(2, "0")}:${10 + Math.floor(at / 24)},${entry}`,
    ),
  ].join("\n");

const asked = async (csv: string, table = CELLAR): Promise<readonly Question[]> =>
  (await look(csv, table)).proposed.questions;

const choices = ([one]: readonly Question[]): unknown[] => [one?.about, one?.choices.map(({ value }) => value)];

/** What stands in the second column of a table of two, as it is read. */
const readAs = async (csv: string, asks: string, answers = {}): Promise<readonly string[]> =>
  linesOf((await readProposed(csv, target(`taken: instant, ${asks}`), answers)).pages).map(
    (line) => line.split(",")[1] ?? "",
  );

// What failed probes report: engine/readings/trouble.ts. Bounds of a brewery: common practice, no source.
describe("the unit of temperatures", () => {
  test.each([
    [["18.2", "18.3", "999", "18.4"]],
    [["-127", "18", "127.5", "150"]],
    [["18.2", "18.3", "18.2", "150.0", "18.4"]],
    [[...Array.from({ length: 100 }, (_, at) => String(18 + at / 100)), "150", "152", "999"]],
    // In kelvin they are as plain, and nothing asks for that.
    [["291.3", "291.4", "291.5"]],
  ])("is asked where failed or lone figures alone are too hot for °C: %j", async (entries) => {
    expect(choices(await asked(csvOf("Temp", entries)))).toEqual(["unit:Temp", ["°C", "°F"]]);
  });

  test("is °F where many figures are too hot for °C, failed ones aside", async () => {
    expect(await readAs(csvOf("Temp", ["64.4", "999", "152.1", "153.0", "212"]), "temp: °C")).toEqual(
      ["64.4", "999", "152.1", "153.0", "212"].map((figure) => `${figure} °F`),
    );
  });
});

describe("the scale of gravities", () => {
  test.each([
    [
      ["12.1", "11.9", "85", "11.5"],
      ["°P", "GU"],
    ],
    [
      ["12.1", "11.9", "86.5", "11.5"],
      ["°P", "GU"],
    ],
    // Three are SG; where one is not, the range decides nothing, and SG stays a choice.
    [
      ["1.048", "1.041", "7.2", "1.030"],
      ["SG", "°P", "GU"],
    ],
    [
      ["1048", "1041", "7.2", "1030"],
      ["SG×1000", "°P"],
    ],
    [
      ["0", "85", "999"],
      ["SG", "SG×1000", "°P", "GU"],
    ],
  ])("is asked, a failed or lone figure deciding nothing: %j", async (entries, among) => {
    expect(choices(await asked(csvOf("Gravity", entries)))).toEqual(["gravity:Gravity", among]);
  });

  test("is a choice too where it is the column's own", async () => {
    const table = target("taken: instant, gravity: SG");
    expect(choices(await asked(csvOf("Gravity", ["12.1", "11.9", "11.5"]), table))).toEqual([
      "gravity:Gravity",
      ["SG", "°P", "GU"],
    ]);
  });

  test("is decided by the others where a probe failed, and the failed figure is shown as it stands", async () => {
    expect(await readAs(csvOf("Gravity", ["1.048", "0", "1.041"]), "gravity: SG")).toEqual(["1.048", "0", "1.041"]);
    const [one] = (await look(csvOf("Gravity", ["12.1", "999", "11.5"]), CELLAR)).proposed.questions;
    expect(one?.why).toBe(
      "The figures run from 11.5 to 12.1 (999 aside, which failed probes report), and beer reads so on each of these.",
    );
  });
});

describe("a header that names a scale", () => {
  test.each([
    ["SG", ["10485", "10300"], ["SG", "SG×1000", "°P", "GU"]],
    ["SG", ["12.0", "11.4"], ["SG", "°P", "GU"]],
    ["Gravity (°P)", ["1048", "1030"], ["SG×1000", "°P"]],
    ["Gravity (GU)", ["1.048", "1.030", "1.012"], null],
    ["SG", ["1048", "1030"], null],
    // Nearly none, not some: a few slips are listed as what they are.
    ["SG", ["1.048", "19.0", "18.4"], null],
  ])("%s is asked about where nearly none of the figures is a beer's so: %j", async (header, entries, among) => {
    const open = await asked(csvOf(header, entries));
    if (among === null) expect(open).toEqual([]);
    else {
      expect(choices(open)).toEqual([`gravity:${header}`, among]);
      expect(open[0]?.why).toContain("and no beer reads so");
    }
  });

  test("is believed in the end where a person says so", async () => {
    expect(await readAs(csvOf("SG", ["12.0"]), "gravity: °P", { "gravity:SG": "°P" })).toEqual(["12.0"]);
    expect(await readAs(csvOf("SG", ["1.300"]), "gravity: SG", { "gravity:SG": "SG" })).toEqual(["1.300"]);
  });
});

test("an answer of SG to gravities without their point leaves the point where it is", async () => {
  const csv = csvOf("Gravity", ["1048.5", "1040"]);
  expect(await readAs(csv, "gravity: SG", { "gravity:Gravity": "SG" })).toEqual(["1.0485", "1.040"]);
  expect(await readAs(csv, "gravity: SG", { "gravity:Gravity": "GU" })).toEqual(["1048.5 GU", "1040 GU"]);
});

describe("a kept mapping asks again", () => {
  test.each([
    ["SG", "gravity: SG", ["1.048", "1.040"], ["12.0", "11.4"], "are no reading of beer in SG."],
    ["SG", "gravity: SG", ["1.048", "1.040"], ["1048", "1040"], "are SG×1000."],
    ["Gravity (°P)", "gravity: °P", ["12.1", "11.2"], ["1048", "1040"], "are SG×1000."],
    ["Temp", "temp: °C", ["18.2", "18.3"], ["150.1", "152.4"], "are °F."],
    ["SG", "gravity: SG", ["1.048", "1.040"], ["1.030", "999"], null],
    ["Temp", "temp: °C", ["18.2", "18.3"], ["18.4", "999", "18.5"], null],
  ])("where figures under %s cannot be of its unit: %s %j, then %j", async (header, asks, before, now, says) => {
    const table = target(`taken: instant, ${asks}`);
    const { mapping } = await readProposed(csvOf(header, before), table, { "unit:Temp": "°C" });
    const { detection } = await look(csvOf(header, now), table);
    const { against } = recheckMapping(mapping, detection, table, readUnit);
    expect(against).toEqual(says === null ? [] : [expect.stringContaining(says)]);
  });

  test("but not where the unit changed before, and stays so", async () => {
    const { mapping } = await readProposed(csvOf("SG", ["1.048", "1.040"]), CELLAR);
    const { detection } = await look(csvOf("SG", ["7.0", "6.4"]), CELLAR);
    const columns = mapping.columns.map((one) => ({ ...one, switches: one.unit ? [{ from: 0, unit: "°P" }] : [] }));
    expect(recheckMapping({ ...mapping, columns }, detection, CELLAR, readUnit).against).toEqual([]);
  });
});

describe("net and gross weights", () => {
  const FILLS = target("taken: instant, gross: g");

  test.each([
    ["Net [g]", FILLS, '"Net [g]" is net and "Gross" gross: they differ by the tare.'],
    ["Brutto (g)", target("taken: instant, net: g"), '"Brutto (g)" is gross and "Net" net: they differ by the tare.'],
  ])("are asked about where the file has the other one: %s", async (header, table, why) => {
    const [one, ...more] = await asked(csvOf(header, ["861.8", "860.2"]), table);
    expect([one?.about, one?.choices.map(({ value }) => value), one?.why, one?.likely, more]).toEqual([
      `column:${table.columns[1]?.name}`,
      [header, "(none)"],
      why,
      null,
      [],
    ]);
  });

  test("are read as it was answered, and unasked where both say the same or the table neither", async () => {
    const csv = csvOf("Net [g]", ["861.8", "860.2"]);
    expect(await readAs(csv, "gross: g", { "column:gross": "Net [g]" })).toEqual(["861.8", "860.2"]);
    expect(await readAs(csv, "net: g")).toEqual(["861.8", "860.2"]);
    expect(await readAs(csv, "filled: g")).toEqual(["861.8", "860.2"]);
    const both = csvOf("Net [g],Gross [g]", ["831.8,861.8"]);
    expect(await readAs(both, "gross: g")).toEqual(["861.8"]);
  });
});

// 998.2 kg/m³, water at 20 °C: OIML R 22 (1973), general formula at no alcohol (998.20123).
describe("a density", () => {
  const SG = target("taken: instant, gravity: SG");

  test.each(["Density", "Dichte", "Densité", "Density (probe 2)"])(
    "is not taken for SG unasked: %s",
    async (header) => {
      const csv = csvOf(header, ["1048.5", "1040.1"]);
      const [one, ...more] = await asked(csv, SG);
      expect([one?.about, one?.choices.map(({ value }) => value), one?.likely, more]).toEqual([
        "column:gravity",
        [header, "(none)"],
        null,
        [],
      ]);
      expect(one?.why).toContain("over the 998.2 kg/m³ of water at 20 °C");
      expect(await readAs(csv, "gravity: SG", { "column:gravity": header })).toEqual(["1.0485", "1.0401"]);
    },
  );

  test.each(["Density (kg/m3)", "Density (kg/m³)", "Dichte [g/cm3]", "Density (g/mL)", "Gravity (kg/m³)"])(
    "in its own unit is left unread, and why: %s",
    async (header) => {
      const { proposed } = await look(csvOf(header, ["1048.5", "1040.1"]), SG);
      expect([proposed.questions, proposed.unread, proposed.unfilled]).toEqual([[], [header], ["gravity"]]);
      expect(proposed.notes.join()).toContain(`"${header}" is not read into "Gravity": a density`);
    },
  );

  test("goes into a column of densities, and what is relative or names a gravity into one of those", async () => {
    expect(await readAs(csvOf("Density (kg/m3)", ["1048.5"]), "density: kg/m³")).toEqual(["1048.5"]);
    expect(await readAs(csvOf("Density (g/cm3)", ["1.0485"]), "density: kg/m³")).toEqual(["1.0485 g/cm³"]);
    for (const header of ["Density (SG)", "Relative density", "Relative Dichte", "Dichte (20/20 °C)"])
      expect(await readAs(csvOf(header, ["1.048", "1.030"]), "gravity: SG")).toEqual(["1.048", "1.030"]);
  });
});

describe("what a header says like a unit and is none", () => {
  test.each([
    ["Alcohol (% w/w)", "alcohol: % vol", "% w/w", ["% vol"]],
    ["Alcohol % m/m", "alcohol: % vol", "% m/m", ["% vol"]],
    ["Temp (x10)", "temp: °C", "x10", ["°C", "°F"]],
    ["Gross (0.1 g)", "gross: g", "0.1 g", ["g", "kg", "lb", "oz"]],
    ["Pressure (bar over)", "pressure: bar", "bar over", ["bar", "kPa", "psi", "mbar"]],
    ["Gravity (% w/w)", "gravity: °P", "% w/w", ["°P", "GU"]],
  ])("is named, and nothing put forward: %s", async (header, asks, says, among) => {
    const [one] = await asked(csvOf(header, ["18.2", "18.3"]), target(`taken: instant, ${asks}`));
    expect([one?.choices.map(({ value }) => value), one?.likely]).toEqual([among, null]);
    expect(one?.why).toContain(`The header says "${says}"`);
  });

  test("decides nothing of figures that are too hot, and asks where the point is in whole ones", async () => {
    const [unit, point] = await asked(csvOf("Temp (x10)", ["182", "183"]));
    expect([unit?.about, point?.about, point?.choices.map(({ label }) => label)]).toEqual([
      "unit:Temp (x10)",
      "implied-decimals:Temp (x10)",
      ["182 is 182", "182 is 18.2", "182 is 1.82", "182 is 0.182"],
    ]);
    const answers = {
      "unit:Gross (0.1 g)": "g",
      "implied-decimals:Gross (0.1 g)": "1",
    };
    expect(await readAs(csvOf("Gross (0.1 g)", ["8618"]), "gross: g", answers)).toEqual(["861.8"]);
  });

  test.each(["Extract (% w/w)", "Original extract [% m/m]", "Stammwürze (% mas)", "Extrakt (Gew.-%)"])(
    "is °P of extract by mass: %s",
    async (header) => {
      expect(await readAs(csvOf(header, ["12.1", "11.9"]), "extract: °P", { "column:extract": header })).toEqual([
        "12.1",
        "11.9",
      ]);
    },
  );

  test("is nothing of the kind in a place, a temperature of reference or a factor that is known", async () => {
    expect(await readAs(csvOf("Temp (in tank)", ["150.1", "152.4"]), "temp: °C")).toEqual(["150.1 °F", "152.4 °F"]);
    const [one] = await asked(csvOf("Temp (top)", ["18.2"]));
    expect([one?.likely, one?.why]).toEqual([
      "°C",
      'Neither the header nor the entries name it: "top" is no unit that is known.',
    ]);
    for (const header of ["Gravity (20 °C)", "SG (20/20)", "Gravity (SG by hand)"])
      expect(await readAs(csvOf(header, ["1.048", "1.030"]), "gravity: SG")).toEqual(["1.048", "1.030"]);
    expect(await readAs(csvOf("SG (x1000)", ["1048", "1030"]), "gravity: SG")).toEqual(["1.048", "1.030"]);
  });
});

test("a header that is the table's label is no unit, whatever it ends in", async () => {
  expect(await readAs(csvOf("Hop bags g", ["12", "9"]), "hop_bags_g: number")).toEqual(["12", "9"]);
  expect(await readAs(csvOf("SG", ["1.048", "1.030"]), "SG: number")).toEqual(["1.048", "1.030"]);
  // Only the same words are: this column names another, and a unit.
  expect((await look(csvOf("All cells", ["236"]), target("taken: instant, counted: number"))).proposed.unread).toEqual([
    "All cells",
  ]);
});

describe("a second batch", () => {
  const falling = Array.from({ length: 10 }, (_, at) => (1.048 - at / 250).toFixed(4));
  const inGU = Array.from({ length: 10 }, (_, at) => String(88 - at * 8));
  const batches = async (header: string, entries: readonly string[]): Promise<readonly string[]> =>
    (await asked(csvOf(header, entries))).flatMap(({ about, examples }) => (about.startsWith("batch") ? examples : []));

  test("does not begin at a figure that failed probes report, nor after one", async () => {
    expect(await batches("SG", [...falling, "999", "1.0119"])).toEqual([]);
    expect(await batches("SG", [...falling, "999", "999", "1.0119"])).toEqual([]);
    expect(await batches("SG", [...falling, "0", "1.0119"])).toEqual([]);
    expect(await batches("Gravity (GU)", [...inGU, "85", "15"])).toEqual([]);
  });

  test("begins with a reading that happens to be one of those, and behind one", async () => {
    expect(await batches("Gravity (GU)", [...inGU, "85", "84.5", "80"])).toEqual(["line 12: 16, then 85"]);
    expect(await batches("SG", [...falling, "999", "1.048", "1.046"])).toEqual(["line 13: 1.012, then 1.048"]);
  });
});
