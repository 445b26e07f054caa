import type { Lens } from "../engine/index.ts";

/** What the elements tell one another and the page; every one of them bubbles and leaves the shadow root. */
export interface GyleEvents {
  /** The book changed: its file's text. */
  "gyle-change": { text: string };
  /** Go to a line, table, column or sheet by its full name, and put the focus there; `more`: of a table, on the button for another row. */
  "gyle-go": { name: string; more?: boolean };
  /** This line is in hand; null: none is. `open` asks for its working to be shown where there is no room for it beside the sheet. */
  "gyle-select": { name: string | null; open?: boolean };
  /** Something to tell the reader in a sentence, and whether it is a fault. */
  "gyle-say": { says: string; grave?: boolean };
  /** A line's formula was left with this text. */
  "gyle-keep": { formula: string };
  /** An editor was left as it was. */
  "gyle-leave": undefined;
  /** Another sheet is open, or another view or lens chosen. */
  "gyle-place": { here: string; view: "desk" | "brew"; lens: Lens };
  /** A command of the head or of a menu, by its name: `open`, `save`, `share`, `print`, `brew`, …; `table`: the table it is for. */
  "gyle-command": { command: Command; table?: string };
  /** A key of the keypad. */
  "gyle-key": { key: string };
}

export type Command =
  | "new"
  | "open"
  | "remove-book"
  | "save"
  | "share"
  | "print"
  | "print-book"
  | "brew"
  | "desk"
  | "new-gyle"
  | "one-figure"
  | "plant"
  | "keys"
  | "read-csv";

/** Fires an event of {@link GyleEvents} from an element; false when a listener prevented its default. */
export const tell = <K extends keyof GyleEvents>(from: EventTarget, type: K, detail: GyleEvents[K]): boolean =>
  from.dispatchEvent(new CustomEvent(type, { detail, bubbles: true, composed: true, cancelable: true }));

declare global {
  interface HTMLElementEventMap {
    "gyle-change": CustomEvent<GyleEvents["gyle-change"]>;
    "gyle-go": CustomEvent<GyleEvents["gyle-go"]>;
    "gyle-select": CustomEvent<GyleEvents["gyle-select"]>;
    "gyle-say": CustomEvent<GyleEvents["gyle-say"]>;
    "gyle-keep": CustomEvent<GyleEvents["gyle-keep"]>;
    "gyle-leave": CustomEvent<GyleEvents["gyle-leave"]>;
    "gyle-place": CustomEvent<GyleEvents["gyle-place"]>;
    "gyle-command": CustomEvent<GyleEvents["gyle-command"]>;
    "gyle-key": CustomEvent<GyleEvents["gyle-key"]>;
  }
}
