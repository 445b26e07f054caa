import { describe, expect, test } from "vitest";
import { COLOUR } from "../../engine/library/colour.ts";
import type { Value } from "../../engine/values/value.ts";
import { callDirect } from "../support/call.ts";

const call = (name: string, given: Record<string, Value>) => callDirect(COLOUR, name, given);

const POUND = 0.45359237;
const GALLON = 0.003785411784;
const srm = (lovibond: number) => 1.3546 * lovibond - 0.76;

describe("beer colour", () => {
  /** Morey, Beer's Law letter, Brewing Techniques 1995: ten pounds at 3 °L and one at 60 °L in five US gallons. */
  const bill = {
    mass: Float64Array.of(10 * POUND, POUND),
    colour: Float64Array.of(srm(3), srm(60)),
    volume: 5 * GALLON,
  };

  test("D190 comes from 18.0 malt colour units as 10.83 SRM", () => {
    expect(Math.abs(Number(call("malt_colour_units", bill)) - 18)).toBeLessThanOrEqual(0.02);
    expect(Math.abs(Number(call("beer_colour", bill)) - 10.83)).toBeLessThanOrEqual(0.02);
  });

  test("takes SRM of a malt back to Lovibond first: they are not equal in dark malt", () => {
    const one = (colour: number) => Number(call("malt_colour_units", { mass: POUND, colour, volume: GALLON }));
    expect(one(srm(500))).toBeCloseTo(500, 9);
    expect(one(500)).toBeCloseTo((500 + 0.76) / 1.3546, 9);
  });

  test("uses the exponent 0.6859, not the misprint 0.659, which is 9.4 % lower at 40 units", () => {
    const colour = Number(call("colour_from_malt_units", { units: 40 }));
    expect(1 - (1.4922 * 40 ** 0.65896859) / colour).toBeCloseTo(0.094, 2);
  });

  test("needs wort to colour", () => {
    expect(call("beer_colour", { ...bill, volume: 0 })).toMatch(/volume is zero/);
    expect(call("malt_colour_units", { ...bill, volume: 0 })).toMatch(/volume is zero/);
  });
});

describe("a colour reading", () => {
  test("D188 is taken of a bright sample only: below 0.0234 at 700 nm for 0.600 at 430 nm (ASBC Beer-10)", () => {
    const read = (absorbance_700: number) =>
      call("colour_from_absorbance", { absorbance: 0.6, dilution: 1, absorbance_700 });
    expect(read(0.0233)).toBeCloseTo(7.62, 9);
    expect(read(0.0235)).toMatch(/not bright/);
  });
});
