import type { NumberColumn, TextColumn } from "../values/value.ts";

/** Fills one column of the table. A row is first read by every column and kept only when all could. */
export interface CellReader {
  /** Reads this column's entry of a row at an instant; a sentence when it cannot be read. */
  read(entries: readonly string[], instant: number): string | null;
  /** The entry as it will stand in the workbook's row; valid after a read. */
  text(): string;
  /** The value just read, for the instant that other columns and filters go by. */
  readonly value: number;
  keep(): void;
  finish(): NumberColumn | TextColumn;
}

/** The reason why an entry cannot be read. */
export const underHeader = (entry: string, header: string, problem: string): string =>
  `"${entry.slice(0, 60)}" under "${header}" ${problem}`;

/** Where the headers of a CSV stand. */
export type Positions = ReadonlyMap<string, number>;
