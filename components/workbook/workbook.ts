import { html, LitElement, nothing, type PropertyValues } from "lit";
import { createSession, type Lens, type Session } from "../../engine/index.ts";
import { partsOf } from "../actions/places.ts";
import { deepActive } from "../controllers/focus.ts";
import { holdFocus } from "../controllers/hold-focus.ts";
import { Media } from "../controllers/media.ts";
import { type GyleEvents, tell } from "../events.ts";
import "../head/head.ts";
import { base } from "../look/base.ts";
import { icons } from "../look/icons.ts";
import { tokens } from "../look/tokens.ts";
import "../path/path.ts";
import "../sheet/sheet.ts";
import type { SlipAct } from "../slip/slip.ts";
import { loadWorking } from "../text/formula-slot.ts";
import { keyed } from "./keys.ts";
import { workbookStyles } from "./workbook-styles.ts";

/**
 * A whole book on the screen: head, path, sheet and working. Usable alone on anyone's page:
 * `<gyle-workbook></gyle-workbook>`, then `element.text = "gylebook 1\n…"`.
 *
 * @element gyle-workbook
 * @prop text - the file's text; setting it opens it. Reading it gives the file as it now stands
 * @prop session - the session, instead of `text`, for a page that holds its own
 * @prop lens - how results are shown: "as-written", "metric", "US" or "imperial"; the file is not touched
 * @prop here - name of the sheet that is open; empty: the front page
 * @prop view - "desk" or "brew", the view for wet hands
 * @prop kept - what the head says of the book's keeping
 * @fires gyle-change - the book changed; `detail.text` is its file
 * @fires gyle-command - open, save, share, print, new, … was asked for; `brew`, `desk` and `print` are carried out here unless prevented
 * @fires gyle-select - a line is in hand
 * @fires gyle-place - another sheet is open, or another view or lens chosen; `detail` is `{ here, view, lens }`
 * @slot - above the first sheet: what the page has to say
 * @csspart path, sheet, working - the three parts beneath the head
 * @cssprop --gyle-height - height of the element; the window's by default
 * @cssprop --gyle-accent, --gyle-paper, --gyle-ink, … - see look/tokens.ts
 */
export class GyleWorkbook extends LitElement {
  static override properties = {
    text: { noAccessor: true },
    lens: {},
    here: {},
    view: { reflect: true },
    kept: {},
    selected: { state: true },
    drawer: { state: true },
    workingOpen: { state: true },
  };
  static override styles = [tokens, base, workbookStyles];

  declare lens: Lens | null;
  declare here: string;
  declare view: "desk" | "brew";
  declare kept: string;
  declare selected: string | null;
  /** The path lies over the sheet (narrow screens). */
  declare drawer: boolean;
  /** The working was asked for and not put away: it is there while a line is in hand. */
  declare workingOpen: boolean;

  /** Null until a book is given: nothing is drawn, and nothing loaded for it. */
  #session: Session | null = null;
  #stop: (() => void) | null = null;
  #told = false;
  readonly #narrow = new Media(this, "(max-width: 62rem)");
  readonly #wide = new Media(this, "(min-width: 76rem)");

  constructor() {
    super();
    this.lens = null;
    this.here = "";
    this.view = "desk";
    this.kept = "";
    this.selected = null;
    this.drawer = false;
    this.workingOpen = false;
  }

  get text(): string {
    return this.#session?.text() ?? "";
  }

  set text(text: string) {
    this.session = createSession(text);
  }

  get session(): Session {
    const given = this.#session;
    if (given !== null) return given;
    const session = createSession("");
    this.session = session;
    return session;
  }

  set session(session: Session) {
    this.#session = session;
    this.selected = null;
    if (!session.workbook.sheets.some(({ name }) => name === this.here))
      this.here = session.workbook.sheets[0]?.name ?? "";
    this.#follow();
    this.requestUpdate();
  }

