import { labelFromName, nameKey } from "../base/names.ts";
import { printUnit } from "../units/compound.ts";
import { isColumn, isTextColumn } from "../values/value.ts";
import { itemsOf, type Workbook } from "../workbook/document.ts";
import type { Edit } from "../workbook/edit.ts";
import type { Model } from "../workbook/model.ts";
import type { TableRecord } from "../workbook/tables.ts";
import type { Mapping } from "./mapping.ts";
import { parseMapping, printMapping } from "./mapping-text.ts";
import type { ExistingRows, Merge } from "./merge.ts";
import { isInstant, type Target } from "./target.ts";
import { type Finding, findTrouble } from "./trouble.ts";
import { writeCsv } from "./write.ts";

/** A table of a book as readings see it. */
export interface BookTable {
  readonly target: Target;
  readonly existing: ExistingRows;
  /** The mapping that is kept with the table, or null; a kept one that cannot be read is as good as none. */
  readonly kept: Mapping | null;
}

/** The table of this full name; null when there is none. */
export function bookTable(model: Model, name: string): BookTable | null {
  const table = model.tables.get(nameKey(name));
  return table === undefined
    ? null
    : { target: targetOfTable(model, table), existing: rowsOf(model, table), kept: keptMapping(table) };
}

function targetOfTable(model: Model, table: TableRecord): Target {
  const columns = table.measuredColumns.flatMap((at) => {
    const [column, node] = [table.item.columns[at], table.nodes[at]];
    if (column === undefined || node === undefined) return [];
    const { kind, unit } = model.typeOf(node);
    const within = table.withinOf(at);
    const choices = within?.is === "choices" ? within.texts : null;
    return [{ name: column.name, label: column.label ?? labelFromName(column.name), kind, unit, choices }];
  });
  return { columns, zone: model.head.zone?.name ?? null };
}

function rowsOf(model: Model, table: TableRecord): ExistingRows {
  const columns = table.measuredColumns.map((at) => {
    // An entry that cannot be read is one of its own row: the others are still known by theirs.
    const value = table.readable(at);
    if (value !== null && isColumn(value)) return value;
    const node = table.nodes[at];
    const texts = node !== undefined && model.typeOf(node).kind.is === "text";
    return texts
      ? new Array<string | null>(table.rowCount).fill(null)
      : new Float64Array(table.rowCount).fill(Number.NaN);
  });
  return {
    rows: table.rowCount,
    columns: columns.map((column) => (isTextColumn(column) ? column : (column as Float64Array))),
    entries: (row) => table.entriesOf(row),
  };
}

function keptMapping({ item }: TableRecord): Mapping | null {
  if (item.mapping === null) return null;
  const mapping = parseMapping(item.mapping);
  return "problem" in mapping ? null : mapping;
}

/** What in a table's rows does not look like a reading. Rows of several tanks or packages, which a text tells apart, may share an instant. */
export function troubleIn({ target, existing }: BookTable): Finding[] {
  const figures = target.columns.flatMap(({ name, kind, unit }, at) => {
    const values = existing.columns[at];
    return values instanceof Float64Array ? [{ name, kind, unit, values }] : [];
  });
  const times = figures.find(({ kind }) => isInstant(kind))?.values ?? null;
  const watched = figures.filter(({ kind }) => !isInstant(kind) && kind.is !== "truth");
  return findTrouble(times, watched, { severalAtOnce: target.columns.some(({ kind }) => kind.is === "text") });
}

/**
 * Full name of the table that files like this one were read into before: the headers of its kept mapping all stand in the
 * beginning of the file. The mapping with the most of them tells; null when there is none.
 */
export function tableReadFrom({ sheets }: Workbook, beginning: string): string | null {
  let [found, most]: [string | null, number] = [null, 0];
  for (const sheet of sheets)
    for (const item of itemsOf(sheet)) {
      const mapping = item.is === "table" && item.mapping !== null ? parseMapping(item.mapping) : null;
      if (item.is !== "table" || mapping === null || "problem" in mapping || !mapping.headerRow) continue;
      const { length } = mapping.headers;
      if (length > most && mapping.headers.every((header) => beginning.includes(header)))
        [found, most] = [`${sheet.name}.${item.name}`, length];
    }
  return found;
}

/** The one edit that a reading comes to: undone as one step. */
export const readingEdit = (table: string, { changed, pages, places }: Merge, mapping: Mapping): Edit => ({
  edit: "read-rows",
  table,
  changed,
  pages,
  places,
  mapping: printMapping(mapping),
});

/** A table's measured columns as CSV in pieces, units in the headers, entries as they are written; null when there is no such table. */
export function tableCsv(model: Model, name: string): Generator<string> | null {
  const table = model.tables.get(nameKey(name));
  if (table === undefined) return null;
  const { columns } = targetOfTable(model, table);
  const written = columns.map(({ label, unit }, at) => ({
    label,
    unit: unit === null ? "" : printUnit(unit),
    entry: (row: number) => table.entriesOf(row)[at] ?? "",
  }));
  return writeCsv(written, table.rowCount);
}
