import { describe, expect, test } from "vitest";
import { existingRows } from "../../engine/readings/existing.ts";
import type { Question } from "../../engine/readings/question.ts";
import { readInto } from "../../engine/readings/read-into.ts";
import { sourceOf } from "../../engine/readings/source.ts";
import { linesOf, look, readProposed, readUnit, target } from "./support.ts";

const CELLAR = target("taken: instant, gravity: °P, temp: °C");

/** A CSV of a day's rows with the given entries in its second column. */
const csvOf = (header: string, entries: readonly string[], separator = ","): string =>
  [`Taken${separator}${header}`, ...entries.map((entry, at) => `2026-03-${10 + at} 08:00${separator}${entry}`)].join(
    "\n",
  );

const asked = async (csv: string, table = CELLAR): Promise<readonly Question[]> =>
  (await look(csv, table)).proposed.questions;

const names = (questions: readonly Question[]): string[] => questions.map(({ about }) => about);

describe("a gravity column", () => {
  // Bounds of wort and beer on each scale: common practice, no source.
  test.each([
    ["Gravity", ["1.048", "1.030", "1.012"], "1.048 SG"],
    ["Gravity", ["1048", "1030", "1012"], "1.048 SG"],
    ["Gravity", ["0.998", "1.004", "1.112"], "0.998 SG"],
    ["SG", ["1048", "1030", "1012"], "1.048 SG"],
    ["SG x 1000", ["1048", "1030.5", "1012"], "1.048 SG"],
    ["Gravity", ["96", "60", "12"], "96 GU"],
    ["Gravity [°P]", ["12.1", "6.0", "3.1"], "12.1"],
    ["Plato", ["12.1", "6.0", "3.1"], "12.1"],
    ["Gravity", ["12.1 °P", "6.0 °P", "3.1 °P"], "12.1"],
    ["Gravity", ["1.048 SG", "6.0 °P", "12 GU"], "1.048 SG"],
  ])("%s of %j is decided: %s", async (header, entries, first) => {
    const csv = csvOf(header, entries);
    expect(names(await asked(csv))).toEqual([]);
    expect(linesOf((await readProposed(csv, CELLAR)).pages)[0]).toBe(`2026-03-10T08:00,${first},`);
  });

  test.each([
    [
      ["12", "8", "3"],
      ["°P", "GU"],
    ],
    [
      ["1.05", "1.03", "1.01"],
      ["SG", "°P", "GU"],
    ],
    [
      ["1.012", "1.012", "1.012"],
      ["SG", "°P", "GU"],
    ],
    [
      ["500", "510", "520"],
      ["SG", "SG×1000", "°P", "GU"],
    ],
  ])("of %j is asked: %j", async (entries, choices) => {
    const [one] = await asked(csvOf("Gravity", entries));
    expect(one?.about).toBe("gravity:Gravity");
    expect(one?.choices.map(({ value }) => value)).toEqual(choices);
    expect(one?.examples[0]).toBe(`line 2: ${entries[0]}`);
  });

  // A finished beer hardly moves, so that its range decides nothing. Likelihood: common practice, no source.
  test.each([
    [["1.0120", "1.0118", "1.0120"], "SG"],
    [["1.05", "1.04", "1.01"], "SG"],
    [["1", "1", "1"], null],
    [["12.1", "6.0", "3.1"], null],
  ])("of %j is likelier in %j", async (entries, likely) => {
    expect((await asked(csvOf("Gravity", entries)))[0]?.likely).toBe(likely);
  });
});

