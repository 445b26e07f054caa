import type { CheckedFormula } from "../checker/checked.ts";
import type { CheckEnvironment } from "../checker/environment.ts";
import { createGraph } from "../graph/graph.ts";
import type { ParsedFormula } from "../parser/tree.ts";
import type { Type } from "../values/kind.ts";
import type { Value } from "../values/value.ts";
import { Checking } from "./checking.ts";
import { differenceOf } from "./difference.ts";
import type { Workbook } from "./document.ts";
import { type HeadReading, readHead } from "./head.ts";
import type { Language } from "./language.ts";
import { type Exchange, Lines } from "./lines.ts";
import { Running } from "./running.ts";
import type { TableRecord } from "./tables.ts";
import type { Version } from "./version.ts";

/** What an update touched. */
export interface Change {
  /** Nodes that were checked anew, and columns with other entries. */
  readonly sources: readonly number[];
  /** Nodes whose kind changed, with the type before. */
  readonly kinds: ReadonlyMap<number, Type>;
  /** Nodes that were worked out anew because of them, in order. */
  readonly run: Int32Array;
}

/**
 * A workbook compiled: names resolved, every formula's kind inferred, everything worked out. It follows the workbook from
 * version to version at the cost of what an edit reaches. Lines, their checking and their running each have a class of
 * their own; this one brings them together.
 */
export class Model {
  workbook: Workbook;
  readonly head: HeadReading;
  readonly graph = createGraph();
  readonly #lines = new Lines(this.graph);
  readonly #checking: Checking;
  readonly #running: Running;
  readonly names = this.#lines.names;
  readonly origins = this.#lines.origins;
  readonly tables = this.#lines.tables;
  readonly environment: CheckEnvironment;
  readonly presentations: Checking["presentations"];
  readonly counts: Checking["counts"];
  readonly store: Running["store"];
  readonly stops: Running["stops"];
  readonly runCautions: Running["cautions"];

  constructor(workbook: Workbook, language: Language) {
    this.workbook = workbook;
    this.head = readHead(workbook, language);
    this.#checking = new Checking(this.#lines, this.graph, this.head);
    this.#running = new Running(this.#lines, this.graph, this.#checking);
    ({ environment: this.environment, presentations: this.presentations, counts: this.counts } = this.#checking);
    ({ store: this.store, stops: this.stops, cautions: this.runCautions } = this.#running);
    this.#load();
  }

  #load(): void {
    const nodes = this.#lines.addAll(this.workbook);
    const needs = nodes.map((node) => [node, this.#checking.needsOf(node)] as const);
    const needsOf = new Map(needs);
    this.graph.load(this.origins.length, (node) => needsOf.get(node) ?? []);
    this.#checking.noticeCycles(nodes);
    const order = this.graph.order().filter((node) => this.origins[node] !== undefined);
    this.#checking.checkAll(order, (node, checked) => this.#running.compile(node, checked));
    this.#running.run(order);
  }

  /** Follows the workbook to its next version. Null: the head changed, and a new model is wanted. */
  update(next: Version): Change | null {
    const difference = differenceOf(this.workbook, next);
    if (difference.head) return null;
    this.names.allowSuggestions();
    this.workbook = next.workbook;
    this.#lines.nameSheets(next.workbook);
    const exchange = this.#lines.exchange(difference.removed, difference.added, this.head.entries);
    return exchange === null ? null : this.#settle(exchange);
  }

  #settle({ relink, rows, gone }: Exchange): Change {
    for (const node of gone) {
      this.#checking.forget(node);
      this.#running.release(node);
    }
    for (const node of relink) this.graph.setDependencies(node, this.#checking.needsOf(node));
    for (const node of this.#checking.noticeCycles([...relink, ...gone])) relink.add(node);
    const { checked, kinds } = this.#checking.checkPending(relink, (node, formula) =>
      this.#running.compile(node, formula),
    );
    for (const node of rows) checked.add(node);
    const sources = [...checked];
    return { sources, kinds, run: this.#runFrom(sources) };
  }

  /** Works out these nodes and all that they reach; gives what was worked out beside them. */
  #runFrom(sources: readonly number[]): Int32Array {
    const [only] = sources;
    if (only !== undefined && sources.length === 1) {
      this.#running.runOne(only);
      const plan = this.graph.plan(only);
      this.#running.run(plan);
      return plan;
    }
    const run = this.#withReached(sources);
    this.#running.run(run);
    return run;
  }

  /** These nodes and all that they reach, in order. */
  #withReached(sources: readonly number[]): Int32Array {
    const all = new Set(sources);
    for (const node of this.graph.affected(sources)) all.add(node);
    return Int32Array.from(all).sort((a, b) => this.graph.rank(a) - this.graph.rank(b));
  }

  /** Works out, a line between two steps, what the book comes to once a table is as in its `next` version. */
  *workOutAhead(table: TableRecord, next: TableRecord): Generator<void> {
    table.expect(next);
    yield* this.#running.workOutAhead(this.#withReached(table.nodes), table, next);
  }

  forgetAhead(): void {
    this.#running.forgetAhead();
  }

  typeOf(node: number): Type {
    return this.#checking.typeOf(node);
  }

  fullName(node: number): string {
    return this.#lines.fullName(node);
  }

  formulaText(node: number): string | null {
    return this.#lines.formulaText(node);
  }

  parse(text: string): ParsedFormula {
    return this.#checking.parse(text);
  }

  checkedOf(node: number): CheckedFormula | null {
    return this.#running.checkedOf(node);
  }

  /** Whether a node is faulty by itself and not because of another. */
  hasOwnFault(node: number): boolean {
    if ((this.presentations.get(node)?.faults.length ?? 0) > 0 || this.stops.get(node)?.reason === "fault") return true;
    const origin = this.origins[node];
    return origin?.is === "column" && origin.table.faultsOf(origin.column).size > 0;
  }

  /** Gives a line another figure without touching the workbook, and works out what it reaches: for solving and for trying. */
  tryFigure(node: number, value: Value): Int32Array {
    this.store.put(node, value);
    const plan = this.graph.plan(node);
    this.#running.run(plan);
    return plan;
  }
}
