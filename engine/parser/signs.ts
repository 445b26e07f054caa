import type { Span } from "../base/span.ts";
import { skipBlanksAndLineEnds, skipName } from "./characters.ts";
import type { BinaryOperator, Prefix } from "./tokens.ts";

export interface Sign {
  readonly typed: string;
  readonly operator: BinaryOperator;
  /** What to write instead; null where the sign is right, or a typed variant that is understood and tidied. */
  readonly mend: string | null;
}

const sign = (typed: string, operator: BinaryOperator, mend: string | null = null): Sign => ({ typed, operator, mend });

/** What people type between two operands, longest first among those that start alike. `+` and `-` are apart: they may be signs of a number. */
const SIGNS: readonly Sign[] = [
  sign("**", "^", "^"),
  sign("@", "*", "*"),
  sign("*", "*"),
  sign("×", "*"),
  sign("·", "*"),
  sign("⋅", "*"),
  sign("∙", "*"),
  sign("//", "/", "/"),
  sign("/", "/"),
  sign("÷", "/"),
  sign("∕", "/"),
  sign("^", "^"),
  sign("<=", "<="),
  sign("<>", "is not", "is not"),
  sign("<", "<"),
  sign(">=", ">="),
  sign(">", ">"),
  sign("≤", "<="),
  sign("≥", ">="),
  sign("≠", "is not", "is not"),
  sign("===", "is", "is"),
  sign("==", "is", "is"),
  sign("=<", "<=", "<="),
  sign("=>", ">=", ">="),
  sign("=", "is", "is"),
  sign("!=", "is not", "is not"),
  sign("&&", "and", "and"),
  sign("&", "and", "and"),
  sign("||", "or", "or"),
  sign("|", "or", "or"),
];

const BY_FIRST: ReadonlyMap<string, readonly Sign[]> = new Map(
  SIGNS.map(({ typed }) => [typed.charAt(0), SIGNS.filter((each) => each.typed.charAt(0) === typed.charAt(0))]),
);

/** The sign at `at`, or undefined. */
export const signAt = (text: string, at: number): Sign | undefined =>
  BY_FIRST.get(text.charAt(at))?.find((each) => text.startsWith(each.typed, at));

/** Hyphen, minus sign, and the dashes that keyboards put for it. */
export const isMinus = (code: number): boolean => code === 45 || code === 0x2212 || code === 0x2013 || code === 0x2014;

/** A run of `-` and `not`; what does not belong in it is listed to be told. */
export interface PrefixRun extends Prefix {
  readonly lastMinus: number;
  /** Past the last sign, and past the blanks behind it. */
  readonly end: number;
  readonly next: number;
  readonly pluses: readonly Span[];
  /** Every `not` behind a `-`. */
  readonly negatedNots: readonly Span[];
}

/** The signs and `not`s from `start` on, blanks and line ends between them. */
export function readPrefixes(text: string, start: number): PrefixRun {
  const pluses: Span[] = [];
  const negatedNots: Span[] = [];
  let nots = 0;
  let minuses = 0;
  let lastMinus = start;
  let end = start;
  let next = start;
  for (;;) {
    const code = text.charCodeAt(next);
    if (isMinus(code)) {
      minuses += 1;
      lastMinus = next;
      end = next + 1;
    } else if (code === 43) {
      pluses.push({ start: next, end: next + 1 });
      end = next + 1;
    } else {
      const word = skipName(text, next);
      if (word - next !== 3 || text.slice(next, word) !== "not") {
        return { nots, minuses, lastMinus, end, next, pluses, negatedNots };
      }
      if (minuses > 0) negatedNots.push({ start: next, end: word });
      nots += 1;
      end = word;
    }
    next = skipBlanksAndLineEnds(text, end);
  }
}
