import type uPlot from "uplot";
import { GAP_INTERVALS } from "../../engine/index.ts";
import type { PlotColumn, PlotData } from "./plot-data.ts";
import { DOTTED } from "./strokes.ts";

/** Rows in the order in which they stand across; those without a place are left out. */
export const inOrder = ({ across: { figures } }: PlotData): Int32Array => {
  const order = new Int32Array(figures.length);
  let [count, last, sorted] = [0, Number.NEGATIVE_INFINITY, true];
  for (let row = 0; row < figures.length; row += 1) {
    const figure = figures[row] as number;
    if (!Number.isFinite(figure)) continue;
    order[count] = row;
    count += 1;
    sorted &&= figure >= last;
    last = figure;
  }
  const placed = order.subarray(0, count);
  // A log mostly is in order.
  return sorted ? placed : placed.sort((a, b) => (figures[a] ?? 0) - (figures[b] ?? 0));
};

/** The row that stands nearest to a place across; null when none has a place. */
export const nearest = ({ across: { figures } }: PlotData, order: Int32Array, place: number): number | null => {
  let [from, to] = [0, order.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if ((figures[order[middle] ?? 0] ?? 0) < place) from = middle + 1;
    else to = middle;
  }
  const [before, after] = [order[from - 1], order[from]];
  if (before === undefined || after === undefined) return before ?? after ?? null;
  return place - (figures[before] ?? 0) <= (figures[after] ?? 0) - place ? before : after;
};

/** Intervals that are looked at for the usual one. */
const SAMPLED = 1001;

/** Where a log of many readings pauses, by the same measure as its sensor trouble: the times before and after. A reading alone between two pauses stays joined to both, for it would not be seen. */
export const pauses = (
  { across: { figures, instants } }: PlotData,
  order: Int32Array,
): [from: number, to: number][] => {
  if (!instants || order.length <= DOTTED) return [];
  const at = (place: number): number => figures[order[place] ?? -1] ?? Number.NaN;
  const stride = Math.ceil(order.length / SAMPLED);
  const sampled = Float64Array.from(
    { length: Math.floor((order.length - 1) / stride) },
    (_, one) => at(one * stride + 1) - at(one * stride),
  );
  const steps = sampled.filter((each) => each > 0).sort();
  const longest = GAP_INTERVALS * (steps[steps.length >> 1] ?? Number.POSITIVE_INFINITY);
  const found: [from: number, to: number][] = [];
  // A pause counts once the reading behind it is followed by another; nothing stands before the first.
  let [last, isPause, open] = [at(0), true, null as [from: number, to: number] | null];
  for (let place = 1; place < order.length; place += 1) {
    const time = figures[order[place] as number] as number;
    const wasPause = isPause;
    isPause = time - last > longest;
    if (!isPause && open !== null) found.push(open);
    open = isPause && !wasPause ? [last, time] : null;
    last = time;
  }
  return found;
};

/** Rows that are drawn for each place across and line: where it comes in, its lowest, its highest, and where it goes out. */
const KEPT = 4;

/**
 * The rows of `order` that a drawing `places` wide shows: at each place, those where a line comes in and goes out, and where
 * it is lowest and highest. The rest would be drawn over these. All of them where they are few.
 */
export const thinned = ({ across, lines }: PlotData, order: Int32Array, places: number): Int32Array => {
  if (order.length <= places * KEPT * lines.length) return order;
  const at = (place: number): number => across.figures[order[place] ?? 0] ?? 0;
  const [first, last] = [at(0), at(order.length - 1)];
  const perPlace = places / (last - first);
  const kept = new Uint8Array(order.length);
  // The axis reaches as far as the rows do, also where no line has a figure.
  kept[0] = kept[order.length - 1] = 1;
  for (const { figures } of lines) {
    let [place, begin, low, high, end] = [-1, -1, -1, -1, -1];
    const keep = (): void => {
      for (const one of [begin, low, high, end]) if (one >= 0) kept[one] = 1;
    };
    for (let point = 0; point < order.length; point += 1) {
      const row = order[point] as number;
      const figure = figures[row] as number;
      if (!Number.isFinite(figure)) continue;
      const here = Math.floor(((across.figures[row] as number) - first) * perPlace);
      if (here !== place) {
        keep();
        place = here;
        begin = low = high = point;
      } else {
        if (figure < (figures[order[low] as number] as number)) low = point;
        if (figure > (figures[order[high] as number] as number)) high = point;
      }
      end = point;
    }
    keep();
  }
  return order.filter((_, point) => kept[point] === 1);
};

/** The figures as they are drawn: a column across, then one for each line; null where there is none. */
export const aligned = ({ across, lines }: PlotData, order: Int32Array): uPlot.AlignedData => {
  const asTheyStand = order.length === across.figures.length && order.every((row, at) => row === at);
  const drawn = ({ figures }: PlotColumn): Float64Array | (number | null)[] => {
    if (asTheyStand && figures.every(Number.isFinite)) return figures;
    return Array.from(order, (row) => {
      const figure = figures[row] ?? Number.NaN;
      return Number.isFinite(figure) ? figure : null;
    });
  };
  return [across, ...lines].map(drawn) as uPlot.AlignedData;
};
