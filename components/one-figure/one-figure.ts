import { css, html, LitElement, nothing } from "lit";
import { LIBRARY_FUNCTIONS, type LibraryFunction, labelFromName, preview, type Session } from "../../engine/index.ts";
import { apply } from "../actions/apply.ts";
import { tell } from "../events.ts";
import type { Reading } from "../form/form.ts";
import { base } from "../look/base.ts";
import { dialogFrame, tallDialog } from "../look/dialog.ts";
import { cautionShape, icons } from "../look/icons.ts";
import { named, typedName } from "../text/named.ts";
import { type ArgumentRead, argumentField, askingFor, callOf, finds, readArgument } from "./call.ts";

/**
 * A dialog that works out one figure: choose what is wanted, type the readings, read the figure. It can then be kept as a
 * line of the open sheet. No formula need be read or written.
 *
 * @element gyle-one-figure
 * @prop session - the book's session
 * @prop sheet - where the figure would be kept
 * @fires close - it was put away
 * @fires gyle-go - the line that was kept
 */
export class GyleOneFigure extends LitElement {
  static override properties = {
    session: { attribute: false },
    sheet: {},
    wanted: { state: true },
    chosen: { state: true },
    typed: { state: true },
  };
  static override styles = [
    base,
    dialogFrame,
    tallDialog,
    css`
      dialog {
        inline-size: min(40rem, calc(100vw - 1rem));
        block-size: min(46rem, calc(100dvh - 1rem));
      }
      .search {
        display: grid;
        gap: 0.25rem;
        font-weight: 600;
      }
      h3 {
        margin-block: 1rem 0.25rem;
        color: var(--gyle-accent);
        font-size: var(--gyle-section);
      }
      li button {
        inline-size: 100%;
        padding: 0.375rem 0.5rem;
        border-block-end: 1px solid var(--gyle-rule);
        border-radius: 0;
        text-align: start;
        line-height: 1.3;
      }
      li b {
        display: block;
        font-weight: 650;
      }
      li span,
      .soft {
        font-size: 0.9375rem;
        color: var(--gyle-ink-soft);
      }
      .link {
        padding: 0;
      }
      .reading {
        display: grid;
        grid-template-columns: minmax(0, 1fr) 9rem 5rem;
        align-items: center;
        gap: 0.25rem 0.5rem;
        padding-block: 0.375rem;
        border-block-end: 1px solid var(--gyle-rule);
      }
      .reading input,
      .reading select {
        inline-size: 100%;
        font-family: var(--gyle-figures);
        text-align: end;
      }
      .reading select {
        grid-column: 2 / 4;
        text-align: start;
      }
      .reading p.soft,
      .reads {
        grid-column: 1 / -1;
      }
      .reads {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        justify-content: flex-end;
        gap: 0.25rem 0.5rem;
        font-weight: 600;
        text-align: end;
      }
      footer {
        display: grid;
        gap: 0.5rem;
        padding: 0.75rem 1.25rem 1rem;
        border-block-start: 1px solid var(--gyle-rule-firm);
      }
      output {
        display: block;
        min-block-size: 2.5rem;
        font-size: 1.75rem;
        font-weight: 600;
      }
      .caution {
        color: var(--gyle-waiting);
        font-size: 0.9375rem;
        font-weight: 600;
      }
      .buttons {
        display: flex;
        justify-content: flex-end;
        gap: 0.5rem;
      }
    `,
  ];

  declare session: Session | null;
  declare sheet: string;
  /** What is looked for. */
  declare wanted: string;
  declare chosen: LibraryFunction | null;
  /** What is typed, by function and argument: whoever looks into another one finds it again. */
  declare typed: Readonly<Record<string, Readonly<Record<string, string>>>>;

  /** Reads what is typed for the function that is chosen. */
  #asking: Session | null = null;

  constructor() {
    super();
    this.session = null;
    this.sheet = "";
    this.wanted = "";
    this.chosen = null;
    this.typed = {};
  }

