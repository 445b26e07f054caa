import { describe, expect, test } from "vitest";
import { calculate } from "../support/formula.ts";

const shown = (formula: string): string => calculate(formula).shown;
const figure = (formula: string): number => Number(calculate(formula).value);

describe("duty strength", () => {
  // GOV.UK, Alcoholic products technical guide, section 11: rounded down to one decimal place.
  test.each([
    ["7.59", "7.5"],
    ["7.5", "7.5"],
    ["4.0", "4"],
    ["4.7", "4.7"],
    ["0.05", "0"],
  ])("of %s % vol is %s % vol", (strength, cut) => {
    expect(shown(`duty_strength(${strength} % vol)`)).toBe(`${cut} % vol`);
  });

  test("does not fall a tenth below by the last digit of the arithmetic", () => {
    for (let tenths = 1; tenths < 150; tenths += 1)
      expect(figure(`duty_strength(${tenths / 10} % vol)`)).toBeCloseTo(tenths / 1000, 12);
    expect(figure("duty_strength(pure_alcohol(1000 L, 4.7 % vol) / 1000 L * 1 % vol * 100)")).toBeCloseTo(0.047, 12);
  });
});

describe("duty", () => {
  test("is rounded as the authority asks, at the end only", () => {
    expect(shown('duty(47.2 L, 21.781 GBP/L, "none") by 0.0001 GBP')).toBe("1028.0632 GBP");
    expect(shown('duty(47.2 L, 21.781 GBP/L, "down")')).toBe("1028.06 GBP");
    expect(shown('duty(47.2 L, 21.781 GBP/L, "up")')).toBe("1028.07 GBP");
    expect(shown('duty(47.2 L, 21.781 GBP/L, "nearest", 1)')).toBe("1028.00 GBP");
    expect(shown('duty(10 L, 1.25 EUR/L, "up")')).toBe("12.50 EUR");
  });

  test("keeps the currency of the rate, whatever volume it is per", () => {
    expect(shown('duty(9.8 hL, 31.84 CAD/hL, "nearest")')).toBe("312.03 CAD");
    expect(shown('duty(10 US bbl, 3.50 USD/US bbl, "nearest")')).toBe("35.00 USD");
  });

  test("wants a rate per volume and its rounding told", () => {
    expect(shown('duty(47.2 L, 21.78 GBP, "down")')).toMatch(/money per L/);
    expect(shown("duty(47.2 L, 21.78 GBP/L)")).toMatch(/rounding/);
    expect(shown('duty(47.2 L, 21.78 GBP/L, "half")')).toMatch(/"down", "nearest", "up" or "none"/);
  });

  test("by degrees Plato leaves decimals of a degree out unless told", () => {
    expect(shown('duty_by_plato(10 hL, 12.9 °P, 2.00 EUR/hL/°P, "nearest")')).toBe("240.00 EUR");
    expect(shown('duty_by_plato(10 hL, 12 °P, 2.00 EUR/hL/°P, "nearest")')).toBe("240.00 EUR");
    expect(shown('duty_by_plato(10 hL, 12.9 °P, 2.00 EUR/hL/°P, "nearest", degrees: "as read")')).toBe("258.00 EUR");
  });

  test("carries the words that it is no ruling", () => {
    expect(calculate('duty(1 L, 1 GBP/L, "down")').cautionSentences.join(" ")).toMatch(
      /defer to local code and licensed practice/i,
    );
  });
});

describe("tax barrels", () => {
  // 27 CFR 25.156: a keg more than 2 % over its rating counts as what it holds.
  test("count a keg as rated up to 2 % over it", () => {
    const rated = figure("keg_tax_barrels(15.5 US gal, 15.5 US gal)");
    expect(figure("keg_tax_barrels(15.5 US gal, 15.81 US gal)")).toBe(rated);
    expect(figure("keg_tax_barrels(15.5 US gal, 15 US gal)")).toBe(rated);
    expect(figure("keg_tax_barrels(15.5 US gal, 15.82 US gal)")).toBeGreaterThan(rated);
  });

  test("round each case before they are added", () => {
    expect(figure("tax_barrels(24 * 12 US fl oz, 1000) / 1 US bbl")).toBeCloseTo(72.58, 9);
  });
});

describe("a label", () => {
  test("stands while the strength lies within its tolerance, ends included", () => {
    expect(shown("within_label(5.3 % vol, 5 % vol)")).toBe("yes");
    expect(shown("within_label(4.7 % vol, 5 % vol)")).toBe("yes");
    expect(shown("within_label(5.31 % vol, 5 % vol)")).toBe("no");
    expect(shown("within_label(5.4 % vol, 5 % vol, 0.5 % vol)")).toBe("yes");
  });
});

describe("losses and cost", () => {
  test("of volume and of extract agree where only wort was lost, and part where water boiled away", () => {
    expect(shown("volume_loss(1000 L, 950 L)")).toBe("5 %");
    expect(shown("extract_loss(1000 L, 12 °P, 950 L, 12 °P)")).toBe("5 %");
    expect(Math.abs(figure("extract_loss(1000 L, 1.045 SG, 900 L, 1.0501 SG)"))).toBeLessThan(0.005);
    expect(shown("volume_loss(0 L, 10 L)")).toMatch(/no volume before/);
    expect(shown("extract_loss(1000 L, 0 °P, 900 L, 10 °P)")).toMatch(/no extract before/);
  });

  test("are borne by the packages that are left", () => {
    expect(shown("unit_cost(1250 CAD, 2500) by 0.01 CAD")).toBe("0.50 CAD");
    expect(shown("unit_cost(1250 CAD, 0)")).toMatch(/no packages to bear the cost/);
    expect(shown("unit_cost(1250 kg, 10)")).toMatch(/money/);
  });
});
