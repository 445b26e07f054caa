import type { IToken, TokenType } from "chevrotain";
import type { Span } from "../base/span.ts";
import { type Fault, fault, type Mend, mend } from "../diagnostics/diagnostic.ts";
import { skipBlanksAndLineEnds } from "./characters.ts";
import { adjacent, missingAfter } from "./faults.ts";
import { decimalOf } from "./slips.ts";
import * as T from "./tokens.ts";
import type { LiteralNode, NameNode } from "./tree.ts";

/**
 * How deep parentheses, unfinished `if`s and signed exponents may nest; deeper is refused with a `syntax` fault. Far above
 * what a person reads, far below what the call stack bears.
 */
export const NESTING_LIMIT = 200;

/** More faults than these in one formula help nobody. */
export const FAULT_LIMIT = 20;

interface Bracket {
  /** Opened by a function's name, so that commas part arguments. */
  readonly call: boolean;
  readonly start: number;
  /** What to return to when it closes. */
  readonly depth: number;
  readonly signedPowers: number;
}

/**
 * The tokens of a formula while they are read. It sees to it that operands and operators alternate and that every
 * parenthesis is closed: the fault is told where both neighbours are in hand, and a made-up token lets the grammar read on.
 */
export class TokenList {
  readonly tokens: IToken[] = [];
  readonly faults: Fault[] = [];
  /** Whether what comes next is an operand, so that `-` is its sign. */
  wanting = true;
  tooDeep = false;
  readonly #text: string;
  readonly #brackets: Bracket[] = [];
  /** How deep the grammar will recurse here. */
  #depth = 0;
  /** Exponents with a sign in a row, `2^-3^-4`: each nests in the one before. */
  #signedPowers = 0;

  constructor(text: string) {
    this.#text = text;
  }

  /** A whole operand: a literal, a name, a text. */
  operand(type: TokenType, start: number, end: number, payload: unknown): void {
    if (!this.wanting) this.#join(type, start, end);
    this.tokens.push(T.makeToken(type, start, end, payload));
    this.wanting = false;
  }

  /** What begins an operand and wants the rest of it: a sign, `if`, an argument's name. */
  opening(type: TokenType, start: number, end: number, payload: unknown): void {
    if (!this.wanting) this.#join(type, start, end);
    this.tokens.push(T.makeToken(type, start, end, payload));
    this.wanting = true;
  }

  /** What stands between two operands. */
  between(type: TokenType, start: number, end: number, payload: unknown): void {
    if (this.wanting) this.missingOperand(start, end);
    this.tokens.push(T.makeToken(type, start, end, payload));
    this.wanting = true;
  }

  /** What stands behind an operand and belongs to it. */
  behind(type: TokenType, start: number, end: number, payload: unknown): void {
    if (this.wanting) this.missingOperand(start, end);
    this.tokens.push(T.makeToken(type, start, end, payload));
    this.wanting = false;
  }

  /** `?`, after which a filling may stand. */
  blank(start: number, end: number, asks: unknown): void {
    this.tokens.push(T.makeToken(T.Blank, start, end, asks));
    this.wanting = asks === null;
  }

  broken(start: number, end: number): void {
    this.operand(T.Broken, start, end, { node: "broken", span: { start, end } });
  }

  keep(told: Fault): void {
    if (this.faults.length < FAULT_LIMIT) this.faults.push(told);
  }

  tell(span: Span, says: string, mends: readonly Mend[] = []): void {
    this.keep(fault("syntax", span, { says }, mends));
  }

  /** Whether a comma here parts arguments. */
  get inCall(): boolean {
    const innermost = this.#brackets[this.#brackets.length - 1];
    return innermost?.call === true;
  }

  get inBrackets(): boolean {
    return this.#brackets.length > 0;
  }

