import { type Edges, grownCapacity, loadedCapacity, NONE, widened } from "./edges.ts";
import type { Scratch } from "./scratch.ts";

/** Looking backward may cost this many times what looking forward did, and this much in any case, before it is given up. */
const BACKWARD_PER_FORWARD = 2;
const BACKWARD_AT_LEAST = 64;

/** From this many strained nodes on, sorting the whole graph in linear time is the safer bound than trying each. */
const MOST_RETRIES = 16;

/** Nodes are put in order by walking the ranks they span while that is at most this many ranks a node; else by sorting. */
const RANKS_A_NODE = 16;

/** Room for nodes that are moved to the end, as a share of the nodes: closing the gaps then costs a few steps a move. */
const SPARE_SHARE = 0.25;

/**
 * A topological order kept valid edit by edit: each node has a rank, and each dependency a lower rank than its dependant,
 * except the dependencies that close a cycle. A node with such a dependency, or with itself as one, is *strained*.
 * An edge is in force exactly when its ranks agree with it, so searches tell the others apart by comparing ranks.
 *
 * The method is that of D. J. Pearce and P. H. J. Kelly, "A dynamic topological sort algorithm for directed acyclic
 * graphs", ACM Journal of Experimental Algorithmics 11 (2006), with all new dependencies of a node placed in one search,
 * and with one escape: where the dependencies to be moved forward outgrow the dependants, the dependants go to the end.
 * Ranks may thus have gaps.
 */
export class Order {
  /** By node; `NONE` for a removed node. */
  rank = new Int32Array(0);
  readonly strained = new Set<number>();
  readonly #edges: Edges;
  readonly #scratch: Scratch;
  #nodeAt = new Int32Array(0);
  #end = 0;
  #live = 0;

  constructor(edges: Edges, scratch: Scratch) {
    this.#edges = edges;
    this.#scratch = scratch;
  }

  reserveNodes(capacity: number): void {
    this.rank = widened(this.rank, capacity, NONE);
  }

  /** Makes the nodes 0 to `count` - 1 the only ones; `sortAll` must follow. */
  reset(count: number): void {
    this.rank.fill(NONE);
    this.rank.fill(0, 0, count);
    this.#nodeAt = new Int32Array(loadedCapacity(count));
    this.#live = count;
  }

  /** Adds a node without edges, last. */
  append(node: number): void {
    this.#live += 1;
    this.#putLast(node);
  }

  /** Removes a node without edges. */
  remove(node: number): void {
    this.#live -= 1;
    this.#nodeAt[this.rank[node] as number] = NONE;
    this.rank[node] = NONE;
  }

  /** All nodes, dependencies first. */
  nodes(): Int32Array {
    return this.#nodeAt.slice(0, this.#end).filter((node) => node !== NONE);
  }

  /** The highest rank among the dependencies of `node`; `NONE` without any. */
  latestDependency(node: number): number {
    const { firstDependency, nextDependency, to } = this.#edges;
    let latest = NONE;
    for (let edge = firstDependency[node] as number; edge !== NONE; edge = nextDependency[edge] as number) {
      latest = Math.max(latest, this.rank[to[edge] as number] as number);
    }
    return latest;
  }

  /** Brings `node` behind those of its dependencies that do not need it in turn; `node` is strained if some do. */
  place(node: number): void {
    const { rank } = this;
    const { firstDependency, nextDependency, to } = this.#edges;
    const { mark } = this.#scratch;
    const here = rank[node] as number;
    const wanted = this.#scratch.stamps(3);
    let late = 0;
    let latest = here;
    let needsItself = false;
    for (let edge = firstDependency[node] as number; edge !== NONE; edge = nextDependency[edge] as number) {
      const dependency = to[edge] as number;
      const there = rank[dependency] as number;
      if (dependency === node) needsItself = true;
      if (there <= here) continue;
      mark[dependency] = wanted;
      late += 1;
      latest = Math.max(latest, there);
    }
    const circular = late === 0 ? 0 : this.#bringBehind(node, late, latest, wanted);
    if (needsItself || circular > 0) this.strained.add(node);
    else this.strained.delete(node);
  }

