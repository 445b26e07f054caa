import type { CheckedNode } from "../checker/checked.ts";
import type { Caution, Fault } from "../diagnostics/diagnostic.ts";
import type { Value } from "../values/value.ts";

export interface Wait {
  readonly reason: "waiting";
  readonly nodes: readonly number[];
  readonly tooFew: readonly TooFew[];
}

/** A log that has begun and has too few entries yet for what is asked of it. */
export interface TooFew {
  /** One of its columns. */
  readonly column: number;
  /** What it takes: a full sentence. */
  readonly says: string;
}

/** Why a run gave no value: the first thing that was met. */
export type Stop =
  /** Some nodes wait; or it waits for measured columns that have no entry yet, or for logs that have too few. */
  | Wait
  /** Some nodes are faulty. */
  | { readonly reason: "faulty"; readonly nodes: readonly number[] }
  /** Its own arithmetic has no value: in a row of a column, from 0, or as a whole. */
  | { readonly reason: "fault"; readonly fault: Fault; readonly row: number | null };

/** The fault that a stop shows, with the row that it arose in; null where other lines are to blame. */
export function faultOf(stop: Stop | undefined): Fault | null {
  if (stop?.reason !== "fault") return null;
  const { fault: found, row } = stop;
  if (row === null) return found;
  if (found.code === "no-value") return { ...found, data: { says: `Row ${row + 1}: ${found.data.says}` } };
  if (found.code !== "wrong-argument") return found;
  return { ...found, data: { ...found.data, says: `in row ${row + 1} ${found.data.says}` } };
}

/** A run as what it calls sees it: whether it has stopped, which rows it wants, and where to note a stop or a caution. */
export interface Stoppable {
  readonly stop: Stop | null;
  readonly cautions: Caution[];
  /** Whether the result is wanted in this row of a column. */
  isNeeded(row: number): boolean;
  /**
   * What gives no value for want of entries, as `says` tells, waits: for the tables that are still to be filled, where an
   * operand is a column without an entry because of it; else for the logs that the operands draw on. An operand whose value
   * is not given has entries. Null: there are none.
   */
  waitFor(says: string, operands: readonly CheckedNode[], values: readonly Value[]): Wait | null;
  /** Notes why there is no value. */
  halt(stop: Stop): Value;
}
