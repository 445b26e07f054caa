import { html, LitElement, nothing, type PropertyValues } from "lit";
import { guard } from "lit/directives/guard.js";
import { repeat } from "lit/directives/repeat.js";
import { labelFromName, type Session, type Sheet, visible, type Workbook } from "../../engine/index.ts";
import { addMenu, itemMenu, sheetMenu } from "../actions/menus.ts";
import { itemsOfSheet } from "../actions/places.ts";
import { SessionWatch } from "../controllers/session-watch.ts";
import "../entry/entry.ts";
import { tell } from "../events.ts";
import { base } from "../look/base.ts";
import { cautionShape, icons, stateShapes } from "../look/icons.ts";
import { openMenu } from "../menu/open-menu.ts";
import "../result/result.ts";
import { careOf } from "../text/care.ts";
import { readField } from "../text/formula-text.ts";
import { whole } from "../text/whole.ts";
import { sheetStyles } from "./sheet-styles.ts";

/** Items that are drawn at once, more than a screen holds, and with each step after. */
const FIRST = 60;
const MORE = 120;
/** Room in pixels that is kept for an item until it is drawn: the height of a line. */
const LINE = 49;

type SheetItem = Workbook["sheets"][number]["pages"][number][number];

/**
 * One sheet, read from top to bottom like a page of a brew log: entries, results, tables, plots, headings and prose.
 *
 * @element gyle-sheet
 * @prop session - the book's session
 * @prop name - the sheet's name
 * @prop selected - full name of the line in hand, or null
 * @prop formulas - show formulas beneath results
 * @fires gyle-select, gyle-go, gyle-say - from its lines
 * @csspart heading - the sheet's heading
 * @csspart prose - a paragraph
 */
export class GyleSheet extends LitElement {
  static override properties = {
    session: { attribute: false },
    name: {},
    selected: {},
    formulas: { type: Boolean, reflect: true },
  };
  static override styles = [base, sheetStyles];

  declare session: Session | null;
  declare name: string;
  declare selected: string | null;
  declare formulas: boolean;

