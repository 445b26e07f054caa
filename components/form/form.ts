import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { deepActive } from "../controllers/focus.ts";
import { base } from "../look/base.ts";
import { dialogFrame } from "../look/dialog.ts";
import { icons } from "../look/icons.ts";

export interface FormField {
  readonly name: string;
  readonly label: string;
  readonly hint?: string;
  readonly value?: string;
  /** One line of text (the default), several, a formula in figures' type, one of `choices`, or any of them. */
  readonly kind?: "text" | "long" | "formula" | "choice" | "several";
  readonly choices?: readonly { readonly value: string; readonly label: string }[];
  /** What is made of the answer, told while it is typed; null: nothing is to be told. */
  readonly reads?: (typed: string, values: Values) => Reading | null;
}

/** What an answer is taken for, and what could stand in its place instead, each a button. */
export interface Reading {
  readonly says: string;
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
  /** Why answers will not do, by the name of their field; none, or null: they will. */
  readonly check?: (values: Values) => Readonly<Record<string, string | null>>;
  /** Carries out what was asked; gives a sentence when it was refused, and the dialog stays as it is. */
  readonly keep?: (values: Values) => string | null;
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
  static override properties = {
    form: { attribute: false },
    values: { state: true },
    refusals: { state: true },
    refused: { state: true },
  };
  static override styles = [
    base,
    dialogFrame,
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
        flex: none;
        min-block-size: 1.375rem;
        inline-size: 1.375rem;
        accent-color: var(--gyle-accent);
      }
      [aria-invalid] {
        border-color: var(--gyle-fault);
      }
      .offered {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
      .refused {
        color: var(--gyle-fault);
        font-weight: 600;
        /* Several reasons stand one beneath the other. */
        white-space: pre-line;
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
  /** Why answers will not do, by their field. */
  declare refusals: ReadonlyMap<string, string>;
  /** Why what was asked could not be carried out. */
  declare refused: string | null;

  constructor() {
    super();
    this.form = null;
    this.values = {};
    this.refusals = new Map();
    this.refused = null;
  }

  protected override firstUpdated(): void {
    this.renderRoot.querySelector("dialog")?.showModal();
    this.renderRoot.querySelector<HTMLElement>("[data-field], .leave, footer button")?.focus();
  }

  #set(name: string, value: string): void {
    this.values = { ...this.values, [name]: value };
    this.refusals = new Map([...this.refusals].filter(([field]) => field !== name));
    this.refused = null;
  }

  readonly #submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const { form, values } = this;
    const told = Object.entries(form?.check?.(values) ?? {});
    this.refusals = new Map(told.flatMap(([field, says]) => (says === null ? [] : [[field, says]])));
    const { size } = this.refusals;
    this.refused = size > 1 ? `${size} answers will not do yet: each says why.` : null;
    if (size === 0) this.refused = form?.keep?.(values) ?? null;
    if (size === 0 && this.refused === null) this.#close(values);
    await this.updateComplete;
    this.renderRoot.querySelector<HTMLElement>("[aria-invalid]")?.focus();
  };

  #close(values: Values | null): void {
    this.renderRoot.querySelector("dialog")?.close();
    this.dispatchEvent(new CustomEvent("close", { detail: values }));
  }

  protected override render() {
    const { form } = this;
    if (form === null) return nothing;
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
        <p class="refused whole" role="alert" ?hidden=${this.refused === null}>${this.refused}</p>
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
    if (field.kind === "several") return this.#several(field, value.split(",").filter(Boolean));
    const described = this.#describedBy(field);
    const invalid = this.refusals.has(field.name) ? "true" : nothing;
    const input =
      field.kind === "choice"
        ? html`<select id=${field.name} data-field aria-describedby=${described} aria-invalid=${invalid} @change=${type}>
            ${field.choices?.map((choice) => html`<option value=${choice.value} ?selected=${choice.value === value}>${choice.label}</option>`)}
          </select>`
        : field.kind === "long"
          ? html`<textarea id=${field.name} data-field rows="4" aria-describedby=${described} aria-invalid=${invalid} .value=${value} @input=${type}></textarea>`
          : html`<input id=${field.name} data-field class=${field.kind ?? "text"} autocomplete="off" spellcheck="false" aria-describedby=${described} aria-invalid=${invalid} .value=${value} @input=${type} />`;
    return html`<div class="field"><label for=${field.name}>${field.label}</label>${input}${this.#beneath(field)}</div>`;
  }

  /** The ids of what stands beneath a field. */
  #describedBy({ name, hint, reads }: FormField) {
    const ids = [
      this.refusals.has(name) ? "refused" : "",
      reads === undefined ? "" : "reads",
      hint === undefined ? "" : "hint",
    ].filter(Boolean);
    return ids.length === 0 ? nothing : ids.map((id) => `${name}-${id}`).join(" ");
  }

  /** Why the answer will not do, what is made of it, and what is wanted. */
  #beneath({ name, hint, reads }: FormField) {
    const says = this.refusals.get(name);
    const reading = reads?.(this.values[name] ?? "", this.values) ?? null;
    return html`${says === undefined ? nothing : html`<p class="refused" id="${name}-refused">${says}</p>`}
      ${
        reads === undefined
          ? nothing
          : html`<p class="reads" id="${name}-reads" aria-live="polite" ?hidden=${reading === null || reading.says === says}>${reading?.says}</p>`
      }
      ${
        reading?.choices === undefined || reading.choices.length === 0
          ? nothing
          : html`<div class="offered">${reading.choices.map(
              ({ value, label }) =>
                html`<button type="button" class="edged" @click=${() => {
                  this.#set(name, value);
                  this.renderRoot.querySelector<HTMLElement>(`#${name}`)?.focus();
                }}>${label}</button>`,
            )}</div>`
      }
      ${hint === undefined ? nothing : html`<p class="hint" id="${name}-hint">${hint}</p>`}`;
  }

  #several(field: FormField, chosen: readonly string[]) {
    const turn = (value: string, on: boolean): void => {
      const all = (field.choices ?? []).map((choice) => choice.value);
      this.#set(field.name, all.filter((each) => (each === value ? on : chosen.includes(each))).join(","));
    };
    const invalid = this.refusals.has(field.name) ? "true" : nothing;
    return html`<fieldset class="several" aria-describedby=${this.#describedBy(field)}>
      <legend>${field.label}</legend>
      ${field.choices?.map(
        (choice) => html`<label>
          <input type="checkbox" data-field aria-invalid=${invalid} aria-describedby=${this.#describedBy(field)} .checked=${chosen.includes(choice.value)} @change=${(event: Event) => turn(choice.value, (event.target as HTMLInputElement).checked)} />
          ${choice.label}
        </label>`,
      )}
      ${this.#beneath(field)}
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
