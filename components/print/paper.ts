import { html, LitElement, nothing, type TemplateResult } from "lit";
import {
  type CellResult,
  type Item,
  itemsOf,
  labelFromName,
  type Session,
  wordCaution,
  wordFault,
} from "../../engine/index.ts";
import { labelOf } from "../actions/apply.ts";
import { plotData } from "../plot/plot-data.ts";
import { titleOf } from "../text/book.ts";
import { careOf } from "../text/care.ts";
import { readField, splitFormula } from "../text/formula-text.ts";
import { ownCautions } from "../text/standing.ts";
import { paperStyles } from "./paper-styles.ts";
import { paperTable } from "./paper-table.ts";

/**
 * Sheets of a book as they stand on paper: every reading that is still to be taken has a ruled blank with its unit and
 * range, every result that waits for one a dotted one, as is said once, every choice its boxes, every table empty rows to go
 * on in. Sheets run on, in two columns, to spare paper.
 *
 * @element gyle-paper
 * @prop session - the book's session
 * @prop names - the sheets, in order; "" is the front page
 */
export class GylePaper extends LitElement {
  static override properties = { session: { attribute: false }, names: { attribute: false } };
  static override styles = paperStyles;

  declare session: Session | null;
  declare names: readonly string[];

  constructor() {
    super();
    this.session = null;
    this.names = [];
  }

  protected override render() {
    const { session } = this;
    return session === null ? nothing : this.names.map((name, at) => this.#sheet(session, name, at === 0));
  }

  #sheet(session: Session, name: string, first: boolean) {
    const sheet = session.workbook.sheets.find((each) => each.name === name);
    const head = session.workbook.head.filter((item) => item.is === "cell");
    if (sheet === undefined && name !== "") return nothing;
    const items: readonly Item[] = sheet === undefined ? head : [...itemsOf(sheet)];
    const title = titleOf(session.workbook);
    return html`<section>
      <div class="top">
        ${first && name !== "" ? html`<p class="book">${title}</p>` : nothing}
        <h2>${sheet === undefined ? title : labelOfSheet(sheet)}</h2>
        ${first && this.#waits(session) ? html`<p class="aside">Fill in where a rule is whole; where it is dotted, the book works it out.</p>` : nothing}
        <p class="hand"><span>Brewer</span><span>Date</span></p>
      </div>
      ${careOf(session, name).map((says) => html`<p class="caution">${says}</p>`)}
      <div class="flow">${items.map((item) => this.#item(session, name, item))}</div>
    </section>`;
  }

  /** Whether any line of the printed sheets waits for a reading. */
  #waits(session: Session): boolean {
    const waiting = session.workbook.sheets.filter(({ name }) => this.names.includes(name));
    return waiting.some((sheet) =>
      [...itemsOf(sheet)].some(
        (item) => item.is === "cell" && session.cell(`${sheet.name}.${item.name}`)?.state === "waiting",
      ),
    );
  }

  #item(session: Session, sheet: string, item: Item): TemplateResult | typeof nothing {
    const full = "name" in item ? nameIn(sheet, item.name) : "";
    switch (item.is) {
      case "cell": {
        const cell = session.cell(full);
        return cell === null ? nothing : line(session, cell);
      }
      case "table": {
        const table = session.table(full);
        return table === null ? nothing : paperTable(session, full, table);
      }
      case "plot":
        // The plot of a log that has no row yet would be an empty frame.
        return plotData(session, sheet, item).says !== null
          ? nothing
          : html`<gyle-plot .session=${session} .sheet=${sheet} .item=${item}></gyle-plot>`;
      case "section":
        return html`<h3>${item.label}</h3>`;
      case "prose":
        return html`<p class="prose">${item.text}</p>`;
      case "unread":
        return html`<p class="prose">Could not be read: ${item.source.trim()}</p>`;
      case "gap":
        return nothing;
    }
  }
}

const nameIn = (sheet: string, name: string): string => (sheet === "" ? name : `${sheet}.${name}`);

const line = (session: Session, cell: CellResult): TemplateResult => {
  const empty = cell.blank !== null && !cell.blank.filled;
  const choices = cell.blank?.asks === "truth" ? ["yes", "no"] : cell.choices;
  const asides = [
    empty ? rangeOf(cell.formula) : "",
    ...(cell.state === "faulty" ? [faultOf(session, cell)] : []),
    cell.tooFew ?? "",
    ...ownCautions(cell.cautions).map(wordCaution),
    cell.note ?? "",
  ].filter((says) => says !== "");
  return html`<div class="line">
    <span>${cell.label}</span>
    ${choices === null ? figureOf(session, cell, empty) : choicesOf(cell, choices)}
    ${asides.length === 0 ? nothing : html`<span class="aside">${asides.join(" · ")}</span>`}
  </div>`;
};

/** What was typed stands as it was typed, unless the reader chose another lens. */
const figureOf = (session: Session, cell: CellResult, empty: boolean): TemplateResult => {
  if (empty) return html`<span class="blank"></span> <span class="unit">${cell.blank?.unitText}</span>`;
  if (cell.state === "waiting")
    return html`<span class="blank later"></span> <span class="unit">${cell.unitText}</span>`;
  if (cell.state === "faulty") return html`<span class="figure">faulty</span><span></span>`;
  const typed = session.lens === "as-written" ? readField(cell.formula) : null;
  const worked = { figure: cell.unitText === "" ? cell.shown : cell.figure, unit: cell.unitText };
  const { figure, unit } = typed ?? worked;
  return html`<span class="figure ${cell.blank === null ? "" : "taken"}">${figure}</span> <span class="unit">${unit}</span>`;
};

const choicesOf = (cell: CellResult, choices: readonly string[]): TemplateResult =>
  html`<span class="choices">${choices.map(
    (choice) =>
      html`<span><span class="box ${cell.state === "ready" && cell.shown === choice ? "ticked" : ""}"></span>${choice}</span>`,
  )}</span>`;

/** `within 65 to 68 °C`, as it is typed; empty where the line has no range. */
const rangeOf = (formula: string): string => /within\s.*/s.exec(splitFormula(formula).tail)?.[0] ?? "";

const faultOf = (session: Session, cell: CellResult): string => {
  const [fault] = cell.faults;
  if (cell.because !== null) return `faulty because of ${labelOf(session, cell.because)}`;
  return fault === undefined ? "" : wordFault(fault);
};

const labelOfSheet = (sheet: { readonly name: string; readonly label: string | null }): string =>
  sheet.label ?? labelFromName(sheet.name);

customElements.define("gyle-paper", GylePaper);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-paper": GylePaper;
  }
}
