import { type Edges, NONE } from "./edges.ts";
import type { Order } from "./order.ts";

/** Above every visit number: a node whose knot is complete. */
const CLOSED = 0x7fff_ffff;

/**
 * The knots of a graph: its strongly connected components of more than one node, and its nodes that need themselves.
 * Every node of a knot is on a cycle, and no other node is.
 */
export class Knots {
  /** Members of each knot by ascending node; knots by their first member. */
  readonly members: readonly (readonly number[])[];
  readonly #edges: Edges;
  /** By node: 1 + index of its knot, 0 without one; nodes beyond the end have none. */
  readonly #knotOf: Int32Array;

  constructor(edges: Edges, order: Order) {
    this.#edges = edges;
    this.members = order.strained.size === 0 ? [] : findKnots(edges, order);
    this.#knotOf = new Int32Array(this.members.length === 0 ? 0 : order.rank.length);
    this.members.forEach((members, index) => {
      for (const node of members) this.#knotOf[node] = index + 1;
    });
  }

  of(node: number): readonly number[] | null {
    return this.members[(this.#knotOf[node] ?? 0) - 1] ?? null;
  }

  /**
   * A shortest cycle through `node`: each needs the next, the last needs the first, which is `node`. Of several, the one
   * along the earlier dependencies. Null for a node on none. Costs what its knot has edges.
   */
  cycleThrough(node: number): readonly number[] | null {
    const knot = this.#knotOf[node] ?? 0;
    if (knot === 0) return null;
    const { firstDependency, nextDependency, to } = this.#edges;
    const neededBy = new Map<number, number>();
    const queue = [node];
    for (const reached of queue) {
      for (let edge = firstDependency[reached] as number; edge !== NONE; edge = nextDependency[edge] as number) {
        const dependency = to[edge] as number;
        if (dependency === node) return pathTo(reached, neededBy);
        if (this.#knotOf[dependency] !== knot || neededBy.has(dependency)) continue;
        neededBy.set(dependency, reached);
        queue.push(dependency);
      }
    }
    return null;
  }
}

function pathTo(last: number, neededBy: ReadonlyMap<number, number>): number[] {
  const path: number[] = [];
  for (let node: number | undefined = last; node !== undefined; node = neededBy.get(node)) path.push(node);
  return path.reverse();
}

/**
 * R. Tarjan, "Depth-first search and linear graph algorithms", SIAM Journal on Computing 1 (1972), with a stack of its own.
 * Every cycle leads through a strained node, and stays between the first of them and the last of their dependencies: the
 * search starts at the former and does not leave that stretch of the order, by which its working arrays are indexed.
 */
function findKnots(edges: Edges, order: Order): number[][] {
  const { rank, strained } = order;
  const { firstDependency, nextDependency, to } = edges;
  let start = Number.POSITIVE_INFINITY;
  let end = NONE;
  for (const node of strained) {
    start = Math.min(start, rank[node] as number);
    end = Math.max(end, order.latestDependency(node));
  }
  const span = end - start + 1;
  const visit = new Int32Array(span);
  const earliest = new Int32Array(span);
  const nextEdge = new Int32Array(span);
  const path: number[] = [];
  const pending: number[] = [];
  const knots: number[][] = [];
  let visits = 0;

  const enter = (node: number): void => {
    const place = (rank[node] as number) - start;
    visits += 1;
    visit[place] = visits;
    earliest[place] = visits;
    nextEdge[place] = firstDependency[node] as number;
    path.push(node);
    pending.push(node);
  };

  const close = (node: number): void => {
    const members: number[] = [];
    let member: number;
    do {
      member = pending.pop() as number;
      visit[(rank[member] as number) - start] = CLOSED;
      members.push(member);
    } while (member !== node);
    if (members.length > 1 || needsItself(edges, node)) knots.push(members.sort((a, b) => a - b));
  };

  for (const root of strained) {
    if (visit[(rank[root] as number) - start] !== 0) continue;
    enter(root);
    while (path.length > 0) {
      const node = path[path.length - 1] as number;
      const place = (rank[node] as number) - start;
      const edge = nextEdge[place] as number;
      if (edge !== NONE) {
        nextEdge[place] = nextDependency[edge] as number;
        const dependency = to[edge] as number;
        const there = (rank[dependency] as number) - start;
        if (there < 0 || there >= span) continue;
        if (visit[there] === 0) enter(dependency);
        else earliest[place] = Math.min(earliest[place] as number, visit[there] as number);
        continue;
      }
      path.pop();
      if (earliest[place] === visit[place]) close(node);
      const parent = path[path.length - 1];
      if (parent === undefined) continue;
      const above = (rank[parent] as number) - start;
      earliest[above] = Math.min(earliest[above] as number, earliest[place] as number);
    }
  }
  return knots.sort((a, b) => (a[0] as number) - (b[0] as number));
}

function needsItself(edges: Edges, node: number): boolean {
  const { firstDependency, nextDependency, to } = edges;
  for (let edge = firstDependency[node] as number; edge !== NONE; edge = nextDependency[edge] as number) {
    if (to[edge] === node) return true;
  }
  return false;
}
