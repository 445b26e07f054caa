import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bookTable, readingEdit } from "../../engine/readings/book.ts";
import { isoOf } from "../../engine/readings/clock.ts";
import { existingRows } from "../../engine/readings/existing.ts";
import type { Mapping } from "../../engine/readings/mapping.ts";
import { parseMapping, printMapping } from "../../engine/readings/mapping-text.ts";
import type { Merge } from "../../engine/readings/merge.ts";
import type { Answers } from "../../engine/readings/question.ts";
import { readInto } from "../../engine/readings/read-into.ts";
import { sourceOf } from "../../engine/readings/source.ts";
import type { Target } from "../../engine/readings/target.ts";
import { createSession, type Session } from "../../engine/session.ts";
import { addsUp, linesOf, readUnit, target } from "./support.ts";

const CHECKWEIGHER = target("taken: instant, gross: g, verdict: text");
const WELLS = target("taken: instant, vessel: text, temp: °C");

interface Given {
  readonly there?: readonly string[];
  readonly kept?: Mapping;
  readonly answers?: Answers;
}

/** Reads a CSV into a table with these rows, with the mapping as a book would have kept it. */
async function readIn(csv: string, table: Target, { there = [], kept, answers = {} }: Given = {}): Promise<Merge> {
  const text = there.map((line) => `${line}\n`).join("");
  const existing = existingRows(there.length === 0 ? [] : [{ text, count: there.length }], table, readUnit);
  const parsed = kept === undefined ? undefined : parseMapping(printMapping(kept));
  if (parsed !== undefined && "problem" in parsed) throw new Error(parsed.problem);
  const read = await readInto(sourceOf(csv), table, existing, readUnit, {
    answers,
    ...(parsed === undefined ? {} : { kept: parsed }),
  });
  if (read.is !== "read") throw new Error(JSON.stringify(read.is === "asks" ? read.proposed.questions : read));
  expect(addsUp(read.merge)).toBe(true);
  return read.merge;
}

const counts = ({ added, changed, same, rejected }: Merge): number[] => [added, changed.length, same, rejected.length];

/** Reads a CSV in, and then once more on the rows and the mapping that came of it: that must change nothing. */
async function readInTwice(csv: string, table: Target, given: Given = {}): Promise<Merge> {
  const first = await readIn(csv, table, given);
  const there = [...(given.there ?? []), ...linesOf(first.pages)];
  const again = await readIn(csv, table, { there, kept: first.mapping });
  expect(counts(again)).toEqual([0, 0, first.read - first.rejected.length, first.rejected.length]);
  return first;
}