describe("a question", () => {
  test("is asked about a temperature without a unit, with the column's own unit first", async () => {
    const [one] = await asked(csvOf("Temp", ["18.1", "18.4"]));
    expect([one?.about, one?.choices.map(({ value }) => value), one?.likely, one?.free]).toEqual([
      "unit:Temp",
      ["°C", "°F"],
      "°C",
      true,
    ]);
    const read = await readProposed(csvOf("Temp", ["64.1", "64.4"]), CELLAR, { "unit:Temp": "°F" });
    expect(linesOf(read.pages)[0]).toBe("2026-03-10T08:00,,64.1 °F");
    expect(names(await asked(csvOf("Temp", ["150.1", "152.4"])))).toEqual([]);
  });

  test("is asked about marks that all figures leave open, and not where one figure decides", async () => {
    const table = target("taken: instant, volume: L");
    expect(names(await asked(csvOf("Volume (L)", ["1,250", "1,300"], ";"), table))).toEqual(["decimal"]);
    expect(names(await asked(csvOf("Volume (L)", ["1,250", "1,300.5"], ";"), table))).toEqual([]);
    expect(names(await asked(csvOf("Volume (L)", ["1,250", "12,5"], ";"), table))).toEqual([]);
    expect(linesOf((await readProposed(csvOf("Volume (L)", ["1 250,5", "950,0"], ";"), table)).pages)[0]).toBe(
      "2026-03-10T08:00,1250.5",
    );
    expect(linesOf((await readProposed(csvOf("Volume (L)", ["1.250", "12,5"], ";"), table)).pages)).toEqual([
      "2026-03-10T08:00,1250",
      "2026-03-11T08:00,12.5",
    ]);
  });

  test("is asked where marks contradict one another, and the others are then rejected", async () => {
    const table = target("taken: instant, volume: L");
    const csv = csvOf("Volume (L)", ["12.5", "12,75", "13.5"], ";");
    const [one] = await asked(csv, table);
    expect([one?.about, one?.examples]).toEqual(["decimal", ["line 2: 12.5", "line 4: 13.5", "line 3: 12,75"]]);
    const read = await readProposed(csv, table, { decimal: "point" });
    expect([read.rows, read.rejects.map(({ line }) => line)]).toEqual([2, [3]]);
  });

  test("is asked about a separator where two split every line alike", async () => {
    const [one] = await asked("a;b,c\nd;e,f\ng;h,i\n", target("a: text, b: text"));
    expect([one?.about, one?.choices.map(({ value }) => value)]).toEqual(["separator", [",", ";"]]);
  });

  test("is asked about the header where text rows stand below it, and its answer is taken", async () => {
    const table = target("sample: text, remark: text, ph: pH");
    const csv = "Sample,Remark,pH\nA,clear,awaited\nB,hazy,--\nC,hazy,--\nD,clear,4.4\nE,clear,4.5\n";
    const [one] = await asked(csv, table);
    expect([one?.about, one?.choices.map(({ value }) => value)]).toEqual(["header", ["2", "1"]]);
    const read = await readInto(sourceOf(csv), table, existingRows([], table, readUnit), readUnit, {
      answers: { header: "1" },
    });
    expect(read.is === "read" && read.merge.pages[0]?.text).toBe("B,hazy,\nC,hazy,\nD,clear,4.4\nE,clear,4.5\n");
  });

  test("is asked about °F figures in the midst of °C, and about a second batch, and of neither in a quiet log", async () => {
    const quiet = Array.from({ length: 12 }, (_, at) => (18 + at / 10).toFixed(1));
    expect(names(await asked(csvOf("Temp (°C)", quiet)))).toEqual([]);
    expect(names(await asked(csvOf("Temp (°C)", [...quiet, "66.7", "66.9"])))).toEqual(["unit-change:Temp (°C)"]);
    const falling = Array.from({ length: 10 }, (_, at) => (12 - at).toFixed(1));
    expect(names(await asked(csvOf("Gravity (°P)", falling)))).toEqual([]);
    expect(names(await asked(csvOf("Gravity (°P)", [...falling, "11.8", "11.0"])))).toEqual(["batch:Gravity (°P)"]);
  });

  test("is not asked of a set point: it stands aside unless the table has a column for it", async () => {
    const csv = "Taken,Temp (°C),Set point (°C)\n2026-03-02 08:00,18.1,18.0\n";
    const { proposed } = await look(csv, CELLAR);
    expect([names(proposed.questions), proposed.unread]).toEqual([[], ["Set point (°C)"]]);
    const read = await readProposed(csv, target("taken: instant, temp: °C, set_point: °C"));
    expect(linesOf(read.pages)).toEqual(["2026-03-02T08:00,18.1,18.0"]);
  });

  test("is not asked of a raw tilt: it is no gravity, and says so", async () => {
    const { proposed } = await look("Taken,Tilt angle,Temp (°C)\n2026-03-02 08:00,42.1,18.1\n", CELLAR);
    expect([proposed.unfilled, names(proposed.questions)]).toEqual([["gravity"], []]);
    expect(proposed.notes.join()).toContain("raw tilt angle, no gravity");
  });
});

