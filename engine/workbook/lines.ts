import { nameKey } from "../base/names.ts";
import type { Scope } from "../checker/environment.ts";
import type { Graph } from "../graph/graph.ts";
import type { EntryReader } from "./columns.ts";
import { HEAD, type Placed } from "./difference.ts";
import { type CellItem, formulaOf, labelOf, type TableItem, type Workbook } from "./document.ts";
import { NameIndex } from "./names.ts";
import { TableRecord } from "./tables.ts";

/** What a node of the graph stands for. */
export type Origin =
  | {
      readonly is: "cell";
      readonly sheet: string;
      /** The page it stood on when it was last written to: where to look for it first. */
      readonly page: number;
      readonly item: CellItem;
      /** A second line of one name has no key. */
      readonly key: string | null;
    }
  | {
      readonly is: "column";
      readonly sheet: string;
      readonly table: TableRecord;
      readonly column: number;
      /** A second column of one name has no key. */
      readonly key: string | null;
    };

/** What putting new items in the old ones' places leaves to be done. */
export interface Exchange {
  /** Nodes whose formula, or something that it names, is another. */
  readonly relink: Set<number>;
  /** Columns whose entries changed, and nothing else. */
  readonly rows: ReadonlySet<number>;
  /** Nodes that stand for nothing any more. */
  readonly gone: readonly number[];
}

/** Only so many lines are looked at for the currencies of a book. */
const MOST_LOOKED_AT = 2_000;

