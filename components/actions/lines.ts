import { type Edit, isName, labelFromName, nameFromLabel, type Session } from "../../engine/index.ts";
import { tell } from "../events.ts";
import { ask, type Values } from "../form/form.ts";
import type { MenuItem } from "../menu/menu.ts";
import { sheetLabel } from "../text/book.ts";
import { joinFormula, quoted, splitFormula } from "../text/formula-text.ts";
import { apply, attempt, labelOf, listed } from "./apply.ts";
import { askedOf, formulaOf, readsFormula, refusedName } from "./formula-field.ts";
import { itemsOfSheet, partsOf, placeOf } from "./places.ts";

/** Why a typed name will not do, or null. */
export const refuseName = (name: string): string | null => {
  if (name === "") return "It needs a name.";
  return isName(name) ? null : `“${name}” cannot be a name: a name is a letter, then letters, figures and _.`;
};

/** Why a typed label will not do, or null: the name in formulas is made from it. */
export const refuseLabel = (label: string): string | null =>
  label.trim() === "" ? "It needs a label." : refuseName(nameFromLabel(label));

/** Where both stand in the field for the label, as in `Total water = 585 L`: says where each belongs. */
const refuseBoth = ({ label = "", formula = "" }: Values): string | null => {
  const [, called, holds] = /^([^=]*[^=\s])\s*=\s*(\S.*)$/.exec(label.trim()) ?? [];
  return called === undefined || holds === undefined || formula.trim() !== ""
    ? null
    : `“${called}” is what it is called; “${holds.trim()}” goes into What it holds.`;
};

/** Asks for a label and a formula, and puts a new line after item `at` (null: at the end). */
export const newLine = async (host: Element, session: Session, sheet: string, at: number | null): Promise<void> => {
  const context = { sheet, cell: null };
  const made = ({ label: typed = "", formula = "" }: Values) => {
    const label = typed.trim();
    const name = nameFromLabel(label);
    return {
      edit: "add-cell",
      sheet,
      at,
      name,
      label: labelFromName(name) === label ? null : label,
      formula: formulaOf(session, context, formula) || "?",
    } as const;
  };
  const values = await ask(host, {
    heading: "New line",
    fields: [
      { name: "label", label: "What it is called", hint: "“Strike water”. Its name in formulas is made from it." },
      {
        name: "formula",
        label: "What it holds",
        kind: "formula",
        hint: "A figure with its unit (640 L), a reading to be taken (? °C), or a formula (strike_water / grain as L/kg).",
        reads: (typed) => readsFormula(session, context, typed),
      },
    ],
    submit: "Add the line",
    check: (given) => ({
      label: refuseBoth(given) ?? refuseLabel(given.label ?? "") ?? refusedName(session, made(given)),
      formula: askedOf(session, context, given.formula ?? ""),
    }),
    keep: (given) => attempt(host, session, made(given), `New line ${(given.label ?? "").trim()}`),
  });
  if (values !== null) tell(host, "gyle-go", { name: `${sheet}.${nameFromLabel(values.label ?? "")}` });
};

/** Asks for another name, and changes it in every formula; a label that was made from the old name stays. `what` is line, table, column or sheet. */
export const rename = async (host: Element, session: Session, of: string, what: string): Promise<void> => {
  const path = of.split(".");
  const short = path.at(-1) ?? of;
  const root = host.getRootNode();
  // A line of another name is drawn anew: what is said after that is said by its sheet.
  const lasting = what === "line" && root instanceof ShadowRoot ? root.host : host;
  const label = what === "sheet" ? sheetLabel(session, of) : labelOf(session, of);
  const renamed = (name: string): string => [...path.slice(0, -1), name].join(".");
  const edits = (name: string): readonly Edit[] => [
    { edit: "rename", of, name },
    ...(labelFromName(short) === label && labelFromName(name) !== label
      ? [{ edit: "set-label", of: renamed(name), label } as const]
      : []),
  ];
  const values = await ask(host, {
    heading: `Rename ${what} in formulas`,
    says: "The name is changed in every formula that uses it; what the screen calls it is its label. It can be undone.",
    fields: [{ name: "name", label: "Name in formulas", kind: "formula", value: short }],
    submit: "Rename",
    check: ({ name = "" }) => ({ name: refuseName(name.trim()) }),
    keep: ({ name = "" }) =>
      name.trim() === short ? null : attempt(host, session, edits(name.trim()), `Rename ${short} to ${name.trim()}`),
  });
  const name = values?.name?.trim() ?? short;
  if (name !== short) tell(lasting, "gyle-go", { name: renamed(name) });
};

/** Asks for another label; left empty, it is made from the name. */
export const relabel = async (host: Element, session: Session, of: string): Promise<void> => {
  const label = labelOf(session, of);
  const values = await ask(host, {
    heading: "Change the label",
    fields: [
      {
        name: "label",
        label: "What the screen calls it",
        value: label,
        hint: "Formulas go by its name, which stays. Left empty, the label is made from the name.",
      },
    ],
    submit: "Change it",
  });
  if (values === null) return;
  const typed = (values.label ?? "").trim();
  apply(host, session, { edit: "set-label", of, label: typed === "" ? null : typed }, `Label of ${label}`);
};

