import {
  type Context,
  type Edit,
  type Foreseen,
  labelFromName,
  nameFromLabel,
  type Session,
} from "../../engine/index.ts";
import { tell } from "../events.ts";
import { ask, type Reading, type Values } from "../form/form.ts";
import type { MenuItem } from "../menu/menu.ts";
import { quoted } from "../text/formula-text.ts";
import { apply, attempt, labelOf } from "./apply.ts";
import { askedOf, formulaOf, readsFormula, unitTyped } from "./formula-field.ts";
import { confirmRemoval, moveItem, newLine, refuseLabel, refuseName, relabel, rename } from "./lines.ts";
import { partsOf, placeOf } from "./places.ts";

/** `taken` or `taken "When taken"`: a name with its label where the label says more. */
const named = (label: string): string => {
  const name = nameFromLabel(label);
  return labelFromName(name) === label ? name : `${name} ${quoted(label)}`;
};

interface Column {
  readonly label: string;
  /** A colon and a unit, or = and a formula. */
  readonly rest: string;
}

/** The columns of a table as typed, one a line: `Taken : instant`, `Gravity : °P by 0.1`, `Gone = …`. */
const columnsOf = (typed: string): readonly Column[] =>
  typed
    .split(/\r\n|\r|\n/)
    .map((row) => row.trim())
    .filter((row) => row !== "")
    .map((row) => {
      const at = row.search(/[:=]/);
      return at < 0 ? { label: row, rest: ": number" } : { label: row.slice(0, at).trim(), rest: row.slice(at) };
    });

/** A column's line behind its label, `: °P by 0.1` or `= …`; a unit as a field takes it. */
const restOf = (session: Session, context: Context, rest: string): string => {
  if (!rest.startsWith(":")) return rest;
  const unit = unitTyped(session, context, rest.slice(1));
  return unit !== null && "ok" in unit && unit.ok ? `: ${unit.formula}` : rest;
};

/** A `table` statement without rows. */
const tableText = (session: Session, context: Context, label: string, columns: readonly Column[]): string =>
  [
    `table ${named(label.trim())}`,
    ...columns.map((column) => `  column ${named(column.label)} ${restOf(session, context, column.rest)}`),
    "  rows",
    "  end",
  ].join("\n");

/** What is told of a unit that cannot be read and has a mend, `date`, with the unit mended; null: nothing. */
const mendedUnit = (session: Session, context: Context, unit: string): Reading | null => {
  const read = readsFormula(session, context, `? ${unit.trim()}`);
  return read?.choices?.length
    ? { says: read.says, choices: read.choices.map(({ value, label }) => ({ value: value.slice(2), label })) }
    : null;
};

/** The units that are taken otherwise than they were typed; of those that have a mend the first is told with it. */
const readsColumns = (session: Session, context: Context, typed: string): Reading | null => {
  const columns = columnsOf(typed);
  for (const { label, rest } of columns) {
    const mended =
      rest === restOf(session, context, rest) && rest.startsWith(":")
        ? mendedUnit(session, context, rest.slice(1))
        : null;
    if (mended === null) continue;
    const written = (unit: string): string =>
      columns.map((each) => `${each.label} ${each.label === label ? `: ${unit}` : each.rest}`).join("\n");
    return {
      says: `${label}: ${mended.says}`,
      choices: mended.choices?.map(({ value, label: says }) => ({ value: written(value), label: says })),
    };
  }
  const says = columns.flatMap(({ label, rest }) => {
    const read = restOf(session, context, rest);
    return read === rest ? [] : [`${label} is read in ${read.slice(1).trim()}.`];
  });
  return says.length === 0 ? null : { says: says.join(" ") };
};

/** Why a new table will not do, by field: each bad column with its label and reason. */
const refusedTable = (
  session: Session,
  add: (label: string, columns: readonly Column[]) => Edit,
  { label = "", columns: typed = "" }: Values,
): Record<string, string | null> => {
  const columns = columnsOf(typed);
  const names = columns.flatMap((column) => {
    const says = refuseName(nameFromLabel(column.label));
    return says === null ? [] : [`${column.label || column.rest}: ${says}`];
  });
  if (columns.length === 0) names.push("It needs a column.");
  const refused = { label: refuseLabel(label), columns: names.join("\n") || null };
  if (refused.label !== null || refused.columns !== null) return refused;
  const table = nameFromLabel(label);
  const isOfTable = ({ fault }: Foreseen): boolean =>
    (fault?.code === "duplicate-name" || fault?.code === "reserved-name") && fault.data.name === table;
  const found = session.rehearse(add(label, columns));
  const bad = found.filter((each) => !isOfTable(each));
  const reasonOf = (column: Column): string | undefined => {
    const full = `.${table}.${nameFromLabel(column.label)}`;
    const own = bad.find(({ name }) => name.endsWith(full));
    if (own !== undefined || bad.every(({ name }) => name !== "")) return own?.message;
    // What cannot be read as a column has no name: it is the one that is told so by itself.
    return session.rehearse(add(label, [column])).find(({ name }) => name === "")?.message;
  };
  const says = columns.flatMap((column) => {
    const reason = reasonOf(column);
    return reason === undefined ? [] : [`${column.label}: ${reason}`];
  });
  if (says.length === 0) says.push(...bad.map(({ message }) => message));
  return { label: found.find(isOfTable)?.message ?? null, columns: says.join("\n") || null };
};

