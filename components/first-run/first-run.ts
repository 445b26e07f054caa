import { css, html, LitElement } from "lit";
import { type Command, tell } from "../events.ts";
import { base } from "../look/base.ts";
import { icons } from "../look/icons.ts";

const WAYS: readonly { readonly command: Command; readonly label: string; readonly says: string }[] = [
  {
    command: "one-figure",
    label: "Work out one figure",
    says: "Strike temperature, bitterness, priming sugar: type the readings, read the figure.",
  },
  { command: "brew", label: "Brew this sample day", says: "The readings in their order, with keys for wet hands." },
  {
    command: "plant",
    label: "Set up our plant",
    says: "Ten questions; where you do not know, the usual figure is kept and marked.",
  },
  { command: "open", label: "Open a book", says: "One of your own, or one that comes with Gylebook." },
];

/**
 * What is said at the first visit: the sample brew day lies open beneath, with four ways on.
 *
 * @element gyle-first-run
 * @fires gyle-command - the way that was taken
 * @fires close - it was put away
 * @csspart way - one of the four ways
 */
export class GyleFirstRun extends LitElement {
  static override styles = [
    base,
    css`
      section {
        margin: 1rem clamp(0.5rem, 2.5vw, 2rem) 0;
        max-inline-size: 60rem;
        padding: 0.75rem 1rem 1rem;
        border: 1px solid var(--gyle-rule-firm);
        border-block-start: 4px double var(--gyle-accent);
        background: var(--gyle-sheet);
        container-type: inline-size;
      }
      header {
        display: flex;
        align-items: start;
        justify-content: space-between;
        gap: 0.5rem;
      }
      h2 {
        padding-block: 0.5rem 0.25rem;
        font-size: 1.125rem;
        font-weight: 700;
      }
      p {
        max-inline-size: 40rem;
        color: var(--gyle-ink-soft);
      }
      ul {
        display: grid;
        grid-template-columns: repeat(2, minmax(0, 1fr));
        gap: 0.5rem;
        margin-block-start: 0.75rem;
      }
      li button {
        inline-size: 100%;
        block-size: 100%;
        padding: 0.625rem 0.75rem;
        text-align: start;
        line-height: 1.3;
      }
      b {
        display: block;
        color: var(--gyle-accent);
        font-weight: 650;
      }
      span {
        font-size: 0.9375rem;
        color: var(--gyle-ink-soft);
      }
      @container (max-width: 34rem) {
        ul {
          grid-template-columns: minmax(0, 1fr);
        }
        li span {
          display: none;
        }
      }
      @media print {
        :host {
          display: none;
        }
      }
    `,
  ];

  protected override render() {
    return html`<section aria-labelledby="heading">
      <header>
        <div>
          <h2 id="heading">A sample brew day lies open below, worked out.</h2>
          <p>Change any figure, and what hangs on it follows. Nothing leaves this device. Four ways on:</p>
        </div>
        <button aria-label="Put this away" @click=${() => this.dispatchEvent(new CustomEvent("close"))}>${icons.close}</button>
      </header>
      <ul>
        ${WAYS.map(
          ({ command, label, says }) =>
            html`<li><button part="way" class="edged" @click=${() => tell(this, "gyle-command", { command })}><b>${label}</b><span>${says}</span></button></li>`,
        )}
      </ul>
    </section>`;
  }
}

customElements.define("gyle-first-run", GyleFirstRun);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-first-run": GyleFirstRun;
  }
}