describe("packages of one second", () => {
  const CSV = [
    "Time,Gross [g],Verdict",
    "2026-03-05 10:00:01,861.8,OK",
    "2026-03-05 10:00:01,860.2,OK",
    "2026-03-05 10:00:01,861.8,OK",
    "2026-03-05 10:00:02,799.1,REJECT",
  ].join("\n");

  test("are as many as there are where one verdict alone is read", async () => {
    const merge = await readInTwice(CSV, CHECKWEIGHER, { answers: { "rows:Verdict": "OK" } });
    expect(counts(merge)).toEqual([3, 0, 0, 0]);
    expect(merge.mapping.occurrence).toBe(true);
    expect(merge.notes.join()).toContain("2 rows share the time of the row before; they are told apart");
  });

  test("are told apart by their order only where rows that are read share a time", async () => {
    const csv = CSV.replaceAll("860.2,OK", "860.2,REJECT").replace(
      "861.8,OK\n2026-03-05 10:00:02",
      "861.8,REJECT\n2026-03-05 10:00:02",
    );
    const merge = await readInTwice(csv, CHECKWEIGHER, { answers: { "rows:Verdict": "OK" } });
    expect([counts(merge), merge.mapping.occurrence]).toEqual([[1, 0, 0, 0], false]);
  });

  const TANKS = (rows: readonly string[]): string => ["Taken,Tank,Temp (°C)", ...rows].join("\n");
  const TWO = TANKS([
    "2026-03-05 10:00:01,FV1,18.2",
    "2026-03-05 10:00:01,FV2,12.0",
    "2026-03-05 10:00:01,FV1,18.2",
    "2026-03-05 10:00:02,FV1,18.3",
    "2026-03-05 10:00:02,FV2,12.1",
  ]);

  test("are counted for each vessel, whether all or one of them is read", async () => {
    for (const [answer, added] of [
      ["(all)", 5],
      ["FV1", 3],
    ] as const) {
      const merge = await readInTwice(TWO, WELLS, { answers: { "rows:Tank": answer, "column:vessel": "Tank" } });
      expect([counts(merge), merge.mapping.key]).toEqual([
        [added, 0, 0, 0],
        ["taken", "vessel"],
      ]);
      expect(merge.notes.join()).toContain("1 row shares the time of the row before of the same vessel");
    }
  });

  test("of two vessels are no packages of one second", async () => {
    const csv = TANKS(["2026-03-05 10:00,FV1,18.2", "2026-03-05 10:00,FV2,12.0", "2026-03-05 11:00,FV1,18.1"]);
    const merge = await readInTwice(csv, WELLS, { answers: { "rows:Tank": "(all)", "column:vessel": "Tank" } });
    expect([counts(merge), merge.mapping.occurrence, merge.notes]).toEqual([[3, 0, 0, 0], false, []]);
  });
});

describe("a kept mapping whose key has no order", () => {
  const HEAD = "Time,Gross [g],Verdict\n";
  const firstExport = () => readIn(`${HEAD}2026-03-05 10:00:01,860.0,OK\n2026-03-05 10:00:02,860.5,OK\n`, CHECKWEIGHER);

  test("gets one from the first file whose rows share a time, and the note is true", async () => {
    const first = await firstExport();
    expect(first.mapping.occurrence).toBe(false);
    const csv = `${HEAD}2026-03-05 10:00:03,561,OK\n2026-03-05 10:00:03,561,OK\n2026-03-05 10:00:03,561.9,OK\n`;
    const merge = await readInTwice(csv, CHECKWEIGHER, { there: linesOf(first.pages), kept: first.mapping });
    expect(counts(merge)).toEqual([3, 0, 0, 0]);
    expect(printMapping(merge.mapping)).toContain("; key taken and-order");
    expect(merge.notes.join()).toContain("2 rows share the time of the row before");
  });

  test("keeps it from then on, for rows that are there are known by it", async () => {
    const first = await firstExport();
    const csv = `${HEAD}2026-03-05 10:00:02,860.5,OK\n2026-03-05 10:00:02,861,OK\n2026-03-05 10:00:03,861,OK\n`;
    const merge = await readIn(csv, CHECKWEIGHER, { there: linesOf(first.pages), kept: first.mapping });
    expect(counts(merge)).toEqual([2, 0, 1, 0]);
    const next = await readIn(`${HEAD}2026-03-05 10:00:04,862,OK\n`, CHECKWEIGHER, {
      there: [...linesOf(first.pages), ...linesOf(merge.pages)],
      kept: merge.mapping,
    });
    expect([next.mapping.occurrence, next.notes.join().includes("share")]).toEqual([true, false]);
  });

  test("takes both passes of an hour that a clock change repeats, an interval apart", async () => {
    const tank = target("taken: instant, temp: °C");
    const head = "Taken,Temp (°C)\n";
    const first = await readIn(`${head}2026-10-24 02:00,18.0\n2026-10-24 03:00,18.1\n`, tank);
    const csv = `${head}2026-10-25 01:00,18.0\n2026-10-25 02:00,18.1\n2026-10-25 02:00,18.2\n2026-10-25 03:00,18.3\n`;
    const merge = await readInTwice(csv, tank, { there: linesOf(first.pages), kept: first.mapping });
    expect(counts(merge)).toEqual([4, 0, 0, 0]);
  });
});

