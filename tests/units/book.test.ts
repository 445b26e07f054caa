import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { AMBIGUOUS_UNITS, OUNCE_OF_VOLUME } from "../../engine/units/ambiguous.ts";
import { BASE_BOOK, createUnitBook, ownUnit } from "../../engine/units/book.ts";
import { CATALOGUE } from "../../engine/units/catalogue.ts";
import { MASS } from "../../engine/units/rows/row.ts";
import { SEED } from "./support.ts";

const SPELLINGS = [
  ...CATALOGUE.flatMap(({ symbol, names }) => [symbol, ...names]),
  ...AMBIGUOUS_UNITS.flatMap(({ word, names }) => [word, ...names]),
];

const symbolOf = (spelling: string): string | null => {
  const found = BASE_BOOK.find(spelling);
  return found === null ? null : found.is === "ambiguous" ? `${found.word}?` : found.symbol;
};

describe("the catalogue", () => {
  it("has no spelling twice", () => {
    expect(SPELLINGS.filter((spelling, at) => SPELLINGS.indexOf(spelling) !== at)).toEqual([]);
  });

  it("names a source for every unit", () => {
    expect(CATALOGUE.filter(({ source }) => source.trim() === "")).toEqual([]);
  });

  it("has a positive finite factor for every linear unit", () => {
    for (const unit of CATALOGUE)
      if (unit.is === "linear") expect(unit.factor > 0 && unit.factor < 1e12, unit.symbol).toBe(true);
  });

  it.each(
    "L mL hL kg g mg t q lb oz gr stone mm cm m inch ft s min h day week Δ°C Δ°F K Pa kPa MPa mbar bar psi psia atm inHg mmHg inH2O J kJ MJ kWh kcal Btu W kW hp N mol mmol mEq % ‰ ppm ppb IBU °dH °fH EBC SRM °L °Bx °P SG GU °Oe cells Mcells vol PU °Bé °Lintner °WK pH CAD firkin kilderkin".split(
      " ",
    ),
  )("knows %s", (symbol) => {
    expect(symbolOf(symbol)).toBe(symbol);
  });

  it.each([
    ...["US gal", "US qt", "US pt", "US fl oz", "imp gal", "imp qt", "imp pt", "imp fl oz", "US bbl", "UK bbl"],
    ...["UK hogshead", "short ton", "long ton", "UK cwt", "US cwt", "mg/L CaCO3", "% vol", "% mass"],
  ])("knows %s", (symbol) => {
    expect(symbolOf(symbol)).toBe(symbol);
  });
});

describe("a typed variant", () => {
  it.each([
    ["degC", "°C"],
    ["ºC", "°C"],
    ["˚C", "°C"],
    ["℃", "°C"],
    ["℉", "°F"],
    ["degF", "°F"],
    ["degP", "°P"],
    ["delta degC", "Δ°C"],
    ["∆°C", "Δ°C"],
    ["∆ºP", "Δ°P"],
    ["delta degF", "Δ°F"],
    ["delta degP", "Δ°P"],
    ["l", "L"],
    ["ltr", "L"],
    ["litre", "L"],
    ["litres", "L"],
    ["liters", "L"],
    ["μg", "µg"],
    ["µg", "µg"],
    ["\u212a", "K"],
    ["US  fl\u00a0oz", "US fl oz"],
    ["US\u202fgal", "US gal"],
    ["%\u2009vol", "% vol"],
    ["pounds", "lb"],
    ["hours", "h"],
    ["gallons", "gal?"],
    ["barrels", "bbl?"],
    ["pints", "pt?"],
    ["tons", "ton?"],
    ["KG", null],
    ["", null],
    ["grain", null],
  ])("%j is %s", (typed, symbol) => {
    expect(symbolOf(typed)).toBe(symbol);
  });

  it("in another case is answered with the right spelling", () => {
    expect([BASE_BOOK.near("KG"), BASE_BOOK.near("Psi"), BASE_BOOK.near("kWH")]).toEqual(["kg", "psi", "kWh"]);
  });
});

