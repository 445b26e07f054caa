import { nameKey } from "../base/names.ts";
import { entryText, quoteEntry, type Rows, readRows } from "../parser/csv.ts";
import type { ParsedColumn } from "../parser/tree.ts";
import { PAGE_LENGTH, type RowPage, type TableItem } from "./document.ts";
import type { Edit } from "./edit.ts";
import { readInto } from "./read-rows.ts";
import { indentOf, lineEndAfter, lineStart, linesIn, outer, rowLine, withRowsLine } from "./row-lines.ts";

export type TableEdit = Extract<Edit, { readonly table: string }>;

/** The table with other rows; or its whole text anew, where its columns changed; or why it cannot be done. */
export type TableApplied =
  | { readonly is: "rows"; readonly table: TableItem }
  | { readonly is: "text"; readonly text: string }
  | string;

export function applyToTable(item: TableItem, edit: TableEdit, lineEnd: string): TableApplied {
  switch (edit.edit) {
    case "set-entry":
      return setEntry(item, edit.row, edit.column, edit.entry);
    case "add-rows":
      return addRows(item, edit.at, edit.rows, lineEnd);
    case "remove-rows":
      return changeLines(item, (lines) =>
        edit.at < 0 || edit.count < 0 || edit.at + edit.count > lines.length
          ? null
          : lines.toSpliced(edit.at, edit.count),
      );
    case "move-row":
      return changeLines(item, (lines) => {
        const line = lines[edit.at];
        return line === undefined || edit.to < 0 || edit.to >= lines.length
          ? null
          : lines.toSpliced(edit.at, 1).toSpliced(edit.to, 0, line);
      });
    case "read-rows":
      return readInto(item, edit, lineEnd);
    case "add-column":
      return addColumn(item, edit.at, edit.text, lineEnd);
    case "set-column":
      return setColumn(item, edit.column, edit.text);
    case "remove-column":
      return removeColumn(item, edit.column);
  }
}

const measured = (item: TableItem): readonly ParsedColumn[] => item.columns.filter((column) => column.formula === null);

/** The place of a row in its page. */
function pageOf(item: TableItem, row: number): { readonly page: number; readonly row: number } | null {
  let left = row;
  for (const [page, { count }] of item.rows.entries()) {
    if (left >= 0 && left < count) return { page, row: left };
    left -= count;
  }
  return null;
}

function setEntry(item: TableItem, row: number, column: string, entry: string): TableApplied {
  const at = measured(item).findIndex(({ name }) => nameKey(name) === nameKey(column));
  if (at < 0)
    return item.columns.some(({ name }) => nameKey(name) === nameKey(column))
      ? `"${column}" is worked out; its formula is changed instead.`
      : `There is no column "${column}".`;
  const place = pageOf(item, row);
  const page = place === null ? undefined : item.rows[place.page];
  if (place === null || page === undefined) return `There is no row ${row + 1}.`;
  const text = withEntry(page.text, readRows(page.text), place.row, at, entry.trim());
  return text === page.text
    ? { is: "rows", table: item }
    : { is: "rows", table: { ...item, rows: item.rows.with(place.page, { ...page, text }) } };
}

/** Writes one entry; a row that is too short is filled up to it. */
function withEntry(text: string, rows: Rows, row: number, at: number, entry: string): string {
  const [first, next] = [rows.firsts[row] as number, rows.firsts[row + 1] as number];
  const quoted = quoteEntry(entry);
  if (first + at >= next) {
    const end = outer(rows, next - 1).end;
    return (
      text.slice(0, end) +
      ", ".repeat(at - (next - first) + 1).trimEnd() +
      (quoted === "" ? "" : ` ${quoted}`) +
      text.slice(end)
    );
  }
  const { start, end } = outer(rows, first + at);
  // A lone empty entry would be a blank line, which is no row.
  return text.slice(0, start) + (quoted === "" && next - first === 1 ? '""' : quoted) + text.slice(end);
}

/** The lines of all rows, line ends included; blank lines stay with the row after them. */
const linesOf = (item: TableItem): string[] => item.rows.flatMap(({ text }) => linesIn(text));

/** Pages that stay the same are shared. */
function withLines(item: TableItem, lines: readonly string[]): TableItem {
  const pages: RowPage[] = [];
  for (let at = 0; at < lines.length; at += PAGE_LENGTH) {
    const part = lines.slice(at, at + PAGE_LENGTH);
    const text = part.join("");
    const before = item.rows[pages.length];
    pages.push(before !== undefined && before.text === text ? before : { text, count: part.length });
  }
  return { ...item, rows: pages };
}

function changeLines(item: TableItem, change: (lines: string[]) => string[] | null): TableApplied {
  const lines = change(linesOf(item));
  return lines === null ? "There is no such row." : { is: "rows", table: withLines(item, lines) };
}