describe("the hour that a clock change repeats", () => {
  // Central European Summer Time ends on 2026-10-25 at 01:00 UTC (IANA time zone database, rule EU).
  test("is two rows of an hourly log in UTC or in seconds since 1970", async () => {
    const tank = target("taken: instant, temp: °C", "Europe/Vienna");
    const hours = ["2026-10-24T23:00", "2026-10-25T00:00", "2026-10-25T01:00", "2026-10-25T02:00"];
    const rows = (write: (hour: string) => string): string =>
      hours.map((hour, at) => `${write(hour)},${18 + at}\n`).join("");
    for (const csv of [
      `Time (UTC),Temp (°C)\n${rows((hour) => hour.replace("T", " "))}`,
      `Time,Temp (°C)\n${rows((hour) => String(Date.parse(`${hour}Z`) / 1000))}`,
    ]) {
      const merge = await readInTwice(csv, tank);
      expect(counts(merge)).toEqual([4, 0, 0, 0]);
      expect(linesOf(merge.pages)).toEqual([
        "2026-10-25T01:00,18",
        "2026-10-25T02:00,19",
        "2026-10-25T02:00,20",
        "2026-10-25T03:00,21",
      ]);
    }
  });

  test("is an hour apart where an hourly log on the wall clock is kept with its zone", async () => {
    const tank = target("taken: zoned instant, temp: °C", "Europe/Vienna");
    const hours = ["01:00", "02:00", "02:00", "03:00"];
    const csv = `Taken,Temp (°C)\n${hours.map((hour, at) => `2026-10-25 ${hour},${18 + at}\n`).join("")}`;
    const merge = await readInTwice(csv, tank);
    expect(linesOf(merge.pages)).toEqual([
      "2026-10-24T23:00Z,18",
      "2026-10-25T00:00Z,19",
      "2026-10-25T01:00Z,20",
      "2026-10-25T02:00Z,21",
    ]);
  });
});

describe("fractions of a second", () => {
  const SCALE = target("taken: instant, gross: g");
  const book = (): Session =>
    createSession(
      "gylebook 1\nlibrary 1\nsheet line\ntable log\n  column taken : instant\n  column gross : g\n  rows\n  end\n",
    );

  /** Reads a CSV into a book, as the command line does. */
  async function readIntoBook(session: Session, csv: string): Promise<Merge> {
    const there = bookTable(session.model, "line.log");
    if (there === null) throw new Error("the book has the table");
    const read = await readInto(sourceOf(csv), there.target, there.existing, readUnit, {
      answers: { "brewery-clock": "UTC" },
    });
    if (read.is !== "read") throw new Error(read.is);
    expect(session.dispatch(readingEdit("line.log", read.merge, read.mapping)).ok).toBe(true);
    return read.merge;
  }

  test("finer than a thousandth are written whole, and known again", async () => {
    const fractions = ["123456", "123789", "500", "9997", "9999996", "1234567", "1234568"];
    const rows = fractions.map((fraction, at) => `2026-03-05 10:00:00.${fraction},${860 + at}\n`);
    const csv = `Time,Gross [g]\n${rows.join("")}`;
    const merge = await readInTwice(csv, SCALE);
    expect(linesOf(merge.pages).map((line) => line.split(",")[0]?.slice(17))).toEqual([
      "00.123456",
      "00.123789",
      "00.500",
      "00.999700",
      "01",
      "00.123457",
      "00.123457",
    ]);
    const session = book();
    expect(counts(await readIntoBook(session, csv))).toEqual([7, 0, 0, 0]);
    expect(counts(await readIntoBook(session, csv))).toEqual([0, 0, 7, 0]);
  });

  test("of seconds since 1970 are known again", async () => {
    const rows = Array.from({ length: 200 }, (_, at) => `${(1_772_704_800 + at * 0.737_123).toFixed(6)},860.${at}\n`);
    const session = book();
    const csv = `Time,Gross [g]\n${rows.join("")}`;
    expect(counts(await readIntoBook(session, csv))).toEqual([200, 0, 0, 0]);
    expect(counts(await readIntoBook(session, csv))).toEqual([0, 0, 200, 0]);
  });

  test("carry into the second, the minute and the day", () => {
    const midnight = Date.UTC(2026, 2, 6) / 1000;
    expect([midnight - 0.25, midnight - 0.000_000_4, midnight + 0.000_001].map((seconds) => isoOf(seconds))).toEqual([
      "2026-03-05T23:59:59.750",
      "2026-03-06T00:00",
      "2026-03-06T00:00:00.000001",
    ]);
  });
});

