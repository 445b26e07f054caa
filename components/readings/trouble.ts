import { css, html, LitElement, nothing } from "lit";
import { type Finding, type Session, tableAlone } from "../../engine/index.ts";
import { SessionWatch } from "../controllers/session-watch.ts";
import { base } from "../look/base.ts";
import { cautionShape, icons } from "../look/icons.ts";
import { CsvReader } from "./reading.ts";

/** Findings listed one by one. */
const MOST_LISTED = 200;

const WORDS: Readonly<Record<Finding["is"], string>> = {
  gap: "gap",
  repeat: "time twice",
  "out-of-order": "out of order",
  "clock-change": "clock put back",
  stuck: "stuck",
  spike: "spike",
  foam: "foam",
  "failed-probe": "failed probe",
};

/** `gap 2, spike 5`: how many of each. */
const inWords = (findings: readonly Finding[]): string => {
  const counts = new Map<string, number>();
  for (const { is } of findings) counts.set(WORDS[is], (counts.get(WORDS[is]) ?? 0) + 1);
  return [...counts].map(([word, count]) => `${word} ${count}`).join(", ");
};

/**
 * What in a table's readings does not look like a reading: gaps, repeats, times out of order, stuck figures, spikes, failed
 * probes. It is a list to go through; nothing is removed. The rows are looked through in a worker.
 *
 * @element gyle-trouble
 * @prop session - the book's session
 * @prop table - the table's full name
 * @fires gyle-row - `detail` is the row, from 0, and the column's short name or null: go there
 * @fires close - it was put away
 */
export class GyleTrouble extends LitElement {
  static override properties = {
    session: { attribute: false },
    table: {},
    findings: { state: true },
    says: { state: true },
  };
  static override styles = [
    base,
    css`
      section {
        margin-block: 0.5rem;
        padding: 0.5rem 0.75rem;
        border-inline-start: 5px solid var(--gyle-waiting);
        background: var(--gyle-waiting-soft);
      }
      header {
        display: flex;
        align-items: center;
        gap: 0.5rem;
      }
      h4 {
        flex: 1;
        font-weight: 650;
      }
      ol {
        max-block-size: 18rem;
        overflow: auto;
      }
      li {
        display: grid;
        grid-template-columns: minmax(7rem, auto) 1fr;
        gap: 0 0.75rem;
        align-items: baseline;
        padding-block: 0.125rem;
        border-block-start: 1px solid var(--gyle-rule);
      }
      li button {
        font-variant-numeric: tabular-nums;
      }
    `,
  ];

  declare session: Session | null;
  declare table: string;
  /** Null: still being looked for. */
  declare findings: readonly Finding[] | null;
  declare says: string;

  readonly #reader = new CsvReader();
  #looked: unknown = null;
  readonly #watch = new SessionWatch(this, ({ workbook }) => workbook);

  constructor() {
    super();
    this.session = null;
    this.table = "";
    this.findings = null;
    this.says = "";
  }

  override disconnectedCallback(): void {
    this.#reader.stop();
    super.disconnectedCallback();
  }

  protected override willUpdate(): void {
    this.#watch.watch(this.session);
    const item = this.session?.workbook.sheets
      .flatMap((sheet) =>
        sheet.pages.flat().map((each) => ({ each, name: `${sheet.name}.${"name" in each ? each.name : ""}` })),
      )
      .find(({ each, name }) => each.is === "table" && name === this.table)?.each;
    if (item === undefined || item === this.#looked) return;
    this.#looked = item;
    void this.#look();
  }

  async #look(): Promise<void> {
    const { session, table } = this;
    if (session === null) return;
    const came = await this.#reader.ask({ is: "trouble", book: tableAlone(session.workbook, table), table }, () => {});
    if (came?.is === "trouble") this.findings = came.findings;
    if (came?.is === "refused") this.says = came.says;
  }

  protected override render() {
    const { findings } = this;
    const standing =
      this.says !== ""
        ? this.says
        : findings === null
          ? "The readings are being looked through."
          : findings.length === 0
            ? "Nothing here looks unlike a reading."
            : `${inWords(findings)}. Nothing is removed: go there and judge.`;
    return html`<section aria-labelledby="heading">
      <header>
        <h4 id="heading">${cautionShape} Sensor trouble</h4>
        <button aria-label="Put the list away" @click=${() => this.dispatchEvent(new CustomEvent("close"))}>${icons.close}</button>
      </header>
      <p role="status">${standing}</p>
      ${findings === null || findings.length === 0 ? nothing : this.#list(findings)}
    </section>`;
  }

  #list(findings: readonly Finding[]) {
    const { session } = this;
    const columns = session?.table(this.table)?.columns ?? [];
    return html`<ol tabindex="0" aria-labelledby="heading">
        ${findings.slice(0, MOST_LISTED).map(({ is, row, rows, column, says }) => {
          const label = columns.find(({ name }) => name === column)?.label;
          return html`<li>
            <button class="link" @click=${() => this.dispatchEvent(new CustomEvent("gyle-row", { detail: { row, column } }))}
              >Row ${row + 1}${rows > 1 ? `–${row + rows}` : ""}</button>
            <span><b>${WORDS[is]}</b>${label === undefined ? nothing : ` in ${label}`}: ${says}</span>
          </li>`;
        })}
      </ol>
      ${findings.length > MOST_LISTED ? html`<p>And ${(findings.length - MOST_LISTED).toLocaleString("en")} more.</p>` : nothing}`;
  }
}

customElements.define("gyle-trouble", GyleTrouble);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-trouble": GyleTrouble;
  }
  interface HTMLElementEventMap {
    "gyle-row": CustomEvent<{ readonly row: number; readonly column: string | null }>;
  }
}

/** A table that can go to one of its rows. */
interface Rows extends Element {
  goToRow?(row: number, column: string | null): void;
  focus?(): void;
}

/** Shows the list beneath a table, once; its findings lead to the table's rows. */
export const showTrouble = (host: Rows, session: Session, table: string): void => {
  const root = host.shadowRoot ?? host;
  root.querySelector("gyle-trouble")?.remove();
  const list = Object.assign(new GyleTrouble(), { session, table, className: "screen-only" });
  list.addEventListener("gyle-row", ({ detail: { row, column } }) => host.goToRow?.(row, column));
  list.addEventListener("close", () => {
    list.remove();
    host.focus?.();
  });
  root.append(list);
  list.scrollIntoView({ block: "nearest" });
};
