import { rational } from "../base/rational.ts";
import type { UnitBook } from "../units/book.ts";
import { type PhraseFactor, resolvePhrase } from "../units/phrase.ts";
import type { ShownUnit } from "../units/unit.ts";

/** Looks a unit's spelling up; null when the workbook has no such unit or the word is ambiguous (`gal`). */
export type ReadUnit = (spelling: string) => ShownUnit | null;

/** Spellings remembered; a file of free text must not fill the memory with them. */
const MOST_KNOWN = 1000;

/** Reads unit phrases (`°F`, `mg/L`, `kg/m^3`) by the units of one workbook; each spelling is looked up once. */
export function unitReader(book: UnitBook): ReadUnit {
  const known = new Map<string, ShownUnit | null>();
  return (spelling) => {
    let unit = known.get(spelling);
    if (unit === undefined) {
      if (known.size >= MOST_KNOWN) known.clear();
      unit = resolve(spelling.trim(), book);
      known.set(spelling, unit);
    }
    return unit;
  };
}

function resolve(text: string, book: UnitBook): ShownUnit | null {
  const factors: PhraseFactor[] = [];
  let sign = 1;
  let at = 0;
  while (at < text.length) {
    const length = book.speller(text, at);
    if (length === 0) return null;
    const spelling = text.slice(at, at + length);
    at += length;
    const power = /^(?:\^(-?\d)|([²³]))/.exec(text.slice(at, at + 3));
    if (power) at += power[0].length;
    const exponent =
      power?.[1] === undefined ? (power?.[2] === "²" ? 2 : power?.[2] === "³" ? 3 : 1) : Number(power[1]);
    factors.push({ spelling, power: rational(sign * exponent) });
    if (at === text.length) break;
    const mark = text[at];
    if (mark !== "/" && mark !== "·" && mark !== "*") return null;
    if (mark === "/") sign = -1;
    at += 1;
    if (at === text.length) return null;
  }
  if (factors.length === 0) return null;
  const found = resolvePhrase(factors, book);
  return "unit" in found ? found.unit : null;
}