  protected override firstUpdated(): void {
    this.renderRoot.querySelector("dialog")?.showModal();
  }

  #close(): void {
    this.renderRoot.querySelector("dialog")?.close();
    this.dispatchEvent(new CustomEvent("close"));
  }

  protected override render() {
    const { chosen } = this;
    return html`<dialog aria-labelledby="heading" @cancel=${(event: Event) => {
      event.preventDefault();
      if (chosen === null) this.#close();
      else this.chosen = null;
    }}>
      <header>
        ${
          chosen === null
            ? nothing
            : html`<button aria-label="Back to the list" @click=${() => {
                this.chosen = null;
              }}>${icons.back}</button>`
        }
        <h2 id="heading">${chosen === null ? "Work out one figure" : labelFromName(chosen.name)}</h2>
        <button aria-label="Put this away" @click=${() => this.#close()}>${icons.close}</button>
      </header>
      ${chosen === null ? this.#list() : this.#figure(chosen)}
    </dialog>`;
  }

  #list() {
    const found = LIBRARY_FUNCTIONS.filter((each) => finds(each, this.wanted));
    const stages = [...new Set(found.map(({ stage }) => stage))];
    return html`<div class="body">
      <label class="search">What do you want to know?
        <input autofocus autocomplete="off" placeholder="strike, bitterness, priming…" .value=${this.wanted} @input=${(
          event: Event,
        ) => {
          this.wanted = (event.target as HTMLInputElement).value;
        }} /></label>
      ${stages.map(
        (stage) => html`<h3>${labelFromName(stage)}</h3>
          <ul>${found
            .filter((each) => each.stage === stage)
            .map(
              (each) =>
                html`<li><button @click=${() => this.#choose(each)}><b>${labelFromName(each.name)}</b><span>${named(each.says)}</span></button></li>`,
            )}</ul>`,
      )}
      ${found.length === 0 ? html`<p class="soft">Nothing is called that. Try another word of the trade.</p>` : nothing}
    </div>`;
  }

  #choose(of: LibraryFunction): void {
    this.chosen = of;
    this.#asking = null;
    void this.updateComplete.then(() => {
      this.renderRoot.querySelector(".body")?.scrollTo(0, 0);
      this.renderRoot.querySelector<HTMLElement>("header button")?.focus();
    });
  }

  /** A sentence in which another function's name leads to it. */
  #leading(text: string, chosen: LibraryFunction) {
    const own = new Set([chosen, ...chosen.arguments].map(({ name }) => name));
    return named(text, (name) => {
      const to = own.has(name) ? undefined : LIBRARY_FUNCTIONS.find((each) => each.name === name);
      return to === undefined
        ? typedName(name)
        : html`<button class="link" @click=${() => this.#choose(to)}>${labelFromName(name)}</button>`;
    });
  }

  #figure(chosen: LibraryFunction) {
    const { session } = this;
    if (session === null) return nothing;
    const typed = this.typed[chosen.name] ?? {};
    const missing = chosen.arguments.filter(
      (each) => each.default === undefined && (typed[each.name] ?? "").trim() === "",
    );
    const reads = this.#reads(chosen, session);
    const asked = [...reads.values()].some(({ asks }) => asks);
    const formula = callOf(chosen, new Map([...reads].map(([name, { literal }]) => [name, literal])));
    const seen =
      missing.length > 0 || asked
        ? null
        : preview(session.model, session.lens, { sheet: this.sheet, cell: null }, formula);
    const fault = seen?.faults[0]?.message;
    return html`<div class="body">
        <p class="soft">${this.#leading(chosen.says, chosen)}</p>
        ${chosen.arguments.map((each) => this.#reading(chosen, each, reads.get(each.name)?.reading ?? null))}
        <p class="soft">Source: ${chosen.source}. ${this.#leading(chosen.range, chosen)}</p>
      </div>
      <footer>
        ${chosen.caution === undefined ? nothing : html`<p class="caution">${cautionShape} ${this.#leading(chosen.caution.says, chosen)}</p>`}
        <output class="figures" role="status">${seen !== null && fault === undefined ? seen.shown : html`<span class="soft">${fault !== undefined ? this.#leading(fault, chosen) : asked ? "Say first which figure is meant." : `Still wanted: ${missing.map(({ name }) => labelFromName(name).toLowerCase()).join(", ")}`}</span>`}</output>
        <div class="buttons">
          <button class="edged" ?disabled=${seen === null || fault !== undefined || this.sheet === ""} @click=${() => this.#keep(session, chosen, formula)}>Keep it in this sheet</button>
          <button class="firm" @click=${() => this.#close()}>Done</button>
        </div>
      </footer>`;
  }

  /** What is made of everything that is typed, by the name of its argument. */
  #reads(chosen: LibraryFunction, session: Session): ReadonlyMap<string, ArgumentRead> {
    const asking = this.#asking ?? askingFor(chosen, session);
    this.#asking = asking;
    const context = { sheet: this.sheet, cell: null };
    const faultOf = (formula: string): string | null =>
      preview(session.model, session.lens, context, formula).faults[0]?.message ?? null;
    return new Map(
      chosen.arguments.flatMap((argument) => {
        const typed = this.typed[chosen.name]?.[argument.name] ?? "";
        return typed.trim() === "" ? [] : [[argument.name, readArgument(asking, argument, typed, faultOf)] as const];
      }),
    );
  }

  #reading(chosen: LibraryFunction, argument: LibraryFunction["arguments"][number], reading: Reading | null) {
    const { unit, choices } = argumentField(argument);
    const value = this.typed[chosen.name]?.[argument.name] ?? "";
    const put = (typed: string): void => {
      this.typed = { ...this.typed, [chosen.name]: { ...this.typed[chosen.name], [argument.name]: typed } };
    };
    const set = (event: Event): void => put((event.target as HTMLInputElement).value);
    const id = `argument-${argument.name}`;
    return html`<div class="reading">
      <label for=${id}>${labelFromName(argument.name)}</label>
      ${
        choices === null
          ? html`<input id=${id} autocomplete="off" spellcheck="false" inputmode="decimal" placeholder=${argument.default ?? ""} aria-describedby="${id}-reads ${id}-says" .value=${value} @input=${set} /><span class="soft">${unit}</span>`
          : html`<select id=${id} aria-describedby="${id}-says" @change=${set}>${argument.default === undefined ? html`<option value="">to choose</option>` : nothing}${choices.map((choice) => html`<option value=${choice} ?selected=${choice === (value || (argument.default ?? "").replaceAll('"', ""))}>${choice}</option>`)}</select>`
      }
      <div class="reads" id="${id}-reads" aria-live="polite" ?hidden=${reading === null}><span>${reading?.says}</span>
        ${reading?.choices?.map(({ value: one, label }) => html`<button class="edged" @click=${() => put(one)}>${label}</button>`)}</div>
      <p class="soft" id="${id}-says">${this.#leading(argument.says, chosen)}</p>
    </div>`;
  }

  #keep(session: Session, chosen: LibraryFunction, formula: string): void {
    let name = chosen.name;
    for (let count = 2; session.cell(`${this.sheet}.${name}`) !== null; count += 1) name = `${chosen.name}_${count}`;
    if (
      !apply(
        this,
        session,
        { edit: "add-cell", sheet: this.sheet, at: null, name, label: null, formula },
        `Keep ${labelFromName(name)}`,
      )
    )
      return;
    tell(this, "gyle-go", { name: `${this.sheet}.${name}` });
    this.#close();
  }
}

customElements.define("gyle-one-figure", GyleOneFigure);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-one-figure": GyleOneFigure;
  }
}
