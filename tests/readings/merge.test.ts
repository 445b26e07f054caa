import { describe, expect, test } from "vitest";
import { lineOf } from "../../engine/readings/merge.ts";
import { fromCoherent } from "../../engine/units/convert.ts";
import { addsUp, linesOf, mergeInto, numbers, readProposed, readUnit, sample, target } from "./support.ts";

const CELLAR = target("taken: instant, gravity: °P, temp: °C");

describe("reading an export in again", () => {
  test("adds no row twice: a month of readings, then the same month", async () => {
    const read = await readProposed(sample("month-day-first.csv"), CELLAR);
    const first = mergeInto([], read, read.mapping, CELLAR);
    expect([first.read, first.added, first.same]).toEqual([124, 124, 0]);
    const lines = linesOf(first.pages);
    const second = mergeInto(lines, read, read.mapping, CELLAR);
    expect([second.read, second.added, second.changed.length, second.same, second.rejected.length]).toEqual([
      124, 0, 0, 124, 0,
    ]);
    expect(second.pages).toEqual([]);
    expect(addsUp(first) && addsUp(second)).toBe(true);
  });

  test("adds only what is new when the export has grown", async () => {
    const csv = new TextDecoder().decode(sample("month-day-first.csv"));
    const rows = csv.trimEnd().split("\n");
    const read = await readProposed(csv, CELLAR);
    const early = await readProposed(rows.slice(0, 101).join("\n"), CELLAR);
    const merge = mergeInto(linesOf(early.pages), read, read.mapping, CELLAR);
    expect([merge.added, merge.same]).toEqual([24, 100]);
    expect(linesOf(merge.pages)[0]).toBe("2026-03-27T08:00,3.00,19.2");
  });

  test("finds the same reading in another unit to be the same", async () => {
    const celsius = await readProposed("Taken,Temp (°C)\n2026-03-02 08:00,20.0\n", target("taken: instant, temp: °C"));
    const merge = mergeInto(["2026-03-02T08:00,68.0 °F"], celsius, celsius.mapping, target("taken: instant, temp: °C"));
    expect([merge.same, merge.changed.length]).toEqual([1, 0]);
  });

  test("tells serial numbers and times apart by their last digit", async () => {
    const table = target("taken: instant, ended: instant, serial: number");
    const csv = (serial: string, ended: string): string =>
      `Taken,Ended,Serial\n2026-03-02 08:00,2026-03-02 08:30:${ended},${serial}\n`;
    const there = await readProposed(csv("2026030201", "00"), table);
    const read = await readProposed(csv("2026030202", "01"), table);
    const merge = mergeInto(linesOf(there.pages), read, { ...read.mapping, key: ["taken"] }, table);
    expect(merge.changed[0]?.differences.map(({ column }) => column)).toEqual(["ended", "serial"]);
  });

  test("keeps three packages in one second three, and three they stay", async () => {
    const scale = target("taken: instant, weight: g");
    const csv =
      "time,Net weight (g)\n2026-03-02 08:00:00,355.1\n2026-03-02 08:00:00,355.1\n2026-03-02 08:00:00,356.0\n2026-03-02 08:00:01,355.4\n";
    const read = await readProposed(csv, scale);
    const first = mergeInto([], read, read.mapping, scale);
    const second = mergeInto(linesOf(first.pages), read, read.mapping, scale);
    expect([first.added, second.added, second.same, second.changed.length]).toEqual([4, 0, 4, 0]);
  });

  test("keeps both passes of a repeated hour, and both they stay", async () => {
    const table = target("taken: instant, temp: °C");
    const read = await readProposed(sample("repeated-hour.csv"), table);
    const first = mergeInto([], read, read.mapping, table);
    const second = mergeInto(linesOf(first.pages), read, read.mapping, table);
    expect([first.added, first.rejected.length, second.added, second.same]).toEqual([32, 0, 0, 32]);
  });

  test("takes a line break within an entry for a blank, and the row for the same again", async () => {
    const table = target("taken: instant, remark: text");
    const read = await readProposed('Taken,Remark\n2026-03-02 08:00,"a;b\r\nc"\n', table);
    const first = mergeInto([], read, read.mapping, table);
    expect(linesOf(first.pages)).toEqual(["2026-03-02T08:00,a;b c"]);
    expect(mergeInto(linesOf(first.pages), read, read.mapping, table).same).toBe(1);
  });

  test("lists a correction before it replaces, and leaves what was written by hand", async () => {
    const there = ["2026-03-02T08:00,12.1,17.8,by hand", "2026-03-03T08:00,10.4,18.0,"];
    const table = target("taken: instant, gravity: °P, temp: °C, remark: text");
    const csv =
      "Taken,Gravity (°P),Temp (°C)\n2026-03-02 08:00,11.9,17.8\n2026-03-03 08:00,10.4,\n2026-03-04 08:00,7.4,18.6\n";
    const read = await readProposed(csv, table);
    const merge = mergeInto(there, read, read.mapping, table);
    expect([merge.added, merge.same]).toEqual([1, 1]);
    expect(merge.changed).toEqual([
      {
        row: 0,
        line: 2,
        entries: ["2026-03-02T08:00", "11.9", "17.8", "by hand"],
        differences: [{ column: "gravity", old: "12.1", new: "11.9" }],
      },
    ]);
    expect(lineOf(merge.changed[0]?.entries ?? [])).toBe("2026-03-02T08:00,11.9,17.8,by hand");
    expect(addsUp(merge)).toBe(true);
  });

  test("refuses a second row with one key and other figures, and counts a plain repeat as the same", async () => {
    const csv =
      "Taken,Gravity (°P),Temp (°C)\n2026-03-02 08:00,12.1,17.8\n2026-03-03 08:00,10.4,18.0\n2026-03-02 08:00,12.1,17.8\n2026-03-03 08:00,9.9,18.0\n";
    const read = await readProposed(csv, CELLAR);
    const merge = mergeInto([], read, read.mapping, CELLAR);
    expect([merge.read, merge.added, merge.same]).toEqual([4, 2, 1]);
    expect(merge.rejected).toEqual([
      {
        line: 5,
        row: "2026-03-03T08:00,9.9,18.0",
        reason: expect.stringContaining("Line 3 is the same reading with other figures"),
      },
    ]);
    expect(addsUp(merge)).toBe(true);
  });
});

