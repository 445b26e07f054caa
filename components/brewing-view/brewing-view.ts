import { html, LitElement, nothing, type PropertyValues } from "lit";
import type { Session } from "../../engine/index.ts";
import { apply } from "../actions/apply.ts";
import { SessionWatch } from "../controllers/session-watch.ts";
import { WakeLock } from "../controllers/wake-lock.ts";
import { type GyleEvents, tell } from "../events.ts";
import "../keypad/keypad.ts";
import { pressKey, unitKeys } from "../keypad/unit-keys.ts";
import { base } from "../look/base.ts";
import { icons } from "../look/icons.ts";
import { sheetLabel, sheetOf, troublesOf } from "../text/book.ts";
import { loadWorking } from "../text/formula-slot.ts";
import { dayOf, momentOf } from "../text/moment.ts";
import { bringIntoView, careStrip, faultBand } from "./bands.ts";
import { brewingStyles } from "./brewing-styles.ts";
import { choicesOf, echoOf, type Read, resultOf } from "./dock.ts";
import { entryInHand, type InHand, lineInHand, type Spot, spotAfter } from "./in-hand.ts";
import { lineButton, logButton, rowsOf } from "./rows.ts";
import { sheetList } from "./sheet-list.ts";
import {
  blanksOf,
  doneInWords,
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
    read: { state: true },
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
  /** Which of what stands in two lines is open to be read. */
  declare read: "care" | "fault" | null;

  readonly #watch = new SessionWatch(this);
  /** Full name of the faulty place to be taken in hand once its sheet is open. */
  #wanted: string | null = null;
  /** What the band said of faults when it was drawn last. */
  #warned = "";

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
    this.read = null;
    new WakeLock(this);
  }

  protected override willUpdate(changed: PropertyValues): void {
    const { session } = this;
    this.#watch.watch(session);
    if (session === null) return;
    if (!changed.has("here") && !changed.has("session")) return;
    if (!sheetsOf(session).includes(this.here)) this.here = sheetsOf(session)[0] ?? "";
    // The page led to another sheet: what is typed belongs to the one before.
    const kept = changed.has("session") ? null : this.#settle(changed.get("here"));
    const said = kept ?? notKept(this.draft);
    this.draft = "";
    const stops = stopsOf(session, this.here);
    if (changed.has("session") || !stops.some(({ name }) => name === this.active)) {
      this.#take(openStops(session, this.here)[0] ?? stops[0]?.name ?? null);
    }
    this.said = said;
    if (this.#wanted !== null) this.#takeFaulty(session, this.#wanted);
    this.#wanted = null;
  }

  override disconnectedCallback(): void {
    this.#settle();
    super.disconnectedCallback();
  }

  protected override firstUpdated(): void {
    const { session, here } = this;
    // Whoever comes to brew from a page without readings is brought to the first that is to be taken.
    const to = session === null || hasReadings(session, here) ? null : nextSheet(session, null);
    if (to !== null) tell(this, "gyle-go", { name: to });
  }

  protected override updated(changed: PropertyValues): void {
    const fault = this.renderRoot.querySelector(".banner")?.textContent ?? "";
    const warned = fault !== this.#warned || changed.has("here");
    this.#warned = fault;
    // The dock below must have its height first.
    if (warned || changed.has("active") || changed.has("choosing"))
      requestAnimationFrame(() => bringIntoView(this.renderRoot, warned));
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
    const stop = this.#stop;
    if (session === null) return nothing;
    const [trouble] = troublesOf(session);
    const care = careStrip(session, this.here, this.read === "care", () => {
      this.read = this.read === "care" ? null : "care";
    });
    return html`
      <header>
        <h1 class="unseen">Brewing view of ${session.title}</h1>
        <button class="edged sheets" aria-expanded=${this.choosing ? "true" : "false"} @click=${() => {
          this.choosing = !this.choosing;
        }}><b>${sheetLabel(session, this.here)}</b><span>${blanksOf(session, this.here).length} to fill</span></button>
        <button class="edged" aria-label=${`Undo ${session.undoLabel ?? ""}`.trim()} ?disabled=${!session.canUndo} @click=${() => this.#undo(session)}>${icons.undo}</button>
        <button class="edged" @click=${() => {
          if (this.#settle() !== null) tell(this, "gyle-command", { command: "desk" });
        }}>Desk</button>
      </header>
      <main tabindex="-1">
        <div class="bands">
          ${care}
          <div role="alert" ?hidden=${trouble === undefined}>${trouble === undefined ? nothing : faultBand(session, trouble, this.read === "fault" && this.draft === "", () => this.#toFault(session, trouble.name))}</div>
        </div>
        ${
          this.choosing
            ? sheetList(session, this.here, (name) => {
                if (this.#settle() !== null) tell(this, "gyle-go", { name });
                this.choosing = false;
              })
            : html`<ul>${stopsOf(session, this.here).map((each) => this.#listed(session, each))}</ul>`
        }
      </main>
      <section class="dock ${this.#covers ? "behind" : ""}" aria-label="The line in hand">
        <div class="hand">${stop === undefined ? html`<p class="said" role="status">${this.said || "There is nothing to fill on this sheet."}</p>` : this.#dock(session, stop)}</div>
        <button class="next firm" @click=${() => this.#next()}>Next reading ${icons.next}</button>
      </section>
    `;
  }

  #listed(session: Session, stop: Stop) {
    const inHand = stop.name === this.active;
    if (stop.is === "line")
      return html`<li>${lineButton(stop.cell, inHand, () => this.#turnTo(stop.name))}${inHand ? html`<button class="edged" aria-pressed=${this.working ? "true" : "false"} @click=${this.#working}>Working</button>` : nothing}</li>`;
    const { table } = stop;
    return html`<li>${logButton(session, this.here, table, inHand, () => this.#turnTo(table.name))}</li>
    ${
      inHand
        ? rowsOf(session, table, this.#spotIn(stop).row, (row, own) => {
            const kept = this.#settle();
            if (kept === null) return;
            this.said = kept;
            if (kept === "" || !own) this.spot = { row, column: 0 };
          })
        : nothing
    }`;
  }

  #dock(session: Session, stop: Stop) {
    if (this.working && stop.is === "line")
      return html`<h2>${stop.cell.label}</h2><gyle-working .session=${session} .name=${stop.name}></gyle-working>`;
    const hand = this.#inHand(session, stop);
    if (hand !== null) return this.#entry(session, hand);
    return stop.is === "line" ? resultOf(session, stop.cell, this.said) : html`<p>Nothing is read into this table.</p>`;
  }

  #entry(session: Session, hand: InHand) {
    if (hand.choices.length > 0) return choicesOf(hand, this.said, (choice) => void this.#keep(session, hand, choice));
    const { takes } = hand;
    const extra = takes === "moment" || takes === "day" ? TIME_KEYS[takes] : unitKeys(hand.unit);
    return html`<div class="field">
        <label class="shown"><span class="name">${hand.label}</span>
          <input inputmode=${takes === "words" ? "text" : "none"} .value=${this.draft} placeholder=${hand.was === "" ? "to fill" : `was ${hand.was}`} autocomplete="off" spellcheck="false"
            @input=${(event: Event) => {
              this.said = "";
              this.draft = (event.target as HTMLInputElement).value;
            }}
            @keydown=${(event: KeyboardEvent) => {
              if (event.key === "Enter") this.#keep(session, hand, this.draft);
            }} />
          <span class="unit">${hand.unit}</span></label>
        <button class="edged keep" ?disabled=${this.draft === ""} @click=${() => this.#keep(session, hand, this.draft)}>Keep</button>
      </div>
      <div class="echo">${echoOf(this.draft === "" ? null : hand.understand(this.draft), this.said, (read) => void this.#set(session, hand, read))}</div>
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

  /** Goes to a faulty place, on whichever sheet it is. */
  #toFault(session: Session, name: string): void {
    if (this.#settle() === null) return;
    const sheet = sheetOf(session, name);
    if (sheet === this.here || !sheetsOf(session).includes(sheet)) this.#takeFaulty(session, name);
    else {
      this.#wanted = name;
      tell(this, "gyle-go", { name: sheet });
    }
  }

  #takeFaulty(session: Session, name: string): void {
    const found = stopAt(session, name);
    if (found === null) {
      this.choosing = false;
      this.said = `${placeInWords(session, name)}: to be mended at the desk.`;
    } else {
      this.#take(found.stop.name);
      if (found.row !== null) this.spot = { row: found.row, column: 0 };
    }
    this.read = "fault";
  }

  /** Takes another line in hand, once what is typed for this one is kept. */
  #turnTo(name: string): void {
    const kept = this.#settle();
    if (kept === null) return;
    this.#take(name);
    this.said = kept;
  }

  /** Takes a line in hand, or a log for its next row. */
  #take(name: string | null): void {
    this.choosing = false;
    this.active = name;
    this.spot = { row: (name === null ? null : this.session?.table(name))?.rowCount ?? 0, column: 0 };
    this.draft = "";
    this.said = "";
    this.working = false;
    this.read = null;
  }

  /**
   * Keeps what is typed before it is left, and gives what is said of that: nothing where nothing is typed. Null: it is not
   * understood, or must be asked; it stays in hand, and that is said.
   */
  #settle(sheet = this.here): string | null {
    const { session, draft } = this;
    const stop = session === null ? undefined : stopsOf(session, sheet).find(({ name }) => name === this.active);
    const hand = session === null || stop === undefined ? null : this.#inHand(session, stop);
    if (session === null || hand === null || draft === "") return "";
    if (this.#keep(session, hand, draft)) return this.said;
    this.choosing = false;
    this.read = null;
    this.working = false;
    this.said = `Not kept yet: ${"ask" in hand.understand(draft) ? "say which is meant" : "mend it"}, or erase it.`;
    return null;
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
    if (session === null) return;
    // What is in hand is not seen behind what covers it: it is shown before anything is kept.
    if (this.#covers) {
      this.choosing = false;
      this.read = null;
      return;
    }
    const typed = this.draft !== "";
    const kept = this.#settle();
    if (kept === null) return;
    if (stop?.is === "log" && (typed || !this.#atNewRow(stop))) {
      if (!typed) this.spot = spotAfter(stop.table, this.#spotIn(stop));
      return;
    }
    const names = stopsOf(session, this.here).map(({ name }) => name);
    const open = openStops(session, this.here);
    const at = names.indexOf(this.active ?? "");
    const after = open.find((name) => names.indexOf(name) > at) ?? open.find((name) => name !== this.active);
    if (after !== undefined) {
      this.#take(after);
      this.said = kept;
      return;
    }
    const done = doneInWords(session, this.here);
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
    if (session.undo()) this.said = `Undone: ${label ?? "the last step"}. ${notKept(this.draft)}`.trim();
    this.draft = "";
  }

  /** Something lies over the line in hand, on a narrow screen. */
  get #covers(): boolean {
    return this.choosing || this.read === "care";
  }

  readonly #working = (): void => {
    void loadWorking();
    this.working = !this.working;
  };
}

const notKept = (typed: string): string => (typed === "" ? "" : `"${typed}" is not kept.`);

customElements.define("gyle-brewing-view", GyleBrewingView);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-brewing-view": GyleBrewingView;
  }
}
