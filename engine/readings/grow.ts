/** Rows that a column has room for at first; then it doubles. */
const FIRST_ROOM = 1024;

/** A column of numbers that grows row by row. */
export class NumberBuffer {
  #values = new Float64Array(FIRST_ROOM);
  #length = 0;

  push(value: number): void {
    if (this.#length === this.#values.length) {
      const larger = new Float64Array(this.#values.length * 2);
      larger.set(this.#values);
      this.#values = larger;
    }
    this.#values[this.#length] = value;
    this.#length += 1;
  }

  /** The column, in memory of its own length. */
  finish(): Float64Array {
    const values = this.#values.slice(0, this.#length);
    this.#values = new Float64Array(0);
    return values;
  }
}

/** Texts kept once however often they come: tanks, products and verdicts repeat. */
export class TextBuffer {
  readonly #known = new Map<string, string>();
  readonly #values: (string | null)[] = [];

  push(value: string): void {
    if (value === "") {
      this.#values.push(null);
      return;
    }
    let kept = this.#known.get(value);
    if (kept === undefined) {
      kept = value;
      // A column of remarks would fill the table of known texts for nothing.
      if (this.#known.size < MOST_KNOWN) this.#known.set(value, value);
    }
    this.#values.push(kept);
  }

  finish(): readonly (string | null)[] {
    return this.#values;
  }
}

const MOST_KNOWN = 4096;
