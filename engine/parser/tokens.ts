import { createToken, type IToken, Lexer, type TokenType } from "chevrotain";
import type { BlankNode } from "./tree.ts";

/*
 * The tokens are made by hand (tokenizer.ts), not by Chevrotain's lexer: what follows a number or `as` is a unit phrase
 * whose spelling is looked up in a catalogue that each workbook extends, while the same letters elsewhere are a name;
 * `-` belongs to a literal only where an operand is expected and a unit follows; `digits-digits-digits` is an instant.
 * A lexer of patterns could tell these apart only with a custom pattern per token that looks back at the tokens before it.
 * What is a leaf of the tree is read whole, so its token carries the finished node as payload.
 */
const type = (name: string): TokenType => createToken({ name, pattern: Lexer.NA });

/** Payload: LiteralNode. */
export const Literal = type("Literal");
/** Payload: InstantNode. */
export const Instant = type("Instant");
/** Payload: TextNode. */
export const Text = type("Text");
/** Payload: TruthNode. */
export const Truth = type("Truth");
/** Payload: NameNode. */
export const Name = type("Name");
/** Payload: BrokenNode; its fault is already told. */
export const Broken = type("Broken");
/** A name directly followed by `(`, the parenthesis included. Payload: FunctionPayload. */
export const FunctionName = type("FunctionName");
/** `name:` before a named argument. Payload: the name's text and span. */
export const ArgumentName = type("ArgumentName");
export const Open = type("Open");
export const Close = type("Close");
export const Comma = type("Comma");
/** A run of `-` or `not` before an operand. Payload: Prefix. */
export const Prefixes = type("Prefixes");
/** Between two operands. Payload: BinaryOperator. */
export const Operator = type("Operator");
/** `is missing`, `is not missing`. Payload: whether negated. */
export const Missing = type("Missing");
export const If = type("If");
export const Then = type("Then");
export const ElseIf = type("ElseIf");
export const Else = type("Else");
export const Where = type("Where");
/** `as` with its unit phrase. Payload: UnitPhrase, or null when there is none and that is told. */
export const As = type("As");
export const By = type("By");
export const Within = type("Within");
export const To = type("To");
/** `?` with what it asks for. Payload: BlankNode["asks"], or null when a bare `?`. */
export const Blank = type("Blank");

export const TOKEN_TYPES: TokenType[] = [
  Literal,
  Instant,
  Text,
  Truth,
  Name,
  Broken,
  FunctionName,
  ArgumentName,
  Open,
  Close,
  Comma,
  Prefixes,
  Operator,
  Missing,
  If,
  Then,
  ElseIf,
  Else,
  Where,
  As,
  By,
  Within,
  To,
  Blank,
];

/** `not not - x` is two runs, `not` twice and `-` once; a `not` never follows a `-`. */
export interface Prefix {
  readonly nots: number;
  readonly minuses: number;
}

export interface FunctionPayload {
  readonly name: string;
  readonly nameEnd: number;
}

export type BinaryOperator = "+" | "-" | "*" | "/" | "^" | "or" | "and" | "is" | "is not" | "<" | "<=" | ">" | ">=";

/** A token of `text.slice(start, end)`. Chevrotain counts `endOffset` as the last character; its `image` is never read here. */
export const makeToken = (tokenType: TokenType, start: number, end: number, payload: unknown): IToken => ({
  image: "",
  startOffset: start,
  endOffset: end - 1,
  tokenType,
  tokenTypeIdx: tokenType.tokenTypeIdx as number,
  payload,
});

/** Words that are never names, compared without case. */
export const RESERVED_WORDS: ReadonlySet<string> = new Set([
  "as",
  "by",
  "within",
  "to",
  "where",
  "if",
  "then",
  "else",
  "or",
  "and",
  "not",
  "is",
  "missing",
  "yes",
  "no",
]);

/** The length of the longest reserved word. */
export const LONGEST_RESERVED = Math.max(...[...RESERVED_WORDS].map((word) => word.length));

/** What a `?` may ask for beside a unit. */
export const ASKS: ReadonlyMap<string, BlankNode["asks"]> = new Map([
  ["number", { is: "number" }],
  ["text", { is: "text" }],
  ["instant", { is: "instant" }],
  ["truth", { is: "truth" }],
]);
