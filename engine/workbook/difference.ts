import { nameKey } from "../base/names.ts";
import type { HeadItem, Item, Sheet, Workbook } from "./document.ts";
import { BATCH_DATE } from "./head.ts";
import { itemAt, type Patch, type Version } from "./version.ts";

/** An item, the key of the sheet it stands in and the page it stands on or near. */
export interface Placed {
  readonly sheet: string;
  readonly page: number;
  readonly item: Item;
}

/** What is in one version of a workbook and not in the other, found by identity: what is shared is not looked at. */
export interface Difference {
  /** Whether anything changed that other lines are read by: units, functions, zone, what a word means, the library. */
  readonly head: boolean;
  readonly removed: readonly Placed[];
  readonly added: readonly Placed[];
}

const DECORATION: ReadonlySet<HeadItem["is"]> = new Set(["title", "lens", "gap", "unread"]);

/** What no line is read by; a line that strayed into the head is faulted there. */
const isDecoration = (item: HeadItem): boolean =>
  DECORATION.has(item.is) || (item.is === "cell" && nameKey(item.name) === BATCH_DATE);

function headChanged(before: readonly HeadItem[], after: readonly HeadItem[]): boolean {
  if (before === after) return false;
  const read = (items: readonly HeadItem[]) => items.filter((item) => !isDecoration(item));
  const [old, now] = [read(before), read(after)];
  return old.length !== now.length || old.some((item, at) => item !== now[at]);
}

/** The head's own cells (`batch_date`) are told with an empty sheet key. */
export const HEAD = "";

const headCells = (workbook: Workbook): Placed[] =>
  workbook.head.flatMap((item) => (item.is === "cell" ? [{ sheet: HEAD, page: 0, item }] : []));

/** Where two lists differ: they are alike before `from`, and from `oneEnd` and `otherEnd` on. */
function unlike<T>(one: readonly T[], other: readonly T[]): { from: number; oneEnd: number; otherEnd: number } {
  let from = 0;
  while (from < one.length && from < other.length && one[from] === other[from]) from += 1;
  let [oneEnd, otherEnd] = [one.length, other.length];
  while (oneEnd > from && otherEnd > from && one[oneEnd - 1] === other[otherEnd - 1]) {
    oneEnd -= 1;
    otherEnd -= 1;
  }
  return { from, oneEnd, otherEnd };
}

/** The items of some pages; an edit changes one page, which is then not copied. */
function joined(pages: readonly (readonly Item[])[]): readonly Item[] {
  const [only] = pages;
  return only !== undefined && pages.length === 1 ? only : pages.flat();
}

/** What each of two sheets of a name holds that the other does not. */
function unlikeItems(before: Sheet | undefined, after: Sheet | undefined): { removed: Placed[]; added: Placed[] } {
  if (before === after) return { removed: [], added: [] };
  const [oldPages, newPages] = [before?.pages ?? [], after?.pages ?? []];
  const pages = unlike(oldPages, newPages);
  const old = joined(oldPages.slice(pages.from, pages.oneEnd));
  const now = joined(newPages.slice(pages.from, pages.otherEnd));
  const items = unlike(old, now);
  const removed = old.slice(items.from, items.oneEnd);
  const added = now.slice(items.from, items.otherEnd);
  const placed = (list: readonly Item[], others: readonly Item[]): Placed[] => {
    const known = new Set(others);
    const sheet = nameKey((before ?? after)?.name ?? "");
    return list.filter((item) => !known.has(item)).map((item) => ({ sheet, page: pages.from, item }));
  };
  return { removed: placed(removed, added), added: placed(added, removed) };
}

const placedAt = (workbook: Workbook, patch: Patch): Placed[] => {
  const item = itemAt(workbook, patch);
  return item === null ? [] : [{ sheet: nameKey(workbook.sheets[patch.sheet]?.name ?? ""), page: patch.page, item }];
};

/** What changed from one version to the next; they are compared only where no patch tells. */
export function differenceOf(before: Workbook, { workbook: after, patch }: Version): Difference {
  if (patch !== null) return { head: false, removed: placedAt(before, patch), added: placedAt(after, patch) };
  const [oldHead, newHead] = [headCells(before), headCells(after)];
  const apart = (one: readonly Placed[], other: readonly Placed[]) =>
    one.filter(({ item }) => !other.some((match) => match.item === item));
  const removed = apart(oldHead, newHead);
  const added = apart(newHead, oldHead);
  const old = new Map(before.sheets.map((sheet) => [nameKey(sheet.name), sheet]));
  const now = new Map(after.sheets.map((sheet) => [nameKey(sheet.name), sheet]));
  for (const key of new Set([...old.keys(), ...now.keys()])) {
    const found = unlikeItems(old.get(key), now.get(key));
    removed.push(...found.removed);
    added.push(...found.added);
  }
  return { head: headChanged(before.head, after.head), removed, added };
}
