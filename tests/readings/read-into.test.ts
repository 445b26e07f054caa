import { describe, expect, test } from "vitest";
import { existingRows } from "../../engine/readings/existing.ts";
import { parseMapping, printMapping } from "../../engine/readings/mapping-text.ts";
import { readInto } from "../../engine/readings/read-into.ts";
import { sourceOf } from "../../engine/readings/source.ts";
import { asksOf, targetOf } from "../../engine/readings/target.ts";
import { readUnit, sample, target } from "./support.ts";

const CELLAR = target("taken: instant, gravity: °P, temp: °C");
const NO_ROWS = existingRows([], CELLAR, readUnit);

describe("reading a CSV into a table", () => {
  test("asks, is answered, reads, and the next morning neither asks nor adds anything twice", async () => {
    const monday = sourceOf(sample("keller-windows-1252.csv"));
    const first = await readInto(monday, CELLAR, NO_ROWS, readUnit);
    expect(first.is === "asks" && first.proposed.questions.map(({ about }) => about)).toEqual(["date-order:Datum"]);
    const answered = await readInto(monday, CELLAR, NO_ROWS, readUnit, {
      answers: { "date-order:Datum": "day-first" },
    });
    if (answered.is !== "read") throw new Error(answered.is);
    expect([answered.merge.added, answered.merge.same]).toEqual([40, 0]);
    const kept = parseMapping(printMapping(answered.mapping));
    if ("problem" in kept) throw new Error(kept.problem);
    const again = await readInto(monday, CELLAR, existingRows(answered.merge.pages, CELLAR, readUnit), readUnit, {
      kept,
    });
    if (again.is !== "read") throw new Error(again.is);
    expect([again.merge.added, again.merge.changed.length, again.merge.same]).toEqual([0, 0, 40]);
  });

  test("asks anew, with the reason, when the kept mapping no longer fits", async () => {
    const source = sourceOf(sample("month-day-first.csv"));
    const first = await readInto(source, CELLAR, NO_ROWS, readUnit);
    if (first.is !== "read") throw new Error(first.is);
    const other = await readInto(sourceOf(sample("month-month-first.csv")), CELLAR, NO_ROWS, readUnit, {
      kept: first.mapping,
    });
    expect(other.is === "asks" && other.against[0]).toContain("The dates were day-first; on line");
  });

  test("takes the separator that was answered", async () => {
    const table = target("a: text, b: text");
    const answers = { separator: ";" };
    const read = await readInto(sourceOf("a;b,c\nd;e,f\ng;h,i\n"), table, existingRows([], table, readUnit), readUnit, {
      answers,
    });
    expect(read.is === "read" && read.merge.pages[0]?.text).toBe('d,"e,f"\ng,"h,i"\n');
  });

  test("finds a byte that is not UTF-8 far down in the file", async () => {
    const table = target("n: number, remark: text");
    const rows = Array.from({ length: 30_000 }, (_, row) => `${row},${row === 29_000 ? "trüb" : "klar"}`);
    const bytes = new Uint8Array(Buffer.from(`n,remark\n${rows.join("\n")}\n`, "latin1"));
    const read = await readInto(sourceOf(bytes), table, existingRows([], table, readUnit), readUnit);
    if (read.is !== "read") throw new Error(read.is);
    expect([read.mapping.encoding, read.reading.columns[1]?.[29_000], read.merge.notes]).toEqual([
      "windows-1252",
      "trüb",
      [],
    ]);
  });

  test("refuses what is no table, and stops when it is told to", async () => {
    expect(await readInto(sourceOf(""), CELLAR, NO_ROWS, readUnit)).toEqual({
      is: "refused",
      says: "The file is empty.",
    });
    const source = sourceOf(sample("month-day-first.csv"));
    expect(await readInto(source, CELLAR, NO_ROWS, readUnit, { stop: { stopped: true } })).toEqual({ is: "stopped" });
  });

  test("knows its table from plain data, as a worker is handed it", () => {
    const table = target("taken: instant, gravity: °P, weight: kg, share: %, n: number, ok: truth, note: text");
    expect(targetOf(table.columns.map(asksOf), null, readUnit)).toEqual(table);
    expect(targetOf([{ name: "a", label: "A", asks: "smoot" }], null, readUnit)).toBeNull();
  });
});
