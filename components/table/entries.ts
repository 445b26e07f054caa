import { html, type TemplateResult } from "lit";
import { type ColumnResult, printUnit, type Session, type TableResult, wordFault } from "../../engine/index.ts";
import { waitsFor } from "../text/standing.ts";
import { whole } from "../text/whole.ts";
import type { Place, Stretch } from "./grid.ts";

/** Whether a column's entries are typed with figures' keys. */
export const holdsFigures = (column: ColumnResult): boolean => {
  const { is } = column.type.kind;
  return is === "quantity" || (is === "reading" && !isInstant(column));
};

/** Whether a column's entries are dates, with or without the time of day. */
export const isInstant = ({ type: { kind } }: ColumnResult): boolean =>
  kind.is === "reading" && /instant/.test(kind.family);

/** A reading stands as it was written, with a blank for the T of a moment; another lens shows it in the column's unit. */
export const shownEntry = (column: ColumnResult, entry: ReturnType<Session["entry"]>, lens: Session["lens"]): string =>
  column.measured && (lens === "as-written" || entry.shown === "")
    ? entry.text.replace(/^(\d{4}-\d\d-\d\d)T/, "$1 ")
    : entry.shown;

/** An entry as it is opened: as it was written, and with its unit where the column is shown in another one. */
export const openedEntry = ({ type, unitText }: ColumnResult, { text }: ReturnType<Session["entry"]>): string => {
  const written = type.unit === null ? "" : printUnit(type.unit);
  return /^[-+]?[\d.]+$/.test(text) && written !== unitText ? `${text} ${written}`.trim() : text;
};

/** The entries of a stretch as the reader sees them, row by row. */
export const shownRows = (session: Session, table: TableResult, { top, bottom, left, right }: Stretch): string[][] => {
  const columns = table.columns.slice(left, right + 1);
  return Array.from({ length: Math.max(0, bottom - top + 1) }, (_, at) =>
    columns.map((column) => shownEntry(column, session.entry(table.name, top + at, column.name), session.lens)),
  );
};

/** One sentence beneath a table, always there, so that nothing moves: what is understood, a fault, what is waited for. */
export const statusOf = (
  from: EventTarget,
  session: Session,
  table: TableResult,
  at: Place,
  draft: string | null,
): string | TemplateResult => {
  const column = table.columns[at.column];
  if (column === undefined) return " ";
  if (draft !== null) {
    if (draft.trim() === "") return "Left empty: missing.";
    const understood = session.understand(table.name, draft, column.name, at.row);
    if ("ask" in understood)
      return html`${whole(`${understood.says} ${understood.choices.map(({ label }) => label).join(" or ")}? ${isInstant(column) ? "Write the year first." : "Write it with its unit."}`)}`;
    const says = whole(understood.says);
    return understood.ok ? html`${says} – Enter keeps` : html`<span class="faulty">${says}</span>`;
  }
  if (column.state === "waiting") return html`${waitsFor(from, session, column)}`;
  const fault = column.faults[0] ?? column.entryFaults.get(at.row);
  return fault === undefined ? " " : html`<span class="faulty">${whole(wordFault(fault))}</span>`;
};
