import { fromCoherent } from "../units/convert.ts";
import type { ShownUnit } from "../units/unit.ts";
import type { Kind } from "../values/kind.ts";
import { isMissing } from "../values/value.ts";
import { laterPass } from "./instants.ts";

/** One place in a table's readings that does not look like a reading. Nothing is removed for it. */
export interface Finding {
  readonly is: "gap" | "repeat" | "out-of-order" | "clock-change" | "stuck" | "spike" | "foam" | "failed-probe";
  /** Counted from 0; `rows` follow one another from there. */
  readonly row: number;
  readonly rows: number;
  /** Seconds of the first of them; NaN when it has no time. */
  readonly time: number;
  /** The column; null for the times themselves. */
  readonly column: string | null;
  readonly says: string;
}

/** A measured column whose trouble is looked for, in coherent values. */
export interface WatchedColumn {
  readonly name: string;
  readonly kind: Kind;
  readonly unit: ShownUnit | null;
  readonly values: Float64Array;
}

/** A pause this many times the usual interval is a gap. */
export const GAP_INTERVALS = 3;
/** A figure that stands still for this many readings in a column that otherwise moves is stuck. */
const STUCK_READINGS = 20;
/** A column moves when at most this share of its readings equal the one before. */
const STILL_SHARE = 0.5;
/** Distance from the median of its neighbours, in robust standard deviations of such distances, that makes a spike. */
const SPIKE_SIGMAS = 8;
/** And in the smallest steps that the column makes, so that the last digit is no spike. */
const SPIKE_STEPS = 4;
/** 1.4826 times the median absolute deviation estimates the standard deviation of normal scatter (Rousseeuw and Croux 1993). */
const MAD_TO_SIGMA = 1.4826;
/** What failed temperature probes report, in °C: digital ones at power-up and when disconnected, transmitters at their end. */
const FAILED_CELSIUS = [0, 85, -127, 999, 999.9, -999];
/** What other failed inputs report, in the column's own unit. */
const FAILED_FIGURES = [999, -999, 9999, -9999, 999.9, -99.9];
/** All of these: a figure that is one of them bears no witness to what a column holds. */
export const FAILED_READINGS: ReadonlySet<number> = new Set([...FAILED_CELSIUS, ...FAILED_FIGURES]);
/** Such a figure is believed when the readings around it are this near, in °C: a tank may be at 0 °C. */
const BELIEVED_WITHIN = 5;

/**
 * Looks through a table's times and readings in the order of its rows, in time proportional to them. `severalAtOnce`:
 * rows may share an instant (packages, vessels), so a repeated time is no trouble.
 */
export function findTrouble(
  times: Float64Array | null,
  columns: readonly WatchedColumn[],
  { severalAtOnce = false }: { readonly severalAtOnce?: boolean } = {},
): Finding[] {
  const found = times === null ? [] : troubleWithTimes(times).filter((one) => !(severalAtOnce && one.is === "repeat"));
  const at = (row: number): number => times?.[row] ?? Number.NaN;
  for (const column of columns) {
    const failed = failedProbes(column, at);
    found.push(
      ...failed,
      ...stuck(column, at),
      ...spikes(
        column,
        at,
        new Set(failed.flatMap(({ row, rows }) => Array.from({ length: rows }, (_, next) => row + next))),
      ),
    );
  }
  return found.sort((a, b) => a.row - b.row);
}

function troubleWithTimes(times: Float64Array): Finding[] {
  const found: Finding[] = [];
  const later = laterPass(times);
  const intervals: number[] = [];
  for (let row = 1; row < times.length; row += 1) {
    const step = (times[row] ?? 0) - (times[row - 1] ?? 0);
    if (step > 0) intervals.push(step);
  }
  const usual = median(intervals);
  for (let row = 1; row < times.length; row += 1) {
    const time = times[row] ?? Number.NaN;
    const step = time - (times[row - 1] ?? Number.NaN);
    const one = { row, rows: 1, time, column: null };
    if (step < 0 && later?.[row] === 1)
      found.push({ ...one, is: "clock-change", says: "The clock goes back here: this hour comes twice." });
    else if (step < 0)
      found.push({ ...one, is: "out-of-order", says: `This time is ${lasting(-step)} before the one above it.` });
    else if (step === 0) found.push({ ...one, is: "repeat", says: "This row has the same time as the one above it." });
    else if (step > GAP_INTERVALS * usual)
      found.push({
        ...one,
        is: "gap",
        says: `No reading for ${lasting(step)}; they usually come every ${lasting(usual)}.`,
      });
  }
  return found;
}

function lasting(seconds: number): string {
  const [size, unit] =
    seconds >= 172_800 ? [86_400, "days"] : seconds >= 7200 ? [3600, "h"] : seconds >= 120 ? [60, "min"] : [1, "s"];
  return `${Number((seconds / size).toFixed(1))} ${unit}`;
}

