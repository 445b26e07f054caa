import { nameKey } from "../base/names.ts";
import { UNKNOWN_TYPE } from "../checker/check.ts";
import type { CheckedFormula, Step, Within } from "../checker/checked.ts";
import type { CheckEnvironment, Scope } from "../checker/environment.ts";
import { checkFormula } from "../checker/formula.ts";
import { eachName } from "../checker/references.ts";
import { type Caution, type Fault, fault } from "../diagnostics/diagnostic.ts";
import { evaluate, type Memory, type Stop } from "../evaluator/evaluate.ts";
import { writeTape } from "../evaluator/tape.ts";
import { createGraph } from "../graph/graph.ts";
import { equalTexts } from "../operations/comparison.ts";
import type { ParsedFormula } from "../parser/tree.ts";
import { printUnit } from "../units/compound.ts";
import type { Type } from "../values/kind.ts";
import type { Value } from "../values/value.ts";
import { differenceOf, HEAD, type Placed } from "./difference.ts";
import { type CellItem, formulaOf, type TableItem, type Workbook } from "./document.ts";
import { type HeadReading, readHead } from "./head.ts";
import type { Language } from "./language.ts";
import { NameIndex } from "./names.ts";
import { FAULTY, READY, Store, WAITING } from "./store.ts";
import { TableRecord } from "./tables.ts";

/** What a node of the graph stands for. */
export type Origin =
  | {
      readonly is: "cell";
      readonly sheet: string;
      readonly item: CellItem /** A second line of one name has no key. */;
      readonly key: string | null;
    }
  | {
      readonly is: "column";
      readonly sheet: string;
      readonly table: TableRecord;
      readonly column: number;
      readonly key: string;
    };

/** What a check leaves behind for showing a node; lines without tail, note or fault have none. */
interface Presentation {
  readonly step: Step | null;
  readonly within: Within | null;
  readonly note: string | null;
  readonly faults: readonly Fault[];
  readonly cautions: readonly Caution[];
  readonly blank: CheckedFormula["blank"];
}

/** What an update touched. */
export interface Change {
  /** Nodes that were checked anew. */
  readonly checked: readonly number[];
  /** Nodes whose kind changed, with the type before. */
  readonly kinds: ReadonlyMap<number, Type>;
  /** Nodes that were worked out anew, in order. */
  readonly run: Int32Array;
}

/**
 * A workbook compiled: names resolved, every formula's kind inferred, everything worked out. It follows the workbook from
 * version to version at the cost of what an edit reaches.
 */
export class Model {
  workbook: Workbook;
  readonly graph = createGraph();
  readonly names = new NameIndex();
  readonly store = new Store();
  readonly head: HeadReading;
  readonly environment: CheckEnvironment;
  readonly origins: (Origin | undefined)[] = [];
  readonly tables = new Map<string, TableRecord>();
  readonly presentations = new Map<number, Presentation>();
  /** Why the last run of a node gave no value, where its own formula is to blame or it does not wait for all it names. */
  readonly stops = new Map<number, Stop>();
  readonly runCautions = new Map<number, readonly Caution[]>();
  readonly #sheetNames = new Map<string, string>();
  readonly #types: Type[] = [];
  readonly #knownTypes = new Map<string, Type>();
  readonly #trees = new Map<number, CheckedFormula>();
  readonly #memory: Memory;
  #cyclic: ReadonlySet<number> = new Set();
  /** Parsed while a batch is being checked; let go afterwards. */
  #parsed = new Map<number, ParsedFormula>();
  /** How often each kind of work was done: for tests of "recompiles nothing". */
  readonly counts = { parsed: 0, checked: 0 };

