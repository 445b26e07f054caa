import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { detect } from "../../engine/readings/detect.ts";
import type { Mapping } from "../../engine/readings/mapping.ts";
import { parseMapping, printMapping } from "../../engine/readings/mapping-text.ts";
import type { Answers } from "../../engine/readings/question.ts";
import { readCsv } from "../../engine/readings/read.ts";
import { recheckMapping } from "../../engine/readings/recheck.ts";
import { type Chunk, sourceOf } from "../../engine/readings/source.ts";
import { knowsUnit, linesOf, look, readProposed, readUnit, target } from "./support.ts";

const CELLAR = target("taken: instant, gravity: °P, temp: °C");
const MORNING = "Taken,Gravity (°P),Temp (°F)\n02/03/2026 08:15,12.1,64.0\n13/03/2026 08:15,10.3,64.9\n";

const MAPPING: Mapping = {
  encoding: "windows-1252",
  separator: ";",
  headers: ["Datum", "Uhr;zeit", 'the "SG"', "Tank\\Nr"],
  headerRow: true,
  unitsRow: true,
  marks: { decimal: ",", thousands: "." },
  empties: ["--", "n/a"],
  zone: "Europe/Vienna",
  clock: "UTC",
  columns: [
    {
      to: "taken",
      from: ["Datum", "Uhr;zeit"],
      unit: null,
      unitFrom: null,
      implied: 0,
      offset: 0,
      switches: [],
      order: "day-first",
    },
    {
      to: "gravity",
      from: ['the "SG"'],
      unit: "SG",
      unitFrom: null,
      implied: 3,
      offset: -0.002,
      switches: [{ from: 1_772_438_400, unit: "°P" }],
      order: null,
    },
    { to: "weight", from: ["in"], unit: null, unitFrom: "unit", implied: 0, offset: 0, switches: [], order: null },
  ],
  key: ["taken", "tank"],
  occurrence: true,
  keep: [{ header: "Tank\\Nr", texts: ["FV1", "is"] }],
  after: 1_772_438_400,
  before: 1_775_000_040,
  answers: { "date-order:Datum": "day-first" },
};

describe("a mapping", () => {
  test("is one line that a person can read", () => {
    const line = printMapping(MAPPING);
    expect(line).not.toContain("\n");
    expect(line).toContain('csv windows-1252 semicolon; headers-and-units "Datum" "Uhr;zeit" "the ""SG"""');
    expect(line).toContain(
      'column gravity from "the ""SG""" in "SG" implied 3 offset -0.002 since 2026-03-02T08:00 in "°P"',
    );
  });

  test("printed and parsed is itself", () => {
    expect(parseMapping(printMapping(MAPPING))).toEqual(MAPPING);
  });

  test("printed and parsed is itself, whatever the headers and answers are", () => {
    const text = fc.string({ unit: "grapheme", maxLength: 12 });
    fc.assert(
      fc.property(fc.array(text, { minLength: 1, maxLength: 4 }), text, text, (headers, about, answer) => {
        const mapping: Mapping = {
          ...MAPPING,
          headers,
          answers: { [`a${about}`]: answer },
          keep: [{ header: about, texts: [answer] }],
        };
        expect(parseMapping(printMapping(mapping))).toEqual(mapping);
      }),
      { seed: 5, numRuns: 500 },
    );
  });

  test("that cannot be read says why, whatever is typed", () => {
    expect(parseMapping('csv utf-8 comma; headers "open')).toEqual({
      problem: "The mapping has a quote that is not closed.",
    });
    expect(parseMapping('csv utf-8 slash; headers "a"')).toEqual({ problem: '"slash" is no separator.' });
    expect(parseMapping("csv utf-8 comma")).toEqual({ problem: "The mapping names no headers." });
    expect(parseMapping('headers "a"; colunm x')).toEqual({ problem: 'A mapping has no clause "colunm".' });
    fc.assert(
      fc.property(fc.string(), (text) => {
        expect(parseMapping(text)).toBeTypeOf("object");
      }),
      { seed: 5, numRuns: 500 },
    );
  });
});