  readonly #watch = new SessionWatch(
    this,
    ({ workbook, results }) => workbook || results === "all" || results.size > 0,
  );

  constructor() {
    super();
    this.session = null;
    this.name = "";
    this.selected = null;
    this.formulas = false;
  }

  /** So many items of the sheet are drawn; the others follow in steps once these are painted. */
  #upTo = FIRST;

  protected override willUpdate(changed: PropertyValues): void {
    this.#watch.watch(this.session);
    if (changed.has("name") || changed.has("session")) this.#upTo = FIRST;
  }

  protected override updated(): void {
    const { name } = this;
    const upTo = this.#upTo;
    if (this.session === null || itemsOfSheet(this.session, name).length <= upTo) return;
    afterPaint(() => {
      if (this.name === name && this.#upTo === upTo) this.#drawUpTo(upTo + MORE);
    });
  }

  #drawUpTo(items: number): void {
    this.#upTo = Math.max(this.#upTo, items);
    this.requestUpdate();
  }

  /**
   * Brings a line, table or column of this sheet into view and puts the focus on it, or with `more` on a table's button for
   * another row; false when it is not here.
   */
  async goTo(name: string, more = false): Promise<boolean> {
    const at = this.session === null ? -1 : itemsOfSheet(this.session, this.name).findIndex((item) => isAt(item, name));
    if (at >= this.#upTo) this.#drawUpTo(at + FIRST);
    await this.updateComplete;
    const line = [...this.renderRoot.querySelectorAll<Line>("[data-line]")].find(
      (each) => name === each.name || name.startsWith(`${each.name}.`),
    );
    if (line === undefined) return false;
    await customElements.whenDefined(line.localName);
    await line.updateComplete;
    const table = this.session?.table(line.name);
    const column = table?.columns.find(({ fullName }) => fullName === name);
    if (column !== undefined && table?.rowCount !== 0) {
      const [faulty = 0] = column.entryFaults.keys();
      line.goToRow?.(faulty, column.name);
      await line.updateComplete;
    }
    if (more && column === undefined && line.goToMore !== undefined) line.goToMore();
    else line.focus({ preventScroll: true });
    const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
    line.scrollIntoView({ block: "center", behavior: calm ? "auto" : "smooth" });
    return true;
  }

  protected override render() {
    const { session } = this;
    const sheet = session?.workbook.sheets.find((each) => each.name === this.name);
    if (!session || sheet === undefined) return nothing;
    return html`
      <header part="heading">
        <h2>${whole(sheet.label ?? labelFromName(sheet.name))}</h2>
        <button class="edged toggle" aria-pressed=${this.formulas ? "true" : "false"} @click=${() => {
          this.formulas = !this.formulas;
        }}>${this.formulas ? "Hide formulas" : "Show formulas"}</button>
        <button aria-label="What can be done with this sheet" aria-haspopup="menu" aria-expanded="false" @click=${(event: Event) => openMenu(event.currentTarget as HTMLElement, sheetMenu(this, session, this.name))}>${icons.more}</button>
      </header>
      ${this.#warnings(session)}
      ${this.#pages(session, sheet)}
      <footer class="screen-only">
        <button class="edged" aria-haspopup="menu" aria-expanded="false" @click=${(event: Event) => openMenu(event.currentTarget as HTMLElement, addMenu(this, session, this.name, null))}>${icons.add} Add to this sheet</button>
      </footer>
    `;
  }

  /** Only a page that was edited is drawn anew; its lines follow their own results. */
  #pages(session: Session, { pages }: Sheet) {
    const prefix = `${this.name}.`;
    const inHand = this.selected?.startsWith(prefix) === true ? this.selected.slice(prefix.length) : null;
    let start = 0;
    const parts = pages.map((whole) => {
      const first = start;
      start += whole.length;
      const many = Math.min(whole.length, Math.max(0, this.#upTo - first));
      const here = inHand !== null && whole.some((item) => item.is === "cell" && item.name === inHand) ? inHand : null;
      return guard([session, whole, many, first, this.name, this.formulas, here], () =>
        repeat(
          whole.slice(0, many),
          (item, at) =>
            item.is === "cell" || item.is === "table" ? `${item.is} ${item.name}` : `${item.is} ${first + at}`,
          (item, at) => this.#item(session, item, first + at),
        ),
      );
    });
    const coming = Math.max(0, start - this.#upTo);
    const room = html`<div .style=${`block-size: ${coming * LINE}px`}></div>`;
    return html`${parts}${coming === 0 ? nothing : room}`;
  }

  /** Safety and estimates, each said once for the whole sheet. */
  #warnings(session: Session) {
    const says = careOf(session, this.name);
    if (says.length === 0) return nothing;
    return html`<ul class="warnings" aria-label="Take care">${says.map((each) => html`<li>${cautionShape}<span>${whole(each)}</span></li>`)}</ul>`;
  }

  #item(session: Session, item: SheetItem, at: number) {
    switch (item.is) {
      case "cell":
        return this.#line(session, `${this.name}.${item.name}`);
      case "table":
        afterPaint(() => import("../table/table.ts"));
        return html`<gyle-table data-line .style=${`min-block-size: ${tableHeight(session, `${this.name}.${item.name}`)}px`} .session=${session} .name=${`${this.name}.${item.name}`} .item=${item}></gyle-table>`;
      case "plot":
        afterPaint(() => import("../plot/plot.ts"));
        return html`<gyle-plot .session=${session} .sheet=${this.name} .item=${item} .at=${at}></gyle-plot>`;
      case "section":
        return html`<div class="section"><h3>${whole(item.label)}</h3>${this.#more(session, item, at, item.label)}</div>`;
      case "prose":
        return html`<div class="prose" part="prose"><p>${whole(item.text)}</p>${this.#more(session, item, at, "this prose")}</div>`;
      case "unread":
        return html`<div class="unread">
          <span class="mark">${stateShapes.faulty}</span>
          <div><p>This could not be read; it is kept as it stands.</p><pre>${visible(item.source.trimEnd())}</pre></div>
          ${this.#more(session, item, at, "what could not be read")}
        </div>`;
      default:
        return nothing;
    }
  }

  #line(session: Session, name: string) {
    const cell = session.cell(name);
    if (cell === null) return nothing;
    const selected = this.selected === name;
    return cell.blank !== null || cell.choices !== null || readField(cell.formula) !== null
      ? html`<gyle-entry data-line .session=${session} .name=${name} ?selected=${selected}></gyle-entry>`
      : html`<gyle-result data-line .session=${session} .name=${name} ?formulas=${this.formulas} ?selected=${selected}></gyle-result>`;
  }

  #more(session: Session, item: SheetItem, at: number, label: string) {
    return html`<button class="menu screen-only" aria-label="What can be done with ${label}" aria-haspopup="menu" aria-expanded="false"
      @click=${(event: Event) => openMenu(event.currentTarget as HTMLElement, itemMenu(this, session, this.name, item, at))}>${icons.more}</button>`;
  }
}

/** A line or a table of the sheet as it is drawn. */
interface Line extends HTMLElement {
  readonly name: string;
  readonly updateComplete?: Promise<unknown>;
  /** Of a table: puts the focus on an entry. */
  goToRow?(row: number, column: string): void;
  goToMore?(): void;
}

/** Whether an item is the line or table of a full name, or holds the column. */
const isAt = (item: SheetItem, name: string): boolean =>
  (item.is === "cell" || item.is === "table") && item.name === name.split(".")[1];

/** Does what can wait until the lines that are there are painted. */
const afterPaint = (then: () => unknown): void => {
  requestAnimationFrame(() => setTimeout(() => void then()));
};

/** Heights in pixels that a table takes at the least: its head, a row, and most rows that are seen at once. */
const TABLE_HEAD = 150;
const ROW = 44;
const MOST_SEEN = 8;

/** Room that is kept for a table until it is loaded, so that nothing moves. */
const tableHeight = (session: Session, name: string): number =>
  TABLE_HEAD + ROW * Math.min(MOST_SEEN, session.table(name)?.rowCount ?? 0);

customElements.define("gyle-sheet", GyleSheet);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-sheet": GyleSheet;
  }
}

/** Goes to the line or table that follows `now` among `names`; to the first when `now` is in none of them or in the last. */
export const goToNext = (from: EventTarget, names: readonly string[], now: string | null): void => {
  const exact = names.indexOf(now ?? "");
  const at = exact >= 0 ? exact : names.findIndex((name) => now?.startsWith(`${name}.`));
  const next = names[(at + 1) % Math.max(1, names.length)];
  if (next !== undefined) tell(from, "gyle-go", { name: next });
};