  #follow(): void {
    this.#stop?.();
    const session = this.#session;
    if (session === null) return;
    this.#stop = session.subscribe((change) => {
      this.requestUpdate();
      if (!change.workbook || this.#told) return;
      if (this.shadowRoot !== null) void holdFocus(this.shadowRoot, this.selected);
      this.#told = true;
      queueMicrotask(() => {
        this.#told = false;
        const detail: GyleEvents["gyle-change"] = {
          get text() {
            return session.text();
          },
        };
        tell(this, "gyle-change", detail);
      });
    });
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#follow();
    document.addEventListener("keydown", this.#keys);
  }

  override disconnectedCallback(): void {
    this.#stop?.();
    this.#stop = null;
    document.removeEventListener("keydown", this.#keys);
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues): void {
    const session = this.#session;
    if (session === null) return;
    if (changed.has("lens") && this.lens !== null && this.lens !== session.lens) session.setLens(this.lens);
    if (this.here !== "" && !session.workbook.sheets.some(({ name }) => name === this.here))
      this.here = session.workbook.sheets[0]?.name ?? "";
    if (changed.has("here")) this.workingOpen &&= partsOf(this.selected ?? "").sheet === this.here;
    if (this.here === "") void import("../front/front.ts");
    if (this.view === "brew") void import("../brewing-view/brewing-view.ts");
  }

  protected override render() {
    const session = this.#session;
    return html`${session === null ? nothing : this.view === "brew" ? this.#brewing(session) : this.#desk(session)}<gyle-slip></gyle-slip>`;
  }

  #brewing(session: Session) {
    return html`<gyle-brewing-view .session=${session} .here=${this.here} @gyle-command=${this.#command} @gyle-go=${this.#go}></gyle-brewing-view>`;
  }

  #desk(session: Session) {
    const narrow = this.#narrow.holds;
    const shown =
      this.workingOpen && this.selected !== null && hasWorking(session, this.selected) ? this.selected : null;
    const beside = this.#wide.holds && shown !== null;
    return html`<div class="book ${beside ? "beside" : ""}" @gyle-go=${this.#go} @gyle-select=${this.#select} @gyle-say=${this.#say} @gyle-command=${this.#command} @gyle-path=${this.#drawer}>
      <gyle-head .session=${session} .selected=${this.selected} .kept=${this.kept}></gyle-head>
      ${narrow ? this.#drawn(session) : html`<gyle-path part="path" .session=${session} .here=${this.here}></gyle-path>`}
      <main part="sheet" tabindex="-1">
        ${session.refusal === null ? nothing : html`<p class="refusal" role="alert">${session.refusal}</p>`}
        <slot ?hidden=${this.here !== (session.workbook.sheets[0]?.name ?? "")}></slot>
        ${this.#sheets(session)}
      </main>
      ${shown === null ? nothing : this.#working(session, shown)}
    </div>`;
  }

  #sheets(session: Session) {
    return this.here === ""
      ? html`<gyle-front .session=${session} .selected=${this.selected}></gyle-front>`
      : html`<gyle-sheet .session=${session} .name=${this.here} .selected=${this.selected}></gyle-sheet>`;
  }

  #drawn(session: Session) {
    if (!this.drawer) return nothing;
    return html`<dialog class="drawer" aria-label="Sheets" @close=${() => {
      this.drawer = false;
    }} @click=${(event: Event) => {
      if (event.target === event.currentTarget) this.drawer = false;
    }}>
      <gyle-path part="path" .session=${session} .here=${this.here}></gyle-path>
    </dialog>`;
  }

  #working(session: Session, name: string) {
    return html`<aside part="working" aria-label="Working">
      <header><h2>Working</h2>
        <button aria-label="Put the working away" @click=${this.#away}>${icons.close}</button></header>
      <gyle-working .session=${session} .name=${name}></gyle-working>
    </aside>`;
  }

  protected override updated(): void {
    const drawer = this.renderRoot.querySelector<HTMLDialogElement>("dialog.drawer");
    if (drawer !== null && !drawer.open) drawer.showModal();
    this.#tellPlace();
  }

  #place = "";

  #tellPlace(): void {
    const { here, view } = this;
    const session = this.#session;
    if (session === null) return;
    const place = `${view} ${session.lens} ${here}`;
    if (place !== this.#place) tell(this, "gyle-place", { here, view, lens: session.lens });
    this.#place = place;
  }

  readonly #drawer = (): void => {
    this.drawer = true;
  };

  readonly #say = (event: CustomEvent<GyleEvents["gyle-say"]>): void => {
    this.say(event.detail.says, event.detail.grave);
  };

  /** Tells the reader something in a sentence, with a button for what can be done about it. */
  say(says: string, grave = false, act: SlipAct | null = null): void {
    const slip = this.renderRoot.querySelector("gyle-slip");
    void import("../slip/slip.ts").then(
      () => slip?.say(says, grave, act),
      // With no network for it, the plain sentence has to do.
      () => slip?.append(says),
    );
  }

  readonly #select = (event: CustomEvent<GyleEvents["gyle-select"]>): void => {
    const { name, open } = event.detail;
    const [line] = event.composedPath();
    if (open !== true) {
      this.selected = name;
      return;
    }
    void loadWorking();
    void this.#beside(line instanceof HTMLElement ? line : null, () => {
      this.selected = name;
      this.workingOpen = true;
    });
  };

  readonly #away = ({ detail: clicks }: MouseEvent): void => {
    const line = this.renderRoot
      .querySelector("gyle-sheet, gyle-front")
      ?.shadowRoot?.querySelector<HTMLElement>("[data-line][selected]");
    void this.#beside(line ?? null, () => {
      this.workingOpen = false;
    });
    // From the keyboard: the focus would be lost with the button.
    if (clicks === 0) line?.focus();
  };

  /**
   * Lets the working come or go. The sheet becomes narrower or wider, and what stands above a line higher or lower: the line
   * stays where it is, under the pointer. Where the working lies over the sheet, it is brought into view above it.
   */
  async #beside(line: HTMLElement | null, change: () => void): Promise<void> {
    const top = line?.getBoundingClientRect().top ?? 0;
    change();
    await this.updateComplete;
    if (line === null) return;
    if (this.#wide.holds) this.renderRoot.querySelector("main")?.scrollBy(0, line.getBoundingClientRect().top - top);
    else if (this.workingOpen) line.scrollIntoView({ block: "start" });
  }

  readonly #go = (event: CustomEvent<GyleEvents["gyle-go"]>): void => {
    event.stopPropagation();
    void this.goTo(event.detail.name, event.detail.more);
  };

  /** Opens the sheet of a line, table, column or sheet and puts the focus on it; `more`: on a table's button for another row. */
  async goTo(name: string, more = false): Promise<void> {
    const sheet = name.split(".")[0] ?? "";
    const known = this.session.workbook.sheets.find((each) => each.name.toLowerCase() === sheet.toLowerCase());
    const moved = this.here !== (known?.name ?? "");
    this.here = known?.name ?? "";
    this.drawer = false;
    if (name.includes(".") || known === undefined) this.selected = name === "" ? null : name;
    await this.updateComplete;
    if (known === undefined) await customElements.whenDefined("gyle-front");
    const page = this.renderRoot.querySelector<HTMLElement & { goTo(name: string, more: boolean): Promise<boolean> }>(
      "gyle-sheet, gyle-front",
    );
    const main = this.renderRoot.querySelector<HTMLElement>("main");
    if ((name.includes(".") || known === undefined) && name !== "" && (await page?.goTo(name, more)) === true) return;
    if (moved) main?.scrollTo(0, 0);
    main?.focus({ preventScroll: true });
  }

  readonly #command = (event: CustomEvent<GyleEvents["gyle-command"]>): void => {
    const { command } = event.detail;
    if (command === "brew" || command === "desk") {
      this.view = command;
    } else if (command === "print") {
      event.stopPropagation();
      void this.print(false);
    } else if (command === "print-book") {
      event.stopPropagation();
      void this.print(true);
    } else if (command === "read-csv") {
      event.stopPropagation();
      void this.readCsv(event.detail.table);
    }
  };

  /** Full name of the table that a CSV would most likely go into: the one in hand, or the first of the open sheet; empty for none. */
  get #tableInHand(): string {
    const session = this.session;
    const inHand = session.table((this.selected ?? "").split(".").slice(0, 2).join("."));
    const item = session.workbook.sheets
      .find(({ name }) => name === this.here)
      ?.pages.flat()
      .find(({ is }) => is === "table");
    return inHand?.name ?? (item?.is === "table" ? `${this.here}.${item.name}` : "");
  }

  /** Opens the dialog that reads a CSV into a table; an empty name: into one that is made for it; none: into the likeliest. */
  async readCsv(table: string | null = null, csv: File | string | null = null): Promise<void> {
    const { GyleReadings } = await import("../readings/readings.ts");
    const into = { table: table ?? this.#tableInHand, likeliest: table === null };
    const dialog = Object.assign(new GyleReadings(), { session: this.session, ...into, sheet: this.here, csv });
    dialog.addEventListener("close", () => dialog.remove());
    this.renderRoot.querySelector("main")?.append(dialog);
  }

  /** Prints the open sheet, or every sheet, as it stands on paper. */
  async print(whole: boolean): Promise<void> {
    const { printSheets } = await import("../print/print.ts");
    const { session, names } = this.printed(whole);
    await printSheets(session, names);
  }

  /** What {@link print} prints. */
  printed(whole: boolean): { readonly session: Session; readonly names: readonly string[] } {
    const sheets = this.session.workbook.sheets.map(({ name }) => name);
    return { session: this.session, names: whole ? sheets : [this.here] };
  }

  readonly #keys = (event: KeyboardEvent): void => {
    const here = event.composedPath().includes(this) || document.activeElement === document.body;
    if (here && this.view === "desk" && keyed(this, event, deepActive())) event.preventDefault();
  };
}

/** Whether a line or column of this full name is there: a table has no working, nor what was deleted. */
const hasWorking = (session: Session, name: string): boolean => {
  const table = session.table(name.split(".").slice(0, 2).join("."));
  return session.cell(name) !== null || table?.columns.some(({ fullName }) => fullName === name) === true;
};

customElements.define("gyle-workbook", GyleWorkbook);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-workbook": GyleWorkbook;
  }
}
