import { isMissing, isNumberColumn, type NumberColumn, type TextColumn } from "../values/value.ts";
import { laterPass } from "./instants.ts";
import type { Mapping } from "./mapping.ts";
import { type Place, placeAdded, type Standing } from "./order.ts";
import type { Reading, Reject } from "./read.ts";
import { entriesOfRow, entryText, PageBuffer, PageReader, type RowsPage, rowText } from "./rows-text.ts";
import { isInstant, type Target } from "./target.ts";

/** The rows that a table holds before a reading. */
export interface ExistingRows {
  readonly rows: number;
  /** By the table's measured columns: coherent values or texts; NaN and null are missing. */
  readonly columns: readonly (NumberColumn | TextColumn)[];
  /** The entries of a row as written. */
  entries(row: number): readonly string[];
}

/** One entry that a correction replaces. */
export interface Difference {
  readonly column: string;
  readonly old: string;
  readonly new: string;
}

/** A row of the table that the file gives other figures for. */
export interface ChangedRow {
  /** Counted from 0 in the table. */
  readonly row: number;
  readonly line: number;
  /** The whole row as it will stand: entries that the file says nothing of stay. */
  readonly entries: readonly string[];
  readonly differences: readonly Difference[];
}

/** What a reading would do to a table; nothing is done yet. `read = added + changed + same + rejected`. */
export interface Merge {
  readonly read: number;
  readonly added: number;
  readonly changed: readonly ChangedRow[];
  readonly same: number;
  readonly rejected: readonly Reject[];
  /** New rows, as a workbook keeps them. */
  readonly pages: readonly RowsPage[];
  /** Where they stand, in order: so many of them before this row of the table; the rest at its end. */
  readonly places: readonly Place[];
  readonly leftOut: Reading["leftOut"];
  readonly notes: readonly string[];
}

/** Two figures are the same within what conversion between units costs. */
const SAME_RELATIVE = 1e-9;

const sameFigure = (a: number, b: number): boolean =>
  a === b || Math.abs(a - b) <= SAME_RELATIVE * Math.max(Math.abs(a), Math.abs(b));

type Column = NumberColumn | TextColumn;

/** Gives each row its key: the key columns' values, the later pass through a repeated hour, and where asked its turn among equals. */
function keyMaker(
  columns: readonly (Column | null)[],
  keyAt: readonly number[],
  timeAt: number,
  occurrence: boolean,
): (row: number) => string | number {
  const times = timeAt < 0 ? null : columns[timeAt];
  const later = times && isNumberColumn(times) ? laterPass(times) : null;
  const [only = -1] = keyAt;
  const single = keyAt.length === 1 ? columns[only] : null;
  const turns = new Map<string | number, number>();
  return (row) => {
    let key: string | number =
      single && isNumberColumn(single)
        ? (single[row] ?? Number.NaN)
        : keyAt.map((at) => keyPart(columns[at] ?? null, row)).join("\u0000");
    if (occurrence) {
      const turn = (turns.get(key) ?? 0) + 1;
      turns.set(key, turn);
      if (turn > 1) key = `${key}\u0000${turn}`;
    } else if (later?.[row] === 1) key = `${key}\u0000later`;
    return key;
  };
}

const keyPart = (column: Column | null, row: number): string => {
  const value = column?.[row] ?? "";
  return typeof value === "number" ? String(value) : value.toLowerCase();
};

/** Compares a reading with the rows that are there: which are new, which correct earlier ones, which are the same. */
export function mergeReading(reading: Reading, existing: ExistingRows, mapping: Mapping, target: Target): Merge {
  const keyAt = mapping.key
    .map((name) => target.columns.findIndex((column) => column.name === name))
    .filter((at) => at >= 0);
  const timeAt = target.columns.findIndex(({ kind }) => isInstant(kind));
  const keyOf = keyMaker(reading.columns, keyAt, timeAt, mapping.occurrence || keyAt.length === 0);
  const keyOfExisting = keyMaker(existing.columns, keyAt, timeAt, mapping.occurrence || keyAt.length === 0);
  const rowsByKey = new Map<string | number, number>();
  for (let row = 0; row < existing.rows; row += 1) {
    const key = keyOfExisting(row);
    if (!rowsByKey.has(key)) rowsByKey.set(key, row);
  }
  const merging = new Merging(reading, existing, target, timeAt);
  const seen = new Map<string | number, number>();
  for (let row = 0; row < reading.rows; row += 1) {
    const key = keyOf(row);
    const earlier = seen.get(key);
    if (earlier !== undefined) merging.again(row, earlier);
    else {
      seen.set(key, row);
      const at = rowsByKey.get(key);
      if (at === undefined) merging.add(row);
      else merging.compare(row, at);
    }
  }
  return merging.finish();
}

