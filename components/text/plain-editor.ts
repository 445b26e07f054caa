import { css, html, LitElement } from "lit";
import type { Session } from "../../engine/index.ts";
import { tell } from "../events.ts";
import { base } from "../look/base.ts";
import type { FormulaContext } from "./formula-slot.ts";

/**
 * A formula in a plain field: Enter keeps, Escape leaves it as it was, the result or the first fault stands beneath.
 *
 * @element gyle-plain-editor
 * @prop session, context, formula
 * @fires gyle-keep - with the formula
 * @fires gyle-leave
 */
export class GylePlainEditor extends LitElement {
  static override properties = {
    session: { attribute: false },
    context: { attribute: false },
    formula: {},
    label: {},
    typed: { state: true },
  };
  static override styles = [
    base,
    css`
      textarea {
        inline-size: 100%;
        font-family: var(--gyle-figures);
      }
      p {
        min-block-size: 1.5rem;
        font-size: 0.9375rem;
        color: var(--gyle-ink-soft);
      }
      .faulty {
        color: var(--gyle-fault);
        font-weight: 600;
      }
    `,
  ];

  declare session: Session | null;
  declare context: FormulaContext | null;
  declare formula: string;
  declare label: string;
  declare typed: string | null;

  constructor() {
    super();
    this.session = null;
    this.context = null;
    this.formula = "";
    this.label = "Formula";
    this.typed = null;
  }

  protected override firstUpdated(): void {
    this.renderRoot.querySelector("textarea")?.focus();
  }

  readonly #keys = (event: KeyboardEvent): void => {
    if (event.key === "Enter" && !event.shiftKey) tell(this, "gyle-keep", { formula: this.typed ?? this.formula });
    else if (event.key === "Escape") tell(this, "gyle-leave", undefined);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };

  protected override render() {
    const typed = this.typed ?? this.formula;
    const seen = this.session === null || this.context === null ? null : this.session.preview(this.context, typed);
    const fault = seen?.faults[0]?.message;
    return html`<textarea aria-label=${this.label} rows="2" spellcheck="false" .value=${typed} @keydown=${this.#keys}
        @input=${(event: Event) => {
          this.typed = (event.target as HTMLTextAreaElement).value;
        }}></textarea>
      <p role="status" class=${fault === undefined ? "" : "faulty"}>${fault ?? seen?.shown ?? ""}</p>`;
  }
}

customElements.define("gyle-plain-editor", GylePlainEditor);