/** Which line or column each node of the graph stands for, and by what name it is found. */
export class Lines {
  readonly names = new NameIndex((node) => this.#labelOf(node));
  readonly origins: (Origin | undefined)[] = [];
  readonly tables = new Map<string, TableRecord>();
  /** Whether a name was ever given twice. */
  #twice = false;
  readonly #graph: Graph;
  #codes: ReadonlySet<string> | null = null;
  readonly #sheetNames = new Map<string, string>();

  constructor(graph: Graph) {
    this.#graph = graph;
  }

  /** Sheets are known by their key; this is how they are typed. */
  nameSheets({ sheets }: Workbook): void {
    for (const { name } of sheets) this.#sheetNames.set(nameKey(name), name);
  }

  /** Every node of a workbook, made in the order of the file. */
  addAll(workbook: Workbook): number[] {
    this.nameSheets(workbook);
    const nodes: number[] = [];
    for (const item of workbook.head) nodes.push(...this.#add(HEAD, 0, item));
    for (const { name, pages } of workbook.sheets) {
      const sheet = nameKey(name);
      for (const [page, items] of pages.entries())
        for (const item of items) nodes.push(...this.#add(sheet, page, item));
    }
    return nodes;
  }

  /** `mash.grain`, `cellar.readings.gravity`, as typed. */
  fullName(node: number): string {
    const origin = this.origins[node];
    if (origin === undefined) return "";
    const own =
      origin.is === "cell"
        ? origin.item.name
        : `${origin.table.item.name}.${origin.table.item.columns[origin.column]?.name ?? ""}`;
    return origin.sheet === HEAD ? own : `${this.#sheetNames.get(origin.sheet) ?? origin.sheet}.${own}`;
  }

  #labelOf(node: number): string {
    const origin = this.origins[node];
    const item = origin?.is === "column" ? origin.table.item.columns[origin.column] : origin?.item;
    return item === undefined ? "" : labelOf(item);
  }

  /** Words of three capitals in formulas and units of columns: the codes of currencies are among them. */
  codes(): ReadonlySet<string> {
    if (this.#codes !== null) return this.#codes;
    const codes = new Set<string>();
    for (const origin of this.origins.slice(0, MOST_LOOKED_AT)) {
      if (origin === undefined) continue;
      const text = origin.is === "cell" ? formulaOf(origin.item) : origin.table.item.source;
      for (const [code] of text.replace(/"[^"]*"|#.*/g, "").matchAll(/(?<!\p{L})[A-Z]{3}(?!\p{L})/gu)) codes.add(code);
    }
    this.#codes = codes;
    return codes;
  }

  /** The formula of a node with its tail; null for a measured column. */
  formulaText(node: number): string | null {
    const origin = this.origins[node];
    if (origin === undefined) return null;
    return origin.is === "cell"
      ? formulaOf(origin.item)
      : (origin.table.item.columns[origin.column]?.formula?.text ?? null);
  }

  #add(sheet: string, page: number, item: { readonly is: string }): number[] {
    if (isCell(item)) return [this.#addCell(sheet, page, item)];
    return isTable(item) ? this.#addTable(sheet, item) : [];
  }

  #addCell(sheet: string, page: number, item: CellItem): number {
    const node = this.#graph.addNode();
    const full = keyOf(sheet, item);
    const taken = this.names.node(full) !== undefined || this.names.hasTable(full);
    this.origins[node] = { is: "cell", sheet, page, item, key: taken ? null : full };
    if (taken) this.#twice = true;
    else this.names.add(full, this.fullName(node), node);
    return node;
  }

  #addTable(sheet: string, item: TableItem): number[] {
    let key = keyOf(sheet, item);
    const taken = this.tables.has(key) || this.names.node(key) !== undefined;
    if (taken) this.#twice = true;
    while (this.tables.has(key) || this.names.node(key) !== undefined) key += " (again)";
    const table = new TableRecord(key, sheet, item, taken);
    this.tables.set(table.key, table);
    this.names.addTable(table.key);
    for (const [column, { name }] of item.columns.entries()) {
      const node = this.#graph.addNode();
      const columnKey = `${table.key}.${nameKey(name)}`;
      const known = this.names.node(columnKey) !== undefined;
      this.origins[node] = { is: "column", sheet, table, column, key: known ? null : columnKey };
      table.nodes.push(node);
      if (known) this.#twice = true;
      else this.names.addColumn(columnKey, this.fullName(node), node, table.key);
    }
    return table.nodes;
  }

  /** Puts the new items in the old ones' places. Null when a name is there twice, before or after: that is read anew. */
  exchange(removed: readonly Placed[], added: readonly Placed[], reader: EntryReader): Exchange | null {
    const old = byKey(removed);
    const now = byKey(added);
    if (old === null || now === null) return null;
    this.#codes = null;
    const relink = new Set<number>();
    const rows = new Set<number>();
    const gone: number[] = [];
    const fresh = new Map<string, Named>();
    for (const [key, one] of now) {
      const before = old.get(key);
      if (before !== undefined && this.#replace(key, one, before, reader, relink, rows)) old.delete(key);
      else fresh.set(key, one);
    }
    // Who has a name that is there twice depends on the order in the file.
    if (this.#twice && old.size + fresh.size > 0) return null;
    for (const [key, { item }] of old) {
      const nodes = isTable(item) ? (this.tables.get(key)?.nodes ?? []) : [this.names.node(key)];
      for (const node of nodes) {
        if (node === undefined || this.origins[node] === undefined) return null;
        gone.push(node);
        for (const user of this.#remove(node)) relink.add(user);
      }
      if (!isTable(item)) continue;
      for (const user of this.names.missed(key)) relink.add(user);
      this.tables.delete(key);
      this.names.removeTable(key);
    }
    for (const [key, { sheet, page, item }] of fresh) {
      if (this.names.node(key) !== undefined || this.tables.has(key)) return null;
      for (const user of this.names.missed(key)) relink.add(user);
      for (const node of this.#add(sheet, page, item)) {
        relink.add(node);
        const own = this.origins[node]?.key;
        for (const user of own == null ? [] : this.names.missed(own)) relink.add(user);
      }
    }
    for (const node of gone) if (this.origins[node] === undefined) relink.delete(node);
    return { relink, rows, gone };
  }

  /** The same line with another formula, or the same table with other rows: its nodes stay. */
  #replace(
    key: string,
    { sheet, page, item }: Named,
    { item: before }: Named,
    reader: EntryReader,
    relink: Set<number>,
    rows: Set<number>,
  ): boolean {
    if (isCell(item)) {
      const node = this.names.node(key);
      const origin = node === undefined ? undefined : this.origins[node];
      if (node === undefined || !isCell(before) || origin?.is !== "cell" || origin.item !== before) return false;
      this.origins[node] = { is: "cell", sheet, page, item, key };
      if (formulaOf(before) !== formulaOf(item)) relink.add(node);
      return true;
    }
    const table = this.tables.get(key);
    if (!isTable(before) || before.columns !== item.columns || table?.item !== before) return false;
    for (const column of table.follow(item, reader)) {
      const node = table.nodes[column];
      if (node !== undefined) rows.add(node);
    }
    // Worked columns have as many rows as the table.
    if (table.lengthChanged) for (const node of table.nodes) rows.add(node);
    return true;
  }

  /** Takes a line out; gives the nodes that used it. */
  #remove(node: number): number[] {
    const origin = this.origins[node];
    const users = this.#graph.dependantsOf(node);
    if (origin?.key != null && this.names.node(origin.key) === node) this.names.remove(origin.key);
    this.names.looksFor(node);
    this.names.looksFor(null);
    this.#graph.removeNode(node);
    this.origins[node] = undefined;
    return users;
  }
}

/** Where the names in a line are looked up. */
export const scopeOf = (origin: Origin): Scope => ({
  sheet: origin.sheet === HEAD ? null : origin.sheet,
  table: origin.is === "column" ? origin.table.key : null,
  filtered: null,
});

interface Named {
  readonly sheet: string;
  readonly page: number;
  readonly item: CellItem | TableItem;
}

const isCell = (item: { readonly is: string }): item is CellItem => item.is === "cell";
const isTable = (item: { readonly is: string }): item is TableItem => item.is === "table";

/** The key under which an item is known. */
const keyOf = (sheet: string, { name }: { readonly name: string }): string =>
  sheet === HEAD ? nameKey(name) : `${sheet}.${nameKey(name)}`;

/** Lines and tables by key; null when two have one key. */
function byKey(placed: readonly Placed[]): Map<string, Named> | null {
  const found = new Map<string, Named>();
  for (const { sheet, page, item } of placed) {
    if (!isCell(item) && !isTable(item)) continue;
    const key = keyOf(sheet, item);
    if (found.has(key)) return null;
    found.set(key, { sheet, page, item });
  }
  return found;
}
