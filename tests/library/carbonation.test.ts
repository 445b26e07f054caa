import { describe, expect, test } from "vitest";
import { CARBONATION } from "../../engine/library/carbonation.ts";
import type { Value } from "../../engine/values/value.ts";
import { callDirect } from "../support/call.ts";
import { calculate } from "../support/formula.ts";

const call = (name: string, given: Record<string, Value>) => callDirect(CARBONATION, name, given);
const shown = (formula: string): string => calculate(formula).shown;
const figure = (formula: string): number => Number(calculate(formula).value);

const PSI = 6894.757293168;

describe("pressure and carbonation", () => {
  test("are each other's inverse at every altitude and temperature", () => {
    for (const temp of [-1, 2, 8, 20])
      for (const altitude of [0, 310, 2000])
        for (const carbonation of [1, 2.5, 4]) {
          const air = { altitude, barometer: 100_800, beer_share: 0.945 };
          const pressure = call("equilibrium_pressure", { temp, carbonation, ...air, method: "solubility" });
          expect(call("carbonation", { temp, pressure, ...air })).toBeCloseTo(carbonation, 9);
        }
  });

  test("need 1.7 psi more on the gauge at 1000 m, by solubility and by the chart", () => {
    for (const method of ["solubility", "chart"]) {
      const at = (altitude: number) =>
        figure(`equilibrium_pressure(3 °C, 2.5 vol, altitude: ${altitude} m, method: "${method}")`);
      expect((at(1000) - at(0)) / PSI).toBeCloseTo(1.66, 1);
    }
  });

  test("by solubility stays within half a psi of the trade's chart to 50 °F, and within 1.3 psi to its end", () => {
    for (let f = 32; f <= 60; f += 2)
      for (const vol of [2, 2.5, 3]) {
        const by = (method: string) => figure(`equilibrium_pressure(${f} °F, ${vol} vol, method: "${method}")`);
        expect(Math.abs(by("solubility") - by("chart")) / PSI).toBeLessThan(f <= 50 ? 0.5 : 1.3);
      }
  });

  test("does not carry the chart beyond its ends", () => {
    expect(shown('equilibrium_pressure(68 °F, 2.5 vol, method: "chart")')).toMatch(/chart holds from 0 to 15.5 °C/);
    expect(shown('equilibrium_pressure(38 °F, 1 vol, method: "chart")')).toMatch(/2 to 3 vol/);
    expect(shown('equilibrium_pressure(38 °F, 2.5 vol, method: "Chart") as psi by 0.1 psi')).toBe("11.2 psi");
  });

  test("has no value below the vapour pressure of water, and tells the range of a wild temperature", () => {
    expect(shown("carbonation(4 °C, -1 bar)")).toMatch(/\bvol$/);
    expect(shown("carbonation(4 °C, -1 bar, altitude: 300 m)")).toMatch(/gauge pressure is too low/);
    expect(shown("carbonation(80 °C, 1 bar)")).toMatch(/temp \(.*\) cannot be 80 °C/);
    expect(calculate("equilibrium_pressure(3 °C, 5 vol)").cautionSentences.join(" ")).toMatch(
      /published up to 4.5 vol/,
    );
  });
});

describe("residual carbonation", () => {
  // A widely printed quadratic for water under 1 atm of carbon dioxide, °F (from memory): within 0.03 of it once the water vapour is off.
  test.each([40, 50, 60, 68, 77])(
    "at %d °F lies by the quadratic in print, a little below for the water vapour",
    (f) => {
      const printed = 3.0378 - 0.050062 * f + 0.00026555 * f * f;
      const here = figure(`residual_carbonation(${f} °F)`);
      expect(here).toBeLessThan(printed);
      expect(printed - here).toBeLessThan(0.03);
    },
  );

  test("is not what the trade's chart gives when it is carried to 0 psi at 68 °F", () => {
    // The chart's fit solved for 0 psi at 68 °F gives 0.75 vol.
    expect(figure("residual_carbonation(68 °F)")).toBeGreaterThan(0.82);
  });

  test("falls with altitude, and beyond the measurements carries a caution", () => {
    expect(figure("residual_carbonation(20 °C, 2000 m)") / figure("residual_carbonation(20 °C)")).toBeCloseTo(0.78, 2);
    expect(calculate("residual_carbonation(38 °C)").cautionSentences.join(" ")).toMatch(/Murray, Riley/);
  });
});

