import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { toCoherent } from "../../engine/units/convert.ts";
import { formatFigure } from "../../engine/units/format.ts";
import { SEED, unit } from "./support.ts";

const shown = (figure: number, text: string): string => {
  const of = unit(text);
  return formatFigure(toCoherent(figure, of), of, null);
};
const stepped = (figure: number, step: number, decimals: number): string =>
  formatFigure(figure, null, { figure: step, decimals });

describe("a figure without a step", () => {
  it.each([
    [3.0117647, "L/kg", "3.01"],
    [212.5, "kg", "212.5"],
    [1.0415, "SG", "1.0415"],
    [1.048, "SG", "1.048"],
    [12.1, "°P", "12.1"],
    [0.0123456, "kg", "0.0123"],
    [1234567, "L", "1234567"],
    [999.96, "kg", "1000"],
    [0, "kg", "0"],
    [-1.2, "°P", "-1.2"],
    [2.4, "CAD", "2.40"],
    [0, "CAD", "0.00"],
    [2.4, "CAD/kg", "2.40"],
    [1250.004, "EUR", "1250.00"],
    [245.6, "JPY", "246"],
    [1.2345, "KWD", "1.235"],
    [2.4e13, "cells", "2.4e13"],
    [9.35e6, "cells/mL", "9350000"],
    [12345678, "L", "1.2345678e7"],
    [1.5e-9, "kg", "1.5e-9"],
    [72, "%", "72"],
  ])("%d %s shows %s", (figure, text, wanted) => {
    expect(shown(figure, text)).toBe(wanted);
  });

  it("is empty for a missing value", () => {
    expect(formatFigure(Number.NaN, null, null)).toBe("");
  });

  it("has no minus before zero", () => {
    expect([formatFigure(-0, null, null), stepped(-0.001, 0.01, 2)]).toEqual(["0", "0.00"]);
  });

  it("loses no digit of a whole number", () => {
    fc.assert(
      fc.property(fc.integer(), (whole) => {
        expect(Number(formatFigure(whole, null, null))).toBe(whole);
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });

  it("reads back within half of its last digit, with three significant figures at the least", () => {
    fc.assert(
      fc.property(fc.double({ min: -1e12, max: 1e12, noNaN: true }), (figure) => {
        const back = Number(formatFigure(figure, null, null));
        expect(Math.abs(back - figure)).toBeLessThanOrEqual(0.005 * Math.abs(figure) + Number.MIN_VALUE);
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });
});

describe("a figure with a step", () => {
  it.each([
    [149.96, 0.1, 1, "150.0"],
    [0.3, 0.25, 2, "0.25"],
    [0.375, 0.25, 2, "0.50"],
    [12.4, 5, 0, "10"],
    [12.5, 5, 0, "15"],
    [-12.5, 5, 0, "-15"],
    [212.5, 25, 0, "225"],
    [12.3, 25, 0, "0"],
    [0.3, 0.1, 1, "0.3"],
    [1.005, 0.01, 2, "1.01"],
    [2.675, 0.01, 2, "2.68"],
    [-2.675, 0.01, 2, "-2.68"],
    [0.5, 1, 0, "1"],
    [1.5, 1, 0, "2"],
    [2.5, 1, 0, "3"],
    [-0.5, 1, 0, "-1"],
    [123456789.25, 0.01, 2, "123456789.25"],
    [2.4e13, 1e9, 0, "2.4e13"],
    [1e300, 0.1, 1, "1e300"],
    [1.0417, 0.0005, 4, "1.0415"],
  ])("%d by %d shows %s", (figure, step, decimals, wanted) => {
    expect(stepped(figure, step, decimals)).toBe(wanted);
  });

  it("is rounded half away from zero on its decimal figure, as exact integers are", () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e9, max: 1e9 }), (thousandths) => {
        const hundredths = Math.sign(thousandths) * Math.floor((Math.abs(thousandths) + 5) / 10);
        const size = String(Math.abs(hundredths)).padStart(3, "0");
        const wanted = `${hundredths < 0 ? "-" : ""}${size.slice(0, -2)}.${size.slice(-2)}`;
        expect(stepped(thousandths / 1000, 0.01, 2)).toBe(wanted);
      }),
      { seed: SEED, numRuns: 3000 },
    );
  });

  it("is rounded in its unit, never in coherent units", () => {
    const fahrenheit = unit("°F");
    expect(formatFigure(toCoherent(149.95, fahrenheit), fahrenheit, { figure: 0.1, decimals: 1 })).toBe("150.0");
  });
});
