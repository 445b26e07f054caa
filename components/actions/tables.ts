import { labelFromName, nameFromLabel, type Session } from "../../engine/index.ts";
import { tell } from "../events.ts";
import { ask, type Values } from "../form/form.ts";
import type { MenuItem } from "../menu/menu.ts";
import { quoted } from "../text/formula-text.ts";
import { apply, labelOf } from "./apply.ts";
import { confirmRemoval, moveItem, newLine, refuseName, relabel, rename } from "./lines.ts";
import { partsOf, placeOf } from "./places.ts";

/** `taken` or `taken "When taken"`: a name with its label where the label says more. */
const named = (label: string): string => {
  const name = nameFromLabel(label);
  return labelFromName(name) === label ? name : `${name} ${quoted(label)}`;
};

/** The columns of a table as typed, one a line: `Taken : instant`, `Gravity : °P by 0.1`, `Gone = …`. */
const columnsOf = (typed: string): readonly { readonly label: string; readonly rest: string }[] =>
  typed
    .split(/\r\n|\r|\n/)
    .map((row) => row.trim())
    .filter((row) => row !== "")
    .map((row) => {
      const at = row.search(/[:=]/);
      return at < 0 ? { label: row, rest: ": 1" } : { label: row.slice(0, at).trim(), rest: row.slice(at) };
    });

/** Asks for a label and columns, and puts the table after item `at`. */
export const newTable = async (host: Element, session: Session, sheet: string, at: number | null): Promise<void> => {
  const values = await ask(host, {
    heading: "New table",
    fields: [
      { name: "label", label: "What it is called", value: "Readings" },
      {
        name: "columns",
        label: "Columns, one a line",
        kind: "long",
        value: "Taken : instant\nGravity : °P\nTemp : °C",
        hint: "Of readings: its label, a colon and the unit; for a date and time “instant”, for words “text”, for yes or no “truth”. Worked out row by row: its label, = and a formula.",
      },
    ],
    submit: "Add the table",
    check: ({ label = "", columns = "" }) => {
      const refused = [label, ...columnsOf(columns).map((column) => column.label)].map((each) =>
        refuseName(nameFromLabel(each)),
      );
      return columnsOf(columns).length === 0 ? "It needs a column." : (refused.find((says) => says !== null) ?? null);
    },
  });
  if (values === null) return;
  const label = (values.label ?? "").trim();
  const columns = columnsOf(values.columns ?? "").map((column) => `  column ${named(column.label)} ${column.rest}`);
  const text = [`table ${named(label)}`, ...columns, "  rows", "  end"].join("\n");
  if (apply(host, session, { edit: "add-text", sheet, at, text }, `New table ${label}`))
    tell(host, "gyle-go", { name: `${sheet}.${nameFromLabel(label)}` });
};

const COLUMN_FIELDS = [
  { name: "label", label: "What it is called" },
  {
    name: "kind",
    label: "What it holds",
    kind: "choice",
    choices: [
      { value: "measured", label: "Readings, in a unit" },
      { value: "text", label: "Words" },
      { value: "instant", label: "Date and time" },
      { value: "worked", label: "Worked out row by row" },
    ],
  },
  {
    name: "rest",
    label: "Unit or formula",
    kind: "formula",
    hint: "Readings: °P by 0.1. Worked out: original - gravity.",
  },
] as const;

const columnText = ({ label = "", kind = "", rest = "" }: Values): string => {
  const name = named(label.trim());
  if (kind === "worked") return `${name} = ${rest.trim()}`;
  return `${name} : ${kind === "measured" ? rest.trim() || "1" : kind}`;
};

/** Asks for a column and adds it before column `at` (null: last). */
export const newColumn = async (host: Element, session: Session, table: string, at: number | null): Promise<void> => {
  const values = await ask(host, {
    heading: "New column",
    fields: COLUMN_FIELDS,
    submit: "Add the column",
    check: ({ label = "", kind, rest = "" }) =>
      refuseName(nameFromLabel(label)) ?? (kind === "worked" && rest.trim() === "" ? "It needs a formula." : null),
  });
  if (values !== null)
    apply(host, session, { edit: "add-column", table, at, text: columnText(values) }, `New column ${values.label}`);
};

