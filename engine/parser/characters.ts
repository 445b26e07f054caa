/** What single characters are to the language. All take a UTF-16 code; NaN (past the end) is nothing. */

export const isDigit = (code: number): boolean => code >= 48 && code <= 57;

export const isLineEnd = (code: number): boolean => code === 10 || code === 13;

/** Ogham, line and paragraph separators, narrow and mathematical spaces, ideographic, and a byte-order mark that was pasted along. */
const MORE_BLANKS: readonly number[] = [0x1680, 0x2028, 0x2029, 0x202f, 0x205f, 0x3000, 0xfeff];

/** Blanks inside a line: space, tab, and what a text processor puts for them (non-breaking, narrow, figure, ideographic …). */
export const isBlank = (code: number): boolean =>
  code === 32 ||
  code === 9 ||
  code === 0xb ||
  code === 0xc ||
  (code >= 0xa0 && (code === 0xa0 || (code >= 0x2000 && code <= 0x200b) || MORE_BLANKS.includes(code)));

const isAsciiLetter = (code: number): boolean => (code >= 97 && code <= 122) || (code >= 65 && code <= 90);

const LETTER = /^\p{L}$/u;
const NAME_PART = /^[\p{L}\p{M}\p{Nd}]$/u;
const character = (text: string, at: number): string => String.fromCodePoint(text.codePointAt(at) ?? 0);

/** How many UTF-16 units the character at `at` takes. */
export const widthAt = (text: string, at: number): number => ((text.codePointAt(at) ?? 0) > 0xffff ? 2 : 1);

export function startsName(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  return code < 128 ? isAsciiLetter(code) : code >= 128 && LETTER.test(character(text, at));
}

/** Past the letters, marks, digits and `_` from `at` on; `at` itself when there are none. */
export function skipNameParts(text: string, at: number): number {
  let to = at;
  for (;;) {
    const code = text.charCodeAt(to);
    if (isAsciiLetter(code) || isDigit(code) || code === 95) to += 1;
    else if (code >= 128 && NAME_PART.test(character(text, to))) to += widthAt(text, to);
    else return to;
  }
}

/** Past the name that starts at `at`; `at` itself when none does. */
export const skipName = (text: string, at: number): number => (startsName(text, at) ? skipNameParts(text, at) : at);

export function skipBlanks(text: string, at: number): number {
  let to = at;
  while (isBlank(text.charCodeAt(to))) to += 1;
  return to;
}

export function skipBlanksAndLineEnds(text: string, at: number): number {
  let to = at;
  while (isBlank(text.charCodeAt(to)) || isLineEnd(text.charCodeAt(to))) to += 1;
  return to;
}

/** Whether a figure starts at `at`: a digit, or a point with a digit behind it. */
export function startsNumber(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  return isDigit(code) || (code === 46 && isDigit(text.charCodeAt(at + 1)));
}

export function skipDigits(text: string, at: number): number {
  let to = at;
  while (isDigit(text.charCodeAt(to))) to += 1;
  return to;
}

/** To the next line end, or the text's end. */
export function skipLine(text: string, at: number): number {
  let to = at;
  while (to < text.length && !isLineEnd(text.charCodeAt(to))) to += 1;
  return to;
}

/** Signs that stand in unit words beside letters. `º ˚ ℃ ℉ ∆` are typed for `° °C °F Δ`. */
const UNIT_SIGNS = "°º˚℃℉Δ∆µμ%‰€£$¥";

/** Past the word that a person meant as a unit: letters, digits and unit signs; `at` itself when none starts there. */
export function skipUnitWord(text: string, at: number): number {
  let to = at;
  if (!startsName(text, at) && !(at < text.length && UNIT_SIGNS.includes(text.charAt(at)))) return at;
  for (;;) {
    const next = skipNameParts(text, to);
    if (next > to) to = next;
    else if (to < text.length && UNIT_SIGNS.includes(text.charAt(to))) to += 1;
    else return to;
  }
}

const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹";

/** Digit 0–9 of a superscript character, or -1. */
export const superscriptDigit = (text: string, at: number): number =>
  text.charCodeAt(at) > 127 && at < text.length ? SUPERSCRIPTS.indexOf(text.charAt(at)) : -1;

export const SUPERSCRIPT_MINUS = 0x207b;
