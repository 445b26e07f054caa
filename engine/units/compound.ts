import {
  addRational,
  multiplyRational,
  negateRational,
  ONE,
  printRational,
  type Rational,
  sameRational,
  toNumber,
} from "../base/rational.ts";
import { DIMENSIONLESS, type Dimension, multiplyDimensions, powerOfDimension, sameDimension } from "./dimension.ts";
import type { CompoundUnit, LinearUnit, ShownUnit, Unit, UnitTerm } from "./unit.ts";

const SUPERSCRIPTS: Readonly<Record<string, string>> = { "2": "²", "3": "³" };

/** `²`, `^4` or `^(1/2)`; nothing for 1. */
function printPower(power: Rational): string {
  const text = printRational(power);
  if (text === "1") return "";
  return SUPERSCRIPTS[text] ?? (power.d === 1 ? `^${text}` : `^(${text})`);
}

/** Inside a compound a difference is written as its scale's symbol: `kJ/kg/°C`, `cells/mL/°P`. */
const printTerm = ({ unit, power }: UnitTerm, alone: boolean): string =>
  (alone ? unit.symbol : unit.symbol.replace(/^Δ/, "")) + printPower(power);

/** `L/kg`, `g/hL`, `cells/mL/°P`, `1/min`, `m²`; empty for a plain number. Read back, it gives the same unit. */
function printTerms(terms: readonly UnitTerm[]): string {
  const first = terms[0];
  if (!first) return "";
  if (terms.length === 1 && sameRational(first.power, ONE)) return printTerm(first, true);
  const over = terms.filter(({ power }) => power.n > 0).map((term) => printTerm(term, false));
  const under = terms
    .filter(({ power }) => power.n < 0)
    .map(({ unit, power }) => `/${printTerm({ unit, power: negateRational(power) }, false)}`);
  return (over.join("·") || "1") + under.join("");
}

/** The coherent size of one of these: numerator and denominator apart, so that `mg/L` is exactly 0.001. */
function factorOf(terms: readonly UnitTerm[]): number {
  let over = 1;
  let under = 1;
  for (const { unit, power } of terms) {
    if (power.n > 0) over *= unit.factor ** toNumber(power);
    else under *= unit.factor ** -toNumber(power);
  }
  return over / under;
}

/** A product of powers of linear units, kept in the order given. */
export function makeCompound(terms: readonly UnitTerm[]): CompoundUnit {
  const kept = terms.filter(({ power }) => power.n !== 0);
  const dimension = kept.reduce<Dimension>(
    (product, { unit, power }) => multiplyDimensions(product, powerOfDimension(unit.dimension, power)),
    DIMENSIONLESS,
  );
  return { is: "compound", terms: kept, dimension, factor: factorOf(kept), text: printTerms(kept) };
}

/** No unit at all: a plain number. */
export const PLAIN: CompoundUnit = makeCompound([]);

/** One linear unit to the power 1. */
export const compoundOf = (unit: LinearUnit): CompoundUnit => makeCompound([{ unit, power: ONE }]);

/** A unit as figures are shown in it: a linear one as a compound of itself. */
export const shownUnitOf = (unit: Unit): ShownUnit => (unit.is === "linear" ? compoundOf(unit) : unit);

/** How a unit is written: what resolves to the same unit when it is read. Empty for a plain number. */
export const printUnit = (unit: ShownUnit): string => (unit.is === "scale" ? unit.symbol : unit.text);

/**
 * The unit in which a product is shown: like units cancel, a different unit of the same dimension joins the first of its
 * kind (sack·kg⁻¹ cancels), percent is dropped, and what is dimensionless altogether is a plain number. It says only how the
 * result is shown; coherent values multiply as they are.
 */
function combine(terms: readonly UnitTerm[]): CompoundUnit {
  const joined: UnitTerm[] = [];
  for (const term of terms) {
    if (sameDimension(term.unit.dimension, DIMENSIONLESS)) continue;
    const at = joined.findIndex(({ unit }) => sameDimension(unit.dimension, term.unit.dimension));
    const like = joined[at];
    if (like) joined[at] = { unit: like.unit, power: addRational(like.power, term.power) };
    else joined.push(term);
  }
  const made = makeCompound(joined);
  return made.dimension.powers.length === 0 ? PLAIN : made;
}

const raised = (unit: CompoundUnit, exponent: Rational): UnitTerm[] =>
  unit.terms.map((term) => ({ unit: term.unit, power: multiplyRational(term.power, exponent) }));

/** The unit a product is shown in. */
export const multiplyUnits = (a: CompoundUnit, b: CompoundUnit): CompoundUnit => combine([...a.terms, ...b.terms]);

/** The unit a quotient is shown in. */
export const divideUnits = (a: CompoundUnit, b: CompoundUnit): CompoundUnit =>
  combine([...a.terms, ...raised(b, { n: -1, d: 1 })]);

/** The unit a power is shown in. */
export const powerUnit = (a: CompoundUnit, exponent: Rational): CompoundUnit => combine(raised(a, exponent));

/** Without gravity: a mass times Δ°P is a mass of extract, shown in the mass's unit. */
export const withoutExtract = (unit: CompoundUnit): CompoundUnit =>
  combine(unit.terms.filter((term) => !term.unit.dimension.powers.some(([base]) => base === "extract")));
