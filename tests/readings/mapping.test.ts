import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { detect } from "../../engine/readings/detect.ts";
import type { Mapping } from "../../engine/readings/mapping.ts";
import { parseMapping, printMapping } from "../../engine/readings/mapping-text.ts";
import { readCsv } from "../../engine/readings/read.ts";
import { recheckMapping } from "../../engine/readings/recheck.ts";
import { sourceOf } from "../../engine/readings/source.ts";
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
  const recheck = async (csv: string): Promise<ReturnType<typeof recheckMapping>> => {
    const { mapping } = await readProposed(MORNING, CELLAR);
    return recheckMapping(mapping, await detect(sourceOf(csv), knowsUnit), CELLAR, readUnit);
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
