import { type Edges, NONE } from "./edges.ts";
import type { Order } from "./order.ts";
import type { Scratch } from "./scratch.ts";

/** All plans kept may hold this many entries together (4 MB): ten plans of 100,000 nodes, or one of a million. */
const MOST_PLAN_ENTRIES = 1_048_576;

/** What keeping a plan costs beside its nodes, in entries: a typed array and a map entry are some 200 bytes. */
const ENTRIES_A_PLAN = 50;

/** All that transitively depend on any of `sources`, in order. A source is among them only if one of the sources reaches it. */
export function affected(sources: readonly number[], edges: Edges, order: Order, scratch: Scratch): Int32Array {
  const { firstDependant, nextDependant, from } = edges;
  const { mark, queue } = scratch;
  const stamp = scratch.stamps(1);
  let count = 0;
  const reachFrom = (node: number): void => {
    for (let edge = firstDependant[node] as number; edge !== NONE; edge = nextDependant[edge] as number) {
      const dependant = from[edge] as number;
      if (mark[dependant] === stamp) continue;
      mark[dependant] = stamp;
      queue[count] = dependant;
      count += 1;
    }
  };
  for (const source of sources) reachFrom(source);
  for (let head = 0; head < count; head += 1) reachFrom(queue[head] as number);
  order.sortQueue(count, stamp);
  return queue.slice(0, count);
}

/** Plans by source, the oldest given up first when there are too many entries. */
export class Plans {
  readonly #kept = new Map<number, Int32Array>();
  #entries = 0;

  get(source: number): Int32Array | undefined {
    return this.#kept.get(source);
  }

  keep(source: number, plan: Int32Array): void {
    const entries = plan.length + ENTRIES_A_PLAN;
    if (entries > MOST_PLAN_ENTRIES) return;
    this.#entries += entries;
    for (const [oldest, given] of this.#kept) {
      if (this.#entries <= MOST_PLAN_ENTRIES) break;
      this.#kept.delete(oldest);
      this.#entries -= given.length + ENTRIES_A_PLAN;
    }
    this.#kept.set(source, plan);
  }

  clear(): void {
    this.#kept.clear();
    this.#entries = 0;
  }
}
