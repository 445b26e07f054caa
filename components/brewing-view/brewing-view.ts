import { html, LitElement, nothing, type PropertyValues } from "lit";
import { type CellResult, inWords, type Session, type Understood } from "../../engine/index.ts";
import { apply, listed } from "../actions/apply.ts";
import { SessionWatch } from "../controllers/session-watch.ts";
import { WakeLock } from "../controllers/wake-lock.ts";
import { type GyleEvents, tell } from "../events.ts";
import "../keypad/keypad.ts";
import { pressKey, unitKeys } from "../keypad/unit-keys.ts";
import { base } from "../look/base.ts";
import { icons, stateShapes } from "../look/icons.ts";
import { faultyPlaces, sheetLabel, sheetOf, troublesOf } from "../text/book.ts";
import { loadWorking } from "../text/formula-slot.ts";
import { readField, unitOfField } from "../text/formula-text.ts";
import { dayOf, momentOf } from "../text/moment.ts";
import { waitsInWords } from "../text/standing.ts";
import { brewingStyles } from "./brewing-styles.ts";
import { entryInHand, type InHand, lineInHand, type Spot, spotAfter } from "./in-hand.ts";
import { rowsOf } from "./rows.ts";
import {
  blanksOf,
  faultsOn,
  hasReadings,
  nextSheet,
  openStops,
  placeInWords,
  type Stop,
  sheetsOf,
  stopAt,
  stopsOf,
} from "./stops.ts";

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

  readonly #watch = new SessionWatch(this);
  /** Full name of the faulty place to be taken in hand once its sheet is open. */
  #wanted: string | null = null;

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
    new WakeLock(this);
  }

  protected override willUpdate(changed: PropertyValues): void {
    const { session } = this;
    this.#watch.watch(session);
    if (session === null) return;
    if (!changed.has("here") && !changed.has("session")) return;
    if (!sheetsOf(session).includes(this.here)) this.here = sheetsOf(session)[0] ?? "";
    const stops = stopsOf(session, this.here);
    if (changed.has("session") || !stops.some(({ name }) => name === this.active)) {
      this.#take(openStops(session, this.here)[0] ?? stops[0]?.name ?? null);
    }
    this.draft = "";
    if (this.#wanted !== null) this.#takeFaulty(session, this.#wanted);
    this.#wanted = null;
  }

  protected override firstUpdated(): void {
    const { session, here } = this;
    // Whoever comes to brew from a page without readings is brought to the first that is to be taken.
    const to = session === null || hasReadings(session, here) ? null : nextSheet(session, null);
    if (to !== null) tell(this, "gyle-go", { name: to });
  }

  protected override updated(changed: PropertyValues): void {
    // The dock below must have its height first.
    if (changed.has("active") || changed.has("choosing"))
      requestAnimationFrame(() =>
        this.renderRoot.querySelector(".line[aria-current]")?.scrollIntoView({ block: "center" }),
      );
    // Where there is no room for all, what is asked stands above the pad, which keeps its place.
    const hand = this.renderRoot.querySelector(".hand:has(.echo .choices)");
    hand?.scrollTo(0, hand.scrollHeight);
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
    const [trouble] = troublesOf(session);
    const faulty = faultyPlaces(session).length;
    return html`
      <header>
        <h1 class="unseen">Brewing view of ${session.title}</h1>
        <button class="edged sheets" aria-expanded=${this.choosing ? "true" : "false"} @click=${() => {
          this.choosing = !this.choosing;
        }}><b>${sheetLabel(session, this.here)}</b><span>${blanksOf(session, this.here).length} to fill</span></button>
        <button class="edged" aria-label=${`Undo ${session.undoLabel ?? ""}`.trim()} ?disabled=${!session.canUndo} @click=${() => this.#undo(session)}>${icons.undo}</button>
        <button class="edged" @click=${() => tell(this, "gyle-command", { command: "desk" })}>Desk</button>
      </header>
      <div role="alert" ?hidden=${trouble === undefined}>${
        trouble === undefined
          ? nothing
          : html`<button class="banner" @click=${() => this.#toFault(session, trouble.name)}>${stateShapes.faulty}<span><b>${faulty === 1 ? "1 line is faulty" : `${faulty} lines are faulty`}</b>. ${placeInWords(session, trouble.name)}. ${trouble.message}</span>${icons.next}</button>`
      }</div>
      <main tabindex="-1">${this.choosing ? this.#sheets(session) : html`<ul>${stopsOf(session, this.here).map((each) => this.#listed(session, each))}</ul>`}</main>
      <section class="dock ${this.choosing ? "behind" : ""}" aria-label="The line in hand">
        <div class="hand">${stop === undefined ? html`<p class="said" role="status">${this.said || "There is nothing to fill on this sheet."}</p>` : this.#dock(session, stop)}</div>
        <button class="next firm" @click=${() => this.#next()}>Next reading ${icons.next}</button>
      </section>
    `;
  }

  #sheets(session: Session) {
    return html`<ul>${sheetsOf(session).map((name) => {
      const open = blanksOf(session, name).length;
      const faulty = faultsOn(session, name).length;
      const state = faulty > 0 ? "faulty" : open > 0 ? "waiting" : "ready";
      return html`<li><button class="line ${state === "waiting" ? "blank" : state}" aria-current=${name === this.here ? "true" : nothing} @click=${() => {
        this.choosing = false;
        tell(this, "gyle-go", { name });
      }}><span class="mark">${stateShapes[state]}</span><span class="label">${sheetLabel(session, name)}</span><span class="value">${faulty > 0 ? html`<span class="bad">${faulty} faulty</span> · ` : nothing}${open} to fill</span></button></li>`;
    })}</ul>`;
  }

  #listed(session: Session, stop: Stop) {
    const inHand = stop.name === this.active;
    if (stop.is === "line") return this.#line(stop.cell, inHand);
    const { table } = stop;
    const open = blanksOf(session, this.here).includes(table.name);
    const faulty = faultsOn(session, this.here).some((name) => name.startsWith(`${table.name}.`));
    const state = faulty ? "faulty" : open ? "waiting" : "ready";
    return html`<li><button class="line ${state === "waiting" ? "blank" : state}" aria-current=${inHand ? "true" : nothing} @click=${() => this.#take(table.name)}>
      <span class="mark">${stateShapes[state]}</span>
      <span class="label">${table.label}</span><span class="value">${faulty ? html`<span class="bad">faulty</span> · ` : nothing}${inWords(table.rowCount, "row")}</span>
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
      cell.state === "waiting" ? waitsInWords(session, cell) : cell.state === "ready" ? cell.shown : "faulty";
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
      <div class="echo">${this.#echo(session, hand)}</div>
      ${
        takes === "words"
          ? nothing
          : html`<gyle-keypad part="keypad" .extra=${extra} @gyle-key=${(
              event: CustomEvent<GyleEvents["gyle-key"]>,
            ) => {
              event.stopPropagation();
              const { key } = event.detail;
              this.said = "";
              const now = new Date();
              this.draft = key === "now" ? momentOf(now) : key === "today" ? dayOf(now) : pressKey(this.draft, key);
            }}></gyle-keypad>`
      }`;
  }

  /** What is understood, before it is kept; of what could be two things, each to be pressed. The pad stays: 1048 is 104 on the way. */
  #echo(session: Session, hand: InHand) {
    if (this.draft === "") return html`<p class="said" role="status">${this.said}</p>`;
    const understood = hand.understand(this.draft);
    if ("ask" in understood)
      return html`<p class="said" role="status">${understood.says}</p>
        <div class="choices">${understood.choices.map(({ label, reads, formula }) => html`<button class="edged" @click=${() => this.#set(session, hand, { ok: true, formula, reads, says: label })}>${label}</button>`)}</div>`;
    return html`<p class="said ${understood.ok ? "" : "faulty"}" role="status">${understood.ok ? html`reads <b>${understood.says}</b>` : understood.says}</p>`;
  }

  /** Goes to a faulty place, on whichever sheet it is. */
  #toFault(session: Session, name: string): void {
    const sheet = sheetOf(session, name);
    if (sheet === this.here || !sheetsOf(session).includes(sheet)) {
      this.#takeFaulty(session, name);
      return;
    }
    this.#wanted = name;
    tell(this, "gyle-go", { name: sheet });
  }

  #takeFaulty(session: Session, name: string): void {
    const found = stopAt(session, name);
    if (found === null) {
      this.choosing = false;
      this.said = `${placeInWords(session, name)}: to be mended at the desk.`;
      return;
    }
    this.#take(found.stop.name);
    if (found.row !== null) this.spot = { row: found.row, column: 0 };
  }

  /** Takes a line in hand, or a log for its next row. */
  #take(name: string | null): void {
    this.choosing = false;
    this.active = name;
    this.spot = { row: (name === null ? null : this.session?.table(name))?.rowCount ?? 0, column: 0 };
    this.draft = "";
    this.said = "";
    this.working = false;
  }

  /** Keeps what is understood; false when it is not, or when it must be asked what is meant. */
  #keep(session: Session, hand: InHand, typed: string): boolean {
    const understood = hand.understand(typed);
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
    // What is in hand is not seen behind the list of sheets: it is shown before anything is kept.
    if (this.choosing) {
      this.choosing = false;
      return;
    }
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
    const onward = sheet === null ? "" : ` The next is on ${sheetLabel(session, sheet)}: press once more.`;
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
