import { describe, expect, test } from "vitest";
import { columnOf, figureOf, holdsPins, lineOf, openShipped, standsWell } from "./shipped.ts";

const PRESSURE = "Never go above the rating of the weakest part";
const GAS = "Carbon dioxide suffocates without warning";
const BURST = "Bottles and cans burst above their rating";
const METER = "An estimate for your own line, not a metrological approval";

describe("packaging", () => {
  const book = standsWell("packaging", { blanks: [], cautions: [PRESSURE, GAS, BURST, METER] });
  holdsPins(book, [
    [
      "gas.head_pressure",
      10.2,
      "psi",
      0.1,
      "the trade's chart, 35 °F and 2.5 vol: 9.7 psi (from memory); 0.53 psi more at 310 m",
    ],
    ["gas.carbonation_now", 2.53, "vol", 0.01, "Carroll at 1.67 °C and 1.700 bar absolute, 94.5 % of water"],
    ["gas.carbonation_mass", 4.97, "g/L", 0.01, "2.529 × 1.9635"],
    ["gas.residual", 0.82, "vol", 0.015, "0.870 L/L a bar of gas at 20.2 °C; 97.66 less 2.4 kPa of water vapour"],
    ["gas.sugar", 241, "g", 1, "163.66 L × (1.2 − 0.814) × 1.9635 / 0.5144"],
    ["gas.sugar_each", 2.13, "oz", 0.01, "241.1 / 4 / 28.35"],
    ["fills.density", 1.0095, "kg/L", 0.0001, "2.91 °P is SG 1.01137; × 0.99820"],
    ["fills.tare", 352.6, "g", 0.05, "ten bottles, 12.45 oz being 352.95 g: 3526.05 / 10"],
    ["fills.least_mean", 499.1, "mL", 0.05, "500 − t(0.995, 79) 2.640 × 3.065 / √80"],
    ["fills.allowed", 15, "mL", 1e-9, "Directive 76/211/EEC, annex I: 3 % of 500 mL"],
    ["fills.short", 1, "", 0, "one bottle says LOW: 484 mL, under 485"],
    ["fills.too_short", 0, "", 0, "none under 470 mL"],
    ["run.in_kegs", 293.2, "L", 0.05, "651.8 lb × 0.45359 / (1.0095 − 0.0012)"],
    ["run.in_bottles", 481.5, "L", 0.1, "960 × 501.5 mL"],
    ["run.foam_volume", 1.15, "L", 0.01, "41 oz × 28.35 g / 1.0095"],
    ["run.good", 936, "", 0, "960 − 12 − 6 − 6"],
    ["run.cases_packed", 78, "", 0, "936 / 12"],
    ["run.packed_share", 96.5, "%", 0.1, "(293.2 + 936 × 0.5015) / 790"],
  ]);

  test("the run's volumes add up to the bright tank", () => {
    expect(Math.abs(figureOf(book, "run.balance"))).toBeLessThan(0.05);
  });

  test("mean and spread are those of the weights, corrected for the glass and the air", () => {
    const gross = columnOf(book, "fills.weighed", "gross");
    const mean = gross.reduce((sum, each) => sum + each, 0) / gross.length;
    const spread = Math.sqrt(gross.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (gross.length - 1));
    // Beer weighs its density less that of the air, 1.2 g/L; the balance itself is set with weights of 8000 g/L.
    const litre = (1009.53 - 1.2) / (1 - 1.2 / 8000);
    expect(figureOf(book, "fills.mean_fill")).toBeCloseTo(((mean - 352.605) * 1000) / litre, 1);
    expect(figureOf(book, "fills.fill_spread")).toBeCloseTo((spread * 1000) / litre, 2);
    expect(figureOf(book, "fills.beer_spread") ** 2).toBeCloseTo(
      figureOf(book, "fills.fill_spread") ** 2 - (figureOf(book, "fills.tare_spread") / 1.00953) ** 2,
      2,
    );
  });

  // The regulations' table of factors begins at 20 packages: below it there is neither verdict nor least mean.
  test.each([
    [0, { least_mean: "", short: "", too_short: "", verdict: "" }],
    [
      3,
      {
        least_mean: "A least mean needs at least 20 packages; 3 are weighed.",
        short: "0",
        too_short: "0",
        verdict: "A verdict needs at least 20 packages; 3 are weighed.",
      },
    ],
    [19, { least_mean: "A least mean needs at least 20 packages; 19 are weighed.", short: "0" }],
    [20, { short: "0", too_short: "0" }],
  ])("of %d bottles weighed it tells no more than they can", (weighed, told) => {
    const begun = openShipped("packaging");
    begun.dispatch({ edit: "remove-rows", table: "fills.weighed", at: weighed, count: 80 - weighed });
    for (const [name, says] of Object.entries(told)) {
      const { state, shown, tooFew, waitingFor } = lineOf(begun, `fills.${name}`);
      if (state === "ready") expect([name, shown]).toEqual([name, says]);
      else expect([name, state, tooFew ?? "", waitingFor.length]).toEqual([name, "waiting", says, 1]);
    }
    expect(lineOf(begun, "fills.verdict").state).toBe(weighed < 20 ? "waiting" : "ready");
    expect(lineOf(begun, "fills.least_mean").state).toBe(weighed < 20 ? "waiting" : "ready");
  });

  test("the verdict says what it rests on", () => {
    expect(lineOf(book, "fills.verdict").shown).toMatch(/^passes: 80 packages; mean 501\.5 mL/);
  });
});
