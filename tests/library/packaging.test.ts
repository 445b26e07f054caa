import { describe, expect, test } from "vitest";
import { PACKAGING } from "../../engine/library/packaging.ts";
import type { Value } from "../../engine/values/value.ts";
import { callDirect } from "../support/call.ts";
import { calculate } from "../support/formula.ts";

const call = (name: string, given: Record<string, Value>) => callDirect(PACKAGING, name, given);
const shown = (formula: string): string => calculate(formula).shown;
const figure = (formula: string): number => Number(calculate(formula).value);

const MILLILITRE = 1e-6;
const millilitres = (...values: number[]): Float64Array => Float64Array.from(values, (value) => value * MILLILITRE);
const times = (count: number, value: number): number[] => Array.from({ length: count }, () => value);

describe("net volume", () => {
  test("corrects for the buoyancy of air: 0.105 % more than weight over density", () => {
    const net = call("net_volume", { gross: 0.5, tare: 0.1, density: 1008 });
    expect(Number(net) / (0.4 / 1008)).toBeCloseTo(1.00104, 5);
  });

  test("refuses an empty package heavier than the full one", () => {
    expect(call("net_volume", { gross: 0.1, tare: 0.5, density: 1008 })).toMatch(/weighs more than the full one/);
  });
});

// Directive 76/211/EEC, annex I, 2.4; rounding up of the shares from memory.
describe("the tolerable negative error", () => {
  test.each([
    [5, 0.5],
    [50, 4.5],
    [51, 4.5],
    [100, 4.5],
    [101, 4.6],
    [125, 5.7],
    [200, 9],
    [201, 9],
    [300, 9],
    [301, 9.1],
    [330, 9.9],
    [341, 10.3],
    [355, 10.7],
    [375, 11.3],
    [473, 14.2],
    [500, 15],
    [568, 15],
    [1000, 15],
    [1001, 15.1],
    [1500, 22.5],
    [10000, 150],
  ])("of %d mL is %d mL", (nominal, error) => {
    expect(figure(`tolerable_negative_error(${nominal} mL)`)).toBeCloseTo(error * MILLILITRE, 12);
  });

  test("is asked for from 5 mL to 10 L only", () => {
    expect(shown("tolerable_negative_error(4 mL)")).toMatch(/nominal \(.*\) cannot be 4 mL/);
    expect(shown("tolerable_negative_error(20 L)")).toMatch(/5 to 10000 mL/);
  });
});

describe("the lowest mean", () => {
  // Factors as printed in the UK Packaged Goods Regulations 2006, schedule 2, paragraph 4.
  test.each([
    [20, 0.64],
    [30, 0.503],
    [50, 0.379],
  ])("of %d packages lies %d standard deviations below nominal", (count, factor) => {
    const lowest = Number(call("lowest_mean", { nominal: 500 * MILLILITRE, spread: MILLILITRE, count }));
    expect(Math.abs(500 - lowest / MILLILITRE - factor)).toBeLessThan(0.001);
  });

  test("is told of no fewer packages than the table begins with, and of figures typed alone it is a fault", () => {
    const given = { nominal: 500 * MILLILITRE, spread: MILLILITRE, count: 19 };
    expect(call("lowest_mean", given)).toMatch(/at least 20 packages; 19 are weighed/);
    expect(shown("lowest_mean(500 mL, 1 mL, 19)")).toMatch(/A least mean needs at least 20 packages/);
  });

  test("is the nominal volume where all packages are alike", () => {
    expect(call("lowest_mean", { nominal: 0.0005, spread: 0, count: 30 })).toBe(0.0005);
  });
});

