import { isNumberColumn, type NumberColumn, type TextColumn } from "../values/value.ts";
import { isClockChange } from "./instants.ts";

export type Column = NumberColumn | TextColumn;

/** The values of a row's key columns as one. */
export type Key = string | number;

/** Gives each row its key by the columns at these places; texts are alike whatever their capitals. */
export function keyMaker(columns: readonly (Column | null)[], keyAt: readonly number[]): (row: number) => Key {
  const [only = -1] = keyAt;
  const single = keyAt.length === 1 ? columns[only] : null;
  if (single && isNumberColumn(single)) return (row) => single[row] ?? Number.NaN;
  return (row) => keyAt.map((at) => keyPart(columns[at] ?? null, row)).join("\u0000");
}

const keyPart = (column: Column | null, row: number): string => {
  const value = column?.[row] ?? "";
  return typeof value === "number" ? String(value) : value.toLowerCase();
};

/** Rows by their key and their turn among those that share it; turns count from 1. */
export class RowsByTurn {
  readonly #rows = new Map<Key, number>();

  get(key: Key, turn: number): number | undefined {
    return this.#rows.get(turn === 1 ? key : `${key}\u0000${turn}`);
  }

  set(key: Key, turn: number, row: number): void {
    this.#rows.set(turn === 1 ? key : `${key}\u0000${turn}`, row);
  }
}

/** Counts how often each key has come. */
export class Turns {
  readonly #counts = new Map<Key, number>();

  next(key: Key): number {
    const turn = (this.#counts.get(key) ?? 0) + 1;
    this.#counts.set(key, turn);
    return turn;
  }
}

/**
 * How many rows have the time of the row before them: packages of one second, or an hour that a clock change repeats.
 * Where the key names vessels, the row before is the last one of the same vessel; where a header stands again in mid-file
 * (`parts`, the rows that follow one), a repeat right across it is an overlap of two exports and not counted.
 */
export function rowsSharing(
  times: NumberColumn,
  vesselOf: ((row: number) => Key) | null,
  parts: readonly number[],
): number {
  const last = new Map<Key, number>();
  let [count, part] = [0, 0];
  for (let row = 0; row < times.length; row += 1) {
    if (row === parts[part]) {
      last.clear();
      while (row === parts[part]) part += 1;
    }
    const vessel = vesselOf === null ? "" : vesselOf(row);
    const time = times[row] ?? Number.NaN;
    if (last.get(vessel) === time) count += 1;
    last.set(vessel, time);
  }
  return count;
}

/** More rows than this at one instant are no packages of one second: such times are dates. */
const MOST_AT_AN_INSTANT = 1000;

/** What the turns of a file's rows go by. */
export interface TurnsOf {
  readonly keyOf: (row: number) => Key;
  /** The times of the file's rows, where they are in the key. */
  readonly times: NumberColumn | null;
  /** Rows with one key are told apart by their order; else `later` tells the later pass through a repeated hour. */
  readonly occurrence: boolean;
  readonly later: Uint8Array | null;
  /** The rows of the table, and those that the file gave before. */
  readonly there: RowsByTurn;
  readonly seen: RowsByTurn;
  /** The table's rows stand in order of time. */
  readonly inOrder: boolean;
  /** Whether a row has the figures of one that the table holds, or that the file gave before. */
  readonly isLike: (row: number, other: number, where: "there" | "seen") => boolean;
}

/**
 * The turns of a file's rows. Each part of a file, from one header to the next, counts as an export of its own. An export
 * may begin within a second or a repeated hour: where its first rows have the figures of later rows with their key, and not
 * those of the first ones, they are those later rows.
 */
export class FileTurns {
  readonly #of: TurnsOf;
  #turns = new Turns();
  #skipped = new Map<Key, number>();
  /** The table's row with which the file begins, where others with that row's key stand before it. */
  #begins: number | null = null;
  #from = 0;
  #end = 0;
  /** The latest time of the part so far. */
  #high = Number.NEGATIVE_INFINITY;

  constructor(of: TurnsOf) {
    this.#of = of;
  }

