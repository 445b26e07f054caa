import { css, html, LitElement, nothing } from "lit";
import { base } from "../look/base.ts";
import { icons } from "../look/icons.ts";
import { whole } from "../text/whole.ts";

/** How long a sentence stays, in milliseconds: time to read two of them twice. A fault stays until it is put away. */
const STAYS = 9000;

/** What can be done about a sentence, on a button beside it. */
export interface SlipAct {
  readonly label: string;
  readonly run: () => void;
}

/**
 * A slip of paper at the foot of the screen with one sentence, read out by screen readers.
 *
 * @element gyle-slip
 * @csspart slip - the slip
 */
export class GyleSlip extends LitElement {
  static override properties = { says: { state: true }, grave: { state: true }, act: { state: true } };
  static override styles = [
    base,
    css`
      :host {
        position: fixed;
        inset: auto 0 max(1rem, env(safe-area-inset-bottom)) 0;
        z-index: 20;
        display: grid;
        place-items: center;
        pointer-events: none;
      }
      .slip {
        display: flex;
        align-items: center;
        gap: 0.5rem;
        max-inline-size: min(40rem, calc(100vw - 1.5rem));
        padding-inline-start: 1rem;
        border: 1px solid var(--gyle-rule-firm);
        border-inline-start: 5px solid var(--gyle-accent);
        border-radius: var(--gyle-round);
        background: var(--gyle-sheet);
        box-shadow: var(--gyle-lift);
        pointer-events: auto;
        overflow-wrap: anywhere;
      }
      .grave {
        border-inline-start-color: var(--gyle-fault);
        color: var(--gyle-fault);
        font-weight: 600;
      }
      p {
        padding-block: 0.625rem;
      }
      @media print {
        :host {
          display: none;
        }
      }
    `,
  ];

  declare says: string;
  declare grave: boolean;
  declare act: SlipAct | null;
  #timer = 0;

  constructor() {
    super();
    this.says = "";
    this.grave = false;
    this.act = null;
  }

  /** Shows a sentence, and what can be done about it; a later one takes its place. What can be done stays until it is put away. */
  say(says: string, grave = false, act: SlipAct | null = null): void {
    clearTimeout(this.#timer);
    this.says = says;
    this.grave = grave;
    this.act = act;
    if (!grave && act === null) this.#timer = window.setTimeout(() => this.#away(), STAYS);
  }

  #away(): void {
    this.says = "";
  }

  readonly #run = (): void => {
    const { act } = this;
    this.#away();
    act?.run();
  };

  override disconnectedCallback(): void {
    clearTimeout(this.#timer);
    super.disconnectedCallback();
  }

  protected override render() {
    const slip =
      this.says === ""
        ? nothing
        : html`<div class="slip ${this.grave ? "grave" : ""}" part="slip">
            <p>${whole(this.says)}</p>
            ${this.act === null ? nothing : html`<button class="edged" @click=${this.#run}>${this.act.label}</button>`}
            <button aria-label="Put this away" @click=${() => this.#away()}>${icons.close}</button>
          </div>`;
    return html`<div aria-live="polite" role="status">${slip}</div>`;
  }
}

customElements.define("gyle-slip", GyleSlip);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-slip": GyleSlip;
  }
}