/** Changes a column's line as it stands in the file. */
const editColumn = async (host: Element, session: Session, table: string, column: string): Promise<void> => {
  const { sheet, short } = partsOf(table);
  const item = session.workbook.sheets
    .find((each) => each.name === sheet)
    ?.pages.flat()
    .find((each) => each.is === "table" && each.name === short);
  const parsed = item?.is === "table" ? item.columns.find((each) => each.name === column) : undefined;
  if (item === undefined || parsed === undefined) return;
  const before = item.source
    .slice(parsed.span.start, parsed.span.end)
    .trim()
    .replace(/^column\s+/, "");
  const values = await ask(host, {
    heading: `Change ${labelOf(session, `${table}.${column}`)}`,
    fields: [
      {
        name: "text",
        label: "Column",
        kind: "formula",
        value: before,
        hint: "Name, a colon and the unit, by the step, within a range; or name, = and a formula.",
      },
    ],
    submit: "Change it",
  });
  if (values === null || values.text === undefined || values.text.trim() === before) return;
  apply(host, session, { edit: "set-column", table, column, text: values.text.trim() }, `Change of column ${column}`);
};

const removeColumn = async (host: Element, session: Session, table: string, column: string): Promise<void> => {
  if (await confirmRemoval(host, session, `${table}.${column}`, "column"))
    apply(host, session, { edit: "remove-column", table, column }, `Delete column ${column}`);
};

/** What can be done with one column. */
export const columnMenu = (
  host: Element,
  session: Session,
  table: string,
  column: string,
  edit: (() => void) | null,
): readonly MenuItem[] => {
  const at = session.table(table)?.columns.findIndex((each) => each.name === column) ?? -1;
  return [
    ...(edit === null ? [] : [{ label: "Change the formula", run: edit }]),
    { label: "Change the column", run: () => void editColumn(host, session, table, column) },
    { label: "Rename in formulas", run: () => void rename(host, session, `${table}.${column}`, "column") },
    { label: "Show the working", run: () => tell(host, "gyle-select", { name: `${table}.${column}`, open: true }) },
    { label: "New column before", run: () => void newColumn(host, session, table, at) },
    { label: "New column after", run: () => void newColumn(host, session, table, at + 1) },
    { label: "Delete", grave: true, run: () => void removeColumn(host, session, table, column) },
  ];
};

const removeTable = async (host: Element, session: Session, table: string): Promise<void> => {
  const label = labelOf(session, table);
  if (!(await confirmRemoval(host, session, table, "table"))) return;
  const edit = { edit: "remove-item", sheet: partsOf(table).sheet, at: placeOf(session, table) } as const;
  if (apply(host, session, edit, `Delete ${label}`))
    tell(host, "gyle-say", { says: `${label} was deleted. Undo brings it back.` });
};

/** Lists beneath a table what in it does not look like a reading. */
const lookForTrouble = async (host: Element, session: Session, table: string): Promise<void> =>
  (await import("../readings/trouble.ts")).showTrouble(host, session, table);

/** What can be done with one table; `copy` puts it on the clipboard. */
export const tableMenu = (host: Element, session: Session, table: string, copy: () => void): readonly MenuItem[] => {
  const { sheet } = partsOf(table);
  const at = placeOf(session, table);
  const label = labelOf(session, table);
  return [
    { label: "Copy the table", run: copy },
    { label: "New column", run: () => void newColumn(host, session, table, null) },
    { label: "Read a CSV into it", run: () => void tell(host, "gyle-command", { command: "read-csv", table }) },
    { label: "Look for sensor trouble", run: () => void lookForTrouble(host, session, table) },
    { label: "Change the label", run: () => void relabel(host, session, table) },
    { label: "Rename in formulas", run: () => void rename(host, session, table, "table") },
    { label: "New line below", run: () => void newLine(host, session, sheet, at + 1) },
    { label: "Move up", run: () => moveItem(host, session, sheet, at, -1, label) },
    { label: "Move down", run: () => moveItem(host, session, sheet, at, 1, label) },
    { label: "Delete", grave: true, run: () => void removeTable(host, session, table) },
  ];
};