function failedProbes({ name, kind, unit, values }: WatchedColumn, at: (row: number) => number): Finding[] {
  const isTemperature = kind.is === "reading" && kind.family === "temperature";
  const constants = isTemperature ? FAILED_CELSIUS : FAILED_FIGURES;
  // A wired °F transmitter converts the same constants: half its last digit is allowed.
  const near = isTemperature ? 0.06 : 1e-9;
  const found: Finding[] = [];
  let good = Number.NaN;
  let run = 0;
  for (let row = 0; row < values.length; row += 1) {
    const value = values[row] ?? Number.NaN;
    if (isMissing(value)) continue;
    const figure = isTemperature || unit === null ? value : fromCoherent(value, unit);
    const constant = constants.find(
      (one) => Math.abs(figure - one) <= near * Math.max(1, isTemperature ? 1 : Math.abs(one)),
    );
    const next = isMissing(good) ? firstOther(values, row) : good;
    const wild = isMissing(next) || Math.abs(value - next) > (isTemperature ? BELIEVED_WITHIN : Math.abs(next));
    if (constant === undefined || (!wild && Math.abs(constant) < 900)) {
      good = value;
      run = 0;
      continue;
    }
    run += 1;
    const last = found.at(-1);
    if (run > 1 && last) found[found.length - 1] = { ...last, rows: row - last.row + 1 };
    else
      found.push({
        is: "failed-probe",
        row,
        rows: 1,
        time: at(row),
        column: name,
        says: `${constant} is what a failed or unplugged probe reports.`,
      });
  }
  return found;
}

/** The first value after `row` that differs from it. */
function firstOther(values: Float64Array, row: number): number {
  for (let next = row + 1; next < values.length; next += 1) {
    const value = values[next] ?? Number.NaN;
    if (!isMissing(value) && value !== values[row]) return value;
  }
  return Number.NaN;
}

function stuck({ name, kind, values }: WatchedColumn, at: (row: number) => number): Finding[] {
  const runs: { row: number; rows: number }[] = [];
  let begin = 0;
  let still = 0;
  for (let row = 1; row <= values.length; row += 1) {
    if (row < values.length && values[row] === values[row - 1]) {
      still += 1;
      continue;
    }
    if (row - begin >= STUCK_READINGS) runs.push({ row: begin, rows: row - begin });
    begin = row;
  }
  const inRuns = runs.reduce((sum, { rows }) => sum + rows - 1, 0);
  const elsewhere = values.length - inRuns;
  if (still - inRuns > STILL_SHARE * elsewhere) return [];
  // A gravity that stands still at its lowest has come to its end.
  const isGravity = kind.is === "reading" && kind.family === "gravity";
  const lowest = isGravity
    ? values.reduce((low, value) => Math.min(low, isMissing(value) ? low : value), Number.POSITIVE_INFINITY)
    : Number.NaN;
  return runs
    .filter(({ row }) => values[row] !== lowest)
    .map(({ row, rows }) => ({
      is: "stuck",
      row,
      rows,
      time: at(row),
      column: name,
      says: `The same figure ${rows} times running, where it otherwise moves.`,
    }));
}

function spikes(
  { name, kind, values }: WatchedColumn,
  at: (row: number) => number,
  known: ReadonlySet<number>,
): Finding[] {
  const rows: number[] = [];
  for (let row = 0; row < values.length; row += 1)
    if (!isMissing(values[row] ?? Number.NaN) && !known.has(row)) rows.push(row);
  if (rows.length < 7) return [];
  const value = (index: number): number => values[rows[Math.min(rows.length - 1, Math.max(0, index))] ?? 0] ?? 0;
  const away = rows.map(
    (_, index) =>
      value(index) - median5(value(index - 2), value(index - 1), value(index), value(index + 1), value(index + 2)),
  );
  const steps = rows.flatMap((_, index) =>
    index > 0 && value(index) !== value(index - 1) ? [Math.abs(value(index) - value(index - 1))] : [],
  );
  const step = median(steps);
  const limit = Math.max(SPIKE_SIGMAS * MAD_TO_SIGMA * median(away.map(Math.abs)), SPIKE_STEPS * step);
  const isGravity = kind.is === "reading" && kind.family === "gravity";
  return rows.flatMap((row, index): Finding[] => {
    if (!(Math.abs(away[index] ?? 0) > limit)) return [];
    const one = { row, rows: 1, time: at(row), column: name };
    if (isGravity)
      return [
        {
          ...one,
          is: "foam",
          says: "The gravity jumps here and comes back: foam or a bubble on the hydrometer moves it so.",
        },
      ];
    return [{ ...one, is: "spike", says: "This reading stands apart from those before and after it." }];
  });
}

const median5 = (...five: [number, number, number, number, number]): number => five.sort((a, b) => a - b)[2] ?? 0;

function median(values: readonly number[]): number {
  if (values.length === 0) return Number.NaN;
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? (sorted[middle] ?? 0) : ((sorted[middle - 1] ?? 0) + (sorted[middle] ?? 0)) / 2;
}
