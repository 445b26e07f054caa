import { invariant } from "../base/invariant.ts";
import { Knots } from "./cycles.ts";
import { Edges, grownCapacity, loadedCapacity, NONE } from "./edges.ts";
import { Order } from "./order.ts";
import { affected, Plans } from "./plans.ts";
import { Scratch } from "./scratch.ts";

/**
 * Who needs whom among nodes that are mere integers, and in which order they can be worked out. Cycles are allowed: the
 * order is then right for all other dependencies, and those that close a cycle take their place in it as soon as the
 * cycle is broken elsewhere.
 *
 * An edit costs what it reaches, not what the graph holds. Every method throws on a node that is not in the graph.
 */
export interface Graph {
  /** How many nodes there are. */
  readonly size: number;

  /** Changes whenever a dependency comes or goes; while it stands still, plans and the order among old nodes do. */
  readonly version: number;

  /** A new node without dependencies: the node removed last, if any is free, else the next integer from 0. */
  addNode(): number;

  /** Removes a node and every dependency on it. Its number goes to a later `addNode`. */
  removeNode(node: number): void;

  /** Replaces what `node` needs. Repeats are ignored; a node that needs itself is a cycle of one. */
  setDependencies(node: number, dependencies: readonly number[]): void;

  /**
   * Replaces the whole graph by the nodes 0 to `count` - 1, in time linear in nodes and dependencies. The order follows
   * the numbers as far as dependencies allow, each node soon after what it needs.
   */
  load(count: number, dependenciesOf: (node: number) => readonly number[]): void;

  /** What `node` needs directly, as given, without repeats. */
  dependenciesOf(node: number): number[];

  /** The nodes that need `node` directly, in no particular order. */
  dependantsOf(node: number): number[];

  /**
   * All that transitively need any of `sources`, in order; a source only if one of the sources is reached again.
   * Linear in the result, its edges and, where the result is scattered over the order, sorting it.
   */
  affected(sources: readonly number[]): Int32Array;

  /** `affected([source])`, kept until the version changes: the same array each time, not to be written to. */
  plan(source: number): Int32Array;

  /** A number that is lower for a dependency than for its dependant, off cycles. Holds until the next change of any kind. */
  rank(node: number): number;

  /** All nodes, dependencies first. */
  order(): Int32Array;

  /**
   * The knots: groups of nodes that all need one another, directly or by way of others, and nodes that need themselves.
   * Members ascending, knots by their first. Empty when there is no cycle.
   */
  knots(): readonly (readonly number[])[];

  /** The knot that `node` is in, the same array for all its members until the version changes; null off cycles. */
  knotOf(node: number): readonly number[] | null;

  /**
   * A shortest cycle through `node`: each needs the next, and the last needs the first, which is `node`. Null off cycles.
   * Costs what the knot has edges: ask for what is shown, not for every node of a large knot.
   */
  cycleThrough(node: number): readonly number[] | null;
}

/** An empty graph. */
export function createGraph(): Graph {
  return new LinkedGraph();
}

class LinkedGraph implements Graph {
  readonly #edges = new Edges();
  readonly #scratch = new Scratch();
  readonly #order = new Order(this.#edges, this.#scratch);
  readonly #plans = new Plans();
  readonly #free: number[] = [];
  #knots: Knots | null = null;
  #allocated = 0;
  #capacity = 0;
  #version = 0;

  get size(): number {
    return this.#allocated - this.#free.length;
  }

  get version(): number {
    return this.#version;
  }

