import { UNKNOWN_TYPE } from "../checker/check.ts";
import type { Step, Within } from "../checker/checked.ts";
import { askedType, stepOf, withinOf } from "../checker/literals.ts";
import type { Fault } from "../diagnostics/diagnostic.ts";
import { entryText, type Rows, readRows } from "../parser/csv.ts";
import type { Type } from "../values/kind.ts";
import { isColumn, type Value } from "../values/value.ts";
import type { Entry, EntryReader, PageRead, Values } from "./columns.ts";
import type { RowPage, TableItem } from "./document.ts";
import { emptyValues, isFault, readAt, readPage, unreadable } from "./read-page.ts";

/** What a column's line says, read. */
export interface MeasuredColumn {
  readonly type: Type;
  readonly step: Step | null;
  readonly within: Within | null;
  /** Of the column's line; spans in the table's source. */
  readonly faults: readonly Fault[];
}

/** A fault of one row; its span is in the text of the row's page. */
export interface RowFault {
  readonly fault: Fault;
  readonly page: number;
}

interface Read {
  readonly line: MeasuredColumn;
  /** Coherent figures, or texts; never written to once they are given away. */
  values: Values;
  readonly faults: Map<number, RowFault>;
}

/** The rows of one table as typed columns. Follows the table from version to version, page by page. */
export class TableRecord {
  readonly key: string;
  readonly sheet: string;
  /** Another line or table of the sheet had its name first. */
  readonly misnamed: boolean;
  item: TableItem;
  /** The graph's node of each column, in their order. */
  readonly nodes: number[] = [];
  rowCount = 0;
  /** Whether the last `follow` changed how many rows there are. */
  lengthChanged = false;
  /** Rows with too few or too many entries. */
  readonly ragged = new Map<number, RowFault>();
  readonly #read = new Map<number, Read>();
  /** A version of the table that may come next, read already. */
  #expected: TableRecord | null = null;
  /** The columns that the entries of a row belong to, in order. */
  readonly measuredColumns: readonly number[];
  /** The lines of the measured columns as written: pages are read alike where these are. */
  readonly #columnLines: string;

  constructor(key: string, sheet: string, item: TableItem, misnamed: boolean) {
    this.key = key;
    this.sheet = sheet;
    this.misnamed = misnamed;
    this.item = item;
    this.measuredColumns = item.columns.flatMap((column, at) => (column.formula === null ? [at] : []));
    this.#columnLines = item.columns
      .filter(({ formula }) => formula === null)
      .map(({ span }) => item.source.slice(span.start, span.end))
      .join("\n");
    this.rowCount = item.rows.reduce((count, page) => count + page.count, 0);
  }

  /** A measured column's line; reads its entries with it. */
  measured(column: number, reader: EntryReader): MeasuredColumn {
    const line = this.#line(column, reader);
    this.#read.set(column, { line, values: emptyValues(line.type, this.rowCount), faults: new Map() });
    // All measured columns are read in one go, once the last of them is asked for.
    if (this.#read.size === this.measuredColumns.length) this.#readPages(reader);
    return line;
  }

  #line(column: number, { units, zone }: EntryReader): MeasuredColumn {
    const parsed = this.item.columns[column];
    if (parsed?.measured == null) return { type: UNKNOWN_TYPE, step: null, within: null, faults: [] };
    const { asks, by, within } = parsed.measured;
    const faults: Fault[] = [];
    const keep = <T extends object>(found: T | Fault): T | null => {
      if (!("code" in found)) return found;
      faults.push(found);
      return null;
    };
    const type = keep(askedType(asks, units, zone)) ?? UNKNOWN_TYPE;
    return {
      type,
      step: by === null ? null : keep(stepOf(by, type, units)),
      within: within === null ? null : keep(withinOf(within, type, units, zone)),
      faults,
    };
  }

