import { html, nothing, type TemplateResult } from "lit";
import { type CellResult, inWords, type Session, type TableResult } from "../../engine/index.ts";
import { stateShapes } from "../look/icons.ts";
import { readField, unitOfField } from "../text/formula-text.ts";
import { entryInWords } from "./in-hand.ts";
import { blanksOf, faultsOn, measuredOf } from "./stops.ts";

/** A line with its figure, to be taken in hand. */
export const lineButton = (cell: CellResult, inHand: boolean, take: () => void): TemplateResult => {
  const blank = cell.blank !== null && !cell.blank.filled;
  const field = readField(cell.formula);
  const figure = blank ? "to fill" : (field?.figure ?? (cell.state === "ready" ? cell.figure : cell.state));
  const unit = blank ? unitOfField(cell, field) : (field?.unit ?? cell.unitText);
  return html`<button class="line ${blank ? "blank" : cell.state}" aria-current=${inHand ? "true" : nothing} @click=${take}>
      <span class="mark">${blank ? stateShapes.waiting : stateShapes[cell.state]}</span>
      <span class="label">${cell.label}</span><span class="value"><b>${figure}</b> ${unit}</span>
    </button>`;
};

/** A log with how many rows it has, to be taken in hand. */
export const logButton = (
  session: Session,
  sheet: string,
  table: TableResult,
  inHand: boolean,
  take: () => void,
): TemplateResult => {
  const faulty = faultsOn(session, sheet).some((name) => name.startsWith(`${table.name}.`));
  const state = faulty ? "faulty" : blanksOf(session, sheet).includes(table.name) ? "waiting" : "ready";
  return html`<button class="line ${state === "waiting" ? "blank" : state}" aria-current=${inHand ? "true" : nothing} @click=${take}>
      <span class="mark">${stateShapes[state]}</span>
      <span class="label">${table.label}</span><span class="value">${faulty ? html`<span class="bad">faulty</span> · ` : nothing}${inWords(table.rowCount, "row")}</span>
    </button>`;
};

/** So many of the last rows of a log can be corrected here; all of them at the desk. */
const LAST_ROWS = 6;

/** A row in words, without the day of its time. */
const written = (session: Session, table: TableResult, row: number): string =>
  measuredOf(table)
    .map((column) => entryInWords(session, table, row, column).replace(/^\d{4}-\d\d-\d\d /, "") || "–")
    .join(" · ");

/**
 * The last rows of a log, each to be taken in hand, and the next one; `row` is the one in hand: within its
 * own row a reading that is kept leads on to the next entry, so `take` is told whether it is that one.
 */
export const rowsOf = (
  session: Session,
  table: TableResult,
  row: number,
  take: (row: number, own: boolean) => void,
): TemplateResult => {
  const from = Math.max(0, Math.min(row, table.rowCount - LAST_ROWS));
  const rows = Array.from({ length: Math.min(LAST_ROWS, table.rowCount - from) }, (_, at) => from + at);
  const button = (at: number, says: string) =>
    html`<li class="row"><button class="edged" aria-pressed=${at === row ? "true" : "false"} @click=${() => take(at, at === row)}><b>${at + 1}</b> ${says}</button></li>`;
  return html`${rows.map((at) => button(at, written(session, table, at)))}${button(table.rowCount, "new row")}`;
};