  addNode(): number {
    let node = this.#free.pop();
    if (node === undefined) {
      node = this.#allocated;
      this.#allocated += 1;
      if (node === this.#capacity) this.#reserve(grownCapacity(this.#capacity));
    }
    this.#order.append(node);
    return node;
  }

  removeNode(node: number): void {
    this.#mustHave(node);
    for (const dependant of this.dependantsOf(node)) {
      this.setDependencies(
        dependant,
        this.dependenciesOf(dependant).filter((dependency) => dependency !== node),
      );
    }
    this.setDependencies(node, []);
    this.#order.remove(node);
    this.#free.push(node);
  }

  setDependencies(node: number, dependencies: readonly number[]): void {
    this.#mustHave(node);
    for (const dependency of dependencies) this.#mustHave(dependency);
    const { rank } = this.#order;
    const { mark, number: keptEdge } = this.#scratch;
    const { to, nextDependency, firstDependency } = this.#edges;
    const wanted = this.#scratch.stamps(3);
    const kept = wanted + 1;
    const chained = wanted + 2;
    for (const dependency of dependencies) mark[dependency] = wanted;

    let changed = false;
    let latestDropped = NONE;
    for (let edge = firstDependency[node] as number; edge !== NONE; ) {
      const next = nextDependency[edge] as number;
      const dependency = to[edge] as number;
      if (mark[dependency] === wanted) {
        mark[dependency] = kept;
        keptEdge[dependency] = edge;
      } else {
        const inForce = (rank[dependency] as number) < (rank[node] as number);
        if (inForce) latestDropped = Math.max(latestDropped, rank[dependency] as number);
        this.#edges.discard(edge);
        changed = true;
      }
      edge = next;
    }

    firstDependency[node] = NONE;
    let last = NONE;
    for (const dependency of dependencies) {
      if (mark[dependency] === chained) continue;
      const isNew = mark[dependency] !== kept;
      mark[dependency] = chained;
      const edge = isNew ? this.#edges.create(node, dependency) : (keptEdge[dependency] as number);
      last = this.#edges.chain(last, edge);
      changed ||= isNew;
    }

    if (!changed) return;
    this.#structureChanged();
    if (latestDropped !== NONE) this.#order.retry(rank[node] as number, latestDropped);
    this.#order.place(node);
  }

  load(count: number, dependenciesOf: (node: number) => readonly number[]): void {
    this.#reserve(loadedCapacity(count));
    this.#edges.clear(count);
    this.#free.length = 0;
    this.#allocated = count;
    this.#order.reset(count);
    const { mark } = this.#scratch;
    for (let node = 0; node < count; node += 1) {
      const stamp = this.#scratch.stamps(1);
      let last = NONE;
      for (const dependency of dependenciesOf(node)) {
        this.#mustHave(dependency);
        if (mark[dependency] === stamp) continue;
        mark[dependency] = stamp;
        last = this.#edges.chain(last, this.#edges.create(node, dependency));
      }
    }
    this.#edges.trim();
    this.#order.sortAll();
    this.#structureChanged();
  }

  dependenciesOf(node: number): number[] {
    this.#mustHave(node);
    const { firstDependency, nextDependency, to } = this.#edges;
    const found: number[] = [];
    for (let edge = firstDependency[node] as number; edge !== NONE; edge = nextDependency[edge] as number) {
      found.push(to[edge] as number);
    }
    return found;
  }

  dependantsOf(node: number): number[] {
    this.#mustHave(node);
    const { firstDependant, nextDependant, from } = this.#edges;
    const found: number[] = [];
    for (let edge = firstDependant[node] as number; edge !== NONE; edge = nextDependant[edge] as number) {
      found.push(from[edge] as number);
    }
    return found;
  }

  affected(sources: readonly number[]): Int32Array {
    for (const source of sources) this.#mustHave(source);
    return affected(sources, this.#edges, this.#order, this.#scratch);
  }

  plan(source: number): Int32Array {
    this.#mustHave(source);
    const known = this.#plans.get(source);
    if (known !== undefined) return known;
    const plan = this.affected([source]);
    this.#plans.keep(source, plan);
    return plan;
  }

  rank(node: number): number {
    this.#mustHave(node);
    return this.#order.rank[node] as number;
  }

  order(): Int32Array {
    return this.#order.nodes();
  }

  knots(): readonly (readonly number[])[] {
    return this.#currentKnots().members;
  }

  knotOf(node: number): readonly number[] | null {
    this.#mustHave(node);
    return this.#currentKnots().of(node);
  }

  cycleThrough(node: number): readonly number[] | null {
    this.#mustHave(node);
    return this.#currentKnots().cycleThrough(node);
  }

  #currentKnots(): Knots {
    this.#knots ??= new Knots(this.#edges, this.#order);
    return this.#knots;
  }

  #structureChanged(): void {
    this.#version += 1;
    this.#plans.clear();
    this.#knots = null;
  }

  #mustHave(node: number): void {
    if ((this.#order.rank[node] ?? NONE) === NONE) invariant(false, `node ${node} is in the graph`);
  }

  #reserve(capacity: number): void {
    this.#capacity = Math.max(this.#capacity, capacity);
    this.#edges.reserveNodes(capacity);
    this.#order.reserveNodes(capacity);
    this.#scratch.reserveNodes(capacity);
  }
}