  /** Puts the entries of all pages into the columns. */
  #readPages(reader: EntryReader): void {
    let row = 0;
    for (const [at, page] of this.item.rows.entries()) {
      this.#readPage(page, at, row, reader);
      row += page.count;
    }
  }

  #readPage(page: RowPage, pageAt: number, firstRow: number, reader: EntryReader): void {
    const { columns, faults, ragged } = this.readAhead(page, reader);
    for (const told of [this.ragged, ...[...this.#read.values()].map((read) => read.faults)])
      if (told.size > 0) for (let row = firstRow; row < firstRow + page.count; row += 1) told.delete(row);
    for (const { row, fault } of ragged) this.ragged.set(firstRow + row, { fault, page: pageAt });
    for (const [place, column] of this.measuredColumns.entries())
      copyInto(this.#read.get(column)?.values ?? [], columns[place] ?? [], firstRow);
    for (const { column, row, fault } of faults)
      this.#read.get(this.measuredColumns[column] ?? -1)?.faults.set(firstRow + row, { fault, page: pageAt });
  }

  /**
   * The entries of a page, whether it is one of this version or not. They are remembered for as long as the page itself is
   * in use: a version that shares pages with another, or goes back to them, costs no second reading.
   */
  readAhead(page: RowPage, reader: EntryReader): PageRead {
    const known = this.#known(page, reader);
    if (known !== null) return known;
    const lines = this.measuredColumns.flatMap((column) => this.#read.get(column)?.line ?? []);
    const read = readPage(page, lines, reader);
    reader.pages.set(page, { columns: this.#columnLines, read });
    return read;
  }

  /** What was read of a page before, by the same lines; null when nothing was. */
  #known(page: RowPage, reader: EntryReader): PageRead | null {
    const known = reader.pages.get(page);
    return known?.columns === this.#columnLines ? known.read : null;
  }

  #put(column: Read, row: number, text: string, rows: Rows, entry: number, page: number, reader: EntryReader): void {
    const found = readAt(text, column.line, rows, entry, reader);
    if (isFault(found)) column.faults.set(row, { fault: found, page });
    (column.values as Entry[])[row] = isFault(found) ? unreadable(column.line.type) : found;
  }

  /** Takes the table's next version, of the same columns; gives the measured columns to work out anew. */
  follow(item: TableItem, reader: EntryReader): readonly number[] {
    const before = this.item.rows;
    const expected = this.#expected;
    this.#expected = null;
    this.item = item;
    const count = item.rows.reduce((sum, page) => sum + page.count, 0);
    this.lengthChanged = count !== this.rowCount;
    if (expected !== null && expected.item.rows === item.rows) return this.#become(expected);
    const sameShape =
      item.rows.length === before.length && item.rows.every((page, at) => page.count === before[at]?.count);
    if (sameShape) {
      const changed = new Set<number>();
      let row = 0;
      for (const [at, page] of item.rows.entries()) {
        const old = before[at];
        if (old !== undefined && old !== page) this.#followPage(old, page, at, row, reader, changed);
        row += page.count;
      }
      return [...changed];
    }
    this.rowCount = count;
    this.ragged.clear();
    for (const read of this.#read.values()) {
      // Every row of it is filled from the pages.
      read.values = read.line.type.kind.is === "text" ? new Array<string | null>(count) : new Float64Array(count);
      read.faults.clear();
    }
    this.#readPages(reader);
    return this.measuredColumns;
  }

  /** Another record of the same columns, which holds rows that this table may hold next: then they need no reading. */
  expect(next: TableRecord): void {
    this.#expected = next;
  }

  #become(next: TableRecord): readonly number[] {
    this.rowCount = next.rowCount;
    replaceAll(this.ragged, next.ragged);
    const changed: number[] = [];
    for (const [column, read] of this.#read) {
      const { values, faults } = next.#read.get(column) ?? read;
      if (faults.size === 0 && read.faults.size === 0 && sameValues(values, read.values)) continue;
      read.values = values;
      replaceAll(read.faults, faults);
      changed.push(column);
    }
    return changed;
  }

  /** Reads the entries of a page that are written otherwise than before, and adds their columns to `changed`. */
  #followPage(
    before: RowPage,
    page: RowPage,
    pageAt: number,
    firstRow: number,
    reader: EntryReader,
    changed: Set<number>,
  ): void {
    // A row that is ragged, or a fault with its place in the page, may be moved by any entry before it.
    const isFaulty = this.ragged.size > 0 || [...this.#read.values()].some(({ faults }) => faults.size > 0);
    const [was, is] = [this.#known(before, reader), this.#known(page, reader)];
    if (!isFaulty && was !== null && is !== null && isSound(was) && isSound(is)) {
      this.#followRead(was, is, firstRow, changed);
      return;
    }
    const [old, now] = [readRows(before.text), readRows(page.text)];
    if (isFaulty || now.starts.length !== page.count * this.measuredColumns.length) {
      for (const column of this.measuredColumns) this.#own(column, changed);
      this.#readPage(page, pageAt, firstRow, reader);
      return;
    }
    for (let entry = 0; entry < now.starts.length; entry += 1) {
      const text = entryText(page.text, now, entry);
      if (text === entryText(before.text, old, entry)) continue;
      const column = this.measuredColumns[entry % this.measuredColumns.length] as number;
      const row = firstRow + Math.floor(entry / this.measuredColumns.length);
      const read = this.#own(column, changed);
      if (read !== undefined) this.#put(read, row, text, now, entry, pageAt, reader);
    }
  }

  /** Takes the columns of a page in which another figure or text stands than before. */
  #followRead(was: PageRead, is: PageRead, firstRow: number, changed: Set<number>): void {
    for (const [place, column] of this.measuredColumns.entries()) {
      const [old, now] = [was.columns[place] ?? [], is.columns[place] ?? []];
      if (sameValues(old, now)) continue;
      copyInto(this.#own(column, changed)?.values ?? [], now, firstRow);
    }
  }

  /** A column with values that may be written to: its own copy, made once for each version. */
  #own(column: number, changed: Set<number>): Read | undefined {
    const read = this.#read.get(column);
    if (read !== undefined && !changed.has(column)) read.values = read.values.slice();
    changed.add(column);
    return read;
  }

  /** A measured column's entries; null when one of them cannot be read. */
  value(column: number): Value | null {
    const read = this.#read.get(column);
    if (read === undefined || read.faults.size > 0 || this.ragged.size > 0) return null;
    return read.values;
  }

  /** A measured column's entries for showing them: those that cannot be read are missing. Null for a worked column. */
  readable(column: number): Value | null {
    return this.#read.get(column)?.values ?? null;
  }

  /** The faults of single entries of a measured column, by row; a ragged row is one of every column. */
  faultsOf(column: number): ReadonlyMap<number, RowFault> {
    const own = this.#read.get(column)?.faults ?? new Map<number, RowFault>();
    return this.ragged.size === 0 ? own : new Map([...this.ragged, ...own]);
  }

  withinOf(column: number): Within | null {
    return this.#read.get(column)?.line.within ?? null;
  }

  /** The column that a worked column's result makes: a single value stands in every row. */
  fill(value: Value): Value {
    if (isColumn(value)) return value;
    return typeof value === "string"
      ? new Array<string>(this.rowCount).fill(value)
      : new Float64Array(this.rowCount).fill(value);
  }

  /** The page and the row in it of a row. */
  placeOf(row: number): { readonly page: number; readonly row: number } | null {
    let left = row;
    for (const [page, { count }] of this.item.rows.entries()) {
      if (left < count) return { page, row: left };
      left -= count;
    }
    return null;
  }

  /** The page looked at last: a screen asks for its rows one after another. */
  #looked: { readonly text: string; readonly rows: Rows } | null = null;

  #rowsOf(text: string): Rows {
    if (this.#looked?.text !== text) this.#looked = { text, rows: readRows(text) };
    return this.#looked.rows;
  }

  /** The entries of a row as they are written, one for each measured column that it has. */
  entriesOf(row: number): readonly string[] {
    const place = this.placeOf(row);
    const text = place === null ? "" : (this.item.rows[place.page]?.text ?? "");
    if (place === null) return [];
    const rows = this.#rowsOf(text);
    const entries: string[] = [];
    for (let entry = rows.firsts[place.row] ?? 0; entry < (rows.firsts[place.row + 1] ?? 0); entry += 1)
      entries.push(entryText(text, rows, entry));
    return entries;
  }
}

const isSound = ({ faults, ragged }: PageRead): boolean => faults.length === 0 && ragged.length === 0;

function replaceAll<K, V>(map: Map<K, V>, by: ReadonlyMap<K, V>): void {
  map.clear();
  for (const [key, value] of by) map.set(key, value);
}

/** Every entry is the same figure or text, or missing in both. */
function sameValues(a: Values, b: Values): boolean {
  for (let row = 0; row < a.length; row += 1) if (!Object.is(a[row], b[row])) return false;
  return a.length === b.length;
}

function copyInto(values: Values, page: Values, firstRow: number): void {
  if (values instanceof Float64Array && page instanceof Float64Array) values.set(page, firstRow);
  else for (const [row, value] of page.entries()) (values as Entry[])[firstRow + row] = value;
}
