import type { Within } from "../checker/checked.ts";
import { type Caution, caution } from "../diagnostics/diagnostic.ts";
import { EQUAL_WITHIN } from "../operations/comparison.ts";
import { GRAVITY_HIGH, GRAVITY_LOW } from "../units/gravity.ts";
import type { Type } from "../values/kind.ts";
import { isMissing, isNumberColumn, type Value } from "../values/value.ts";
import type { Model } from "./model.ts";
import { type Shape, showIn } from "./shape.ts";

interface Range {
  readonly low: number;
  readonly high: number;
}

/** The ends are inside, and what counts as equal to them. */
function isWithin(value: number, { low, high }: Range): boolean {
  const slack = EQUAL_WITHIN * Math.max(Math.abs(low), Math.abs(high), Math.abs(value));
  return value >= low - slack && value <= high + slack;
}

/** The first entry of a column, or the single figure, that is outside a range; null when there is none. */
function firstOutside(value: Value | null, range: Range): number | null {
  const entries = typeof value === "number" ? [value] : value !== null && isNumberColumn(value) ? value : [];
  for (let row = 0; row < entries.length; row += 1) {
    const entry = entries[row] as number;
    if (!isMissing(entry) && !isWithin(entry, range)) return entry;
  }
  return null;
}

/** The caution of a value that is outside what its line accepts. */
export function withinCautions(
  within: Within | null,
  value: Value | null,
  type: Type,
  shape: Shape,
  model: Model,
): Caution[] {
  const outside = within?.is === "range" ? firstOutside(value, within) : null;
  if (within?.is !== "range" || outside === null) return [];
  const say = (figure: number): string => showIn(figure, type.kind, shape, model).text;
  const [low, high] = [within.lowText || say(within.low), within.highText || say(within.high)];
  return [caution("outside-within", { shown: say(outside), low, high })];
}

const GRAVITY_READ: Range = { low: GRAVITY_LOW, high: GRAVITY_HIGH };

/** Gravity beyond the published table is continued, and said to be. */
export function gravityCautions(value: Value | null, type: Type, shape: Shape, model: Model): Caution[] {
  const outside =
    type.kind.is === "reading" && type.kind.family === "gravity" ? firstOutside(value, GRAVITY_READ) : null;
  return outside === null ? [] : [caution("gravity-range", { shown: showIn(outside, type.kind, shape, model).text })];
}