describe("an export that begins within", () => {
  const HEAD = "Time,Gross [g],Verdict\n";
  const ROLLING = ["01,861.1", "01,861.2", "01,861.3", "02,861.4", "02,861.5", "03,861.6"].map(
    (row) => `2026-03-05 10:00:${row},OK\n`,
  );

  test("a second is known by its figures, wherever it begins and the one before ended", async () => {
    const whole = linesOf((await readInTwice(HEAD + ROLLING.join(""), CHECKWEIGHER)).pages);
    for (let end = 2; end <= whole.length; end += 1) {
      const there = await readIn(HEAD + ROLLING.slice(0, end).join(""), CHECKWEIGHER);
      for (let from = 0; from < end; from += 1) {
        const merge = await readIn(HEAD + ROLLING.slice(from).join(""), CHECKWEIGHER, {
          there: linesOf(there.pages),
          kept: there.mapping,
        });
        expect([end, from, counts(merge)]).toEqual([end, from, [whole.length - end, 0, end - from, 0]]);
        expect([...linesOf(there.pages), ...linesOf(merge.pages)]).toEqual(whole);
      }
    }
  });

  test("anywhere, read one after the other or joined, gives the rows that were measured", async () => {
    const lengths = fc.array(fc.integer({ min: 1, max: 4 }), { minLength: 2, maxLength: 6 });
    const cuts = fc.array(fc.tuple(fc.nat(), fc.nat()), { minLength: 1, maxLength: 4 });
    await fc.assert(
      fc.asyncProperty(lengths, cuts, fc.boolean(), async (seconds, windows, isJoined) => {
        const rows = seconds
          .flatMap((length, second) => new Array<number>(length).fill(second))
          .map((second, at) => `2026-03-05 10:00:0${second},${860 + at},OK\n`);
        // Each export overlaps what was read before by a row at the least.
        let end = 0;
        const exports = windows.map(([back, on]) => {
          const from = end === 0 ? 0 : back % end;
          end = Math.min(rows.length, end + 1 + (on % 5));
          return HEAD + rows.slice(from, end).join("");
        });
        let there: readonly string[] = [];
        let kept: Mapping | undefined;
        for (const csv of isJoined ? [exports.join("")] : exports) {
          const merge = await readIn(csv, CHECKWEIGHER, { there, ...(kept === undefined ? {} : { kept }) });
          expect(counts(merge).filter((_, at) => at % 2 === 1)).toEqual([0, 0]);
          there = [...there, ...linesOf(merge.pages)];
          kept = merge.mapping;
        }
        const measured = rows.slice(0, end).map((row) => row.trim().replace(" ", "T"));
        const asRows = there.map((line) => line.replace("T10:00,", "T10:00:00,"));
        expect(asRows).toEqual(measured);
      }),
      { seed: 7, numRuns: 100 },
    );
  });

  test("a second with a correction among its rows shows that alone", async () => {
    const there = await readIn(HEAD + ROLLING.join(""), CHECKWEIGHER);
    for (const [wrong, right] of [
      ["861.1", "861.9"],
      ["861.2", "861.1"],
      ["861.3", "860"],
    ]) {
      const csv = HEAD + ROLLING.join("").replace(`,${wrong},`, `,${right},`);
      const merge = await readIn(csv, CHECKWEIGHER, { there: linesOf(there.pages), kept: there.mapping });
      expect(counts(merge)).toEqual([0, 1, 5, 0]);
      expect(merge.changed[0]?.differences).toEqual([{ column: "gross", old: wrong, new: right }]);
    }
  });

  test("the later pass of a repeated hour is known by its figures", async () => {
    const tank = target("taken: instant, temp: °C");
    const times = ["01:30", "02:00", "02:30", "02:00", "02:30", "03:00", "03:30"];
    const rows = times.map((time, at) => `2026-10-25 ${time},${18 + at / 10}\n`);
    const head = "Taken,Temp (°C)\n";
    const there = await readInTwice(head + rows.join(""), tank);
    for (const from of [3, 4]) {
      const merge = await readIn(head + rows.slice(from).join(""), tank, {
        there: linesOf(there.pages),
        kept: there.mapping,
      });
      expect(counts(merge)).toEqual([0, 0, rows.length - from, 0]);
    }
  });
});

