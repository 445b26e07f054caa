import { nameKey } from "../base/names.ts";
import type { Scope } from "../checker/environment.ts";
import type { Model } from "../workbook/model.ts";

/** Where a formula stands while it is typed. */
export interface Context {
  /** Name of the sheet; in the head, anything that names none. */
  readonly sheet: string;
  /** The line or worked column whose formula it is, short or full (`grain`, `mash.grain`); null: it has none yet. */
  readonly cell: string | null;
  /** Name of the table, short or full, where the formula is a column's. */
  readonly table?: string;
}

const keyOf = (name: string): string => name.split(".").map(nameKey).join(".");

/** Where names of the formula are looked up. */
export function scopeAt(model: Model, { sheet, table }: Context): Scope {
  const key = nameKey(sheet);
  const known = model.workbook.sheets.some(({ name }) => nameKey(name) === key);
  if (table === undefined) return { sheet: known ? key : null, table: null, filtered: null };
  const full = table.includes(".") ? keyOf(table) : `${key}.${nameKey(table)}`;
  return { sheet: known ? key : null, table: model.tables.has(full) ? full : null, filtered: null };
}

/** The graph's node of the formula's own line; null when it has none yet. */
export function nodeAt(model: Model, context: Context): number | null {
  if (context.cell === null) return null;
  const scope = scopeAt(model, context);
  const own = nameKey(context.cell.split(".").at(-1) ?? "");
  const owner = scope.table ?? scope.sheet;
  return model.names.node(owner === null ? own : `${owner}.${own}`) ?? null;
}

/** The node of a full name, `mash.grain`, `cellar.readings.gravity` or `batch_date`; null when there is none. */
export const nodeNamed = (model: Model, name: string): number | null => model.names.node(keyOf(name)) ?? null;
