import { html, LitElement, nothing, type PropertyValues } from "lit";
import type { CellResult, Session, Understood } from "../../engine/index.ts";
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
import { type FieldText, readField, unitOfField } from "../text/formula-text.ts";
import { besideLine, breakable, faultsOf, stateWord } from "../text/standing.ts";
import { entryStyles } from "./entry-styles.ts";

const isKept = (understood: Understood | null): boolean => understood !== null && "ok" in understood && understood.ok;

const BARE_FIGURE = /^[-+−]?[\d.,]+$/;

/**
 * A line that takes a figure, a text, a moment or a choice. What is typed is understood while typing and said before it is
 * kept: Enter or leaving the field keeps, Escape puts back what stood there. What is not understood is told under the line with
 * what still counts; leaving puts that back in the field, and the sentence stays until the field is taken up again.
 *
 * @element gyle-entry
 * @prop session - the book's session
 * @prop name - the line's full name, `mash.grain`
 * @attr selected - the line is in hand
 * @fires gyle-select - the field took the focus
 * @fires gyle-go - the reader wants to go to another line
 * @fires gyle-say - an edit was refused or changed a kind, or what was typed is not kept
 * @csspart field - the input or select
 * @csspart echo - what was understood
 */
export class GyleEntry extends LitElement {
  static override properties = {
    session: { attribute: false },
    name: {},
    draft: { state: true },
    left: { state: true },
    editing: { state: true },
  };
  static override styles = [base, line, entryStyles];

