import { css, html, LitElement, nothing, svg, type TemplateResult, unsafeCSS } from "lit";
import { createRef, ref } from "lit/directives/ref.js";
import uplotStyles from "uplot/dist/uPlot.min.css?inline";
import type { PlotItem, Session } from "../../engine/index.ts";
import { apply } from "../actions/apply.ts";
import { moveItem, newLine } from "../actions/lines.ts";
import { editPlot } from "../actions/plots.ts";
import { SessionWatch } from "../controllers/session-watch.ts";
import { apart, breathe } from "../controllers/slices.ts";
import { base } from "../look/base.ts";
import { icons } from "../look/icons.ts";
import { openMenu } from "../menu/open-menu.ts";
import { whole } from "../text/whole.ts";
import type { Drawing, draw } from "./drawing.ts";
import { type PlotColumn, type PlotData, plotData, pointsIn, shownAt } from "./plot-data.ts";
import { DOTTED, strokeOf } from "./strokes.ts";

/** Rows listed in the table beneath; more are read in the book's own table. */
const LISTED = 300;

/** More points than these take a while to draw. */
const MANY_POINTS = 5_000;

/**
 * A plot of table columns in the lens's units. Left and right arrows read it point by point; the same figures stand in a
 * table beneath. The drawing code is loaded when a plot is first shown.
 *
 * @element gyle-plot
 * @prop session - the book's session
 * @prop sheet - the sheet it stands on
 * @prop item - the plot's part of the document
 * @prop at - its place among the sheet's items
 * @fires gyle-say - an edit was refused
 * @csspart drawing - what is drawn
 * @csspart key - the name of each line beside the stroke it is drawn with
 * @csspart reading - the point that is read
 */
export class GylePlot extends LitElement {
  static override properties = {
    session: { attribute: false },
    sheet: {},
    item: { attribute: false },
    at: { type: Number },
    point: { state: true },
    open: { state: true },
  };
  static override styles = [
    base,
    unsafeCSS(uplotStyles),
    css`
      :host {
        margin-block: 1.25rem;
        break-inside: avoid;
      }
      header {
        display: flex;
        align-items: center;
        justify-content: space-between;
      }
      h3 {
        font-size: var(--gyle-section);
        font-weight: 700;
      }
      .drawing {
        block-size: 18rem;
        border: 1px solid var(--gyle-rule-firm);
        border-radius: var(--gyle-round);
        background: var(--gyle-field);
        overflow: hidden;
      }
      .key {
        display: flex;
        flex-wrap: wrap;
        gap: 0 1.5rem;
        padding-block-start: 0.25rem;
        font-size: 0.9375rem;
      }
      .key svg {
        inline-size: 44px;
        block-size: 14px;
        margin-inline-end: 0.25rem;
        stroke-width: 2;
        stroke-linecap: butt;
        vertical-align: -0.1em;
      }
      .key .filled {
        fill: currentColor;
      }
      .key .ring {
        fill: var(--gyle-field);
        stroke-width: 1;
      }
      .reading {
        min-block-size: 1.75rem;
        padding-block-start: 0.25rem;
        font-family: var(--gyle-figures);
        font-size: 0.9375rem;
      }
      .none {
        padding: 1rem;
        color: var(--gyle-ink-soft);
      }
      summary {
        min-block-size: var(--gyle-target);
        align-content: center;
        color: var(--gyle-accent);
        cursor: pointer;
      }
      .scroll {
        overflow: auto;
        max-block-size: 20rem;
      }
      table {
        border-collapse: collapse;
        font-family: var(--gyle-figures);
        font-size: 0.9375rem;
      }
      th,
      td {
        padding: 0.25rem 0.75rem;
        border-block-end: 1px solid var(--gyle-rule);
        text-align: end;
        white-space: nowrap;
      }
      .u-legend {
        display: none;
      }
      @media print {
        details,
        .reading {
          display: none;
        }
      }
    `,
  ];

