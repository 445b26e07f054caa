import type { CheckedFormula } from "../checker/checked.ts";
import { type Caution, fault } from "../diagnostics/diagnostic.ts";
import { drawsOn } from "../evaluator/draws-on.ts";
import { evaluate } from "../evaluator/evaluate.ts";
import type { Stop } from "../evaluator/stop.ts";
import { type Slots, writeTape } from "../evaluator/tape.ts";
import type { Graph } from "../graph/graph.ts";
import { equalTexts } from "../operations/comparison.ts";
import { hasEntry, isColumn, type Value } from "../values/value.ts";
import { Ahead } from "./ahead.ts";
import type { Checking } from "./checking.ts";
import { isLog } from "./document.ts";
import type { Lines, Origin } from "./lines.ts";
import { FAULTY, READY, Store, WAITING } from "./store.ts";
import type { TableRecord } from "./tables.ts";

/** What all lines hold: on the tape where they are plain arithmetic, else by walking the tree. */
export class Running {
  readonly store = new Store({ unfilled: (node) => this.#unfilled(node), logs: (node) => this.#logs(node) });
  /** Why the last run of a node gave no value, where its own formula is to blame or it does not wait for all it names. */
  readonly stops = new Map<number, Stop>();
  readonly cautions = new Map<number, readonly Caution[]>();
  readonly #lines: Lines;
  readonly #graph: Graph;
  readonly #checking: Checking;
  /** Formulas that are not on the tape, and those that it once gave no figure for. */
  readonly #trees = new Map<number, CheckedFormula>();
  readonly #slots: Slots;
  #ahead: Ahead | null = null;

  constructor(lines: Lines, graph: Graph, checking: Checking) {
    this.#lines = lines;
    this.#graph = graph;
    this.#checking = checking;
    this.#slots = {
      ofNode: (node) => this.store.slotOf(node),
      ofConstant: (value) => this.store.constantSlot(value),
    };
  }

  /** Makes a checked node ready to run; null: a measured column, which its table holds. */
  compile(node: number, checked: CheckedFormula | null): void {
    this.#forgetRun(node);
    this.#trees.delete(node);
    const slot = this.store.slotOf(node);
    this.store.clearTape(node);
    if (checked === null || checked.faults.length > 0) return;
    const { root } = checked;
    if (root === null) return;
    const single = this.#lines.origins[node]?.is === "cell";
    if (single && root.op === "constant") {
      this.store.put(node, root.value);
      return;
    }
    const tape = single ? writeTape(root, slot, this.#slots) : null;
    if (tape === null) this.#trees.set(node, checked);
    else this.store.setTape(node, tape.code, tape.strict);
  }

  release(node: number): void {
    this.#forgetRun(node);
    this.#trees.delete(node);
    this.store.release(node);
  }

  #forgetRun(node: number): void {
    this.stops.delete(node);
    this.cautions.delete(node);
  }

  /** The checked formula of a node; null for a measured column. */
  checkedOf(node: number): CheckedFormula | null {
    return this.#trees.get(node) ?? this.#checking.checkAgain(node);
  }

  /** Works out nodes that stand in order, and must not be written to afterwards. */
  run(nodes: Int32Array): void {
    this.store.run(nodes, this.#settleNode);
  }

  runOne(node: number): void {
    this.store.runOne(node, this.#settleNode);
  }

  #unfilled(node: number): readonly number[] {
    const found = new Set<number>();
    const seen = new Set([node]);
    for (const at of seen) {
      const held = this.store.state(at) === READY ? this.store.value(at) : 0;
      if (!isColumn(held) || hasEntry(held)) continue;
      const origin = this.#lines.origins[at];
      const table = origin?.is === "column" ? origin.table : null;
      if (table?.rowCount === 0) for (const column of table.measuredColumns) found.add(table.nodes[column] as number);
      else if (origin?.is === "column" && table?.measuredColumns.includes(origin.column)) found.add(at);
      else for (const need of this.#sourcesOf(at)) seen.add(need);
    }
    return [...found];
  }

  #logs(node: number): readonly number[] {
    const seen = new Set([node]);
    const found: number[] = [];
    for (const at of seen) {
      const origin = this.#lines.origins[at];
      if (origin?.is === "column" && isLog(origin.table.item)) found.push(at);
      else for (const need of this.#sourcesOf(at)) seen.add(need);
    }
    return found;
  }

  /** The lines and columns from which the column of a node has its entries. */
  #sourcesOf(node: number): Iterable<number> {
    const root = this.checkedOf(node)?.root;
    return root == null ? [] : drawsOn(root, null);
  }

  readonly #settleNode = (node: number): void => this.#settle(node);

  /**
   * Works out what nodes, which stand in order, will come to once a table is as in its `next` version, one between two
   * steps. Running them then costs little; {@link forgetAhead} ends that.
   */
  *workOutAhead(nodes: Int32Array, table: TableRecord, next: TableRecord): Generator<void> {
    const ahead = new Ahead(this.store);
    for (const node of nodes) {
      const origin = this.#lines.origins[node];
      const isOfTable = origin?.is === "column" && origin.table === table;
      if (isOfTable && table.measuredColumns.includes(origin.column)) {
        const value = next.value(origin.column);
        ahead.put(node, value === null ? { is: "faulty" } : { is: "value", value });
        continue;
      }
      // Blanks, faulty lines and figures that are written out stay as they are.
      const presentation = this.#checking.presentations.get(node);
      if (presentation?.blank != null || (presentation?.faults.length ?? 0) > 0) continue;
      const checked = this.checkedOf(node);
      if (origin === undefined || checked?.root == null || checked.faults.length > 0) continue;
      const { value, stop } = ahead.workOut(node, checked.root);
      const refused = stop ?? refusedChoice(checked, value);
      const fill = origin.is === "column" ? (isOfTable ? next : origin.table).fill(value) : value;
      ahead.put(
        node,
        refused === null ? { is: "value", value: fill } : { is: refused.reason === "waiting" ? "waiting" : "faulty" },
      );
      yield;
    }
    this.#ahead = ahead;
  }

  forgetAhead(): void {
    this.#ahead = null;
  }

  /** Works out a node that the tape does not, or could not. */
  #settle(node: number): void {
    const origin = this.#lines.origins[node];
    if (origin === undefined) return;
    const presentation = this.#checking.presentations.get(node);
    const faulty = presentation !== undefined && presentation.faults.length > 0;
    if (faulty || this.#checking.typeOf(node).kind.is === "unknown") {
      this.store.withhold(node, FAULTY);
      return;
    }
    if (origin.is === "column" && origin.table.item.columns[origin.column]?.formula === null) {
      this.#put(node, origin.table.value(origin.column), FAULTY);
      return;
    }
    if (presentation?.blank != null) {
      this.#put(node, presentation.blank.filled, WAITING);
      return;
    }
    this.#forgetRun(node);
    const taped = this.store.starts[node] !== this.store.ends[node];
    if (taped && this.#settleTape(node)) return;
    // A figure that is written out was put in its place when it was compiled.
    if (!taped && !this.#trees.has(node)) return;
    this.#runTree(node, origin);
  }

  #put(node: number, value: Value | null, without: typeof WAITING | typeof FAULTY): void {
    if (value === null) this.store.withhold(node, without);
    else this.store.put(node, value);
  }

  /** A taped node is ready when its figure is finite; a strict one lacks what its operands lack. */
  #settleTape(node: number): boolean {
    const figure = this.store.slots[this.store.slotOf(node)] as number;
    if (figure - figure === 0) {
      this.store.setState(node, READY);
      return true;
    }
    if (!this.store.isStrict(node)) return false;
    let worst: typeof READY | typeof WAITING | typeof FAULTY = READY;
    for (const need of this.#graph.dependenciesOf(node))
      worst = Math.max(worst, this.store.state(need)) as typeof worst;
    if (worst === READY) return false;
    this.store.withhold(node, worst);
    return true;
  }

  #runTree(node: number, origin: Origin): void {
    const checked = this.checkedOf(node);
    if (checked?.root == null) {
      this.store.withhold(node, FAULTY);
      return;
    }
    this.#trees.set(node, checked);
    const { value, stop, cautions } = this.#ahead?.outcomeOf(node, checked.root) ?? evaluate(checked.root, this.store);
    if (cautions.length > 0) this.cautions.set(node, cautions);
    const refused = stop ?? refusedChoice(checked, value);
    if (refused === null) this.store.put(node, origin.is === "column" ? origin.table.fill(value) : value);
    else {
      this.stops.set(node, refused);
      this.store.withhold(node, refused.reason === "waiting" ? WAITING : FAULTY);
    }
  }
}

/** Why a text that came out is not one of those that the line accepts, or null. */
export function refusedChoice({ within, root }: CheckedFormula, value: Value): Stop | null {
  if (within?.is !== "choices" || typeof value !== "string" || root === null) return null;
  if (within.texts.some((choice) => equalTexts(choice, value))) return null;
  return {
    reason: "fault",
    fault: fault("not-a-choice", root.span, { text: value, choices: within.texts }),
    row: null,
  };
}
