/** A figure drawn from a column, and how many of its entries it rests on: missing entries (NaN) are left out. */
export interface Drawn {
  /** NaN where too few entries are present. */
  readonly value: number;
  readonly used: number;
}

const present = (values: Float64Array): Float64Array => values.filter((value) => !Number.isNaN(value));

/** Adds up what it is given and carries the digits lost at each step (Neumaier 1974), so that long columns keep full precision. */
class CarriedSum {
  #sum = 0;
  #lost = 0;

  add(value: number): void {
    const sum = this.#sum;
    const next = sum + value;
    this.#lost += Math.abs(sum) >= Math.abs(value) ? sum - next + value : value - next + sum;
    this.#sum = next;
  }

  /** An infinite sum makes the lost digits NaN; the sum itself is then the answer. */
  get total(): number {
    return Number.isFinite(this.#lost) ? this.#sum + this.#lost : this.#sum;
  }
}

/** Sum of the entries that are present; 0 for none. */
export function compensatedSum(values: Float64Array): Drawn {
  const sum = new CarriedSum();
  let used = 0;
  for (let row = 0; row < values.length; row += 1) {
    const value = values[row] as number;
    if (Number.isNaN(value)) continue;
    sum.add(value);
    used += 1;
  }
  return { value: sum.total, used };
}

/** Arithmetic mean; NaN for no entry. */
export function meanOf(values: Float64Array): Drawn {
  const { value, used } = compensatedSum(values);
  return { value: value / used, used };
}

/** Sample standard deviation (n − 1) by two passes; NaN below two entries. */
export function sampleDeviation(values: Float64Array): Drawn {
  const { value: mean, used } = meanOf(values);
  if (used < 2) return { value: Number.NaN, used };
  const squares = new CarriedSum();
  for (let row = 0; row < values.length; row += 1) {
    const apart = (values[row] as number) - mean;
    if (!Number.isNaN(apart)) squares.add(apart * apart);
  }
  return { value: Math.sqrt(squares.total / (used - 1)), used };
}

/** Middle entry, or the mean of the two middle ones; NaN for no entry. */
export function medianOf(values: Float64Array): Drawn {
  const kept = present(values).sort();
  const upper = kept[kept.length >> 1] ?? Number.NaN;
  const lower = kept[(kept.length - 1) >> 1] ?? Number.NaN;
  return { value: lower + (upper - lower) / 2, used: kept.length };
}

/** The straight line of least squares through pairs; all NaN below two pairs or where every x is the same. */
export interface Line {
  readonly slope: number;
  readonly intercept: number;
  /** Standard deviation about the line, n − 2 degrees of freedom; NaN below three pairs. */
  readonly residualDeviation: number;
  /** Correlation, −1 to 1; NaN where every y is the same. */
  readonly correlation: number;
  readonly used: number;
}

/** Least-squares line by centred sums, over the pairs of which both entries are present. The columns have one length. */
export function lineOf(xs: Float64Array, ys: Float64Array): Line {
  const both = (_: number, row: number): boolean => !Number.isNaN(xs[row]) && !Number.isNaN(ys[row]);
  const x = xs.filter(both);
  const y = ys.filter(both);
  const used = x.length;
  const [meanX, meanY] = [meanOf(x).value, meanOf(y).value];
  const dx = x.map((value) => value - meanX);
  const dy = y.map((value) => value - meanY);
  const products = (a: Float64Array, b: Float64Array): number =>
    compensatedSum(a.map((value, row) => value * (b[row] ?? 0))).value;
  const [xx, xy, yy] = [products(dx, dx), products(dx, dy), products(dy, dy)];
  const slope = xx > 0 ? xy / xx : Number.NaN;
  const residuals = dy.map((value, row) => value - slope * (dx[row] ?? 0));
  return {
    slope,
    intercept: meanY - slope * meanX,
    residualDeviation: used > 2 ? Math.sqrt(products(residuals, residuals) / (used - 2)) : Number.NaN,
    correlation: xx > 0 && yy > 0 ? xy / Math.sqrt(xx * yy) : Number.NaN,
    used,
  };
}

/** Slope of the least-squares line of ys over xs; NaN below two pairs or where every x is the same. */
export function slopeOf(xs: Float64Array, ys: Float64Array): Drawn {
  const { slope, used } = lineOf(xs, ys);
  return { value: slope, used };
}

/** A calibration table made ready to read: pairs in rising order of x, none missing. */
export interface Curve {
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  /** An x that stands in the table twice with different y, or null: such a table gives no value. */
  readonly doubled: number | null;
}

/** What a calibration table says at one x. `outside` names the ends of the table; `doubled` the x given twice. */
export type Interpolated =
  | { readonly is: "value"; readonly value: number }
  | { readonly is: "empty" }
  | { readonly is: "outside"; readonly low: number; readonly high: number }
  | { readonly is: "doubled"; readonly at: number };

/** Puts a table in rising order of x, whatever order it was written in, without pairs that lack an entry. The columns have one length. */
export function curveOf(xs: Float64Array, ys: Float64Array): Curve {
  const pairs = Array.from(xs, (x, row) => [x, ys[row] ?? Number.NaN] as const)
    .filter(([x, y]) => !Number.isNaN(x) && !Number.isNaN(y))
    .sort(([a], [b]) => a - b);
  let doubled: number | null = null;
  const kept = pairs.filter(([x, y], row) => {
    const before = pairs[row - 1];
    if (before?.[0] !== x) return true;
    if (before[1] !== y) doubled = x;
    return false;
  });
  return { xs: Float64Array.from(kept, ([x]) => x), ys: Float64Array.from(kept, ([, y]) => y), doubled };
}

/** How far beyond the last entry still reads as that entry: what conversion between units may leave of an equal figure. */
const END_TOLERANCE = 1e-9;

/** Linear interpolation between the neighbouring entries; an x on an entry gives exactly that entry. */
export function readCurve(curve: Curve, at: number): Interpolated {
  const { xs, ys, doubled } = curve;
  const [low, high] = [xs[0], xs[xs.length - 1]];
  if (low === undefined || high === undefined) return { is: "empty" };
  if (doubled !== null) return { is: "doubled", at: doubled };
  const slack = END_TOLERANCE * Math.max(Math.abs(low), Math.abs(high));
  if (!(at >= low - slack && at <= high + slack)) return { is: "outside", low, high };
  let [before, after] = [0, xs.length - 1];
  while (after - before > 1) {
    const middle = (before + after) >> 1;
    if ((xs[middle] ?? 0) <= at) before = middle;
    else after = middle;
  }
  const [x0, x1, y0, y1] = [xs[before] ?? 0, xs[after] ?? 0, ys[before] ?? 0, ys[after] ?? 0];
  if (at <= x0 || x0 === x1) return { is: "value", value: y0 };
  if (at >= x1) return { is: "value", value: y1 };
  return { is: "value", value: y0 + ((at - x0) / (x1 - x0)) * (y1 - y0) };
}

/** Reads a calibration table once; to read it often, keep {@link curveOf} and use {@link readCurve}. */
export const interpolateAt = (xs: Float64Array, ys: Float64Array, at: number): Interpolated =>
  readCurve(curveOf(xs, ys), at);

/** Share of Student's distribution with `freedom` degrees within ±√freedom·tan(angle): Abramowitz & Stegun 26.7.3 and 26.7.4. */
function shareWithin(angle: number, freedom: number): number {
  const [sine, cosine] = [Math.sin(angle), Math.cos(angle)];
  const odd = freedom % 2 === 1;
  let term = odd ? cosine : 1;
  let sum = freedom === 1 ? 0 : term;
  for (let k = odd ? 3 : 2; k < freedom && term > sum * Number.EPSILON; k += 2) {
    term *= ((k - 1) / k) * cosine * cosine;
    sum += term;
  }
  return odd ? (2 / Math.PI) * (angle + sine * sum) : sine * sum;
}

/** Halvings of the search for a quantile: beyond these the angle no longer changes. */
const HALVINGS = 60;

/**
 * The t below which the share `probability` of Student's distribution lies, by halving on the exact finite sums.
 * NaN unless 0 < probability < 1 and `freedom` is a whole number of at least 1.
 */
export function studentQuantile(probability: number, freedom: number): number {
  if (!(probability > 0 && probability < 1) || !Number.isInteger(freedom) || freedom < 1) return Number.NaN;
  if (probability < 0.5) return -studentQuantile(1 - probability, freedom);
  const wanted = 2 * probability - 1;
  let [low, high] = [0, Math.PI / 2];
  for (let halving = 0; halving < HALVINGS; halving += 1) {
    const middle = (low + high) / 2;
    if (shareWithin(middle, freedom) < wanted) low = middle;
    else high = middle;
  }
  return Math.sqrt(freedom) * Math.tan((low + high) / 2);
}