describe("a kept mapping", () => {
  const recheck = async (
    csv: Chunk,
    answers: Answers = {},
    before: Chunk = MORNING,
  ): Promise<ReturnType<typeof recheckMapping>> => {
    const { mapping } = await readProposed(before, CELLAR);
    return recheckMapping(mapping, await detect(sourceOf(csv), knowsUnit), CELLAR, readUnit, answers);
  };

  test("is used as it is on tomorrow's export, even where that alone would have to ask", async () => {
    const { proposed, changes, against } = await recheck("Taken,Gravity (°P),Temp (°F)\n03/04/2026 08:15,7.4,65.0\n");
    expect([proposed.questions, changes, against]).toEqual([[], [], []]);
    expect(proposed.mapping.columns[0]?.order).toBe("day-first");
  });

  test("notices a header that has changed, and is not used", async () => {
    const { changes, against } = await recheck("Taken,Gravity (SG),Temp (°F)\n14/03/2026 08:15,1.030,65.0\n");
    expect(changes).toEqual([
      { is: "gone", header: "Gravity (°P)" },
      { is: "new", header: "Gravity (SG)" },
    ]);
    expect(against).toEqual(['The column "Gravity (°P)" is no longer in the file.']);
  });

  test("notices dates in another order, and decimal commas", async () => {
    expect((await recheck("Taken,Gravity (°P),Temp (°F)\n03/14/2026 08:15,7.4,65.0\n")).against).toEqual([
      'The dates were day-first; on line 2 "03/14/2026 08:15" is none.',
    ]);
    const commas = await recheck('Taken,Gravity (°P),Temp (°F)\n14/03/2026 08:15,"7,4","65,0"\n');
    expect(commas.against).toEqual(['The decimal mark was "."; line 2 has 7,4.']);
  });

  test("asks again when the export holds a second vessel", async () => {
    const csv = "Taken,Tank,Gravity (°P),Temp (°F)\n14/03/2026 08:15,FV1,7.4,65.0\n14/03/2026 08:15,FV2,7.4,65.0\n";
    expect((await recheck(csv)).proposed.questions.map(({ about }) => about)).toEqual(["rows:Tank"]);
  });

  const TWO_TANKS = "Taken,Tank,Gravity (°P),Temp (°F)\n14/03/2026 08:15,FV1,7.4,65.0\n14/03/2026 08:15,FV2,9.1,65.0\n";

  test("takes the answer to what it asks again, and to what it had decided", async () => {
    const { proposed } = await recheck(TWO_TANKS, { "rows:Tank": "FV1" });
    expect([proposed.questions, proposed.mapping.keep]).toEqual([[], [{ header: "Tank", texts: ["FV1"] }]]);
    const march = "Taken,Gravity (°P),Temp (°F)\n02/03/2026 08:15,12.1,64.0\n";
    const { mapping } = await readProposed(march, CELLAR, { "date-order:Taken": "day-first" });
    const again = recheckMapping(mapping, await detect(sourceOf(march), knowsUnit), CELLAR, readUnit, {
      "date-order:Taken": "month-first",
    });
    expect(again.proposed.mapping.columns[0]?.order).toBe("month-first");
  });

  test("keeps what was set by hand, its offset too, when something is answered", async () => {
    const { mapping } = await readProposed(MORNING, CELLAR);
    const byHand: Mapping = {
      ...mapping,
      columns: mapping.columns
        .filter(({ to }) => to !== "temp")
        .map((column) => (column.to === "gravity" ? { ...column, offset: -0.2 } : column)),
    };
    const { proposed } = recheckMapping(byHand, await detect(sourceOf(TWO_TANKS), knowsUnit), CELLAR, readUnit, {
      "rows:Tank": "FV1",
    });
    expect(proposed.mapping.columns.map(({ to, offset }) => [to, offset])).toEqual([
      ["taken", 0],
      ["gravity", -0.2],
    ]);
  });

  test("keeps a unit that was set by hand against the header's, when something is answered", async () => {
    const { mapping } = await readProposed(MORNING, CELLAR);
    const columns = mapping.columns.map((one) => (one.to === "temp" ? { ...one, unit: "°C" } : one));
    const detection = await detect(sourceOf(TWO_TANKS), knowsUnit);
    const answers = { "rows:Tank": "FV1" };
    const { proposed } = recheckMapping({ ...mapping, columns }, detection, CELLAR, readUnit, answers);
    expect(proposed.mapping.columns.find(({ to }) => to === "temp")?.unit).toBe("°C");
  });

  test("tells of a column that is new, and of an offset that a fresh look would lose", async () => {
    const { proposed, against } = await recheck("Taken,Gravity (°P),Temp (°F),pH\n14/03/2026 08:15,7.4,65.0,4.5\n");
    expect([against, proposed.notes, proposed.unread]).toEqual([[], ['The column "pH" is new.'], ["pH"]]);
    const { mapping } = await readProposed(MORNING, CELLAR);
    const offset = {
      ...mapping,
      columns: mapping.columns.map((one) => ({ ...one, offset: one.to === "temp" ? 1.5 : 0 })),
    };
    const other = await detect(sourceOf("Taken,Gravity (SG)\n14/03/2026 08:15,1.030\n"), knowsUnit);
    expect(recheckMapping(offset, other, CELLAR, readUnit).against).toContain(
      'Until now 1.5 was added to "Temp (°F)"; looked at afresh, it is not.',
    );
  });

  test("notices a row of units that says another, is new or is gone", async () => {
    const csv = (units: string): string => `Taken,Gravity,Temp\n${units}2026-03-14 08:15,7.4,18.0\n`;
    const against = async (units: string): Promise<readonly string[]> =>
      (await recheck(csv(units), {}, csv(",°P,°C\n"))).against;
    expect(await against(",°P,°C\n")).toEqual([]);
    expect(await against(",°P,°F\n")).toEqual(['"Temp" was in °C; the row of units now says °F.']);
    expect(await against("")).toEqual(["There is no row of units below the headers any more."]);
    const bare = await recheck("Taken,Gravity (°P),Temp (°F)\n,°P,°F\n14/03/2026 08:15,7.4,65\n");
    expect(bare.against).toEqual(["There is a row of units below the headers now."]);
    // The answer to it is taken, and the rest of the mapping stays.
    const { proposed } = await recheck(csv(",°P,°F\n"), { "unit:Temp": "°F" }, csv(",°P,°C\n"));
    expect(proposed.mapping.columns.map(({ unit }) => unit)).toEqual([null, "°P", "°F"]);
  });

  test("notices gravities that are now written on another scale", async () => {
    const csv = (...gravities: string[]): string =>
      `Taken,SG\n${gravities.map((one, at) => `2026-03-1${at} 08:15,${one}`).join("\n")}\n`;
    const before = csv("1.052", "1.041");
    expect((await recheck(csv("1.038", "1.030"), {}, before)).against).toEqual([]);
    expect((await recheck(csv("1038", "1030"), {}, before)).against).toEqual([
      '"SG" was in SG; figures such as 1038 on line 2 are SG×1000.',
    ]);
    // A dry beer in °P is none either, where the header says °P.
    const plato = (one: string): string => `Taken,Gravity (°P)\n2026-03-14 08:15,${one}\n`;
    expect((await recheck(plato("1.021"), {}, plato("12.1"))).against).toEqual([]);
    // A scale that was chosen against what three decimals look like is kept, unless no figure can be on it.
    const dry = csv("1.021", "1.015").replace("SG", "Gravity");
    const { mapping } = await readProposed(dry, CELLAR, { "gravity:Gravity": "°P" });
    const onPlato = async (text: string): Promise<readonly string[]> =>
      recheckMapping(mapping, await detect(sourceOf(text), knowsUnit), CELLAR, readUnit).against;
    expect(await onPlato(dry)).toEqual([]);
    expect(await onPlato(csv("1021", "1015").replace("SG", "Gravity"))).toEqual([
      '"Gravity" was in °P; figures such as 1021 on line 2 are SG×1000.',
    ]);
    // One reading in the foam is no other scale.
    expect((await recheck(csv("1.038", "1.300"), {}, before)).against).toEqual([]);
  });

  test("notices times that are counted otherwise, and zones that come or go", async () => {
    const csv = (...times: string[]): string => `Time,Gravity (°P)\n${times.map((one) => `${one},12.1`).join("\n")}\n`;
    const against = async (before: string, now: string): Promise<readonly string[]> => {
      const { mapping } = await readProposed(csv(before), CELLAR, { "brewery-clock": "+02:00" });
      return recheckMapping(mapping, await detect(sourceOf(csv(now)), knowsUnit), CELLAR, readUnit).against;
    };
    const [seconds, milliseconds] = ["1772438400", "1772438400000"];
    const [bare, zoned] = ["2026-03-13T08:15", "2026-03-13T08:15Z"];
    expect(await against(seconds, seconds)).toEqual([]);
    expect(await against(seconds, milliseconds)).toEqual([
      `The times were seconds since 1970; on line 2 "${milliseconds}" is milliseconds since 1970.`,
    ]);
    expect(await against(milliseconds, seconds)).toEqual([
      `The times were milliseconds since 1970; on line 2 "${seconds}" is seconds since 1970.`,
    ]);
    expect(await against(seconds, bare)).toEqual([`The times were seconds since 1970; on line 2 "${bare}" is a date.`]);
    expect(await against(bare, seconds)).toEqual([
      `The times were year-month-day; on line 2 "${seconds}" is seconds since 1970.`,
    ]);
    expect(await against(bare, zoned)).toEqual([`The times had no zone; on line 2 "${zoned}" has one.`]);
    expect(await against(zoned, bare)).toEqual([`The times had a zone; on line 2 "${bare}" has none.`]);
    expect(await against(zoned, "2026-03-14T08:15+01:00")).toEqual([]);
  });

  test("takes no offence at umlauts that a day's remarks have or lack, and notices another encoding", async () => {
    const latin = (remark: string): Uint8Array =>
      new Uint8Array(Buffer.from(`Taken,Gravity (°P),Note\n2026-03-14 08:15,7.4,${remark}\n`, "latin1"));
    expect((await recheck(latin("klar"), {}, latin("trüb"))).against).toEqual([]);
    const unicode = new Uint8Array(Buffer.from("Taken,Gravity (°P),Note\n2026-03-14 08:15,7.4,trüb\n"));
    expect((await recheck(unicode, {}, latin("trüb"))).against[0]).toContain("was windows-1252 and now is utf-8");
  });

  test("finds its columns where they have moved, and refuses a file without them", async () => {
    const { mapping } = await readProposed(MORNING, CELLAR);
    const moved = await readCsv(
      sourceOf("Export\nTemp (°F),Taken,Gravity (°P)\n65.0,14/03/2026 08:15,7.4\n"),
      mapping,
      CELLAR,
      readUnit,
    );
    if ("problem" in moved) throw new Error(moved.problem);
    expect(linesOf(moved.pages)).toEqual(["2026-03-14T08:15,7.4,65.0 °F"]);
    expect(moved.notes[0]).toContain("has moved");
    const other = await readCsv(sourceOf("When,Plato\n14/03/2026,7.4\n"), mapping, CELLAR, readUnit);
    expect(other).toEqual({
      problem: expect.stringContaining('no header row with "Taken", "Gravity (°P)", "Temp (°F)"'),
    });
  });
});

describe("an offset", () => {
  test("is added in the file's unit, and the entry says so", async () => {
    const { proposed } = await look(
      "Taken,SG\n2026-03-02 08:00,1.048\n2026-03-02 09:00,1.02\n",
      target("taken: instant, gravity: °P"),
      { "gravity:SG": "SG" },
    );
    const columns = proposed.mapping.columns.map((column) =>
      column.to === "gravity" ? { ...column, offset: -0.002 } : column,
    );
    const read = await readCsv(
      sourceOf("Taken,SG\n2026-03-02 08:00,1.048\n2026-03-02 09:00,1.02\n"),
      { ...proposed.mapping, columns },
      target("taken: instant, gravity: °P"),
      readUnit,
    );
    if ("problem" in read) throw new Error(read.problem);
    expect(linesOf(read.pages)).toEqual(["2026-03-02T08:00,1.046 SG", "2026-03-02T09:00,1.018 SG"]);
  });
});