  constructor(workbook: Workbook, language: Language) {
    this.workbook = workbook;
    this.head = readHead(workbook, language);
    this.#nameSheets();
    this.environment = this.#environmentOf(this.head);
    this.#memory = {
      read: (node) => {
        const state = this.store.state(node);
        if (state === READY) return { is: "value", value: this.store.value(node) };
        return { is: state === WAITING ? "waiting" : "faulty" };
      },
    };
    this.#load();
  }

  #environmentOf(head: HeadReading): CheckEnvironment {
    return { ...head.environment, names: this.names, typeOf: (node) => this.typeOf(node), bodies: new Map() };
  }

  typeOf(node: number): Type {
    return this.#types[node] ?? UNKNOWN_TYPE;
  }

  scopeOf(origin: Origin): Scope {
    return {
      sheet: origin.sheet === HEAD ? null : origin.sheet,
      table: origin.is === "column" ? origin.table.key : null,
      filtered: null,
    };
  }

  /** The formula of a node with its tail; null for a measured column. */
  formulaText(node: number): string | null {
    const origin = this.origins[node];
    if (origin === undefined) return null;
    return origin.is === "cell"
      ? formulaOf(origin.item)
      : (origin.table.item.columns[origin.column]?.formula?.text ?? null);
  }

  /** Whether a node is faulty by itself and not because of another. */
  hasOwnFault(node: number): boolean {
    if ((this.presentations.get(node)?.faults.length ?? 0) > 0 || this.stops.get(node)?.reason === "no-value")
      return true;
    const origin = this.origins[node];
    return origin?.is === "column" && origin.table.faultsOf(origin.column).size > 0;
  }

  /** Reads a formula as the workbook reads it: with its units. */
  parse(text: string): ParsedFormula {
    this.counts.parsed += 1;
    return this.head.parse(text);
  }

  // — the whole workbook —

  #load(): void {
    const placed = [
      ...this.workbook.head.flatMap((item): Placed[] => (item.is === "cell" ? [{ sheet: HEAD, item }] : [])),
      ...this.workbook.sheets.flatMap((sheet) =>
        sheet.pages.flat().map((item) => ({ sheet: nameKey(sheet.name), item })),
      ),
    ];
    const nodes = placed.flatMap((one) => this.#add(one));
    this.#link(nodes, true);
    this.#settleAll(nodes);
  }

  #nameSheets(): void {
    for (const { name } of this.workbook.sheets) this.#sheetNames.set(nameKey(name), name);
  }

  // — adding and removing —

  #add({ sheet, item }: Placed): number[] {
    if (item.is === "cell") return [this.#addCell(sheet, item)];
    return item.is === "table" ? this.#addTable(sheet, item) : [];
  }

  #addCell(sheet: string, item: CellItem): number {
    const node = this.graph.addNode();
    const full = sheet === HEAD ? nameKey(item.name) : `${sheet}.${nameKey(item.name)}`;
    const taken = this.names.node(full) !== undefined || this.names.hasTable(full);
    this.origins[node] = { is: "cell", sheet, item, key: taken ? null : full };
    if (!taken) this.names.add(full, this.fullName(node), node);
    return node;
  }

  #addTable(sheet: string, item: TableItem): number[] {
    const key = `${sheet}.${nameKey(item.name)}`;
    const taken = this.tables.has(key) || this.names.node(key) !== undefined;
    const table = new TableRecord(taken ? `${key} (again)` : key, sheet, item);
    this.tables.set(table.key, table);
    this.names.addTable(table.key);
    for (const [column, { name }] of item.columns.entries()) {
      const node = this.graph.addNode();
      const columnKey = `${table.key}.${nameKey(name)}`;
      this.origins[node] = { is: "column", sheet, table, column, key: columnKey };
      table.nodes.push(node);
      if (this.names.node(columnKey) === undefined)
        this.names.addColumn(columnKey, this.fullName(node), node, table.key);
    }
    return table.nodes;
  }

  /** Takes a line out; gives the nodes that used it. */
  #remove(node: number): number[] {
    const origin = this.origins[node];
    const users = this.graph.dependantsOf(node);
    if (origin?.key != null && this.names.node(origin.key) === node) this.names.remove(origin.key);
    this.names.looksFor(node);
    this.names.looksFor(null);
    this.graph.removeNode(node);
    this.store.release(node);
    this.origins[node] = undefined;
    this.#forget(node);
    return users;
  }

  #forget(node: number): void {
    this.presentations.delete(node);
    this.stops.delete(node);
    this.runCautions.delete(node);
    this.#trees.delete(node);
    this.#types[node] = UNKNOWN_TYPE;
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

  // — from version to version —

  /** Follows the workbook to its next version. Null: the head changed, and a new model is wanted. */
  update(next: Workbook): Change | null {
    const difference = differenceOf(this.workbook, next);
    if (difference.head) return null;
    this.names.allowSuggestions();
    this.workbook = next;
    this.#nameSheets();
    const touched = this.#exchange(difference.removed, difference.added);
    return touched === null ? null : this.#settle(touched);
  }

  /** Puts the new items in the old ones' places. Null when a name is there twice, before or after: that is read anew. */
  #exchange(removed: readonly Placed[], added: readonly Placed[]): { relink: Set<number>; rows: Set<number> } | null {
    const relink = new Set<number>();
    const rows = new Set<number>();
    const old = new Map<string, Placed>();
    for (const placed of removed) {
      const key = keyOf(placed);
      if (key === null) continue;
      if (old.has(key)) return null;
      old.set(key, placed);
    }
    const fresh: Placed[] = [];
    const seen = new Set<string>();
    for (const placed of added) {
      const key = keyOf(placed);
      if (key === null) continue;
      if (seen.has(key)) return null;
      seen.add(key);
      const before = old.get(key);
      if (before === undefined || before.item.is !== placed.item.is || !this.#replace(placed, before, relink, rows))
        fresh.push(placed);
      else old.delete(key);
    }
    for (const [key, placed] of old) {
      const nodes = placed.item.is === "table" ? (this.tables.get(key)?.nodes ?? []) : [this.names.node(key)];
      for (const node of nodes) {
        if (node === undefined || this.origins[node] === undefined) return null;
        relink.delete(node);
        for (const user of this.#remove(node)) relink.add(user);
      }
      if (placed.item.is === "table") {
        this.tables.delete(key);
        this.names.removeTable(key);
      }
    }
    for (const placed of fresh) {
      const key = keyOf(placed) ?? "";
      if (this.names.node(key) !== undefined || this.tables.has(key)) return null;
      for (const node of this.#add(placed)) {
        relink.add(node);
        const own = this.origins[node]?.key;
        for (const user of own == null ? [] : this.names.missed(own)) relink.add(user);
      }
    }
    return { relink: new Set([...relink].filter((node) => this.origins[node] !== undefined)), rows };
  }

  /** The same line with another formula, or the same table with other rows: its nodes stay. */
  #replace({ sheet, item }: Placed, before: Placed, relink: Set<number>, rows: Set<number>): boolean {
    if (item.is === "cell") {
      const key = keyOf({ sheet, item });
      const node = key === null ? undefined : this.names.node(key);
      if (node === undefined || key === null) return false;
      const same = before.item.is === "cell" && formulaOf(before.item) === formulaOf(item);
      this.origins[node] = { is: "cell", sheet, item, key };
      if (!same) relink.add(node);
      return true;
    }
    if (item.is !== "table" || before.item.is !== "table" || before.item.columns !== item.columns) return false;
    const table = this.tables.get(keyOf({ sheet, item }) ?? "");
    if (table === undefined || table.item !== before.item) return false;
    for (const column of table.follow(item, this.head.entries)) {
      const node = table.nodes[column];
      if (node !== undefined) rows.add(node);
    }
    // Worked columns have as many rows as the table.
    if (table.lengthChanged) for (const node of table.nodes) rows.add(node);
    return true;
  }

  // — checking —

  /** Finds what each node depends on. `whole`: all of them, in one go. */
  #link(nodes: Iterable<number>, whole: boolean): void {
    const dependencies = new Map<number, readonly number[]>();
    for (const node of nodes) {
      const needs = this.#needs(node);
      if (whole) dependencies.set(node, needs);
      else this.graph.setDependencies(node, needs);
    }
    if (whole) this.graph.load(this.origins.length, (node) => dependencies.get(node) ?? []);
  }

  #needs(node: number): number[] {
    const text = this.formulaText(node);
    const origin = this.origins[node];
    if (text === null || origin === undefined) return [];
    const parsed = this.parse(text);
    this.#parsed.set(node, parsed);
    const needs: number[] = [];
    this.names.looksFor(node);
    eachName(parsed.expression, this.names, this.scopeOf(origin), (name, scope) => {
      const found = this.names.resolve(name, scope);
      if (found.is === "node") needs.push(found.node);
    });
    this.names.looksFor(null);
    return needs;
  }

  #settleAll(nodes: readonly number[]): Change {
    this.#cyclic = this.#findCyclic();
    const kinds = new Map<number, Type>();
    const order = this.graph.order().filter((node) => this.origins[node] !== undefined);
    for (const node of order) this.#check(node, kinds);
    this.#parsed = new Map();
    this.#runNodes(order);
    return { checked: nodes, kinds: new Map(), run: order };
  }

  #settle({ relink, rows }: { relink: ReadonlySet<number>; rows: ReadonlySet<number> }): Change {
    this.#link(relink, false);
    const pending = new Set(relink);
    const cyclic = this.#findCyclic();
    for (const node of cyclic) if (!this.#cyclic.has(node)) pending.add(node);
    for (const node of this.#cyclic) if (!cyclic.has(node) && this.origins[node] !== undefined) pending.add(node);
    this.#cyclic = cyclic;
    const kinds = new Map<number, Type>();
    const checked = this.#checkPending(pending, kinds);
    this.#parsed = new Map();
    const sources = [...new Set([...checked, ...rows])];
    const run = this.#orderFrom(sources);
    this.#runNodes(run);
    return { checked, kinds, run };
  }

  #findCyclic(): ReadonlySet<number> {
    if (this.graph.cycles().length === 0) return new Set();
    const cyclic = new Set<number>();
    for (let node = 0; node < this.origins.length; node += 1)
      if (this.origins[node] !== undefined && this.graph.inCycle(node)) cyclic.add(node);
    return cyclic;
  }

  /** Checks what is pending in order, and whatever uses a line whose kind changed. */
  #checkPending(pending: Set<number>, kinds: Map<number, Type>): number[] {
    const done: number[] = [];
    const visited = new Set<number>();
    let round = [...pending];
    while (round.length > 0) {
      round.sort((a, b) => this.graph.rank(a) - this.graph.rank(b));
      const next = new Set<number>();
      for (const node of round) {
        if (this.origins[node] === undefined) continue;
        const changed = this.#check(node, kinds);
        if (!visited.has(node)) done.push(node);
        visited.add(node);
        if (changed && !this.#cyclic.has(node)) for (const user of this.graph.dependantsOf(node)) next.add(user);
      }
      round = [...next];
    }
    return done;
  }

  /** Checks one node and makes it ready to run. Whether its type changed. */
  #check(node: number, kinds: Map<number, Type>): boolean {
    const origin = this.origins[node];
    if (origin === undefined) return false;
    this.counts.checked += 1;
    const before = this.typeOf(node);
    this.#trees.delete(node);
    this.stops.delete(node);
    this.runCautions.delete(node);
    if (origin.is === "column" && origin.table.item.columns[origin.column]?.formula === null) {
      const column = origin.table.measured(origin.column, this.head.entries);
      this.#present(node, { ...column, note: null, cautions: [], blank: null });
      this.#setType(
        node,
        column.faults.length > 0 && column.type.kind.is === "unknown"
          ? UNKNOWN_TYPE
          : { ...column.type, rows: origin.table.key },
      );
    } else this.#checkFormula(node, origin);
    const after = this.typeOf(node);
    if (after === before) return false;
    if (!kinds.has(node)) kinds.set(node, before);
    return true;
  }

  #checkFormula(node: number, origin: Origin): void {
    const text = this.formulaText(node) ?? "";
    const parsed = this.#parsed.get(node) ?? this.parse(text);
    const checked = this.#inRows(checkFormula(parsed, this.environment, this.scopeOf(origin)), origin);
    const faults = [...this.#ownFaults(node, origin), ...checked.faults];
    this.#present(node, { ...checked, faults });
    this.#setType(node, faults.length > 0 ? UNKNOWN_TYPE : checked.type);
    this.store.slotOf(node);
    this.store.clearTape(node);
    if (faults.length > 0 || checked.root === null) {
      if (faults.length === 0 && checked.blank !== null) this.#putBlank(node, checked);
      return;
    }
    const slots = {
      ofNode: (of: number) => this.store.slotOf(of),
      ofConstant: (value: number) => this.store.constantSlot(value),
    };
    const { root } = checked;
    if (root.op === "constant" && origin.is === "cell") {
      this.store.put(node, root.value);
      return;
    }
    const tape = origin.is === "cell" ? writeTape(root, this.store.slotOf(node), slots) : null;
    if (tape === null) this.#trees.set(node, checked);
    else this.store.setTape(node, tape.code, tape.strict);
  }

  /** A worked column has the rows of its table: a single value stands in each, other rows are refused. */
  #inRows(checked: CheckedFormula, origin: Origin): CheckedFormula {
    if (origin.is === "cell" || checked.type.kind.is === "unknown") return checked;
    const { rows } = checked.type;
    if (rows !== null && rows !== origin.table.key)
      return {
        ...checked,
        root: null,
        type: UNKNOWN_TYPE,
        faults: [
          fault("column-lengths", checked.root?.span ?? { start: 0, end: 0 }, {
            says: `This has the rows of ${rows}, not of the table it stands in.`,
          }),
        ],
      };
    return { ...checked, type: { ...checked.type, rows: origin.table.key } };
  }

  #ownFaults(node: number, origin: Origin): Fault[] {
    const span = { start: 0, end: 0 };
    if (this.#cyclic.has(node)) {
      const path = (this.graph.cycleThrough(node) ?? [node]).map((at) => this.fullName(at));
      return [fault("circular", { start: 0, end: (this.formulaText(node) ?? "").length }, { path })];
    }
    if (origin.key === null && origin.is === "cell")
      return [
        fault("duplicate-name", span, {
          name: origin.item.name,
          elsewhere: "the name of a line or table on this sheet",
        }),
      ];
    const reserved = origin.is === "cell" ? this.head.reserved(origin.item.name) : null;
    return reserved === null ? [] : [reserved];
  }

  #present(node: number, { step, within, note, faults, cautions, blank }: Presentation): void {
    const empty =
      step === null &&
      within === null &&
      note === null &&
      faults.length === 0 &&
      cautions.length === 0 &&
      blank === null;
    if (empty) this.presentations.delete(node);
    else this.presentations.set(node, { step, within, note, faults, cautions, blank });
  }

  /** Equal types are one object: they are few, and comparing them is then comparing references. */
  #setType(node: number, type: Type): void {
    const { kind, unit, rows } = type;
    const key = `${kind.is}|${kind.is === "quantity" ? kind.dimension.key : kind.is === "reading" ? kind.family : ""}|${unit === null ? "" : printUnit(unit)}|${rows ?? ""}`;
    const known = this.#knownTypes.get(key);
    if (known === undefined) this.#knownTypes.set(key, type);
    this.#types[node] = known ?? type;
  }

  // — running —

  #orderFrom(sources: readonly number[]): Int32Array {
    const [only] = sources;
    if (only === undefined) return new Int32Array(0);
    if (sources.length === 1) {
      const plan = this.graph.plan(only);
      const run = new Int32Array(plan.length + 1);
      run[0] = only;
      run.set(plan, 1);
      return run;
    }
    const all = new Set(sources);
    for (const node of this.graph.affected(sources)) all.add(node);
    return Int32Array.from(all).sort((a, b) => this.graph.rank(a) - this.graph.rank(b));
  }

  #runNodes(nodes: Int32Array): void {
    this.store.run(nodes, (node) => this.#settleNode(node));
  }

  #putBlank(node: number, { blank }: CheckedFormula): void {
    if (blank?.filled == null) this.store.withhold(node, WAITING);
    else this.store.put(node, blank.filled);
  }

  /** Works out a node that the tape does not, or could not. */
  #settleNode(node: number): void {
    const origin = this.origins[node];
    if (origin === undefined) return;
    const presentation = this.presentations.get(node);
    if (presentation !== undefined && presentation.faults.length > 0) {
      this.store.withhold(node, FAULTY);
      return;
    }
    if (origin.is === "column" && origin.table.item.columns[origin.column]?.formula === null) {
      const value = origin.table.value(origin.column);
      if (value === null) this.store.withhold(node, FAULTY);
      else this.store.put(node, value);
      return;
    }
    if (presentation?.blank != null) {
      if (presentation.blank.filled === null) this.store.withhold(node, WAITING);
      else this.store.put(node, presentation.blank.filled);
      return;
    }
    if (this.typeOf(node).kind.is === "unknown") {
      this.store.withhold(node, FAULTY);
      return;
    }
    this.stops.delete(node);
    this.runCautions.delete(node);
    const taped = this.store.starts[node] !== this.store.ends[node];
    if (taped && this.#settleTape(node)) return;
    // A figure that is written out was put in its place when it was checked.
    if (!taped && !this.#trees.has(node)) return;
    this.#runTree(node, origin);
  }

  /** A taped node is ready when its figure is finite; a strict one lacks what its operands lack. */
  #settleTape(node: number): boolean {
    const figure = this.store.slots[this.store.slotOf(node)] as number;
    if (figure - figure === 0) {
      this.store.states[node] = READY;
      return true;
    }
    if (!this.store.isStrict(node)) return false;
    let worst: typeof READY | typeof WAITING | typeof FAULTY = READY;
    for (const need of this.graph.dependenciesOf(node)) worst = Math.max(worst, this.store.state(need)) as typeof worst;
    if (worst === READY) return false;
    this.store.withhold(node, worst);
    return true;
  }

  #runTree(node: number, origin: Origin): void {
    const checked = this.#trees.get(node) ?? this.checkedOf(node);
    if (checked?.root == null) {
      this.store.withhold(node, FAULTY);
      return;
    }
    const { value, stop, cautions } = evaluate(checked.root, this.#memory);
    if (cautions.length > 0) this.runCautions.set(node, cautions);
    if (stop !== null) {
      this.stops.set(node, stop);
      this.store.withhold(node, stop.reason === "waiting" ? WAITING : FAULTY);
    } else if (
      checked.within?.is === "choices" &&
      typeof value === "string" &&
      !checked.within.texts.some((choice) => equalTexts(choice, value))
    ) {
      this.stops.set(node, {
        reason: "no-value",
        nodes: [],
        says: `"${value}" is not one of the texts that this line accepts.`,
        span: checked.root.span,
        row: null,
      });
      this.store.withhold(node, FAULTY);
    } else this.store.put(node, origin.is === "column" ? origin.table.fill(value) : value);
  }

  /** The tree of a node, checked again where only its tape was kept. */
  checkedOf(node: number): CheckedFormula | null {
    const kept = this.#trees.get(node);
    if (kept !== undefined) return kept;
    const origin = this.origins[node];
    const text = this.formulaText(node);
    if (origin === undefined || text === null) return null;
    return this.#inRows(checkFormula(this.parse(text), this.environment, this.scopeOf(origin)), origin);
  }

  /** Gives a line another figure without touching the workbook, and works out what it reaches: for solving and for trying. */
  tryFigure(node: number, value: Value): Int32Array {
    this.store.put(node, value);
    const plan = this.graph.plan(node);
    this.#runNodes(plan);
    return plan;
  }
}

/** The key under which an item's name is known, or null for what has no name. */
function keyOf({ sheet, item }: Placed): string | null {
  if (item.is !== "cell" && item.is !== "table") return null;
  return sheet === HEAD ? nameKey(item.name) : `${sheet}.${nameKey(item.name)}`;
}
