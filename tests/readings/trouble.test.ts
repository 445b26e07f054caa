import { describe, expect, test } from "vitest";
import type { Target } from "../../engine/readings/target.ts";
import { findTrouble, type WatchedColumn } from "../../engine/readings/trouble.ts";
import { readProposed, sample, target } from "./support.ts";

const HALF_HOUR = 1800;
const steady = (rows: number): Float64Array => Float64Array.from({ length: rows }, (_, row) => row * HALF_HOUR);
const waves = (rows: number): Float64Array =>
  Float64Array.from({ length: rows }, (_, row) => 18 + Math.round(10 * Math.sin(row / 5)) / 10);

const column = (name: string, asks: string, values: Float64Array): WatchedColumn => {
  const [made] = target(`${name}: ${asks}`).columns;
  if (made === undefined) throw new Error("one column was asked for");
  return { ...made, values };
};

const found = (times: Float64Array | null, ...columns: WatchedColumn[]): string[] =>
  findTrouble(times, columns).map(({ is, row, rows, column }) => `${is} ${row}+${rows} ${column ?? "times"}`);

const watched = (table: Target, columns: readonly unknown[]): WatchedColumn[] =>
  table.columns.flatMap((one, at) => {
    const values = columns[at];
    return at > 0 && values instanceof Float64Array ? [{ ...one, values }] : [];
  });

describe("trouble", () => {
  test("is not found in a quiet log", () => {
    expect(found(steady(200), column("temp", "°C", waves(200)))).toEqual([]);
  });

  test("with times is a gap, a repeat, a step back", () => {
    const times = steady(40);
    for (let row = 20; row < 40; row += 1) times[row] = (times[row] ?? 0) + 5 * HALF_HOUR + 10 * 3600;
    times[30] = times[29] ?? 0;
    times[35] = (times[34] ?? 0) - 60;
    expect(found(times)).toEqual(["gap 20+1 times", "repeat 30+1 times", "out-of-order 35+1 times"]);
    expect(findTrouble(times, [])[0]?.says).toBe("No reading for 13 h; they usually come every 30 min.");
    expect(findTrouble(times, [], { severalAtOnce: true }).map(({ is }) => is)).toEqual(["gap", "out-of-order"]);
  });

  test("is a clock change where an hour comes twice", async () => {
    const table = target("taken: instant, temp: °C");
    const read = await readProposed(sample("repeated-hour.csv"), table);
    expect(found(read.columns[0] as Float64Array)).toEqual(["clock-change 12+1 times"]);
  });

  test("is a failed probe in the logger's sample, in °F too, and no spike beside it", async () => {
    const table = target("taken: instant, gravity: °P, temp: °C");
    const read = await readProposed(sample("tank-logger.csv"), table);
    expect(found(read.columns[0] as Float64Array, ...watched(table, read.columns))).toEqual([
      "failed-probe 50+2 temp",
      "failed-probe 70+1 temp",
    ]);
  });

  test.each([85, -127, 999, 0])("is a failed probe at %d °C, in a tank that is at 18 °C", (constant) => {
    const values = waves(60);
    values[30] = constant;
    expect(found(null, column("temp", "°C", values))).toEqual(["failed-probe 30+1 temp"]);
  });

  test("is no failed probe in a cold tank at 0 °C", () => {
    const values = waves(60).map((value) => Math.round((value - 18) * 10) / 10);
    expect(found(null, column("temp", "°C", values))).toEqual([]);
  });

  test("is a stuck reading, but not a gravity that has come to its end", () => {
    const values = waves(200);
    values.fill(18.3, 50, 90);
    expect(found(null, column("temp", "°C", values))).toEqual(["stuck 50+40 temp"]);
    const fallen = Float64Array.from({ length: 200 }, (_, row) => Math.max(0.03, 0.12 - row * 0.001));
    expect(found(null, column("gravity", "°P", fallen))).toEqual([]);
  });

  test("is a spike, and in a gravity foam", async () => {
    const values = waves(100);
    values[40] = 27;
    expect(found(null, column("temp", "°C", values))).toEqual(["spike 40+1 temp"]);
    const table = target("taken: instant, gravity: °P, temp: °C");
    const read = await readProposed(sample("floating-hydrometer.csv"), table, {
      "brewery-clock": "UTC",
      "temperature-corrected:gravity": "yes",
    });
    expect(found(null, ...watched(table, read.columns))).toEqual(["foam 30+1 gravity", "foam 31+1 gravity"]);
  });

  test("is looked for in 100,000 rows without hurry for the reader", () => {
    const values = waves(100_000);
    expect(found(steady(100_000), column("temp", "°C", values))).toEqual([]);
  });

  test("is found in nothing", () => {
    expect(findTrouble(new Float64Array(), [column("temp", "°C", new Float64Array())])).toEqual([]);
    expect(
      findTrouble(Float64Array.of(Number.NaN, Number.NaN), [
        column("temp", "°C", Float64Array.of(Number.NaN, Number.NaN)),
      ]),
    ).toEqual([]);
  });
});
