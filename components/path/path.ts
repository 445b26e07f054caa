import { css, html, LitElement, nothing } from "lit";
import type { Session } from "../../engine/index.ts";
import { newSheet } from "../actions/menus.ts";
import { SessionWatch } from "../controllers/session-watch.ts";
import { tell } from "../events.ts";
import { base } from "../look/base.ts";
import { icons } from "../look/icons.ts";
import { faultyPlaces, problemsOf, sheetLabel, sheetOf } from "../text/book.ts";
import { whole } from "../text/whole.ts";

interface Stop {
  readonly name: string;
  readonly label: string;
  readonly blanks: number;
  readonly faults: number;
}

/**
 * The way through the book: its front page and its sheets in the order of the work, drawn as one line from first to last,
 * each with its blanks and faults in figures.
 *
 * @element gyle-path
 * @prop session - the book's session
 * @prop here - name of the sheet that is open; empty: the front page
 * @fires gyle-go - a sheet was chosen
 * @csspart stop - a sheet of the path
 */
export class GylePath extends LitElement {
  static override properties = { session: { attribute: false }, here: {} };
  static override styles = [
    base,
    css`
      ol {
        position: relative;
      }
      button.stop {
        display: grid;
        grid-template-columns: 1.5rem 1fr 2.75rem;
        align-items: center;
        gap: 0.5rem;
        inline-size: 100%;
        padding: 0.25rem 0.5rem;
        border-radius: 0;
        text-align: start;
        line-height: 1.2;
      }
      li {
        position: relative;
      }
      li::before {
        content: "";
        position: absolute;
        inset-block: 0;
        inset-inline-start: calc(0.5rem + 0.75rem - 1px);
        inline-size: 2px;
        background: var(--gyle-accent);
      }
      li:first-child::before {
        inset-block-start: 50%;
      }
      li:last-child::before {
        inset-block-end: 50%;
      }
      .joint {
        position: relative;
        justify-self: center;
        inline-size: 14px;
        block-size: 14px;
        border: 2px solid var(--gyle-accent);
        border-radius: 50%;
        background: var(--gyle-paper);
      }
      .joint.done {
        background: var(--gyle-accent);
      }
      .joint.bad {
        border-color: var(--gyle-fault);
        border-radius: 0;
        transform: rotate(45deg) scale(0.9);
      }
      .label {
        overflow-wrap: anywhere;
      }
      .stop[aria-current] {
        background: var(--gyle-accent-soft);
        font-weight: 700;
      }
      /* A place of its own, figures after their shapes: as they come, grow and shrink nothing moves. */
      .counts {
        position: relative;
        white-space: nowrap;
        font-family: var(--gyle-figures);
        font-size: var(--gyle-small);
        font-weight: 600;
      }
      .blanks {
        color: var(--gyle-waiting);
      }
      .counts span[title] {
        display: block;
      }
      .faults {
        color: var(--gyle-fault);
      }
      .blanks + .faults {
        position: absolute;
        inset-block-start: 90%;
      }
      .add {
        margin-block-start: 0.75rem;
        inline-size: 100%;
        color: var(--gyle-ink-soft);
        text-align: start;
      }
    `,
  ];

  declare session: Session | null;
  declare here: string;

  readonly #watch = new SessionWatch(this);

  constructor() {
    super();
    this.session = null;
    this.here = "";
  }

  protected override willUpdate(): void {
    this.#watch.watch(this.session);
  }

  #stops(session: Session): readonly Stop[] {
    const { blanks } = problemsOf(session);
    const count = (names: readonly string[], sheet: string): number =>
      names.filter((name) => sheetOf(session, name) === sheet).length;
    const faulty = faultyPlaces(session);
    return ["", ...session.workbook.sheets.map(({ name }) => name)].map((name) => ({
      name,
      label: sheetLabel(session, name),
      blanks: count(blanks, name),
      faults: count(faulty, name),
    }));
  }

  protected override render() {
    const { session } = this;
    if (session === null) return nothing;
    return html`<nav aria-label="Sheets">
      <ol>${this.#stops(session).map((stop) => this.#stop(stop))}</ol>
      <button class="add" @click=${() => void newSheet(this, session)}>${icons.add} New sheet</button>
    </nav>`;
  }

  #stop({ name, label, blanks, faults }: Stop) {
    const bad = faults > 0 ? count("faults", "◆", faults, "faulty") : nothing;
    const joint = faults > 0 ? "bad" : blanks > 0 ? "" : "done";
    return html`<li>
      <button class="stop" part="stop" aria-current=${name === this.here ? "page" : nothing} @click=${() => tell(this, "gyle-go", { name })}>
        <span class="joint ${joint}"></span>
        <span class="label">${whole(label)}</span>
        <span class="counts">${blanks > 0 ? html`${count("blanks", "○", blanks, "to fill")} ${bad}` : html`${bad}`}</span>
      </button>
    </li>`;
  }
}

const count = (kind: string, shape: string, figure: number, word: string) =>
  html`<span class=${kind} title="${figure} ${word}"><span aria-hidden="true">${shape} </span>${figure}<span class="unseen"> ${word}</span></span>`;

customElements.define("gyle-path", GylePath);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-path": GylePath;
  }
}
