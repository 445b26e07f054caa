/** Seeded chance: the same seed makes the same inputs (mulberry32, public domain). */
export class Chance {
  #state: number;

  constructor(seed: number) {
    this.#state = seed | 0;
  }

  /** In [0, 1). */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  }

  /** A whole number from 0 up to below `end`. */
  below(end: number): number {
    return Math.floor(this.next() * end);
  }

  /** Whether something that happens once in `times` happens now. */
  once(times: number): boolean {
    return this.below(times) === 0;
  }

  pick<T>(from: readonly T[]): T {
    return from[this.below(from.length)] as T;
  }

  /** Some of these joined, at most `most` of them. */
  some(from: readonly string[], most: number, between = ""): string {
    return Array.from({ length: this.below(most + 1) }, () => this.pick(from)).join(between);
  }
}