/** Asks for a label and columns, and puts the table after item `at`. */
export const newTable = async (host: Element, session: Session, sheet: string, at: number | null): Promise<void> => {
  const context = { sheet, cell: null };
  const add = (label: string, columns: readonly Column[]): Edit => ({
    edit: "add-text",
    sheet,
    at,
    text: tableText(session, context, label, columns),
  });
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
        reads: (typed) => readsColumns(session, context, typed),
      },
    ],
    submit: "Add the table",
    check: (given) => refusedTable(session, add, given),
    keep: ({ label = "", columns = "" }) =>
      attempt(host, session, add(label, columnsOf(columns)), `New table ${label.trim()}`),
  });
  if (values !== null) tell(host, "gyle-go", { name: `${sheet}.${nameFromLabel(values.label ?? "")}` });
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
      { value: "truth", label: "Yes or no" },
      { value: "worked", label: "Worked out row by row" },
    ],
  },
] as const;

/** A column as the file writes it. */
const columnText = (session: Session, context: Context, { label = "", kind = "", rest = "" }: Values): string => {
  const name = named(label.trim());
  if (kind === "worked") return `${name} = ${formulaOf(session, context, rest)}`;
  return `${name} ${kind === "measured" ? restOf(session, context, `: ${rest.trim() || "number"}`) : `: ${kind}`}`;
};

/** What is made of a unit, or of the formula of a worked column. */
const readsColumn = (session: Session, context: Context, typed: string, kind = ""): Reading | null => {
  if (kind === "worked") return readsFormula(session, context, typed);
  if (kind !== "measured" || typed.trim() === "") return null;
  const unit = unitTyped(session, context, typed);
  if (unit === null || ("ok" in unit && !unit.ok)) return mendedUnit(session, context, typed);
  if ("ask" in unit)
    return { says: unit.says, choices: unit.choices.map(({ formula, label }) => ({ value: formula, label })) };
  return { says: `It is read in ${unit.reads}.` };
};

/** Asks for a column and adds it before column `at` (null: last). */
export const newColumn = async (host: Element, session: Session, table: string, at: number | null): Promise<void> => {
  const context = { sheet: partsOf(table).sheet, cell: null, table };
  const made = (given: Values) =>
    ({ edit: "add-column", table, at, text: columnText(session, context, given) }) as const;
  await ask(host, {
    heading: "New column",
    fields: [
      ...COLUMN_FIELDS,
      {
        name: "rest",
        label: "Unit or formula",
        kind: "formula",
        hint: "Readings: °P by 0.1. Worked out: original - gravity.",
        reads: (typed, { kind }) => readsColumn(session, context, typed, kind),
      },
    ],
    submit: "Add the column",
    check: (given) => {
      const { label = "", kind = "", rest = "" } = given;
      const name = refuseLabel(label);
      const empty = kind === "worked" && rest.trim() === "" ? "It needs a formula." : null;
      const asked = kind === "worked" ? askedOf(session, context, rest) : null;
      if (name !== null || empty !== null || asked !== null) return { label: name, rest: empty ?? asked };
      const [found] = session.rehearse(made(given));
      const field =
        found?.fault?.code === "duplicate-name" || found?.fault?.code === "reserved-name" ? "label" : "rest";
      return { [field]: found?.message ?? null };
    },
    keep: (given) => attempt(host, session, made(given), `New column ${(given.label ?? "").trim()}`),
  });
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
  await ask(host, {
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
    keep: ({ text = "" }) =>
      text.trim() === before
        ? null
        : attempt(
            host,
            session,
            { edit: "set-column", table, column, text: text.trim() },
            `Change of column ${column}`,
          ),
  });
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
    { label: "Change the label", run: () => void relabel(host, session, `${table}.${column}`) },
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
