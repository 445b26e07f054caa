/** Optimal string alignment distance (insert, delete, replace, swap of neighbours), given up once above `limit`. */
function distance(a: string, b: string, limit: number): number {
  if (Math.abs(a.length - b.length) > limit) return limit + 1;
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    let best = i;
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1];
      let cost = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        cost = Math.min(cost, (before[j - 2] ?? 0) + 1);
      row.push(cost);
      best = Math.min(best, cost);
    }
    if (best > limit) return limit + 1;
    before = last;
    last = row;
  }
  return last[b.length] ?? limit + 1;
}

/** A slip of the pen is at most a third of a word, one letter of two, and never more than three; a single letter is near to nothing. */
const slips = (word: string): number => (word.length < 2 ? 0 : Math.min(3, Math.max(1, Math.floor(word.length / 3))));

/** The candidate that `word` was most likely meant to be, or null when none is near. Ignores case first. */
export function nearestSpelling(word: string, candidates: Iterable<string>): string | null {
  const wanted = word.toLowerCase();
  let best: string | null = null;
  let least = slips(word) + 1;
  for (const candidate of candidates) {
    const far = distance(wanted, candidate.toLowerCase(), least);
    if (far < least) {
      least = far;
      best = candidate;
    }
  }
  return best;
}