class Merging {
  readonly #reading: Reading;
  readonly #existing: ExistingRows;
  readonly #target: Target;
  readonly #timeAt: number;
  readonly #lines: PageReader;
  readonly #added: number[] = [];
  readonly #changed: ChangedRow[] = [];
  readonly #rejected: Reject[];
  #same = 0;

  constructor(reading: Reading, existing: ExistingRows, target: Target, timeAt: number) {
    this.#timeAt = timeAt;
    this.#reading = reading;
    this.#existing = existing;
    this.#target = target;
    this.#lines = new PageReader(reading.pages);
    this.#rejected = [...reading.rejects];
  }

  add(row: number): void {
    this.#added.push(row);
  }

  /** A second row with the same key in one file: the same figures are the same row, others are refused. */
  again(row: number, earlier: number): void {
    const { columns, lines } = this.#reading;
    const isSame = columns.every((column) => column === null || sameEntry(column, row, column, earlier));
    if (isSame) this.#same += 1;
    else {
      const reason = `Line ${lines[earlier]} has the same key and other figures. If both are right, let rows with one key be told apart by their order.`;
      this.#rejected.push({ line: lines[row] ?? 0, row: this.#lines.line(row), reason });
    }
  }

  /** An entry that is missing in the file says nothing: what stands in the table stays. */
  compare(row: number, at: number): void {
    const { columns, lines } = this.#reading;
    const differing: number[] = [];
    for (let index = 0; index < columns.length; index += 1) {
      const column = columns[index] ?? null;
      const there = this.#existing.columns[index];
      if (column === null || there === undefined || isEmptyAt(column, row)) continue;
      if (!sameEntry(column, row, there, at)) differing.push(index);
    }
    if (differing.length === 0) {
      this.#same += 1;
      return;
    }
    const entries = [...this.#existing.entries(at)];
    const read = entriesOfRow(this.#lines.line(row));
    const differences = differing.map((index) => {
      const difference = {
        column: this.#target.columns[index]?.name ?? "",
        old: entries[index] ?? "",
        new: read[index] ?? "",
      };
      entries[index] = difference.new;
      return difference;
    });
    this.#changed.push({ row: at, line: lines[row] ?? 0, entries, differences });
  }

  finish(): Merge {
    const { rows, rejects, leftOut, notes } = this.#reading;
    const standing = this.#standing();
    return {
      read: rows + rejects.length,
      added: this.#added.length,
      changed: this.#changed,
      same: this.#same,
      rejected: this.#rejected.sort((a, b) => a.line - b.line),
      pages: this.#pagesOf(standing.rows),
      places: standing.places,
      leftOut,
      notes: standing.note === null ? notes : [...notes, standing.note],
    };
  }

  /** Without times there is no order but the file's. */
  #standing(): Standing {
    const [times, there] = [this.#reading.columns[this.#timeAt], this.#existing.columns[this.#timeAt]];
    return times && there && isNumberColumn(times) && isNumberColumn(there)
      ? placeAdded(this.#added, times, there)
      : { rows: this.#added, places: [], note: null };
  }

  #pagesOf(added: readonly number[]): readonly RowsPage[] {
    const { rows, pages } = this.#reading;
    if (added.length === rows && added.every((row, at) => row === at)) return pages;
    const buffer = new PageBuffer();
    for (const row of added) buffer.push(this.#lines.line(row));
    return buffer.finish();
  }
}

const isEmptyAt = (column: Column, row: number): boolean => {
  const value = column[row] ?? null;
  return value === null || (typeof value === "number" && isMissing(value));
};

function sameEntry(a: Column, row: number, b: Column, at: number): boolean {
  const [left = null, right = null] = [a[row], b[at]];
  if (typeof left === "number" && typeof right === "number")
    return sameFigure(left, right) || (isMissing(left) && isMissing(right));
  return left === right;
}

/** The line of a row with these entries, as a workbook keeps it. */
export const lineOf = (entries: readonly string[]): string => rowText(entries.map(entryText));
