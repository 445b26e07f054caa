import { type Span, shift } from "../base/span.ts";
import { type Fault, fault, type Mend } from "../diagnostics/diagnostic.ts";
import { skipBlanks, skipName } from "./characters.ts";
import { endsLine } from "./lines.ts";
import type { Parser } from "./parser.ts";
import { readText, startsText } from "./texts.ts";

/** Reads a stretch of the file; spans of the statement and its faults are relative to its source. */
export class StatementReader {
  readonly text: string;
  readonly parser: Parser;
  /** Where the statement's source starts in the file. */
  start = 0;
  faults: Fault[] = [];

  constructor(text: string, parser: Parser) {
    this.text = text;
    this.parser = parser;
  }

  /** A stretch of the file as one of the statement. */
  span(start: number, end: number): Span {
    return { start: start - this.start, end: end - this.start };
  }

  /** Tells what is wrong at a stretch of the file. */
  tell(start: number, end: number, says: string, mends: readonly Mend[] = []): void {
    this.faults.push(fault("syntax", this.span(start, end), { says }, mends));
  }

  /** Faults of what was parsed apart, from `at` of the file on. */
  adopt(faults: readonly Fault[], at: number): void {
    for (const each of faults) {
      const by = at - this.start;
      const mends = each.mends.map((one) => ({
        label: one.label,
        replace: one.replace.map(({ span, text }) => ({ span: shift(span, by), text })),
      }));
      this.faults.push({ ...each, span: shift(each.span, by), mends });
    }
  }

  /** The name at `at`, or the word that stands in its place, told. */
  name(at: number, end: number): { readonly name: string; readonly nameSpan: Span; readonly after: number } {
    const to = skipName(this.text, at);
    if (to > at)
      return { name: this.text.slice(at, to), nameSpan: this.span(at, to), after: skipBlanks(this.text, to) };
    const word = /^[^\s:="(]*/.exec(this.text.slice(at, end))?.[0] ?? "";
    this.tell(
      at,
      Math.max(at + word.length, Math.min(at + 1, end)),
      "A name begins with a letter; letters, digits and _ follow.",
    );
    const after = skipBlanks(this.text, at + word.length);
    return { name: word, nameSpan: this.span(at, at + word.length), after };
  }

  /** The label at `at`, if one stands there. */
  label(at: number): { readonly label: string | null; readonly after: number } {
    if (!startsText(this.text, at)) return { label: null, after: at };
    const read = readText(this.text, at);
    if (read.fault !== null) this.adopt([read.fault], 0);
    return { label: read.node.value, after: skipBlanks(this.text, read.node.span.end) };
  }

  /** Tells what stands where the line should end. */
  ends(at: number, end: number): void {
    if (!endsLine(this.text, at)) this.tell(at, end, "Nothing more belongs on this line but a # note.");
  }
}