  /**
   * Tries the strained nodes again after dependencies of a node of rank `dependant` were dropped, the last of them of
   * rank `dependency`. A strained node can be freed only if the dropped edge lay between it and its latest dependency.
   */
  retry(dependant: number, dependency: number): void {
    const candidates: number[] = [];
    for (const node of this.strained) {
      if ((this.rank[node] as number) <= dependency && this.latestDependency(node) >= dependant) candidates.push(node);
    }
    if (candidates.length > MOST_RETRIES) this.sortAll();
    else for (const node of candidates) this.place(node);
  }

  /** Orders all nodes from scratch, in linear time: depth first, so that a node stands soon after what it needs. */
  sortAll(): void {
    const { rank } = this;
    const { firstDependency, nextDependency, to } = this.#edges;
    const { mark, queue: stack, number: nextEdge } = this.#scratch;
    const open = this.#scratch.stamps(2);
    const done = open + 1;
    this.strained.clear();
    this.#end = 0;
    for (let root = 0; root < rank.length; root += 1) {
      if (rank[root] === NONE || mark[root] === done) continue;
      let depth = 0;
      stack[0] = root;
      mark[root] = open;
      nextEdge[root] = firstDependency[root] as number;
      while (depth >= 0) {
        const node = stack[depth] as number;
        const edge = nextEdge[node] as number;
        if (edge === NONE) {
          mark[node] = done;
          rank[node] = this.#end;
          this.#nodeAt[this.#end] = node;
          this.#end += 1;
          depth -= 1;
          continue;
        }
        nextEdge[node] = nextDependency[edge] as number;
        const dependency = to[edge] as number;
        if (mark[dependency] === open) this.strained.add(node);
        else if (mark[dependency] !== done) {
          depth += 1;
          stack[depth] = dependency;
          mark[dependency] = open;
          nextEdge[dependency] = firstDependency[dependency] as number;
        }
      }
    }
  }

  /** Puts the first `count` nodes of the queue in order of rank. They must be the only nodes with a mark of `stamp` or more. */
  sortQueue(count: number, stamp: number): void {
    const { rank } = this;
    const { mark, queue } = this.#scratch;
    const nodeAt = this.#nodeAt;
    let low = this.#end;
    let high = NONE;
    for (let at = 0; at < count; at += 1) {
      const place = rank[queue[at] as number] as number;
      if (place < low) low = place;
      if (place > high) high = place;
    }
    if (high - low <= RANKS_A_NODE * count) {
      let at = 0;
      for (let place = low; place <= high; place += 1) {
        const node = nodeAt[place] as number;
        if (node === NONE || (mark[node] as number) < stamp) continue;
        queue[at] = node;
        at += 1;
      }
      return;
    }
    for (let at = 0; at < count; at += 1) queue[at] = rank[queue[at] as number] as number;
    queue.subarray(0, count).sort();
    for (let at = 0; at < count; at += 1) queue[at] = nodeAt[queue[at] as number] as number;
  }

  /**
   * Brings `node` behind those of its `late` dependencies (marked `wanted`, `latest` is their highest rank) that do not
   * need it. Returns how many do.
   */
  #bringBehind(node: number, late: number, latest: number, wanted: number): number {
    const { rank } = this;
    const { mark, queue } = this.#scratch;
    const { firstDependency, nextDependency, to } = this.#edges;
    const here = rank[node] as number;
    const forward = wanted + 1;
    const backward = wanted + 2;

    const dependants = this.#dependants(node, latest, forward);
    let circular = 0;
    for (let edge = firstDependency[node] as number; edge !== NONE; edge = nextDependency[edge] as number) {
      const dependency = to[edge] as number;
      if (mark[dependency] === forward && dependency !== node) circular += 1;
    }
    if (circular === late) return circular;

