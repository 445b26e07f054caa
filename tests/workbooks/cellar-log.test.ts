import { describe, expect, test } from "vitest";
import { columnOf, figureOf, holdsPins, lineOf, standsWell } from "./shipped.ts";

const SAMPLE = "Degas and cool the sample: hot wort scalds";
const DENSITIES = "An estimate from densities. Figures for a label";
const PRESSURE = "Never go above the rating of the weakest part";

describe("the cellar log", () => {
  const book = standsWell("cellar-log", { blanks: [], cautions: [SAMPLE, DENSITIES, PRESSURE] });
  holdsPins(book, [
    ["hand.present", 2.94, "°P", 0.05, "1.0115, 2.94 °P (NBS C440), read at 67 °F: 0.0001 below the figure at 68 °F"],
    ["hand.attenuation", 75.8, "%", 0.1, "(12.07 − 2.915) / 12.07"],
    ["hand.left", 1.78, "%", 0.02, "(2.915 − 2.7) / 12.07"],
    ["hand.strength", 4.86, "% vol", 0.01, "Cutaia: (0.372 + 0.00357 × 12.07) × 9.155 = 3.80 % mass; × 1.0114/0.7907"],
    ["hand.real", 4.71, "°P", 0.02, "Balling: 12.07 − 3.80 × (2.0665 − 0.010665 × 12.07)"],
    ["hand.rdf", 62.5, "%", 0.1, "2.0665 × 3.80 / (2.0665 × 3.80 + 4.71)"],
    [
      "hand.pace",
      -2.0,
      "°P/day",
      0.1,
      "12.03 °P on the 3rd, 3.50 °P on the 7th: 8.5 °P in four days, straight line 2.02",
    ],
    ["log.lines", 688, "", 0, "2 March 13:00 to 31 March 08:00 hourly, four hours lost"],
    ["log.gap", 5, "h", 1e-9, "01:00 to 06:00 on the 17th"],
    ["log.strayed", 2.6, "Δ°F", 0.05, "68 °F set at 13:00 on the 5th with the tank at 65.4 °F"],
    ["finish.wait", 23.5, "h", 1, "the probe was there 26 h later: the fit is good to a third"],
    ["finish.beer_mass", 844.3, "kg", 0.1, "836.34 L × 1.0114 × 0.9982"],
    ["finish.load", 0.596, "kW", 0.005, "844.3 kg × 4.0 × 19.06 K / 30 h"],
    ["finish.took", 40, "h", 1e-9, "11 March 12:00 to 13 March 04:00"],
    ["finish.holds", 2.53, "vol", 0.02, "Carroll: 1.666 bar absolute at 1.1 °C, 94.5 % of water, 1.9635 g/L a volume"],
    ["out.casks", 163.66, "L", 0.01, "4 × 9 × 4.54609"],
    ["out.lost", 4.63, "%", 0.01, "1 − (163.66 + 790) / 1000"],
  ]);

  test("the tank's volumes add up", () => {
    expect(Math.abs(figureOf(book, "out.balance"))).toBeLessThan(0.05);
  });

  test("readings in other units stand as they were written and are reckoned in the column's", () => {
    expect(book.entry("hand.daily", 5, "sample").text).toBe("19 °C");
    expect(columnOf(book, "hand.daily", "sample")[5]).toBeCloseTo(66.2, 9);
    expect(book.entry("hand.daily", 6, "reading").text).toBe("3.0 °P");
    expect(columnOf(book, "hand.daily", "gravity")[6]).toBeCloseTo(3.0, 9);
  });

  test("the hydrometer is put right for the sample's temperature", () => {
    const gravity = columnOf(book, "hand.daily", "gravity");
    // At 68 °F there is nothing to put right: 1.0485 is 12.03 °P (NBS C440).
    expect(gravity[0]).toBeCloseTo(12.03, 1);
    // 1.0330 at 72 °F: water is 998.20 / 997.71 of its density, 1.0335, 8.40 °P.
    expect(gravity[2]).toBeCloseTo(8.4, 1);
  });

  test("the beer stood still before it was cooled, and the log's coldest hours lie after", () => {
    expect(lineOf(book, "finish.steady").shown).toBe("yes");
    expect(lineOf(book, "finish.was_there").shown).toBe("2026-03-07 20:00");
    const temps = columnOf(book, "log.tank", "temp");
    expect(Math.min(...temps.slice(0, 215))).toBeGreaterThan(64);
    expect(Math.min(...temps)).toBeLessThan(34);
  });
});
