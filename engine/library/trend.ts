import { lineOf } from "../base/statistics.ts";
import type { Value } from "../values/value.ts";
import { argument, asColumn, entryAt, type Numbers, taking } from "./arguments.ts";
import { type LibraryFunction, type NoValue, noValue, tooFew } from "./declaration.ts";

/** A reading of the fermentation: seconds and mass share of extract. */
interface Reading {
  readonly taken: number;
  readonly gravity: number;
}

/** The last so many readings of which time and gravity are both known, in order of time; of a log with a row a minute no more are looked at. */
function readingsOf(taken: Value, gravity: Value, most = Number.POSITIVE_INFINITY): readonly Reading[] {
  const [times, gravities] = [asColumn(taken), asColumn(gravity)];
  const rows = Math.max(times.length, gravities.length);
  const inOrder = times.every((time, row) => row === 0 || (times[row - 1] as number) <= time);
  const readings: Reading[] = [];
  for (let row = rows - 1; row >= 0 && !(inOrder && readings.length >= most); row -= 1) {
    const reading = { taken: entryAt(times, row), gravity: entryAt(gravities, row) };
    if (!Number.isNaN(reading.taken) && !Number.isNaN(reading.gravity)) readings.push(reading);
  }
  readings.reverse();
  return inOrder ? readings : readings.sort((a, b) => a.taken - b.taken).slice(-most);
}

/** A curve is told from scatter by three readings at the least. */
const FEWEST_READINGS = 3;

/** Seconds from the last reading until the exponential fall toward `limit` through the last readings passes `target`. */
function secondsTo(readings: readonly Reading[], target: number, limit: number): number | NoValue {
  const last = readings[readings.length - 1];
  if (last === undefined) return tooFew("There is no reading with both a time and a gravity yet.");
  if (last.gravity <= target) return 0;
  if (target <= limit)
    return noValue("The target must lie above the limit: the gravity nears the limit but never passes it.");
  const above = readings.filter((reading) => reading.gravity > limit);
  if (above.length < FEWEST_READINGS) return tooFew("At least three readings above the limit are needed for a fit.");
  const line = lineOf(
    Float64Array.from(above, (reading) => reading.taken - last.taken),
    Float64Array.from(above, (reading) => Math.log(reading.gravity - limit)),
  );
  if (Number.isNaN(line.slope)) return tooFew("All these readings were taken at the same time.");
  // Later readings will show a fall, or that it is stuck: these alone are no error.
  if (line.slope >= 0) return tooFew("The gravity does not fall over these readings.");
  return Math.max(0, (Math.log(target - limit) - line.intercept) / line.slope);
}

/** Whether the gravity moved no more than `margin` over the last `over` seconds of the readings. */
function isSteady(readings: readonly Reading[], over: number, margin: number): number | NoValue {
  const last = readings[readings.length - 1];
  if (last === undefined) return tooFew("There is no reading with both a time and a gravity yet.");
  const before = readings.findLastIndex((reading) => reading.taken <= last.taken - over);
  if (before < 0) return tooFew("The readings do not reach back far enough: take more, or judge over a shorter time.");
  let [low, high] = [last.gravity, last.gravity];
  for (const { gravity } of readings.slice(before)) [low, high] = [Math.min(low, gravity), Math.max(high, gravity)];
  const moved = high - low;
  return moved <= margin * (1 + SAME) + SAME ? 1 : 0;
}

/** Differences this small come from the arithmetic, not from the readings: the language compares no finer. */
const SAME = 1e-9;

const taken = argument("taken", "instant", "When the readings were taken: a column.", {
  takes: { instant: true },
  column: "whole",
});
const gravity = argument("gravity", "°P", "The gravities read, a column of the same table.", {
  column: "whole",
  low: -5,
  high: 40,
});

/** What a table of readings tells of the days to come. */
export const TREND: readonly LibraryFunction[] = [
  {
    name: "time_to_gravity",
    stage: "fermentation",
    says: "Time from the last reading until the beer should reach a gravity, from a fit of the last readings.",
    searchWords: ["when done", "forecast", "end of fermentation", "prediction"],
    since: 1,
    arguments: [
      taken,
      gravity,
      argument("target", "°P", "Gravity waited for.", { low: -5, high: 40 }),
      argument(
        "limit",
        "°P",
        "Gravity that it nears in the end: that of a forced ferment, or the usual final gravity.",
        { low: -5, high: 40 },
      ),
      argument("readings", "1", "How many of the last readings the fit takes.", { default: "6", low: FEWEST_READINGS }),
    ],
    result: { unit: "h" },
    source: "exponential fall toward the limit, least squares (common practice, no source)",
    range:
      "Holds in the second half of fermentation at a steady temperature; 0 once the last reading is there. Close to the limit a reading error of 0.1 °P is a day.",
    error: "±30 %",
    arithmetic: taking<Numbers<"target" | "limit" | "readings"> & { readonly taken: Value; readonly gravity: Value }>(
      ({ taken, gravity, target, limit, readings }) =>
        secondsTo(readingsOf(taken, gravity, Math.round(readings)), target, limit),
    ),
  },
  {
    name: "gravity_steady",
    stage: "fermentation",
    says: "Whether the gravity has stood still over the last hours of the readings.",
    searchWords: ["finished", "terminal gravity", "stable gravity", "end of fermentation"],
    since: 1,
    arguments: [
      taken,
      gravity,
      argument("over", "h", "Time over which it must have stood still.", { default: "48 h", low: 1 }),
      argument("margin", "Δ°P", "How far it may have moved: the error of two readings.", {
        default: "0.1 Δ°P",
        low: 0,
      }),
    ],
    result: { truth: true },
    source: "common practice, no source",
    range: "A fermentation that stuck stands still too: compare with a forced ferment before packaging.",
    arithmetic: taking<Numbers<"over" | "margin"> & { readonly taken: Value; readonly gravity: Value }>(
      ({ taken, gravity, over, margin }) => isSteady(readingsOf(taken, gravity), over, margin),
    ),
  },
];
