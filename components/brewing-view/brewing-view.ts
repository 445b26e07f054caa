import { html, LitElement, nothing, type PropertyValues } from "lit";
import { type CellResult, labelFromName, type Session } from "../../engine/index.ts";
import { apply, labelOf } from "../actions/apply.ts";
import { itemsOfSheet } from "../actions/places.ts";
import { SessionWatch } from "../controllers/session-watch.ts";
import { WakeLock } from "../controllers/wake-lock.ts";
import { type GyleEvents, tell } from "../events.ts";
import "../keypad/keypad.ts";
import { pressKey, unitKeys } from "../keypad/unit-keys.ts";
import { base } from "../look/base.ts";
import { icons, stateShapes } from "../look/icons.ts";
import { problemsOf, troublesOf } from "../text/book.ts";
import { loadWorking } from "../text/formula-slot.ts";
import { readField, unitOfField } from "../text/formula-text.ts";
import { brewingStyles } from "./brewing-styles.ts";

/**
 * The view for wet hands: the entries, choices and results of one sheet, a keypad, and one button for the next reading,
 * always in the same place. Formulas are locked, nothing can be deleted, and the screen stays awake.
 *
 * @element gyle-brewing-view
 * @prop session - the book's session
 * @prop here - name of the sheet that is open
 * @fires gyle-command - `desk`: the view was left
 * @fires gyle-go - another sheet is wanted
 * @csspart keypad - the pad
 */
export class GyleBrewingView extends LitElement {
  static override properties = {
    session: { attribute: false },
    here: {},
    active: { state: true },
    draft: { state: true },
    said: { state: true },
    working: { state: true },
    choosing: { state: true },
  };
  static override styles = [base, brewingStyles];

  declare session: Session | null;
  declare here: string;
  /** Full name of the line in hand. */
  declare active: string | null;
  declare draft: string;
  /** What the last key did, in words. */
  declare said: string;
  declare working: boolean;
  /** The sheets are listed in place of the lines. */
  declare choosing: boolean;

  readonly #watch = new SessionWatch(this);

  constructor() {
    super();
    this.session = null;
    this.here = "";
    this.active = null;
    this.draft = "";
    this.said = "";
    this.working = false;
    this.choosing = false;
    new WakeLock(this);
  }

  protected override willUpdate(changed: PropertyValues): void {
    this.#watch.watch(this.session);
    if (changed.has("here") || changed.has("session")) {
      if (this.here === "") this.here = this.session?.workbook.sheets[0]?.name ?? "";
      if (this.active === null || !this.active.startsWith(`${this.here}.`))
        this.active = this.#blanks()[0] ?? this.#lines()[0]?.name ?? null;
      this.draft = "";
    }
  }

  protected override updated(changed: PropertyValues): void {
    // The dock below must have its height first.
    if (changed.has("active"))
      requestAnimationFrame(() =>
        this.renderRoot.querySelector(".line[aria-current]")?.scrollIntoView({ block: "center" }),
      );
  }

