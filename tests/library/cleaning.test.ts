import { describe, expect, test } from "vitest";
import { calculate } from "../support/formula.ts";

const shown = (formula: string): string => calculate(formula).shown;
const figure = (formula: string): number => Number(calculate(formula).value);

describe("a cleaning solution", () => {
  test("of 2 % by mass takes as much caustic of 50 % as a balance by hand says", () => {
    // 200 L of 1.02 kg/L hold 4.08 kg of caustic soda: 8.16 kg of the 50 % concentrate, 5.333 L.
    expect(figure('concentrate_for(200 L, 2 %, "w/w", 50 %, 1.53 kg/L, 1.02 kg/L)')).toBeCloseTo(8.16 / 1530, 9);
    expect(figure('concentrate_for(200 L, 2 %, "w/v", 50 %, 1.53 kg/L)')).toBeCloseTo(8 / 1530, 9);
    expect(shown('concentrate_for(200 L, 2 %, "V/V")')).toBe("4 L");
  });

  test("by volume is a third or more off by mass with a heavy concentrate", () => {
    const byMass = figure('concentrate_for(200 L, 2 %, "w/w", 100 %, 1.53 kg/L)');
    expect(figure('concentrate_for(200 L, 2 %, "v/v", 100 %, 1.53 kg/L)') / byMass).toBeCloseTo(1.53, 9);
  });

  test("cannot be stronger than its concentrate, and wants its basis told", () => {
    expect(shown('concentrate_for(200 L, 60 %, "w/w", 50 %, 1.53 kg/L)')).toMatch(/stronger than the concentrate/);
    expect(shown("concentrate_for(200 L, 2 %)")).toMatch(/basis/);
    expect(shown('concentrate_for(200 L, 2 %, "percent")')).toMatch(/"w\/w", "w\/v" or "v\/v"/);
  });

  test("that was topped up has the strength wanted", () => {
    const litres = 1000 * figure("concentrate_to_top_up(300 L, 15 g/L, 20 g/L, 765 g/L)");
    expect((300 * 15 + litres * 765) / (300 + litres)).toBeCloseTo(20, 9);
    expect(shown("concentrate_to_top_up(300 L, 25 g/L, 20 g/L, 765 g/L)")).toMatch(/stronger than wanted already/);
    expect(shown("concentrate_to_top_up(300 L, 15 g/L, 800 g/L, 765 g/L)")).toMatch(
      /not below that of the concentrate/,
    );
  });

  test("of a sanitiser holds the concentration wanted", () => {
    const litres = 1000 * figure("sanitiser_for(100 L, 150 mg/L, 5 %, 1.1 kg/L)");
    expect((litres * 1.1 * 0.05 * 1e6) / 100).toBeCloseTo(150, 6);
  });
});

describe("titration", () => {
  // Ten mL of 1 N acid neutralise 0.400 g of caustic soda, 0.561 g of caustic potash; alkali 0.630 g of nitric, 0.980 g of phosphoric acid.
  test.each([
    ["caustic soda", 40.0],
    ["caustic potash", 56.1],
    ["nitric acid", 63.0],
    ["phosphoric acid", 98.0],
  ])("of %s finds %d g in an equivalent", (cleaner, grams) => {
    expect(figure(`detergent_strength(10 mL, 1 Eq/L, 10 mL, "${cleaner}")`)).toBeCloseTo(grams, 0);
  });

  test("takes the normality in equivalents, not in moles", () => {
    expect(shown("detergent_strength(10 mL, 0.1 mol/L, 10 mL)")).toMatch(/Eq\/L/);
  });
});

describe("rinses", () => {
  test("dilute what is held up each time, and as many as are needed bring it below the target", () => {
    expect(figure("rinse_left(5 L, 45 L, 2)")).toBeCloseTo(0.01, 12);
    expect(shown("rinses_needed(5 L, 45 L, 10000 mg/L, 100 mg/L)")).toBe("2");
    expect(shown("rinses_needed(5 L, 45 L, 10000 mg/L, 99 mg/L)")).toBe("3");
    expect(shown("rinses_needed(5 L, 45 L, 10 mg/L, 100 mg/L)")).toBe("0");
    expect(shown("rinses_needed(0 L, 45 L, 10000 mg/L, 100 mg/L)")).toBe("0");
    expect(shown("rinses_needed(5 L, 0 L, 10000 mg/L, 100 mg/L)")).toMatch(/rinse is 0/);
    expect(shown("rinse_left(0 L, 0 L, 2)")).toMatch(/no liquid at all/);
  });
});

describe("flows", () => {
  test("wet the wall and fill the pipe", () => {
    expect(figure("spray_flow(1 m)") * 60_000).toBeCloseTo(30 * Math.PI, 9);
    // A pipe of 50 mm at 1.5 m/s carries 10.6 m³/h.
    expect(figure("pipe_flow(50 mm)") * 3600).toBeCloseTo(10.6, 1);
    expect(calculate("pipe_flow(50 mm, 0.8 m/s)").cautionSentences.join(" ")).toMatch(/velocity is published for 1.5/);
  });
});

test("every cleaning function warns of burns, and of acid with hypochlorite", () => {
  const says = calculate('concentrate_for(200 L, 2 %, "v/v")').cautionSentences.join(" ");
  expect(says).toMatch(/concentrate into water/);
  expect(says).toMatch(/hypochlorite/);
});
