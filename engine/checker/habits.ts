import type { Span } from "../base/span.ts";
import { type Fault, fault, mend } from "../diagnostics/diagnostic.ts";
import { spokenDates } from "../parser/spoken-dates.ts";
import { countriesBehind } from "../units/ambiguous.ts";
import type { UnitBook } from "../units/book.ts";
import { sameDimension } from "../units/dimension.ts";
import { inTheirPlace } from "./places.ts";

/*
 * What people type over several words, `5 gal US`, `20 in °C`, `65-68 °C`, `March 2, 2026`. It is looked for in faulty formulas
 * alone, and told in the place of what its words brought about.
 */

/** What is meant in a faulty formula by habits of writing; `stated` has neither note nor quoted texts. */
export const habitsMeant = (stated: string, faults: readonly Fault[], units: UnitBook): readonly Fault[] =>
  inTheirPlace(faults, [
    ...range(stated, faults, units),
    ...rangeWithin(stated),
    ...dates(stated),
    ...countries(stated),
    ...unitsBehindIn(stated, faults, units),
  ]);

const dates = (stated: string): readonly Fault[] =>
  spokenDates(stated).map(({ start, end, written }) => {
    const span = { start, end };
    const says = `A date is written with the year first, and in figures: ${written}.`;
    return fault("bad-number", span, { text: stated.slice(start, end), says }, [
      mend(`Write ${written}`, span, written),
    ]);
  });

/** `5 gal US` */
const countries = (stated: string): readonly Fault[] =>
  countriesBehind(stated).map(({ start, end, unit }) =>
    fault("syntax", { start, end }, { says: `The country stands before the unit: ${unit}.` }, [
      mend(`Write ${unit}`, { start, end }, unit),
    ]),
  );

const IN = /(?<![\d.])(\d[\d.]*) +in +$/;

/** `20 in °C`, where nothing is measured in inches; of lengths both are offered. */
function unitsBehindIn(stated: string, faults: readonly Fault[], units: UnitBook): readonly Fault[] {
  const inch = units.find("inch");
  return faults.flatMap(({ span }) => {
    const before = IN.exec(stated.slice(0, span.start));
    const symbol = stated.slice(span.start, span.end);
    const unit = units.find(symbol);
    if (before === null || unit === null || unit.is === "ambiguous") return [];
    const [, figure = ""] = before;
    const whole: Span = { start: before.index, end: span.end };
    const written = `${figure} ${symbol}`;
    const mends = [mend(`Write ${written}`, whole, written)];
    if (inch?.is === "linear" && unit.is === "linear" && sameDimension(inch.dimension, unit.dimension))
      mends.push(mend(`Write ${figure} inch as ${symbol}`, whole, `${figure} inch as ${symbol}`));
    const says = `A unit stands right behind its figure: ${mends.map(({ replace }) => replace[0]?.text).join(" or ")}.`;
    return [fault("syntax", whole, { says }, mends)];
  });
}

const RANGE = /^\s*\??\s*(-?\d[\d.]*)\s*([^\s\d][^\d]*?)?(?:[-–]| +to +)(\d[\d.]*) *(\D\S*(?: \D\S*)*)\s*$/u;

/** `65-68 °C` for a figure: one is to be read within it. What else may be meant by it stays. */
function range(stated: string, faults: readonly Fault[], units: UnitBook): readonly Fault[] {
  const [, low = "", lowUnit, high = "", unit = ""] = RANGE.exec(stated) ?? [];
  const found = unit === "" ? null : units.find(unit);
  if (found === null || found.is === "ambiguous" || (lowUnit ?? unit).trim() !== unit) return [];
  const span = { start: stated.search(/\S/), end: stated.trimEnd().length };
  const written = `? ${unit} within ${low} to ${high} ${unit}`;
  const says = `A range is no figure. A reading that is to lie in it is written ${written}.`;
  const others = faults.length === 1 ? (faults[0]?.mends ?? []).filter(({ label }) => /^Write \S+$/.test(label)) : [];
  return [fault("syntax", span, { says }, [mend("Ask for a reading in this range", span, written), ...others])];
}

const WITHIN = /\bwithin\s+(-?\d[\d.]*)(\s*[-–]\s*)\d[\d.]*\s*\D*$/du;

/** `within 65-68 °C` */
function rangeWithin(stated: string): readonly Fault[] {
  const [start, end] = WITHIN.exec(stated)?.indices?.[2] ?? [];
  if (start === undefined || end === undefined) return [];
  const span = { start, end };
  return [
    fault("syntax", span, { says: "The two ends of a range stand either side of to." }, [
      mend("Write to", span, " to "),
    ]),
  ];
}
