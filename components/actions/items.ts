import type { Session, Workbook } from "../../engine/index.ts";
import { tell } from "../events.ts";
import { ask } from "../form/form.ts";
import type { MenuItem } from "../menu/menu.ts";
import { apply } from "./apply.ts";
import { moveItem, newLine, proseOf, relabel, rename, sectionOf } from "./lines.ts";
import { newPlot } from "./plots.ts";
import { moveSheet, newSheet, removeSheet } from "./sheets.ts";
import { newTable } from "./tables.ts";

type SheetItem = Workbook["sheets"][number]["pages"][number][number];

/** Asks for prose and adds it after item `at`. */
const newProse = async (host: Element, session: Session, sheet: string, at: number | null): Promise<void> => {
  const values = await ask(host, {
    heading: "New paragraph",
    fields: [{ name: "text", label: "What it says", kind: "long" }],
    submit: "Add it",
    check: ({ text = "" }) => ({ text: text.trim() === "" ? "There is nothing to add yet." : null }),
  });
  if (values !== null)
    apply(host, session, { edit: "add-text", sheet, at, text: proseOf(values.text ?? "") }, "New paragraph");
};

/** Asks for a heading and adds it after item `at`. */
const newSection = async (host: Element, session: Session, sheet: string, at: number | null): Promise<void> => {
  const values = await ask(host, {
    heading: "New heading",
    fields: [{ name: "label", label: "Heading" }],
    submit: "Add it",
    check: ({ label = "" }) => ({ label: label.trim() === "" ? "It needs words." : null }),
  });
  if (values !== null)
    apply(
      host,
      session,
      { edit: "add-text", sheet, at, text: sectionOf((values.label ?? "").trim()) },
      `Heading ${values.label}`,
    );
};

/** Everything that can be added to a sheet, after item `at` or at its end. */
export const addMenu = (host: Element, session: Session, sheet: string, at: number | null): readonly MenuItem[] => [
  { label: "A line", keys: "Alt N", run: () => void newLine(host, session, sheet, at) },
  { label: "A table", run: () => void newTable(host, session, sheet, at) },
  { label: "A plot", run: () => void newPlot(host, session, sheet, at) },
  { label: "A heading", run: () => void newSection(host, session, sheet, at) },
  { label: "A paragraph", run: () => void newProse(host, session, sheet, at) },
  { label: "Readings from a CSV", run: () => void tell(host, "gyle-command", { command: "read-csv" }) },
];

/** Prose, headings, plots and what could not be read are changed as text. */
const editItem = async (host: Element, session: Session, sheet: string, item: SheetItem, at: number): Promise<void> => {
  const before = item.is === "prose" ? item.text : item.is === "section" ? item.label : item.source.trimEnd();
  const values = await ask(host, {
    heading:
      item.is === "section" ? "Change the heading" : item.is === "prose" ? "Change the prose" : "Change the text",
    fields: [{ name: "text", label: "Text", kind: item.is === "section" ? "text" : "long", value: before }],
    submit: "Change it",
  });
  if (values === null || values.text === undefined || values.text === before) return;
  const text =
    item.is === "prose" ? proseOf(values.text) : item.is === "section" ? sectionOf(values.text.trim()) : values.text;
  apply(host, session, { edit: "set-text", sheet, at, text }, "Change of text");
};

/** What can be done with an item that has no name. */
export const itemMenu = (
  host: Element,
  session: Session,
  sheet: string,
  item: SheetItem,
  at: number,
): readonly MenuItem[] => [
  { label: "Change", run: () => void editItem(host, session, sheet, item, at) },
  { label: "New line below", run: () => void newLine(host, session, sheet, at + 1) },
  { label: "Move up", run: () => moveItem(host, session, sheet, at, -1, "it") },
  { label: "Move down", run: () => moveItem(host, session, sheet, at, 1, "it") },
  { label: "Delete", grave: true, run: () => void apply(host, session, { edit: "remove-item", sheet, at }, "Delete") },
];

/** What can be done with a sheet. */
export const sheetMenu = (host: Element, session: Session, sheet: string): readonly MenuItem[] => [
  { label: "Print this sheet", keys: "Ctrl P", run: () => void tell(host, "gyle-command", { command: "print" }) },
  { label: "Print every sheet", run: () => void tell(host, "gyle-command", { command: "print-book" }) },
  { label: "Change the label", run: () => void relabel(host, session, sheet) },
  { label: "Rename in formulas", run: () => void rename(host, session, sheet, "sheet") },
  { label: "Move earlier", run: () => moveSheet(host, session, sheet, -1) },
  { label: "Move later", run: () => moveSheet(host, session, sheet, 1) },
  {
    label: "New sheet after this",
    run: () => void newSheet(host, session, session.workbook.sheets.findIndex((each) => each.name === sheet) + 1),
  },
  { label: "Delete this sheet", grave: true, run: () => void removeSheet(host, session, sheet) },
];
