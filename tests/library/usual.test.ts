import { describe, expect, test } from "vitest";
import { calculate } from "../support/formula.ts";

const ranges = (formula: string) => {
  const found = calculate(formula);
  expect(found.faults).toEqual([]);
  return found.cautions.filter((one) => one.code === "outside-published-range").length;
};

/** Common practice, no source (from memory): figures of any brewery, at the ends of their usual ranges and well beyond. */
describe("what is usual raises no caution, and what is not does", () => {
  test.each([
    [
      "D310",
      (rest: string) => `strike_temperature(rest: ${rest}, grain: 200 kg, water: 600 L, grain_temp: 18 °C)`,
      "62 °C",
      "70 °C",
      "80 °C",
    ],
    [
      "D313",
      (share: string) => `volume_after_boil(volume: 1000 L, time: 60 min, evaporation_share: ${share})`,
      "4 %/h",
      "12 %/h",
      "20 %/h",
    ],
    ["D314", (fine: string) => `malt_as_is(fine_dry: ${fine})`, "78 %", "83 %", "40 %"],
    ["D319", (calcium: string) => `hardness(calcium: ${calcium})`, "50 mg/L", "150 mg/L", "900 mg/L"],
  ])("%s", (_id, formula, low, high, beyond) => {
    expect(ranges(formula(low))).toBe(0);
    expect(ranges(formula(high))).toBe(0);
    expect(ranges(formula(beyond))).toBe(1);
  });
});

describe("bad arguments", () => {
  test.each([
    ["strike_temperature(rest: 66 °C, grain: -212 kg, water: 640 L, grain_temp: 18 °C)", "grain"],
    ["rest_temperature(strike: 120 °C, grain: 212 kg, water: 640 L, grain_temp: 18 °C)", "strike"],
    [
      "brewhouse_yield(volume: 1000 L, gravity: 0.990 SG, grain: 200 kg, extract_as_is: 78 %, volume_temp: 20 °C)",
      "gravity",
    ],
    ["extract_mass(-3 L, 12 °P)", "volume"],
    ['ions_from_salt(salt: "calcium chloride", mass: 1 g, volume: 1 L, ion: "calcium")', "salt"],
    [
      'acid_for_alkalinity(alkalinity: 80 mg/L CaCO3, volume: 1 hL, acid: "citric", strength: 50 %, density: 1.2 kg/L)',
      "lactic",
    ],
    ["hop_bitterness(hops: 90 g, alpha: 110 %, time: 60 min, volume: 50 L, gravity: 12 °P)", "alpha"],
  ])("%s is refused, naming %s", (formula, argument) => {
    const { value, shown } = calculate(formula);
    expect(value).toBeNull();
    expect(shown).toContain(argument);
  });

  test.each([
    ["cold_volume(volume: 0 L, temp: 98 °C)", "0 L"],
    ["first_runnings(grain: 0 kg, water: 0 L)", "0 L"],
  ])("%s of nothing is nothing", (formula, shown) => {
    expect(calculate(`${formula} as L by 1 L`).shown).toBe(shown);
  });
});
