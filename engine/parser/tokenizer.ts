import type { IToken, TokenType } from "chevrotain";
import type { Span } from "../base/span.ts";
import { type Fault, fault, type Mend, mend } from "../diagnostics/diagnostic.ts";
import {
  isBlank,
  isDigit,
  isLineEnd,
  SUPERSCRIPT_MINUS,
  skipBlanks,
  skipLine,
  skipName,
  skipUnitWord,
  startsName,
  superscriptDigit,
  widthAt,
} from "./characters.ts";
import { adjacent, missingAfter } from "./faults.ts";
import { readInstant, readNumber, startsInstant } from "./numbers.ts";
import { readPhrase } from "./phrase.ts";
import { isMinus, readSign, startsSign } from "./signs.ts";
import { readText, startsText } from "./texts.ts";
import * as T from "./tokens.ts";
import type { BlankNode, Figure, LiteralNode, NameNode, ParsedFormula, UnitSpeller } from "./tree.ts";

/**
 * How deep parentheses, unfinished `if`s and signed exponents may nest; deeper is refused with a `syntax` fault. Far above
 * what a person reads, far below what the call stack bears.
 */
export const NESTING_LIMIT = 200;

/** Longer formulas are refused unread; one of 100,000 characters is read in some ten milliseconds. */
export const FORMULA_LENGTH_LIMIT = 1_000_000;

/** More faults than these in one formula help nobody. */
export const FAULT_LIMIT = 20;

export interface Tokens {
  readonly tokens: IToken[];
  readonly faults: Fault[];
  readonly note: ParsedFormula["note"];
}

interface Bracket {
  /** Opened by a function's name, so that commas part arguments. */
  readonly call: boolean;
  readonly start: number;
  /** What to return to when it closes. */
  readonly depth: number;
  readonly signedPowers: number;
}

const ASKS: ReadonlyMap<string, BlankNode["asks"]> = new Map([
  ["number", { is: "number" }],
  ["text", { is: "text" }],
  ["instant", { is: "instant" }],
  ["truth", { is: "truth" }],
]);

/** Reads one formula with its tail and note into tokens; never throws. Every payload is a finished part of the tree. */
export const tokenize = (text: string, speller: UnitSpeller): Tokens => new Tokenizer(text, speller).run();

class Tokenizer {
  readonly #text: string;
  readonly #speller: UnitSpeller;
  readonly #tokens: IToken[] = [];
  readonly #faults: Fault[] = [];
  readonly #brackets: Bracket[] = [];
  #at = 0;
  /** How deep the grammar will recurse here. */
  #depth = 0;
  /** Exponents with a sign in a row, `2^-3^-4`: each nests in the one before. */
  #signedPowers = 0;
  /** Whether what comes next is an operand, so that `-` is its sign. */
  #wanting = true;
  #tooDeep = false;
  #note: { text: string; span: Span } | null = null;

  constructor(text: string, speller: UnitSpeller) {
    this.#text = text;
    this.#speller = speller;
  }

