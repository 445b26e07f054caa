import type { NumberColumn, TextColumn } from "../values/value.ts";
import type { CellReader } from "./cell.ts";
import { cellReader } from "./cells.ts";
import { fits, isBlankRow, isHeaderAgain, isTotalsRow } from "./detect.ts";
import { FigureCells } from "./figure-cells.ts";
import { NumberBuffer } from "./grow.ts";
import { distinctHeaders, type Header, readHeader } from "./headers.ts";
import { headerChanges, headersUsed, type Mapping, wordChange } from "./mapping.ts";
import { Preamble, repeatsPreamble } from "./preamble.ts";
import { RecordReader } from "./records.ts";
import { entryText, PageBuffer, type RowsPage, rowText } from "./rows-text.ts";
import { eachPiece, type Running, type Source } from "./source.ts";
import { isInstant, isWrittenOut, type Target, unitFits } from "./target.ts";
import type { ReadUnit } from "./units-in-text.ts";

/** A row that was not read: its line in the file, the row as it stands, and why. */
export interface Reject {
  readonly line: number;
  readonly row: string;
  readonly reason: string;
}

/** A CSV as typed columns: rows in the order of the file. */
export interface Reading {
  /** By the table's columns: coherent values (instants in seconds), texts, or null for a column that the mapping leaves out. */
  readonly columns: readonly (NumberColumn | TextColumn | null)[];
  readonly rows: number;
  /** The line of each row in the file. */
  readonly lines: Float64Array;
  /** The rows before which the header stands again in mid-file: there another export begins. */
  readonly parts: readonly number[];
  /** The rows as a workbook keeps them. */
  readonly pages: readonly RowsPage[];
  readonly rejects: readonly Reject[];
  /** Lines that are no rows, and rows that the mapping's filters leave out: none of them is among the rows read. */
  readonly leftOut: {
    readonly preamble: number;
    readonly blank: number;
    readonly headers: number;
    readonly filtered: number;
  };
  readonly notes: readonly string[];
  /** Stopped before the end: the columns are not to be used. */
  readonly stopped: boolean;
}

/** Why a CSV cannot be read by a mapping at all. */
export interface ReadProblem {
  readonly problem: string;
}

const NOTHING_MAPPED = "No column of the file is matched to a column of the table.";
const SUMS_UP = "This row sums up others; it is no reading.";

/** Lines kept to say which header stands there instead, when the mapping's is not found. */
const HEADER_WITHIN_LINES = 300;

/**
 * Reads a CSV by a mapping, piece by piece, into the columns of a table. Every row is either read, left out by a filter
 * or rejected with its line and reason; nothing is dropped.
 */
export async function readCsv(
  source: Source,
  mapping: Mapping,
  target: Target,
  readUnit: ReadUnit,
  running: Running = {},
): Promise<Reading | ReadProblem> {
  if (mapping.columns.length === 0) return { problem: NOTHING_MAPPED };
  const rows = new RowReader(mapping, target, readUnit);
  const records = new RecordReader(mapping.separator, (entries, line, problem) => rows.take(entries, line, problem));
  const ended = await eachPiece(source, mapping.encoding, running, (text) => {
    if (text.includes("\ufffd")) rows.noteUndecoded();
    records.push(text);
    return rows.count;
  });
  if (ended) records.end();
  return rows.finish(!ended);
}

class RowReader {
  readonly #mapping: Mapping;
  readonly #target: Target;
  readonly #readUnit: ReadUnit;
  readonly #rejects: Reject[] = [];
  readonly #lines = new NumberBuffer();
  readonly #pages = new PageBuffer();
  readonly #notes: string[] = [];
  readonly #parts: number[] = [];
  readonly #before: { entries: readonly string[]; line: number; problem: string | null }[] = [];
  #said = new Preamble([]);
  #headers: readonly Header[] | null = null;
  /** By the table's columns; null for one that nothing goes into. */
  #cells: readonly (CellReader | null)[] = [];
  /** The table's first instant; what other columns read may depend on it. */
  #instant: CellReader | null = null;
  #others: readonly CellReader[] = [];
  #keep: { at: number; texts: ReadonlySet<string> }[] = [];
  #texts: string[] = [];
  #unitsAwaited = false;
  #isOwn = false;
  #rows = 0;
  #preamble = 0;
  #blank = 0;
  #headerLines = 0;
  #filtered = 0;

