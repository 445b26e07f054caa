import type {
  Answers,
  ChangedRow,
  Finding,
  FirstRow,
  Mapping,
  Merge,
  NewColumn,
  Question,
  Reject,
  Settled,
} from "../../engine/index.ts";

/** A CSV in hand: a file, read as bytes, or what was pasted. */
export type Csv = File | string;

/** What the worker is asked for. It keeps nothing between two requests that the next does not say again. */
export type Request =
  | {
      readonly is: "read";
      /** The book's head and the table that is read into, as a file. */
      readonly book: string;
      /** Full name of the table; null: a new one is made of these columns, or of those that the file proposes. */
      readonly table: string | null;
      readonly columns: readonly NewColumn[] | null;
      readonly csv: Csv;
      readonly answers: Answers;
      /** Whether the mapping that is kept with the table is used. */
      readonly kept: boolean;
    }
  /** Looks a table's own rows through for sensor trouble. */
  | { readonly is: "trouble"; readonly book: string; readonly table: string };

/** A column of the table that is read into, as it is shown above the first rows. */
export interface ShownColumn {
  readonly name: string;
  readonly label: string;
  readonly unit: string;
}

/** What a look at a file finds. */
export interface Look {
  readonly columns: readonly ShownColumn[];
  readonly rows: readonly FirstRow[];
  readonly questions: readonly Question[];
  readonly settled: readonly Settled[];
  readonly notes: readonly string[];
  /** Columns of the file that are not read, and labels of the table's that are not filled. */
  readonly unread: readonly string[];
  readonly unfilled: readonly string[];
  /** What the kept mapping and the file have against one another. */
  readonly against: readonly string[];
  /** Whether it is read by the table's mapping from last time. */
  readonly byKept: boolean;
  /** Columns proposed for a new table; null for one that is there. */
  readonly newColumns: readonly NewColumn[] | null;
}

/** What reading a file would bring. Nothing is done yet. */
export type Brings = Merge & { readonly mapping: Mapping };

export type Came =
  | { readonly is: "refused"; readonly says: string }
  | { readonly is: "asks"; readonly look: Look }
  | { readonly is: "read"; readonly look: Look; readonly brings: Brings }
  | { readonly is: "trouble"; readonly findings: readonly Finding[] };

/** What the worker reports. Long lists come in parts before the rest, so that taking them in never holds the page up. */
export type Report =
  | { readonly is: "progress"; readonly done: number; readonly of: number | null; readonly rows: number }
  | { readonly is: "part"; readonly changed: readonly ChangedRow[]; readonly rejected: readonly Reject[] }
  | { readonly is: "came"; readonly came: Came };