  #lines(): readonly CellResult[] {
    const { session, here } = this;
    if (session === null) return [];
    return itemsOfSheet(session, here).flatMap((item) =>
      item.is === "cell" ? (session.cell(`${here}.${item.name}`) ?? []) : [],
    );
  }

  /** Blanks still to fill: those of this sheet first. */
  #blanks(): readonly string[] {
    const blanks = this.session === null ? [] : problemsOf(this.session).blanks;
    return blanks.filter((name) => name.startsWith(`${this.here}.`));
  }

  protected override render() {
    const { session } = this;
    if (session === null) return nothing;
    const sheet = session.workbook.sheets.find(({ name }) => name === this.here);
    const cell = this.active === null ? null : session.cell(this.active);
    const faults = troublesOf(session);
    return html`
      <header>
        <h1 class="unseen">Brewing view of ${session.title}</h1>
        <button class="edged sheets" aria-expanded=${this.choosing ? "true" : "false"} @click=${() => {
          this.choosing = !this.choosing;
        }}><b>${sheet?.label ?? labelFromName(this.here)}</b><span>${this.#blanks().length} to fill</span></button>
        <button class="edged" aria-label=${`Undo ${session.undoLabel ?? ""}`.trim()} ?disabled=${!session.canUndo} @click=${() => this.#undo(session)}>${icons.undo}</button>
        <button class="edged" @click=${() => tell(this, "gyle-command", { command: "desk" })}>Desk</button>
      </header>
      <div role="alert" class="banner" ?hidden=${faults.length === 0}>
        ${stateShapes.faulty}<p><b>${faults.length === 1 ? "1 line is faulty" : `${faults.length} lines are faulty`}</b>: ${labelOf(session, faults[0]?.name ?? "")}. ${faults[0]?.message}</p>
      </div>
      <main tabindex="-1">${this.choosing ? this.#sheets(session) : html`<ul>${this.#lines().map((each) => this.#line(each))}</ul>`}</main>
      <section class="dock" aria-label="The line in hand">
        <div class="hand">${cell === null ? html`<p>There is nothing to fill on this sheet.</p>` : this.#dock(session, cell)}</div>
        <button class="next firm" @click=${() => this.#next()}>Next reading ${icons.next}</button>
      </section>
    `;
  }

  #sheets(session: Session) {
    const { blanks } = problemsOf(session);
    return html`<ul>${session.workbook.sheets.map(({ name, label }) => {
      const open = blanks.filter((blank) => blank.startsWith(`${name}.`)).length;
      return html`<li><button class="line ${open > 0 ? "blank" : ""}" aria-current=${name === this.here ? "true" : nothing} @click=${() => {
        this.choosing = false;
        tell(this, "gyle-go", { name });
      }}><span class="mark">${open > 0 ? stateShapes.waiting : stateShapes.ready}</span><span class="label">${label ?? labelFromName(name)}</span><span class="value">${open} to fill</span></button></li>`;
    })}</ul>`;
  }

  #line(cell: CellResult) {
    const blank = cell.blank !== null && !cell.blank.filled;
    const field = readField(cell.formula);
    const figure = blank ? "to fill" : (field?.figure ?? (cell.state === "ready" ? cell.figure : cell.state));
    const unit = blank ? unitOfField(cell, field) : (field?.unit ?? cell.unitText);
    const inHand = cell.name === this.active;
    return html`<li><button class="line ${blank ? "blank" : cell.state}" aria-current=${inHand ? "true" : nothing} @click=${() => this.#take(cell.name)}>
      <span class="mark">${blank ? stateShapes.waiting : stateShapes[cell.state]}</span>
      <span class="label">${cell.label}</span><span class="value"><b>${figure}</b> ${unit}</span>
    </button>${inHand ? html`<button class="edged" aria-pressed=${this.working ? "true" : "false"} @click=${this.#working}>Working</button>` : nothing}</li>`;
  }

  #dock(session: Session, cell: CellResult) {
    const takes = cell.blank !== null || cell.choices !== null || readField(cell.formula) !== null;
    if (this.working)
      return html`<h2>${cell.label}</h2><gyle-working .session=${session} .name=${cell.name}></gyle-working>`;
    return takes ? this.#entry(session, cell) : this.#result(session, cell);
  }

  #result(session: Session, cell: CellResult) {
    const says =
      cell.state === "waiting"
        ? `waits for ${cell.waitingFor.map((name) => labelOf(session, name)).join(", ")}`
        : cell.state === "ready"
          ? cell.shown
          : "faulty";
    return html`<h2>${cell.label}</h2><output class="shown ${cell.state}">${says}</output><p class="said">Worked out. Its formula is changed at the desk.</p>`;
  }

  #entry(session: Session, cell: CellResult) {
    const choices = cell.choices ?? (cell.blank?.asks === "truth" ? ["yes", "no"] : null);
    if (choices !== null) {
      const quote = (choice: string): string => (cell.choices === null ? choice : `"${choice.replaceAll('"', '""')}"`);
      const now = readField(cell.formula)?.figure.toLowerCase();
      return html`<h2>${cell.label}</h2><p class="said" role="status">${this.said}</p><div class="choices">${choices.map((choice) => html`<button class="edged" aria-pressed=${now === choice.toLowerCase() ? "true" : "false"} @click=${() => this.#keep(session, cell, quote(choice))}>${choice}</button>`)}</div>`;
    }
    const field = readField(cell.formula);
    const text = cell.blank?.asks === "text";
    const instant = cell.blank?.asks === "instant";
    const extra = instant ? [":", " "] : unitKeys(unitOfField(cell, field));
    return html`<div class="field">
        <label class="shown"><span class="name">${cell.label}</span>
          <input inputmode=${text ? "text" : "none"} .value=${this.draft} placeholder=${cell.blank?.filled === false ? "to fill" : `was ${cell.shown}`} autocomplete="off" spellcheck="false"
            @input=${(event: Event) => {
              this.draft = (event.target as HTMLInputElement).value;
            }}
            @keydown=${(event: KeyboardEvent) => {
              if (event.key === "Enter") this.#keep(session, cell, this.draft);
            }} />
          <span class="unit">${unitOfField(cell, field)}</span></label>
        <button class="edged keep" ?disabled=${this.draft === ""} @click=${() => this.#keep(session, cell, this.draft)}>Keep</button>
      </div>
      ${
        this.#asked(session, cell) ??
        html`<div class="echo">${this.#echo(session, cell)}</div>
      ${
        text
          ? nothing
          : html`<gyle-keypad part="keypad" .extra=${extra} @gyle-key=${(
              event: CustomEvent<GyleEvents["gyle-key"]>,
            ) => {
              event.stopPropagation();
              this.said = "";
              this.draft = pressKey(this.draft, event.detail.key);
            }}></gyle-keypad>`
      }`
      }`;
  }

  /** A figure that could be two things: the choice stands in place of the keypad. */
  #asked(session: Session, cell: CellResult) {
    const understood = this.draft === "" ? null : session.understand(cell.name, this.draft);
    if (understood === null || !("ask" in understood)) return null;
    return html`<p class="said" role="status">${understood.says}</p>
      <div class="choices">
        ${understood.choices.map((choice) => html`<button class="edged" @click=${() => this.#set(session, cell, choice.formula, choice.label)}>${choice.label}</button>`)}
        <button class="edged" @click=${() => {
          this.draft = "";
        }}>Type it again</button>
      </div>`;
  }

  #echo(session: Session, cell: CellResult) {
    if (this.draft === "") return html`<p class="said" role="status">${this.said}</p>`;
    const understood = session.understand(cell.name, this.draft);
    if ("ask" in understood) return nothing;
    return html`<p class="said ${understood.ok ? "" : "faulty"}" role="status">${understood.ok ? html`reads <b>${understood.says}</b>` : understood.says}</p>`;
  }

  #take(name: string): void {
    this.active = name;
    this.draft = "";
    this.said = "";
    this.working = false;
  }

  /** Keeps what is understood; false when it is not. */
  #keep(session: Session, cell: CellResult, typed: string): boolean {
    const understood = session.understand(cell.name, typed);
    return "ok" in understood && understood.ok && this.#set(session, cell, understood.formula, understood.says);
  }

  #set(session: Session, cell: CellResult, formula: string, says: string): boolean {
    if (!apply(this, session, { edit: "set-formula", cell: cell.name, formula }, `${cell.label} ${says}`)) return false;
    this.draft = "";
    this.said = `${cell.label}: ${says} is kept.`;
    return true;
  }

  /** Keeps what is typed and understood, then goes to the next blank of this sheet; what is not understood stays in hand. */
  #next(): void {
    const { session } = this;
    const cell = this.active === null ? null : session?.cell(this.active);
    if (session === null || !cell) return;
    if (this.draft !== "" && !this.#keep(session, cell, this.draft)) return;
    const kept = this.said;
    const order = this.#lines().map(({ name }) => name);
    const blanks = this.#blanks();
    const after =
      blanks.find((name) => order.indexOf(name) > order.indexOf(cell.name)) ??
      blanks.find((name) => name !== cell.name);
    if (after !== undefined) this.#take(after);
    this.said =
      after === undefined
        ? `${kept} ${blanks.length === 0 ? "Every reading of this sheet is taken." : "This is the only reading left."}`.trim()
        : kept;
  }

  #undo(session: Session): void {
    const label = session.undoLabel;
    if (session.undo()) this.said = `Undone: ${label ?? "the last step"}.`;
    this.draft = "";
  }

  readonly #working = (): void => {
    void loadWorking();
    this.working = !this.working;
  };
}

customElements.define("gyle-brewing-view", GyleBrewingView);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-brewing-view": GyleBrewingView;
  }
}
