import { html, LitElement, nothing, type PropertyValues } from "lit";
import { type CellResult, labelFromName, type Session, type Understood, wordTooFew } from "../../engine/index.ts";
import { apply, labelOf, listed } from "../actions/apply.ts";
import { SessionWatch } from "../controllers/session-watch.ts";
import { WakeLock } from "../controllers/wake-lock.ts";
import { type GyleEvents, tell } from "../events.ts";
import "../keypad/keypad.ts";
import { pressKey, unitKeys } from "../keypad/unit-keys.ts";
import { base } from "../look/base.ts";
import { icons, stateShapes } from "../look/icons.ts";
import { troublesOf } from "../text/book.ts";
import { loadWorking } from "../text/formula-slot.ts";
import { readField, unitOfField } from "../text/formula-text.ts";
import { brewingStyles } from "./brewing-styles.ts";
import { entryInHand, type InHand, lineInHand, nowTyped, type Spot, spotAfter } from "./in-hand.ts";
import { rowsOf } from "./rows.ts";
import { blanksOf, hasReadings, nextSheet, openStops, type Stop, sheetsOf, stopsOf } from "./stops.ts";

/** Keys beside the digits for a time, by what is taken. */
const TIME_KEYS = { moment: ["now", ":", " "], day: ["today"] } as const;

/** What was understood and can be kept. */
type Read = Extract<Understood, { readonly ok: true }>;

/**
 * The view for wet hands: the entries, choices and results of one sheet, its logs a row at a time, a keypad, and one button
 * for the next reading, always in the same place. Formulas are locked, nothing can be deleted, and the screen stays awake.
 *
 * @element gyle-brewing-view
 * @prop session - the book's session
 * @prop here - name of the sheet that is open; empty: the front page
 * @fires gyle-command - `desk`: the view was left
 * @fires gyle-go - another sheet is wanted
 * @csspart keypad - the pad
 */
export class GyleBrewingView extends LitElement {
  static override properties = {
    session: { attribute: false },
    here: {},
    active: { state: true },
    spot: { state: true },
    draft: { state: true },
    said: { state: true },
    working: { state: true },
    choosing: { state: true },
    asking: { state: true },
  };
  static override styles = [base, brewingStyles];

  declare session: Session | null;
  declare here: string;
  /** Full name of the line or log in hand. */
  declare active: string | null;
  /** Where in the log that is in hand. */
  declare spot: Spot;
  declare draft: string;
  /** What the last key did, in words. */
  declare said: string;
  declare working: boolean;
  /** The sheets are listed in place of the lines. */
  declare choosing: boolean;
  /** What is typed was to be kept, and could be two things. */
  declare asking: boolean;

  readonly #watch = new SessionWatch(this);

  constructor() {
    super();
    this.session = null;
    this.here = "";
    this.active = null;
    this.spot = { row: 0, column: 0 };
    this.draft = "";
    this.said = "";
    this.working = false;
    this.choosing = false;
    this.asking = false;
    new WakeLock(this);
  }

  protected override willUpdate(changed: PropertyValues): void {
    const { session } = this;
    this.#watch.watch(session);
    if (changed.has("draft")) this.asking = false;
    if (session === null) return;
    if (!changed.has("here") && !changed.has("session")) return;
    if (!sheetsOf(session).includes(this.here)) this.here = sheetsOf(session)[0] ?? "";
    const stops = stopsOf(session, this.here);
    if (changed.has("session") || !stops.some(({ name }) => name === this.active)) {
      this.#take(openStops(session, this.here)[0] ?? stops[0]?.name ?? null);
      this.choosing = false;
    }
    this.draft = "";
  }

  protected override firstUpdated(): void {
    const { session, here } = this;
    // Whoever comes to brew from a page without readings is brought to the first that is to be taken.
    const to = session === null || hasReadings(session, here) ? null : nextSheet(session, null);
    if (to !== null) tell(this, "gyle-go", { name: to });
  }

  protected override updated(changed: PropertyValues): void {
    // The dock below must have its height first.
    if (changed.has("active"))
      requestAnimationFrame(() =>
        this.renderRoot.querySelector(".line[aria-current]")?.scrollIntoView({ block: "center" }),
      );
  }