  run(): Tokens {
    const text = this.#text;
    if (text.length > FORMULA_LENGTH_LIMIT) {
      this.#tell({ start: 0, end: text.length }, `A formula has at most ${FORMULA_LENGTH_LIMIT} characters.`);
      this.#broken(0, text.length);
      return { tokens: this.#tokens, faults: this.#faults, note: null };
    }
    while (this.#at < text.length && !this.#tooDeep) this.#next();
    if (this.#tooDeep) {
      this.#tokens.length = 0;
      this.#broken(0, text.length);
    } else {
      if (this.#wanting) this.#missingOperand(null, 0, text.length);
      if (this.#brackets.length > 0) this.#closeAll();
    }
    return { tokens: this.#tokens, faults: this.#faults, note: this.#note };
  }

  #next(): void {
    const text = this.#text;
    const at = this.#at;
    const code = text.charCodeAt(at);
    if (isBlank(code) || isLineEnd(code)) {
      this.#at = at + 1;
      return;
    }
    const end = skipName(text, at);
    if (end > at) return this.#word(end);
    if (isDigit(code) || (code === 46 && isDigit(text.charCodeAt(at + 1)))) return this.#figures();
    switch (code) {
      case 40:
      case 91:
      case 123:
        return this.#open(code);
      case 41:
      case 93:
      case 125:
        return this.#close(code);
      case 44:
      case 59:
        return this.#comma(code);
      case 35:
        return this.#readNote();
      case 63:
        return this.#blank();
    }
    if (code === 43 || isMinus(code)) return this.#plusOrMinus(code);
    if (startsSign(text, at)) return this.#operator();
    if (startsText(text, at)) return this.#quoted();
    if (code === SUPERSCRIPT_MINUS || superscriptDigit(text, at) >= 0) return this.#superscript();
    this.#stray();
  }

  #push(type: TokenType, start: number, end: number, payload: unknown, wanting: boolean): void {
    if (T.STARTS_OPERAND.has(type)) {
      if (!this.#wanting) this.#joinWith(start, end);
    } else if (this.#wanting && T.NEEDS_OPERAND_BEFORE.has(type)) this.#missingOperand(type, start, end);
    this.#tokens.push(T.makeToken(type, start, end, payload));
    this.#at = end;
    this.#wanting = wanting;
  }

  /** Two operands side by side: told here, with both in hand, and joined so that the grammar reads on. */
  #joinWith(start: number, end: number): void {
    const last = this.#tokens[this.#tokens.length - 1];
    if (last === undefined) return;
    const before = { start: last.startOffset, end: (last.endOffset ?? 0) + 1 };
    if (last.tokenType !== T.Broken && last.tokenType !== T.As && last.tokenType !== T.Blank) {
      this.#keep(adjacent(this.#text, last.tokenType, before, { start, end }));
    }
    this.#tokens.push(T.makeToken(T.Operator, start, start, "*"));
    this.#wanting = true;
  }

  #missingOperand(type: TokenType | null, start: number, end: number): void {
    const last = this.#tokens[this.#tokens.length - 1];
    const lastType = last?.tokenType;
    if (lastType === T.Blank || (lastType === T.FunctionName && type === T.Close)) return;
    const span = last === undefined ? { start, end } : { start: last.startOffset, end: (last.endOffset ?? 0) + 1 };
    this.#tell(span, missingAfter(this.#text.slice(span.start, span.end), lastType));
    const place = last === undefined ? start : span.end;
    this.#tokens.push(T.makeToken(T.Broken, place, place, { node: "broken", span: { start: place, end: place } }));
    this.#wanting = false;
  }

  #broken(start: number, end: number): void {
    this.#push(T.Broken, start, end, { node: "broken", span: { start, end } }, false);
  }

  #keep(told: Fault): void {
    if (this.#faults.length < FAULT_LIMIT) this.#faults.push(told);
  }

  #tell(span: Span, says: string, mends: readonly Mend[] = []): void {
    this.#keep(fault("syntax", span, { says }, mends));
  }

  #deeper(start: number, end: number): void {
    this.#depth += 1;
    if (this.#depth <= NESTING_LIMIT || this.#tooDeep) return;
    this.#tooDeep = true;
    this.#tell(
      { start, end },
      `This nests more than ${NESTING_LIMIT} deep. Calculate a part of it in a line of its own.`,
    );
  }

