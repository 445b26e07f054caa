import type { Span } from "../base/span.ts";
import { type Fault, fault, mend } from "../diagnostics/diagnostic.ts";

const A_TIME = { word: "instant", says: "A date or time is written instant." };
const WORDS = { word: "text", says: "Words are written text." };
const A_TRUTH = { word: "truth", says: "Yes or no is written truth." };

/** What a reading that is no figure is asked for by, before the word of the language is known. */
const ASKED: ReadonlyMap<string, typeof A_TIME> = new Map([
  ...["date", "dates", "time", "clock", "datetime", "date/time", "timestamp", "moment"].map(
    (one) => [one, A_TIME] as const,
  ),
  ...["word", "words", "note", "notes", "name", "string"].map((one) => [one, WORDS] as const),
  ...["yes/no", "y/n", "true/false", "boolean", "bool", "condition", "tick"].map((one) => [one, A_TRUTH] as const),
]);

/** `date`, `words`, `yes/no` at `span`, where a reading is asked for; null: it is no such word. */
export function askedWord(spelling: string, span: Span): Fault | null {
  const found = ASKED.get(spelling.toLowerCase());
  return found === undefined
    ? null
    : fault("syntax", span, { says: found.says }, [mend(`Write ${found.word}`, span, found.word)]);
}

const YES_OR_NO = /^(\s*\?\s*)yes\s*(?:\/|\bor\b)\s*no\b/i;

/** `? yes/no`, which asks for nothing that the grammar knows; null: it is not asked. */
export function yesOrNo(text: string): Fault | null {
  const [typed, before = ""] = YES_OR_NO.exec(text) ?? [];
  return typed === undefined ? null : askedWord("yes/no", { start: before.length, end: typed.length });
}
