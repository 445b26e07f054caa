import { describe, expect, test } from "vitest";
import { figureOf, holdsPins, standsWell } from "./shipped.ts";

describe("the vessels", () => {
  const book = standsWell("vessels", { blanks: [], cautions: [] });
  holdsPins(book, [
    ["liquor.holds", 1314.25, "L", 1e-6, "1286 + 113 × 2.5/10"],
    ["liquor.holds_cold", 1281.3, "L", 0.2, "1314.25 × 973.2/998.2, water at 77.8 °C (Kell)"],
    ["liquor.draw_hot", 600.0, "L", 0.2, "585 × 998.2/973.2"],
    ["liquor.stop_at", 59.4, "cm", 0.1, "714.2 L: 50 + 20 × 107.2/227"],
    ["kettle.holds", 1165.4, "L", 0.1, "1100 + 100 × 2.125/3.25"],
    ["kettle.wanted_dip", 35.45, "inch", 0.01, "1124 × 998.2/963.97 = 1163.9 L: 33.375 + 3.25 × 63.9/100"],
    ["kettle.end_dip", 32.83, "inch", 0.02, "1040 × 998.2/958.9 = 1082.6 L: 30.25 + 3.125 × 82.6/100"],
    ["kettle.by_across", 3.896, "L", 0.001, "π/4 × 125² cm² × 0.3175 cm"],
    ["fermenter.holds", 1000, "L", 1e-6, "a mark of the table"],
    ["fermenter.holds_cold", 1000.33, "L", 0.02, "1000 × 998.53/998.20, water at 18.3 °C"],
    ["fermenter.fill_to", 14.595, "inch", 0.001, "16.5 − 4 × 50/105"],
    ["bright.holds", 788.5, "L", 1e-6, "684 + 152 × 27.5/40"],
    ["bright.holds_warm", 789.9, "L", 0.1, "788.5 × 999.93/998.20, water at 1.7 °C"],
    ["bright.off", 0.385, "%", 0.001, "788.5 / (207.5 × 3.785412)"],
  ]);

  test("the stick's table agrees with the kettle's own measure", () => {
    expect(figureOf(book, "kettle.eighth") / figureOf(book, "kettle.by_across")).toBeCloseTo(1, 3);
  });

  test("a table read there and back comes to the same", () => {
    const back = (formula: string): number => {
      expect(book.dispatch({ edit: "set-formula", cell: "fermenter.fill_to", formula }).ok).toBe(true);
      const figure = figureOf(book, "fermenter.fill_to");
      book.undo();
      return figure;
    };
    for (const dip of [8.5, 10.25, 16.5, 29.875, 40.5])
      expect(
        back(`interpolate(rim.volume, rim.dip, interpolate(rim.dip, rim.volume, ${dip} inch)) as inch`),
      ).toBeCloseTo(dip, 9);
  });

  test("a dip beyond the last mark is refused rather than guessed", () => {
    expect(book.dispatch({ edit: "set-formula", cell: "fermenter.dip", formula: "? 44 inch" }).ok).toBe(true);
    expect(book.cell("fermenter.holds")?.faults.map(({ code }) => code)).toEqual(["no-value"]);
    book.undo();
  });
});
