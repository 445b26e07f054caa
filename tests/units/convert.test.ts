import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CATALOGUE } from "../../engine/units/catalogue.ts";
import { compoundOf } from "../../engine/units/compound.ts";
import {
  cleanFigure,
  columnFromCoherent,
  columnToCoherent,
  fromCoherent,
  toCoherent,
} from "../../engine/units/convert.ts";
import { formatFigure } from "../../engine/units/format.ts";
import type { ShownUnit } from "../../engine/units/unit.ts";
import { SEED, unit } from "./support.ts";

const SHOWN: readonly ShownUnit[] = CATALOGUE.map((of) => (of.is === "linear" ? compoundOf(of) : of));

/** There and back, relative to the figure. */
const TOLERANCE = 1e-9;

/** Figures that a brewer may type on a scale; degrees Baumé end at their modulus. */
const figureOf = (of: ShownUnit): fc.Arbitrary<number> =>
  of.is === "scale" && of.symbol === "°Bé"
    ? fc.double({ min: -100, max: 100, noNaN: true })
    : fc.double({ min: -1e6, max: 1e6, noNaN: true });

describe("a conversion", () => {
  it.each(SHOWN.map((of) => [of.is === "scale" ? of.symbol : of.text, of] as const))(
    "of %s goes there and back",
    (_text, of) => {
      fc.assert(
        fc.property(figureOf(of), (figure) => {
          const back = fromCoherent(toCoherent(figure, of), of);
          expect(Math.abs(back - figure)).toBeLessThanOrEqual(TOLERANCE * Math.max(1, Math.abs(figure)));
        }),
        { seed: SEED, numRuns: 50 },
      );
    },
  );

  it.each([
    [12.1, "°P"],
    [66.5, "°C"],
    [61, "°F"],
    [1.0415, "SG"],
    [0.1, "mg/L"],
    [212.5, "kg"],
    [8.3, "US gal"],
    [72, "%"],
  ])("of a literal %d %s shows as it was typed", (figure, text) => {
    const of = unit(text);
    const value = toCoherent(figure, of);
    expect(formatFigure(value, of, null)).toBe(String(figure));
    expect(cleanFigure(fromCoherent(value, of))).toBe(figure);
  });

  it("of a column is that of its entries, missing ones included", () => {
    const figures = Float64Array.from([0, 1, -40, 12.1, Number.NaN, 1.0415]);
    for (const of of [unit("°F"), unit("SG"), unit("US gal"), unit("mg/L"), unit("psia"), unit("°L")]) {
      const values = columnToCoherent(figures, of);
      expect([...values]).toEqual([...figures].map((figure) => toCoherent(figure, of)));
      expect([...columnFromCoherent(values, of)]).toEqual([...values].map((value) => fromCoherent(value, of)));
    }
  });
});
