import { invariant } from "../base/invariant.ts";
import { ONE, type Rational, sameRational } from "../base/rational.ts";
import type { AmbiguousUnit } from "./ambiguous.ts";
import type { UnitBook } from "./book.ts";
import { makeCompound } from "./compound.ts";
import type { ShownUnit, UnitTerm } from "./unit.ts";

/** One factor of a unit phrase as it was read: `kg^-1`. */
export interface PhraseFactor {
  readonly spelling: string;
  readonly power: Rational;
}

/** What a unit phrase names, or which of its factors (by index) is at fault. */
export type ResolvedPhrase =
  | { readonly unit: ShownUnit }
  | { readonly unknown: number }
  | { readonly ambiguous: number; readonly word: string; readonly choices: AmbiguousUnit["choices"] }
  /** A scale in a compound whose differences have no unit: `kJ/SG`. */
  | { readonly noDifference: number; readonly symbol: string };

/**
 * Looks up a unit phrase. A scale alone with power 1 is a reading (`°C`, `K`); inside a compound its symbol means its
 * difference (`kJ/kg/K`). No factor at all is a plain number.
 */
export function resolvePhrase(factors: readonly PhraseFactor[], book: UnitBook): ResolvedPhrase {
  const written = factors.map(({ spelling, power: { n, d } }) => `${spelling}^${n}/${d}`).join(" ");
  const known = book.resolved.get(written);
  if (known !== undefined) return { unit: known };
  const resolved = lookUp(factors, book);
  if ("unit" in resolved) book.resolved.set(written, resolved.unit);
  return resolved;
}

function lookUp(factors: readonly PhraseFactor[], book: UnitBook): ResolvedPhrase {
  const terms: UnitTerm[] = [];
  for (const [index, { spelling, power }] of factors.entries()) {
    const found = book.find(spelling);
    if (!found) return { unknown: index };
    if (found.is === "ambiguous") return { ambiguous: index, word: spelling, choices: found.choices };
    if (found.is === "linear") {
      terms.push({ unit: found, power });
      continue;
    }
    if (factors.length === 1 && sameRational(power, ONE)) return { unit: found };
    if (!found.difference) return { noDifference: index, symbol: found.symbol };
    terms.push({ unit: found.difference, power });
  }
  return { unit: makeCompound(terms) };
}

const SUPERSCRIPTS: Readonly<Record<string, number>> = { "²": 2, "³": 3 };

/**
 * The unit that a simple phrase of the engine's own tables names: catalogued symbols joined by `/`, with `²` or `³`
 * (`Btu/h/ft²/°F`). Throws at a programmer who names none; texts that people type go through the parser.
 */
export function unitNamed(text: string, book: UnitBook): ShownUnit {
  const parts = book.find(text) ? [text] : text.split("/");
  const factors = parts.map((part, index): PhraseFactor => {
    const size = SUPERSCRIPTS[part.slice(-1)] ?? 1;
    return { spelling: size === 1 ? part : part.slice(0, -1), power: { n: index === 0 ? size : -size, d: 1 } };
  });
  const resolved = resolvePhrase(factors, book);
  invariant("unit" in resolved, `"${text}" is no unit`);
  return resolved.unit;
}