  constructor(mapping: Mapping, target: Target, readUnit: ReadUnit) {
    this.#mapping = mapping;
    this.#target = target;
    this.#readUnit = readUnit;
    if (!mapping.headerRow) this.#begin(mapping.headers);
  }

  get count(): number {
    return this.#rows;
  }

  noteUndecoded(): void {
    const says = `Some characters are not ${this.#mapping.encoding} and could not be decoded; they stand as \ufffd. Choose another encoding.`;
    if (!this.#notes.includes(says)) this.#notes.push(says);
  }

  take(entries: readonly string[], line: number, problem: string | null): void {
    if (this.#headers === null) {
      this.#lookForHeader(entries, line, problem);
      return;
    }
    if (problem !== null) {
      this.#reject(entries, line, problem);
      return;
    }
    if (entries.length < 2 || (entries[0] ?? "") === "") {
      if (isBlankRow(entries)) {
        this.#blank += 1;
        return;
      }
    }
    if (this.#unitsAwaited) {
      this.#unitsAwaited = false;
      this.#headerLines += 1;
      return;
    }
    if (!fits(entries, this.#headers.length)) {
      const again = this.#said.again(entries);
      const has = `The row has ${entries.length} ${entries.length === 1 ? "entry" : "entries"}; the header has ${this.#headers.length}.`;
      this.#reject(entries, line, again === null ? has : repeatsPreamble(again));
      return;
    }
    this.#row(entries, line, this.#headers);
  }

  #row(entries: readonly string[], line: number, headers: readonly Header[]): void {
    for (const { at, texts } of this.#keep) {
      if (texts.has((entries[at] ?? "").trim())) continue;
      // A totals row names no tank and no product: it is told of, not left out.
      if (this.#sumsUp(entries)) break;
      if (isHeaderAgain(entries, headers)) break;
      this.#filtered += 1;
      return;
    }
    const problem = this.#readCells(entries);
    if (problem !== null) {
      if (isHeaderAgain(entries, headers)) {
        this.#headerAgain(entries, line);
        return;
      }
      const again = this.#said.again(entries);
      this.#reject(entries, line, this.#sumsUp(entries) ? SUMS_UP : again === null ? problem : repeatsPreamble(again));
      return;
    }
    if (this.#sumsUp(entries)) {
      this.#reject(entries, line, SUMS_UP);
      return;
    }
    const { after, before } = this.#mapping;
    const instant = this.#instant?.value ?? Number.NaN;
    if ((after !== null && instant < after) || (before !== null && instant >= before)) {
      this.#filtered += 1;
      return;
    }
    const texts = this.#texts;
    for (let at = 0; at < this.#cells.length; at += 1) {
      const cell = this.#cells[at];
      if (cell) texts[at] = cell.text;
    }
    this.#pages.push(rowText(texts));
    this.#lines.put(this.#rows, line);
    this.#rows += 1;
  }

  /** A row of the table itself, written out, is a reading where it has a time, whatever its first text is. */
  #sumsUp(entries: readonly string[]): boolean {
    if (!isTotalsRow(entries)) return false;
    return !this.#isOwn || this.#instant === null || this.#instant.read(entries, this.#rows, Number.NaN) !== null;
  }

  /** Reads every cell of a row, its instant first; the first sentence that says why one cannot be read. */
  #readCells(entries: readonly string[]): string | null {
    let problem = this.#instant?.read(entries, this.#rows, Number.NaN) ?? null;
    if (problem !== null) return problem;
    const instant = this.#instant?.value ?? Number.NaN;
    for (const cell of this.#others) {
      problem = cell.read(entries, this.#rows, instant);
      if (problem !== null) return problem;
    }
    return null;
  }

  #lookForHeader(entries: readonly string[], line: number, problem: string | null): void {
    const headers = distinctHeaders(entries);
    const has = new Set(headers);
    const used = headersUsed(this.#mapping);
    const known = this.#mapping.headers.filter((header) => has.has(header)).length;
    // A word of the preamble may be a header too: most of them must be there.
    const isHeader = known * 2 > this.#mapping.headers.length && [...used].every((header) => has.has(header));
    if (problem === null && isHeader) {
      const trimmed = trimEnd(headers, this.#mapping.headers.length);
      this.#notes.push(...headerChanges(this.#mapping, trimmed).map(wordChange));
      this.#headerLines += 1;
      this.#unitsAwaited = this.#mapping.unitsRow;
      this.#said = new Preamble(this.#before.map((one) => one.entries));
      this.#before.length = 0;
      this.#begin(trimmed);
      return;
    }
    this.#preamble += 1;
    if (this.#before.length < HEADER_WITHIN_LINES) this.#before.push({ entries, line, problem });
  }

  #begin(headers: readonly string[]): void {
    const knows = (spelling: string): boolean => this.#readUnit(spelling) !== null;
    this.#headers = headers.map((header) => readHeader(header, knows));
    this.#isOwn = isWrittenOut(headers, this.#target);
    const at = new Map(headers.map((header, index) => [header, index]));
    this.#cells = this.#target.columns.map((column) => {
      const mapped = this.#mapping.columns.find(({ to }) => to === column.name);
      return mapped ? cellReader(mapped, column, this.#mapping, at, this.#readUnit) : null;
    });
    this.#texts = this.#target.columns.map(() => "");
    this.#instant =
      this.#cells.find((cell, index) => cell && isInstant(this.#target.columns[index]?.kind ?? { is: "unknown" })) ??
      null;
    this.#others = this.#cells.filter((cell) => cell !== null && cell !== this.#instant) as CellReader[];
    this.#keep = this.#mapping.keep.map(({ header, texts }) => ({ at: at.get(header) ?? -1, texts: new Set(texts) }));
  }

  /** A header in mid-file may bring other units; from there on they hold. */
  #headerAgain(entries: readonly string[], line: number): void {
    this.#headerLines += 1;
    this.#parts.push(this.#rows);
    const knows = (spelling: string): boolean => this.#readUnit(spelling) !== null;
    for (const [index, cell] of this.#cells.entries()) {
      if (!(cell instanceof FigureCells)) continue;
      const at = this.#headers?.findIndex(({ text }) => text === cell.header) ?? -1;
      const header = readHeader((entries[at] ?? "").trim(), knows);
      const unit =
        header.unit === null || header.unit === this.#headers?.[at]?.unit ? null : this.#readUnit(header.unit);
      const kind = this.#target.columns[index]?.kind;
      if (unit === null || kind === undefined || !unitFits(unit, kind)) continue;
      cell.changeUnit(unit);
      this.#notes.push(`From line ${line} on "${cell.header}" is in ${header.unit ?? ""}, as the header there says.`);
    }
  }

