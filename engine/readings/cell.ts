import type { NumberColumn, TextColumn } from "../values/value.ts";

/** Fills one column of the table. A row that is not kept is written over by the next one. */
export interface CellReader {
  /** Reads this column's entry, at an instant, into place `row` of the column; a sentence when it cannot be read. */
  read(entries: readonly string[], row: number, instant: number): string | null;
  /** The entry just read, as it will stand in the workbook's row. */
  readonly text: string;
  /** The value just read, for the instant that other columns and filters go by. */
  readonly value: number;
  /** The column of the first `rows` rows. */
  finish(rows: number): NumberColumn | TextColumn;
}

/** The reason why an entry cannot be read. */
export const underHeader = (entry: string, header: string, problem: string): string =>
  `"${entry.slice(0, 60)}" under "${header}" ${problem}`;

/** Where the headers of a CSV stand. */
export type Positions = ReadonlyMap<string, number>;
