import { type Colour, tokensOf } from "../parser/colours.ts";
import type { UnitSpeller } from "../parser/tree.ts";

/** What a stretch of a formula is where the next one is completed: its colour, brackets, commas, truths and arguments' names told apart. */
export type PartKind = Colour | "open" | "close" | "comma" | "argument" | "truth";

export interface Part {
  readonly start: number;
  readonly end: number;
  readonly is: PartKind;
}

const TOLD_APART: ReadonlyMap<string, PartKind> = new Map([
  ["(", "open"],
  [")", "close"],
  [",", "comma"],
  ["yes", "truth"],
  ["no", "truth"],
]);

/** The parts of a formula's text in order. */
export const partsOf = (text: string, speller: UnitSpeller): readonly Part[] =>
  tokensOf(text, speller).map(({ span, is }) => {
    const written = text.slice(span.start, span.end);
    const apart =
      is === "name" && written.endsWith(":")
        ? "argument"
        : is === "operator" || is === "keyword"
          ? TOLD_APART.get(written)
          : undefined;
    return { ...span, is: apart ?? is };
  });

/** What stands behind the last parenthesis that is still open, or behind its last comma or argument's name. */
export function innermost(text: string): string {
  let closed = 0;
  for (let at = text.length - 1; at >= 0; at -= 1) {
    const sign = text.charAt(at);
    if (sign === ")") closed += 1;
    else if (sign === "(" && closed > 0) closed -= 1;
    else if (closed === 0 && /[(,:]/.test(sign)) return text.slice(at + 1);
  }
  return text;
}
