import { describe, expect, test } from "vitest";
import { columnOf, figureOf, holdsPins, lineOf, standsWell } from "./shipped.ts";

const SCALD = "Hot liquor, mash, wort and steam scald";
const BOIL = "Boiling wort and steam burn, and a kettle boils over";
const SAMPLE = "Degas and cool the sample: hot wort scalds";

describe("the brew day", () => {
  const book = standsWell("brew-day", { blanks: ["cast.grains_weighed"], cautions: [SCALD, BOIL, SAMPLE] });
  holdsPins(book, [
    ["plant.boils_at", 99.24, "°C", 0.03, "97.66 kPa at 310 m: water boils at 98.95 °C (IAPWS-IF97), wort 0.3 above"],
    ["malt.grain", 195.13, "kg", 0.01, "6 × 25 + (1 + 0.75) × 55 × 0.45359 + 3.25 × 0.45359"],
    ["malt.extract_in", 147.41, "kg", 0.01, "each malt: weight × (fine − difference) × (1 − moisture)"],
    ["malt.grist_as_is", 75.55, "%", 0.01, "147.41 / 195.13"],
    ["malt.malt_wanted", 195.94, "kg", 0.1, "1040 L × 1.0488 × 0.9982 × 12.1 % / (75.55 % × 89 %)"],
    ["malt.colour_expected", 11.79, "SRM", 0.01, "Morey: 1.4922 × MCU^0.6859, EBC by 12.7/25, SRM = 1.3546 L − 0.76"],
    [
      "mash.strike_temp",
      165.2,
      "°F",
      0.1,
      "66.5 + (0.41 × 195.13 × 51.5 + 95/4.184 × 11.5) / (585 × 0.9982) = 74.00 °C",
    ],
    ["mash.heat_for", 1.341, "h", 0.002, "584.0 kg × 4.184 × 64.0 K / (36 kW × 90 %)"],
    ["mash.room", 715.7, "L", 0.1, "585 + 0.67 × 195.13"],
    ["mash.kettle_full", 1124.3, "L", 0.1, "1040 / (1 − 7.5 %)"],
    ["mash.sparge", 710.4, "L", 0.1, "1124.3 + 0.8 × 195.13 + 15 − 585"],
    [
      "boil.full_cold",
      1125.4,
      "L",
      0.2,
      "1100 + 100 × 2.125/3.25 = 1165.4; × 963.97/998.20, water at 92 and 20 °C (Kell)",
    ],
    ["boil.full_gravity", 11.2, "°P", 0.1, "1.0420 × 998.20/995.34 = 1.0450 (water at 31 °C), 11.20 °P (NBS C440)"],
    ["boil.end_cold", 1041.3, "L", 0.2, "1000 + 100 × 2.625/3.125 = 1084; × 958.9/998.20, water at 99.24 °C"],
    ["boil.end_gravity", 12.03, "°P", 0.05, "1.0470 × 998.20/996.78 = 1.0485, 12.03 °P (NBS C440)"],
    ["boil.evaporated", 7.47, "%", 0.02, "(1125.4 − 1041.3) / 1125.4 in an hour"],
    [
      "boil.from_whirlpool",
      3.89,
      "IBU",
      0.01,
      "Malowicki and Shellhammer's rates, 25 min at 92 °C: 14.15 %, half kept, 55 mg/L",
    ],
    ["boil.bitterness", 28.2, "IBU", 0.1, "Tinseth at 1.0469: 18.55 and 5.79; whirlpool 3.89"],
    ["cast.original", 12.08, "°P", 0.05, "1.0489 × 998.20/998.40 = 1.0487 (water at 19 °C), 12.08 °P (NBS C440)"],
    ["cast.extract_kettle", 131.3, "kg", 0.2, "1041.3 L × 1.0486 × 0.9982 × 12.05 %"],
    ["cast.extract_fermenter", 126.4, "kg", 0.2, "1000.3 L × 1.0487 × 0.9982 × 12.07 %"],
    ["cast.yield_kettle", 89.1, "%", 0.2, "131.3 / 147.4"],
    ["cast.yield_fermenter", 85.7, "%", 0.2, "126.4 / 147.4"],
    ["cast.water_cool", 1230, "L", 5, "1090 kg × 4.0 × 76.7 K / (4.184 × 65 K)"],
    ["cast.grains_expected", 293.7, "kg", 0.5, "195.1 + 1290 × 0.9982 − 1125.4 × 1.0433 − 15 × 1.009"],
  ]);

  test("the hops' bitterness is Tinseth's, row by row", () => {
    const utilisation = (minutes: number): number =>
      (1.65 * 0.000125 ** 0.0469 * (1 - Math.exp(-0.04 * minutes))) / 4.15;
    const [bittering, aroma] = columnOf(book, "boil.hops", "bitterness");
    expect(bittering).toBeCloseTo(utilisation(60) * 24 * 28.3495 * 0.115, 1);
    expect(aroma).toBeCloseTo(utilisation(15) * 600 * 0.082, 1);
  });

  test("the run-off reads the dip stick between its marks", () => {
    const litres = columnOf(book, "mash.runoff", "volume");
    expect(litres[0]).toBeCloseTo(100, 9);
    expect(litres[1]).toBeCloseTo(200 + (100 * (6.5 - 4.5)) / (7.75 - 4.5), 9);
    expect(litres.at(-1)).toBeCloseTo(figureOf(book, "boil.full_hot"), 9);
  });

  test("extract and volume balance to rounding", () => {
    expect(Math.abs(figureOf(book, "cast.extract_balance"))).toBeLessThan(1e-9);
    // The same wort before and after the boil, from readings of their own: within 0.5 % (0.05 °P and a sixteenth of an inch).
    expect(Math.abs(figureOf(book, "cast.boil_gap"))).toBeLessThan(0.5);
    expect(figureOf(book, "cast.boiled_off") + figureOf(book, "cast.left_behind")).toBeCloseTo(
      figureOf(book, "boil.full_cold") - figureOf(book, "cast.fermenter_volume"),
      9,
    );
  });

  test("the ticket for the wet grains, once filled in, is held against what was expected", () => {
    expect(lineOf(book, "cast.grains_gap").waitingFor).toEqual(["cast.grains_weighed"]);
    expect(book.dispatch({ edit: "set-formula", cell: "cast.grains_weighed", formula: "? 660 lb" }).ok).toBe(true);
    expect(figureOf(book, "cast.grains_gap")).toBeCloseTo(660 * 0.45359237 - figureOf(book, "cast.grains_expected"), 6);
    book.undo();
  });
});
