import { isNumberColumn, type NumberColumn, type TextColumn } from "../values/value.ts";

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
