import type { Span } from "../base/span.ts";
import { type Fault, fault, mend } from "../diagnostics/diagnostic.ts";

/** What a reading that is no figure is asked for by, before the word of the language is known: its word, what is meant, how it is typed. */
const ASKED = [
  ["instant", "A date or time is", /^(?:dates?|time|date\/?time|timestamp|moment)$/i],
  ["text", "Words are", /^(?:words?|notes?|names?|string)$/i],
  ["truth", "Yes or no is", /^(?:yes\/no|true\/false|bool(?:ean)?|condition)$/i],
] as const;

/** `date`, `words`, `yes/no` at `span`, where a reading is asked for; null: it is no such word. */
export function askedWord(spelling: string, span: Span): Fault | null {
  for (const [word, meant, typed] of ASKED)
    if (typed.test(spelling))
      return fault("syntax", span, { says: `${meant} written ${word}.` }, [mend(`Write ${word}`, span, word)]);
  return null;
}

/** `? yes/no`, which asks for nothing that the grammar knows; null: it is not asked. */
export function yesOrNo(text: string): Fault | null {
  const [typed, before = ""] = /^(\s*\?\s*)yes\s*(?:\/|or\b)\s*no\b/i.exec(text) ?? [];
  return typed === undefined ? null : askedWord("yes/no", { start: before.length, end: typed.length });
}
