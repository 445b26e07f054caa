import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { existingRows } from "../../engine/readings/existing.ts";
import { lineOf } from "../../engine/readings/merge.ts";
import { recordsOf } from "../../engine/readings/records.ts";
import type { Target } from "../../engine/readings/target.ts";
import { unitText } from "../../engine/readings/target.ts";
import { writeCsv, writeRejects } from "../../engine/readings/write.ts";
import { linesOf, mergeInto, readProposed, readUnit, target } from "./support.ts";

/** A table's rows, given as a workbook keeps them, written out as CSV. */
function written(table: Target, lines: readonly string[]): string {
  const rows = existingRows(
    [{ text: lines.map((line) => `${line}\n`).join(""), count: lines.length }],
    table,
    readUnit,
  );
  const columns = table.columns.map(({ label, unit }, at) => ({
    label,
    unit: unitText(unit),
    entry: (row: number) => rows.entries(row)[at] ?? "",
  }));
  return [...writeCsv(columns, rows.rows)].join("");
}

describe("a table written as CSV", () => {
  const table = target(
    "taken: instant, gravity: °P, temp: °C, pressure: bar, remark: text, clear: truth, count: number",
  );

  test("has its units in the header and ends its lines as RFC 4180 says", () => {
    expect(written(table, ['2026-03-02T08:15,12.1,64.9 °F,0.8,"hazy, ""a bit""",yes,3'])).toBe(
      'Taken,Gravity (°P),Temp (°C),Pressure (bar),Remark,Clear,Count\r\n2026-03-02T08:15,12.1,64.9 °F,0.8,"hazy, ""a bit""",yes,3\r\n',
    );
  });

  test("reads back unchanged: nothing asked, nothing added, nothing changed", async () => {
    const lines = [
      "2026-03-02T08:15,12.1,17.8,0.8,hazy,yes,3",
      '2026-03-03T08:05:30,1.0415 SG,64.9 °F,11 psi,"so, so",no,1250',
      "2026-03-04T08:20,7.40,,0.95,,,4",
    ];
    const read = await readProposed(written(table, lines), table);
    expect(linesOf(read.pages)).toEqual(lines);
    const merge = mergeInto(lines, read, read.mapping, table);
    expect([merge.same, merge.added, merge.changed.length, merge.rejected.length]).toEqual([3, 0, 0, 0]);
  });

  test("reads back where a text is one that sums rows up elsewhere, by its time", async () => {
    const steps = target("step: text, taken: instant, temp: °C");
    const lines = ["Sprout,2026-03-01T08:15,17.2", "Mean,2026-03-02T08:15,17.8", "Total,2026-03-03T08:15,"];
    const csv = written(steps, lines);
    const read = await readProposed(csv, steps);
    expect([linesOf(read.pages), read.rejects, read.notes]).toEqual([lines, [], []]);
    // What someone put below it has none; and in a file that is not the table's own such a row is a sum.
    const summed = await readProposed(`${csv}Total,,17.8\r\n`, steps);
    expect(summed.rejects.map(({ line, reason }) => [line, reason])).toEqual([
      [5, "This row sums up others; it is no reading."],
    ]);
    const other = await readProposed(csv.replace("Taken", "When"), steps);
    expect([other.rows, other.rejects.length, other.notes.join()]).toEqual([
      1,
      2,
      expect.stringContaining("sum up others"),
    ]);
  });

  test("reads back unchanged, whatever the figures and texts are", async () => {
    const cellar = target("taken: instant, gravity: °P, remark: text");
    const figure = fc.integer({ min: -300, max: 3000 }).map((hundredths) => (hundredths / 100).toFixed(2));
    const text = fc
      .string({ unit: "grapheme", minLength: 1, maxLength: 12 })
      .map((one) => one.replace(/[\r\n\u2028\u2029]/g, " ").trim());
    await fc.assert(
      fc.asyncProperty(fc.array(fc.tuple(figure, text), { minLength: 2, maxLength: 20 }), async (rows) => {
        const lines = rows.map(([gravity, remark], at) =>
          lineOf([`2026-03-${String(at + 1).padStart(2, "0")}T08:00`, gravity, remark]),
        );
        const read = await readProposed(written(cellar, lines), cellar, {
          "batch:Gravity (°P)": "(all)",
          "unit-change:Gravity (°P)": "no",
        });
        expect(linesOf(read.pages)).toEqual(lines);
      }),
      { seed: 5, numRuns: 200 },
    );
  });

  test("of one column keeps its empty rows", async () => {
    const only = target("remark: text");
    expect(written(only, ["a", '""', "b"])).toBe('Remark\r\na\r\n""\r\nb\r\n');
  });
});

describe("rejected rows written as CSV", () => {
  test("give the line, the row and the reason, and read as CSV", () => {
    const csv = writeRejects([{ line: 7, row: 'a,"b"', reason: '"x" under "y" is no figure.' }]);
    expect(recordsOf(csv, ",").map(({ entries }) => entries)).toEqual([
      ["Line", "Row", "Reason"],
      ["7", 'a,"b"', '"x" under "y" is no figure.'],
    ]);
  });
});