  #reject(entries: readonly string[], line: number, reason: string): void {
    const { separator } = this.#mapping;
    const row = entries.map((entry) => (entry.includes(separator) ? entryText(entry) : entry)).join(separator);
    this.#rejects.push({ line, row, reason });
  }

  finish(stopped: boolean): Reading | ReadProblem {
    if (this.#headers === null && !stopped) {
      const found = this.#before.find(({ entries }) => entries.length > 1)?.entries ?? this.#before[0]?.entries;
      const missing = [...headersUsed(this.#mapping)].filter(
        (header) => !found?.some((entry) => entry.trim() === header),
      );
      const list = missing.map((header) => `"${header}"`).join(", ");
      return {
        problem: `The file has no header row with ${list}. Its header has changed, or it is another export: map its columns anew.`,
      };
    }
    return {
      columns: this.#cells.map((cell) => cell?.finish(this.#rows) ?? null),
      rows: this.#rows,
      lines: this.#lines.finish(this.#rows),
      parts: this.#parts,
      pages: this.#pages.finish(),
      rejects: this.#rejects,
      leftOut: {
        preamble: this.#preamble,
        blank: this.#blank,
        headers: this.#headerLines,
        filtered: this.#filtered,
      },
      notes: this.#notes,
      stopped,
    };
  }
}

/** A header row that ends in separators has empty entries at its end, which are no columns beyond those that are known. */
function trimEnd(headers: readonly string[], known: number): readonly string[] {
  let end = headers.length;
  while (end > known && headers[end - 1] === `column ${end}`) end -= 1;
  return headers.slice(0, end);
}
