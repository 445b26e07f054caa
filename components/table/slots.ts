/** So many rows that come into view are made anew; where more come, as after a jump, filling what is there is quicker. */
const FEW = 3;

/** A place in the order of the drawn rows: the key of its elements, and the row that they show; null: they are not wanted now. */
export interface Slot {
  readonly key: number;
  readonly row: number | null;
}

/**
 * Which elements show which row. While few rows come and go each keeps its own. Where many come at once the rows fill the
 * elements that are there, in the order in which these stand: that is many times quicker than making and removing them.
 * The row in hand keeps its elements, and these are never moved, for that would take the focus away: what stands before
 * them stays before and what stands after stays after, wanted or not.
 */
export class Slots {
  #slots: readonly Slot[] = [];
  #inHand = -1;
  #next = 0;

  #fresh(): number {
    this.#next += 1;
    return this.#next;
  }

  /** Where the rows stand that are to be drawn, given in rising order. `inHand` is among them for as long as it may have the focus. */
  arrange(rows: readonly number[], inHand: number): readonly Slot[] {
    const here = inHand === this.#inHand ? this.#slots : this.#slots.filter(({ row }) => row !== null);
    const known = new Map(here.map(({ key, row }) => [row, key]));
    const few = rows.filter((row) => !known.has(row)).length <= FEW;
    const fill = (wanted: readonly number[], slots: readonly Slot[]): Slot[] => {
      if (few) {
        const kept = slots.filter(({ row }) => row === null);
        return [...wanted.map((row) => ({ key: known.get(row) ?? this.#fresh(), row })), ...kept];
      }
      return Array.from({ length: Math.max(wanted.length, slots.length) }, (_, at) => ({
        key: slots[at]?.key ?? this.#fresh(),
        row: wanted[at] ?? null,
      }));
    };
    const at = here.findIndex(({ row }) => row === inHand);
    const hand = here[at];
    this.#inHand = inHand;
    this.#slots =
      hand === undefined
        ? fill(rows, here)
        : [
            ...fill(
              rows.filter((row) => row < inHand),
              here.slice(0, at),
            ),
            hand,
            ...fill(
              rows.filter((row) => row > inHand),
              here.slice(at + 1),
            ),
          ];
    return this.#slots;
  }
}
