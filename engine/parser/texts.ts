import { type Fault, fault, mend } from "../diagnostics/diagnostic.ts";
import { isBlank, isLineEnd, skipLine } from "./characters.ts";
import type { TextNode } from "./tree.ts";

/*
 * A text stands between straight quotes on one line: `""` is a quote, `\n` a line break, `\\` a backslash; any other
 * backslash is itself. Typographic and single quotes are understood and told, with the straight ones as the mend.
 */

const CLOSERS: ReadonlyMap<string, string> = new Map([
  ['"', '"'],
  ["“", '”“"'],
  ["”", '”"'],
  ["„", '“”"'],
  ["«", "»"],
  ["»", "«"],
  ["‘", "’‘'"],
  ["’", "’'"],
  ["'", "'’"],
]);

export const startsText = (text: string, at: number): boolean => {
  const code = text.charCodeAt(at);
  return (
    code === 34 || code === 39 || ((code >= 0x2018 || code === 0xab || code === 0xbb) && CLOSERS.has(text.charAt(at)))
  );
};

const escapesRead = (raw: string): string =>
  raw.includes("\\") ? raw.replace(/\\(n|\\)/g, (_, sign: string) => (sign === "n" ? "\n" : "\\")) : raw;

/** The text that a quote opens at `at`. An unclosed one ends with its line, before outer blanks. */
export function readText(text: string, at: number): { readonly node: TextNode; readonly fault: Fault | null } {
  const closers = CLOSERS.get(text.charAt(at)) ?? '"';
  const straight = text.charCodeAt(at) === 34;
  let raw = "";
  let from = at + 1;
  for (let to = from; ; to += 1) {
    if (to >= text.length || isLineEnd(text.charCodeAt(to))) return unclosed(text, at, raw, from);
    if (!closers.includes(text.charAt(to))) continue;
    raw += text.slice(from, to);
    if (straight && text.charCodeAt(to + 1) === 34) {
      raw += '"';
      to += 1;
      from = to + 1;
      continue;
    }
    const span = { start: at, end: to + 1 };
    const node: TextNode = { node: "text", span, value: escapesRead(raw) };
    if (straight) return { node, fault: null };
    const quoted = quoteText(node.value);
    const says = `Text stands between straight quotes: ${quoted}.`;
    return { node, fault: fault("syntax", span, { says }, [mend(`Write ${quoted}`, span, quoted)]) };
  }
}

function unclosed(text: string, at: number, before: string, from: number): { node: TextNode; fault: Fault } {
  let end = skipLine(text, from);
  while (end > from && isBlank(text.charCodeAt(end - 1))) end -= 1;
  const node: TextNode = { node: "text", span: { start: at, end }, value: escapesRead(before + text.slice(from, end)) };
  const quoted = quoteText(node.value);
  const says = "This text is not closed: a quote is missing at its end.";
  return { node, fault: fault("syntax", node.span, { says }, [mend("Add the quote", node.span, quoted)]) };
}

/** A text as a formula or label writes it: between quotes, on one line. */
export function quoteText(value: string): string {
  const escaped = value
    .replace(/\\(?=[n\\])/g, "\\\\")
    .replaceAll('"', '""')
    .replace(/\r\n|\r|\n/g, "\\n");
  return `"${escaped}"`;
}
