import { nameKey } from "../base/names.ts";
import { nearestSpelling } from "../base/nearest.ts";
import type { Labelled, Names, Resolution, Scope } from "../checker/environment.ts";
import { fault, mend } from "../diagnostics/diagnostic.ts";
import type { NameNode } from "../parser/tree.ts";

/** A fault with a suggestion looks at many names; past this many in one go the rest are told without one. */
const MOST_SUGGESTIONS = 200;
/** Only so many names are looked at for one suggestion. */
const MOST_CANDIDATES = 2_000;

/** More lines of one label than these are no help. */
const MOST_LABELS = 4;

const PART_OF_A_WORD = /[\p{L}\p{M}\p{Nd}_.]/u;

/** Where `words` stand in a text, not within longer words. */
function placesOf(text: string, words: string): number[] {
  const places: number[] = [];
  for (let at = text.indexOf(words); at >= 0; at = text.indexOf(words, at + words.length))
    if (!PART_OF_A_WORD.test(text.charAt(at - 1)) && !PART_OF_A_WORD.test(text.charAt(at + words.length)))
      places.push(at);
  return places;
}

/**
 * What every name of a workbook stands for. Keys are `sheet.line`, `sheet.table.column` and, in the head, the name alone,
 * all in the form in which names are compared.
 */
export class NameIndex implements Names {
  readonly #nodes = new Map<string, number>();
  /** Names as typed, by key, for suggestions. */
  readonly #typed = new Map<string, string>();
  readonly #tables = new Set<string>();
  readonly #tableOfColumn = new Map<number, string>();
  /** Keys that were looked for in vain, and the nodes that looked. */
  readonly #misses = new Map<string, Set<number>>();
  readonly #missesOf = new Map<number, string[]>();
  #suggestions = MOST_SUGGESTIONS;
  #looking: number | null = null;
  readonly #labelOf: (node: number) => string;

  /** `labelOf` gives what the screen calls a line or column. */
  constructor(labelOf: (node: number) => string) {
    this.#labelOf = labelOf;
  }

  add(key: string, typed: string, node: number): void {
    this.#nodes.set(key, node);
    this.#typed.set(key, typed);
  }

  addTable(key: string): void {
    this.#tables.add(key);
  }

  addColumn(key: string, typed: string, node: number, table: string): void {
    this.add(key, typed, node);
    this.#tableOfColumn.set(node, table);
  }

  remove(key: string): void {
    const node = this.#nodes.get(key);
    if (node !== undefined) this.#tableOfColumn.delete(node);
    this.#nodes.delete(key);
    this.#typed.delete(key);
  }

  removeTable(key: string): void {
    this.#tables.delete(key);
  }

  node(key: string): number | undefined {
    return this.#nodes.get(key);
  }

  hasTable(key: string): boolean {
    return this.#tables.has(key);
  }

  tableOf(node: number): string | null {
    return this.#tableOfColumn.get(node) ?? null;
  }

  /** Forgets what `node` looked for in vain, and notes anew until the next call. */
  looksFor(node: number | null): void {
    this.#looking = node;
    if (node === null) return;
    for (const key of this.#missesOf.get(node) ?? []) this.#misses.get(key)?.delete(node);
    this.#missesOf.delete(node);
  }

  /** The nodes that looked for this key before it was there. */
  missed(key: string): ReadonlySet<number> {
    return this.#misses.get(key) ?? new Set();
  }

  /** Suggestions cost time; each update of the workbook may make so many. */
  allowSuggestions(): void {
    this.#suggestions = MOST_SUGGESTIONS;
  }

  resolve(name: NameNode, scope: Scope): Resolution {
    const keys = name.parts.map((part) => nameKey(part.text));
    for (const key of this.#places(keys, scope)) {
      const node = this.#nodes.get(key);
      if (node !== undefined) return { is: "node", node };
      this.#miss(key);
    }
    return this.#unknown(name, keys, scope);
  }

  /** Where a name is looked for, nearest first. */
  #places(keys: readonly string[], { sheet, table, filtered }: Scope): string[] {
    const joined = keys.join(".");
    if (keys.length === 1) {
      const owners = [filtered, table, sheet].filter((owner) => owner !== null);
      return [...owners.map((owner) => `${owner}.${joined}`), joined];
    }
    return keys.length === 2 && sheet !== null ? [`${sheet}.${joined}`, joined] : [joined];
  }

