import { isBlank, isDigit, isLineEnd, skipBlanks, skipLine, skipName, startsName } from "./characters.ts";
import { readText, startsText } from "./texts.ts";
import type { TextNode } from "./tree.ts";

/** The words that begin a statement, or a line inside a table or plot. They count only where no `=` follows the first word and its label. */
export const STRUCTURAL_WORDS = [
  "gylebook",
  "library",
  "title",
  "lens",
  "zone",
  "unit",
  "function",
  "sheet",
  "section",
  "table",
  "column",
  "mapping",
  "rows",
  "end",
  "plot",
  "across",
  "line",
] as const;
export type StructuralWord = (typeof STRUCTURAL_WORDS)[number];

/** How a line begins. */
export interface Head {
  /** Offset of the first character that is no blank. */
  readonly start: number;
  /** Of the line, its line end not included. */
  readonly end: number;
  /** `name =` is a cell, `word means unit` an agreement; null where a statement begins with none of these. */
  readonly is: StructuralWord | "cell" | "means" | "gap" | "prose" | null;
  /** Past the first word. */
  readonly wordEnd: number;
  readonly label: TextNode | null;
  /** Past the first word, its label and blanks; for a cell past the `=`. */
  readonly after: number;
}

/** Past the line end (LF, CRLF or CR) at `at`. */
export const skipLineEnd = (text: string, at: number): number =>
  text.charCodeAt(at) === 13 && text.charCodeAt(at + 1) === 10 ? at + 2 : Math.min(at + 1, text.length);

const WORDS: ReadonlySet<string> = new Set(STRUCTURAL_WORDS);
export const isStructural = (word: string): word is StructuralWord => WORDS.has(word);

/** Words of a unit, then `means`: `fl oz means US fl oz`. */
const MEANS = /^(\S+(?:[ \t]\S+)?)[ \t]+means[ \t]+(?=\S)/;
/** Enough of a line to hold a trade word and `means`. */
const MEANS_LENGTH = 60;

/** Reads how the line at `at` begins; `at` may be anywhere in the blanks before it. */
export function readHead(text: string, at: number): Head {
  const start = skipBlanks(text, at);
  const code = text.charCodeAt(start);
  if (start >= text.length || isLineEnd(code)) return plainHead(start, start, "gap");
  const end = skipLine(text, start);
  if (code === 35) return plainHead(start, end, "gap");
  if (code === 62) return plainHead(start, end, "prose");
  const wordEnd = skipName(text, start);
  if (wordEnd === start) return plainHead(start, end, meansAt(text, start, end));
  let after = skipBlanks(text, wordEnd);
  let label: TextNode | null = null;
  if (startsText(text, after)) {
    label = readText(text, after).node;
    after = skipBlanks(text, label.span.end);
  }
  if (text.charCodeAt(after) === 61 && text.charCodeAt(after + 1) !== 61) {
    return { start, end, is: "cell", wordEnd, label, after: after + 1 };
  }
  const word = text.slice(start, wordEnd);
  const is = isStructural(word) && hasWhatItNeeds(word, text, after, label) ? word : meansAt(text, start, end);
  return { start, end, is, wordEnd, label, after };
}

const plainHead = (start: number, end: number, is: Head["is"]): Head => ({
  start,
  end,
  is,
  wordEnd: start,
  label: null,
  after: start,
});

const meansAt = (text: string, start: number, end: number): "means" | null =>
  MEANS.test(text.slice(start, Math.min(end, start + MEANS_LENGTH))) ? "means" : null;

/** The agreement of a line whose head is `means`: its word, and where its unit begins. */
export function readMeans(text: string, head: Head): { readonly word: string; readonly unitStart: number } {
  const [whole = "", word = ""] = MEANS.exec(text.slice(head.start, head.start + MEANS_LENGTH)) ?? [];
  return { word, unitStart: head.start + whole.length };
}

