import { readRows } from "../parser/csv.ts";
import { quoteText } from "../parser/texts.ts";
import { PAGE_LENGTH, type RowPage, type TableItem } from "./document.ts";
import type { Edit } from "./edit.ts";
import { paged } from "./open.ts";
import { indentOf, lineStart, linesIn, rowLine, withRowsLine } from "./row-lines.ts";

export type ReadRows = Extract<Edit, { readonly edit: "read-rows" }>;

/** The table with what reading brings; or why it cannot be done. */
export function readInto(
  item: TableItem,
  edit: ReadRows,
  lineEnd: string,
): { readonly is: "rows"; readonly table: TableItem } | string {
  const rows = edit.made === undefined ? allOf(pagesRead(item, edit, lineEnd)) : madeFor(item, edit.made);
  if (typeof rows === "string") return rows;
  const table = { ...withRowsLine(item, lineEnd), rows };
  return {
    is: "rows",
    table: edit.mapping === null || edit.mapping === item.mapping ? table : withMapping(table, edit.mapping, lineEnd),
  };
}

/** Versions of a table share pages: what was made ahead fits where the table still holds the very pages that it was made from. */
const madeFor = (item: TableItem, { from, rows }: NonNullable<ReadRows["made"]>): readonly RowPage[] | string =>
  from.length === item.rows.length && from.every((page, at) => page === item.rows[at])
    ? rows
    : "The table was changed while the file was being read. Read the file in again.";

function allOf<T>(work: Generator<unknown, T>): T {
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
  }
}

/**
 * The pages that a table has after a reading, each given as it is made; pages in which nothing changes are shared. Changed
 * rows are written anew where they stand, new ones stand in their places, the rest of them at the end.
 */
export function* pagesRead(
  item: TableItem,
  { changed, pages, places }: ReadRows,
  lineEnd: string,
): Generator<RowPage, readonly RowPage[] | string> {
  const indent = indentOf(item);
  const old = item.rows.reduce((count, page) => count + page.count, 0);
  /** By row of the table, which of the changes it takes, from 1; 0: none. */
  const changes = new Int32Array(old);
  for (const [at, { row }] of changed.entries()) {
    if (!(row >= 0 && row < old)) return `There is no row ${row + 1}.`;
    changes[row] = at + 1;
  }
  const fresh = new NewRows(pages, (page) => pageOfTable(item, page, lineEnd));
  const made: RowPage[] = [];
  let [first, place] = [0, 0];
  for (const page of item.rows) {
    const parts: string[] = [];
    const next = first + page.count;
    const isTouched = (places[place]?.before ?? old) < next || changes.subarray(first, next).some((at) => at > 0);
    const lines = isTouched ? linesIn(page.text) : [];
    for (const [at, line] of lines.entries()) {
      for (; places[place]?.before === first + at; place += 1) parts.push(...fresh.take(places[place]?.count ?? 0));
      const change = changed[(changes[first + at] ?? 0) - 1];
      parts.push(change === undefined ? line : rowLine(change.entries, indent, lineEnd));
    }
    first = next;
    if (parts.length === 0) made.push(page);
    for (const part of paged(parts, PAGE_LENGTH)) {
      const one = { text: part.join(""), count: part.length };
      made.push(one);
      yield one;
    }
  }
  const last = made.at(-1);
  for (const page of fresh.rest()) {
    if (made.at(-1) === last && last !== undefined && !/[\r\n]$/.test(last.text))
      made[made.length - 1] = { ...last, text: last.text + lineEnd };
    made.push(page);
    yield page;
  }
  return made;
}

/** Rows to be put into a table, in their order. */
class NewRows {
  readonly #pages: readonly RowPage[];
  readonly #ofTable: (page: RowPage) => RowPage;
  #page = 0;
  /** The lines that are left of a page of which some are taken. */
  #begun: string[] = [];

  constructor(pages: readonly RowPage[], ofTable: (page: RowPage) => RowPage) {
    this.#pages = pages;
    this.#ofTable = ofTable;
  }

  /** The lines of the next so many rows, or of as many as there are. */
  take(count: number): readonly string[] {
    const taken: string[] = [];
    while (taken.length < count) {
      if (this.#begun.length === 0) {
        const page = this.#pages[this.#page];
        if (page === undefined) break;
        this.#begun = linesIn(this.#ofTable(page).text);
        this.#page += 1;
      }
      taken.push(...this.#begun.splice(0, count - taken.length));
    }
    return taken;
  }

  /** What was not taken. */
  *rest(): Generator<RowPage> {
    if (this.#begun.length > 0) yield { text: this.#begun.join(""), count: this.#begun.length };
    for (const page of this.#pages.slice(this.#page)) yield this.#ofTable(page);
  }
}

/** A page of CSV lines as it stands in this table: indented like its rows. One that begins with a blank does already, and stays the same object. */
const pageOfTable = (item: TableItem, page: RowPage, lineEnd: string): RowPage =>
  /^[^\S\r\n]/.test(page.text) ? page : { text: indented(page.text, indentOf(item), lineEnd), count: page.count };

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
