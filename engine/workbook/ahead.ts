import type { CheckedNode } from "../checker/checked.ts";
import { evaluate, type Outcome } from "../evaluator/evaluate.ts";
import type { Held, Memory } from "../evaluator/memory.ts";

interface Foreseen {
  readonly root: CheckedNode;
  /** What it found at each node that it read. */
  readonly found: ReadonlyMap<number, Held>;
  readonly outcome: Outcome;
}

/**
 * What lines will come to once a table holds other rows, worked out before it does. An outcome is good for as long as its
 * formula would read the very same again.
 */
export class Ahead implements Memory {
  readonly #now: Memory;
  /** What nodes will hold; the others hold what they hold now. */
  readonly #held = new Map<number, Held>();
  readonly #foreseen = new Map<number, Foreseen>();
  #found = new Map<number, Held>();
  #isCertain = true;

  constructor(now: Memory) {
    this.#now = now;
  }

  put(node: number, held: Held): void {
    this.#held.set(node, held);
  }

  read(node: number): Held {
    const held = this.#held.get(node) ?? this.#now.read(node);
    this.#found.set(node, held);
    return held;
  }

  /** Rests on more than what was read: such an outcome is not kept. */
  unfilled(): readonly number[] {
    this.#isCertain = false;
    return [];
  }

  logs(): readonly number[] {
    return this.unfilled();
  }

  workOut(node: number, root: CheckedNode): Outcome {
    this.#found = new Map();
    this.#isCertain = true;
    const outcome = evaluate(root, this);
    if (this.#isCertain) this.#foreseen.set(node, { root, found: this.#found, outcome });
    return outcome;
  }

  /** What the formula of a node comes to, where that was worked out ahead and still holds; else null. */
  outcomeOf(node: number, root: CheckedNode): Outcome | null {
    const foreseen = this.#foreseen.get(node);
    if (foreseen?.root !== root) return null;
    for (const [at, held] of foreseen.found) if (!isSame(held, this.#now.read(at))) return null;
    return foreseen.outcome;
  }
}

/** The same figure, text or column: a column with equal entries is another. */
const isSame = (a: Held, b: Held): boolean =>
  a.is === "value" && b.is === "value" ? Object.is(a.value, b.value) : a.is === b.is;
