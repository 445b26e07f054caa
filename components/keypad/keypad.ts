import { css, html, LitElement } from "lit";
import { tell } from "../events.ts";
import { base } from "../look/base.ts";
import { icons } from "../look/icons.ts";

/** The digits as they stand on the pad, with what is left and right of the nought. */
const DIGITS = ["7", "8", "9", "4", "5", "6", "1", "2", "3"];

/** How keys that are signs are called. */
const KEY_NAMES: Record<string, string> = { ".": "Point", "-": "Minus", "/": "Fraction stroke", " ": "Space" };

/** What stands on keys that are not shown as they type. */
const SIGNS: Record<string, string> = { "-": "−", " ": "␣" };

/**
 * A number pad for wet gloves: digits, point, minus and, in its last column, erasing and the field's units, which the
 * number pad of a device cannot type.
 *
 * @element gyle-keypad
 * @prop extra - up to three keys of the last column (units, a space, a colon for times), and one that stands in place of minus
 * @fires gyle-key - `detail.key` is what the key types, or "erase"
 * @csspart key - a key
 * @cssprop --gyle-target-wet - size of a key, 72 px
 */
export class GyleKeypad extends LitElement {
  static override properties = { extra: { attribute: false } };
  static override styles = [
    base,
    css`
      :host {
        display: grid;
        grid-template-columns: repeat(4, minmax(0, 1fr));
        gap: 16px;
      }
      button {
        min-block-size: var(--gyle-target-wet);
        min-inline-size: 0;
        padding: 0;
        border: 1px solid var(--gyle-rule-firm);
        background: var(--gyle-field);
        font-family: var(--gyle-figures);
        font-size: 1.75rem;
        font-weight: 500;
        overflow-wrap: anywhere;
        user-select: none;
      }
      button:active {
        background: var(--gyle-accent-soft);
      }
      .extra {
        background: var(--gyle-sunk);
        font-size: 1.25rem;
        font-weight: 600;
      }
    `,
  ];

  declare extra: readonly string[];

  constructor() {
    super();
    this.extra = [];
  }

  protected override render() {
    const [first, second, third, corner = "-"] = this.extra;
    const column = [
      this.#key("erase", "", icons.erase, "Erase"),
      this.#extra(first),
      this.#extra(second),
      this.#extra(third),
    ];
    const rows = [DIGITS.slice(0, 3), DIGITS.slice(3, 6), DIGITS.slice(6, 9), [".", "0", corner]];
    return rows.map((row, at) => [...row.map((key) => this.#key(key)), column[at]]);
  }

  #key(key: string, look = "", shown: unknown = SIGNS[key] ?? key, name = KEY_NAMES[key] ?? key) {
    return html`<button part="key" type="button" class=${look} aria-label=${name} @click=${() => tell(this, "gyle-key", { key })}>${shown}</button>`;
  }

  #extra(key = "") {
    return key === "" ? html`<span></span>` : this.#key(key, "extra");
  }
}

customElements.define("gyle-keypad", GyleKeypad);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-keypad": GyleKeypad;
  }
}