  #last(): IToken | undefined {
    return this.tokens[this.tokens.length - 1];
  }

  /** Whether the tail's range has begun, whose ends `to` parts. */
  get inRange(): boolean {
    return this.tokens.some(({ tokenType }) => tokenType === T.Within);
  }

  get lastEnd(): number {
    const last = this.#last();
    return last === undefined ? 0 : endOf(last);
  }

  /** Two operands side by side. */
  #join(next: TokenType, start: number, end: number): void {
    const last = this.#last();
    if (last === undefined) return;
    const type = last.tokenType;
    const before = { start: last.startOffset, end: endOf(last) };
    const told =
      next === T.Broken || type === T.Broken || type === T.As || type === T.Blank || this.faults.length >= FAULT_LIMIT;
    if (!told) this.keep(adjacent(this.#text, type, before, next, { start, end }, this.inCall));
    this.tokens.push(T.makeToken(T.Operator, start, start, "*"));
  }

  /** Tells that an operand is missing before the stretch, and makes up a broken one. */
  missingOperand(start: number, end: number): void {
    const last = this.#last();
    const type = last?.tokenType;
    if (type === T.Blank) return;
    const span = last === undefined ? { start, end } : { start: last.startOffset, end: endOf(last) };
    if (this.faults.length < FAULT_LIMIT) this.tell(span, missingAfter(this.#text.slice(span.start, span.end), type));
    const place = last === undefined ? start : span.end;
    this.tokens.push(T.makeToken(T.Broken, place, place, { node: "broken", span: { start: place, end: place } }));
    this.wanting = false;
  }

  /**
   * An `=` at `at` that is no comparison: before a formula, behind a line's name, or behind an argument's name. It is told and
   * taken for what was meant; false where it can only compare.
   */
  equals(at: number): boolean {
    const name = this.#last();
    const sign = { start: at, end: skipBlanksAndLineEnds(this.#text, at + 1) };
    if (name === undefined) {
      this.tell({ start: at, end: at + 1 }, "A formula has no = before it.", [mend("Take it out", sign, "")]);
      return true;
    }
    const before = this.tokens[this.tokens.length - 2]?.tokenType;
    const named = this.inCall && (before === T.FunctionName || before === T.Comma);
    if (name.tokenType !== T.Name || (!named && (before !== undefined || this.inBrackets))) return false;
    const [word, ...parts] = (name.payload as NameNode).parts;
    if (word === undefined || parts.length > 0) return false;
    const { start, end } = word.span;
    const blank = end === at ? " " : "";
    const compare = mend("Write is", { start: at, end: at + 1 }, `${blank}is${sign.end === at + 1 ? " " : ""}`);
    this.tokens.pop();
    this.wanting = true;
    if (named) {
      const says = `A colon follows an argument's name: ${word.text}: ….`;
      this.tell({ start, end: at + 1 }, says, [mend("Write a colon", { start: end, end: sign.end }, ": "), compare]);
      this.opening(T.ArgumentName, start, at + 1, word);
    } else {
      const says = `A formula stands without the name of its line: leave out ${word.text} =. To compare, write is.`;
      const out = mend(`Leave out ${word.text} =`, { start, end: sign.end }, "");
      this.tell({ start, end: at + 1 }, says, [out, compare]);
    }
    return true;
  }

  /** `1/2 lb` divides by two pounds, which nobody means: told before the literal `2 lb` is added. */
  fraction({ figures: [below, ...others], span }: LiteralNode): void {
    const above = this.tokens[this.tokens.length - 2];
    const stroke = this.#last();
    if (below?.unit == null || others.length > 0 || stroke?.tokenType !== T.Operator || above?.tokenType !== T.Literal)
      return;
    const [over, ...more] = (above.payload as LiteralNode).figures;
    const typed = `${over?.text}/${below.text}`;
    if (over === undefined || over.unit !== null || more.length > 0 || endOf(above) !== span.start - 1) return;
    if (!/^\d+\/\d+$/.test(typed) || over.value >= below.value) return;
    const unit = this.#text.slice(below.unit.span.start, span.end);
    const figure = decimalOf(over.value / below.value);
    const whole = { start: above.startOffset, end: span.end };
    const [share, apart] = [`${figure} ${unit}`, `${over.text} / (${below.text} ${unit})`];
    this.tell(whole, `${typed} ${unit} can be read two ways: write ${share} or ${apart}.`, [
      mend(`Write ${share}`, whole, share),
      mend(`Write ${apart}`, whole, apart),
    ]);
  }

  /** `5 % abv`, `7 % AA`: per cent of volume or mass are units of their own, other shares have no word. */
  namedShare(word: string, end: number): boolean {
    const of = SHARES.get(word.toLowerCase());
    const sign = this.lastEnd - 1;
    if (of === undefined || this.#text.charAt(sign) !== "%") return false;
    const span = { start: sign, end };
    this.tell(span, `This unit is written ${of}.`, [mend(`Write ${of}`, span, of)]);
    this.#spoil(end);
    return true;
  }

  /** `500 g per hL`: the word from `start` to `next` stands for the stroke of a unit phrase that ends at `end`. */
  perUnit(start: number, next: number, end: number): void {
    const span = { start: this.lastEnd, end: next };
    this.tell({ start, end: next - 1 }, "A unit is divided with a stroke, such as g/hL.", [mend("Write /", span, "/")]);
    this.#spoil(end);
  }

  /** The last token, taken back, where it is a plain figure that ends at `end` or before blanks. */
  takeFigure(): LiteralNode | null {
    const last = this.#last();
    const literal = last?.tokenType === T.Literal ? (last.payload as LiteralNode) : null;
    if (literal === null || literal.figures.length > 1 || literal.figures[0]?.unit !== null) return null;
    this.tokens.pop();
    this.wanting = true;
    return literal;
  }

  /** Puts a broken operand in the last one's place, so that what is wrong with it is told once. */
  #spoil(end: number): void {
    const start = this.tokens.pop()?.startOffset ?? end;
    this.wanting = true;
    this.broken(start, end);
  }

  /** Counts one more level of nesting, and gives up at the limit. */
  deeper(start: number, end: number): void {
    this.#depth += 1;
    if (this.#depth <= NESTING_LIMIT || this.tooDeep) return;
    this.tooDeep = true;
    const says = `This nests more than ${NESTING_LIMIT} deep. Calculate a part of it in a line of its own.`;
    this.tell({ start, end }, says);
  }

  /** A sign directly behind `^` nests. */
  signedPower(start: number, end: number): void {
    const last = this.#last();
    if (last?.tokenType !== T.Operator || last.payload !== "^") return;
    this.#signedPowers += 1;
    this.deeper(start, end);
  }

  /** What a looser operator ends: the row of signed exponents before it. */
  endPowers(): void {
    this.#depth -= this.#signedPowers;
    this.#signedPowers = 0;
  }

  /** `(`, or a function's name with it. `start` and `end` are the parenthesis's. */
  open(call: { readonly start: number; readonly name: string } | null, start: number, end: number): void {
    this.#brackets.push({ call: call !== null, start, depth: this.#depth, signedPowers: this.#signedPowers });
    this.#signedPowers = 0;
    this.deeper(start, end);
    if (call === null) this.opening(T.Open, start, end, null);
    else {
      const payload: T.FunctionPayload = { name: call.name, nameEnd: start };
      this.opening(T.FunctionName, call.start, end, payload);
    }
  }

  close(start: number, end: number) {
    const bracket = this.#brackets.pop();
    const sign = { start, end };
    if (bracket === undefined)
      return this.tell(sign, "This parenthesis closes nothing.", [mend("Take it out", sign, "")]);
    this.#depth = bracket.depth;
    this.#signedPowers = bracket.signedPowers;
    if (this.#last()?.tokenType === T.FunctionName) this.wanting = false;
    this.behind(T.Close, start, end, null);
  }

  comma(start: number, end: number): void {
    const innermost = this.#brackets[this.#brackets.length - 1];
    this.#depth = innermost === undefined ? 0 : innermost.depth + 1;
    this.#signedPowers = 0;
    this.between(T.Comma, start, end, null);
  }

  /** Where the calculation ends, before `start`: closes what is still open, and says where it was opened. */
  finish(start: number, end: number): void {
    const [outermost] = this.#brackets;
    if (this.wanting && this.#last()?.tokenType !== T.FunctionName) this.missingOperand(start, end);
    if (outermost === undefined) return;
    const place = this.lastEnd;
    const missing = ")".repeat(this.#brackets.length);
    const sign = { start: outermost.start, end: outermost.start + 1 };
    this.tell(sign, "This parenthesis is not closed.", [mend(`Add ${missing}`, { start: place, end: place }, missing)]);
    for (const _ of this.#brackets) this.tokens.push(T.makeToken(T.Close, place, place, null));
    this.wanting = false;
    this.#depth = outermost.depth;
    this.#signedPowers = outermost.signedPowers;
    this.#brackets.length = 0;
  }
}

/** Words behind per cent, and the unit that is meant. */
const SHARES: ReadonlyMap<string, string> = new Map([
  ["abv", "% vol"],
  ["abw", "% mass"],
  ["aa", "%"],
  ["alpha", "%"],
]);

const endOf = (token: IToken): number => (token.endOffset ?? token.startOffset) + 1;
