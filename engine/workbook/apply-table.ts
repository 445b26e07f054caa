import { nameKey } from "../base/names.ts";
import { entryText, quoteEntry, type Rows, readRows } from "../parser/csv.ts";
import { quoteText } from "../parser/texts.ts";
import type { ParsedColumn } from "../parser/tree.ts";
import { PAGE_LENGTH, type RowPage, type TableItem } from "./document.ts";
import type { Edit } from "./edit.ts";

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

/** An entry with its quotes. */
function outer(rows: Rows, entry: number): { readonly start: number; readonly end: number } {
  const by = rows.quoted[entry] === 1 ? 1 : 0;
  return { start: (rows.starts[entry] as number) - by, end: (rows.ends[entry] as number) + by };
}

/** The lines of all rows, line ends included; blank lines stay with the row after them. */
const linesOf = (item: TableItem): string[] => item.rows.flatMap(({ text }) => linesIn(text));

function linesIn(text: string): string[] {
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

function lineEndAfter(text: string, at: number): number {
  const end = /\r\n|\r|\n/g;
  end.lastIndex = at;
  return end.exec(text) === null ? text.length : end.lastIndex;
}

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

/** The blanks before the rows that are there, or two more than the table's own. */
const indentOf = (item: TableItem): string =>
  /^[^\S\r\n]*(?=\S)/.exec(item.rows[0]?.text ?? "")?.[0] ?? `${/^[^\S\r\n]*/.exec(item.source)?.[0] ?? ""}    `;

const HAS_ROWS = /(?:^|[\r\n])[^\S\r\n]*rows[^\S\r\n]*(?:#[^\r\n]*)?(?:\r\n|\r|\n)$/;

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

/** The table with a `rows` line, which one without rows may lack. */
const withRowsLine = (item: TableItem, lineEnd: string): TableItem =>
  HAS_ROWS.test(item.source) ? item : { ...item, source: `${item.source}${indentOf(item).slice(2)}rows${lineEnd}` };

/** Changed rows are written anew where they stand; new ones follow in pages of their own. */
function readInto(item: TableItem, edit: Extract<TableEdit, { edit: "read-rows" }>, lineEnd: string): TableApplied {
  const indent = indentOf(item);
  const changes = new Map(edit.changed.map(({ row, entries }) => [row, rowLine(entries, indent, lineEnd)]));
  const old = item.rows.reduce((count, page) => count + page.count, 0);
  for (const row of changes.keys()) if (!(row >= 0 && row < old)) return `There is no row ${row + 1}.`;
  const pages = edit.pages.map((page) => pageOfTable(item, page, lineEnd));
  const changed = changes.size === 0 ? item.rows : withChanged(item.rows, changes);
  const last = changed.at(-1);
  const rows =
    last === undefined || pages.length === 0 || /[\r\n]$/.test(last.text)
      ? changed
      : changed.with(-1, { ...last, text: last.text + lineEnd });
  const table = { ...withRowsLine(item, lineEnd), rows: [...rows, ...pages] };
  return {
    is: "rows",
    table: edit.mapping === null || edit.mapping === item.mapping ? table : withMapping(table, edit.mapping, lineEnd),
  };
}

/** Pages in which none of these rows stands stay as they are. */
function withChanged(pages: readonly RowPage[], changes: ReadonlyMap<number, string>): RowPage[] {
  let first = 0;
  return pages.map((page) => {
    const rows = Array.from({ length: page.count }, (_, at) => changes.get(first + at));
    first += page.count;
    if (rows.every((line) => line === undefined)) return page;
    const text = linesIn(page.text)
      .map((line, at) => rows[at] ?? line)
      .join("");
    return { ...page, text };
  });
}

/** A page of CSV lines as it stands in this table: indented like its rows. One that begins with a blank does already, and stays the same object. */
export const pageOfTable = (item: TableItem, page: RowPage, lineEnd: string): RowPage =>
  /^[^\S\r\n]/.test(page.text) ? page : { text: indented(page.text, indentOf(item), lineEnd), count: page.count };

/** A row of one empty entry would be a blank line, which is no row. */
const rowLine = (entries: readonly string[], indent: string, lineEnd: string): string =>
  `${indent}${entries.length === 1 && entries[0] === "" ? '""' : entries.map(quoteEntry).join(", ")}${lineEnd}`;

/** CSV lines with blanks before each row, and a line end behind the last. */
function indented(text: string, indent: string, lineEnd: string): string {
  const rows = readRows(text);
  const parts: string[] = [];
  let from = 0;
  for (let row = 0; row < rows.count; row += 1) {
    const start = lineStart(text, rows.starts[rows.firsts[row] as number] as number);
    parts.push(text.slice(from, start), indent);
    from = start;
  }
  parts.push(text.slice(from));
  const whole = parts.join("");
  return /[\r\n]$/.test(whole) ? whole : whole + lineEnd;
}

const MAPPING_LINE = /^[^\S\r\n]*mapping[^\S\r\n]+"[^\r\n]*(?:\r\n|\r|\n)/m;
const ROWS_LINE = /^[^\S\r\n]*rows[^\S\r\n]*(?:#[^\r\n]*)?(?:\r\n|\r|\n)$/m;

/** The mapping stands before the rows, once. */
function withMapping(item: TableItem, mapping: string, lineEnd: string): TableItem {
  const line = `${indentOf(item).slice(2)}mapping ${quoteText(mapping)}${lineEnd}`;
  const known = MAPPING_LINE.exec(item.source);
  const source =
    known === null
      ? item.source.replace(ROWS_LINE, (rows) => line + rows)
      : item.source.slice(0, known.index) + line + item.source.slice(known.index + known[0].length);
  return { ...item, source, mapping };
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

function lineStart(text: string, at: number): number {
  let start = at;
  while (start > 0 && text[start - 1] !== "\n" && text[start - 1] !== "\r") start -= 1;
  return start;
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
