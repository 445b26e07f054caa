import { ONE, type Rational, rational, toRational } from "../base/rational.ts";
import { isDigit, SUPERSCRIPT_MINUS, skipBlanks, skipDigits, skipUnitWord, superscriptDigit } from "./characters.ts";
import { CONVERTING, signWordLength, standsBeforeUnit } from "./slips.ts";
import { RESERVED_WORDS } from "./tokens.ts";
import type { UnitPhrase, UnitSpeller } from "./tree.ts";

/** Powers of units above this are slips of the pen; the phrase ends before them. */
const LARGEST_POWER_DIGITS = 2;

/** So are roots of a higher degree than this. */
const LARGEST_ROOT = 12;

type Factor = UnitPhrase["factors"][number];

const negated = (power: Rational): Rational => ({ n: -power.n, d: power.d });

const isTimes = (code: number): boolean =>
  code === 42 || code === 0xb7 || code === 0xd7 || code === 0x22c5 || code === 0x2219;
const isDivide = (code: number): boolean => code === 47 || code === 0xf7 || code === 0x2215;

/** `^2`, `^-1`, `^0.5`, `^(1/2)`, `²`, `⁻¹` from `at` on. Null when there is no power that a unit may have. */
function readPower(text: string, at: number): { readonly power: Rational; readonly end: number } | null {
  if (text.charCodeAt(at) === 94) {
    const inside = text.charCodeAt(at + 1) === 40;
    let from = at + (inside ? 2 : 1);
    const code = text.charCodeAt(from);
    const minus = code === 45 || code === 0x2212;
    if (minus) from += 1;
    let end = skipDigits(text, from);
    if (end === from || end - from > LARGEST_POWER_DIGITS) return null;
    let power: Rational | null = rational(Number(text.slice(from, end)));
    if (inside && text.charCodeAt(end) === 47) {
      const below = end + 1;
      end = skipDigits(text, below);
      const d = Number(text.slice(below, end));
      if (end - below > LARGEST_POWER_DIGITS || !(d > 0 && d <= LARGEST_ROOT)) return null;
      power = rational(power.n, d);
    } else if (!inside && text.charCodeAt(end) === 46 && isDigit(text.charCodeAt(end + 1))) {
      end = skipDigits(text, end + 1);
      power = toRational(Number(text.slice(from, end)));
    }
    if (inside) {
      if (text.charCodeAt(end) !== 41) return null;
      end += 1;
    }
    return power === null || power.n === 0 ? null : { power: minus ? negated(power) : power, end };
  }
  const minus = text.charCodeAt(at) === SUPERSCRIPT_MINUS;
  let end = minus ? at + 1 : at;
  let value = 0;
  let digits = 0;
  for (let digit = superscriptDigit(text, end); digit >= 0; digit = superscriptDigit(text, end)) {
    value = value * 10 + digit;
    digits += 1;
    end += 1;
  }
  return digits === 0 || digits > LARGEST_POWER_DIGITS || value === 0
    ? null
    : { power: rational(minus ? -value : value), end };
}

/**
 * Past an unknown unit word and further unknown words behind it (`US galon` is one slip, not two); `at` when the word there
 * must be something else: a keyword, a name with a part or a call, an argument's name.
 */
function skipUnknown(text: string, at: number, speller: UnitSpeller): number {
  let end = at;
  for (let from = at; ; ) {
    const to = skipUnitWord(text, from);
    if (to === from) return end;
    const word = text.slice(from, to);
    // `2 x 25 kg`: the word is a sign, and is told as one.
    if (signWordLength(word) > 0 || CONVERTING.has(word.toLowerCase())) return end;
    const after = text.charCodeAt(to);
    if (after === 40 || after === 46 || text.charCodeAt(skipBlanks(text, to)) === 58) return end;
    if (RESERVED_WORDS.has(word.toLowerCase())) return end;
    if (end > at && speller(text, from) > 0) return end;
    end = to;
    from = skipBlanks(text, to);
    if (from === to) return end;
    // `us gal`, `sq ft`: one unit, and one slip.
    const known = standsBeforeUnit(word) ? speller(text, from) : 0;
    if (known > 0) return from + known;
  }
}

/** Whether the unit spelling at `at` is really a keyword: `5 to`, `3 where`. */
function isKeyword(text: string, at: number): boolean {
  const code = text.charCodeAt(at) | 32;
  // No keyword starts with another letter than these: a i t b w e o n m y.
  if (!(code >= 97 && code <= 121)) return false;
  const end = skipUnitWord(text, at);
  return end - at <= 7 && RESERVED_WORDS.has(text.slice(at, end).toLowerCase());
}

/**
 * The unit phrase that starts at `at`, or null. Inside it the longest spelling that `speller` knows wins.
 * `asked`: a unit must stand here (after `as`, `?` or a column's colon), so an unknown word after an operator is an unknown
 * unit. Otherwise (after a number) the phrase ends before an operator that no known spelling follows: in `640 L/grain`,
 * where `grain` is no unit, the litres are divided by the cell. A first word that is unknown is an unknown unit in both.
 */
export function readPhrase(text: string, at: number, speller: UnitSpeller, asked: boolean): UnitPhrase | null {
  let from = at;
  let over = false;
  const first = text.charCodeAt(at);
  if (first === 49 && isDivide(text.charCodeAt(at + 1))) {
    from = at + 2;
    over = true;
  } else if (isDivide(first)) {
    from = at + 1;
    over = true;
  }
  const only = readFactor(text, from, speller, asked || !over, asked || !over, over);
  if (only === null) return null;
  const factors: Factor[] = [only];
  let end = only.span.end;
  for (;;) {
    const code = text.charCodeAt(end);
    const divide = isDivide(code);
    if (!divide && !isTimes(code)) break;
    const next = readFactor(text, end + 1, speller, asked, false, divide);
    if (next === null) break;
    factors.push(next);
    end = next.span.end;
  }
  return { factors, span: { start: at, end } };
}

function readFactor(
  text: string,
  at: number,
  speller: UnitSpeller,
  unknownToo: boolean,
  callToo: boolean,
  over: boolean,
): Factor | null {
  let length = isKeyword(text, at) ? 0 : speller(text, at);
  // A function's name is no unit: `10/min(a, b)`.
  if (length > 0 && !callToo && text.charCodeAt(at + length) === 40) length = 0;
  const end = length > 0 ? at + length : unknownToo ? skipUnknown(text, at, speller) : at;
  if (end === at) return null;
  const raised = readPower(text, end);
  const power = raised === null ? ONE : raised.power;
  return {
    spelling: text.slice(at, end),
    power: over ? negated(power) : power,
    span: { start: at, end: raised === null ? end : raised.end },
  };
}
