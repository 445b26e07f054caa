import type { CellResult, ColumnResult, Session, TableResult } from "../../engine/index.ts";
import { labelOf, listed } from "../actions/apply.ts";
import { itemsOfSheet } from "../actions/places.ts";
import { faultyPlaces, problemsOf, sheetLabel, sheetOf } from "../text/book.ts";

/** What a brewer comes to on a sheet: a line, or a log, which is a table that takes times, a row at a time. */
export type Stop =
  | { readonly is: "line"; readonly name: string; readonly cell: CellResult }
  | { readonly is: "log"; readonly name: string; readonly table: TableResult };

/** Whether a column takes times. */
export const takesTimes = ({ measured, type: { kind } }: ColumnResult): boolean =>
  measured && kind.is === "reading" && kind.family.endsWith("instant");

/** The columns of a log that readings go into. */
export const measuredOf = ({ columns }: TableResult): readonly ColumnResult[] =>
  columns.filter(({ measured }) => measured);

const lineStop = (session: Session, name: string): readonly Stop[] => {
  const cell = session.cell(name);
  return cell === null ? [] : [{ is: "line", name: cell.name, cell }];
};

const logStop = (session: Session, name: string): readonly Stop[] => {
  const table = session.table(name);
  return table?.columns.some(takesTimes) ? [{ is: "log", name: table.name, table }] : [];
};

/** The stops of a sheet in their order; of the front page (an empty name) its lines. */
export const stopsOf = (session: Session, sheet: string): readonly Stop[] =>
  sheet === ""
    ? session.workbook.head.flatMap((item) => (item.is === "cell" ? lineStop(session, item.name) : []))
    : itemsOfSheet(session, sheet).flatMap((item) => {
        if (item.is === "cell") return lineStop(session, `${sheet}.${item.name}`);
        return item.is === "table" ? logStop(session, `${sheet}.${item.name}`) : [];
      });

/** Blanks and tables of a sheet that are still to fill, by full name. */
export const blanksOf = (session: Session, sheet: string): readonly string[] =>
  problemsOf(session).blanks.filter((name) => sheetOf(session, name) === sheet);

/** Full names of the stops of a sheet where something is still to be taken. */
export const openStops = (session: Session, sheet: string): readonly string[] => {
  const blanks = new Set(blanksOf(session, sheet));
  return stopsOf(session, sheet).flatMap(({ name }) => (blanks.has(name) ? [name] : []));
};

/** What is said where no other reading of a sheet is left. */
export const doneInWords = (session: Session, sheet: string): string => {
  const left = blanksOf(session, sheet);
  if (left.length === 0) return "Every reading of this sheet is taken.";
  return openStops(session, sheet).length > 0
    ? "This is the only reading left."
    : `${listed(session, left)}: to be filled at the desk.`;
};

/** The sheets of the brewing view in the order of the work: the front page first, where it has lines. */
export const sheetsOf = (session: Session): readonly string[] => [
  ...(stopsOf(session, "").length > 0 ? [""] : []),
  ...session.workbook.sheets.map(({ name }) => name),
];

/** The first sheet after `sheet` (null: of all), and then from the first on, where a reading can be taken; null: none is left. */
export const nextSheet = (session: Session, sheet: string | null): string | null => {
  const sheets = sheetsOf(session);
  const at = sheet === null ? -1 : sheets.indexOf(sheet);
  const order = [...sheets.slice(at + 1), ...sheets.slice(0, Math.max(0, at))];
  return order.find((name) => openStops(session, name).length > 0) ?? null;
};

/** Whether readings are taken on a sheet at all, be they taken already or not. */
export const hasReadings = (session: Session, sheet: string): boolean =>
  stopsOf(session, sheet).some((stop) => stop.is === "log" || stop.cell.blank !== null);

/** Places of a sheet at which something is faulty. */
export const faultsOn = (session: Session, sheet: string): readonly string[] =>
  faultyPlaces(session).filter((name) => sheetOf(session, name) === sheet);

/** A place with its sheet, a column with its table too: "Mash and run-off: Run-off, In the kettle". */
export const placeInWords = (session: Session, name: string): string => {
  const sheet = sheetOf(session, name);
  const table = session.table(name.split(".").slice(0, 2).join("."));
  const labels = [...(table === null ? [] : [table.label]), ...(name === sheet ? [] : [labelOf(session, name)])];
  return [sheetLabel(session, sheet), labels.join(", ")].filter(Boolean).join(": ");
};

/** The stop at which a place is met, and the row of a log where its first fault is; null where only the desk shows it. */
export const stopAt = (session: Session, name: string): { readonly stop: Stop; readonly row: number | null } | null => {
  const stop = stopsOf(session, sheetOf(session, name)).find(
    (each) => name === each.name || name.startsWith(`${each.name}.`),
  );
  if (stop === undefined) return null;
  const column = stop.is === "log" ? stop.table.columns.find(({ fullName }) => fullName === name) : undefined;
  return { stop, row: column?.entryFaults.keys().next().value ?? null };
};
