import { html, LitElement, nothing, type PropertyValues } from "lit";
import { createRef, ref } from "lit/directives/ref.js";
import { repeat } from "lit/directives/repeat.js";
import { type ColumnResult, inWords, type Session, type TableItem, type TableResult } from "../../engine/index.ts";
import { columnMenu, tableMenu } from "../actions/menus.ts";
import { SessionWatch } from "../controllers/session-watch.ts";
import { apart } from "../controllers/slices.ts";
import { tell } from "../events.ts";
import { base } from "../look/base.ts";
import { icons, stateShapes } from "../look/icons.ts";
import { openMenu } from "../menu/open-menu.ts";
import { formulaSlot } from "../text/formula-slot.ts";
import { whole } from "../text/whole.ts";
import { clipboardFromRows, rowsFromClipboard } from "./clipboard.ts";
import { bringIntoView, showEdges } from "./edges.ts";
import { holdsFigures, openedEntry, shownEntry, shownRows, statusOf } from "./entries.ts";
import { holds, moveBy, type Place, placeUnder, type Stretch, stepAfter, stretchOf } from "./grid.ts";
import { OpenEntry } from "./open-entry.ts";
import { pasteRows } from "./paste.ts";
import { addRow, clearEntries, copyTable, keepColumn, rowMenu } from "./rows.ts";
import { rowsInView } from "./rows-in-view.ts";
import { Slots } from "./slots.ts";
import { ROW_HEIGHT, tableStyles } from "./table-styles.ts";
import { tracksOf } from "./tracks.ts";

/** What a screen reader counts before the first row: rows count from 1, and the first is the header. */
const FIRST_ROW = 2;
/** A change of a table of more rows than these takes a while to follow. */
const MANY_ROWS = 5_000;
/** Rows that are printed, and how many ruled ones follow for the hand. */
const PRINTED = 500;
const RULED = 6;

/**
 * A table of readings: only the rows in view are drawn. Arrow keys move, Enter, F2 or a typed character edits, Enter keeps
 * and goes down, Tab keeps and goes on, Escape leaves; copying and pasting go by rows and columns. What can be read in several
 * ways stays open until it is said which is meant.
 *
 * @element gyle-table
 * @prop session - the book's session
 * @prop name - the table's full name, `cellar.readings`
 * @prop item - the table's part of the document
 * @fires gyle-select - a column is in hand
 * @fires gyle-say - an edit was refused, or an entry waits to be told which reading is meant
 * @csspart grid - the scrolling part
 * @csspart header - a column's header
 */
export class GyleTable extends LitElement {
  static override properties = {
    session: { attribute: false },
    name: {},
    item: { attribute: false },
    at: { state: true },
    anchor: { state: true },
    draft: { state: true },
    editingColumn: { state: true },
    printing: { state: true },
  };
  static override styles = [base, tableStyles];

  declare session: Session | null;
  declare name: string;
  declare item: TableItem | null;
  /** The entry that has or had the focus. */
  declare at: Place;
  /** The other end of the chosen stretch. */
  declare anchor: Place;
  /** What is typed in the entry at `at`; null: it is not being edited. */
  declare draft: string | null;
  /** Short name of the worked column whose formula is open. */
  declare editingColumn: string | null;
  declare printing: boolean;