describe("a table with two columns of times", () => {
  const steps = target("from: instant, to: instant, step: text");
  const csv = "Step,To,From\nrinse,2026-03-31 13:05,2026-03-31 13:00\ncaustic,,2026-03-31 13:08\n";

  test("takes both by their names, the later one missing where it is empty", async () => {
    expect(names(await asked(csv, steps))).toEqual([]);
    const read = await readProposed(csv, steps);
    expect(linesOf(read.pages)).toEqual(["2026-03-31T13:00,2026-03-31T13:05,rinse", "2026-03-31T13:08,,caustic"]);
  });

  test("asks where neither is called so, and rejects a row without its first time", async () => {
    expect(names(await asked(csv.replace("To,From", "End,Start"), steps))).toEqual(["time"]);
    const read = await readProposed(`${csv}acid,2026-03-31 14:00,\n`, steps);
    expect(read.rejects.map(({ line, reason }) => [line, reason])).toEqual([[4, 'There is no time under "From".']]);
  });

  test("asks for the later one too, once the first is known, and leaves it empty only when told to", async () => {
    const other = csv.replace("To,From", "End,Start");
    const { proposed } = await look(other, steps, { time: "Start" });
    expect(proposed.questions.map(({ about, choices }) => [about, ...choices.map(({ value }) => value)])).toEqual([
      ["column:to", "End", "(none)"],
    ]);
    const both = await readProposed(other, steps, { time: "Start", "column:to": "End" });
    expect(linesOf(both.pages)[0]).toBe("2026-03-31T13:00,2026-03-31T13:05,rinse");
    const { proposed: one } = await look(other, steps, { time: "Start", "column:to": "(none)" });
    expect([names(one.questions), one.unread, one.unfilled]).toEqual([[], ["End"], ["to"]]);
  });

  test("never takes a column that is called as the later one for the first", async () => {
    const { proposed } = await look("Step,To\nrinse,2026-03-31 13:05\n", steps);
    expect(names(proposed.questions)).toEqual(["column:from"]);
    const read = await readProposed("Step,To\nrinse,2026-03-31 13:05\n", steps, { "column:from": "(none)" });
    expect([linesOf(read.pages), read.mapping.key]).toEqual([[",2026-03-31T13:05,rinse"], ["to"]]);
  });

  test("is asked for neither where the file has them and they are empty", async () => {
    expect(names(await asked("Step,To,From\nrinse,,\ncaustic,,\n", steps))).toEqual([]);
  });
});