    const limit = dependants * (1 + BACKWARD_PER_FORWARD) + BACKWARD_AT_LEAST;
    let count = dependants;
    let scanned = node;
    for (let head = dependants; ; head += 1) {
      const below = scanned === node ? Number.POSITIVE_INFINITY : (rank[scanned] as number);
      for (let edge = firstDependency[scanned] as number; edge !== NONE; edge = nextDependency[edge] as number) {
        const dependency = to[edge] as number;
        const there = rank[dependency] as number;
        if (there <= here || there >= below || (mark[dependency] as number) >= forward) continue;
        mark[dependency] = backward;
        queue[count] = dependency;
        count += 1;
      }
      if (count > limit) {
        this.#moveToEnd(node);
        return circular;
      }
      if (head === count) break;
      scanned = queue[head] as number;
    }
    this.#interchange(count, forward);
    return circular;
  }

  /** Queues and marks `node` and all that depend on it, up to rank `latest`. Returns how many they are. */
  #dependants(node: number, latest: number, stamp: number): number {
    const { rank } = this;
    const { mark, queue } = this.#scratch;
    const { firstDependant, nextDependant, from } = this.#edges;
    let count = 1;
    queue[0] = node;
    mark[node] = stamp;
    for (let head = 0; head < count; head += 1) {
      const reached = queue[head] as number;
      const here = rank[reached] as number;
      for (let edge = firstDependant[reached] as number; edge !== NONE; edge = nextDependant[edge] as number) {
        const dependant = from[edge] as number;
        const there = rank[dependant] as number;
        if (there <= here || there > latest || mark[dependant] === stamp) continue;
        mark[dependant] = stamp;
        queue[count] = dependant;
        count += 1;
      }
    }
    return count;
  }

  /** Deals the ranks of the queued nodes out anew: first those marked above `forward`, then those marked `forward`. */
  #interchange(count: number, forward: number): void {
    const { mark, queue, number: ranks } = this.#scratch;
    this.sortQueue(count, forward);
    for (let at = 0; at < count; at += 1) ranks[at] = this.rank[queue[at] as number] as number;
    let next = 0;
    for (const first of [true, false]) {
      for (let at = 0; at < count; at += 1) {
        const node = queue[at] as number;
        if ((mark[node] as number) > forward !== first) continue;
        const place = ranks[next] as number;
        next += 1;
        this.rank[node] = place;
        this.#nodeAt[place] = node;
      }
    }
  }

  /** Moves `node` and all that depend on it behind all other nodes. */
  #moveToEnd(node: number): void {
    const stamp = this.#scratch.stamps(1);
    const count = this.#dependants(node, this.#end, stamp);
    this.sortQueue(count, stamp);
    for (let at = 0; at < count; at += 1) {
      const moved = this.#scratch.queue[at] as number;
      this.#nodeAt[this.rank[moved] as number] = NONE;
      this.#putLast(moved);
    }
  }

  #putLast(node: number): void {
    if (this.#end === this.#nodeAt.length) this.#closeGaps();
    this.rank[node] = this.#end;
    this.#nodeAt[this.#end] = node;
    this.#end += 1;
  }

  /** Makes room at the end: by taking the gaps out, and by growing where they are too few to be worth it. */
  #closeGaps(): void {
    const before = this.#nodeAt;
    const room = Math.ceil(this.#live * (1 + SPARE_SHARE));
    if (room > before.length) {
      this.#nodeAt = widened(before, Math.max(room, grownCapacity(before.length)), NONE);
      return;
    }
    let end = 0;
    for (let place = 0; place < this.#end; place += 1) {
      const node = before[place] as number;
      if (node === NONE) continue;
      before[end] = node;
      this.rank[node] = end;
      end += 1;
    }
    this.#end = end;
  }
}
