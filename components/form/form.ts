import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { deepActive } from "../controllers/focus.ts";
import { base } from "../look/base.ts";
import { icons } from "../look/icons.ts";

export interface FormField {
  readonly name: string;
  readonly label: string;
  readonly hint?: string;
  readonly value?: string;
  /** One line of text (the default), several, a formula in figures' type, one of `choices`, or any of them. */
  readonly kind?: "text" | "long" | "formula" | "choice" | "several";
  readonly choices?: readonly { readonly value: string; readonly label: string }[];
}

export type Values = Readonly<Record<string, string>>;

/** What a dialog asks. */
export interface Form {
  readonly heading: string;
  readonly says?: string | TemplateResult;
  readonly fields: readonly FormField[];
  /** What the button says: "Add the line". */
  readonly submit: string;
  readonly grave?: boolean;
  /** It only tells something: there is nothing to leave as it was. */
  readonly tells?: boolean;
  /** A sentence that says why these answers will not do; null when they will. */
  readonly check?: (values: Values) => string | null;
  /** Shown beneath while answers change. */
  readonly shows?: (values: Values) => string;
}

/**
 * A dialog that asks for a few things; made by {@link ask}. `several` answers are joined with commas.
 *
 * @element gyle-form
 * @prop form - what is asked
 * @fires close - with `detail` the answers, or null when it was left
 * @csspart dialog - the panel
 */
export class GyleForm extends LitElement {
  static override properties = { form: { attribute: false }, values: { state: true }, refused: { state: true } };
  static override styles = [
    base,
    css`
      :host {
        display: contents;
      }
      dl {
        display: grid;
        grid-template-columns: minmax(0, auto) minmax(10rem, 1fr);
        gap: 0.375rem 1rem;
      }
      kbd {
        font-family: var(--gyle-figures);
        font-size: 0.9375rem;
      }
      dialog {
        inline-size: min(34rem, calc(100vw - 1rem));
        max-block-size: calc(100dvh - 1rem);
        padding: 0;
        border: 1px solid var(--gyle-rule-firm);
        border-radius: var(--gyle-round);
        background: var(--gyle-sheet);
        color: inherit;
        box-shadow: var(--gyle-lift);
      }
      dialog::backdrop {
        background: rgb(10 16 14 / 45%);
      }
      form {
        display: grid;
        /* However long a choice is, it does not widen the panel. */
        grid-template-columns: minmax(0, 1fr);
        gap: 1rem;
        padding: 1rem 1.25rem 1.25rem;
      }
      header {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: 1rem;
        border-block-end: 3px double var(--gyle-rule-firm);
      }
      h2 {
        font-size: 1.25rem;
        font-weight: 650;
      }
      .field {
        display: grid;
        grid-template-columns: minmax(0, 1fr);
        gap: 0.25rem;
      }
      .field > label,
      legend {
        font-weight: 600;
      }
      .hint {
        font-size: var(--gyle-small);
        color: var(--gyle-ink-soft);
      }
      .formula {
        font-family: var(--gyle-figures);
      }
      .several label {
        display: flex;
        align-items: center;
        gap: 0.5rem;
        min-block-size: var(--gyle-target);
      }
      input[type="checkbox"] {
        min-block-size: 1.375rem;
        inline-size: 1.375rem;
        accent-color: var(--gyle-accent);
      }
      .refused {
        color: var(--gyle-fault);
        font-weight: 600;
      }
      footer {
        display: flex;
        flex-wrap: wrap;
        justify-content: flex-end;
        gap: 0.5rem;
      }
    `,
  ];

  declare form: Form | null;
  declare values: Values;
  declare refused: string | null;

  constructor() {
    super();
    this.form = null;
    this.values = {};
    this.refused = null;
  }

  protected override firstUpdated(): void {
    this.renderRoot.querySelector("dialog")?.showModal();
    this.renderRoot.querySelector<HTMLElement>("[data-field], .leave, footer button")?.focus();
  }