function addRows(
  item: TableItem,
  at: number | null,
  rows: readonly (readonly string[])[],
  lineEnd: string,
): TableApplied {
  const wanted = measured(item).length;
  if (wanted === 0) return "This table has no measured column, so it has no rows of its own.";
  if (rows.some((row) => row.length > wanted))
    return `The table takes ${wanted} ${wanted === 1 ? "entry" : "entries"} a row.`;
  const indent = indentOf(item);
  const lines = rows.map((row) => {
    return rowLine(
      Array.from({ length: wanted }, (_, place) => (row[place] ?? "").trim()),
      indent,
      lineEnd,
    );
  });
  const head = withRowsLine(item, lineEnd);
  const old = item.rows.reduce((count, page) => count + page.count, 0);
  if (at !== null && (at < 0 || at > old)) return `There is no row ${at + 1}.`;
  if (at === null || at === old) return { is: "rows", table: appended(head, lines) };
  return { is: "rows", table: withLines(head, linesOf(head).toSpliced(at, 0, ...lines)) };
}

/** New rows at the end touch only the last page. */
function appended(item: TableItem, lines: readonly string[]): TableItem {
  const last = item.rows.at(-1);
  const open = last !== undefined && last.count + lines.length <= PAGE_LENGTH;
  if (open)
    return {
      ...item,
      rows: item.rows.with(-1, { text: last.text + lines.join(""), count: last.count + lines.length }),
    };
  const pages: RowPage[] = [];
  for (let at = 0; at < lines.length; at += PAGE_LENGTH) {
    const part = lines.slice(at, at + PAGE_LENGTH);
    pages.push({ text: part.join(""), count: part.length });
  }
  return { ...item, rows: [...item.rows, ...pages] };
}

// — columns: the rows are written anew —

function entriesOf(item: TableItem): string[][] {
  return item.rows.flatMap(({ text }) => {
    const rows = readRows(text);
    return Array.from({ length: rows.count }, (_, row) => {
      const entries: string[] = [];
      for (let at = rows.firsts[row] as number; at < (rows.firsts[row + 1] as number); at += 1)
        entries.push(entryText(text, rows, at));
      return entries;
    });
  });
}

function rewritten(item: TableItem, header: string, change: ((entries: string[]) => string[]) | null): TableApplied {
  if (change === null) return { is: "text", text: header + item.rows.map(({ text }) => text).join("") + item.tail };
  const indent = indentOf(item);
  const lineEnd = /\r\n|\r|\n/.exec(item.source)?.[0] ?? "\n";
  const rows = entriesOf(item)
    .map(change)
    .filter((entries) => entries.length > 0);
  const lines = rows.map((entries) => rowLine(entries, indent, lineEnd));
  return { is: "text", text: header + lines.join("") + item.tail };
}

/** How many measured columns stand before a place among all columns. */
const measuredBefore = (item: TableItem, at: number): number =>
  item.columns.slice(0, at).filter((column) => column.formula === null).length;

const isWorked = (text: string): boolean => /^[^:="]*(?:"(?:[^"]|"")*")?\s*=/.test(text.replace(/^\s*column\s+/, ""));

const columnLine = (text: string): string =>
  `column ${text
    .replace(/^\s*column\s+/, "")
    .replace(/[\r\n]+/g, " ")
    .trim()}`;

function addColumn(item: TableItem, at: number | null, text: string, lineEnd: string): TableApplied {
  const place = at ?? item.columns.length;
  if (place < 0 || place > item.columns.length) return "There is no such place among the columns.";
  const before = item.columns[place];
  const last = item.columns.at(-1);
  const own = /^[^\S\r\n]*/.exec(item.source)?.[0] ?? "";
  const first = lineEndAfter(item.source, 0);
  const offset =
    before !== undefined
      ? lineStart(item.source, before.span.start)
      : last !== undefined
        ? lineEndAfter(item.source, last.span.end)
        : first;
  const sample = item.columns[0];
  const indent =
    sample === undefined ? `${own}  ` : item.source.slice(lineStart(item.source, sample.span.start), sample.span.start);
  const header = `${item.source.slice(0, offset)}${indent}${columnLine(text)}${lineEnd}${item.source.slice(offset)}`;
  const entry = measuredBefore(item, place);
  return rewritten(item, header, isWorked(text) ? null : (entries) => entries.toSpliced(entry, 0, ""));
}

function setColumn(item: TableItem, name: string, text: string): TableApplied {
  const at = item.columns.findIndex((column) => nameKey(column.name) === nameKey(name));
  const column = item.columns[at];
  if (column === undefined) return `There is no column "${name}".`;
  const header = item.source.slice(0, column.span.start) + columnLine(text) + item.source.slice(column.span.end);
  const [was, is] = [column.formula !== null, isWorked(text)];
  const entry = measuredBefore(item, at);
  if (was === is) return rewritten(item, header, null);
  return rewritten(
    item,
    header,
    is ? (entries) => entries.toSpliced(entry, 1) : (entries) => entries.toSpliced(entry, 0, ""),
  );
}

function removeColumn(item: TableItem, name: string): TableApplied {
  const at = item.columns.findIndex((column) => nameKey(column.name) === nameKey(name));
  const column = item.columns[at];
  if (column === undefined) return `There is no column "${name}".`;
  const header =
    item.source.slice(0, lineStart(item.source, column.span.start)) +
    item.source.slice(lineEndAfter(item.source, column.span.end));
  const entry = measuredBefore(item, at);
  return rewritten(item, header, column.formula !== null ? null : (entries) => entries.toSpliced(entry, 1));
}