describe("the verdict on a sample of fills", () => {
  const nominal = 500 * MILLILITRE;
  const verdict = (...values: number[]) => call("fill_verdict", { volumes: millilitres(...values), nominal });

  test("passes good packages, and names every figure that it rests on", () => {
    expect(verdict(...times(15, 501), ...times(15, 503))).toBe(
      "passes: 30 packages; mean 502.0 mL, not below 499.5 mL; 0 short of 485.0 mL, at most 1 may be; 0 below 470.0 mL, none may be",
    );
  });

  test("passes a mean a little below nominal that chance explains, and fails one that it does not", () => {
    expect(verdict(...times(15, 497), ...times(15, 502))).toMatch(/^passes: .*mean 499.5 mL, not below 498.7 mL/);
    expect(verdict(...times(15, 497.9), ...times(15, 498.1))).toMatch(/^fails: .*mean 498.0 mL, below 499.9 mL/);
  });

  test("allows as many short packages as the sampling plan, and one too short fails", () => {
    const good = times(60, 505);
    expect(verdict(...good.slice(0, 29), 484)).toMatch(/^passes: .*; 1 short of/);
    expect(verdict(...good.slice(0, 28), 484, 484)).toMatch(/^fails: .*; 2 short of 485.0 mL, at most 1/);
    expect(verdict(...good.slice(0, 47), 484, 484, 484)).toMatch(/^passes: .*; 3 short of 485.0 mL, at most 3/);
    expect(verdict(...good.slice(0, 29), 469)).toMatch(/^fails: .*; 1 below 470.0 mL/);
    expect(verdict(...times(400, 505), ...times(10, 484))).toMatch(/^passes: 410 packages.*at most 10/);
  });

  test("does not count a package as short that lies exactly on the limit", () => {
    const column = millilitres(...times(29, 505), 485);
    expect(call("count_short", { volumes: column, nominal })).toBe(0);
    expect(call("count_too_short", { volumes: millilitres(470, 469.9), nominal })).toBe(1);
    expect(call("count_short", { volumes: millilitres(470, 469.9, 484.9, 486), nominal })).toBe(3);
  });

  test("leaves out packages that were not weighed, and wants twenty", () => {
    expect(verdict(...times(20, 501), Number.NaN)).toMatch(/^passes: 20 packages/);
    expect(verdict(...times(19, 501), Number.NaN)).toMatch(/at least 20 packages; 19 are weighed/);
    expect(verdict(501)).toMatch(/1 is weighed/);
    expect(verdict()).toMatch(/0 are weighed/);
  });
});

describe("packages and volumes", () => {
  test("are counted whole, also where the arithmetic falls just short of a whole number", () => {
    expect(shown("packages_expected(volume: 1000 L, package: 500 mL, loss: 0 %)")).toBe("2000");
    expect(shown("packages_expected(volume: 990 L, package: 330 mL, loss: 0 %)")).toBe("3000");
    expect(shown("packages_expected(volume: 0 L, package: 330 mL)")).toBe("0");
  });

  test("at 20 °C are those of the cellar a little greater", () => {
    expect(figure("volume_at(1000 L, 20 °C)")).toBe(1);
    expect(figure("volume_at(1000 L, 4 °C)")).toBeCloseTo(999.97 / 998.2, 4);
    expect(figure("volume_at(volume_at(1000 L, 4 °C), 20 °C, 4 °C)")).toBeCloseTo(1, 12);
  });
});

describe("pasteurisation", () => {
  test("takes the time that gives the units, and ten times less for each z", () => {
    expect(shown("pasteurisation_units(62 °C, pasteurisation_time(20 PU, 62 °C))")).toBe("20 PU");
    expect(figure("pasteurisation_units(66.95 °C, 1 min)")).toBeCloseTo(10, 9);
    expect(figure("pasteurisation_units(140 °F, 15 min)")).toBeCloseTo(15, 9);
  });

  test("says so where heat hardly counts", () => {
    expect(calculate("pasteurisation_units(45 °C, 60 min)").cautionSentences.join(" ")).toMatch(
      /published for 50 °C to 75 °C/,
    );
  });
});

describe("oxygen in the package", () => {
  test("is the dissolved one where the headspace holds no air", () => {
    expect(shown("package_oxygen(40 µg/L, 10 mL, 0 %, 330 mL)")).toBe("40 µg/L");
    // 10 mL of air at 20 °C and 1 atm hold 2.79 mg of oxygen; in a litre of beer that is 2790 µg/L.
    expect(figure("package_oxygen(0 µg/L, 10 mL, 100 %, 1000 mL, 20 °C)") * 1e6).toBeCloseTo(2787, -1);
  });
});

describe("blends", () => {
  test("lie between the two beers in the measure of their volumes", () => {
    expect(shown("blended_alcohol(300 L, 6 % vol, 100 L, 4 % vol)")).toBe("5.5 % vol");
    expect(shown("blended_bitterness(300 L, 40 IBU, 100 L, 20 IBU)")).toBe("35 IBU");
    expect(shown("blended_carbonation(1 hL, 2.4 vol, 1 hL, 2.6 vol)")).toBe("2.5 vol");
    expect(shown("blended_colour(1 hL, 10 SRM, 1 hL, 20 SRM)")).toBe("15 SRM");
    expect(shown("blended_alcohol(0 L, 6 % vol, 0 L, 4 % vol)")).toMatch(/nothing to blend/);
  });

  test("with water come down to strength exactly, and never up", () => {
    expect(shown("blended_alcohol(500 L, 7.2 % vol, dilution_for_alcohol(500 L, 7.2 % vol, 5 % vol), 0 % vol)")).toBe(
      "5 % vol",
    );
    expect(shown("dilution_for_alcohol(500 L, 4 % vol, 5 % vol)")).toMatch(/cannot raise the strength/);
  });
});
