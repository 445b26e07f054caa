import { css, html, LitElement } from "lit";
import { repeat } from "lit/directives/repeat.js";
import { base } from "../look/base.ts";

/** One thing that can be done. */
export interface MenuItem {
  readonly label: string;
  /** Keys that do the same, shown beside it. */
  readonly keys?: string;
  /** Set apart and in the colour of faults: it takes something away. */
  readonly grave?: boolean;
  readonly disabled?: boolean;
  readonly run: () => void;
}

/** Room between the menu and its button, and the edge of the window. */
const GAP = 4;

/**
 * A menu that is open; made by {@link openMenu}, gone when closed. Arrow keys, Home and End move, Escape closes.
 *
 * @element gyle-menu
 * @prop items - what can be done, in order
 * @fires close - the menu was closed, whether or not something was chosen
 * @csspart item - a button of the menu
 */
export class GyleMenu extends LitElement {
  static override properties = { items: { attribute: false } };
  static override styles = [
    base,
    css`
      :host {
        position: fixed;
        inset: auto;
        margin: 0;
        padding: 0.25rem;
        min-inline-size: 13rem;
        max-inline-size: calc(100vw - 1rem);
        max-block-size: calc(100dvh - 1rem);
        overflow: auto;
        border: 1px solid var(--gyle-rule-firm);
        border-radius: var(--gyle-round);
        background: var(--gyle-sheet);
        box-shadow: var(--gyle-lift);
      }
      button {
        display: flex;
        justify-content: space-between;
        align-items: center;
        gap: 1.5rem;
        inline-size: 100%;
        text-align: start;
      }
      button:focus {
        background: var(--gyle-accent-soft);
      }
      .taking {
        color: var(--gyle-fault);
        border-block-start: 1px solid var(--gyle-rule);
        border-radius: 0;
      }
      kbd {
        font: inherit;
        font-size: var(--gyle-small);
        color: var(--gyle-ink-soft);
      }
    `,
  ];

  declare items: readonly MenuItem[];

  constructor() {
    super();
    this.items = [];
  }

  protected override render() {
    return repeat(
      this.items,
      (item) => item.label,
      (item) => html`<button
        part="item"
        role="menuitem"
        tabindex="-1"
        class=${item.grave === true ? "taking" : ""}
        ?disabled=${item.disabled === true}
        @click=${() => {
          this.hidePopover();
          item.run();
        }}
      >
        <span>${item.label}</span>${item.keys === undefined ? null : html`<kbd>${item.keys}</kbd>`}
      </button>`,
    );
  }

  focusAt(place: "first" | "last" | "next" | "previous"): void {
    const buttons = [...this.renderRoot.querySelectorAll<HTMLButtonElement>("button:not(:disabled)")];
    const { activeElement } = this.renderRoot as ShadowRoot;
    const now = activeElement instanceof HTMLButtonElement ? buttons.indexOf(activeElement) : -1;
    const wanted = { first: 0, last: buttons.length - 1, next: now + 1, previous: now - 1 }[place];
    buttons.at(wanted % Math.max(1, buttons.length))?.focus();
  }
}

customElements.define("gyle-menu", GyleMenu);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-menu": GyleMenu;
  }
}

const MOVES: Record<string, Parameters<GyleMenu["focusAt"]>[0]> = {
  ArrowDown: "next",
  ArrowUp: "previous",
  Home: "first",
  End: "last",
};

/** Opens a menu under `button` and gives the focus back to it when it closes. Its items may still be on their way. */
export const openMenu = async (
  button: HTMLElement,
  coming: readonly MenuItem[] | Promise<readonly MenuItem[]>,
): Promise<void> => {
  const items = await coming;
  const menu = document.createElement("gyle-menu");
  menu.items = items;
  menu.popover = "auto";
  menu.setAttribute("role", "menu");
  menu.setAttribute("aria-label", button.getAttribute("aria-label") ?? button.textContent?.trim() ?? "");
  (button.parentNode ?? document.body).append(menu);
  button.setAttribute("aria-expanded", "true");
  menu.addEventListener("keydown", (event) => {
    const move = MOVES[event.key];
    if (move === undefined) return;
    event.preventDefault();
    menu.focusAt(move);
  });
  menu.addEventListener("toggle", (event) => {
    if (event.newState === "open") return;
    button.setAttribute("aria-expanded", "false");
    const focusWasInside = menu.matches(":focus-within") || document.activeElement === document.body;
    menu.remove();
    if (focusWasInside) button.focus();
    menu.dispatchEvent(new CustomEvent("close"));
  });
  await menu.updateComplete;
  menu.showPopover();
  placed(menu, button);
};

/** Puts an open menu under its button, or above where there is no room, and the focus on its first item. */
const placed = (menu: GyleMenu, button: HTMLElement): void => {
  const at = button.getBoundingClientRect();
  const size = menu.getBoundingClientRect();
  const below = at.bottom + GAP + size.height <= innerHeight;
  menu.style.left = `${Math.max(GAP, Math.min(at.right - size.width, innerWidth - size.width - GAP))}px`;
  menu.style.top = `${below ? at.bottom + GAP : Math.max(GAP, at.top - size.height - GAP)}px`;
  menu.focusAt("first");
};
