import { describe, expect, it } from "vitest";
import {
  compensatedSum,
  curveOf,
  interpolateAt,
  lineOf,
  meanOf,
  medianOf,
  readCurve,
  sampleDeviation,
  slopeOf,
  studentQuantile,
} from "../../engine/base/statistics.ts";

const column = (...values: number[]): Float64Array => Float64Array.from(values);
const figures = (text: string): Float64Array => Float64Array.from(text.trim().split(/\s+/), Number);

/** Relative agreement, as the certified figures state it. */
const agrees = (value: number, certified: number, relative: number): void => {
  expect(Math.abs(value / certified - 1)).toBeLessThan(relative);
};

// NIST Statistical Reference Datasets, "Norris" (linear regression, ozone monitors): data and certified values.
const NORRIS_X = figures(`0.2 337.4 118.2 884.6 10.1 226.5 666.3 996.3 448.6 777.0 558.2 0.4 0.6 775.5 666.9 338.0 447.5
  11.6 556.0 228.1 995.8 887.6 120.2 0.3 0.3 556.8 339.1 887.2 999.0 779.0 11.1 118.3 229.2 669.1 448.9 0.5`);
const NORRIS_Y = figures(`0.1 338.8 118.1 888.0 9.2 228.1 668.5 998.5 449.1 778.9 559.2 0.3 0.1 778.1 668.8 339.3 448.9
  10.8 557.7 228.3 998.0 888.8 119.6 0.3 0.6 557.6 339.3 888.0 998.5 778.9 10.2 117.6 228.9 668.4 449.2 0.2`);

describe("statistics over columns", () => {
  it("D301 and D302: match the certified line of NIST StRD Norris to 1e-9", () => {
    const line = lineOf(NORRIS_X, NORRIS_Y);
    expect(line.used).toBe(36);
    agrees(line.slope, 1.00211681802045, 1e-9);
    agrees(line.intercept, -0.262323073774029, 1e-9);
    agrees(line.residualDeviation, 0.884796396144373, 1e-9);
    agrees(line.correlation ** 2, 0.999993745883712, 1e-9);
    expect(slopeOf(NORRIS_X, NORRIS_Y)).toEqual({ value: line.slope, used: 36 });
  });

  it("D303: matches NIST StRD NumAcc1 (from memory) to 1e-12", () => {
    const values = column(10000001, 10000003, 10000002);
    expect(meanOf(values).value).toBe(10000002);
    agrees(sampleDeviation(values).value, 1, 1e-12);
  });

  it("D304: matches NIST StRD NumAcc3 (from memory) to 1e-9, where the one-pass sum of squares fails", () => {
    const values = column(1000000.2, ...Array.from({ length: 500 }, () => [1000000.1, 1000000.3]).flat());
    agrees(meanOf(values).value, 1000000.2, 1e-12);
    agrees(sampleDeviation(values).value, 0.1, 1e-9);
    const n = values.length;
    const [sum, squares] = values.reduce(([s, q], v) => [s + v, q + v * v], [0, 0] as [number, number]);
    expect(Math.abs(Math.sqrt((squares - (sum * sum) / n) / (n - 1)) / 0.1 - 1)).toBeGreaterThan(1e-6);
  });

  it("D305: draws the line through the origin of NIST StRD NoInt2 (from memory) from sums over columns", () => {
    const [x, y] = [column(4, 5, 6), column(3, 4, 4)];
    const times = (a: Float64Array, b: Float64Array) =>
      compensatedSum(a.map((value, row) => value * (b[row] ?? 0))).value;
    const slope = times(x, y) / times(x, x);
    agrees(slope, 0.727272727272727, 1e-9);
    const residuals = y.map((value, row) => value - slope * (x[row] ?? 0));
    agrees(Math.sqrt(times(residuals, residuals) / 2), 0.369274472937998, 1e-9);
  });

  it("D306: gives mean and sample deviation of a worked set (arithmetic)", () => {
    const values = column(2, 4, 4, 4, 5, 5, 7, 9);
    expect(meanOf(values)).toEqual({ value: 5, used: 8 });
    const sample = sampleDeviation(values).value;
    expect(sample).toBeCloseTo(2.13809, 6);
    expect(sample * Math.sqrt(7 / 8)).toBeCloseTo(2, 12);
  });

  it("D307: matches Anscombe's first set (Am. Stat. 27, 1973; from memory)", () => {
    const xs = column(10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5);
    const ys = column(8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68);
    const line = lineOf(xs, ys);
    expect(line.slope).toBeCloseTo(0.500091, 6);
    expect(line.intercept).toBeCloseTo(3.000091, 6);
    expect(line.correlation).toBeCloseTo(0.816421, 6);
  });

  // Fisher & Yates' table of t, two-sided 5 %, 1 % and 0.1 %, as printed in every handbook (from memory; D308 and D270 computed with SciPy).
  it.each([
    [0.975, 9, 2.262],
    [0.975, 1, 12.706],
    [0.975, 2, 4.303],
    [0.975, 3, 3.182],
    [0.975, 30, 2.042],
    [0.995, 1, 63.657],
    [0.995, 29, 2.756],
    [0.995, 120, 2.617],
    [0.9995, 10, 4.587],
    [0.9, 5, 1.476],
  ])("D308: Student's t at %d with %d degrees of freedom is %d", (probability, freedom, t) => {
    expect(Math.abs(studentQuantile(probability, freedom) - t)).toBeLessThan(0.0006);
    expect(studentQuantile(1 - probability, freedom)).toBeCloseTo(-studentQuantile(probability, freedom), 9);
  });

  it("reaches the normal quantile for very many degrees of freedom, and refuses what is no share or no count", () => {
    expect(studentQuantile(0.975, 1_000_000)).toBeCloseTo(1.95996, 4);
    expect(studentQuantile(0.5, 7)).toBeCloseTo(0, 12);
    for (const [p, n] of [
      [0, 5],
      [1, 5],
      [0.9, 0],
      [0.9, 2.5],
      [Number.NaN, 3],
    ] as const)
      expect(studentQuantile(p, n)).toBeNaN();
  });

  it("leaves missing entries out and says how many were used", () => {
    const gappy = column(Number.NaN, 1, 2, Number.NaN, 6);
    expect(compensatedSum(gappy)).toEqual({ value: 9, used: 3 });
    expect(meanOf(gappy)).toEqual({ value: 3, used: 3 });
    expect(medianOf(gappy)).toEqual({ value: 2, used: 3 });
    expect(sampleDeviation(gappy)).toEqual({ value: Math.sqrt(7), used: 3 });
    expect(slopeOf(column(0, 1, Number.NaN, 2), column(1, 3, 9, 5))).toEqual({ value: 2, used: 3 });
    expect([...gappy]).toEqual([Number.NaN, 1, 2, Number.NaN, 6]);
  });

  it("has no mean, middle, deviation or slope where too few entries are present", () => {
    const none = column();
    expect(compensatedSum(none)).toEqual({ value: 0, used: 0 });
    for (const drawn of [meanOf(none), medianOf(none), sampleDeviation(column(4)), slopeOf(column(3, 3), column(1, 2))])
      expect(drawn.value).toBeNaN();
    expect(lineOf(column(1, 2), column(5, 5))).toMatchObject({ slope: 0, intercept: 5, used: 2 });
    expect(lineOf(column(1, 2), column(5, 5)).correlation).toBeNaN();
  });

  it("sums without losing digits, and overflows to infinity rather than to nothing", () => {
    expect(compensatedSum(column(1e16, 1, -1e16)).value).toBe(1);
    expect(compensatedSum(column(...Array.from({ length: 10 }, () => 0.1))).value).toBe(1);
    expect(compensatedSum(column(1.7e308, 1.7e308)).value).toBe(Number.POSITIVE_INFINITY);
  });

  it("takes the middle of an even number of entries halfway", () => {
    expect(medianOf(column(10, 2, 4, 100)).value).toBe(7);
  });
});

