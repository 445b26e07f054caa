import type { NumberColumn, TextColumn } from "../values/value.ts";
import { cellReader } from "./cells.ts";
import type { ColumnMapping, Mapping } from "./mapping.ts";
import type { ExistingRows } from "./merge.ts";
import { recordsOf } from "./records.ts";
import type { RowsPage } from "./rows-text.ts";
import { isInstant, type Target, unitText } from "./target.ts";
import type { ReadUnit } from "./units-in-text.ts";

/** The rows of a workbook's table, read from their CSV lines by the same rules as a file's; an entry that cannot be read is missing. */
export function existingRows(pages: readonly RowsPage[], target: Target, readUnit: ReadUnit): ExistingRows {
  const mapping = ownMapping(target);
  const at = new Map(mapping.headers.map((header, index) => [header, index]));
  const readers = mapping.columns.map((column, index) =>
    cellReader(column, target.columns[index] as Target["columns"][number], mapping, at, readUnit),
  );
  const rows: (readonly string[])[] = [];
  const columns: (number | string | null)[][] = readers.map(() => []);
  for (const { text } of pages) {
    for (const { entries } of recordsOf(text, ",")) {
      const trimmed = entries.map((entry) => entry.trim());
      for (const [index, reader] of readers.entries()) {
        const readable = reader.read(trimmed, rows.length, Number.NaN) === null;
        const entry = trimmed[index] ?? "";
        columns[index]?.push(
          target.columns[index]?.kind.is === "text" ? entry || null : readable ? reader.value : Number.NaN,
        );
      }
      rows.push(trimmed);
    }
  }
  return {
    rows: rows.length,
    columns: columns.map((values, index): NumberColumn | TextColumn =>
      target.columns[index]?.kind.is === "text" ? (values as (string | null)[]) : Float64Array.from(values as number[]),
    ),
    entries: (row) => rows[row] ?? [],
  };
}

/** How a workbook's own rows are written: its units, ISO instants, no header. */
function ownMapping(target: Target): Mapping {
  const headers = target.columns.map(({ name }) => name);
  const columns = target.columns.map(({ name, unit, kind }): ColumnMapping => {
    const spelling = unitText(unit);
    return {
      to: name,
      from: [name],
      unit: spelling || null,
      unitFrom: null,
      implied: 0,
      offset: 0,
      switches: [],
      order: isInstant(kind) ? "iso" : null,
    };
  });
  return {
    ...{
      encoding: "utf-8",
      separator: ",",
      headers,
      headerRow: false,
      unitsRow: false,
      marks: { decimal: ".", thousands: "" },
    },
    ...{
      empties: [],
      zone: null,
      clock: null,
      columns,
      key: [],
      occurrence: false,
      keep: [],
      after: null,
      before: null,
      answers: {},
    },
  };
}
