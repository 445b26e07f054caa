import type { MenuItem } from "./menu.ts";

/** Opens a menu under `button`; what draws it is loaded when a menu is first opened. */
export const openMenu = async (
  button: HTMLElement,
  items: readonly MenuItem[] | Promise<readonly MenuItem[]>,
): Promise<void> => (await import("./menu.ts")).openMenu(button, items);
