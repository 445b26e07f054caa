import { nameKey } from "../base/names.ts";
import type { HeadItem, Item, Sheet, Workbook } from "./document.ts";

/** An item and the key of the sheet it stands in. */
export interface Placed {
  readonly sheet: string;
  readonly item: Item;
}

/** What is in one version of a workbook and not in the other, found by identity: what is shared is not looked at. */
export interface Difference {
  /** Whether anything changed that other lines are read by: units, functions, zone, what a word means, the library. */
  readonly head: boolean;
  readonly removed: readonly Placed[];
  readonly added: readonly Placed[];
}

const DECORATION: ReadonlySet<HeadItem["is"]> = new Set(["title", "lens", "gap", "cell", "unread"]);

function headChanged(before: readonly HeadItem[], after: readonly HeadItem[]): boolean {
  if (before === after) return false;
  const read = (items: readonly HeadItem[]) => items.filter((item) => !DECORATION.has(item.is));
  const [old, now] = [read(before), read(after)];
  return old.length !== now.length || old.some((item, at) => item !== now[at]);
}

/** The head's own cells (`batch_date`) are told with an empty sheet key. */
export const HEAD = "";

const headCells = (workbook: Workbook): Placed[] =>
  workbook.head.flatMap((item) => (item.is === "cell" ? [{ sheet: HEAD, item }] : []));

function pagesBeside(sheet: Sheet, other: Sheet | undefined): readonly (readonly Item[])[] {
  const shared = new Set(other?.pages);
  return sheet.pages.filter((page) => !shared.has(page));
}

/** What `one` holds that `other` does not, sheet by sheet of the same name. */
function only(one: Workbook, other: Workbook): Placed[] {
  const placed: Placed[] = [];
  const others = new Map(other.sheets.map((sheet) => [nameKey(sheet.name), sheet]));
  for (const sheet of one.sheets) {
    const key = nameKey(sheet.name);
    const match = others.get(key);
    if (match === sheet) continue;
    const known = new Set(match === undefined ? [] : pagesBeside(match, sheet).flat());
    for (const page of pagesBeside(sheet, match))
      for (const item of page) if (!known.has(item)) placed.push({ sheet: key, item });
  }
  return placed;
}

export function differenceOf(before: Workbook, after: Workbook): Difference {
  const [oldHead, newHead] = [headCells(before), headCells(after)];
  const apart = (one: readonly Placed[], other: readonly Placed[]) =>
    one.filter(({ item }) => !other.some((match) => match.item === item));
  return {
    head: headChanged(before.head, after.head),
    removed: [...apart(oldHead, newHead), ...only(before, after)],
    added: [...apart(newHead, oldHead), ...only(after, before)],
  };
}
