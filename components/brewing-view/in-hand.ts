import type { CellResult, ColumnResult, Edit, Session, TableResult, Understood } from "../../engine/index.ts";
import { holdsFigures } from "../table/entries.ts";
import { readField, unitOfField } from "../text/formula-text.ts";
import { measuredOf, takesTimes } from "./stops.ts";

/** A place in a log: a row from 0 (as many as it has: the next one), and a column among those that take readings. */
export interface Spot {
  readonly row: number;
  readonly column: number;
}

/** What the dock takes a reading for: a line, or one entry of a log. */
export interface InHand {
  readonly label: string;
  /** What a bare figure is in. */
  readonly unit: string;
  readonly takes: "figure" | "words" | "moment" | "day";
  /** What is offered instead of a field, each as it would be typed; none: there is a field. */
  readonly choices: readonly string[];
  /** What stands there as it was written; empty: nothing does. */
  readonly was: string;
  understand(typed: string): Understood;
  /** The edit that keeps what was understood. */
  edit(formula: string): Edit;
}

/** The line whose moment is a whole day. */
const DAY = "batch_date";

const quoted = (choice: string): string => `"${choice.replaceAll('"', '""')}"`;

/** A line that takes a reading, a figure or a choice; null when it is worked out. */
export const lineInHand = (session: Session, cell: CellResult): InHand | null => {
  const field = readField(cell.formula);
  if (field === null && cell.blank === null && cell.choices === null) return null;
  const unit = unitOfField(cell, field);
  const moment = cell.name === DAY ? "day" : "moment";
  return {
    label: cell.label,
    unit,
    takes: cell.blank?.asks === "text" ? "words" : cell.blank?.asks === "instant" ? moment : "figure",
    choices: cell.choices?.map(quoted) ?? (cell.blank?.asks === "truth" ? ["yes", "no"] : []),
    was: cell.blank?.filled === false ? "" : [field?.figure, field?.unit].filter(Boolean).join(" "),
    understand: (typed) => session.understand(cell.name, typed),
    edit: (formula) => ({ edit: "set-formula", cell: cell.name, formula }),
  };
};

/** A figure that is written without a unit. */
const BARE = /\d$/;

/** An entry of a log as it was written; a bare figure as the reader sees it, with its unit. Empty: nothing is written. */
export const entryInWords = (session: Session, table: TableResult, row: number, column: ColumnResult): string => {
  const { text, shown } = session.entry(table.name, row, column.name);
  const bare = column.unitText !== "" && BARE.test(text) && shown !== "";
  return bare ? `${shown} ${column.unitText}` : text.replace(/^(\d{4}-\d\d-\d\d)T/, "$1 ");
};

/** One entry of a log; null when the log takes no readings. The first of a row that is not there yet adds the row. */
export const entryInHand = (session: Session, table: TableResult, { row, column: at }: Spot): InHand | null => {
  const columns = measuredOf(table);
  const column = columns[at];
  if (column === undefined) return null;
  const fresh = row >= table.rowCount;
  return {
    label: `${table.label}, row ${row + 1}: ${column.label}`,
    unit: column.unitText,
    takes: takesTimes(column) ? "moment" : holdsFigures(column) ? "figure" : "words",
    choices: column.choices ?? [],
    was: fresh ? "" : entryInWords(session, table, row, column),
    understand: (typed) => session.understand(table.name, typed, column.name),
    edit: (entry) =>
      fresh
        ? {
            edit: "add-rows",
            table: table.name,
            at: null,
            rows: [columns.map((_, each) => (each === at ? entry : ""))],
          }
        : { edit: "set-entry", table: table.name, row, column: column.name, entry },
  };
};

/** The spot after one: the next column, then the first of the next new row. */
export const spotAfter = (table: TableResult, { row, column }: Spot): Spot =>
  column + 1 < measuredOf(table).length ? { row, column: column + 1 } : { row: table.rowCount, column: 0 };
