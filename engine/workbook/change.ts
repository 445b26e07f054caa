import { isName, nameKey } from "../base/names.ts";
import { readStatements } from "../parser/file.ts";
import type { HeadItem, Item, Sheet, Workbook } from "./document.ts";
import type { Model } from "./model.ts";
import { sheetItem } from "./open.ts";
import { patched, type Version } from "./version.ts";

/*
 * What all edits share: a new version of the document with one item in another's place.
 */

/** The version after an edit, or a sentence that says why it cannot be made. */
export type Applied = ({ readonly ok: true } & Version) | { readonly ok: false; readonly says: string };

export const refused = (says: string): Applied => ({ ok: false, says });
export const applied = (workbook: Workbook): Applied => ({ ok: true, workbook, patch: null });

export const endOf = (source: string): string => /(?:\r\n|\r|\n)$/.exec(source)?.[0] ?? "";

/** With a line end, so that something may follow. */
export const ended = (source: string, { lineEnd }: Workbook): string =>
  endOf(source) === "" ? source + lineEnd : source;

/** The place of an item by identity: what the model holds is what the document holds. It is looked for outward from page `near`. */
function findItem({ pages }: Sheet, item: Item, near: number): { readonly page: number; readonly at: number } | null {
  for (let away = 0; away < pages.length + near; away += 1) {
    for (const page of away === 0 ? [near] : [near - away, near + away]) {
      const at = pages[page]?.indexOf(item) ?? -1;
      if (at >= 0) return { page, at };
    }
  }
  return null;
}

/** Puts an item in another's place, which is on page `near` or not far from it. */
export function exchange(workbook: Workbook, sheetKey: string, before: Item, after: Item, near: number): Version {
  if (before === after) return { workbook, patch: null };
  const sheetAt = workbook.sheets.findIndex(({ name }) => nameKey(name) === sheetKey);
  const sheet = workbook.sheets[sheetAt];
  const place = sheet === undefined ? null : findItem(sheet, before, near);
  if (place !== null) return patched(workbook, { sheet: sheetAt, ...place, item: after });
  const head = workbook.head.map((item) => ((item as unknown) === before ? (after as HeadItem) : item));
  return { workbook: { ...workbook, head }, patch: null };
}

export const NOT_ONE = "This is more than one line of a book.";

/** Puts what a text says in an item's place; it must be one statement. */
export function reread(model: Model, sheet: string, before: Item, text: string): Applied {
  const item = onlyItem(model, text);
  return item === null ? refused(NOT_ONE) : { ok: true, ...exchange(model.workbook, sheet, before, item, 0) };
}

/** The item that a text says; null when it says more than one. */
export function onlyItem(model: Model, text: string): Item | null {
  const items = itemsFrom(model, text);
  return items.length === 1 ? (items[0] ?? null) : null;
}

export const itemsFrom = (model: Model, text: string): Item[] =>
  readStatements(ended(text, model.workbook), model.head.language.reader(model.head.units)).map(sheetItem);

/** Why a name cannot be given, or null. */
export function nameFault(model: Model, name: string, key: string): string | null {
  if (!isName(name)) return `"${name}" cannot be a name. A name begins with a letter; letters, digits and _ follow.`;
  const reserved = model.head.reserved(name);
  if (reserved?.code === "reserved-name") return `"${name}" cannot be a name: ${reserved.data.says}`;
  if (model.names.node(key) !== undefined || model.names.hasTable(key)) return `"${name}" is already a name here.`;
  return null;
}
