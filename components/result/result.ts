import { css, html, LitElement, nothing, type PropertyValues } from "lit";
import { keyed } from "lit/directives/keyed.js";
import { type CellResult, type Session, visible } from "../../engine/index.ts";
import { apply } from "../actions/apply.ts";
import { lineMenu } from "../actions/menus.ts";
import { SessionWatch } from "../controllers/session-watch.ts";
import { tell } from "../events.ts";
import { base } from "../look/base.ts";
import { icons, stateShapes } from "../look/icons.ts";
import { line } from "../look/line.ts";
import { openMenu } from "../menu/open-menu.ts";
import { isWritten } from "../text/formula-drafts.ts";
import { lineSlot } from "../text/formula-slot.ts";
import { joinFormula, splitFormula } from "../text/formula-text.ts";
import { besideLine, breakable, faultsOf, stateWord } from "../text/standing.ts";
import { whole } from "../text/whole.ts";

/** A longer text than this, in characters, does not go into the place of a figure. */
const SENTENCE = 24;

const MOMENT = /^\d{4}-\d\d-\d\d(?: \S+)?$/;

/**
 * A line that is worked out: label, figure, unit, its formula in small type beneath, and its state in words. The label
 * shows the working, the formula opens in place; a fault stands beneath with the mends that can be made.
 *
 * @element gyle-result
 * @prop session - the book's session
 * @prop name - the line's full name, `mash.mash_ratio`
 * @attr formulas - show the formula beneath
 * @attr selected - the line is in hand
 * @fires gyle-select - the reader took the line in hand
 * @fires gyle-go - the reader wants to go to another line
 * @fires gyle-say - an edit was refused or changed a kind
 * @csspart figure - the figure
 * @csspart unit - the unit
 * @csspart formula - the formula beneath
 */
export class GyleResult extends LitElement {
  static override properties = {
    session: { attribute: false },
    name: {},
    formulas: { type: Boolean, reflect: true },
    editing: { state: true },
  };
  // The frame of the label stands beside its words, which begin where other labels do.
  static override styles = [
    base,
    line,
    css`
      .label button {
        inline-size: calc(100% + 12px);
        min-block-size: var(--gyle-target);
        margin-inline: -6px;
        padding: 0 6px;
        border: 0;
        text-align: start;
        line-height: 1.25;
        overflow-wrap: anywhere;
      }
      .figure.text {
        grid-column: figure-start / unit-end;
        padding-inline-start: 0.375rem;
        text-align: start;
        font-family: var(--gyle-text);
      }
      @container sheet (min-width: 50.01rem) {
        .figure.text:has(~ .aside:empty) {
          grid-column: figure-start / aside-end;
        }
      }
      /* A sentence stands beneath its label, as wide as the sheet. */
      @container sheet (max-width: 50rem) {
        .figure.sentence {
          grid-area: 4 / label-start / 4 / menu-end;
          padding: 0 0 0.375rem;
        }
      }
      .figure.moment {
        grid-column: figure-start / unit-end;
        white-space: nowrap;
      }
      .none {
        color: var(--gyle-ink-soft);
      }
      @container sheet (max-width: 29rem) {
        .figure.moment {
          padding-inline-end: 0.375rem;
          font-size: 0.875rem;
        }
      }
      .waited {
        display: block;
        block-size: var(--gyle-target);
      }
      @media (pointer: fine) {
        .waited {
          block-size: 1.75rem;
        }
      }
      .formula {
        display: block;
        inline-size: 100%;
        min-block-size: 1.75rem;
        padding: 0 0 0.25rem;
        font-family: var(--gyle-figures);
        font-size: var(--gyle-small);
        line-height: 1.35;
        color: var(--gyle-ink-soft);
        text-align: start;
        overflow-wrap: anywhere;
      }
    `,
  ];

  declare session: Session | null;
  declare name: string;
  declare formulas: boolean;
  /** Its formula is open in the editor. */
  declare editing: boolean;

