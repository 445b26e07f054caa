import type { IToken } from "chevrotain";
import type { Span } from "../base/span.ts";
import { skipLine } from "./characters.ts";
import { tokenize } from "./tokenizer.ts";
import * as T from "./tokens.ts";
import type { BlankNode, LiteralNode, UnitPhrase, UnitSpeller } from "./tree.ts";

/** What a stretch of a formula is to the reader; an editor gives each a colour. */
export type Colour =
  | "number"
  | "unit"
  | "name"
  | "function"
  | "keyword"
  | "operator"
  | "text"
  | "instant"
  | "note"
  | "blank"
  | "broken";

export interface Coloured {
  readonly span: Span;
  readonly is: Colour;
}

const WHOLE: ReadonlyMap<unknown, Colour> = new Map([
  [T.Instant, "instant"],
  [T.Text, "text"],
  [T.Truth, "keyword"],
  [T.Name, "name"],
  [T.Broken, "broken"],
  [T.ArgumentName, "name"],
  [T.Open, "operator"],
  [T.Close, "operator"],
  [T.Comma, "operator"],
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

/** The stretches of a formula that are something, in order, not overlapping; blanks between them are left out. */
export function tokensOf(text: string, speller: UnitSpeller): readonly Coloured[] {
  const out: Coloured[] = [];
  const add = (is: Colour, start: number, end: number): void => {
    if (end > start) out.push({ is, span: { start, end } });
  };
  const { tokens } = tokenize(text, speller);
  let from = 0;
  for (const token of tokens) {
    notes(text, from, token.startOffset, add);
    colour(token, text, add);
    from = Math.max(from, (token.endOffset ?? 0) + 1);
  }
  notes(text, from, text.length, add);
  return out;
}

type Add = (is: Colour, start: number, end: number) => void;

/** The notes between two tokens. */
function notes(text: string, from: number, to: number, add: Add): void {
  for (let at = text.indexOf("#", from); at >= 0 && at < to; at = text.indexOf("#", skipLine(text, at))) {
    add("note", at, skipLine(text, at));
  }
}

function colour(token: IToken, text: string, add: Add) {
  const start = token.startOffset;
  const end = (token.endOffset ?? start) + 1;
  switch (token.tokenType) {
    case T.Literal: {
      let at = start;
      for (const figure of (token.payload as LiteralNode).figures) {
        const numberEnd = figure.span.start + figure.text.length;
        add("number", at === start ? start : figure.span.start, numberEnd);
        if (figure.unit !== null) add("unit", figure.unit.span.start, figure.unit.span.end);
        at = figure.span.end;
      }
      return;
    }
    case T.FunctionName: {
      const { nameEnd } = token.payload as T.FunctionPayload;
      add("function", start, nameEnd);
      return add("operator", nameEnd, end);
    }
    case T.As: {
      const unit = token.payload as UnitPhrase | null;
      add("keyword", start, start + 2);
      return unit === null ? undefined : add("unit", unit.span.start, unit.span.end);
    }
    case T.Blank: {
      const asks = token.payload as BlankNode["asks"] | null;
      add("blank", start, start + 1);
      if (asks?.is === "unit") return add("unit", asks.unit.span.start, asks.unit.span.end);
      if (asks === null) return;
      return add("keyword", end - asks.is.length, end);
    }
    case T.Operator:
    case T.Prefixes:
      return add(/[a-z]/i.test(text.slice(start, end)) ? "keyword" : "operator", start, end);
    default:
      return add(WHOLE.get(token.tokenType) ?? "broken", start, end);
  }
}
