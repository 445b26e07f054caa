import { widened } from "./edges.ts";

/** Marks are compared with a stamp that only grows; before it leaves 31 bits they are all wiped. */
const LAST_STAMP = 0x7fff_fff0;

/** Working room shared by all searches over one graph, so that a search allocates nothing. One search at a time. */
export class Scratch {
  /** By node: the stamp of the last search that met it. */
  mark = new Int32Array(0);
  /** Nodes met, in the order met: a search that marks what it puts here never needs more room than there are nodes. */
  queue = new Int32Array(0);
  /** By node or by place in the queue: whatever the search likes. */
  number = new Int32Array(0);
  #stamp = 0;

  reserveNodes(capacity: number): void {
    this.mark = widened(this.mark, capacity, 0);
    this.queue = widened(this.queue, capacity, 0);
    this.number = widened(this.number, capacity, 0);
  }

  /** The first of `count` consecutive stamps that stand above every mark. */
  stamps(count: number): number {
    if (this.#stamp + count > LAST_STAMP) {
      this.mark.fill(0);
      this.#stamp = 0;
    }
    const first = this.#stamp + 1;
    this.#stamp += count;
    return first;
  }
}
