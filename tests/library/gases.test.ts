import { describe, expect, test } from "vitest";
import {
  bunsenCoefficient,
  CARBON_DIOXIDE_MOLAR_MASS,
  carbonDioxideDensity,
  carbonDioxideInWater,
  henryConstant,
  MASS_OF_A_BUNSEN_VOLUME,
  oxygenDensity,
  oxygenUnderAir,
  pressureOverWater,
  VOLUME_OF_CARBON_DIOXIDE,
} from "../../engine/library/physics/gases.ts";

describe("carbon dioxide in water", () => {
  // Murray, Riley, Deep-Sea Research 18 (1971) 533, as given in the IUPAC-NIST Solubility Database, 62_54.
  test.each([
    ["D196", 10, 1.1926],
    ["D197", 20, 0.8652],
    ["D198", 25, 0.7519],
  ])("%s: at %d °C the Bunsen coefficient is %d", (_id, celsius, alpha) => {
    expect(Math.abs(bunsenCoefficient(celsius) - alpha)).toBeLessThan(0.005);
  });

  // Van Slyke, J. Biol. Chem. 130 (1939) 545, measured apart from the table above; IUPAC-NIST Solubility Database, 62_31.
  test.each([
    [22.8, 0.8065],
    [24.7, 0.764],
    [24.8, 0.758],
    [25.5, 0.753],
  ])("agrees between the entries with another laboratory: %d °C, %d", (celsius, alpha) => {
    expect(Math.abs(bunsenCoefficient(celsius) / alpha - 1)).toBeLessThan(0.015);
  });

  test("falls smoothly with temperature, some degrees beyond the measurements too", () => {
    for (let t = -4; t < 45; t += 0.5) expect(bunsenCoefficient(t + 0.5)).toBeLessThan(bunsenCoefficient(t));
    expect(bunsenCoefficient(0)).toBeCloseTo(1.71, 1);
  });

  // Carroll, Slupsky, Mather, J. Phys. Chem. Ref. Data 20 (1991) 1201.
  test.each([
    ["D199", 20, 141.4],
    ["D200", 25, 162.0],
  ])("%s: at %d °C Henry's constant is %d MPa", (_id, celsius, megapascal) => {
    expect(Math.abs(henryConstant(celsius) / 1e6 - megapascal)).toBeLessThan(0.5);
  });

  test("gives back the pressure that it was asked for", () => {
    for (const t of [0, 4, 12, 30])
      for (const p of [2e4, 1e5, 3e5]) expect(pressureOverWater(t, carbonDioxideInWater(t, p))).toBeCloseTo(p, 5);
  });

  test("D201 and D202: weighs 1.9635 g/L as an ideal gas and 1.9770 as a real one, by stoichiometry", () => {
    expect(Math.abs(VOLUME_OF_CARBON_DIOXIDE - 1.9635)).toBeLessThan(0.0005);
    expect(Math.abs(VOLUME_OF_CARBON_DIOXIDE - CARBON_DIOXIDE_MOLAR_MASS / 22.414e-3)).toBeLessThan(0.0005);
    expect(Math.abs(MASS_OF_A_BUNSEN_VOLUME - 1.977)).toBeLessThan(0.0005);
  });
});

describe("gases", () => {
  // CRC Handbook of Chemistry and Physics: densities at 0 °C and 1 atm of the real gases (from memory).
  test("weigh what handbooks say, within what an ideal gas misses", () => {
    expect(carbonDioxideDensity(101325, 0)).toBeCloseTo(1.9635, 3);
    expect(Math.abs(carbonDioxideDensity(101325, 0) / 1.977 - 1)).toBeLessThan(0.008);
    expect(oxygenDensity(101325, 0)).toBeCloseTo(1.428, 2);
  });

  test("dissolve less oxygen the warmer the water and the thinner the air", () => {
    expect(oxygenUnderAir(20, 101325)).toBeLessThan(oxygenUnderAir(10, 101325));
    expect(oxygenUnderAir(20, 97000)).toBeLessThan(oxygenUnderAir(20, 101325) * 0.96);
  });
});
