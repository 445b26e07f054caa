import { html, type TemplateResult } from "lit";
import type { Session, TableResult } from "../../engine/index.ts";
import { entryInWords } from "./in-hand.ts";
import { measuredOf } from "./stops.ts";

/** So many of the last rows of a log can be corrected here; all of them at the desk. */
const LAST_ROWS = 6;

/** A row in words, without the day of its time. */
const written = (session: Session, table: TableResult, row: number): string =>
  measuredOf(table)
    .map((column) => entryInWords(session, table, row, column).replace(/^\d{4}-\d\d-\d\d /, "") || "–")
    .join(" · ");

/** The last rows of a log, each to be taken in hand, and the next one; `row` is the one in hand. */
export const rowsOf = (
  session: Session,
  table: TableResult,
  row: number,
  take: (row: number) => void,
): TemplateResult => {
  const from = Math.max(0, Math.min(row, table.rowCount - LAST_ROWS));
  const rows = Array.from({ length: Math.min(LAST_ROWS, table.rowCount - from) }, (_, at) => from + at);
  const button = (at: number, says: string) =>
    html`<li class="row"><button class="edged" aria-pressed=${at === row ? "true" : "false"} @click=${() => take(at)}><b>${at + 1}</b> ${says}</button></li>`;
  return html`${rows.map((at) => button(at, written(session, table, at)))}${button(table.rowCount, "new row")}`;
};
