import { describe, expect, test } from "vitest";
import { joinFormula, quoted, readField, splitFormula } from "./formula-text.ts";

describe("a formula's text", () => {
  test.each([
    ["66 °C within 65 to 68 °C # early", { body: "66 °C", tail: "within 65 to 68 °C", note: "early" }],
    ['"#3 tank"', { body: '"#3 tank"', tail: "", note: null }],
    ['? "a by b" within "a by b", "c"', { body: '? "a by b"', tail: 'within "a by b", "c"', note: null }],
    ["a / b as L/kg by 0.1", { body: "a / b as L/kg", tail: "by 0.1", note: null }],
  ])("%s has its body, tail and note", (formula, parts) => {
    expect(splitFormula(formula)).toEqual(parts);
    expect(joinFormula(splitFormula(formula))).toBe(formula);
  });

  test.each([
    ["8.5 sack # eight full", { blank: false, figure: "8.5", unit: "sack" }],
    ["? °C within 65 to 68 °C", { blank: true, figure: "", unit: "°C" }],
    ["? 66.2 °C", { blank: true, figure: "66.2", unit: "°C" }],
    ["?", { blank: true, figure: "", unit: "" }],
    ["? text", { blank: true, figure: "", unit: "" }],
    ["? 2026-03-01T08:15", { blank: true, figure: "2026-03-01 08:15", unit: "" }],
    ["12 lb 4 oz", { blank: false, figure: "12 lb 4 oz", unit: "" }],
    ["3.2 L/kg", { blank: false, figure: "3.2", unit: "L/kg" }],
    ["-1.2 °P", { blank: false, figure: "-1.2", unit: "°P" }],
    ['"say ""no"""', { blank: false, figure: 'say "no"', unit: "" }],
    ["120 mg/L CaCO3", { blank: false, figure: "120", unit: "mg/L CaCO3" }],
    ["5 US gal", { blank: false, figure: "5", unit: "US gal" }],
  ])("%s is read as one field", (formula, field) => {
    expect(readField(formula)).toEqual(field);
  });

  test.each([
    "grain * 2",
    "640 L / grain",
    "mean(x)",
    "12 °C - 4 °C",
    "a as L/kg",
    "20 L + 5 L",
    "if a then b else c",
    "2^3",
  ])("%s is worked out, so no field takes it", (formula) => {
    expect(readField(formula)).toBeNull();
  });

  test("a label is quoted as the file wants it", () => {
    expect(quoted('12" pipe\nlong')).toBe('"12"" pipe\\nlong"');
  });
});
