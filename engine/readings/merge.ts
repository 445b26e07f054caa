import { isMissing, isNumberColumn, type NumberColumn, type TextColumn } from "../values/value.ts";
import { inWords } from "./in-words.ts";
import { laterPass } from "./instants.ts";
import type { Mapping } from "./mapping.ts";
import { isInOrder, type Place, placeAdded, type Standing } from "./order.ts";
import type { Reading, Reject } from "./read.ts";
import { entriesOfRow, entryText, PageBuffer, PageReader, type RowsPage, rowText } from "./rows-text.ts";
import { isInstant, type Target } from "./target.ts";
import { type Column, FileTurns, keyMaker, RowsByTurn, rowsSharing, Turns } from "./turns.ts";

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
  /** The mapping as it was used and is to be kept: rows that share a key are told apart by their order from now on. */
  readonly mapping: Mapping;
}

/** Two figures are the same within what conversion between units costs; whole ones, such as serial numbers and instants, cost nothing. */
const SAME_RELATIVE = 1e-9;

const sameFigure = (a: number, b: number): boolean =>
  a === b ||
  (Math.abs(a - b) <= SAME_RELATIVE * Math.max(Math.abs(a), Math.abs(b)) &&
    !(Number.isInteger(a) && Number.isInteger(b)));

/** Compares a reading with the rows that are there: which are new, which correct earlier ones, which are the same. */
export function mergeReading(reading: Reading, existing: ExistingRows, mapping: Mapping, target: Target): Merge {
  const keyAt = mapping.key
    .map((name) => target.columns.findIndex((column) => column.name === name))
    .filter((at) => at >= 0);
  const timeAt = target.columns.findIndex(({ kind }) => isInstant(kind));
  const sharing = sharingIn(reading, keyAt, target);
  const occurrence = mapping.occurrence || sharing > 0;
  const keyOf = keyMaker(reading.columns, keyAt);
  const keyOfExisting = keyMaker(existing.columns, keyAt);
  const there = new RowsByTurn();
  const turnsThere = new Turns();
  for (let row = 0; row < existing.rows; row += 1) {
    const key = keyOfExisting(row);
    there.set(key, turnsThere.next(key), row);
  }
  const merging = new Merging(reading, existing, target, timeAt);
  const seen = new RowsByTurn();
  const turns = new FileTurns({
    keyOf,
    times: keyAt.includes(timeAt) ? timesIn(reading.columns, timeAt) : null,
    occurrence: occurrence || keyAt.length === 0,
    later: laterIn(reading.columns, timeAt),
    there,
    seen,
    inOrder: isInOrder(timesIn(existing.columns, timeAt)),
    isLike: (row, other, where) =>
      merging.isLike(row, other, where === "seen" ? reading.columns : existing.columns, keyAt),
  });
  const parts = [0, ...reading.parts, reading.rows];
  for (const [part, end] of parts.slice(1).entries()) {
    const from = parts[part] ?? 0;
    turns.begin(from, end);
    for (let row = from; row < end; row += 1) {
      const key = keyOf(row);
      const turn = turns.next(row, key);
      const earlier = seen.get(key, turn);
      if (earlier !== undefined) merging.again(row, earlier);
      else {
        seen.set(key, turn, row);
        const at = there.get(key, turn);
        if (at === undefined) merging.add(row);
        else merging.compare(row, at);
      }
    }
  }
  const merge = merging.finish({ ...mapping, occurrence });
  return sharing === 0 ? merge : { ...merge, notes: [noteSharing(sharing, keyAt.length > 1), ...merge.notes] };
}

/** Rows of a file that share the time of the row before. A key that begins with a serial number needs no more to tell rows apart. */
function sharingIn({ columns, parts }: Reading, [first = -1, ...vessels]: readonly number[], target: Target): number {
  const times = columns[first];
  const kind = target.columns[first]?.kind;
  if (!times || !isNumberColumn(times) || kind === undefined || !isInstant(kind)) return 0;
  return rowsSharing(times, vessels.length === 0 ? null : keyMaker(columns, vessels), parts);
}

const noteSharing = (count: number, ofVessels: boolean): string =>
  `${inWords(count, "row shares", "rows share")} the time of the row before${ofVessels ? " of the same vessel" : ""}; they are told apart by their order, so that three in one second are three.`;

const timesIn = (columns: readonly (Column | null)[], at: number): NumberColumn | null => {
  const times = columns[at];
  return times && isNumberColumn(times) ? times : null;
};

const laterIn = (columns: readonly (Column | null)[], at: number): Uint8Array | null => {
  const times = timesIn(columns, at);
  return times === null ? null : laterPass(times);
};

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
      const reason = `Line ${lines[earlier]} is the same reading with other figures. Take the line that is wrong out of the file.`;
      this.#rejected.push({ line: lines[row] ?? 0, row: this.#lines.line(row), reason });
    }
  }

  /** Whether a row has the figures of another one in these columns, as far as the file says any beyond its key. */
  isLike(row: number, other: number, there: readonly (Column | null)[], keyAt: readonly number[]): boolean {
    let isSaid = false;
    for (const [index, column] of this.#reading.columns.entries()) {
      const beside = there[index];
      if (column === null || !beside || keyAt.includes(index) || isEmptyAt(column, row)) continue;
      if (!sameEntry(column, row, beside, other)) return false;
      isSaid = true;
    }
    return isSaid;
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

  finish(mapping: Mapping): Merge {
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
      mapping,
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
