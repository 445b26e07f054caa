/** The end of a list, a rank nobody holds, no node. */
export const NONE = -1;

/** Below this share in use, the rest is given back after a bulk load. */
const WORTH_TRIMMING = 0.9;

/** Room for `count` loaded entries and a sixteenth more, so that the first edits do not pay for moving them all. */
export const loadedCapacity = (count: number): number => count + (count >> 4);

/** 32-bit integers in memory of their own. */
type Integers = Int32Array<ArrayBuffer>;

/** `array` with room for `length` entries; the added entries hold `fill`. */
export function widened(array: Integers, length: number, fill: number): Integers {
  if (array.length >= length) return array;
  const wider = new Int32Array(length);
  wider.set(array);
  if (fill !== 0) wider.fill(fill, array.length);
  return wider;
}

/** The next capacity of a list that grows one by one: by a share of itself, which keeps the copying linear in total. */
export const grownCapacity = (capacity: number): number => Math.max(16, Math.ceil(capacity * 1.25));

/**
 * Edges "from needs to" in pooled typed arrays, each on two linked lists: the dependencies of `from`, in the order they
 * were chained, and the dependants of `to`, in no particular order. An edge leaves a dependants list in constant time,
 * however many dependants there are. 20 bytes an edge and 8 bytes a node.
 *
 * Walk a list with `for (let edge = firstDependency[node]; edge !== NONE; edge = nextDependency[edge])`.
 */
export class Edges {
  from = new Int32Array(0);
  to = new Int32Array(0);
  nextDependency = new Int32Array(0);
  nextDependant = new Int32Array(0);
  firstDependency = new Int32Array(0);
  firstDependant = new Int32Array(0);
  #previousDependant = new Int32Array(0);
  #used = 0;
  #firstFree = NONE;

  reserveNodes(capacity: number): void {
    this.firstDependency = widened(this.firstDependency, capacity, NONE);
    this.firstDependant = widened(this.firstDependant, capacity, NONE);
  }

  /** Forgets all edges, and makes room for `expected` new ones. */
  clear(expected: number): void {
    this.#resize(loadedCapacity(expected));
    this.firstDependency.fill(NONE);
    this.firstDependant.fill(NONE);
    this.#used = 0;
    this.#firstFree = NONE;
  }

  /** A new edge on the dependants list of `to`; its place among the dependencies of `from` is given by `chain`. */
  create(from: number, to: number): number {
    const edge = this.#take();
    const next = this.firstDependant[to] as number;
    this.from[edge] = from;
    this.to[edge] = to;
    this.nextDependant[edge] = next;
    this.#previousDependant[edge] = NONE;
    if (next !== NONE) this.#previousDependant[next] = edge;
    this.firstDependant[to] = edge;
    return edge;
  }

  /** Puts `edge` after `last` (`NONE`: first) as the last dependency of its node, and returns it as the new last. */
  chain(last: number, edge: number): number {
    if (last === NONE) this.firstDependency[this.from[edge] as number] = edge;
    else this.nextDependency[last] = edge;
    this.nextDependency[edge] = NONE;
    return edge;
  }

  /** Takes `edge` off its dependants list and frees it; its dependencies list must be chained anew by the caller. */
  discard(edge: number): void {
    const previous = this.#previousDependant[edge] as number;
    const next = this.nextDependant[edge] as number;
    if (previous === NONE) this.firstDependant[this.to[edge] as number] = next;
    else this.nextDependant[previous] = next;
    if (next !== NONE) this.#previousDependant[next] = previous;
    this.nextDependency[edge] = this.#firstFree;
    this.#firstFree = edge;
  }

  /** Gives back the room beyond the edges in use, where it is worth the copying: for the end of a bulk load. */
  trim(): void {
    if (this.#used < this.from.length * WORTH_TRIMMING) this.#resize(loadedCapacity(this.#used));
  }

  #take(): number {
    const free = this.#firstFree;
    if (free !== NONE) {
      this.#firstFree = this.nextDependency[free] as number;
      return free;
    }
    if (this.#used === this.from.length) this.#resize(grownCapacity(this.#used));
    this.#used += 1;
    return this.#used - 1;
  }

  #resize(capacity: number): void {
    const resized = (array: Integers): Integers => {
      const copy = new Int32Array(capacity);
      copy.set(array.subarray(0, Math.min(capacity, array.length)));
      return copy;
    };
    this.from = resized(this.from);
    this.to = resized(this.to);
    this.nextDependency = resized(this.nextDependency);
    this.nextDependant = resized(this.nextDependant);
    this.#previousDependant = resized(this.#previousDependant);
  }
}