  #label(sheet: string): string {
    const found = this.session?.workbook.sheets.find(({ name }) => name === sheet);
    return sheet === "" ? "Front page" : (found?.label ?? labelFromName(sheet));
  }

  get #stop(): Stop | undefined {
    return this.session === null
      ? undefined
      : stopsOf(this.session, this.here).find(({ name }) => name === this.active);
  }

  /** The place in a log, which may have lost rows by undo. */
  #spotIn({ table }: Extract<Stop, { is: "log" }>): Spot {
    return this.spot.row > table.rowCount ? { row: table.rowCount, column: 0 } : this.spot;
  }

  #inHand(session: Session, stop: Stop): InHand | null {
    return stop.is === "line" ? lineInHand(session, stop.cell) : entryInHand(session, stop.table, this.#spotIn(stop));
  }

  protected override render() {
    const { session } = this;
    if (session === null) return nothing;
    const stop = this.#stop;
    const faults = troublesOf(session);
    return html`
      <header>
        <h1 class="unseen">Brewing view of ${session.title}</h1>
        <button class="edged sheets" aria-expanded=${this.choosing ? "true" : "false"} @click=${() => {
          this.choosing = !this.choosing;
        }}><b>${this.#label(this.here)}</b><span>${blanksOf(session, this.here).length} to fill</span></button>
        <button class="edged" aria-label=${`Undo ${session.undoLabel ?? ""}`.trim()} ?disabled=${!session.canUndo} @click=${() => this.#undo(session)}>${icons.undo}</button>
        <button class="edged" @click=${() => tell(this, "gyle-command", { command: "desk" })}>Desk</button>
      </header>
      <div role="alert" class="banner" ?hidden=${faults.length === 0}>
        ${stateShapes.faulty}<p><b>${faults.length === 1 ? "1 line is faulty" : `${faults.length} lines are faulty`}</b>: ${labelOf(session, faults[0]?.name ?? "")}. ${faults[0]?.message}</p>
      </div>
      <main tabindex="-1">${this.choosing ? this.#sheets(session) : html`<ul>${stopsOf(session, this.here).map((each) => this.#listed(session, each))}</ul>`}</main>
      <section class="dock" aria-label="The line in hand">
        <div class="hand">${stop === undefined ? html`<p>There is nothing to fill on this sheet.</p>` : this.#dock(session, stop)}</div>
        <button class="next firm" @click=${() => this.#next()}>Next reading ${icons.next}</button>
      </section>
    `;
  }

  #sheets(session: Session) {
    return html`<ul>${sheetsOf(session).map((name) => {
      const open = blanksOf(session, name).length;
      return html`<li><button class="line ${open > 0 ? "blank" : ""}" aria-current=${name === this.here ? "true" : nothing} @click=${() => {
        this.choosing = false;
        tell(this, "gyle-go", { name });
      }}><span class="mark">${open > 0 ? stateShapes.waiting : stateShapes.ready}</span><span class="label">${this.#label(name)}</span><span class="value">${open} to fill</span></button></li>`;
    })}</ul>`;
  }

  #listed(session: Session, stop: Stop) {
    const inHand = stop.name === this.active;
    if (stop.is === "line") return this.#line(stop.cell, inHand);
    const { table } = stop;
    const open = blanksOf(session, this.here).includes(table.name);
    return html`<li><button class="line ${open ? "blank" : "ready"}" aria-current=${inHand ? "true" : nothing} @click=${() => this.#take(table.name)}>
      <span class="mark">${open ? stateShapes.waiting : stateShapes.ready}</span>
      <span class="label">${table.label}</span><span class="value">${table.rowCount === 1 ? "1 row" : `${table.rowCount} rows`}</span>
    </button></li>
    ${
      inHand
        ? rowsOf(session, table, this.#spotIn(stop).row, (row) => {
            this.said = "";
            this.draft = "";
            this.spot = { row, column: 0 };
          })
        : nothing
    }`;
  }

  #line(cell: CellResult, inHand: boolean) {
    const blank = cell.blank !== null && !cell.blank.filled;
    const field = readField(cell.formula);
    const figure = blank ? "to fill" : (field?.figure ?? (cell.state === "ready" ? cell.figure : cell.state));
    const unit = blank ? unitOfField(cell, field) : (field?.unit ?? cell.unitText);
    return html`<li><button class="line ${blank ? "blank" : cell.state}" aria-current=${inHand ? "true" : nothing} @click=${() => this.#take(cell.name)}>
      <span class="mark">${blank ? stateShapes.waiting : stateShapes[cell.state]}</span>
      <span class="label">${cell.label}</span><span class="value"><b>${figure}</b> ${unit}</span>
    </button>${inHand ? html`<button class="edged" aria-pressed=${this.working ? "true" : "false"} @click=${this.#working}>Working</button>` : nothing}</li>`;
  }

  #dock(session: Session, stop: Stop) {
    if (this.working && stop.is === "line")
      return html`<h2>${stop.cell.label}</h2><gyle-working .session=${session} .name=${stop.name}></gyle-working>`;
    const hand = this.#inHand(session, stop);
    if (hand !== null) return this.#entry(session, hand);
    return stop.is === "line" ? this.#result(session, stop.cell) : html`<p>Nothing is read into this table.</p>`;
  }

  #result(session: Session, cell: CellResult) {
    const says =
      cell.state === "waiting"
        ? `waits for ${cell.waitingFor.map((name) => labelOf(session, name)).join(", ")}${wordTooFew(cell.tooFew)}`
        : cell.state === "ready"
          ? cell.shown
          : "faulty";
    return html`<h2>${cell.label}</h2><output class="shown ${cell.state}">${says}</output><p class="said" role="status">${this.said || "Worked out. Its formula is changed at the desk."}</p>`;
  }

  #entry(session: Session, hand: InHand) {
    if (hand.choices.length > 0) {
      const shown = (choice: string): string => choice.replace(/^"(.*)"$/, "$1").replaceAll('""', '"');
      return html`<h2>${hand.label}</h2><p class="said" role="status">${this.said}</p><div class="choices">${hand.choices.map((choice) => html`<button class="edged" aria-pressed=${hand.was.toLowerCase() === shown(choice).toLowerCase() ? "true" : "false"} @click=${() => this.#keep(session, hand, choice)}>${shown(choice)}</button>`)}</div>`;
    }
    const { takes } = hand;
    const extra = takes === "moment" || takes === "day" ? TIME_KEYS[takes] : unitKeys(hand.unit);
    return html`<div class="field">
        <label class="shown"><span class="name">${hand.label}</span>
          <input inputmode=${takes === "words" ? "text" : "none"} .value=${this.draft} placeholder=${hand.was === "" ? "to fill" : `was ${hand.was}`} autocomplete="off" spellcheck="false"
            @input=${(event: Event) => {
              this.draft = (event.target as HTMLInputElement).value;
            }}
            @keydown=${(event: KeyboardEvent) => {
              if (event.key === "Enter") this.#keep(session, hand, this.draft);
            }} />
          <span class="unit">${hand.unit}</span></label>
        <button class="edged keep" ?disabled=${this.draft === ""} @click=${() => this.#keep(session, hand, this.draft)}>Keep</button>
      </div>
      ${
        this.#asked(session, hand) ??
        html`<div class="echo">${this.#echo(hand)}</div>
      ${
        takes === "words"
          ? nothing
          : html`<gyle-keypad part="keypad" .extra=${extra} @gyle-key=${(
              event: CustomEvent<GyleEvents["gyle-key"]>,
            ) => {
              event.stopPropagation();
              const { key } = event.detail;
              this.said = "";
              this.draft = key === "now" || key === "today" ? nowTyped(takes) : pressKey(this.draft, key);
            }}></gyle-keypad>`
      }`
      }`;
  }

  /** A figure that could be two things and is to be kept: the choice stands in place of the keypad. */
  #asked(session: Session, hand: InHand) {
    const understood = this.asking ? hand.understand(this.draft) : null;
    if (understood === null || !("ask" in understood)) return null;
    return html`<p class="said" role="status">${understood.says}</p>
      <div class="choices">
        ${understood.choices.map(({ label, reads, formula }) => html`<button class="edged" @click=${() => this.#set(session, hand, { ok: true, formula, reads, says: label })}>${label}</button>`)}
        <button class="edged" @click=${() => {
          this.draft = "";
        }}>Type it again</button>
      </div>`;
  }

  #echo(hand: InHand) {
    if (this.draft === "") return html`<p class="said" role="status">${this.said}</p>`;
    const understood = hand.understand(this.draft);
    // 1048 is 104 on the way: nothing is asked before it is to be kept.
    if ("ask" in understood) return html`<p class="said" role="status">${understood.says}</p>`;
    return html`<p class="said ${understood.ok ? "" : "faulty"}" role="status">${understood.ok ? html`reads <b>${understood.says}</b>` : understood.says}</p>`;
  }

  /** Takes a line in hand, or a log for its next row. */
  #take(name: string | null): void {
    this.active = name;
    this.spot = { row: (name === null ? null : this.session?.table(name))?.rowCount ?? 0, column: 0 };
    this.draft = "";
    this.said = "";
    this.working = false;
  }

  /** Keeps what is understood; false when it is not, or when it must be asked what is meant. */
  #keep(session: Session, hand: InHand, typed: string): boolean {
    const understood = hand.understand(typed);
    this.asking = "ask" in understood;
    return "ok" in understood && understood.ok && this.#set(session, hand, understood);
  }

  #set(session: Session, hand: InHand, { formula, reads, says }: Read): boolean {
    if (!apply(this, session, hand.edit(formula), `${hand.label} ${reads}`)) return false;
    this.draft = "";
    const stop = this.#stop;
    // What is said behind the reading is a sentence of its own: that it lies outside what is accepted.
    this.said = `${hand.label}: ${reads} is kept.${says.slice(reads.length + 1)}`;
    if (stop?.is === "log") this.spot = spotAfter(stop.table, this.#spotIn(stop));
    return true;
  }

  /**
   * Keeps what is typed and understood, then goes on: to the next entry of the row, to the next reading of this sheet, and
   * from a sheet that has none left to the next that has. What is not understood stays in hand.
   */
  #next(): void {
    const { session, said: before } = this;
    const stop = this.#stop;
    const hand = session === null || stop === undefined ? null : this.#inHand(session, stop);
    if (session === null) return;
    const typed = this.draft !== "";
    if (typed && (hand === null || !this.#keep(session, hand, this.draft))) return;
    if (stop?.is === "log" && (typed || !this.#atNewRow(stop))) {
      if (!typed) this.spot = spotAfter(stop.table, this.#spotIn(stop));
      return;
    }
    const kept = typed ? this.said : "";
    const names = stopsOf(session, this.here).map(({ name }) => name);
    const open = openStops(session, this.here);
    const at = names.indexOf(this.active ?? "");
    const after = open.find((name) => names.indexOf(name) > at) ?? open.find((name) => name !== this.active);
    if (after !== undefined) {
      this.#take(after);
      this.said = kept;
      return;
    }
    const left = blanksOf(session, this.here);
    const done =
      left.length === 0
        ? "Every reading of this sheet is taken."
        : open.length > 0
          ? "This is the only reading left."
          : `${listed(session, left)}: to be filled at the desk.`;
    const sheet = nextSheet(session, this.here);
    // The first press says that the sheet is done; the next one leaves it.
    if (sheet !== null && before.includes(done)) {
      tell(this, "gyle-go", { name: sheet });
      return;
    }
    const onward = sheet === null ? "" : ` The next is on ${this.#label(sheet)}: press once more.`;
    this.said = `${kept} ${done}${onward}`.trim();
  }

  /** Nothing is begun that could be left: the place is the first entry of a row that is not there yet. */
  #atNewRow(stop: Extract<Stop, { is: "log" }>): boolean {
    const { row, column } = this.#spotIn(stop);
    return row === stop.table.rowCount && column === 0;
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
