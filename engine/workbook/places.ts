import { type Span, shift } from "../base/span.ts";
import type { Fault } from "../diagnostics/diagnostic.ts";
import { type CellItem, formulaOf, type HeadItem, type Item, type TableItem, type Workbook } from "./document.ts";

/** A fault and its place in the file's text. */
export interface PlacedFault {
  readonly fault: Fault;
  readonly span: Span;
}

/** Every item with the offset of its source in the file's text, byte-order mark included. */
export function* placedItems(
  workbook: Workbook,
): Generator<{ readonly item: Item | HeadItem; readonly sheet: number | null; readonly start: number }> {
  let start = workbook.byteOrderMark ? 1 : 0;
  for (const item of workbook.head) {
    yield { item, sheet: null, start };
    start += item.source.length;
  }
  for (const [at, sheet] of workbook.sheets.entries()) {
    start += sheet.source.length;
    for (const page of sheet.pages)
      for (const item of page) {
        yield { item, sheet: at, start };
        start += lengthOf(item);
      }
  }
}

/** The faults that `faultsOf` tells of items, their spans in the item's source, as places in the file. */
export function placedFaults(workbook: Workbook, faultsOf: (item: Item | HeadItem) => readonly Fault[]): PlacedFault[] {
  const placed: PlacedFault[] = [];
  for (const { item, start } of placedItems(workbook)) {
    if (item.is === "cell" || item.is === "gap" || item.is === "prose") {
      for (const fault of item.is === "cell" ? faultsOf(item) : [])
        placed.push({ fault, span: shift(fault.span, start) });
      continue;
    }
    for (const fault of faultsOf(item)) placed.push({ fault, span: inSource(item, fault.span, start) });
  }
  return placed;
}

/** A table's rows stand between its head and its tail; spans past the head are in the tail. */
function inSource(item: Item | HeadItem, span: Span, start: number): Span {
  if (item.is !== "table" || span.start < item.source.length) return shift(span, start);
  return shift(span, start + rowsLength(item));
}

/** Where the name that a fault is about stands in its item's source: a line's, a table's or a column's. */
export function nameSpan(item: CellItem | TableItem, name: string): Span {
  const column =
    item.is === "table" && item.name !== name ? item.columns.findLast((one) => one.name === name) : undefined;
  if (column !== undefined) return column.nameSpan;
  const start = BEFORE_NAME[item.is].exec(item.source)?.[0].length ?? 0;
  return { start, end: start + item.name.length };
}

const BEFORE_NAME = { cell: /^\s*/, table: /^\s*table\s+/ } as const;

/** Where a line's formula begins in its source. */
export const formulaOffset = (item: CellItem): number =>
  Math.max(item.formulaStart, item.source.indexOf(formulaOf(item), item.formulaStart));

/** Characters of a table's rows. They are counted and not joined: a long table has megabytes of them. */
const rowsLength = ({ rows }: TableItem): number => rows.reduce((length, { text }) => length + text.length, 0);

/** Characters of an item in the file. */
const lengthOf = (item: Item): number =>
  item.is === "table" ? item.source.length + rowsLength(item) + item.tail.length : item.source.length;

/** Where the rows of a page begin in a table's source. */
export const pageOffset = (item: TableItem, page: number): number =>
  item.source.length + item.rows.slice(0, page).reduce((length, { text }) => length + text.length, 0);