describe("a row that cannot be read", () => {
  test("is listed with its line, the entry and the reason, and the counts add up", async () => {
    const csv = [
      "Taken,Gravity (°P),Temp (°F)",
      "2026-03-13 08:00,12.1,64.0",
      "2026-03-14 08:00,twelve,64.0",
      "13/14/2026,12.0,64.0",
      "2026-03-15 08:00,11.0",
      "",
      '2026-03-16 08:00,"10.9,64.0',
      "2026-03-17 08:00,10.1,n/a",
      "Total,55,",
    ].join("\n");
    const read = await readProposed(csv, CELLAR);
    expect(read.rejects.map(({ line, reason }) => `${line}: ${reason}`)).toEqual([
      '3: "twelve" under "Gravity (°P)" is no figure.',
      '4: "13/14/2026" under "Taken" is no date and time (year-month-day).',
      "5: The row has 2 entries; the header has 3.",
      '7: A quote (") is opened here and not closed properly. Close it, or double it if it belongs to the text.',
      "9: This row sums up others; it is no reading.",
    ]);
    expect(read.rejects[3]?.row).toContain("10.9,64.0");
    expect([read.rows, read.leftOut.blank, read.leftOut.headers]).toEqual([2, 1, 1]);
    const merge = mergeInto([], read, read.mapping, CELLAR);
    expect(merge.read).toBe(7);
    expect(addsUp(merge)).toBe(true);
  });
});

describe("values", () => {
  test("are in coherent units, whatever the file's are", async () => {
    const read = await readProposed(
      sample("month-first-12-hour.csv"),
      target("taken: instant, gravity: °P, temp: °C, pressure: bar"),
    );
    const table = target("taken: instant, gravity: °P, temp: °C, pressure: bar");
    const plato = readUnit("°P");
    if (plato === null) throw new Error("°P is a unit");
    // 64.8 °F is (64.8 − 32) / 1.8 °C and 12.0 psi is 12 × 6894.757 Pa (NIST SP 811); 1.0484 SG is 12.00 °P (ASBC Wort-2).
    expect(numbers(read, table, "temp")[0]).toBeCloseTo((64.8 - 32) / 1.8, 5);
    expect(numbers(read, table, "pressure", 3)[0]).toBeCloseTo(12 * 6894.757293168, 2);
    expect(fromCoherent(numbers(read, table, "gravity")[0] ?? 0, plato)).toBeCloseTo(12.0, 1);
    expect(numbers(read, table, "taken")[1]).toBe(Date.UTC(2026, 2, 2, 14) / 1000);
  });

  test("that are missing stay missing, and a lb/oz entry is summed", async () => {
    const table = target("taken: instant, weight: kg");
    const csv = "Taken,Net weight\n2026-03-02 08:00,12 lb 4 oz\n2026-03-02 08:01,--\n2026-03-02 08:02,5.5 kg\n";
    const read = await readProposed(csv, table);
    const [first, second, third] = numbers(read, table, "weight", 9);
    expect([first, second, third]).toEqual([Number((12.25 * 0.45359237).toFixed(9)), null, 5.5]);
    expect(linesOf(read.pages)).toEqual(["2026-03-02T08:00,12 lb 4 oz", "2026-03-02T08:01,", "2026-03-02T08:02,5.5"]);
  });
});