describe("exports joined to one file", () => {
  const tank = target("taken: instant, temp: °C");
  const HEAD = "Taken,Temp (°C)\n";
  const joined = (...parts: readonly (readonly string[])[]): string =>
    parts.map((rows) => HEAD + rows.map((row) => `2026-03-05 ${row}\n`).join("")).join("");

  test("have each reading once, whether they overlap by one row or by several", async () => {
    for (const parts of [
      [
        ["10:00,18.2", "11:00,18.1"],
        ["11:00,18.1", "12:00,18.0"],
      ],
      [
        ["10:00,18.2", "11:00,18.1"],
        ["10:00,18.2", "11:00,18.1", "12:00,18.0"],
      ],
    ]) {
      const merge = await readInTwice(joined(...parts), tank);
      expect(linesOf(merge.pages)).toEqual(["2026-03-05T10:00,18.2", "2026-03-05T11:00,18.1", "2026-03-05T12:00,18.0"]);
      expect(merge.mapping.occurrence).toBe(false);
    }
  });

  test("without a header between them have each reading once, packages of a second too", async () => {
    const packages = ["01,8.1", "01,8.2", "02,8.3", "03,8.4", "03,8.4", "04,8.5"].map((row) => `10:00:${row}`);
    const once = linesOf((await readInTwice(joined(packages), tank)).pages);
    for (const again of [0, 2, 3]) {
      const merge = await readInTwice(joined([...packages.slice(0, 4), ...packages.slice(again)]), tank);
      // Three equal rows of one second in a row are three packages.
      expect(linesOf(merge.pages)).toEqual(again === 3 ? [...once.slice(0, 4), ...once.slice(3)] : once);
    }
  });

  test("is a log out of order where its figures are others", async () => {
    const packages = ["01,8.1", "02,8.2", "01,8.3", "02,8.4", "02,8.5"].map((row) => `10:00:${row}`);
    expect(counts(await readInTwice(joined(packages), tank))).toEqual([5, 0, 0, 0]);
  });

  test("tell of an overlap with other figures", async () => {
    const merge = await readIn(joined(["10:00,18.2", "11:00,18.1"], ["11:00,18.4", "12:00,18.0"]), tank);
    expect([merge.added, merge.rejected.map(({ line, reason }) => [line, reason.slice(0, 34)])]).toEqual([
      3,
      [[5, "Line 3 is the same reading with ot"]],
    ]);
  });

  test("have each package of a second once, wherever the second export begins", async () => {
    const packages = ["10:00:01,8.1", "10:00:01,8.2", "10:00:01,8.3", "10:00:02,8.4", "10:00:02,8.4", "10:00:03,8.6"];
    const once = linesOf((await readInTwice(joined(packages), tank)).pages);
    for (let end = 2; end <= packages.length; end += 1)
      for (let from = 0; from <= end; from += 1) {
        // Two equal figures on both sides of a header may be one package or two: nobody can tell.
        if (from === 4 && end === 4) continue;
        const merge = await readInTwice(joined(packages.slice(0, end), packages.slice(from)), tank);
        expect([end, from, linesOf(merge.pages)]).toEqual([end, from, once]);
      }
  });
});