  readonly #grid = createRef<HTMLElement>();
  readonly #slots = new Slots();
  readonly #open = new OpenEntry(this);
  readonly #watch = new SessionWatch(
    this,
    ({ workbook, results }) =>
      workbook ||
      results === "all" ||
      [...results].some((name) => name === this.name || name.startsWith(`${this.name}.`)),
  );
  readonly #rows = rowsInView(this, this.#grid, () => this.at.row);

  constructor() {
    super();
    this.session = null;
    this.name = "";
    this.item = null;
    this.at = { row: 0, column: 0 };
    this.anchor = this.at;
    this.draft = null;
    this.editingColumn = null;
    this.printing = false;
    showEdges(this, this.#grid);
  }

  readonly #printing = (event: Event): void => {
    this.printing = event.type === "beforeprint";
    this.performUpdate();
  };

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener("beforeprint", this.#printing);
    addEventListener("afterprint", this.#printing);
  }

  override disconnectedCallback(): void {
    removeEventListener("beforeprint", this.#printing);
    removeEventListener("afterprint", this.#printing);
    super.disconnectedCallback();
  }

  /** Puts the focus on the entry in hand; on the button for a new row while there is none. */
  override focus(): void {
    const find = (): HTMLElement | null =>
      this.renderRoot.querySelector<HTMLElement>('[role="gridcell"][tabindex="0"]');
    if (find() !== null || (this.#table?.rowCount ?? 0) === 0)
      (find() ?? this.renderRoot.querySelector<HTMLElement>(".add"))?.focus({ preventScroll: true });
    // The rows are drawn one frame after the table has its height.
    else requestAnimationFrame(() => find()?.focus({ preventScroll: true }));
  }

  #followed: TableItem | null = null;

  /** A change of many rows is followed in a task of its own, so that the page can answer between what made it and the drawing. */
  protected override scheduleUpdate(): Promise<unknown> | undefined {
    const isLong = this.item !== this.#followed && (this.#table?.rowCount ?? 0) > MANY_ROWS;
    this.#followed = this.item;
    return apart(isLong, () => super.scheduleUpdate());
  }

  protected override willUpdate(changed: PropertyValues): void {
    this.#watch.watch(this.session);
    this.#open.follow(changed);
    const virtual = this.#rows.getVirtualizer();
    virtual.setOptions({ ...virtual.options, count: this.#table?.rowCount ?? 0 });
  }

  get #chosen(): Stretch {
    return stretchOf(this.at, this.anchor);
  }

  get #table(): TableResult | null {
    return this.session?.table(this.name) ?? null;
  }

  protected override render() {
    const table = this.#table;
    const { session } = this;
    if (table === null || session === null) return nothing;
    const column = table.columns.find(({ name }) => name === this.editingColumn);
    return html`
      <header>
        <h3 id="label">${whole(table.label)}</h3>
        <span class="count">${inWords(table.rowCount, "row")}</span>
        <button class="edged add" @click=${() => this.#add(table.rowCount)}>${icons.add} Add a row</button>
        <button aria-label="What can be done with ${table.label}" aria-haspopup="menu" aria-expanded="false"
          @click=${(event: Event) =>
            openMenu(
              event.currentTarget as HTMLElement,
              tableMenu(this, session, this.name, () => void copyTable(this, session, table)),
            )}>${icons.more}</button>
      </header>
      ${
        column?.formula
          ? html`<div class="editor" @gyle-keep=${this.#columnKept} @gyle-leave=${this.#columnLeft}>
        ${formulaSlot(session, { sheet: this.name.split(".")[0] ?? "", cell: column.name, table: this.name }, column.formula, `Formula of ${column.label}`)}
      </div>`
          : nothing
      }
      <div class="frame"><div class="grid" part="grid" role="grid" aria-labelledby="label" aria-rowcount=${table.rowCount + 1} aria-colcount=${table.columns.length + 1}
        ${ref(this.#grid)} .style=${tracksOf(session, table)} @keydown=${this.#keys} @copy=${this.#copy} @paste=${this.#paste}
        @focusin=${this.#focused} @mousedown=${this.#pressed} @dblclick=${(event: Event) => placeUnder(event) !== null && this.#edit(null)} @click=${this.#clicked}>
        <div role="row" class="row head" aria-rowindex="1">
          <span role="columnheader" class="number"><span class="unseen">Row</span></span>
          ${table.columns.map((each) => this.#header(session, each))}
          <span role="columnheader"><span class="unseen">What can be done with the row</span></span>
        </div>
        ${this.printing ? this.#printed(session, table) : this.#body(session, table)}
      </div></div>
      <p class="status" role="status" @focusout=${this.#open.leave}>${statusOf(this, session, table, this.at, this.draft, this.#answer)}</p>
    `;
  }

  #body(session: Session, table: TableResult) {
    const virtual = this.#rows.getVirtualizer();
    const chosen = this.#chosen;
    const slots = this.#slots.arrange(virtual.getVirtualIndexes(), this.at.row);
    return html`<div role="rowgroup" class="body" .style=${`block-size: ${virtual.getTotalSize()}px`}>
      ${repeat(
        slots,
        ({ key }) => key,
        ({ row }) =>
          row === null
            ? nothing
            : this.#row(session, table, row, chosen, `transform: translateY(${row * ROW_HEIGHT}px)`),
      )}
    </div>`;
  }

  #printed(session: Session, table: TableResult) {
    const nowhere = { top: -1, bottom: -1, left: -1, right: -1 };
    const rows = Array.from({ length: Math.min(PRINTED, table.rowCount) }, (_, row) =>
      this.#row(session, table, row, nowhere, ""),
    );
    const ruled = Array.from(
      { length: RULED },
      () => html`<div class="row">${[null, ...table.columns].map(() => html`<span class="ruled"></span>`)}</div>`,
    );
    return html`<div class="body">${rows}${ruled}</div>${table.rowCount > PRINTED ? html`<p>The first ${PRINTED} of ${table.rowCount} rows.</p>` : nothing}`;
  }

  #header(session: Session, column: ColumnResult) {
    const edit = column.measured
      ? null
      : (): void => {
          this.editingColumn = column.name;
        };
    return html`<span role="columnheader" part="header" class="header ${column.type.kind.is === "text" ? "words" : ""}">
      <button aria-haspopup="menu" aria-expanded="false" title="What can be done with this column"
        @click=${(event: Event) => openMenu(event.currentTarget as HTMLElement, columnMenu(this, session, this.name, column.name, edit))}
      ><b>${column.state === "faulty" ? html`<span class="faulty">${stateShapes.faulty}</span>` : nothing} ${whole(column.label)}</b><span class="unit">${column.unitText}</span></button>
      ${edit === null ? nothing : html`<button class="formula" aria-label="Change the formula of ${column.label}: ${column.formula}" title=${column.formula ?? ""} @click=${edit}>${column.formula}</button>`}
    </span>`;
  }

  #row(session: Session, table: TableResult, row: number, chosen: Stretch, style: string) {
    return html`<div role="row" class="row" aria-rowindex=${row + FIRST_ROW} .style=${style}>
      <span role="rowheader" class="number">${row + 1}</span>
      ${table.columns.map((column, at) => this.#entry(session, column, row, at, chosen))}
      <span role="gridcell" class="tools"><button tabindex="-1" aria-label="What can be done with row ${row + 1}" aria-haspopup="menu" aria-expanded="false">${icons.more}</button></span>
    </div>`;
  }

  #entry(session: Session, column: ColumnResult, row: number, at: number, chosen: Stretch) {
    const here = this.at.row === row && this.at.column === at;
    const entry = session.entry(this.name, row, column.name);
    const text = column.measured && !holdsFigures(column);
    const kinds = `entry ${column.measured ? "measured" : "worked"} ${column.type.kind.is === "text" ? "words" : ""} ${entry.fault === null ? "" : "bad"} ${holds(chosen, row, at) ? "chosen" : ""}`;
    return html`<span role="gridcell" class=${kinds} tabindex=${here ? "0" : "-1"} data-row=${row} data-column=${at} aria-colindex=${at + 2}
      aria-readonly=${column.measured ? nothing : "true"} aria-invalid=${entry.fault === null ? nothing : "true"}>
      ${
        here && this.draft !== null
          ? html`<input aria-label="${column.label}, row ${row + 1}" .value=${this.draft} autocomplete="off" spellcheck="false" inputmode=${text ? "text" : "decimal"}
            @input=${(event: Event) => {
              this.draft = (event.target as HTMLInputElement).value;
            }}
            @blur=${this.#open.leave} />`
          : entry.fault === null
            ? shownEntry(column, entry, session.lens)
            : html`${stateShapes.faulty}${entry.text}`
      }
    </span>`;
  }

  /** Goes to a row, and in it to the column of this short name where there is one. */
  goToRow(row: number, column: string | null): void {
    const at = this.#table?.columns.findIndex(({ name }) => name === column) ?? -1;
    this.#go({ row, column: Math.max(0, at) });
  }

  /** Puts the focus on the button for another row. */
  goToMore(): void {
    this.renderRoot.querySelector<HTMLElement>(".add")?.focus({ preventScroll: true });
  }

  #go(to: Place, extend = false): void {
    if (!this.#open.settle()) return;
    this.at = to;
    if (!extend) this.anchor = to;
    this.#rows.getVirtualizer().scrollToIndex(to.row, { align: "auto" });
    void this.updateComplete.then(() => {
      const entry = this.renderRoot.querySelector<HTMLElement>(`[data-row="${to.row}"][data-column="${to.column}"]`);
      entry?.focus({ preventScroll: true });
      if (entry != null && this.#grid.value !== undefined) bringIntoView(this.#grid.value, entry);
    });
  }

  readonly #focused = (event: Event): void => {
    const column = this.#table?.columns[placeUnder(event)?.column ?? -1];
    if (column !== undefined) tell(this, "gyle-select", { name: column.fullName });
  };

  /** A row's own button opens what can be done with the row. */
  readonly #clicked = (event: Event): void => {
    const button = (event.target as Element).closest<HTMLElement>(".tools button");
    if (button == null || this.session === null || !this.#open.settle()) return;
    const row = Number(button.closest(".row")?.ariaRowIndex) - FIRST_ROW;
    this.at = { row, column: this.at.column };
    this.anchor = this.at;
    const menu = rowMenu(this, this.session, this.name, row, (at) => this.#add(at));
    void openMenu(button, menu);
  };

  readonly #pressed = (event: MouseEvent): void => {
    const place = placeUnder(event);
    if (place === null) return;
    if (this.draft !== null && this.at.row === place.row && this.at.column === place.column) return;
    const again =
      this.at.row === place.row && this.at.column === place.column && this.shadowRoot?.activeElement !== null;
    event.preventDefault();
    if (!this.#open.settle()) return;
    this.#go(place, event.shiftKey);
    if (again && !event.shiftKey) this.#edit(null);
  };

  /** Opens the entry in hand; a typed character stands for what was there. */
  #edit(typed: string | null): void {
    const column = this.#table?.columns[this.at.column];
    if (!column?.measured || this.session === null || this.draft !== null) return;
    this.#open.open(
      typed ?? openedEntry(column, this.session.entry(this.name, this.at.row, column.name)),
      typed === null,
    );
  }

  readonly #answer = (entry: string | null): void => {
    const rows = this.#table?.rowCount ?? 0;
    if (this.#open.answer(entry))
      this.#go(entry === null ? this.at : { ...this.at, row: Math.min(this.at.row + 1, rows - 1) });
  };

  #add(at: number): void {
    if (this.session === null || !this.#open.settle() || !addRow(this, this.session, this.name, at)) return;
    const column = this.#table?.columns.findIndex(({ measured }) => measured) ?? 0;
    void this.updateComplete.then(() => {
      this.#go({ row: at, column });
      void this.updateComplete.then(() => this.#edit(null));
    });
  }

  readonly #keys = (event: KeyboardEvent): void => {
    const table = this.#table;
    const inEntry = event.composedPath().some((each) => each instanceof HTMLElement && each.dataset.row !== undefined);
    if (table === null || !inEntry) return;
    const size = [table.rowCount, table.columns.length] as const;
    if (this.draft !== null) {
      const step = stepAfter(event);
      if (event.key === "Escape") this.draft = null;
      else if (step === null) return;
      event.preventDefault();
      event.stopPropagation();
      if (this.#open.settle(event.key)) this.#go((step === null ? null : moveBy(step, this.at, ...size)) ?? this.at);
      return;
    }
    const to = moveBy(event, this.at, ...size);
    if (to !== null) this.#go(to, event.shiftKey);
    else if (event.key === "Enter" || event.key === "F2") this.#edit(null);
    else if (event.key === "Delete" || event.key === "Backspace") this.#clear();
    else if (event.key.length === 1 && !event.ctrlKey && !event.metaKey && !event.altKey) this.#edit(event.key);
    else return;
    event.preventDefault();
  };

  #clear(): void {
    const table = this.#table;
    if (table !== null && this.session !== null) clearEntries(this, this.session, table, this.#chosen);
  }

  readonly #copy = (event: ClipboardEvent): void => {
    const table = this.#table;
    if (this.draft !== null || table === null || this.session === null) return;
    event.clipboardData?.setData("text/plain", clipboardFromRows(shownRows(this.session, table, this.#chosen)));
    event.preventDefault();
  };

  readonly #paste = (event: ClipboardEvent): void => {
    const table = this.#table;
    const text = event.clipboardData?.getData("text/plain") ?? "";
    if (this.draft !== null || table === null || this.session === null || text === "") return;
    event.preventDefault();
    void pasteRows(this, this.session, table, this.at, rowsFromClipboard(text));
  };

  readonly #columnKept = (event: CustomEvent<{ formula: string }>): void => {
    event.stopPropagation();
    const name = this.editingColumn;
    this.editingColumn = null;
    if (name !== null && this.item !== null && this.session !== null)
      keepColumn(this, this.session, this.name, this.item, name, event.detail.formula);
  };

  readonly #columnLeft = (event: Event): void => {
    event.stopPropagation();
    this.editingColumn = null;
  };
}

customElements.define("gyle-table", GyleTable);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-table": GyleTable;
  }
}
