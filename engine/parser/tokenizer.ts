import type { IToken } from "chevrotain";
import type { Span } from "../base/span.ts";
import { type Fault, mend } from "../diagnostics/diagnostic.ts";
import * as C from "./characters.ts";
import { readLiteral } from "./figures.ts";
import { mayBeDate, readInstant, readNumber, startsInstant } from "./numbers.ts";
import { readPhrase } from "./phrase.ts";
import { isMinus, readPrefixes, type Sign, signAt } from "./signs.ts";
import { conversion, unitFirst, wordBetween } from "./slipped-words.ts";
import { isVulgarFraction, looseDateAt, MONEY_SIGNS } from "./slips.ts";
import { readText, startsText } from "./texts.ts";
import { TokenList } from "./token-list.ts";
import * as T from "./tokens.ts";
import type { LiteralNode, NameNode, ParsedFormula, UnitSpeller } from "./tree.ts";

/** Longer formulas are refused unread; one of 100,000 characters is read in less than a tenth of a second. */
export const FORMULA_LENGTH_LIMIT = 1_000_000;

export interface Tokens {
  readonly tokens: IToken[];
  readonly faults: Fault[];
  readonly note: ParsedFormula["note"];
}

const MINUS: T.Prefix = { nots: 0, minuses: 1 };
const NOT: T.Prefix = { nots: 1, minuses: 0 };
const STROKE = 47;

/** Reads one formula with its tail and note into tokens; never throws. Every payload is a finished part of the tree. */
export const tokenize = (text: string, speller: UnitSpeller): Tokens => new Tokenizer(text, speller).run();

class Tokenizer {
  readonly #text: string;
  readonly #speller: UnitSpeller;
  readonly #list: TokenList;
  #at = 0;
  #note: { text: string; span: Span } | null = null;

  constructor(text: string, speller: UnitSpeller) {
    this.#text = text;
    this.#speller = speller;
    this.#list = new TokenList(text);
  }

  run(): Tokens {
    const { length } = this.#text;
    const list = this.#list;
    if (length > FORMULA_LENGTH_LIMIT) {
      list.tell({ start: 0, end: length }, `A formula has at most ${FORMULA_LENGTH_LIMIT} characters.`);
      list.broken(0, length);
      return { tokens: list.tokens, faults: list.faults, note: null };
    }
    while (this.#at < length && !list.tooDeep) this.#next();
    if (list.tooDeep) {
      list.tokens.length = 0;
      list.broken(0, length);
    } else list.finish(0, length);
    return { tokens: list.tokens, faults: list.faults, note: this.#note };
  }

  #next() {
    const text = this.#text;
    const at = this.#at;
    const code = text.charCodeAt(at);
    if (code === 32) this.#at = at + 1;
    else if (C.startsName(text, at)) this.#word(C.skipNameParts(text, at));
    else if (C.startsNumber(text, at)) this.#figures();
    else if (code === 40 || code === 91 || code === 123) this.#open(code);
    else if (code === 41 || code === 93 || code === 125) this.#close(code);
    else if (code === 44 || code === 59) this.#comma(code);
    else if (code === 43 || isMinus(code)) this.#plusOrMinus(code);
    else if (code === 35) this.#readNote();
    else if (code === 63) this.#blank();
    else if (C.isBlank(code) || C.isLineEnd(code)) this.#at = at + 1;
    else if (startsText(text, at)) this.#quoted();
    else if (code === C.SUPERSCRIPT_MINUS || C.superscriptDigit(text, at) >= 0) this.#superscript();
    else {
      const sign = signAt(text, at);
      if (sign === undefined) this.#stray();
      else this.#operator(sign);
    }
  }

  #open(code: number): void {
    const sign = this.#sign();
    if (code !== 40) this.#list.tell(sign, "Only round parentheses group here.", [mend("Write (", sign, "(")]);
    this.#list.open(null, sign.start, sign.end);
  }