describe("reading a calibration table", () => {
  // National Bureau of Standards, Circular C440 (1942), Table 114: apparent specific gravity 20/20 of sucrose solutions.
  it("D309: interpolates 12.5 °P between the entries for 12 and 13 (the latter from memory)", () => {
    const read = interpolateAt(column(12, 13), column(1.04837, 1.05259), 12.5);
    expect(read.is === "value" && Math.abs(read.value - 1.05048)).toBeLessThan(0.00001);
  });

  it("reads a table whichever way it was written, on its entries and between them", () => {
    const dip = curveOf(column(30, 10, Number.NaN, 20), column(900, 300, 5, 620));
    expect(readCurve(dip, 20)).toEqual({ is: "value", value: 620 });
    expect(readCurve(dip, 25)).toEqual({ is: "value", value: 760 });
    expect(readCurve(dip, 10)).toEqual({ is: "value", value: 300 });
    expect(readCurve(dip, 30)).toEqual({ is: "value", value: 900 });
    expect(readCurve(dip, 30 * (1 + 1e-12))).toEqual({ is: "value", value: 900 });
  });

  it("gives no value outside the table, from an empty one, or from one that contradicts itself", () => {
    expect(interpolateAt(column(10, 30), column(1, 2), 31)).toEqual({ is: "outside", low: 10, high: 30 });
    expect(interpolateAt(column(10, 30), column(1, 2), Number.NaN)).toEqual({ is: "outside", low: 10, high: 30 });
    expect(interpolateAt(column(Number.NaN), column(1), 1)).toEqual({ is: "empty" });
    expect(interpolateAt(column(1, 1, 2), column(5, 6, 7), 2)).toEqual({ is: "doubled", at: 1 });
    expect(interpolateAt(column(1, 1, 2), column(5, 5, 7), 2)).toEqual({ is: "value", value: 7 });
  });
});