describe("a column of times", () => {
  const LOG = "Gravity (°P)\n";
  test.each([
    ["Reading made", "2026-03-02 08:15"],
    ["Date", "2026-03-02"],
    ["Timestamp", "2026-03-02T08:15:00"],
    ["x", "25.03.2026 18:15"],
  ])("under %s is taken where the table has one and the file holds no other", async (header, entry) => {
    const read = await readProposed(`${header},${LOG}${entry},12.1\n`, CELLAR);
    expect([read.mapping.columns[0]?.from, read.rows]).toEqual([[header], 1]);
  });

  test.each([
    ["dates of two kinds", "Received,Reported", "2026-03-02,2026-03-04", ["time"]],
    ["a date with a time, and both apart", "Uploaded,Date,Time", "2026-03-05 10:00,2026-03-02,08:15", ["time"]],
    ["a date and two clocks that nothing tells apart", "Date,Begun,Ended", "2026-03-02,08:15,09:15", ["time-of-day"]],
    ["figures that may be seconds since 1970", "x", "1772438400", ["column:taken"]],
    ["times of day alone", "Time", "08:15", ["column:taken"]],
    ["days in figures", "When", "46083.34", ["column:taken"]],
    ["none at all", "n", "3", ["column:taken"]],
  ])("is asked for where the file holds %s", async (_, headers, entries, about) => {
    expect(names(await asked(`${headers},${LOG}${entries},12.1\n`))).toEqual(about);
  });

  test("that the data leave in doubt is read as it is answered, or left empty", async () => {
    const csv = `x,${LOG}1772438400,12.1\n`;
    const [one] = await asked(csv);
    expect([one?.choices.map(({ value }) => value), one?.examples]).toEqual([["x", "(none)"], ["x: 1772438400"]]);
    // 1772438400 s after 1970-01-01 is 2026-03-02 08:00 UTC (date -u -d @1772438400).
    const read = await readProposed(csv, CELLAR, { "column:taken": "x", "brewery-clock": "UTC" });
    expect(linesOf(read.pages)).toEqual(["2026-03-02T08:00,12.1,"]);
    const without = await readProposed(csv, CELLAR, { "column:taken": "(none)" });
    expect([linesOf(without.pages), without.notes]).toEqual([
      [",12.1,"],
      ['No column of the file holds a time for "Taken".'],
    ]);
  });

  test("in seconds since 1970 costs a row its place only where a clock was reset", async () => {
    const csv = `epoch,${LOG}1772438400,12.1\n3600,11.9\n1772445600,11.8\n`;
    const read = await readProposed(csv, CELLAR, { "brewery-clock": "UTC" });
    expect([read.rows, read.rejects.map(({ line, reason }) => [line, reason])]).toEqual([
      2,
      [[3, '"3600" under "epoch" is no date and time (seconds since 1970).']],
    ]);
  });

  test("says why none is sure: times without a date, figures that are no dates", async () => {
    expect((await asked(`Time,${LOG}08:15,12.1\n`))[0]?.why).toBe('"Time" holds times of day without a date.');
    expect((await asked(`When,${LOG}46083.34,12.1\n`))[0]?.why).toBe(
      '"When" holds no dates that can be read: 46083.34.',
    );
  });

  test("goes to the table's column of texts that is called so", async () => {
    const table = target("taken: instant, best_before: text");
    const read = await readProposed("Taken,Best before\n2026-03-02 08:15,2026-09-01\n", table);
    expect(linesOf(read.pages)).toEqual(["2026-03-02T08:15,2026-09-01"]);
  });
});

