import type { Place } from "../storage/store.ts";

/** An entry of the browser's history: a place in a book, and the line that was in hand when it was left. */
export interface Entry extends Place {
  /** Names the book on this device. */
  readonly book: string;
  readonly line: string | null;
}

/** The entry of the history that the page stands at; null: this page did not make it. */
export const entryNow = (): Entry | null => (history.state as { readonly gylebook?: Entry } | null)?.gylebook ?? null;

/**
 * The way that a reader took through books, sheets and views, kept in the browser's history: its Back and Forward lead
 * along it, and a page that is loaded anew finds its place.
 */
export class Trail {
  #at: Entry | null = null;

  /** `back`: the browser went to another entry of this page. */
  constructor(back: (to: Entry) => void) {
    addEventListener("popstate", () => {
      this.#at = entryNow();
      if (this.#at !== null) back(this.#at);
    });
  }

  /**
   * The reader is at a place of a book. `left`: the line that was in hand before; `arrived`: the address or the history led
   * here, so that this is no further step.
   */
  moved(book: string, { sheet, view, lens }: Place, left: string | null, arrived = false): void {
    const before = this.#at;
    const same = before?.book === book && before.sheet === sheet && before.view === view;
    const now = { book, sheet, view, lens, line: same ? before.line : null };
    this.#at = now;
    if (same || before === null || arrived) write("replaceState", now);
    else {
      write("replaceState", { ...before, line: left });
      // The fragment of a link belongs to its book alone.
      write("pushState", now, before.book === book ? undefined : location.pathname + location.search);
    }
  }
}

const write = (how: "replaceState" | "pushState", gylebook: Entry, address?: string): void => {
  try {
    history[how]({ gylebook }, "", address);
  } catch {
    // A browser that counts too many steps in a short time refuses more: one is then missing on the way back.
  }
};
