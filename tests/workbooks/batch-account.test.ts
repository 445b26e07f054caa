import { describe, expect, test } from "vitest";
import { columnOf, figureOf, holdsPins, lineOf, standsWell } from "./shipped.ts";

const GAS = "Carbon dioxide suffocates without warning";
const DENSITIES = "An estimate from densities. Figures for a label";
const FISCAL = "An estimate, not a fiscal approval";

describe("the account of the batch", () => {
  const book = standsWell("batch-account", { blanks: [], cautions: [GAS, DENSITIES, FISCAL] });
  holdsPins(book, [
    ["losses.lost_volume", 11.02, "%", 0.01, "1 − 926.3/1041"],
    ["losses.lost_extract", 10.9, "%", 0.1, "1 − 117.0/131.3"],
    ["losses.told_apart", 114.7, "L", 1e-6, "41 + 18 + 2 + 26.3 + 9 + 5.2 + 1.2 + 12"],
    ["losses.malt_to_store", 79.4, "%", 0.1, "117.0 / 147.4"],
    ["losses.gas_made", 36.6, "kg", 0.2, "126.3 kg × 62.6 % × 0.9565/2.0665 (Balling)"],
    ["duty.declared", 925.03, "L", 0.01, "5 × 15.5 × 3.785412 + 936 × 0.5 + 4 × 40.91481"],
    ["duty.from_sugar", 0.164, "L", 0.001, "241 g × 4 × 46.07/342.3 / 789.2 g/L"],
    ["duty.pure", 44.57, "L", 0.01, "925.03 × 4.8 % + 0.16"],
    ["duty.owed", 958.16, "CAD", 1e-6, "44.5657 × 21.50 = 958.162, cut to the cent"],
    ["duty.as_barrels", 7.883, "US bbl", 0.001, "925.03 / 117.3478"],
    ["cost.beer", 1084.48, "CAD", 0.01, "358.58 of materials and 725.90 of charges"],
    ["cost.beer_hl", 117.24, "CAD/hL", 0.01, "1084.48 / 9.2503"],
  ]);

  test("volume and extract balance to rounding, from the kettle to the store", () => {
    expect(Math.abs(figureOf(book, "losses.balance"))).toBeLessThan(0.05);
    // Half a kilogram is what 0.05 °P makes of a thousand litres.
    expect(Math.abs(figureOf(book, "losses.extract_balance"))).toBeLessThan(0.5);
    expect(Math.abs(figureOf(book, "cost.proof_gap"))).toBeLessThan(0.005);
  });

  test("each step's loss is the step before less the step", () => {
    const lost = columnOf(book, "losses.ledger", "lost");
    [41, 46.3, 15.3, 12.1].forEach((litres, at) => {
      expect(lost[at + 1]).toBeCloseTo(litres, 6);
    });
  });

  test("a package costs its share of the beer, its shell and its packing", () => {
    const [keg, bottle, firkin] = columnOf(book, "cost.each", "price");
    expect(keg).toBeCloseTo(1.172376 * 58.67388 + 4.5 + 52 / 5, 2);
    expect(bottle).toBeCloseTo(1.172376 * 0.5 + 0.39 + 208 / 936, 3);
    expect(firkin).toBeCloseTo(1.172376 * 40.91481 + 4.5 + 39 / 4, 2);
    expect(columnOf(book, "cost.each", "with_duty")[0]).toBeCloseTo((keg ?? 0) + 302.75 / 5, 6);
  });

  test("the strength that counts is cut, not rounded, and the label holds", () => {
    expect(columnOf(book, "duty.packages", "pure")[1]).toBeCloseTo(468 * 0.048, 9);
    expect(lineOf(book, "duty.label_holds").shown).toBe("yes");
  });
});