  #set(name: string, value: string): void {
    this.values = { ...this.values, [name]: value };
    this.refused = null;
  }

  readonly #submit = (event: Event): void => {
    event.preventDefault();
    this.refused = this.form?.check?.(this.values) ?? null;
    if (this.refused === null) this.#close(this.values);
  };

  #close(values: Values | null): void {
    this.renderRoot.querySelector("dialog")?.close();
    this.dispatchEvent(new CustomEvent("close", { detail: values }));
  }

  protected override render() {
    const { form } = this;
    if (form === null) return nothing;
    const shows = form.shows?.(this.values) ?? "";
    return html`<dialog part="dialog" aria-labelledby="heading" @cancel=${(event: Event) => {
      event.preventDefault();
      this.#close(null);
    }}>
      <form @submit=${this.#submit} novalidate>
        <header>
          <h2 id="heading">${form.heading}</h2>
          <button type="button" aria-label=${form.tells === true ? "Close" : "Leave without changing anything"} @click=${() => this.#close(null)}>${icons.close}</button>
        </header>
        ${form.says === undefined ? nothing : html`<div>${form.says}</div>`}
        ${form.fields.map((field) => this.#field(field))}
        ${form.shows === undefined ? nothing : html`<p class="hint" aria-live="polite">${shows || " "}</p>`}
        <p class="refused" role="alert" ?hidden=${this.refused === null}>${this.refused}</p>
        <footer>
          ${form.tells === true ? nothing : html`<button type="button" class="edged leave" @click=${() => this.#close(null)}>Leave it</button>`}
          <button class=${form.grave === true ? "grave" : "firm"}>${form.submit}</button>
        </footer>
      </form>
    </dialog>`;
  }

  #field(field: FormField) {
    const value = this.values[field.name] ?? "";
    const type = (event: Event): void => this.#set(field.name, (event.target as HTMLInputElement).value);
    const described = field.hint === undefined ? nothing : `${field.name}-hint`;
    const hint = field.hint === undefined ? nothing : html`<p class="hint" id="${field.name}-hint">${field.hint}</p>`;
    if (field.kind === "several") return this.#several(field, value.split(",").filter(Boolean));
    const input =
      field.kind === "choice"
        ? html`<select id=${field.name} data-field aria-describedby=${described} @change=${type}>
            ${field.choices?.map((choice) => html`<option value=${choice.value} ?selected=${choice.value === value}>${choice.label}</option>`)}
          </select>`
        : field.kind === "long"
          ? html`<textarea id=${field.name} data-field rows="4" aria-describedby=${described} .value=${value} @input=${type}></textarea>`
          : html`<input id=${field.name} data-field class=${field.kind ?? "text"} autocomplete="off" spellcheck="false" aria-describedby=${described} .value=${value} @input=${type} />`;
    return html`<div class="field"><label for=${field.name}>${field.label}</label>${input}${hint}</div>`;
  }

  #several(field: FormField, chosen: readonly string[]) {
    const turn = (value: string, on: boolean): void => {
      const all = (field.choices ?? []).map((choice) => choice.value);
      this.#set(field.name, all.filter((each) => (each === value ? on : chosen.includes(each))).join(","));
    };
    return html`<fieldset class="several">
      <legend>${field.label}</legend>
      ${field.choices?.map(
        (choice) => html`<label>
          <input type="checkbox" data-field .checked=${chosen.includes(choice.value)} @change=${(event: Event) => turn(choice.value, (event.target as HTMLInputElement).checked)} />
          ${choice.label}
        </label>`,
      )}
      ${field.hint === undefined ? nothing : html`<p class="hint">${field.hint}</p>`}
    </fieldset>`;
  }
}

customElements.define("gyle-form", GyleForm);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-form": GyleForm;
  }
}

/** Asks in a dialog beside `host`; null when it was left. The focus goes back to where it was. */
export const ask = (host: Element, form: Form): Promise<Values | null> =>
  new Promise((answer) => {
    const before = deepActive();
    const element = document.createElement("gyle-form");
    element.form = form;
    element.values = Object.fromEntries(
      form.fields.map((field) => [field.name, field.value ?? field.choices?.[0]?.value ?? ""]),
    );
    element.addEventListener("close", (event) => {
      element.remove();
      before?.focus();
      answer((event as CustomEvent<Values | null>).detail);
    });
    (host.shadowRoot ?? host).append(element);
  });
