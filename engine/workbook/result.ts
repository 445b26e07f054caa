import type { Caution, Fault } from "../diagnostics/diagnostic.ts";
import type { ShownUnit } from "../units/unit.ts";
import type { Type } from "../values/kind.ts";
import type { Value } from "../values/value.ts";

export type State = "ready" | "waiting" | "faulty";

/** What a line waits for. */
export interface Awaited {
  /**
   * Full names in the order of the file; empty unless waiting: blanks, tables without a row yet, columns without an entry of
   * tables that have rows, and logs that have too few entries yet.
   */
  readonly waitingFor: readonly string[];
  /** What such a log has too few entries for, a full sentence: of the first line that lacks them; else null. */
  readonly tooFew: string | null;
}

interface Standing extends Awaited {
  readonly state: State;
  readonly type: Type;
  /** Closed list, printed in the reference: "volume per mass". */
  readonly kindName: string;
  /** The full name of the root cause when the fault is not its own. */
  readonly because: string | null;
  /** Spans are relative to the formula's text ({@link CellResult.formula}). */
  readonly faults: readonly Fault[];
  readonly cautions: readonly Caution[];
}

/** What a reader sees of one cell under the current lens. */
export interface CellResult extends Standing {
  /** `mash.mash_ratio`, as typed. */
  readonly name: string;
  readonly label: string;
  /** The formula with its tail, as typed. */
  readonly formula: string;
  /** Coherent; null unless ready. A cell may hold a column. */
  readonly value: Value | null;
  /** What `shown` is in; null for text, truth, instant, unready. */
  readonly unit: ShownUnit | null;
  /** `3.01 L/kg`; empty unless ready. For a column: its entries joined. */
  readonly shown: string;
  readonly figure: string;
  readonly unitText: string;
  readonly note: string | null;
  /** A `?` cell: what it asks for and whether it is filled. */
  readonly blank: {
    readonly asks: "quantity" | "number" | "text" | "instant" | "truth";
    /** What a bare figure is in: of an empty blank the lens's unit, of a filled one the unit it was written in. */
    readonly unitText: string;
    readonly filled: boolean;
  } | null;
  /** The texts it may hold (`within "a", "b"`), or null. */
  readonly choices: readonly string[] | null;
}

export interface ColumnResult extends Standing {
  /** Short name as typed; `fullName` is `cellar.readings.gravity`. */
  readonly name: string;
  readonly fullName: string;
  readonly label: string;
  readonly measured: boolean;
  /** A worked column's formula, null for a measured one. */
  readonly formula: string | null;
  readonly value: Value | null;
  readonly unit: ShownUnit | null;
  readonly unitText: string;
  readonly choices: readonly string[] | null;
  /** Faults of single entries, by row from 0. */
  readonly entryFaults: ReadonlyMap<number, Fault>;
}

export interface TableResult {
  readonly name: string;
  readonly label: string;
  readonly rowCount: number;
  readonly columns: readonly ColumnResult[];
}