  declare session: Session | null;
  declare name: string;
  /** What is typed and not kept; null: nothing. */
  declare draft: string | null;
  /** What was typed when the field was left, and could not be kept; null: nothing. */
  declare left: string | null;
  /** Its formula is open in the editor. */
  declare editing: boolean;

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
    this.draft = null;
    this.left = null;
    this.editing = false;
  }

  override focus(): void {
    this.renderRoot.querySelector<HTMLElement>("#field")?.focus();
  }

  protected override willUpdate(changed: PropertyValues): void {
    this.#watch.watch(this.session);
    if (changed.has("name")) {
      this.draft = null;
      this.left = null;
    }
    if (!changed.has("name") && !changed.has("session")) return;
    this.#resumes = isWritten(this.session, this.name);
    this.editing ||= this.#resumes;
  }

  protected override updated(changed: PropertyValues): void {
    // At the edge of the page what was understood would stand out of sight.
    if (changed.has("draft") && this.draft !== null)
      this.renderRoot.querySelector("#echo")?.scrollIntoView({ block: "nearest" });
  }

  get #understood(): Understood | null {
    const typed = this.draft ?? this.left;
    return typed === null || this.session === null ? null : this.session.understand(this.name, typed);
  }

  /** What counts while what is typed does not: `15 L still counts.` */
  #counts(cell: CellResult): string {
    const field = readField(cell.formula);
    const written = [field?.figure, field?.unit].filter(Boolean).join(" ");
    return cell.blank?.filled === false || written === "" ? "it is still to fill." : `${written} still counts.`;
  }

  /** Puts back what stood there, and says so of what could not be kept. */
  #putBack(): void {
    const cell = this.session?.cell(this.name);
    if (cell && this.draft !== null && !isKept(this.#understood))
      tell(this, "gyle-say", { says: `${cell.label}: "${this.draft}" is not kept: ${this.#counts(cell)}` });
    this.draft = null;
  }

  /** The field is left: what is understood is kept. Another window in front or the choices of a question leave nothing. */
  readonly #leave = ({ relatedTarget }: FocusEvent): void => {
    this.#keep();
    const stays = [relatedTarget, this.shadowRoot?.activeElement].some(
      (each) => each instanceof Element && each.closest("#field, #echo") !== null && this.renderRoot.contains(each),
    );
    if (this.draft === null || stays) return;
    this.left = isKept(this.#understood) ? null : this.draft;
    this.#putBack();
  };

  /** Keeps what is typed where it is understood; a refused draft stays as it is. */
  #keep(): void {
    const cell = this.session?.cell(this.name);
    const understood = this.#understood;
    if (!cell || understood === null || this.draft === null) return;
    if (this.draft.trim() === readField(cell.formula)?.figure) this.draft = null;
    else if ("ok" in understood && understood.ok) this.#set(understood.formula, `${cell.label} ${understood.reads}`);
  }

  #set(formula: string, label: string): void {
    if (this.session !== null && apply(this, this.session, { edit: "set-formula", cell: this.name, formula }, label)) {
      this.draft = null;
      this.left = null;
    }
  }

  readonly #keys = (event: KeyboardEvent): void => {
    if (event.key === "Enter") {
      event.preventDefault();
      this.#keep();
    } else if (event.key === "Escape" && this.draft !== null) {
      event.stopPropagation();
      this.#putBack();
    }
  };

  protected override render() {
    const cell = this.session?.cell(this.name);
    this.#drawn = cell ?? null;
    if (!cell || this.session === null) return nothing;
    const field = readField(cell.formula);
    const blank = cell.blank !== null && !cell.blank.filled;
    const unit = unitOfField(cell, field);
    return html`
      <span class="mark ${cell.state}" title=${stateWord(cell, blank)}>${blank ? stateShapes.waiting : stateShapes[cell.state]}</span>
      <label class="label" for="field">${cell.label}</label>
      ${cell.choices !== null || cell.blank?.asks === "truth" ? this.#choice(cell) : this.#field(cell, { figure: field?.figure ?? "", unit }, blank)}
      <span class="unit" id="unit" ?hidden=${unit === ""}>${breakable(unit)}</span>
      <div class="aside" id="aside">${this.#throughLens(cell, field)}${besideLine(this, this.session, cell, blank)}</div>
      <button class="menu" aria-label="What can be done with ${cell.label}" aria-haspopup="menu" aria-expanded="false" @click=${this.#menu}>${icons.more}</button>
      ${this.#under(cell, this.session)}
    `;
  }

  /** What the reader's lens makes of it; the field itself stays as it was written. */
  #throughLens(cell: CellResult, field: FieldText | null) {
    const written = [field?.figure, field?.unit].filter(Boolean).join(" ");
    if (this.session?.lens === "as-written" || cell.state !== "ready" || cell.unitText === "" || cell.shown === written)
      return nothing;
    return html`<span class="figures">= ${cell.shown}</span>`;
  }

  #under(cell: CellResult, session: Session) {
    if (this.editing) {
      return html`<div class="under" @gyle-keep=${this.#edited} @gyle-leave=${this.#left}>${lineSlot(session, cell, this.#resumes)}</div>`;
    }
    if (cell.state !== "faulty" || cell.because !== null) return nothing;
    return html`<div class="under">${faultsOf(cell, (formula, label) => this.#set(formula, label))}</div>`;
  }

  #field(cell: CellResult, { figure, unit }: { readonly figure: string; readonly unit: string }, blank: boolean) {
    const understood = this.#understood;
    const refused = understood !== null && "ok" in understood && !understood.ok;
    const floats = isKept(understood);
    // What was left is told for as long as it is not kept.
    const told = this.draft === null && floats ? null : understood;
    // Whatever is no bare figure, such as a text, a moment or 20 lb 12 oz, also has the unit's place.
    const roomy = unit === "" && cell.blank?.asks !== "number" && !BARE_FIGURE.test(figure);
    const words = typeof cell.value === "string" || cell.blank?.asks === "text" ? "words" : "";
    return html`<div class="figure box ${roomy ? "wide" : ""} ${words}"><input
        id="field"
        part="field"
        class=${blank ? "open" : ""}
        autocomplete="off"
        spellcheck="false"
        enterkeyhint="done"
        inputmode=${cell.blank?.asks === "text" || cell.blank?.asks === "instant" ? "text" : "decimal"}
        placeholder=${blank ? "to fill" : ""}
        aria-describedby="unit aside echo"
        aria-invalid=${refused && this.draft !== null ? "true" : nothing}
        .value=${this.draft ?? figure}
        @input=${(event: InputEvent) => {
          this.draft = (event.target as HTMLInputElement).value;
          this.left = null;
        }}
        @keydown=${this.#keys}
        @focus=${(event: FocusEvent) => {
          (event.target as HTMLInputElement).select();
          this.left = null;
          tell(this, "gyle-select", { name: this.name });
        }}
        @blur=${this.#leave}
      /></div>
      <div id="echo" part="echo" class="echo ${floats ? `floats ${roomy ? "wide" : ""}` : refused ? "refused" : ""}" aria-live="polite"
        ?hidden=${told === null} @focusout=${this.#leave}>${this.#echo(told, cell)}</div>`;
  }

  #echo(understood: Understood | null, cell: CellResult) {
    if (understood === null) return nothing;
    if ("ok" in understood && understood.ok) return html`<b>${understood.says}</b> <span>Enter keeps</span>`;
    return html`<p><span>${understood.says}</span> Not kept: ${this.#counts(cell)}</p>
      ${
        "ask" in understood
          ? understood.choices.map(
              (choice) =>
                html`<button class="edged" @mousedown=${(event: Event) => event.preventDefault()} @click=${() => this.#set(choice.formula, choice.reads)}>${choice.label}</button>`,
            )
          : nothing
      }`;
  }

  #choice(cell: CellResult) {
    const choices = cell.choices ?? ["yes", "no"];
    const literal = (text: string): string => (cell.choices === null ? text : `"${text.replaceAll('"', '""')}"`);
    const now = readField(cell.formula)?.figure ?? "";
    const chosen = (event: Event): void => {
      const value = (event.target as HTMLSelectElement).value;
      const understood =
        this.session === null ? undefined : this.session.understand(this.name, value === "" ? "" : literal(value));
      if (understood !== undefined && "ok" in understood && understood.ok)
        this.#set(understood.formula, `${cell.label} ${value}`);
    };
    return html`<select id="field" part="field" class="figure choice" aria-describedby="aside" @focus=${() => tell(this, "gyle-select", { name: this.name })} @change=${chosen}>
      ${now === "" || cell.blank !== null ? html`<option value="" ?selected=${now === ""}>to choose</option>` : nothing}
      ${choices.map((choice) => html`<option value=${choice} ?selected=${choice.toLowerCase() === now.toLowerCase()}>${choice}</option>`)}
    </select>`;
  }

  readonly #edited = (event: CustomEvent<{ formula: string }>): void => {
    event.stopPropagation();
    this.editing = false;
    this.#set(event.detail.formula, `Formula of ${this.session?.cell(this.name)?.label ?? this.name}`);
    this.focus();
  };

  readonly #left = (event: Event): void => {
    event.stopPropagation();
    this.editing = false;
    this.focus();
  };

  readonly #menu = (event: Event): void => {
    if (this.session === null) return;
    const edit = (): void => {
      this.#resumes = false;
      this.editing = true;
    };
    void openMenu(event.currentTarget as HTMLElement, lineMenu(this, this.session, this.name, edit));
  };
}

customElements.define("gyle-entry", GyleEntry);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-entry": GyleEntry;
  }
}
