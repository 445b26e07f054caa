import type { Item, Workbook } from "./document.ts";

/** One item in another's place: all that most edits do to a workbook. */
export interface Patch {
  /** Where the item stands: which sheet, which of its pages, which place on it. */
  readonly sheet: number;
  readonly page: number;
  readonly at: number;
  readonly item: Item;
}

/** A version of a workbook, and the patch that makes it of the version before; null where more changed than one item. */
export interface Version {
  readonly workbook: Workbook;
  readonly patch: Patch | null;
}

/** The item that stands where a patch puts its own. */
export const itemAt = ({ sheets }: Workbook, { sheet, page, at }: Patch): Item | null =>
  sheets[sheet]?.pages[page]?.[at] ?? null;

/** The next version by a patch; all other items, pages and sheets are shared. */
export function patched(before: Workbook, patch: Patch): Version {
  const sheet = before.sheets[patch.sheet];
  const page = sheet?.pages[patch.page];
  if (sheet === undefined || page === undefined) return { workbook: before, patch: null };
  const pages = sheet.pages.with(patch.page, page.with(patch.at, patch.item));
  return { workbook: { ...before, sheets: before.sheets.with(patch.sheet, { ...sheet, pages }) }, patch };
}