describe("priming", () => {
  const given = { volume: 0.1, target: 2.5, residual: 0.86, container: "ordinary" };

  test("takes a tenth more of the monohydrate than of anhydrous glucose, and least of sucrose", () => {
    const of = (sugar: string) => Number(call("priming_sugar", { ...given, sugar }));
    expect(of("dextrose monohydrate") / of("glucose")).toBeCloseTo(198.17 / 180.16, 4);
    expect(of("sucrose")).toBeLessThan(of("glucose"));
    // Grams in a litre for a volume, in print as 4 g/L of glucose or 0.25 vol from 1 g/L.
    expect((of("glucose") * 1000) / 100 / 1.64).toBeCloseTo(4.02, 1);
  });

  test("refuses what would burst, what is not wanted, and a sugar that it does not know", () => {
    expect(call("priming_sugar", { ...given, sugar: "sucrose", target: 4.6 })).toMatch(/may burst/);
    expect(
      call("priming_sugar", { ...given, sugar: "sucrose", target: 4.6, container: "high-pressure" }),
    ).toBeGreaterThan(0.7);
    expect(call("priming_sugar", { ...given, sugar: "sucrose", target: 0.5 })).toMatch(/already holds more/);
    expect(shown('priming_sugar(100 L, 2.5 vol, 0.86 vol, "honey")')).toMatch(/not one of "sucrose"/);
  });

  test("with wort carbonates the wort as well: all the gas is in beer and wort together", () => {
    const wort = Number(call("priming_wort", { ...given, wort_gravity: 0.12, wort_final: 0.025 }));
    // Balling by hand: 7.94 °P of real extract fermented at 1.0484 kg/L gives 0.4629 of it as gas.
    const fermented = 0.0794 * 1046.5;
    const gas = (wort * fermented * 0.4629) / 1.9635;
    expect((gas + given.volume * given.residual) / (given.volume + wort)).toBeCloseTo(given.target, 1);
    expect(call("priming_wort", { ...given, wort_gravity: 0.02, wort_final: 0.01 })).toMatch(/stronger one/);
    expect(call("priming_wort", { ...given, wort_gravity: 0.02, wort_final: 0.03 })).toMatch(/would not ferment/);
  });

  test("a degree Plato left in a closed tank is some two volumes", () => {
    expect(figure("carbonation_gain(3.5 °P, 2.5 °P)")).toBeCloseTo(1.95, 1);
    expect(shown("carbonation_gain(2 °P, 2.5 °P)")).toMatch(/nothing is left to ferment/);
  });
});

describe("gas", () => {
  test("by mass and by volume are each other's inverse", () => {
    expect(shown("carbonation_from_mass(co2_mass(1 L, 2.6 vol) / 1 L)")).toBe("2.6 vol");
  });

  test("to push beer grows with pressure, and purging leaves less each time", () => {
    // 2 bar absolute of carbon dioxide at 4 °C weigh 3.8 g/L.
    expect(figure("co2_to_push(1000 L, 98.675 kPa, 4 °C)")).toBeCloseTo(3.82, 1);
    expect(shown("air_left(1.01325 bar, 1)")).toBe("50 %");
    expect(figure("air_left(1.01325 bar, 5)")).toBeCloseTo(1 / 32, 12);
    expect(shown("air_left(2 bar, 0)")).toBe("100 %");
  });

  test("carries the danger beside it", () => {
    expect(calculate("co2_evolved(80 kg)").cautionSentences.join(" ")).toMatch(/suffocates/);
    expect(calculate("equilibrium_pressure(3 °C, 2.5 vol)").cautionSentences.join(" ")).toMatch(/relief valve/);
  });
});
