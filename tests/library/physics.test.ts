import { describe, expect, test } from "vitest";
import { pressureAtAltitude } from "../../engine/library/physics/atmosphere.ts";
import {
  heatOfEvaporation,
  specificHeatOfWater,
  steamEnthalpy,
  waterEnthalpy,
} from "../../engine/library/physics/enthalpy.ts";
import { boilingTemperature, saturationPressure, ZERO_CELSIUS } from "../../engine/library/physics/saturation.ts";
import { extractFromConcentration, extractFromDensity, sucroseDensity } from "../../engine/library/physics/sucrose.ts";
import { volumeAt, waterDensity } from "../../engine/library/physics/water.ts";

/** CIPM formula of M. Tanaka et al., Metrologia 38 (2001) 301, 0 to 40 °C (from memory): another equation for the same water. */
const tanaka = (t: number): number =>
  999.97495 * (1 - ((t - 3.983035) ** 2 * (t + 301.797)) / (522528.9 * (t + 69.34881)));

describe("water", () => {
  test.each([0, 4, 10, 15, 20, 25, 30, 40])("weighs at %s °C what the CIPM formula says, to 0.005 kg/m³", (celsius) => {
    expect(Math.abs(waterDensity(celsius) - tanaka(celsius))).toBeLessThan(0.005);
  });

  test("is 998.20 kg/m³ at 20 °C, not the 997.94 of the copy with two digits swapped", () => {
    expect(waterDensity(20)).toBeCloseTo(998.2041, 3);
  });

  test("keeps its mass when a volume is told at another temperature", () => {
    expect(volumeAt(volumeAt(1.7, 20, 93), 93, 20)).toBeCloseTo(1.7, 12);
  });
});

describe("sucrose solution", () => {
  /** NBS Circular C440 (1942), Table 114, apparent specific gravity 20/20 °C; in vacuo it is some 0.00005 to 0.0001 lower. */
  test.each([
    [0.05, 1.01968],
    [0.1, 1.04003],
    [0.12, 1.04837],
    [0.15, 1.06111],
    [0.2, 1.08297],
    [0.25, 1.10564],
    [0.3, 1.12913],
  ])("of a mass share of %s is as heavy as NBS C440 says, %s of water", (extract, table) => {
    expect(Math.abs(sucroseDensity(extract, 20) / sucroseDensity(0, 20) - table)).toBeLessThan(0.0001);
  });

  test("shrinks from 100 to 20 °C like water, by 3.98 to 3.99 %, from 10 to 20 °P", () => {
    for (const extract of [0.1, 0.12, 0.16, 0.2])
      expect(1 - sucroseDensity(extract, 100) / sucroseDensity(extract, 20)).toBeCloseTo(0.0399, 3);
  });

  test("is found again from its density and from its concentration", () => {
    for (const extract of [-0.015, 0, 0.04, 0.12, 0.3, 0.6])
      for (const celsius of [4, 20, 60]) {
        const density = sucroseDensity(extract, celsius);
        expect(extractFromDensity(density, celsius)).toBeCloseTo(extract, 10);
        expect(extractFromConcentration(extract * density, celsius)).toBeCloseTo(extract, 10);
      }
  });

  test("has no strength when the density is that of no syrup", () => {
    expect(extractFromDensity(2000, 20)).toBeNaN();
    expect(extractFromDensity(800, 20)).toBeNaN();
    expect(extractFromConcentration(5000, 20)).toBeNaN();
  });
});

describe("steam", () => {
  /** IAPWS R7-97(2012), tables 35 and 36: the release's own values for checking a program. */
  test.each([
    [300, 0.353658941e-2],
    [500, 0.263889776e1],
    [600, 0.123443146e2],
  ])("at %s K has the pressure of table 35, %s MPa", (kelvin, megapascal) => {
    expect(saturationPressure(kelvin - ZERO_CELSIUS) / 1e6 / megapascal).toBeCloseTo(1, 8);
  });

  test.each([
    [0.1, 372.755919],
    [1, 453.035632],
    [10, 584.149488],
  ])("at %s MPa has the temperature of table 36, %s K", (megapascal, kelvin) => {
    expect(boilingTemperature(megapascal * 1e6) + ZERO_CELSIUS).toBeCloseTo(kelvin, 5);
  });

  /** IAPWS SR1-86(1992), table 1 (from memory): kJ/kg of water and steam. */
  test.each([
    [273.16, 0.000611786, 2500.5],
    [373.1243, 419.05, 2675.7],
  ])("at %s K holds the heat of the supplementary release", (kelvin, water, steam) => {
    expect(Math.abs(waterEnthalpy(kelvin - ZERO_CELSIUS) / 1000 - water)).toBeLessThan(0.01);
    expect(Math.abs(steamEnthalpy(kelvin - ZERO_CELSIUS) / 1000 - steam)).toBeLessThan(0.05);
  });

  test("takes 2.5 kJ/kg less heat to make for each degree near 100 °C", () => {
    expect((heatOfEvaporation(99) - heatOfEvaporation(101)) / 2000).toBeCloseTo(2.7, 0);
  });

  test("comes from water whose specific heat is 4.18 to 4.21 kJ/(kg K) from 10 to 90 °C", () => {
    for (let celsius = 10; celsius <= 90; celsius += 10) {
      expect(specificHeatOfWater(celsius)).toBeGreaterThan(4178);
      expect(specificHeatOfWater(celsius)).toBeLessThan(4210);
    }
  });
});

describe("air", () => {
  test("lets water boil about 1 °C lower for each 300 m, to 0.1 °C up to 3000 m", () => {
    for (const metres of [300, 900, 1500, 2400, 3000])
      expect(Math.abs(boilingTemperature(pressureAtAltitude(metres)) - (99.97 - metres / 300))).toBeLessThan(0.11);
  });

  test("starts from the sea-level pressure that is given", () => {
    expect(pressureAtAltitude(0, 99_000)).toBe(99_000);
  });
});