  /** What a looser connective ends: the chain of signed exponents before it. */
  #endPowers(): void {
    this.#depth -= this.#signedPowers;
    this.#signedPowers = 0;
  }

  #bracket(call: boolean, start: number): void {
    this.#brackets.push({ call, start, depth: this.#depth, signedPowers: this.#signedPowers });
    this.#signedPowers = 0;
    this.#deeper(start, start + 1);
  }

  #open(code: number): void {
    const sign = { start: this.#at, end: this.#at + 1 };
    if (code !== 40) this.#tell(sign, "Only round parentheses group here.", [mend("Write (", sign, "(")]);
    this.#bracket(false, sign.start);
    this.#push(T.Open, sign.start, sign.end, null, true);
  }

  #close(code: number): void {
    const sign = { start: this.#at, end: this.#at + 1 };
    const bracket = this.#brackets.pop();
    if (bracket === undefined) {
      this.#tell(sign, "This parenthesis closes nothing.", [mend("Take it out", sign, "")]);
      this.#at = sign.end;
      return;
    }
    if (code !== 41) this.#tell(sign, "Only round parentheses group here.", [mend("Write )", sign, ")")]);
    this.#depth = bracket.depth;
    this.#signedPowers = bracket.signedPowers;
    this.#push(T.Close, sign.start, sign.end, null, false);
  }

  /** Closes what is still open where the calculation ends, and says where it was opened. */
  #closeAll(): void {
    const last = this.#tokens[this.#tokens.length - 1];
    const end = (last?.endOffset ?? -1) + 1;
    const [outermost] = this.#brackets;
    if (outermost === undefined) return;
    const missing = ")".repeat(this.#brackets.length);
    const place = { start: outermost.start, end: outermost.start + 1 };
    const add = mend(`Add ${missing}`, { start: end, end }, missing);
    this.#tell(place, "This parenthesis is not closed.", [add]);
    const here = this.#at;
    this.#wanting = false;
    for (const _ of this.#brackets) this.#push(T.Close, end, end, null, false);
    this.#at = here;
    this.#depth = outermost.depth;
    this.#signedPowers = outermost.signedPowers;
    this.#brackets.length = 0;
  }

  #comma(code: number): void {
    const sign = { start: this.#at, end: this.#at + 1 };
    if (code === 59) this.#tell(sign, "Arguments are parted by commas.", [mend("Write ,", sign, ",")]);
    const innermost = this.#brackets[this.#brackets.length - 1];
    this.#depth = innermost === undefined ? 0 : innermost.depth + 1;
    this.#signedPowers = 0;
    this.#push(T.Comma, sign.start, sign.end, null, true);
  }

  #readNote(): void {
    const start = this.#at;
    this.#at = skipLine(this.#text, start);
    const written = this.#text.slice(start + 1, this.#at).trim();
    // Inside parentheses a formula has several lines, each with its note.
    const text = this.#note === null ? written : `${this.#note.text}; ${written}`;
    this.#note = { text, span: { start, end: this.#at } };
  }

  #quoted(): void {
    const read = readText(this.#text, this.#at);
    if (read.fault !== null) this.#keep(read.fault);
    this.#push(T.Text, read.node.span.start, read.node.span.end, read.node, false);
  }

  #figures(): void {
    const text = this.#text;
    if (startsInstant(text, this.#at)) {
      const { node, fault: told } = readInstant(text, this.#at);
      if (told !== null) this.#keep(told);
      this.#push(node.node === "instant" ? T.Instant : T.Broken, node.span.start, node.span.end, node, false);
      return;
    }
    const literal = this.#literal(this.#at);
    this.#push(T.Literal, literal.span.start, literal.span.end, literal, false);
  }

  /** `12 lb 4 oz`: further figures join only while each has a unit. */
  #literal(start: number): LiteralNode {
    const text = this.#text;
    const first = this.#figure(start);
    if (first.unit === null) return { node: "literal", span: first.span, negative: false, figures: [first] };
    const figures = [first];
    let end = first.span.end;
    for (;;) {
      const from = skipBlanks(text, end);
      if (from === end || !isDigit(text.charCodeAt(from)) || startsInstant(text, from)) break;
      const told = this.#faults.length;
      const next = this.#figure(from);
      if (next.unit === null) {
        this.#faults.length = told;
        break;
      }
      figures.push(next);
      end = next.span.end;
    }
    return { node: "literal", span: { start, end }, negative: false, figures };
  }

  #figure(start: number): Figure {
    const text = this.#text;
    const innermost = this.#brackets[this.#brackets.length - 1];
    const read = readNumber(text, start, innermost === undefined || !innermost.call);
    if (read.fault !== null) this.#keep(read.fault);
    const from = skipBlanks(text, read.end);
    const code = text.charCodeAt(from);
    // After a blank, `/` divides; and most signs end the literal without asking the catalogue.
    const none = code !== code || code === 41 || code === 42 || code === 44 || (code === 47 && from > read.end);
    const unit = none ? null : readPhrase(text, from, this.#speller, false);
    const end = unit === null ? read.end : unit.span.end;
    return { value: read.value, text: text.slice(start, read.end), unit, span: { start, end } };
  }

  #plusOrMinus(code: number): void {
    const at = this.#at;
    if (this.#wanting) return this.#prefixes();
    this.#endPowers();
    this.#push(T.Operator, at, at + 1, code === 43 ? "+" : "-", true);
  }

  /** A run of `-` and `not` before an operand; the last `-` belongs to a number with a unit. */
  #prefixes(): void {
    const text = this.#text;
    const start = this.#at;
    let nots = 0;
    let minuses = 0;
    let lastMinus = start;
    let end = start;
    let at = start;
    for (;;) {
      const code = text.charCodeAt(at);
      const sign = { start: at, end: at + 1 };
      if (isMinus(code)) {
        minuses += 1;
        lastMinus = at;
        end = at + 1;
      } else if (code === 43) {
        this.#tell(sign, "A plus sign before a number is not needed.", [mend("Take it out", sign, "")]);
        end = at + 1;
      } else {
        const word = skipName(text, at);
        if (word - at !== 3 || text.slice(at, word) !== "not") break;
        if (minuses > 0) this.#tell({ start: at, end: word }, "A truth has no sign: take the minus before not out.");
        nots += 1;
        end = word;
      }
      at = end;
      while (isBlank(text.charCodeAt(at)) || isLineEnd(text.charCodeAt(at))) at += 1;
    }
    const last = this.#tokens[this.#tokens.length - 1];
    if (last?.tokenType === T.Operator && last.payload === "^") {
      this.#signedPowers += 1;
      this.#deeper(start, end);
    }
    const code = text.charCodeAt(at);
    const number = isDigit(code) || (code === 46 && isDigit(text.charCodeAt(at + 1)));
    const literal = minuses > 0 && number && !startsInstant(text, at) ? this.#literal(at) : null;
    const signed = literal !== null && literal.figures[0]?.unit !== null;
    if (signed) minuses -= 1;
    const prefix: T.Prefix = { nots, minuses };
    if (nots + minuses > 0) this.#push(T.Prefixes, start, signed ? lastMinus : end, prefix, true);
    this.#at = end;
    if (literal === null) return;
    const from = signed ? lastMinus : at;
    const node = { ...literal, negative: signed, span: { start: from, end: literal.span.end } };
    this.#push(T.Literal, from, literal.span.end, node, false);
  }

  #operator(): void {
    const sign = readSign(this.#text, this.#at);
    const { end, operator } = sign;
    const span = { start: this.#at, end };
    if (sign.mend !== null) {
      const typed = this.#text.slice(span.start, end);
      const before = isBlank(this.#text.charCodeAt(span.start - 1)) ? "" : " ";
      const after = isBlank(this.#text.charCodeAt(end)) ? "" : " ";
      const add = mend(`Write ${sign.mend}`, span, sign.mend.length > 1 ? `${before}${sign.mend}${after}` : sign.mend);
      this.#tell(span, `${typed} is written ${sign.mend} here.`, [add]);
    }
    if (operator !== "^") this.#endPowers();
    this.#push(T.Operator, span.start, end, operator, true);
  }

  /** `x²` is `x^2`. */
  #superscript(): void {
    const text = this.#text;
    const start = this.#at;
    const minus = text.charCodeAt(start) === SUPERSCRIPT_MINUS;
    const first = minus ? start + 1 : start;
    let end = first;
    let figure = "";
    for (let digit = superscriptDigit(text, end); digit >= 0; digit = superscriptDigit(text, end)) {
      figure += digit;
      end += 1;
    }
    if (figure === "" || this.#wanting) return this.#stray();
    this.#push(T.Operator, start, first, "^", true);
    if (minus) this.#push(T.Prefixes, start, first, { nots: 0, minuses: 1 } satisfies T.Prefix, true);
    const span = { start: first, end };
    const value = Math.min(Number(figure), Number.MAX_VALUE);
    const literal: LiteralNode = {
      node: "literal",
      span,
      negative: false,
      figures: [{ value, text: figure, unit: null, span }],
    };
    this.#push(T.Literal, first, end, literal, false);
  }

  #blank(): void {
    const text = this.#text;
    const start = this.#at;
    const from = skipBlanks(text, start + 1);
    const end = skipUnitWord(text, from);
    const word = text.slice(from, end);
    const asks = ASKS.get(word);
    if (asks !== undefined) return this.#push(T.Blank, start, end, asks, false);
    const unit = end === from || T.RESERVED_WORDS.has(word) ? null : readPhrase(text, from, this.#speller, true);
    if (unit === null) return this.#push(T.Blank, start, start + 1, null, true);
    this.#push(T.Blank, start, unit.span.end, { is: "unit", unit } satisfies BlankNode["asks"], false);
  }

  #word(end: number): void {
    const text = this.#text;
    const start = this.#at;
    const word = text.slice(start, end);
    if (T.mayBeReserved(word)) {
      const lower = word.toLowerCase();
      if (T.RESERVED_WORDS.has(lower)) {
        const span = { start, end };
        if (lower !== word) this.#tell(span, `Write ${lower} in small letters.`, [mend(`Write ${lower}`, span, lower)]);
        return this.#keyword(lower, start, end);
      }
    }
    if (text.charCodeAt(end) === 40) {
      this.#bracket(true, end);
      return this.#push(T.FunctionName, start, end + 1, { name: word, nameEnd: end } satisfies T.FunctionPayload, true);
    }
    if (this.#brackets.length > 0 && text.charCodeAt(skipBlanks(text, end)) === 58) {
      const payload = { text: word, span: { start, end } };
      return this.#push(T.ArgumentName, start, skipBlanks(text, end) + 1, payload, true);
    }
    const parts: NameNode["parts"][number][] = [{ text: word, span: { start, end } }];
    let to = end;
    while (text.charCodeAt(to) === 46 && startsName(text, to + 1)) {
      const from = to + 1;
      to = skipName(text, from);
      parts.push({ text: text.slice(from, to), span: { start: from, end: to } });
    }
    this.#push(T.Name, start, to, { node: "name", parts, span: { start, end: to } } satisfies NameNode, false);
  }

  /** The word that follows `at` after blanks or line ends, and its end. */
  #wordAfter(at: number): { readonly word: string; readonly end: number } {
    let from = at;
    while (isBlank(this.#text.charCodeAt(from)) || isLineEnd(this.#text.charCodeAt(from))) from += 1;
    const end = skipName(this.#text, from);
    return { word: this.#text.slice(from, end), end };
  }

  #keyword(word: string, start: number, end: number): void {
    switch (word) {
      case "yes":
      case "no":
        return this.#push(T.Truth, start, end, { node: "truth", value: word === "yes", span: { start, end } }, false);
      case "and":
      case "or":
        this.#endPowers();
        return this.#push(T.Operator, start, end, word, true);
      case "is":
        return this.#is(start, end);
      case "not":
        return this.#prefixesOrWord(start, end);
      case "missing":
        this.#tell({ start, end }, "Write is missing after what may be missing.", [
          mend("Write is missing", { start, end }, "is missing"),
        ]);
        return this.#wanting ? this.#broken(start, end) : this.#push(T.Missing, start, end, false, false);
      case "if":
        this.#deeper(start, end);
        return this.#push(T.If, start, end, null, true);
      case "then":
        this.#endPowers();
        return this.#push(T.Then, start, end, null, true);
      case "else":
        return this.#else(start, end);
      case "where":
        this.#endPowers();
        return this.#push(T.Where, start, end, null, true);
      case "as":
        return this.#as(start, end);
      case "to":
        return this.#push(T.To, start, end, null, true);
      default:
        if (this.#wanting) this.#missingOperand(null, start, end);
        if (this.#brackets.length > 0) this.#closeAll();
        return this.#push(word === "by" ? T.By : T.Within, start, end, null, true);
    }
  }

  #prefixesOrWord(start: number, end: number): void {
    // A differently cased `Not` is told already and is no part of a run.
    if (this.#text.slice(start, end) === "not") return this.#prefixes();
    this.#push(T.Prefixes, start, end, { nots: 1, minuses: 0 } satisfies T.Prefix, true);
  }

  #is(start: number, end: number): void {
    this.#endPowers();
    const first = this.#wordAfter(end);
    if (first.word === "missing") return this.#push(T.Missing, start, first.end, false, false);
    if (first.word !== "not") return this.#push(T.Operator, start, end, "is", true);
    const second = this.#wordAfter(first.end);
    if (second.word === "missing") return this.#push(T.Missing, start, second.end, true, false);
    this.#push(T.Operator, start, first.end, "is not", true);
  }

  #else(start: number, end: number): void {
    this.#endPowers();
    const next = this.#wordAfter(end);
    if (next.word === "if") return this.#push(T.ElseIf, start, next.end, null, true);
    this.#push(T.Else, start, end, null, true);
  }

  #as(start: number, end: number): void {
    const unit = readPhrase(this.#text, skipBlanks(this.#text, end), this.#speller, true);
    if (unit === null) this.#tell({ start, end }, "A unit follows as: as kg, as L/kg.");
    this.#endPowers();
    this.#push(T.As, start, unit === null ? end : unit.span.end, unit, false);
  }

  #stray(): void {
    const text = this.#text;
    const start = this.#at;
    const unit = skipUnitWord(text, start);
    const end = unit > start ? unit : start + widthAt(text, start);
    const sign = text.slice(start, end);
    const says =
      unit > start
        ? `A unit stands directly after a number: ${sign} does not here.`
        : `The character ${JSON.stringify(sign)} means nothing in a formula.`;
    this.#tell({ start, end }, says, unit > start ? [] : [mend("Take it out", { start, end }, "")]);
    this.#broken(start, end);
  }
}
