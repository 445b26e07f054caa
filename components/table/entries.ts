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

/** A reading stands as it was written, with a blank for the T of a moment; another lens shows a figure in the column's unit. */
export const shownEntry = (column: ColumnResult, entry: ReturnType<Session["entry"]>, lens: Session["lens"]): string =>
  column.measured && (lens === "as-written" || entry.shown === "" || isInstant(column))
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

/**
 * One sentence beneath a table, always there, so that nothing moves: what is understood, a fault, what is waited for. What can be
 * read in several ways is asked with a button for each: `answer` takes the entry that is meant; null leaves it as it was.
 */
export const statusOf = (
  from: EventTarget,
  session: Session,
  table: TableResult,
  at: Place,
  draft: string | null,
  answer: (entry: string | null) => void,
): string | TemplateResult => {
  const column = table.columns[at.column];
  if (column === undefined) return " ";
  const entry = session.entry(table.name, at.row, column.name);
  if (draft !== null) {
    if (draft.trim() === "") return "Left empty: missing.";
    const understood = session.understand(table.name, draft, column.name, at.row);
    // What stands there has been read already, unless it is faulty.
    if ("ask" in understood && draft.trim() === entry.text && entry.fault === null) return " ";
    if ("ask" in understood) return asking(understood, entry.text, answer);
    const says = whole(understood.says);
    return understood.ok ? html`${says} – Enter keeps` : html`<span class="faulty">${says}</span>`;
  }
  if (column.state === "waiting") return html`${waitsFor(from, session, column)}`;
  const fault = column.faults[0] ?? column.entryFaults.get(at.row);
  return fault === undefined ? " " : html`<span class="faulty">${whole(wordFault(fault))}</span>`;
};

/** The question that an open entry waits for, and its answers. */
const asking = (
  { says, choices }: Extract<ReturnType<Session["understand"]>, { readonly ask: true }>,
  stands: string,
  answer: (entry: string | null) => void,
): TemplateResult => {
  const stay = (event: Event): void => event.preventDefault();
  const button = (label: string, entry: string | null) =>
    html`<button class="edged" @mousedown=${stay} @click=${() => answer(entry)}>${whole(label)}</button>`;
  return html`${whole(`${says} Not kept: ${stands === "" ? "the entry is still empty." : `${stands} still stands.`}`)}
    <span class="answers" @keydown=${(event: KeyboardEvent) => event.key === "Escape" && answer(null)}>
      ${choices.map(({ label, formula }) => button(label, formula))}${button("Leave it as it was", null)}
    </span>`;
};