  /** It has waited while it stood here: the room that said for what is kept, so that nothing moves when its figure comes. */
  #waited = false;
  /** Its formula was being written when the line last left the page, and is written on. */
  #resumes = false;
  /** What was drawn last: a line is the same object for as long as nothing of it changes. */
  #drawn: CellResult | null = null;
  readonly #watch = new SessionWatch(
    this,
    ({ results }) => results === "all" || results.has(this.name) || this.session?.cell(this.name) !== this.#drawn,
  );

  constructor() {
    super();
    this.session = null;
    this.name = "";
    this.formulas = false;
    this.editing = false;
  }

  override focus(): void {
    this.renderRoot.querySelector<HTMLElement>(".label button")?.focus();
  }

  protected override willUpdate(changed: PropertyValues): void {
    this.#watch.watch(this.session);
    if (!changed.has("name") && !changed.has("session")) return;
    this.#waited = false;
    this.#resumes = isWritten(this.session, this.name);
    this.editing ||= this.#resumes;
  }

  protected override render() {
    const cell = this.session?.cell(this.name);
    this.#drawn = cell ?? null;
    if (!cell || this.session === null) return nothing;
    const ready = cell.state === "ready";
    this.#waited ||= cell.state === "waiting";
    // Figures end under one another: another one is another piece of text, or it would count as one that moved.
    const moment = ready && MOMENT.test(cell.figure);
    const figure = ready ? cell.figure : "–";
    const plain = ready && cell.unitText === "" && Number.isNaN(Number.parseFloat(cell.figure.replace("−", "-")));
    const text = plain ? `text ${figure.length > SENTENCE ? "sentence" : ""}` : "";
    return html`
      <span class="mark ${cell.state}" title=${stateWord(cell, false)}>${stateShapes[cell.state]}</span>
      <span class="label"><button class="printed" title="Show the working" aria-describedby="state" @click=${() => this.#select(true)} @focus=${() => this.#select(false)}>${whole(cell.label)}</button></span>
      <output part="figure" class="figure ${text} ${moment ? "moment" : ""} ${ready ? "" : "none"}">${keyed(figure, html`<span>${plain ? whole(figure) : figure}</span>`)}</output>
      <span part="unit" class="unit" ?hidden=${plain || moment}>${breakable(cell.unitText)}</span>
      <div class="aside" id="state">${this.#waited && ready ? html`<span class="waited"></span>` : nothing}${besideLine(this, this.session, cell, false)}</div>
      <button class="menu" aria-label="What can be done with ${cell.label}" aria-haspopup="menu" aria-expanded="false" @click=${this.#menu}>${icons.more}</button>
      ${this.#under(cell, this.session)}
    `;
  }

  #under(cell: CellResult, session: Session) {
    const own = cell.state === "faulty" && cell.because === null;
    if (this.editing) {
      return html`<div class="under" @gyle-keep=${this.#kept} @gyle-leave=${this.#left}>${lineSlot(session, cell, this.#resumes)}</div>`;
    }
    if (!own && !this.formulas) return nothing;
    const formula = visible(joinFormula({ ...splitFormula(cell.formula), note: null }));
    return html`<div class="under">
      ${own ? faultsOf(cell, (formula, label) => this.#set(formula, label)) : nothing}
      <button part="formula" class="formula printed" aria-label="Change the formula of ${cell.label}: ${formula}" @click=${this.#edit}>${whole(formula)}</button>
    </div>`;
  }

  #select(open: boolean): void {
    tell(this, "gyle-select", { name: this.name, open });
  }

  #set(formula: string, label: string): void {
    if (this.session !== null) apply(this, this.session, { edit: "set-formula", cell: this.name, formula }, label);
  }

  readonly #edit = (): void => {
    this.#resumes = false;
    this.editing = true;
    this.#select(false);
  };

  readonly #kept = (event: CustomEvent<{ formula: string }>): void => {
    event.stopPropagation();
    this.editing = false;
    this.#set(event.detail.formula, `Formula of ${this.session?.cell(this.name)?.label ?? this.name}`);
    void this.updateComplete.then(() => this.focus());
  };

  readonly #left = (event: Event): void => {
    event.stopPropagation();
    this.editing = false;
    void this.updateComplete.then(() => this.focus());
  };

  readonly #menu = (event: Event): void => {
    if (this.session !== null)
      void openMenu(event.currentTarget as HTMLElement, lineMenu(this, this.session, this.name, this.#edit));
  };
}

customElements.define("gyle-result", GyleResult);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-result": GyleResult;
  }
}
