import type { Within } from "../checker/checked.ts";
import { type Fault, fault } from "../diagnostics/diagnostic.ts";
import { entryText, type Rows, readRows } from "../parser/csv.ts";
import type { Type } from "../values/kind.ts";
import { type Entry, type EntryReader, type PageRead, readEntry, type Values } from "./columns.ts";
import type { RowPage } from "./document.ts";

/** What is needed of a measured column to read its entries. */
export interface PageColumn {
  readonly type: Type;
  readonly within: Within | null;
}

/** A column of `count` entries, all missing. */
export const emptyValues = ({ kind }: Type, count: number): Values =>
  kind.is === "text" ? new Array<string | null>(count).fill(null) : new Float64Array(count).fill(Number.NaN);

/** Reads one entry; `entry` is its place among those of the page. */
export function readAt(
  text: string,
  { type, within }: PageColumn,
  rows: Rows,
  entry: number,
  reader: EntryReader,
): Entry | Fault {
  if (type.kind.is === "unknown") return Number.NaN;
  const found = readEntry(text, type, within, reader);
  if (typeof found !== "object" || found === null) return found;
  return { ...found, span: { start: rows.starts[entry] ?? 0, end: rows.ends[entry] ?? 0 }, mends: [] };
}

/** What stands in a column for an entry that cannot be read. */
export const unreadable = ({ kind }: Type): Entry => (kind.is === "text" ? null : Number.NaN);

export const isFault = (found: Entry | Fault): found is Fault => typeof found === "object" && found !== null;

/** Reads the entries of a page. */
export function readPage(page: RowPage, columns: readonly PageColumn[], reader: EntryReader): PageRead {
  const rows = readRows(page.text);
  const read = columns.map(({ type }) => emptyValues(type, page.count));
  const faults: { column: number; row: number; fault: Fault }[] = [];
  const ragged: { row: number; fault: Fault }[] = [];
  for (let row = 0; row < rows.count; row += 1) {
    const [first, next] = [rows.firsts[row] as number, rows.firsts[row + 1] as number];
    if (next - first !== columns.length)
      ragged.push({ row, fault: raggedRow(page.text, rows, first, next, columns.length) });
    for (let column = 0; column < columns.length; column += 1) {
      const entry = first + column;
      const text = entry < next ? entryText(page.text, rows, entry) : "";
      const of = columns[column] as PageColumn;
      const found = readAt(text, of, rows, entry, reader);
      if (isFault(found)) faults.push({ column, row, fault: found });
      (read[column] as Entry[])[row] = isFault(found) ? unreadable(of.type) : found;
    }
  }
  return { columns: read, faults, ragged };
}

function raggedRow(text: string, rows: Rows, first: number, next: number, wanted: number): Fault {
  const span = { start: rows.starts[first] ?? 0, end: rows.ends[next - 1] ?? 0 };
  const had = next - first;
  return fault("column-lengths", span, {
    says: `This row has ${had} ${had === 1 ? "entry" : "entries"}; the table takes ${wanted}, one for each measured column.${had > wanted ? decimalComma(text, rows, first, next) : ""}`,
  });
}

/** Two figures with nothing but a comma between them are most likely one, whose comma stands for a decimal point. */
function decimalComma(text: string, rows: Rows, first: number, next: number): string {
  for (let entry = first; entry + 1 < next; entry += 1) {
    const [left, right] = [entryText(text, rows, entry), entryText(text, rows, entry + 1)];
    const touch = rows.starts[entry + 1] === (rows.ends[entry] ?? 0) + 1;
    if (touch && /^[-−]?\d+$/.test(left) && /^\d+(?!\S)/.test(right))
      return ` A comma separates entries: if ${left},${right} is one figure, write ${left}.${right}.`;
  }
  return "";
}
