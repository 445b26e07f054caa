import { isName, nameKey } from "../base/names.ts";
import type { Names, Scope } from "../checker/environment.ts";
import { eachName } from "../checker/references.ts";
import type { NameNode, Node } from "../parser/tree.ts";
import { type Applied, applied, exchange, NOT_ONE, nameFault, onlyItem, refused } from "./change.ts";
import { type CellItem, formulaOf, type Item, type TableItem, type Workbook } from "./document.ts";
import { BATCH_DATE } from "./head.ts";
import { type Origin, scopeOf } from "./lines.ts";
import type { Model } from "./model.ts";
import { sourceOf } from "./open.ts";

/** A replacement in a text. */
interface Patch {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

const patched = (text: string, patches: readonly Patch[]): string =>
  patches
    .toSorted((a, b) => b.start - a.start)
    .reduce((sofar, { start, end, text: put }) => sofar.slice(0, start) + put + sofar.slice(end), text);

/** What is renamed: its nodes, and which part of a name that reaches one of them is its own, counted from the last. */
interface Renaming {
  readonly nodes: ReadonlySet<number>;
  readonly partFromEnd: (node: number) => number;
  readonly name: string;
}

/** Renames a line, a table, a column or a sheet, and writes the new name in every formula and plot that uses it. */
export function renameIn(model: Model, of: string, name: string): Applied {
  const key = nameKey(of);
  const owner = key.includes(".") ? `${key.slice(0, key.lastIndexOf("."))}.` : "";
  const sameName = key === owner + nameKey(name);
  const wrong = sameName
    ? isName(name)
      ? null
      : `"${name}" cannot be a name.`
    : nameFault(model, name, owner + nameKey(name));
  if (wrong !== null) return refused(wrong);
  const sheetAt = model.workbook.sheets.findIndex((sheet) => nameKey(sheet.name) === key);
  if (sheetAt >= 0) return renameSheet(model, sheetAt, name);
  const table = model.tables.get(key);
  if (table !== undefined) {
    const renaming: Renaming = { nodes: new Set(table.nodes), partFromEnd: () => 1, name };
    const workbook = inFormulas(model, renaming);
    const item = itemNow(workbook, table.sheet, table.item.name) as TableItem;
    return ownName(
      model,
      workbook,
      table.sheet,
      item,
      item.source.indexOf(item.name, item.source.indexOf("table") + 5),
      item.name,
      name,
    );
  }
  const node = model.names.node(key);
  const origin = node === undefined ? undefined : model.origins[node];
  if (node === undefined || origin === undefined) return refused(`There is no "${of}" to rename.`);
  if (key === BATCH_DATE) return refused("batch_date stands for the day of the batch and keeps its name.");
  const workbook = inFormulas(model, { nodes: new Set([node]), partFromEnd: () => 0, name });
  if (origin.is === "column") {
    const item = itemNow(workbook, origin.sheet, origin.table.item.name) as TableItem;
    const column = item.columns[origin.column];
    return ownName(model, workbook, origin.sheet, item, column?.nameSpan.start ?? 0, column?.name ?? "", name);
  }
  const item = itemNow(workbook, origin.sheet, origin.item.name) as CellItem;
  return ownName(model, workbook, origin.sheet, item, item.source.indexOf(item.name), item.name, name);
}

/** The item of a name in a version that is not compiled yet. */
function itemNow(workbook: Workbook, sheetKey: string, name: string): Item {
  const sheet = workbook.sheets.find((one) => nameKey(one.name) === sheetKey);
  const items = sheet === undefined ? (workbook.head as readonly unknown[] as readonly Item[]) : sheet.pages.flat();
  return items.find(
    (item) => (item.is === "cell" || item.is === "table") && nameKey(item.name) === nameKey(name),
  ) as Item;
}

function ownName(
  model: Model,
  workbook: Workbook,
  sheet: string,
  item: Item,
  at: number,
  before: string,
  after: string,
): Applied {
  const source = sourceOf(item);
  const text = source.slice(0, at) + after + source.slice(at + before.length);
  const renamed = rewritten(model, workbook, sheet, item, text);
  return renamed === null ? refused(NOT_ONE) : applied(renamed);
}

/** With another text for an item; null when that would be more than one item. */
function rewritten(model: Model, workbook: Workbook, sheet: string, item: Item, text: string): Workbook | null {
  const now = onlyItem(model, text);
  return now === null ? null : exchange(workbook, sheet, item, now, 0).workbook;
}

function renameSheet(model: Model, at: number, name: string): Applied {
  const old = model.workbook.sheets[at];
  if (old === undefined) return refused("There is no such sheet.");
  const key = nameKey(old.name);
  const nodes = new Set<number>();
  for (const [node, origin] of model.origins.entries()) if (origin?.sheet === key) nodes.add(node);
  const partFromEnd = (node: number): number => (model.origins[node]?.is === "column" ? 2 : 1);
  const workbook = inFormulas(model, { nodes, partFromEnd, name });
  const sheet = workbook.sheets[at];
  if (sheet === undefined) return refused("There is no such sheet.");
  const place = sheet.source.indexOf(old.name, sheet.source.indexOf("sheet") + 5);
  const source = sheet.source.slice(0, place) + name + sheet.source.slice(place + old.name.length);
  return applied({ ...workbook, sheets: workbook.sheets.with(at, { ...sheet, name, source }) });
}

/** Writes the new name wherever a formula or plot reaches what is renamed. */
function inFormulas(model: Model, renaming: Renaming): Workbook {
  const users = new Set<number>();
  for (const node of renaming.nodes) for (const user of model.graph.dependantsOf(node)) users.add(user);
  let { workbook } = model;
  const tables = new Map<TableItem, Patch[]>();
  for (const user of users) {
    const origin = model.origins[user];
    if (origin === undefined) continue;
    const patches = patchesIn(model, user, origin, renaming);
    if (origin.is === "cell") {
      const source = origin.item.source;
      const start = source.indexOf(formulaOf(origin.item), origin.item.formulaStart);
      const text = patched(
        source,
        patches.map((patch) => ({ ...patch, start: patch.start + start, end: patch.end + start })),
      );
      const item = { ...origin.item, source: text };
      workbook = exchange(workbook, origin.sheet, origin.item, item, origin.page).workbook;
    } else {
      const { item } = origin.table;
      const start = item.columns[origin.column]?.formulaStart ?? 0;
      tables.set(item, [
        ...(tables.get(item) ?? []),
        ...patches.map((patch) => ({ ...patch, start: patch.start + start, end: patch.end + start })),
      ]);
    }
  }
  for (const [item, patches] of tables) {
    const sheet = [...model.tables.values()].find((table) => table.item === item)?.sheet ?? "";
    const text = patched(item.source, patches) + item.rows.map((page) => page.text).join("") + item.tail;
    workbook = rewritten(model, workbook, sheet, item, text) ?? workbook;
  }
  return inPlots(model, workbook, renaming);
}

function patchesIn(model: Model, user: number, origin: Origin, { nodes, partFromEnd, name }: Renaming): Patch[] {
  const text = model.formulaText(user) ?? "";
  const patches: Patch[] = [];
  eachName(model.parse(text).expression, model.names, scopeOf(origin), (found, scope) => {
    const patch = patchOf(found, model.names, scope, nodes, partFromEnd, name);
    if (patch !== null) patches.push(patch);
  });
  return patches;
}

function patchOf(
  found: NameNode,
  names: Names,
  scope: Scope,
  nodes: ReadonlySet<number>,
  partFromEnd: (node: number) => number,
  name: string,
): Patch | null {
  const resolved = names.resolve(found, scope);
  if (resolved.is !== "node" || !nodes.has(resolved.node)) return null;
  const part = found.parts[found.parts.length - 1 - partFromEnd(resolved.node)];
  return part === undefined ? null : { ...part.span, text: name };
}

/** Plots name columns as formulas do. */
function inPlots(model: Model, before: Workbook, { nodes, partFromEnd, name }: Renaming): Workbook {
  let workbook = before;
  for (const sheet of before.sheets) {
    const scope: Scope = { sheet: nameKey(sheet.name), table: null, filtered: null };
    for (const item of sheet.pages.flat()) {
      if (item.is !== "plot") continue;
      const patches: Patch[] = [];
      for (const column of new Set([item.across, ...item.lines])) {
        const node: Node | null = column === null ? null : model.parse(column).expression;
        const patch = node?.node === "name" ? patchOf(node, model.names, scope, nodes, partFromEnd, name) : null;
        if (patch === null || column === null) continue;
        for (let at = item.source.indexOf(column); at >= 0; at = item.source.indexOf(column, at + 1))
          patches.push({ ...patch, start: patch.start + at, end: patch.end + at });
      }
      if (patches.length === 0) continue;
      workbook = rewritten(model, workbook, nameKey(sheet.name), item, patched(item.source, patches)) ?? workbook;
    }
  }
  return workbook;
}
