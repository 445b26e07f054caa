import { describe, expect, test } from "vitest";
import type { ColumnMapping } from "../../engine/readings/mapping.ts";
import { readCsv } from "../../engine/readings/read.ts";
import { sourceOf } from "../../engine/readings/source.ts";
import { linesOf, look, numbers, readUnit, target } from "./support.ts";

/** The second column of entries read with what a person put into its mapping by hand. */
async function readWith(asks: string, header: string, entries: readonly string[], byHand: Partial<ColumnMapping>) {
  const table = target(`taken: instant, ${asks}`);
  const csv = ["Taken", header]
    .join(",")
    .concat("\n", entries.map((entry, at) => `2026-03-02 0${at}:00,${entry}\n`).join(""));
  const { proposed } = await look(csv, table);
  const columns = proposed.mapping.columns.map((one) => (one.order === null ? { ...one, ...byHand } : one));
  const read = await readCsv(sourceOf(csv), { ...proposed.mapping, columns }, table, readUnit);
  if ("problem" in read) throw new Error(read.problem);
  return {
    texts: linesOf(read.pages).map((line) => line.split(",")[1]),
    values: numbers(read, table, asks.split(":")[0] ?? "", 3),
    rejects: read.rejects,
  };
}

// A difference of 1 °C is one of 1.8 °F; an ounce is a sixteenth of a pound, 28.349523125 g (NIST SP 811, appendix B).
describe("an offset", () => {
  test("is added to entries with their own unit too, as a difference in the column's, and they stay in theirs", async () => {
    const { texts, values } = await readWith("temp: °C", "Temp (°C)", ["18.0", "64.4 °F", "18.2 °C", "64 °F"], {
      offset: 0.5,
    });
    expect(texts).toEqual(["18.5", "65.3 °F", "18.7", "64.9 °F"]);
    expect(values).toEqual([18.5, 18.5, 18.7, 18.278]);
  });

  test("is added where all entries have their own unit", async () => {
    expect((await readWith("temp: °C", "Temp", ["64.4 °F", "64.6 °F"], { offset: -0.5 })).texts).toEqual([
      "63.5 °F",
      "63.7 °F",
    ]);
  });

  test("is no difference in the unit that the instrument was switched to", async () => {
    const { texts } = await readWith("temp: °C", "Temp (°C)", ["18.0", "64.4"], {
      offset: 0.5,
      // 2026-03-02T01:00 in seconds since 1970 (date -u -d 2026-03-02T01:00 +%s).
      switches: [{ from: 1772413200, unit: "°F" }],
    });
    expect(texts).toEqual(["18.5", "65.3 °F"]);
  });

  test("is added once to an entry in two units", async () => {
    const { texts, values } = await readWith("gross: g", "Gross (oz)", ["12 lb 4 oz", "200"], { offset: 1 });
    expect(texts).toEqual(["12 lb 5 oz", "201 oz"]);
    expect(values).toEqual([5.585, 5.698]);
  });
});
