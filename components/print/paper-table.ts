import { html, nothing, type TemplateResult } from "lit";
import type { ColumnResult, Session, TableResult } from "../../engine/index.ts";
import { shownEntry } from "../table/entries.ts";

/** A table with more rows than this is for the screen; on paper it has so many of them, and the rest is counted. */
const PRINTED_ROWS = 24;

/** Ruled rows to go on in after the last one, and in a table that has none yet. */
const RULED_ROWS = 1;
const RULED_ROWS_AT_FIRST = 8;

/** So many columns go side by side into half the width of a page; a table with more has the whole of it. */
const HALF_WIDTH_COLUMNS = 4;

/** A narrow table is set in several blocks side by side, unless its blocks came out shorter than this, in rows. */
const LEAST_IN_BLOCK = 3;

/** A table with more columns than this has smaller print, so that it fits the narrower of A4 and Letter. */
const WIDE_COLUMNS = 5;

type Row = number | "ruled";

/**
 * A table as it stands on paper: its rows as they are shown, then ruled ones to go on in, worked columns hatched there. A
 * narrow one, such as a dip stick's, is set in blocks side by side; of a long one the first rows are given.
 */
export const paperTable = (session: Session, name: string, table: TableResult): TemplateResult => {
  const { columns, rowCount } = table;
  const left = rowCount - PRINTED_ROWS;
  const ruled = left > 0 ? 0 : rowCount === 0 ? RULED_ROWS_AT_FIRST : RULED_ROWS;
  const rows: readonly Row[] = [
    ...Array.from({ length: Math.min(rowCount, PRINTED_ROWS) }, (_, row) => row),
    ...Array.from({ length: ruled }, () => "ruled" as const),
  ];
  const across = Math.max(1, Math.floor(HALF_WIDTH_COLUMNS / Math.max(1, columns.length)));
  const blocks = Math.max(1, Math.min(across, Math.floor(rows.length / LEAST_IN_BLOCK)));
  const high = Math.ceil(rows.length / blocks);
  const kind = columns.length > WIDE_COLUMNS ? "whole wide" : columns.length > HALF_WIDTH_COLUMNS ? "whole" : "";
  return html`<div class="table ${kind}" role="group" aria-label=${table.label}>
    <h4>${table.label}</h4>
    <div class="blocks">${Array.from({ length: blocks }, (_, block) =>
      blockOf(session, name, columns, rows.slice(block * high, (block + 1) * high)),
    )}</div>
    ${left > 0 ? html`<p class="aside">… and ${left} more ${left === 1 ? "row" : "rows"}; the whole table is in the book.</p>` : nothing}
  </div>`;
};

const blockOf = (session: Session, name: string, columns: readonly ColumnResult[], rows: readonly Row[]) => html`<table>
  <thead><tr>${columns.map((column) => html`<th class=${wordsOf(column)}>${column.label}<span>${column.unitText}</span></th>`)}</tr></thead>
  <tbody>${rows.map((row) =>
    row === "ruled"
      ? html`<tr class="ruled">${columns.map(({ measured }) => html`<td class=${measured ? "" : "worked"}></td>`)}</tr>`
      : html`<tr>${columns.map((column) => html`<td class=${wordsOf(column)}>${shownEntry(column, session.entry(name, row, column.name), session.lens)}</td>`)}</tr>`,
  )}</tbody>
</table>`;

const wordsOf = ({ type }: ColumnResult): string => (type.kind.is === "text" ? "words" : "");
