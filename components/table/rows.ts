import { type Edit, labelFromName, type Session, type TableItem, type TableResult } from "../../engine/index.ts";
import { apply } from "../actions/apply.ts";
import { tell } from "../events.ts";
import type { MenuItem } from "../menu/menu.ts";
import { quoted } from "../text/formula-text.ts";
import { clipboardFromRows } from "./clipboard.ts";
import { shownRows } from "./entries.ts";
import { type Stretch, stretchOf } from "./grid.ts";

/** What stands in an entry from now on; false when that was refused. */
export const setEntry = (
  host: EventTarget,
  session: Session,
  table: string,
  row: number,
  column: string,
  entry: string,
): boolean =>
  entry === session.entry(table, row, column).text ||
  apply(host, session, { edit: "set-entry", table, row, column, entry }, `Row ${row + 1} ${column}`);

/**
 * Keeps one entry: the literal where what was typed is understood, else what was typed, which is then faulted. Nothing happens
 * when it is what stood there. False: it can be read in several ways, and is not kept.
 */
export const keepEntry = (
  host: EventTarget,
  session: Session,
  table: string,
  row: number,
  column: string,
  typed: string,
): boolean => {
  const entry = typed.trim();
  if (entry === session.entry(table, row, column).text) return true;
  const understood = session.understand(table, typed, column, row);
  if ("ask" in understood) return false;
  setEntry(host, session, table, row, column, understood.ok ? understood.formula : entry);
  return true;
};

/** Keeps the formula of a worked column; its label stays as it is written. */
export const keepColumn = (
  host: EventTarget,
  session: Session,
  table: string,
  { columns }: TableItem,
  name: string,
  formula: string,
): void => {
  const label = columns.find((each) => each.name === name)?.label ?? null;
  const text = `${name}${label === null ? "" : ` ${quoted(label)}`} = ${formula}`;
  const edit: Edit = { edit: "set-column", table, column: name, text };
  apply(host, session, edit, `Formula of ${label ?? labelFromName(name)}`);
};

/** A row without an entry, as it is added. */
export const emptyRow = (table: TableResult | null): string[] =>
  (table?.columns ?? []).filter(({ measured }) => measured).map(() => "");

/** Adds an empty row before row `at`. */
export const addRow = (host: EventTarget, session: Session, table: string, at: number): boolean =>
  apply(host, session, { edit: "add-rows", table, at, rows: [emptyRow(session.table(table))] }, "Add a row");

export const clearEntries = (
  host: EventTarget,
  session: Session,
  table: TableResult,
  { top, bottom, left, right }: Stretch,
): void => {
  const edits: Edit[] = [];
  for (let row = top; row <= bottom; row += 1)
    for (const { name, measured } of table.columns.slice(left, right + 1))
      if (measured) edits.push({ edit: "set-entry", table: table.name, row, column: name, entry: "" });
  if (edits.length > 0)
    apply(host, session, edits, edits.length === 1 ? "Empty an entry" : `Empty ${edits.length} entries`);
};

/** Puts the whole table on the clipboard, its header first, and says so. */
export const copyTable = async (host: EventTarget, session: Session, table: TableResult): Promise<void> => {
  const header = table.columns.map(({ label, unitText }) => (unitText === "" ? label : `${label} (${unitText})`));
  const all = stretchOf({ row: 0, column: 0 }, { row: table.rowCount - 1, column: table.columns.length - 1 });
  const rows = table.rowCount === 0 ? [] : shownRows(session, table, all);
  const copied = await navigator.clipboard.writeText(clipboardFromRows([header, ...rows])).then(
    () => true,
    () => false,
  );
  const says = copied
    ? `${table.label} was copied: ${table.rowCount} rows.`
    : "The browser did not let the table be copied.";
  tell(host, "gyle-say", { says, grave: !copied });
};

/** What can be done with one row; `add` puts a new one before the given row. */
export const rowMenu = (
  host: EventTarget,
  session: Session,
  table: string,
  row: number,
  add: (at: number) => void,
): readonly MenuItem[] => {
  const last = (session.table(table)?.rowCount ?? 0) - 1;
  const move = (to: number): void => void apply(host, session, { edit: "move-row", table, at: row, to }, "Move a row");
  return [
    { label: "New row above", run: () => add(row) },
    { label: "New row below", run: () => add(row + 1) },
    { label: "Move up", disabled: row === 0, run: () => move(row - 1) },
    { label: "Move down", disabled: row === last, run: () => move(row + 1) },
    {
      label: "Delete the row",
      grave: true,
      run: () => void apply(host, session, { edit: "remove-rows", table, at: row, count: 1 }, "Delete a row"),
    },
  ];
};
