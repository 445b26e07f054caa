import { ONE } from "../base/rational.ts";
import { mend } from "../diagnostics/diagnostic.ts";
import * as C from "./characters.ts";
import { readLiteral } from "./figures.ts";
import { startsInstant } from "./numbers.ts";
import { readPhrase } from "./phrase.ts";
import { CONVERTING, MONEY_SIGNS, SIGN_WORDS, signWordLength } from "./slips.ts";
import type { TokenList } from "./token-list.ts";
import * as T from "./tokens.ts";
import type { LiteralNode, UnitSpeller } from "./tree.ts";

/*
 * Words in places where the language has none: each is told to the list with its mend, and read as what was meant. All give
 * where to read on, or null where the word is no such slip.
 */

/** Behind an operand: `2 x 25 kg`, `1.5 x 10^6 cells`, `grain in lb`, `500 g per hL`, `5 % abv`. */
export function wordBetween(
  text: string,
  start: number,
  end: number,
  speller: UnitSpeller,
  list: TokenList,
): number | null {
  const word = text.slice(start, end);
  if (CONVERTING.has(word.toLowerCase())) return conversion(text, start, end, speller, list);
  const signEnd = start + signWordLength(word);
  const operator = SIGN_WORDS.get(text.slice(start, signEnd).toLowerCase());
  if (operator === undefined) return list.namedShare(word, end) ? end : null;
  const next = C.skipBlanks(text, signEnd);
  const power = operator === "*" ? POWER_OF_TEN.exec(text.slice(next, next + LONGEST_POWER)) : null;
  const past = power === null ? null : powerOfTen(text, next, power, speller, list);
  if (past !== null) return past;
  if (operator === "/" && speller(text, next) > 0) {
    const unitEnd = readPhrase(text, next, speller, true)?.span.end ?? next;
    list.perUnit(start, next, unitEnd);
    return unitEnd;
  }
  const operand = C.startsNumber(text, next) || C.startsName(text, next) || text.charCodeAt(next) === 40;
  if (!operand && !MONEY_SIGNS.has(text.charAt(next))) return null;
  const span = { start, end: signEnd };
  list.tell(span, `${text.slice(start, signEnd)} is written ${operator} here.`, [
    mend(`Write ${operator}`, span, operator),
  ]);
  list.endPowers();
  list.between(T.Operator, start, signEnd, operator);
  return signEnd;
}

const POWER_OF_TEN = /^10 ?\^ ?([-−]?)(\d{1,3})(?![\d.])/;
const LONGEST_POWER = 12;

/** `1.5 x 10^6 cells/mL`: a power of ten belongs to its figure. */
function powerOfTen(
  text: string,
  next: number,
  [typed, minus = "", digits = ""]: RegExpExecArray,
  speller: UnitSpeller,
  list: TokenList,
): number | null {
  const figure = list.takeFigure();
  const numeral = figure?.figures[0]?.text;
  if (figure === null || numeral === undefined) return null;
  const span = { start: figure.span.start, end: next + typed.length };
  const written = `${numeral}e${minus === "" ? "" : "-"}${digits}`;
  list.tell(span, `A power of ten is written ${written}.`, [mend(`Write ${written}`, span, written)]);
  const unit = readPhrase(text, C.skipBlanks(text, span.end), speller, false);
  const end = unit === null ? span.end : unit.span.end;
  const value = Number.isFinite(Number(written)) ? Number(written) : 0;
  const whole = { value, text: text.slice(span.start, span.end), unit, span: { start: span.start, end } };
  list.operand(T.Literal, span.start, end, { ...figure, figures: [whole], span: whole.span });
  return end;
}

/** `152 °F in °C`, `grain to lb`: read as `as`. */
export function conversion(
  text: string,
  start: number,
  end: number,
  speller: UnitSpeller,
  list: TokenList,
): number | null {
  const unit = readPhrase(text, C.skipBlanks(text, end), speller, true);
  if (unit === null) return null;
  const span = { start, end };
  const wanted = text.slice(unit.span.start, unit.span.end);
  list.tell(span, `To see it in another unit write as: as ${wanted}.`, [mend("Write as", span, "as")]);
  list.endPowers();
  list.behind(T.As, start, unit.span.end, unit);
  return unit.span.end;
}

const STROKE = 47;

/** Before a figure: `pH 5.4`, `USD 5/kg`, `$5`. `codes`: the unit, or what a sign of money may stand for. */
export function unitFirst(
  text: string,
  start: number,
  end: number,
  codes: readonly string[],
  speller: UnitSpeller,
  list: TokenList,
): number | null {
  const from = C.skipBlanks(text, end);
  if (!C.isDigit(text.charCodeAt(from)) || !list.wanting || startsInstant(text, from)) return null;
  const [code = ""] = codes;
  if (speller(code, 0) !== code.length) return null;
  const told = list.faults.length;
  const literal = readLiteral(text, from, speller, list);
  const [figure, ...others] = literal.figures;
  const per = figure?.unit ?? null;
  if (figure === undefined || others.length > 0 || (per !== null && text.charCodeAt(per.span.start) !== STROKE)) {
    list.faults.length = told;
    return null;
  }
  const span = { start, end: from + figure.text.length };
  const written = codes.map((each) => `${figure.text} ${each}`);
  const says = `A unit stands behind its figure: ${written.join(" or ")}.`;
  list.tell(
    span,
    says,
    written.map((each, at) => mend(`Write ${codes[at]} behind`, span, each)),
  );
  const factors = [{ spelling: code, power: ONE, span: { start, end } }, ...(per?.factors ?? [])];
  const unit = { factors, span: { start: span.end, end: literal.span.end } };
  const whole: LiteralNode = {
    node: "literal",
    negative: false,
    figures: [{ ...figure, unit }],
    span: { start, end: literal.span.end },
  };
  list.operand(T.Literal, start, literal.span.end, whole);
  return literal.span.end;
}