function hasWhatItNeeds(word: StructuralWord, text: string, after: number, label: TextNode | null): boolean {
  const code = text.charCodeAt(after);
  switch (word) {
    case "gylebook":
    case "library":
      return label === null && isDigit(code);
    case "title":
    case "section":
    case "plot":
    case "mapping":
      return label !== null;
    case "lens":
    case "zone":
      return label !== null || (code > 32 && code !== 35);
    case "rows":
    case "end":
      return label === null && endsLine(text, after);
    case "unit":
      return text.charCodeAt(skipBlanks(text, skipName(text, after))) === 61 && startsName(text, after);
    case "function": {
      const name = skipName(text, after);
      return name > after && text.charCodeAt(skipBlanks(text, name)) === 40;
    }
    default:
      return label === null && startsName(text, after);
  }
}

/** Whether only blanks or a note stand from `at` to the line's end. */
export function endsLine(text: string, at: number): boolean {
  const from = skipBlanks(text, at);
  const code = text.charCodeAt(from);
  return from >= text.length || isLineEnd(code) || code === 35;
}

/** Words that begin a line only inside a table or plot. */
const BLOCK_WORDS: ReadonlySet<string> = new Set(["rows", "end", "mapping", "across", "line"]);

/** Whether the head ends an open parenthesis before it; a word of a block does so only in its block. */
export const startsStatement = ({ is }: Head, inBlock: boolean): boolean =>
  is !== null && is !== "gap" && is !== "prose" && (inBlock || !BLOCK_WORDS.has(is));

/**
 * The end, line end not included, of the statement whose formula stands at `from`: its line's, or further lines' while a
 * parenthesis is open and none of them starts a statement.
 */
export function statementEnd(text: string, from: number, inBlock: boolean): number {
  let open = 0;
  let at = from;
  for (;;) {
    while (at < text.length) {
      const code = text.charCodeAt(at);
      if (isLineEnd(code)) break;
      if (code === 40) open += 1;
      else if (code === 41) open -= 1;
      else if (code === 34) at = skipQuoted(text, at);
      else if (code === 35) {
        at = skipLine(text, at);
        continue;
      }
      at += 1;
    }
    if (open <= 0 || at >= text.length) return at;
    const next = skipLineEnd(text, at);
    if (next >= text.length || startsStatement(readHead(text, next), inBlock)) return at;
    at = next;
  }
}

/** The closing quote of the text that opens at `at`, or the last character of its line. */
function skipQuoted(text: string, at: number): number {
  let to = at + 1;
  while (to < text.length && !isLineEnd(text.charCodeAt(to))) {
    if (text.charCodeAt(to) === 34) return to;
    to += 1;
  }
  return to - 1;
}

/** `from` to `end` without outer blanks and without a note behind a `#`. */
export function trimmed(text: string, from: number, end: number): string {
  const note = text.slice(from, end).indexOf("#");
  let to = note < 0 ? end : from + note;
  const start = skipBlanks(text, from);
  while (to > start && isBlank(text.charCodeAt(to - 1))) to -= 1;
  return text.slice(start, to);
}

/** The unit names that a file defines and the trade words that it settles: to be known before its formulas are parsed. */
export function scanUnitNames(text: string): {
  readonly names: readonly string[];
  /** `gal means US gal` is word `gal`, unit `US gal`. */
  readonly means: readonly { readonly word: string; readonly unit: string }[];
} {
  const names: string[] = [];
  const means: { word: string; unit: string }[] = [];
  let at = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  while (at < text.length) {
    const from = skipBlanks(text, at);
    const end = skipLine(text, from);
    const line =
      text.startsWith("unit", from) || text.slice(from, Math.min(end, from + MEANS_LENGTH)).includes(" means ");
    if (line) {
      const head = readHead(text, from);
      if (head.is === "unit") names.push(text.slice(head.after, skipName(text, head.after)));
      if (head.is === "means") {
        const { word, unitStart } = readMeans(text, head);
        means.push({ word, unit: trimmed(text, unitStart, end) });
      }
    }
    at = skipLineEnd(text, end);
  }
  return { names, means };
}
