import type { Session } from "../../engine/index.ts";
import type { MenuItem } from "../menu/menu.ts";
import type { SheetItem } from "./places.ts";

/** Menus and dialogs of a book, loaded when one is first opened. */

type Menu = Promise<readonly MenuItem[]>;

/** What can be done with one line; `edit` opens its formula. */
export const lineMenu = async (host: Element, session: Session, name: string, edit: () => void): Menu =>
  (await import("./lines.ts")).lineMenu(host, session, name, edit);

/** What can be added to a sheet after item `at`, or at its end. */
export const addMenu = async (host: Element, session: Session, sheet: string, at: number | null): Menu =>
  (await import("./items.ts")).addMenu(host, session, sheet, at);

/** What can be done with an item that has no name. */
export const itemMenu = async (host: Element, session: Session, sheet: string, item: SheetItem, at: number): Menu =>
  (await import("./items.ts")).itemMenu(host, session, sheet, item, at);

export const sheetMenu = async (host: Element, session: Session, sheet: string): Menu =>
  (await import("./items.ts")).sheetMenu(host, session, sheet);

export const newSheet = async (host: Element, session: Session): Promise<void> =>
  (await import("./sheets.ts")).newSheet(host, session, null);

export const tableMenu = async (host: Element, session: Session, table: string, copy: () => void): Menu =>
  (await import("./tables.ts")).tableMenu(host, session, table, copy);

/** What can be done with a column; `edit` opens its formula, where it has one. */
export const columnMenu = async (
  host: Element,
  session: Session,
  table: string,
  column: string,
  edit: (() => void) | null,
): Menu => (await import("./tables.ts")).columnMenu(host, session, table, column, edit);
