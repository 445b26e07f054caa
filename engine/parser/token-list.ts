import type { IToken, TokenType } from "chevrotain";
import type { Span } from "../base/span.ts";
import { type Fault, fault, type Mend, mend } from "../diagnostics/diagnostic.ts";
import { adjacent, missingAfter } from "./faults.ts";
import * as T from "./tokens.ts";

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
    if (!told) this.keep(adjacent(this.#text, type, before, { start, end }));
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

const endOf = (token: IToken): number => (token.endOffset ?? token.startOffset) + 1;
