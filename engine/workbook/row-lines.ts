import { quoteEntry, type Rows, readRows } from "../parser/csv.ts";
import type { TableItem } from "./document.ts";

/*
 * The lines of a table's rows as text.
 */

/** An entry with its quotes. */
export function outer(rows: Rows, entry: number): { readonly start: number; readonly end: number } {
  const by = rows.quoted[entry] === 1 ? 1 : 0;
  return { start: (rows.starts[entry] as number) - by, end: (rows.ends[entry] as number) + by };
}

/** The lines of a page's rows, line ends included; blank lines stay with the row after them. */
export function linesIn(text: string): string[] {
  const rows = readRows(text);
  const lines: string[] = [];
  let start = 0;
  for (let row = 0; row < rows.count; row += 1) {
    const last = outer(rows, (rows.firsts[row + 1] as number) - 1).end;
    const end = row === rows.count - 1 ? text.length : lineEndAfter(text, last);
    lines.push(text.slice(start, end));
    start = end;
  }
  return lines;
}

/** Past the end of the line that `at` stands in. */
export function lineEndAfter(text: string, at: number): number {
  const end = /\r\n|\r|\n/g;
  end.lastIndex = at;
  return end.exec(text) === null ? text.length : end.lastIndex;
}

/** The start of the line that `at` stands in. */
export function lineStart(text: string, at: number): number {
  let start = at;
  while (start > 0 && text[start - 1] !== "\n" && text[start - 1] !== "\r") start -= 1;
  return start;
}

/** The blanks before the rows that are there, or two more than the table's own. */
export const indentOf = (item: TableItem): string =>
  /^[^\S\r\n]*(?=\S)/.exec(item.rows[0]?.text ?? "")?.[0] ?? `${/^[^\S\r\n]*/.exec(item.source)?.[0] ?? ""}    `;

/** A row of one empty entry would be a blank line, which is no row. */
export const rowLine = (entries: readonly string[], indent: string, lineEnd: string): string =>
  `${indent}${entries.length === 1 && entries[0] === "" ? '""' : entries.map(quoteEntry).join(", ")}${lineEnd}`;

const HAS_ROWS = /(?:^|[\r\n])[^\S\r\n]*rows[^\S\r\n]*(?:#[^\r\n]*)?(?:\r\n|\r|\n)$/;

/** The table with a `rows` line, which one without rows may lack. */
export const withRowsLine = (item: TableItem, lineEnd: string): TableItem =>
  HAS_ROWS.test(item.source) ? item : { ...item, source: `${item.source}${indentOf(item).slice(2)}rows${lineEnd}` };
