import type { Session } from "../../engine/index.ts";
import { labelOf } from "../actions/apply.ts";
import { partsOf, placeOf } from "../actions/places.ts";
import { type Command, tell } from "../events.ts";

/** What the keys do, as the reader is told. */
export const KEYS: readonly { readonly keys: string; readonly does: string }[] = [
  { keys: "Enter", does: "keep what is typed" },
  { keys: "Esc", does: "leave it as it was" },
  { keys: "Tab, Shift Tab", does: "next and previous field" },
  { keys: "F2", does: "change the formula of the line in hand" },
  { keys: "Alt N", does: "new line below the line in hand" },
  { keys: "Alt ↑, Alt ↓", does: "move the line in hand" },
  { keys: "Alt Page Up, Alt Page Down", does: "previous and next sheet" },
  { keys: "Ctrl Z, Ctrl Shift Z", does: "undo and redo" },
  { keys: "Ctrl O, Ctrl S, Ctrl P", does: "open, save, print" },
  { keys: "Arrows in a table", does: "move; Shift chooses several" },
  { keys: "Enter or F2 in a table", does: "change the entry" },
  { keys: "Ctrl C, Ctrl V in a table", does: "copy and paste rows and columns" },
];

/** Whether the focus is in text whose own undo must work. */
const typesText = (active: HTMLElement | null): boolean => {
  if (active === null) return false;
  if (active.isContentEditable || active instanceof HTMLTextAreaElement) return true;
  const root = active.getRootNode();
  const host = root instanceof ShadowRoot ? root.host : null;
  if (!(active instanceof HTMLInputElement) || active.type === "checkbox") return false;
  return !(host !== null && "draft" in host && host.draft === null);
};

const COMMANDS: Record<string, Command> = { o: "open", s: "save", p: "print" };

/** What the keys need of the book. */
interface KeyedBook extends HTMLElement {
  readonly session: Session;
  readonly selected: string | null;
  readonly here: string;
  goTo(name: string): unknown;
}

/** Carries out a key of the whole book; false when it is not one. */
export const keyed = (book: KeyedBook, event: KeyboardEvent, active: HTMLElement | null): boolean => {
  const { session, selected } = book;
  const key = event.key.toLowerCase();
  if ((event.ctrlKey || event.metaKey) && !event.altKey) {
    const command = COMMANDS[key];
    if (command !== undefined && !event.shiftKey) {
      tell(book.shadowRoot?.querySelector("gyle-head") ?? book, "gyle-command", { command });
      return true;
    }
    if (typesText(active)) return false;
    if (key === "y" || (key === "z" && event.shiftKey)) return session.redo();
    return key === "z" && session.undo();
  }
  if (event.key === "F2" && selected !== null && !typesText(active)) return openFormula(active);
  if (!event.altKey || event.ctrlKey || event.metaKey) return false;
  const place = selected === null ? -1 : placeOf(session, selected);
  // What is told from the book itself is told to whoever uses it, and not to the book.
  const page = book.shadowRoot?.querySelector("gyle-sheet, gyle-front") ?? book;
  if (event.code === "KeyN" && book.here !== "") {
    const at = place < 0 || !selected?.startsWith(`${book.here}.`) ? null : place + 1;
    void import("../actions/lines.ts").then(({ newLine }) => newLine(page, session, book.here, at));
    return true;
  }
  if (event.key === "ArrowUp" || event.key === "ArrowDown") {
    if (selected === null || place < 0) return false;
    const by = event.key === "ArrowUp" ? -1 : 1;
    const { sheet } = partsOf(selected);
    void import("../actions/lines.ts").then(({ moveItem }) =>
      moveItem(page, session, sheet, place, by, labelOf(session, selected)),
    );
    return true;
  }
  if (event.key === "PageUp" || event.key === "PageDown") {
    const names = ["", ...session.workbook.sheets.map(({ name }) => name)];
    const to = names[names.indexOf(book.here) + (event.key === "PageUp" ? -1 : 1)];
    if (to !== undefined) void book.goTo(to);
    return to !== undefined;
  }
  return false;
};

/** Opens the formula of the line that holds the focus. */
const openFormula = (active: HTMLElement | null): boolean => {
  const root = active?.getRootNode();
  const host = root instanceof ShadowRoot ? root.host : null;
  if (host === null || !("editing" in host)) return false;
  host.editing = true;
  return true;
};