  #miss(key: string): void {
    if (this.#looking === null) return;
    const nodes = this.#misses.get(key);
    if (nodes?.has(this.#looking)) return;
    if (nodes === undefined) this.#misses.set(key, new Set([this.#looking]));
    else nodes.add(this.#looking);
    const keys = this.#missesOf.get(this.#looking);
    if (keys === undefined) this.#missesOf.set(this.#looking, [key]);
    else keys.push(key);
  }

  #unknown(name: NameNode, keys: readonly string[], scope: Scope): Resolution {
    const typed = name.parts.map((part) => part.text).join(".");
    const own = scope.sheet === null ? keys.join(".") : `${scope.sheet}.${keys.join(".")}`;
    if (this.#tables.has(own) || this.#tables.has(keys.join(".")))
      return {
        is: "fault",
        fault: fault("syntax", name.span, {
          says: `"${typed}" is a table. Name one of its columns: ${typed}.${this.#columnsOf(this.#tables.has(own) ? own : keys.join("."))[0] ?? "column"}.`,
        }),
      };
    const near = this.#suggest(keys, scope);
    const mends = near === null ? [] : [mend(`Write ${near}`, name.span, near)];
    return { is: "fault", fault: fault("unknown-name", name.span, { name: typed, near }, mends) };
  }

  labelled(text: string, scope: Scope): readonly Labelled[] {
    if (this.#suggestions === 0) return [];
    this.#suggestions -= 1;
    const low = text.toLowerCase().replace(/\s/g, " ");
    // Where small letters take another room, places would not be those of the text.
    if (low.length !== text.length) return [];
    const found = new Map<string, { at: number[]; names: string[]; columns: boolean }>();
    let looked = 0;
    for (const [key, node] of this.#nodes) {
      looked += 1;
      if (looked > MOST_CANDIDATES) break;
      const label = this.#labelOf(node).toLowerCase();
      const at = label === "" || nameKey(label) === key.split(".").at(-1) ? [] : placesOf(low, label);
      if (at.length === 0) continue;
      const column = this.#tableOfColumn.has(node);
      const written = this.#written(key, scope);
      const known = found.get(label);
      if (known === undefined) found.set(label, { at, names: [written], columns: column });
      else {
        const own = scope.sheet !== null && key.startsWith(`${scope.sheet}.`);
        known.names = own ? [written, ...known.names] : [...known.names, written];
        known.columns &&= column;
      }
    }
    return [...found]
      .flatMap(([label, { at, names, columns }]) =>
        at.map((start) => ({
          span: { start, end: start + label.length },
          names: names.slice(0, MOST_LABELS),
          columns,
        })),
      )
      .toSorted((a, b) => b.span.end - b.span.start - (a.span.end - a.span.start) || a.span.start - b.span.start);
  }

  /** A name as it is written where it is used: without what it is found in. */
  #written(key: string, { sheet, table, filtered }: Scope): string {
    const typed = this.#typed.get(key) ?? key;
    const owner = [filtered, table, sheet].find((one) => one !== null && key.startsWith(`${one}.`));
    return owner == null ? typed : typed.split(".").slice(owner.split(".").length).join(".");
  }

  #columnsOf(table: string): string[] {
    const columns: string[] = [];
    for (const [key, typed] of this.#typed)
      if (key.startsWith(`${table}.`)) columns.push(typed.split(".").at(-1) ?? typed);
    return columns;
  }

  /** The same name in another sheet, else the nearest spelling of what could stand here. */
  #suggest(keys: readonly string[], scope: Scope): string | null {
    if (this.#suggestions === 0) return null;
    this.#suggestions -= 1;
    const wanted = keys.join(".");
    const candidates: string[] = [];
    for (const [key, typed] of this.#typed) {
      if (candidates.length === MOST_CANDIDATES) break;
      if (
        keys.length === 1 &&
        key.endsWith(`.${wanted}`) &&
        this.#tableOfColumn.get(this.#nodes.get(key) ?? -1) === undefined
      )
        return typed;
      candidates.push(this.#written(key, scope));
    }
    return nearestSpelling(wanted, candidates);
  }
}
