/**
 * How many steps of arithmetic one formula may come to when the functions it calls are put in place of their calls: a few
 * functions that each call the one before twice would else come to millions.
 */
export const STEPS_LIMIT = 10_000;

/** How deep a formula may nest when the functions it calls are put in; what the call stack bears is several times this. */
export const DEPTH_LIMIT = 800;

/** How much one formula has come to so far, its functions put in. Shared by all parts of one check. */
export class Work {
  steps = 0;
  /** How deep the part in hand is. */
  depth = 0;
  /** The greatest depth since it was last set. */
  deepest = 0;
  /** Set for good once a limit is passed: nothing that is found from then on holds for another formula. */
  excessive = false;

  enter(): void {
    this.steps += 1;
    this.depth += 1;
    if (this.depth > this.deepest) this.deepest = this.depth;
  }

  leave(): void {
    this.depth -= 1;
  }

  /** Adds a function's body that was measured before. */
  add({ steps, depth }: { readonly steps: number; readonly depth: number }): void {
    this.steps += steps;
    this.deepest = Math.max(this.deepest, this.depth + depth);
  }

  /** Notes whether a limit is passed now; says so the first time only. */
  passes(): boolean {
    if (this.excessive || (this.steps <= STEPS_LIMIT && this.deepest <= DEPTH_LIMIT)) return false;
    this.excessive = true;
    return true;
  }
}
