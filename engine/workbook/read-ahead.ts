import { nameKey } from "../base/names.ts";
import { itemsFrom } from "./change.ts";
import type { TableItem } from "./document.ts";
import type { Edit } from "./edit.ts";
import type { Model } from "./model.ts";
import { pagesRead } from "./read-rows.ts";
import { TableRecord } from "./tables.ts";

/** The table that an edit reads into: one of the book, or one that an edit before it makes; null when there is neither. */
function tableOf(model: Model, edits: readonly Edit[], name: string): TableItem | null {
  const there = model.tables.get(nameKey(name));
  if (there !== undefined) return there.item;
  for (const edit of edits) {
    if (edit.edit !== "add-text") continue;
    const item = itemsFrom(model, edit.text).find(
      (one) => one.is === "table" && nameKey(`${edit.sheet}.${one.name}`) === nameKey(name),
    );
    if (item?.is === "table") return item;
  }
  return null;
}

/**
 * Reads the rows that edits would bring, and works out what follows from them, in steps, so that whoever shows a screen can
 * let it breathe. Gives the edits to make; made by the same model, they cost little. Changes nothing, and may be left at any
 * step.
 */
export function* readAhead(model: Model, edits: readonly Edit[]): Generator<void, readonly Edit[]> {
  const { entries } = model.head;
  const ready: Edit[] = [];
  for (const edit of edits) {
    const item = edit.edit === "read-rows" ? tableOf(model, edits, edit.table) : null;
    if (edit.edit !== "read-rows" || item === null) {
      ready.push(edit);
      continue;
    }
    const table = new TableRecord("", "", { ...item, rows: [] }, false);
    for (const column of table.measuredColumns) table.measured(column, entries);
    const work = pagesRead(item, edit, model.workbook.lineEnd);
    let step = work.next();
    for (; !step.done; step = work.next()) {
      table.readAhead(step.value, entries);
      yield;
    }
    const rows = step.value;
    const there = model.tables.get(nameKey(edit.table));
    if (typeof rows !== "string" && there !== undefined) {
      table.follow({ ...item, rows }, entries);
      yield;
      yield* model.workOutAhead(there, table);
    }
    // What cannot be done is refused when it is dispatched.
    ready.push(
      typeof rows === "string"
        ? edit
        : { ...edit, changed: [], pages: [], places: [], made: { from: item.rows, rows: rows } },
    );
  }
  return ready;
}