describe("an ambiguous word", () => {
  it("tells its choices, all of them catalogued, with their sizes", () => {
    for (const { word, choices } of [...AMBIGUOUS_UNITS, OUNCE_OF_VOLUME]) {
      for (const { symbol, size } of choices) {
        const found = BASE_BOOK.find(symbol);
        if (found?.is !== "linear") throw new Error(`${word}: ${symbol} is no unit`);
        const [figure = "", told = ""] = size.split(" ");
        const toldUnit = BASE_BOOK.find(told);
        if (toldUnit?.is !== "linear") throw new Error(`${word}: ${told} is no unit`);
        const exact = found.factor / toldUnit.factor;
        expect(Math.abs(Number(figure) / exact - 1), `${symbol} ${size}`).toBeLessThan(0.0005);
      }
    }
  });

  it("is settled by the workbook, long forms too", () => {
    const book = createUnitBook({ own: [], means: new Map([["gal", "US gal"]]) });
    for (const spelling of ["gal", "gallon", "gallons"]) expect(book.find(spelling)).toBe(BASE_BOOK.find("US gal"));
    expect(book.find("bbl")).toBe(BASE_BOOK.find("bbl"));
  });

  it("is not settled by something that is none of its choices", () => {
    const book = createUnitBook({
      own: [],
      means: new Map([
        ["gal", "kg"],
        ["kg", "lb"],
        ["pt", "nothing"],
      ]),
    });
    for (const spelling of ["gal", "kg", "pt"]) expect(book.find(spelling)).toBe(BASE_BOOK.find(spelling));
  });
});

describe("a workbook's own unit", () => {
  const sack = ownUnit("sack", MASS, 25);
  const book = createUnitBook({ own: [sack, ownUnit("tun", MASS, 1000)], means: new Map() });

  it("is found with its plural and listed first", () => {
    expect([book.find("sack"), book.find("sacks")]).toEqual([sack, sack]);
    expect(book.all()[0]).toBe(sack);
    expect(BASE_BOOK.find("sack")).toBeNull();
  });

  it("is spelt beside the catalogue", () => {
    expect([
      book.speller("8.5 sack", 4),
      book.speller("8.5 sacks", 4),
      book.speller("8.5 sackful", 4),
      book.speller("3 t", 2),
    ]).toEqual([4, 5, 0, 1]);
  });
});

describe("the speller", () => {
  it.each([
    ["US fl oz", 8],
    ["US fl ozone", 0],
    ["mg/L CaCO3", 10],
    ["mg/L", 2],
    ["mg/L Ca", 2],
    ["kg/m^3", 2],
    ["m²", 1],
    ["m2", 0],
    ["Lauter", 0],
    ["L", 1],
    ["% vol", 5],
    ["% volume", 1],
    ["%", 1],
    ["short ton", 9],
    ["short", 0],
    ["℃", 1],
    ["°C.", 2],
    ["µg", 2],
    ["h_1", 0],
    ["hé", 0],
    ["", 0],
  ])("reads the longest unit of %j: %d", (text, length) => {
    expect(BASE_BOOK.speller(text, 0)).toBe(length);
  });

  it("reads every spelling whole, wherever it stands, and never into the next word", () => {
    fc.assert(
      fc.property(fc.constantFrom(...SPELLINGS), fc.string({ maxLength: 4 }), (spelling, before) => {
        expect(BASE_BOOK.speller(`${before}${spelling}`, before.length)).toBe(spelling.length);
        expect(BASE_BOOK.speller(`${spelling}/kg`, 0)).toBe(spelling === "mg" ? 2 : spelling.length);
        expect(BASE_BOOK.speller(`${spelling}zz`, 0)).toBeLessThanOrEqual(spelling.length);
        if (/[\p{L}\p{Nd}]$/u.test(spelling))
          expect(BASE_BOOK.speller(`${spelling}zz`, 0)).toBeLessThan(spelling.length);
      }),
      { seed: SEED, numRuns: 3000 },
    );
  });

  it("agrees with trying every catalogued spelling", () => {
    const texts = fc
      .array(fc.constantFrom(...SPELLINGS, " ", "x", "2", "/", "°", "US"), { maxLength: 5 })
      .map((parts) => parts.join(""));
    fc.assert(
      fc.property(texts, (text) => {
        const fits = (spelling: string): boolean =>
          text.startsWith(spelling) &&
          !(/[\p{L}\p{M}\p{Nd}_]$/u.test(spelling) && /^[\p{L}\p{M}\p{Nd}_]/u.test(text.slice(spelling.length)));
        const longest = Math.max(0, ...SPELLINGS.filter(fits).map((spelling) => spelling.length));
        const canonical = !/ {2}/.test(text);
        if (canonical) expect(BASE_BOOK.speller(text, 0)).toBe(longest);
      }),
      { seed: SEED, numRuns: 3000 },
    );
  });
});
