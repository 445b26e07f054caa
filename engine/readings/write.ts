import type { Reject } from "./read.ts";
import { headerText } from "./target.ts";

/** A column to be written: its header's label and unit, and its entries as a workbook has them. */
export interface WrittenColumn {
  readonly label: string;
  /** Empty for text, truths, instants and plain numbers. */
  readonly unit: string;
  readonly entry: (row: number) => string;
}

/** RFC 4180: entries with a comma, quote or line break are quoted; so are outer blanks, which reading would drop. */
const field = (text: string): string => (/[",\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

/** RFC 4180 ends every line so. */
const LINE_END = "\r\n";
/** Rows in one piece: large enough to be fast, small enough to be handed on while the next is made. */
const ROWS_AT_ONCE = 1000;

/** Writes a table as CSV in pieces, its units in the headers (`Gravity (°P)`), entries as they stand: it reads back unchanged. */
export function* writeCsv(columns: readonly WrittenColumn[], rows: number): Generator<string> {
  yield columns.map(({ label, unit }) => field(headerText(label, unit))).join(",") + LINE_END;
  for (let row = 0; row < rows; row += ROWS_AT_ONCE) {
    let piece = "";
    for (let at = row; at < Math.min(rows, row + ROWS_AT_ONCE); at += 1)
      piece += rowOf(columns.map(({ entry }) => field(entry(at)))) + LINE_END;
    yield piece;
  }
}

/** A row with one empty entry would be a blank line, which is no row. */
const rowOf = (fields: readonly string[]): string =>
  fields.length === 1 && fields[0] === "" ? '""' : fields.join(",");

/** Writes rejected rows as CSV: the line in the file, the row as it stood there, and why it was not read. */
export function writeRejects(rejects: readonly Reject[]): string {
  const rows = rejects.map(({ line, row, reason }) => `${line},${field(row)},${field(reason)}${LINE_END}`);
  return `Line,Row,Reason${LINE_END}${rows.join("")}`;
}