const editNote = async (host: Element, session: Session, name: string): Promise<void> => {
  const cell = session.cell(name);
  if (cell === null) return;
  const values = await ask(host, {
    heading: `Note on ${cell.label}`,
    fields: [{ name: "note", label: "Note", value: cell.note ?? "" }],
    submit: "Keep the note",
  });
  if (values === null) return;
  const formula = joinFormula({ ...splitFormula(cell.formula), note: values.note ?? "" });
  apply(host, session, { edit: "set-formula", cell: name, formula }, `Note on ${cell.label}`);
};

/** Asks before something goes that others use, and says which do; at once when none does. */
export const confirmRemoval = async (host: Element, session: Session, name: string, what: string): Promise<boolean> => {
  const users = session.dependants(name);
  if (users.length === 0) return true;
  const values = await ask(host, {
    heading: `Delete ${labelOf(session, name)}?`,
    says: `${listed(session, users, 6)} ${users.length === 1 ? "uses" : "use"} this ${what} and would be faulty without it.`,
    fields: [],
    submit: "Delete it all the same",
    grave: true,
  });
  return values !== null;
};

const removeLine = async (host: Element, session: Session, name: string): Promise<void> => {
  const { sheet } = partsOf(name);
  const label = labelOf(session, name);
  if (!(await confirmRemoval(host, session, name, "line"))) return;
  const at = placeOf(session, name);
  const edit =
    sheet === "" ? ({ edit: "remove-head", of: name } as const) : ({ edit: "remove-item", sheet, at } as const);
  if (apply(host, session, edit, `Delete ${label}`))
    tell(host, "gyle-say", { says: `${label} was deleted. Undo brings it back.` });
};

/** A second line like this one, under a name of its own. */
const duplicate = (host: EventTarget, session: Session, name: string): void => {
  const { sheet, short } = partsOf(name);
  const cell = session.cell(name);
  if (cell === null) return;
  const taken = (candidate: string): boolean =>
    session.cell(`${sheet}.${candidate}`) !== null || session.table(`${sheet}.${candidate}`) !== null;
  let count = 2;
  while (taken(`${short}_${count}`)) count += 1;
  const made = {
    edit: "add-cell",
    sheet,
    at: placeOf(session, name) + 1,
    name: `${short}_${count}`,
    label: `${cell.label} ${count}`,
    formula: cell.formula,
  } as const;
  if (apply(host, session, made, `Duplicate ${cell.label}`)) tell(host, "gyle-go", { name: `${sheet}.${made.name}` });
};

/** Moves an item past its neighbour, skipping what a reader does not see. */
export const moveItem = (
  host: EventTarget,
  session: Session,
  sheet: string,
  at: number,
  by: -1 | 1,
  label: string,
): void => {
  const items = itemsOfSheet(session, sheet);
  let to = at + by;
  while (items[to]?.is === "gap") to += by;
  if (to < 0 || to >= items.length) return;
  apply(host, session, { edit: "move-item", sheet, at, to }, `Move ${label}`);
};

/** Everything that can be done with one line; `edit` opens its formula. */
export const lineMenu = (host: Element, session: Session, name: string, edit: () => void): readonly MenuItem[] => {
  const { sheet } = partsOf(name);
  const cell = session.cell(name);
  const label = cell?.label ?? name;
  const at = placeOf(session, name);
  const inSheet: readonly MenuItem[] = [
    { label: "New line below", keys: "Alt N", run: () => void newLine(host, session, sheet, at + 1) },
    { label: "Duplicate", run: () => duplicate(host, session, name) },
    { label: "Move up", keys: "Alt ↑", run: () => moveItem(host, session, sheet, at, -1, label) },
    { label: "Move down", keys: "Alt ↓", run: () => moveItem(host, session, sheet, at, 1, label) },
  ];
  return [
    { label: "Show the working", run: () => tell(host, "gyle-select", { name, open: true }) },
    { label: "Change the formula", keys: "F2", run: edit },
    { label: cell?.note === null ? "Add a note" : "Change the note", run: () => void editNote(host, session, name) },
    { label: "Change the label", run: () => void relabel(host, session, name) },
    { label: "Rename in formulas", run: () => void rename(host, session, name, "line") },
    ...(sheet === "" ? [] : inSheet),
    { label: "Delete", grave: true, run: () => void removeLine(host, session, name) },
  ];
};

/** Asks for a text of several lines and keeps it as prose: one `>` line for each. */
export const proseOf = (text: string): string =>
  text
    .split(/\r\n|\r|\n/)
    .map((row) => `> ${row}`.trimEnd())
    .join("\n");

/** A `section "…"` statement. */
export const sectionOf = (label: string): string => `section ${quoted(label)}`;
