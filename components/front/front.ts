import { css, html, LitElement, nothing } from "lit";
import type { HeadItem, Session } from "../../engine/index.ts";
import { apply } from "../actions/apply.ts";
import { editHead, newFunction, newMeaning, newUnit, removeHead } from "../actions/head-items.ts";
import { newSheet } from "../actions/sheets.ts";
import { SessionWatch } from "../controllers/session-watch.ts";
import "../entry/entry.ts";
import { tell } from "../events.ts";
import { base } from "../look/base.ts";
import { icons, stateShapes } from "../look/icons.ts";
import { openMenu } from "../menu/open-menu.ts";
import "../result/result.ts";
import { sheetStyles } from "../sheet/sheet-styles.ts";
import { titleOf } from "../text/book.ts";
import { readField } from "../text/formula-text.ts";
import { whole } from "../text/whole.ts";

/**
 * The front page of the book: its date and other lines of the head, its own units and functions, and what its ambiguous
 * words mean.
 *
 * @element gyle-front
 * @prop session - the book's session
 * @prop selected - full name of the line in hand, or null
 * @fires gyle-select, gyle-go, gyle-say - from its lines
 */
export class GyleFront extends LitElement {
  static override properties = { session: { attribute: false }, selected: {} };
  static override styles = [
    base,
    sheetStyles,
    css`
      li {
        display: flex;
        align-items: center;
        gap: 0.5rem;
        border-block-end: 1px solid var(--gyle-rule);
      }
      code {
        flex: 1;
        font-family: var(--gyle-figures);
        overflow-wrap: anywhere;
      }
      .none {
        padding-block: 0.5rem;
        color: var(--gyle-ink-soft);
      }
      .faulty {
        color: var(--gyle-fault);
      }
      .library {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.5rem;
        padding-block: 1rem;
        color: var(--gyle-ink-soft);
      }
    `,
  ];

  declare session: Session | null;
  declare selected: string | null;

  readonly #watch = new SessionWatch(this);

  constructor() {
    super();
    this.session = null;
    this.selected = null;
  }

  protected override willUpdate(): void {
    this.#watch.watch(this.session);
  }

  /** Puts the focus on a line of the front page; false when it is not here. */
  async goTo(name: string): Promise<boolean> {
    await this.updateComplete;
    const line = [...this.renderRoot.querySelectorAll<HTMLElement & { name: string }>("[data-line]")].find(
      (each) => each.name === name,
    );
    line?.focus();
    return line !== undefined;
  }

  protected override render() {
    const { session } = this;
    if (session === null) return nothing;
    const { head } = session.workbook;
    const those = <K extends HeadItem["is"]>(is: K) =>
      head.filter((item): item is Extract<HeadItem, { is: K }> => item.is === is);
    const cautioned = session.workbook.sheets.some((sheet) =>
      sheet.pages
        .flat()
        .some(
          (item) =>
            item.is === "cell" &&
            session.cell(`${sheet.name}.${item.name}`)?.cautions.some(({ code }) => code === "figures-changed"),
        ),
    );
    return html`
      <header><h2>${titleOf(session.workbook)}</h2></header>
      ${those("cell").map(({ name }) => this.#line(session, name))}
      ${this.#list("Units of this book", those("unit"), "A package or vessel of your own: sack = 25 kg.", () => void newUnit(this, session))}
      ${this.#list("Functions of this book", those("function"), "A formula with a name: share(part, whole) = part / whole as %.", () => void newFunction(this, session))}
      ${this.#list("What a word means here", [...those("means"), ...those("zone")], "A “gal” is a US or an imperial gallon: a book may say once which is meant.", () => void newMeaning(this, session))}
      ${those("unread").map((item) => html`<div class="unread"><span class="mark">${stateShapes.faulty}</span><div><p>This could not be read; it is kept as it stands.</p><pre>${item.source.trimEnd()}</pre></div></div>`)}
      ${
        cautioned
          ? html`<p class="library">Some figures of the library have changed since this book was written.
          <button class="edged" @click=${() => apply(this, session, { edit: "accept-library" }, "Accept the library's figures")}>Accept the new figures</button></p>`
          : nothing
      }
      <footer class="screen-only"><button class="edged" @click=${() => void newSheet(this, session, null)}>${icons.add} New sheet</button></footer>
    `;
  }

  #line(session: Session, name: string) {
    const cell = session.cell(name);
    if (cell === null) return nothing;
    return cell.blank !== null || cell.choices !== null || readField(cell.formula) !== null
      ? html`<gyle-entry data-line .session=${session} .name=${name} ?selected=${this.selected === name}></gyle-entry>`
      : html`<gyle-result data-line .session=${session} .name=${name} formulas ?selected=${this.selected === name}></gyle-result>`;
  }

  #list(label: string, items: readonly HeadItem[], none: string, add: () => void) {
    return html`<div class="section"><h3>${label}</h3><button class="menu screen-only" aria-label="Add to: ${label}" @click=${add}>${icons.add}</button></div>
      ${items.length === 0 ? html`<p class="none">${none}</p>` : html`<ul>${items.map((item) => this.#item(item))}</ul>`}`;
  }

  #item(item: HeadItem) {
    const text = item.source.trim();
    const problem = this.session?.problems().faults.find(({ name }) => "name" in item && name === item.name);
    const menu = (event: Event): void => {
      const { session } = this;
      if (session === null) return;
      openMenu(event.currentTarget as HTMLElement, [
        { label: "Change", run: () => void editHead(this, session, text) },
        { label: "Delete", grave: true, run: () => void removeHead(this, session, item) },
      ]);
    };
    return html`<li>
      <code>${whole(text)}</code>
      ${problem === undefined ? nothing : html`<button class="link faulty" @click=${() => tell(this, "gyle-say", { says: problem.message, grave: true })}>${problem.message}</button>`}
      <button class="menu screen-only" aria-label="What can be done with ${text}" aria-haspopup="menu" aria-expanded="false" @click=${menu}>${icons.more}</button>
    </li>`;
  }
}

customElements.define("gyle-front", GyleFront);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-front": GyleFront;
  }
}
