import { describe, expect, test } from "vitest";
import { columnOf, holdsPins, standsWell } from "./shipped.ts";

describe("the water", () => {
  const book = standsWell("water", {
    blanks: ["salts.liquor_ph"],
    cautions: ["Acid and caustic burn skin and blind eyes"],
  });
  holdsPins(book, [
    [
      "report.off_balance",
      -3.73,
      "%",
      0.02,
      "(42/20.04 + 6.2/12.15 + 14/22.99) against (128/61.02 + 31/48.03 + 21/35.45 + 8/62.00) mEq/L",
    ],
    ["report.hard", 130.4, "mg/L CaCO3", 0.1, "42 × 2.497 + 6.2 × 4.118"],
    ["report.hard_degrees", 7.31, "°dH", 0.01, "130.4 / 17.848"],
    ["report.alkaline", 105.0, "mg/L CaCO3", 0.1, "128 × 0.8202"],
    ["report.residual", 71.4, "mg/L CaCO3", 0.1, "Kolbach: 105.0 − 104.9/3.5 − 25.5/7"],
    ["report.metabisulphite", 1.03, "g", 0.01, "2 × 0.4 mg/L × 1290 L"],
    ["salts.gypsum_calls", 182.7, "g", 0.1, "79 mg/L × 1290 L / 55.79 % sulphate in the dihydrate"],
    ["salts.chloride_calls", 171.2, "g", 0.1, "64 mg/L × 1290 L / 48.23 % chloride in the dihydrate"],
    ["salts.acid_calls", 87.9, "mL", 0.3, "34.98/50.04 × 1290 / (0.80 × 1190/90.08 × 97 %)"],
    ["salts.acid_took", 33.9, "mg/L CaCO3", 0.1, "34.98 × 85/87.8"],
    ["salts.residual_now", -12.6, "mg/L CaCO3", 0.1, "71.1 − 112.2 × 2.497/3.5 − 25.5/7"],
    ["salts.bicarbonate_now", 86.7, "mg/L", 0.1, "71.1 / 0.8202"],
    ["salts.sulphate_chloride", 1.34, "", 0.01, "113.2 / 84.6"],
  ]);

  test("each ion is the source's and the salts' together, by the formula weights of the hydrates", () => {
    const chloride = (6 * 28.3495 * 1000) / 1290;
    const gypsum = (190 * 1000) / 1290;
    const [calcium, magnesium, sodium, sulphate, chlorine] = columnOf(book, "salts.ions", "found");
    expect(calcium).toBeCloseTo(42 + gypsum * 0.2328 + chloride * 0.2726, 1);
    expect(magnesium).toBeCloseTo(6.2, 9);
    expect(sodium).toBeCloseTo(14, 9);
    expect(sulphate).toBeCloseTo(31 + gypsum * 0.5579, 1);
    expect(chlorine).toBeCloseTo(21 + chloride * 0.4823, 1);
    expect(columnOf(book, "salts.ions", "good")).toEqual([1, 1, 1, 1, 1]);
  });
});
