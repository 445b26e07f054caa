import type { IToken } from "chevrotain";
import { tokenize } from "./tokenizer.ts";
import * as T from "./tokens.ts";
import type { BlankNode, LiteralNode, NameNode, UnitPhrase, UnitSpeller } from "./tree.ts";

/** What a stretch of a formula is to its reader. */
export type PartKind =
  | "figure"
  | "unit"
  | "text"
  | "instant"
  | "truth"
  | "name"
  | "function"
  | "argument"
  | "operator"
  | "keyword"
  | "open"
  | "close"
  | "comma"
  | "blank"
  | "note"
  | "broken";

/** A coloured stretch of a formula's text; parts stand in order and do not overlap. */
export interface Part {
  readonly start: number;
  readonly end: number;
  readonly is: PartKind;
}

type Add = (start: number, end: number, is: PartKind) => void;

/** The parts of a formula's text with tail and note, for colouring and completion. Blanks, and what was made up to mend the text, are none. */
export function tokensOf(text: string, speller: UnitSpeller): readonly Part[] {
  const { tokens, note } = tokenize(text, speller);
  const parts: Part[] = [];
  const add: Add = (start, end, is) => {
    if (end > start) parts.push({ start, end, is });
  };
  for (const token of tokens) addToken(token, text, add);
  if (note !== null) add(note.span.start, note.span.end, "note");
  // A formula of several lines has a note on each of them; only the last has its place.
  return parts.sort((a, b) => a.start - b.start);
}

const WHOLE: ReadonlyMap<IToken["tokenType"], PartKind> = new Map([
  [T.Instant, "instant"],
  [T.Text, "text"],
  [T.Truth, "truth"],
  [T.Broken, "broken"],
  [T.Open, "open"],
  [T.Close, "close"],
  [T.Comma, "comma"],
  [T.Missing, "keyword"],
  [T.If, "keyword"],
  [T.Then, "keyword"],
  [T.ElseIf, "keyword"],
  [T.Else, "keyword"],
  [T.Where, "keyword"],
  [T.By, "keyword"],
  [T.Within, "keyword"],
  [T.To, "keyword"],
]);

function addToken(token: IToken, text: string, add: Add): void {
  const start = token.startOffset;
  const end = (token.endOffset ?? start - 1) + 1;
  const whole = WHOLE.get(token.tokenType);
  if (whole !== undefined) add(start, end, whole);
  else if (token.tokenType === T.Literal) addLiteral(token.payload as LiteralNode, add);
  else if (token.tokenType === T.Name)
    for (const { span } of (token.payload as NameNode).parts) add(span.start, span.end, "name");
  else if (token.tokenType === T.FunctionName) {
    const { nameEnd } = token.payload as T.FunctionPayload;
    add(start, nameEnd, "function");
    add(nameEnd, end, "open");
  } else if (token.tokenType === T.ArgumentName) add(start, end, "argument");
  else if (token.tokenType === T.As) addAs(token.payload as UnitPhrase | null, start, end, add);
  else if (token.tokenType === T.Blank) addBlank(token.payload as BlankNode["asks"] | null, start, end, add);
  else add(start, end, /^\p{L}/u.test(text.slice(start, end)) ? "keyword" : "operator");
}

function addLiteral({ negative, span, figures }: LiteralNode, add: Add): void {
  const [first] = figures;
  if (negative && first !== undefined) add(span.start, span.start + 1, "operator");
  for (const figure of figures) {
    add(figure.span.start, figure.span.start + figure.text.length, "figure");
    if (figure.unit !== null) add(figure.unit.span.start, figure.unit.span.end, "unit");
  }
}

const AS_LENGTH = "as".length;

function addAs(unit: UnitPhrase | null, start: number, end: number, add: Add): void {
  add(start, unit === null ? end : start + AS_LENGTH, "keyword");
  if (unit !== null) add(unit.span.start, unit.span.end, "unit");
}

function addBlank(asks: BlankNode["asks"] | null, start: number, end: number, add: Add): void {
  add(start, start + 1, "blank");
  if (asks?.is === "unit") add(asks.unit.span.start, asks.unit.span.end, "unit");
  else if (asks !== null) add(end - asks.is.length, end, "keyword");
}
