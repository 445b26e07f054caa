import { describe, expect, it } from "vitest";
import { BASE_BOOK, createUnitBook } from "../../engine/units/book.ts";
import { toCoherent } from "../../engine/units/convert.ts";
import { formatFigure } from "../../engine/units/format.ts";
import { formatInstant } from "../../engine/units/instant.ts";
import { lensUnit } from "../../engine/units/lens.ts";
import { addSpelling, emptySpellings, spellingEnd, spelt } from "../../engine/units/speller.ts";
import { createZone } from "../../engine/units/zone.ts";
import { compound, unit } from "./support.ts";

describe("a figure at the edge of how it is written", () => {
  it.each([
    [9_999_999, "9999999"],
    [1e7, "1e7"],
    [-1e7, "-1e7"],
    [1e-6, "0.000001"],
    [9.99e-7, "9.99e-7"],
    [1.2344e-7, "1.23e-7"],
    [1.2346e-7, "1.23e-7"],
    [1.2356e-7, "1.24e-7"],
    [Number.POSITIVE_INFINITY, "∞"],
    [Number.NEGATIVE_INFINITY, "-∞"],
    [Number.NaN, ""],
  ])("%d without a step is %s", (figure, wanted) => {
    expect(formatFigure(figure, null, null)).toBe(wanted);
  });

  it.each([
    [999_999_999_999_999, 1, 0, "999999999999999"],
    [1e15, 1, 0, "1e15"],
    [1e15, 999, 0, "999999999999999"],
    [9_999_000, 1000, 0, "9999000"],
    [1e7, 1000, 0, "1e7"],
    [1e7, 999, 0, "9999990"],
    // So many steps that their number is past float64: written as if there were none.
    [1e300, 1e-10, 10, "1e300"],
    [2.5, 0, 0, "2.5"],
  ])("%d by %d is written %s", (figure, step, decimals, wanted) => {
    expect(formatFigure(figure, null, { figure: step, decimals })).toBe(wanted);
  });

  it("has two decimals in a unit that is put together, whatever its first part has alone", () => {
    expect(formatFigure(toCoherent(123.456, unit("mL/kg")), unit("mL/kg"), null)).toBe("123.46");
    expect(formatFigure(toCoherent(123.456, unit("mL")), unit("mL"), null)).toBe("123.5");
  });

  it("of money keeps the zeros of the minor unit, and none beyond it", () => {
    const euro = unit("EUR");
    expect(formatFigure(2.4, euro, null)).toBe("2.40");
    expect(formatFigure(0, euro, null)).toBe("0.00");
    expect(formatFigure(0.004, euro, null)).toBe("0.004");
  });
});

describe("an instant at the edge of the calendar", () => {
  const seconds = (text: string): number => Date.parse(text) / 1000;

  // ISO 8601's expanded years, as the platform's own Date prints them.
  it.each(["0000-01-01", "-000001-12-31", "-000753-04-21", "9999-12-31", "+010000-01-01", "+012345-06-07"])(
    "%s is written as ISO 8601 wants it",
    (date) => {
      const at = seconds(`${date}T08:15:00.000Z`);
      expect(formatInstant(at, null)).toBe(new Date(at * 1000).toISOString().replace(/:00\.000Z$/, ""));
      expect(formatInstant(at, null, true)).toBe(date);
    },
  );

  it("is written up to the last day that has a text, and is empty past it", () => {
    const last = 999_999 * 365 * 86_400;
    expect(formatInstant(last, null)).not.toBe("");
    expect([formatInstant(last + 1, null), formatInstant(-last - 1, null), formatInstant(Number.NaN, null)]).toEqual([
      "",
      "",
      "",
    ]);
  });

  it.each([
    ["America/St_Johns", "2026-01-15T08:30-03:30"],
    ["America/New_York", "2026-01-15T07:00-05:00"],
    ["Asia/Kathmandu", "2026-01-15T17:45+05:45"],
    ["UTC", "2026-01-15T12:00Z"],
  ])("in %s has its offset: %s", (zone, wanted) => {
    expect(formatInstant(seconds("2026-01-15T12:00:00Z"), createZone(zone))).toBe(wanted);
  });

  it("before our era, and past the platform's calendar, still has a wall clock", () => {
    const berlin = createZone("Europe/Berlin");
    // Local mean time, 53 min 28 s ahead, until 1893: IANA time zone database, Europe/Berlin.
    for (const date of ["-000043-03-15", "-000001-01-01", "0000-02-29", "1800-01-01"])
      expect(berlin.toWall(seconds(`${date}T00:00:00Z`)) - seconds(`${date}T00:00:00Z`)).toBe(3208);
    for (const end of [8.64e12, -8.64e12, 1e13]) expect(berlin.toWall(end)).toBe(end);
  });
});

describe("a spelling", () => {
  const root = emptySpellings<string>();

  it("is taken once", () => {
    expect([addSpelling(root, "US gal", "one"), addSpelling(root, "US gal", "other")]).toEqual([true, false]);
    expect(spelt(root, "US gal")).toBe("one");
  });

  it("may have several blanks between its words, in any kind", () => {
    expect(["US gal", "US   gal", "US\u00a0 gal"].map((text) => spellingEnd(root, text, 0))).toEqual([6, 8, 7]);
    expect(spelt(root, "US   gal")).toBe("one");
  });

  it("ends nowhere within a word", () => {
    addSpelling(root, "kg", "kilogram");
    expect(
      ["kg", "kg9", "kg0", "kga", "kgZ", "kg_", "kgé", "kg²", "kg/L"].map((text) => spellingEnd(root, text, 0)),
    ).toEqual([2, -1, -1, -1, -1, -1, -1, 2, 2]);
  });
});

describe("a book's own meaning of a word", () => {
  const book = (word: string, symbol: string) => createUnitBook({ own: [], means: new Map([[word, symbol]]) });

  it("settles a word of two countries, and nothing else", () => {
    expect(book("gal", "imp gal").find("gal")).toMatchObject({ symbol: "imp gal" });
    for (const [word, symbol] of [
      ["nothing", "L"],
      ["gal", "nothing"],
      ["gal", "kg"],
      ["kg", "lb"],
      ["gal", "gal"],
    ] as const)
      expect(book(word, symbol).find("gal")).toBe(BASE_BOOK.find("gal"));
  });
});

describe("a lens", () => {
  const of = (text: string) => lensUnit("US", compound(text).dimension, 1, unit(text));

  it("shows money for an amount in the lens's unit of the amount, and leaves other money as it is written", () => {
    const shown = of("EUR/kg")?.unit;
    expect(shown?.is === "compound" && shown.terms.map((term) => term.unit.symbol)).toEqual(["EUR", "lb"]);
    for (const text of ["EUR", "EUR²/kg", "EUR/K", "EUR/mol", "kg/EUR"]) expect([text, of(text)]).toEqual([text, null]);
  });

  it("takes what is as good as nothing for one of the written unit", () => {
    const { dimension } = compound("kg");
    const metric = (value: number) => {
      const shown = lensUnit("metric", dimension, value, unit("kg"))?.unit;
      return shown?.is === "compound" ? shown.terms[0]?.unit.symbol : null;
    };
    expect([metric(0), metric(1e-10), metric(1e-9), metric(5)]).toEqual(["kg", "kg", "mg", "kg"]);
  });
});

it("a hydrometer degree past the end of its scale has no finite gravity", () => {
  for (const figure of [145, 150, 1e6]) expect(Number.isFinite(toCoherent(figure, unit("°Bé")))).toBe(false);
});