  declare session: Session | null;
  declare sheet: string;
  declare item: PlotItem | null;
  declare at: number;
  /** The point that is read, from 0; null: none. */
  declare point: number | null;
  /** The table beneath is open. */
  declare open: boolean;

  readonly #box = createRef<HTMLElement>();
  #drawing: Drawing | null = null;
  #data: PlotData | null = null;
  readonly #scheme = matchMedia("(prefers-color-scheme: dark)");
  readonly #watch = new SessionWatch(
    this,
    ({ workbook, results }) => workbook || results === "all" || this.#concerns(results),
  );
  readonly #sized = new ResizeObserver(() => this.#drawing?.fit());

  constructor() {
    super();
    this.session = null;
    this.sheet = "";
    this.item = null;
    this.at = 0;
    this.point = null;
    this.open = false;
  }

  /** Paper is light whatever the screen is: the drawing is made anew for the print, at once. */
  readonly #printing = (event: Event): void => {
    const before = event.type === "beforeprint";
    this.style.colorScheme = before ? "light" : "";
    const box = this.#box.value;
    if (box === undefined || this.#data === null || this.#drawing === null || GylePlot.#draw === null) return;
    this.#drawing.destroy();
    this.#drawing = GylePlot.#draw(box, this.#data, () => undefined);
    if (!before) this.#redraw();
  };

  static #draw: typeof draw | null = null;

  /** Loads what draws; from then on plots are drawn at once, also while the browser is about to print. */
  static async load(): Promise<typeof draw> {
    GylePlot.#draw ??= (await import("./drawing.ts")).draw;
    return GylePlot.#draw;
  }

  readonly #redraw = (): void => {
    this.#drawing?.destroy();
    this.#drawing = null;
    this.requestUpdate();
  };

  override connectedCallback(): void {
    super.connectedCallback();
    this.#scheme.addEventListener("change", this.#redraw);
    addEventListener("beforeprint", this.#printing);
    addEventListener("afterprint", this.#printing);
    if (this.hasUpdated) this.requestUpdate();
  }

  override disconnectedCallback(): void {
    this.#scheme.removeEventListener("change", this.#redraw);
    removeEventListener("beforeprint", this.#printing);
    removeEventListener("afterprint", this.#printing);
    this.#sized.disconnect();
    this.#drawing?.destroy();
    this.#drawing = null;
    super.disconnectedCallback();
  }

  #concerns(results: ReadonlySet<string>): boolean {
    const tables = new Set((this.#data?.lines ?? []).map(({ table }) => table));
    for (const name of results) for (const table of tables) if (name.startsWith(table)) return true;
    return false;
  }

  get #isLong(): boolean {
    const { session, item } = this;
    return session !== null && item !== null && pointsIn(session, this.sheet, item) > MANY_POINTS;
  }

  /** Many points are gathered in a task of their own and drawn in another, so that the page can answer in between. */
  protected override scheduleUpdate(): Promise<unknown> | undefined {
    return apart(this.#isLong, () => super.scheduleUpdate());
  }

  protected override willUpdate(): void {
    this.#watch.watch(this.session);
    this.#data = this.session === null || this.item === null ? null : plotData(this.session, this.sheet, this.item);
  }

  protected override async updated(): Promise<void> {
    const box = this.#box.value;
    const data = this.#data;
    if (box === undefined || data === null || data.says !== null) {
      this.#drawing?.destroy();
      this.#drawing = null;
      return;
    }
    const drawNow = GylePlot.#draw ?? (await GylePlot.load());
    if (this.#isLong) await breathe();
    if (!this.isConnected || this.#box.value !== box || this.#data !== data) return;
    if (this.#drawing?.takes(data) !== true) {
      this.#drawing?.destroy();
      this.#drawing = drawNow(box, data, (point) => {
        this.point = point;
      });
      this.#sized.observe(box);
    }
    this.#drawing.read(this.point);
  }

  protected override render() {
    const { item, session } = this;
    const data = this.#data;
    if (item === null || session === null || data === null) return nothing;
    return html`
      <header>
        <h3 id="label">${item.label}</h3>
        <button aria-label="What can be done with ${item.label}" aria-haspopup="menu" aria-expanded="false" @click=${this.#menu}>${icons.more}</button>
      </header>
      ${
        data.says !== null
          ? html`<p class="drawing none">${data.says}</p>`
          : html`<div class="drawing" part="drawing" role="application" aria-roledescription="plot" tabindex="0"
            aria-label="${item.label}: ${data.lines.map(({ label }) => label).join(", ")} across ${data.across.label}. Left and right arrows read the points."
            @keydown=${this.#keys} ${ref(this.#box)}></div>
          <ul class="key" part="key">${data.lines.map((line, at) => keyed(data, line, at))}</ul>
          <p class="reading" part="reading" role="status">${this.point === null ? nothing : whole(shownAt(data, this.point))}</p>
          <details @toggle=${(event: ToggleEvent) => {
            this.open = event.newState === "open";
          }}>
            <summary>The same figures as a table</summary>
            ${this.open ? this.#listed(data) : nothing}
          </details>`
      }
    `;
  }

  #listed(data: PlotData) {
    const rows = Array.from({ length: Math.min(LISTED, data.across.figures.length) }, (_, row) => row);
    return html`<div class="scroll" tabindex="0" role="region" aria-labelledby="label">
      <table>
        <thead><tr>${[data.across, ...data.lines].map(({ label, unitText }) => html`<th scope="col">${label}${unitText === "" ? "" : ` (${unitText})`}</th>`)}</tr></thead>
        <tbody>${rows.map((row) => html`<tr>${[data.across, ...data.lines].map((column) => html`<td>${column.shown(row)}</td>`)}</tr>`)}</tbody>
      </table>
      ${data.across.figures.length > LISTED ? html`<p>The first ${LISTED} of ${data.across.figures.length}.</p>` : nothing}
    </div>`;
  }

  readonly #keys = (event: KeyboardEvent): void => {
    const last = (this.#data?.across.figures.length ?? 0) - 1;
    if (last < 0) return;
    const now = this.point ?? -1;
    const to = { ArrowRight: Math.min(last, now + 1), ArrowLeft: Math.max(0, now - 1), Home: 0, End: last }[event.key];
    if (event.key === "Escape") this.point = null;
    else if (to !== undefined) {
      event.preventDefault();
      this.point = to;
    }
  };

  readonly #menu = (event: Event): void => {
    const { session, item } = this;
    if (session === null || item === null) return;
    openMenu(event.currentTarget as HTMLElement, [
      { label: "Change what it draws", run: () => void editPlot(this, session, this.sheet, this.at, item) },
      { label: "New line below", run: () => void newLine(this, session, this.sheet, this.at + 1) },
      { label: "Move up", run: () => moveItem(this, session, this.sheet, this.at, -1, item.label) },
      { label: "Move down", run: () => moveItem(this, session, this.sheet, this.at, 1, item.label) },
      {
        label: "Delete",
        grave: true,
        run: () =>
          void apply(this, session, { edit: "remove-item", sheet: this.sheet, at: this.at }, `Delete ${item.label}`),
      },
    ]);
  };
}

/** A line of the plot by name, beside the stroke and the point that it is drawn with. */
const keyed = ({ across }: PlotData, { label, unitText }: PlotColumn, at: number): TemplateResult => {
  const { colour, dash, filled } = strokeOf(at);
  const dots = across.figures.length <= DOTTED;
  return html`<li>
    <svg viewBox="0 0 44 14" aria-hidden="true" .style=${`color: var(${colour})`}>
      <path d="M0 7h44" stroke-dasharray=${dash.join(" ") || nothing} />
      ${dots ? svg`<circle class=${filled ? "filled" : "ring"} cx="22" cy="7" r="3.5" />` : nothing}
    </svg>
    <span class="whole">${unitText === "" ? label : `${label} in ${unitText}`}</span>
  </li>`;
};

customElements.define("gyle-plot", GylePlot);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-plot": GylePlot;
  }
}
