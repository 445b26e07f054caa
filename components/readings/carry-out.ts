import {
  type Edit,
  type NewColumn,
  nameFromLabel,
  newTableText,
  readingEdit,
  type Session,
  tableReadFrom,
} from "../../engine/index.ts";
import { partsOf } from "../actions/places.ts";
import type { Brings, Csv } from "./messages.ts";

/** Where a CSV is read into: a table of the book, or a new one on a sheet. */
export type Into =
  | { readonly is: "table"; readonly name: string }
  | { readonly is: "new"; readonly sheet: string; readonly label: string };

/** Full name of the table that is read into. */
export const nameOf = (into: Into): string =>
  into.is === "table" ? into.name : `${into.sheet}.${nameFromLabel(into.label)}`;

/** The edits that a reading comes to, one step of undo. */
export const editsOf = (into: Into, brings: Brings, columns: readonly NewColumn[]): readonly Edit[] => {
  const read = readingEdit(nameOf(into), brings, brings.mapping);
  if (into.is === "table") return [read];
  return [{ edit: "add-text", sheet: into.sheet, at: null, text: newTableText(into.label, columns) }, read];
};

/** A label for a new table that no line or table of the sheet has the name of: `tank`, `tank 2`. */
export const freeLabel = (session: Session, sheet: string, wanted: string): string => {
  const base = nameFromLabel(wanted) === "" ? "Readings" : wanted;
  const isTaken = (label: string): boolean => {
    const name = `${sheet}.${nameFromLabel(label)}`;
    return session.table(name) !== null || session.cell(name) !== null;
  };
  let label = base;
  for (let turn = 2; isTaken(label); turn += 1) label = `${base} ${turn}`;
  return label;
};

/** Every table of the book that holds measured columns, as choices. */
export const tablesOf = (session: Session): readonly { readonly name: string; readonly label: string }[] =>
  session.workbook.sheets.flatMap((sheet) =>
    sheet.pages.flat().flatMap((item) => {
      const table = item.is === "table" ? session.table(`${sheet.name}.${item.name}`) : null;
      if (table === null || !table.columns.some(({ measured }) => measured)) return [];
      return [{ name: table.name, label: `${table.label} (${sheet.label ?? partsOf(table.name).sheet})` }];
    }),
  );

export const sizeInWords = (csv: Csv): string => {
  const size = csv instanceof File ? csv.size : csv.length;
  if (size >= 10_000) return `${Math.round(size / 1000).toLocaleString("en")} kB`;
  return `${size.toLocaleString("en")} ${csv instanceof File ? "bytes" : "characters"}`;
};

/** Enough of a file for the line with its headers, in bytes. */
const BEGINNING = 1 << 16;

/** Full name of the table that files like this one were read into before; null when none was, or it cannot be told. */
export const likelyTable = async (session: Session, csv: Csv | null): Promise<string | null> => {
  if (csv === null) return null;
  const beginning = csv.slice(0, BEGINNING);
  // A file that cannot be read is told of when it is looked at.
  const text = typeof beginning === "string" ? beginning : await beginning.text().catch(() => "");
  return tableReadFrom(session.workbook, text);
};
