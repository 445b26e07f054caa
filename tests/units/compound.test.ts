import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rational } from "../../engine/base/rational.ts";
import { readPhrase } from "../../engine/parser/phrase.ts";
import { BASE_BOOK, ownUnit } from "../../engine/units/book.ts";
import { LINEAR_UNITS } from "../../engine/units/catalogue.ts";
import {
  compoundOf,
  divideUnits,
  makeCompound,
  multiplyUnits,
  powerUnit,
  printUnit,
  withoutExtract,
} from "../../engine/units/compound.ts";
import { type PhraseFactor, resolvePhrase } from "../../engine/units/phrase.ts";
import { MASS } from "../../engine/units/rows/row.ts";
import { compound, SEED, unit } from "./support.ts";

const one = (spelling: string): PhraseFactor => ({ spelling, power: rational(1) });
const per = (spelling: string): PhraseFactor => ({ spelling, power: rational(-1) });
const resolve = (...factors: PhraseFactor[]) => resolvePhrase(factors, BASE_BOOK);

describe("a unit phrase", () => {
  it("of one scale is a reading", () => {
    for (const symbol of ["°C", "K", "SG", "psia", "pH", "°L"])
      expect(resolve(one(symbol))).toEqual({ unit: BASE_BOOK.find(symbol) });
  });

  it("takes a scale in a compound as its difference", () => {
    expect(resolve(one("kJ"), per("kg"), per("K"))).toMatchObject({ unit: { factor: 1000, text: "kJ/kg/K" } });
    expect(resolve(one("cells"), per("mL"), per("°P"))).toMatchObject({ unit: { text: "cells/mL/°P" } });
    expect(resolve(per("°F"))).toMatchObject({ unit: { factor: expect.closeTo(9 / 5, 12), text: "1/°F" } });
  });

  it("refuses a scale without differences in a compound", () => {
    expect(resolve(one("kJ"), per("SG"))).toEqual({ noDifference: 1, symbol: "SG" });
  });

  it("says which factor is unknown or ambiguous", () => {
    expect(resolve(one("kg"), per("Ltr"))).toEqual({ unknown: 1 });
    expect(resolve(one("lb"), per("gallon"))).toMatchObject({
      ambiguous: 1,
      word: "gallon",
      choices: [
        { symbol: "US gal", size: "3.785 L" },
        { symbol: "imp gal", size: "4.546 L" },
      ],
    });
  });

  it("of nothing is a plain number", () => {
    expect(resolve()).toMatchObject({ unit: { is: "compound", terms: [], factor: 1, text: "" } });
  });
});

describe("a compound", () => {
  it.each([
    "L/kg",
    "g/hL",
    "cells/mL/°P",
    "kJ/kg/K",
    "m²",
    "kg/m³",
    "W/m²/°C",
    "CAD/kg",
    "US fl oz/min",
    "Δ°P",
    "%",
    "ΔK",
    "mEq/L",
  ])("%s is written as it was read", (text) => {
    expect(printUnit(unit(text))).toBe(text);
  });

  it("writes products with a dot, a lone denominator under 1, and other powers with a caret", () => {
    const g = compound("g").terms[0];
    if (!g) throw new Error("no term");
    expect(makeCompound([{ ...g, power: rational(4) }]).text).toBe("g^4");
    expect(makeCompound([{ ...g, power: rational(1, 2) }]).text).toBe("g^(1/2)");
    expect(multiplyUnits(compound("kg"), compound("m²")).text).toBe("kg·m²");
    expect(resolve(per("min"))).toMatchObject({ unit: { text: "1/min" } });
  });

  it("has the factor that its terms have, to the last bit for mg/L", () => {
    expect([compound("mg/L").factor, compound("g/hL").factor, compound("kg/L").factor]).toEqual([1e-3, 1e-2, 1000]);
  });
});

describe("the unit of a result", () => {
  const sack = compoundOf(ownUnit("sack", MASS, 25));
  it.each([
    ["L ÷ kg", divideUnits(compound("L"), compound("kg")), "L/kg"],
    ["L/kg × kg", multiplyUnits(compound("L/kg"), compound("kg")), "L"],
    ["L/min × h", multiplyUnits(compound("L/min"), compound("h")), "L"],
    ["sack ÷ kg", divideUnits(sack, compound("kg")), ""],
    ["sack × L/kg", multiplyUnits(sack, compound("L/kg")), "L"],
    ["640 L ÷ 2 m³", divideUnits(compound("L"), compound("m³")), ""],
    ["kg × %", multiplyUnits(compound("kg"), compound("%")), "kg"],
    ["% × %", multiplyUnits(compound("%"), compound("%")), ""],
    ["g/hL × hL", multiplyUnits(compound("g/hL"), compound("hL")), "g"],
    ["1 ÷ min", divideUnits(makeCompound([]), compound("min")), "1/min"],
    ["m ^ 3", powerUnit(compound("m"), rational(3)), "m³"],
    ["m² ^ 1/2", powerUnit(compound("m²"), rational(1, 2)), "m"],
    ["kg × Δ°P, extract dropped", withoutExtract(multiplyUnits(compound("kg"), compound("Δ°P"))), "kg"],
    ["kJ/kg/K × kg × Δ°C", multiplyUnits(multiplyUnits(compound("kJ/kg/K"), compound("kg")), compound("Δ°C")), "kJ"],
    ["CAD/kg × lb", multiplyUnits(compound("CAD/kg"), compound("lb")), "CAD"],
  ])("%s", (_what, made, text) => {
    expect(made.text).toBe(text);
  });

  it("always has the dimension of the product", () => {
    const units = fc.array(fc.tuple(fc.constantFrom(...LINEAR_UNITS), fc.integer({ min: -3, max: 3 })), {
      maxLength: 4,
    });
    const made = units.map((terms) => makeCompound(terms.map(([of, power]) => ({ unit: of, power: rational(power) }))));
    fc.assert(
      fc.property(made, made, (a, b) => {
        expect(multiplyUnits(a, b).dimension.key).toBe(makeCompound([...a.terms, ...b.terms]).dimension.key);
        expect(divideUnits(a, a).text).toBe("");
      }),
      { seed: SEED },
    );
  });
});

describe("writing then reading", () => {
  it("gives the same unit back", () => {
    const term = fc.tuple(
      fc.constantFrom(...LINEAR_UNITS),
      fc.constantFrom(-4, -3, -2, -1, 1, 1, 1, 2, 3, 4).map((n) => rational(n, n % 2 === 0 && n > 3 ? 3 : 1)),
    );
    fc.assert(
      fc.property(fc.array(term, { minLength: 1, maxLength: 4 }), (terms) => {
        const made = makeCompound(terms.map(([of, power]) => ({ unit: of, power })));
        const again = resolvePhrase(readPhrase(made.text, 0, BASE_BOOK.speller, true)?.factors ?? [], BASE_BOOK);
        if (!("unit" in again) || again.unit.is !== "compound") throw new Error(`${made.text} does not read back`);
        expect(again.unit.text).toBe(made.text);
        expect(again.unit.dimension.key).toBe(made.dimension.key);
        expect(Math.abs(again.unit.factor / made.factor - 1)).toBeLessThan(1e-12);
      }),
      { seed: SEED, numRuns: 3000 },
    );
  });
});
