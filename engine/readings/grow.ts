/** Rows that a column has room for at first; then it doubles. */
const FIRST_ROOM = 1024;

/** A column of numbers that grows row by row. */
export class NumberBuffer {
  #values = new Float64Array(FIRST_ROOM);

  /** Writes a value at a row that is there already, or is the next one. */
  put(row: number, value: number): void {
    if (row === this.#values.length) {
      const larger = new Float64Array(row * 2);
      larger.set(this.#values);
      this.#values = larger;
    }
    this.#values[row] = value;
  }

  /** The column of the first `rows` rows, in memory of its own length. */
  finish(rows: number): Float64Array {
    const values = this.#values.slice(0, rows);
    this.#values = new Float64Array(0);
    return values;
  }
}