  #close(code: number): void {
    const sign = this.#sign();
    if (code !== 41) this.#list.tell(sign, "Only round parentheses group here.", [mend("Write )", sign, ")")]);
    this.#list.close(sign.start, sign.end);
  }

  #comma(code: number): void {
    const sign = this.#sign();
    if (code === 59) this.#list.tell(sign, "Arguments are separated by commas.", [mend("Write ,", sign, ",")]);
    this.#list.comma(sign.start, sign.end);
  }

  /** Steps over one character. */
  #sign(): Span {
    this.#at += 1;
    return { start: this.#at - 1, end: this.#at };
  }

  #readNote(): void {
    const start = this.#at;
    this.#at = C.skipLine(this.#text, start);
    const written = this.#text.slice(start + 1, this.#at).trim();
    // Inside parentheses a formula has several lines, each with its note.
    const text = this.#note === null ? written : `${this.#note.text}; ${written}`;
    this.#note = { text, span: { start, end: this.#at } };
  }

  #quoted(): void {
    const { node, fault } = readText(this.#text, this.#at);
    if (fault !== null) this.#list.keep(fault);
    this.#list.operand(T.Text, node.span.start, node.span.end, node);
    this.#at = node.span.end;
  }

  #figures() {
    const text = this.#text;
    const list = this.#list;
    const start = this.#at;
    if (startsInstant(text, start)) {
      const { node, fault } = readInstant(text, start);
      if (fault !== null) list.keep(fault);
      this.#at = node.span.end;
      return list.operand(node.node === "instant" ? T.Instant : T.Broken, start, node.span.end, node);
    }
    const date = mayBeDate(text, start) ? looseDateAt(text, start) : null;
    if (date !== null) {
      list.keep(date.fault);
      this.#at = date.end;
      return list.broken(start, date.end);
    }
    const literal = readLiteral(text, start, this.#speller, list);
    this.#at = literal.span.end;
    if (text.charCodeAt(start - 1) === STROKE) list.fraction(literal);
    list.operand(T.Literal, start, literal.span.end, literal);
  }

  #plusOrMinus(code: number) {
    if (this.#list.wanting) return this.#prefixes();
    const { start, end } = this.#sign();
    this.#list.endPowers();
    this.#list.between(T.Operator, start, end, code === 43 ? "+" : "-");
  }

  /** A run of `-` and `not` before an operand; the last `-` belongs to a number with a unit. */
  #prefixes(): void {
    const text = this.#text;
    const list = this.#list;
    const start = this.#at;
    const run = readPrefixes(text, start);
    for (const plus of run.pluses) {
      list.tell(plus, "A plus sign before a number is not needed.", [mend("Take it out", plus, "")]);
    }
    for (const not of run.negatedNots) list.tell(not, "Yes and no have no sign: take out the minus before not.");
    const { nots, lastMinus, end, next: at } = run;
    let { minuses } = run;
    list.signedPower(start, end);
    const literal =
      minuses > 0 && C.startsNumber(text, at) && !startsInstant(text, at)
        ? readLiteral(text, at, this.#speller, list)
        : null;
    const signed = literal !== null && literal.figures[0]?.unit !== null;
    if (signed) minuses -= 1;
    const prefix: T.Prefix = { nots, minuses };
    if (nots + minuses > 0) list.opening(T.Prefixes, start, signed ? lastMinus : end, prefix);
    this.#at = literal === null ? end : literal.span.end;
    if (literal === null) return;
    const from = signed ? lastMinus : at;
    const span = { start: from, end: literal.span.end };
    list.operand(T.Literal, from, span.end, { ...literal, negative: signed, span });
  }

  #operator({ typed, operator, mend: written }: Sign): void {
    const text = this.#text;
    const start = this.#at;
    const end = start + typed.length;
    if (typed === "=" && this.#list.equals(start)) {
      this.#at = C.skipBlanksAndLineEnds(text, end);
      return;
    }
    if (written !== null) {
      const span = { start, end };
      const before = C.isBlank(text.charCodeAt(start - 1)) ? "" : " ";
      const after = C.isBlank(text.charCodeAt(end)) ? "" : " ";
      const add = mend(`Write ${written}`, span, written.length > 1 ? `${before}${written}${after}` : written);
      this.#list.tell(span, `${typed} is written ${written} here.`, [add]);
    }
    if (operator !== "^") this.#list.endPowers();
    this.#list.between(T.Operator, start, end, operator);
    this.#at = end;
  }

  /** `x²` is `x^2`. */
  #superscript() {
    const text = this.#text;
    const start = this.#at;
    const first = text.charCodeAt(start) === C.SUPERSCRIPT_MINUS ? start + 1 : start;
    let end = first;
    let figure = "";
    for (let digit = C.superscriptDigit(text, end); digit >= 0; digit = C.superscriptDigit(text, end)) {
      figure += digit;
      end += 1;
    }
    if (figure === "" || this.#list.wanting) return this.#stray();
    this.#list.between(T.Operator, start, start, "^");
    if (first > start) this.#list.signedPower(start, first);
    if (first > start) this.#list.opening(T.Prefixes, start, first, MINUS);
    const span = { start: first, end };
    const read = readNumber(figure, 0, false);
    if (read.fault !== null) this.#list.keep({ ...read.fault, span });
    const figures = [{ value: read.value, text: figure, unit: null, span }];
    this.#list.operand(T.Literal, first, end, {
      node: "literal",
      span,
      negative: false,
      figures,
    } satisfies LiteralNode);
    this.#at = end;
  }

  #blank(): void {
    const text = this.#text;
    const start = this.#at;
    const from = C.skipBlanks(text, start + 1);
    const end = C.skipUnitWord(text, from);
    const word = text.slice(from, end);
    const asks = T.ASKS.get(word);
    const unit =
      asks !== undefined || end === from || T.RESERVED_WORDS.has(word)
        ? null
        : readPhrase(text, from, this.#speller, true);
    this.#at = asks !== undefined ? end : unit === null ? start + 1 : unit.span.end;
    this.#list.blank(start, this.#at, asks ?? (unit === null ? null : { is: "unit", unit }));
  }

  #word(end: number) {
    const text = this.#text;
    const start = this.#at;
    const word = text.slice(start, end);
    this.#at = end;
    if (word.length <= T.LONGEST_RESERVED && this.#reserved(word, start, end)) return;
    if (!this.#list.wanting && this.#past(wordBetween(text, start, end, this.#speller, this.#list))) return;
    if (text.charCodeAt(end) === 40) {
      this.#at = end + 1;
      return this.#list.open({ start, name: word }, end, end + 1);
    }
    if (this.#list.inBrackets && text.charCodeAt(C.skipBlanks(text, end)) === 58) {
      this.#at = C.skipBlanks(text, end) + 1;
      return this.#list.opening(T.ArgumentName, start, this.#at, { text: word, span: { start, end } });
    }
    if (this.#past(unitFirst(text, start, end, [word], this.#speller, this.#list))) return;
    const first = { text: word, span: { start, end } };
    const parts = text.charCodeAt(end) === 46 ? this.#parts(first) : [first];
    const node: NameNode = { node: "name", parts, span: { start, end: this.#at } };
    this.#list.operand(T.Name, start, this.#at, node);
  }

  /** Goes on behind a slip that was found; false where none was. */
  #past(end: number | null): boolean {
    if (end !== null) this.#at = end;
    return end !== null;
  }

  /** `mash.grain`: the name's further parts. */
  #parts(first: NameNode["parts"][number]): NameNode["parts"] {
    const text = this.#text;
    const parts = [first];
    while (text.charCodeAt(this.#at) === 46 && C.startsName(text, this.#at + 1)) {
      const start = this.#at + 1;
      this.#at = C.skipNameParts(text, start);
      parts.push({ text: text.slice(start, this.#at), span: { start, end: this.#at } });
    }
    return parts;
  }

  #reserved(word: string, start: number, end: number): boolean {
    if (T.RESERVED_WORDS.has(word)) {
      this.#keyword(word, start, end);
      return true;
    }
    const lower = word.toLowerCase();
    if (lower === word || !T.RESERVED_WORDS.has(lower)) return false;
    const span = { start, end };
    this.#list.tell(span, `Write ${lower} in small letters.`, [mend("Write small letters", span, lower)]);
    this.#keyword(lower, start, end);
    return true;
  }

  #keyword(word: string, start: number, end: number) {
    const list = this.#list;
    switch (word) {
      case "yes":
      case "no":
        return list.operand(T.Truth, start, end, { node: "truth", value: word === "yes", span: { start, end } });
      case "and":
      case "or":
        list.endPowers();
        return list.between(T.Operator, start, end, word);
      case "is":
        return this.#is(start, end);
      case "not":
        return this.#not(start, end);
      case "missing":
        list.tell({ start, end }, "Write is missing behind what may be missing.", [
          mend("Write is missing", { start, end }, "is missing"),
        ]);
        return list.wanting ? list.broken(start, end) : list.behind(T.Missing, start, end, false);
      case "if":
        list.opening(T.If, start, end, null);
        return list.deeper(start, end);
      case "then":
        list.endPowers();
        return list.between(T.Then, start, end, null);
      case "else":
        return this.#else(start, end);
      case "where":
        list.endPowers();
        return list.between(T.Where, start, end, null);
      case "as":
        return this.#as(start, end);
      case "to":
        if (!list.wanting && !list.inRange && this.#past(conversion(this.#text, start, end, this.#speller, list)))
          return;
        return list.between(T.To, start, end, null);
      default:
        list.finish(start, end);
        return list.between(word === "by" ? T.By : T.Within, start, end, null);
    }
  }

  /** The word that follows `at` after blanks or line ends, and its end. */
  #wordAfter(at: number): { readonly word: string; readonly end: number } {
    const from = C.skipBlanksAndLineEnds(this.#text, at);
    const end = C.skipName(this.#text, from);
    return { word: this.#text.slice(from, end), end };
  }

  #not(start: number, end: number) {
    // A differently cased `Not` is told already and is no part of a run.
    if (this.#text.slice(start, end) !== "not") return this.#list.opening(T.Prefixes, start, end, NOT);
    this.#at = start;
    this.#prefixes();
  }

  #is(start: number, end: number) {
    const list = this.#list;
    list.endPowers();
    const first = this.#wordAfter(end);
    const second = first.word === "not" ? this.#wordAfter(first.end) : first;
    if (second.word === "missing") {
      this.#at = second.end;
      return list.behind(T.Missing, start, second.end, second !== first);
    }
    this.#at = second === first ? end : first.end;
    list.between(T.Operator, start, this.#at, second === first ? "is" : "is not");
  }

  #else(start: number, end: number) {
    this.#list.endPowers();
    const next = this.#wordAfter(end);
    if (next.word !== "if") return this.#list.between(T.Else, start, end, null);
    this.#at = next.end;
    this.#list.between(T.ElseIf, start, next.end, null);
  }

  #as(start: number, end: number) {
    const unit = readPhrase(this.#text, C.skipBlanks(this.#text, end), this.#speller, true);
    if (unit === null) this.#list.tell({ start, end }, "A unit follows as: as kg, as L/kg.");
    this.#list.endPowers();
    this.#at = unit === null ? end : unit.span.end;
    this.#list.behind(T.As, start, this.#at, unit);
  }

  #stray() {
    const text = this.#text;
    const start = this.#at;
    const unit = C.skipUnitWord(text, start);
    const codes = MONEY_SIGNS.get(text.charAt(start)) ?? [text.slice(start, unit)];
    const unitEnd = MONEY_SIGNS.has(text.charAt(start)) ? start + 1 : unit;
    if (isVulgarFraction(text, start)) return this.#figures();
    if (unit > start && this.#past(unitFirst(text, start, unitEnd, codes, this.#speller, this.#list))) return;
    const end = unit > start ? unit : start + C.widthAt(text, start);
    const span = { start, end };
    const typed = text.slice(start, end);
    if (unit > start) this.#list.tell(span, `A unit stands behind a number: ${typed} has none before it.`);
    else this.#list.tell(span, `${JSON.stringify(typed)} means nothing in a formula.`, [mend("Take it out", span, "")]);
    this.#list.broken(start, end);
    this.#at = end;
  }
}
