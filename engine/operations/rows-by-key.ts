import { isMissing, isNumberColumn, isTextColumn, type Value } from "../values/value.ts";

/** Finds the row of a key, or -1. */
export type FindRow = (key: number | string) => number;

/** Texts are looked up without case, as they are compared. */
const textKey = (text: string): string => text.normalize("NFC").toLowerCase();

/**
 * Finds the first row of the nearest figure that counts as equal by `equal`, or of the same text. Made once for all that is
 * asked of a column, so that a column of keys costs no more than sorting.
 */
export function rowsByKey(keys: Value, equal: (a: number, b: number) => boolean): FindRow {
  if (isNumberColumn(keys)) {
    const find = nearestRows(keys);
    return (key) => {
      const row = find(key as number);
      return row >= 0 && equal(keys[row] as number, key as number) ? row : -1;
    };
  }
  const rows = new Map<string, number>();
  if (isTextColumn(keys))
    for (const [row, entry] of keys.entries())
      if (entry !== null && !rows.has(textKey(entry))) rows.set(textKey(entry), row);
  return (key) => rows.get(textKey(key as string)) ?? -1;
}

/** Finds the row whose figure is nearest, of several the first. */
export function nearestRows(keys: Float64Array): (key: number) => number {
  const known = Array.from(keys.keys()).filter((row) => !isMissing(keys[row] as number));
  const sorted = Int32Array.from(known).sort((a, b) => (keys[a] as number) - (keys[b] as number) || a - b);
  // Of equal figures the first row stands for all.
  const rows = sorted.filter((row, at) => at === 0 || keys[row] !== keys[sorted[at - 1] as number]);
  const far = (at: number, key: number): number =>
    at < 0 || at >= rows.length ? Number.POSITIVE_INFINITY : Math.abs((keys[rows[at] as number] as number) - key);
  return (key) => {
    let [low, high] = [0, rows.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((keys[rows[middle] as number] as number) < key) low = middle + 1;
      else high = middle;
    }
    if (rows.length === 0) return -1;
    const [below, above] = [far(low - 1, key), far(low, key)];
    if (below === above) return Math.min(rows[low - 1] as number, rows[low] as number);
    return rows[below < above ? low - 1 : low] as number;
  };
}