describe("columns", () => {
  test.each(["Setpoint °C", "Set point (°C)", "set-point [°C]", "SET_POINT (°C)", "Set points (°C)"])(
    "are known by their name however it is written: %s",
    async (header) => {
      const table = target("taken: instant, temp: °C, set_point: °C");
      const { proposed } = await look(`Taken,Tank (°C),${header}\n2026-03-02 08:15,18.1,18\n`, table);
      expect(proposed.mapping.columns.map(({ to, from }) => [to, from[0]])).toEqual([
        ["taken", "Taken"],
        ["temp", "Tank (°C)"],
        ["set_point", header],
      ]);
      expect(proposed.unread).toEqual([]);
    },
  );

  test("that are called just so come before those that are written otherwise", async () => {
    const table = target("taken: instant, set_point: °C");
    const { proposed } = await look("Taken,Setpoint (°C),Set point (°C)\n2026-03-02 08:15,18,19\n", table);
    expect([proposed.questions, proposed.unread]).toEqual([[], ["Setpoint (°C)"]]);
  });

  test("without names are asked about, and nothing is read but what is answered", async () => {
    const csv = "2026-03-02 08:15,12.1,18.2,clear\n2026-03-03 08:15,11.1,18.4,hazy\n";
    expect(names(await asked(csv))).toEqual(["column:gravity", "column:temp"]);
    const read = await readProposed(csv, CELLAR, {
      "column:gravity": "column 2",
      "gravity:column 2": "°P",
      "column:temp": "(none)",
    });
    expect(linesOf(read.pages)).toEqual(["2026-03-02T08:15,12.1,", "2026-03-03T08:15,11.1,"]);
    const { proposed } = await look(csv, target("taken: instant, remark: text"));
    expect(proposed.questions.map(({ choices }) => choices.map(({ value }) => value))).toEqual([
      ["column 4", "(none)"],
    ]);
  });

  test("that are called alike are asked about, each with its unit", async () => {
    const csv = "Taken,Temp (°F),Temp (°F)\n2026-03-02 08:15,64.1,36.0\n";
    const [one] = await asked(csv);
    expect([one?.about, one?.examples]).toEqual(["column:temp", ["Temp (°F): 64.1", "Temp (°F) #2: 36.0"]]);
    const read = await readProposed(csv, CELLAR, { "column:temp": "Temp (°F) #2" });
    expect(linesOf(read.pages)).toEqual(["2026-03-02T08:15,,36.0 °F"]);
  });

  test("without a name and without an entry are none, and those of a header's end are no change", async () => {
    const csv = "|Taken|Gravity (°P)|\n|2026-03-02 08:15|12.1|\n";
    const read = await readProposed(csv, CELLAR);
    expect([read.rows, read.notes]).toEqual([1, []]);
    expect((await look(csv, CELLAR)).proposed.unread).toEqual([]);
  });

  test("of unlike kinds are not read from one column", async () => {
    const csv = "Taken,Gravity (°P),Temp (°C)\n2026-03-02 08:15,12.1,18.2\n";
    const { proposed } = await look(csv, CELLAR, { "column:gravity": "Gravity (°P)", "column:temp": "Gravity (°P)" });
    expect(names(proposed.questions)).toEqual(["column:temp"]);
    expect(proposed.notes).toContain('"Gravity (°P)" is read into "Gravity" already, which holds something else.');
  });

  test("that nothing parts are told of", async () => {
    const { proposed } = await look("Taken             Gravity\n2026-03-02 08:15  12.1\n", CELLAR);
    expect(proposed.notes.join()).toContain('The file has one column, "Taken Gravity": no comma,');
  });

  test("of a date and a time of day share a time only where both do", async () => {
    const csv = (last: string): string =>
      `Date,Time,Temp (°C)\n2026-03-02,08:15,18.2\n2026-03-02,14:15,18.4\n${last},18.6\n`;
    const daily = await readProposed(csv("2026-03-03,14:15"), CELLAR);
    expect([daily.mapping.occurrence, daily.notes]).toEqual([false, []]);
    const twice = await readProposed(csv("2026-03-02,14:15"), CELLAR);
    expect([twice.mapping.occurrence, twice.notes.join()]).toEqual([true, expect.stringMatching(/^1 row shares/)]);
  });

  test("may have units behind their figures as headers write them", async () => {
    const read = await readProposed(csvOf("Temp", ["64.8F", "65 F", "18.2 C", "18 deg C"]), CELLAR);
    expect(linesOf(read.pages).map((line) => line.split(",")[2])).toEqual(["64.8 °F", "65 °F", "18.2", "18"]);
  });
});

describe("a header", () => {
  test("is found among remarks before and between the rows", async () => {
    const csv = "# logger 7\n# FV1\nTaken,Gravity (°P)\n2026-03-02 08:15,12.1\n# power lost\n2026-03-03 08:15,11.1\n";
    const read = await readProposed(csv, CELLAR);
    expect([read.rows, read.leftOut.preamble, read.rejects.map(({ line }) => line)]).toEqual([2, 2, [5]]);
  });
});

describe("an answer that cannot be used", () => {
  test("opens its question again and says why, whether the file names the unit or not", async () => {
    for (const header of ["Temp", "Temp (°C)"]) {
      const { proposed } = await look(csvOf(header, ["18.1", "18.4"]), CELLAR, { [`unit:${header}`]: "kg" });
      expect(names(proposed.questions)).toEqual([`unit:${header}`]);
      expect(proposed.notes).toContain('"kg" is no unit for "Temp".');
      expect([...proposed.answered, ...proposed.settled.map(({ question }) => question)]).not.toContainEqual(
        expect.objectContaining({ about: `unit:${header}` }),
      );
    }
  });
});

describe("truths", () => {
  test("are read in the words that people use, and other words are rejected", async () => {
    const table = target("taken: instant, clear: truth");
    const read = await readProposed(csvOf("Clear", ["yes", "No", "TRUE", "0", "--", "perhaps"]), table);
    expect(linesOf(read.pages).map((line) => line.split(",")[1])).toEqual(["yes", "no", "yes", "no", ""]);
    expect(read.rejects.map(({ reason }) => reason)).toEqual(['"perhaps" under "Clear" is neither yes nor no.']);
  });
});