  /** A part of the file begins with this row and ends before that one. */
  begin(from: number, end: number): void {
    const { keyOf, times, there, inOrder } = this.#of;
    this.#turns = new Turns();
    this.#skipped = new Map();
    this.#begins = null;
    [this.#from, this.#end, this.#high] = [from, end, Number.NEGATIVE_INFINITY];
    const first = new Map<Key, number[]>();
    for (let row = from; row < end && times !== null && times[row] === times[from]; row += 1) {
      const key = keyOf(row);
      const rows = first.get(key);
      if (rows === undefined) first.set(key, [row]);
      else rows.push(row);
    }
    for (const [key, rows] of first) {
      const skipped = this.#skippedBefore(key, rows, from);
      if (skipped === 0) continue;
      this.#skipped.set(key, skipped);
      if (from === 0 && inOrder) this.#begins ??= there.get(key, skipped + 1) ?? null;
    }
  }

  next(row: number, key: Key): number {
    const { occurrence, later } = this.#of;
    if (occurrence && this.#beginsAgain(row)) this.#turns = new Turns();
    const turn = occurrence ? this.#turns.next(key) : later?.[row] === 1 ? 2 : 1;
    return turn + (this.#skipped.get(key) ?? this.#countBefore(key));
  }

  /** The file's times go back here, other than by a clock change, and up to where they had come it says again what it said: from here on it is a second export. */
  #beginsAgain(row: number): boolean {
    const { keyOf, times, seen, isLike } = this.#of;
    if (times === null) return false;
    const time = times[row] ?? Number.NaN;
    const high = this.#high;
    if (time >= high) this.#high = time;
    if (!(time < (times[row - 1] ?? Number.NaN)) || row === this.#from || isClockChange(high, time)) return false;
    const turns = new Turns();
    for (let again = row; again < this.#end && (times[again] ?? Number.NaN) <= high; again += 1) {
      const key = keyOf(again);
      const earlier = seen.get(key, turns.next(key) + (this.#skipped.get(key) ?? 0));
      if (earlier === undefined ? times[again] !== high : !isLike(again, earlier, "seen")) return false;
    }
    return true;
  }

  /** In a table in order only a repeated hour has rows of a time before those of an earlier one. */
  #countBefore(key: Key): number {
    if (this.#begins === null) return 0;
    let count = 0;
    while ((this.#of.there.get(key, count + 1) ?? Number.POSITIVE_INFINITY) < this.#begins) count += 1;
    return count;
  }

  /** How many of the rows known by this key stand before the first of `rows`. */
  #skippedBefore(key: Key, rows: readonly number[], from: number): number {
    const { keyOf, occurrence, isLike } = this.#of;
    const known = this.#knownBy(key);
    if (Math.max(known.length, rows.length) > MOST_AT_AN_INSTANT) return 0;
    const like = known.map(([other, where]) => rows.map((row) => isLike(row, other, where)));
    const overlap = (skipped: number): number => Math.min(rows.length, known.length - skipped);
    const likeAfter = (skipped: number): number => rows.filter((_, at) => like[skipped + at]?.[at] === true).length;
    const unmoved = likeAfter(0);
    for (let skipped = 1; skipped < known.length && overlap(skipped) > unmoved; skipped += 1)
      if (likeAfter(skipped) === overlap(skipped)) return skipped;
    // A second may also run on across a header.
    return unmoved === 0 && occurrence && from > 0 && keyOf(from - 1) === key ? known.length : 0;
  }

  #knownBy(key: Key): (readonly [number, "there" | "seen"])[] {
    const { there, seen } = this.#of;
    const known: (readonly [number, "there" | "seen"])[] = [];
    while (known.length <= MOST_AT_AN_INSTANT) {
      const turn = known.length + 1;
      const [earlier, at] = [seen.get(key, turn), there.get(key, turn)];
      if (earlier !== undefined) known.push([earlier, "seen"]);
      else if (at !== undefined) known.push([at, "there"]);
      else break;
    }
    return known;
  }
}
