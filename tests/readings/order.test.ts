import { describe, expect, test } from "vitest";
import { bookTable, readingEdit } from "../../engine/readings/book.ts";
import { placeAdded } from "../../engine/readings/order.ts";
import { readInto } from "../../engine/readings/read-into.ts";
import { sourceOf } from "../../engine/readings/source.ts";
import { createSession } from "../../engine/session.ts";
import { linesOf, mergeInto, readProposed, readUnit, sample, target } from "./support.ts";

const TABLE = target("taken: instant, temp: °C");

const hours = (...at: number[]): Float64Array => Float64Array.from(at, (hour) => hour * 3600);
const all = (times: Float64Array): number[] => Array.from(times, (_, row) => row);

describe("new rows", () => {
  test("that are later than all that are there follow at the end, and nothing is said", () => {
    expect(placeAdded([0, 1], hours(3, 4), hours(1, 2))).toEqual({ rows: [0, 1], places: [], note: null });
  });

  test("that arrive late stand in order of time, behind those as early", () => {
    const times = hours(2, 2.5, 2.5, 4, 9);
    expect(placeAdded(all(times), times, hours(1, 2, 3, 4, 5))).toEqual({
      rows: [0, 1, 2, 3, 4],
      places: [
        { before: 2, count: 3 },
        { before: 4, count: 1 },
      ],
      note: "4 rows are older than the last one there, put in order of time.",
    });
  });

  test("follow at the end where the table or the file is out of order, and that is said", () => {
    const late = hours(2, 3);
    expect(placeAdded([0, 1], late, hours(5, 1))).toEqual({
      rows: [0, 1],
      places: [],
      note: "2 rows are older than the last one there. New rows stand at the end, for the table's rows are not in order of time.",
    });
    expect(placeAdded([0, 1, 2], hours(2, 9, 3), hours(1, 5)).note).toBe(
      "2 rows are older than the last one there. New rows stand at the end, for the file's rows are not in order of time.",
    );
    expect(placeAdded([0, 1], hours(7, 6.5), Float64Array.of(Number.NaN, 3600)).note).toBeNull();
  });

  test("of a file with its newest row at the top are turned round, packages of one second left as they are", () => {
    const times = hours(4, 3, 3, 2);
    const { rows, places, note } = placeAdded(all(times), times, hours(1, 2));
    expect([rows, places]).toEqual([[3, 1, 2, 0], []]);
    expect(note).toBe("The file has its newest row at the top; its rows are put in order of time.");
  });
});

describe("an earlier stretch of an export", () => {
  const csv = (from: number, to: number): string =>
    `Taken,Temp (°C)\n${Array.from({ length: to - from }, (_, at) => `2026-03-02 ${String(from + at).padStart(2, "0")}:00,${18 + from + at / 10}`).join("\n")}\n`;

  test("read in after a later one gives the table that both in order would have given", async () => {
    const book = `gylebook 1
library 1
sheet cellar
table log
  column taken : instant
  column temp : °C
  rows
  end
latest = last(log.temp)
`;
    const readIn = async (files: readonly string[]): Promise<string> => {
      const session = createSession(book);
      for (const file of files) {
        const there = bookTable(session.model, "cellar.log");
        if (there === null) throw new Error("the book has the table");
        const read = await readInto(sourceOf(file), there.target, there.existing, readUnit);
        if (read.is !== "read") throw new Error(read.is);
        session.dispatch(readingEdit("cellar.log", read.merge, read.mapping));
      }
      expect(session.cell("cellar.latest")?.value).toBeCloseTo(18 + 20 + 3 / 10, 9);
      return session.text();
    };
    expect(await readIn([csv(20, 24), csv(0, 20)])).toBe(await readIn([csv(0, 20), csv(20, 24)]));
  });

  test("with a repeated hour stands where it belongs, and is known again", async () => {
    const read = await readProposed(sample("repeated-hour.csv"), TABLE);
    const whole = linesOf(mergeInto([], read, read.mapping, TABLE).pages);
    for (const there of [whole.slice(0, 13), whole.slice(20), [...whole.slice(0, 4), ...whole.slice(28)]]) {
      const merge = mergeInto(there, read, read.mapping, TABLE);
      expect(merge.added + merge.same).toBe(whole.length);
      const lines = linesOf(merge.pages);
      const stand: string[] = [];
      let at = 0;
      const places = new Map(merge.places.map(({ before, count }) => [before, count]));
      for (const [row, line] of there.entries()) {
        const count = places.get(row) ?? 0;
        stand.push(...lines.slice(at, at + count), line);
        at += count;
      }
      expect([...stand, ...lines.slice(at)]).toEqual(whole);
    }
  });
});
