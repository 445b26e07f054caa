import type { Type } from "../values/kind.ts";
import { isColumn, isMissing, isNumberColumn, type Value } from "../values/value.ts";
import type { Report } from "./operand.ts";

/** The rows that several operands share: null for single values; undefined when they belong to different tables. */
export function sharedRows(types: readonly Type[]): string | null | undefined {
  let rows: string | null = null;
  for (const type of types) {
    if (type.rows === null || type.rows === rows) continue;
    if (rows !== null) return undefined;
    rows = type.rows;
  }
  return rows;
}

/** How many rows the first column among the values has; null when all are single. */
export function lengthOf(values: readonly Value[]): number | null {
  for (const value of values) if (isColumn(value)) return value.length;
  return null;
}

/** The entry of a column, or the single value for every row. */
export const entryOf = (value: Value, row: number): number | string | null =>
  isColumn(value) ? (value[row] ?? (isNumberColumn(value) ? Number.NaN : null)) : value;

export type Scalar = (a: number, b: number) => number;

/**
 * A scalar operation over single values and columns of numbers. A row with a missing operand is missing; a row that has
 * its operands and no finite result is reported with `says`.
 */
export function broadcast(
  operation: Scalar,
  a: Value,
  b: Value,
  says: (a: number, b: number) => string,
  report: Report,
): Value {
  return over(
    operation,
    (left, leftStep, right, rightStep, result) => {
      for (let row = 0; row < result.length; row += 1)
        result[row] = operation(left[row * leftStep] as number, right[row * rightStep] as number);
    },
    a,
    b,
    says,
    report,
  );
}

/** Fills a column row by row from two others; a step of 0 stays at the first entry: a single value for every row. */
type Loop = (a: Float64Array, aStep: 0 | 1, b: Float64Array, bStep: 0 | 1, result: Float64Array) => void;

/** Arithmetic on one pair and on whole columns: a loop of its own runs several times as fast as one that calls a function per row. */
const ARITHMETIC: Readonly<Record<"+" | "-" | "*" | "/" | "^", { readonly one: Scalar; readonly all: Loop }>> = {
  "+": {
    one: (a, b) => a + b,
    all: (a, aStep, b, bStep, result) => {
      for (let row = 0; row < result.length; row += 1)
        result[row] = (a[row * aStep] as number) + (b[row * bStep] as number);
    },
  },
  "-": {
    one: (a, b) => a - b,
    all: (a, aStep, b, bStep, result) => {
      for (let row = 0; row < result.length; row += 1)
        result[row] = (a[row * aStep] as number) - (b[row * bStep] as number);
    },
  },
  "*": {
    one: (a, b) => a * b,
    all: (a, aStep, b, bStep, result) => {
      for (let row = 0; row < result.length; row += 1)
        result[row] = (a[row * aStep] as number) * (b[row * bStep] as number);
    },
  },
  "/": {
    one: (a, b) => a / b,
    all: (a, aStep, b, bStep, result) => {
      for (let row = 0; row < result.length; row += 1)
        result[row] = (a[row * aStep] as number) / (b[row * bStep] as number);
    },
  },
  "^": {
    one: (a, b) => a ** b,
    all: (a, aStep, b, bStep, result) => {
      for (let row = 0; row < result.length; row += 1)
        result[row] = (a[row * aStep] as number) ** (b[row * bStep] as number);
    },
  },
};

/** Arithmetic over single values and columns of numbers, as {@link broadcast}. */
export function arithmeticOver(
  operator: keyof typeof ARITHMETIC,
  a: Value,
  b: Value,
  says: (a: number, b: number) => string,
  report: Report,
): Value {
  const { one, all } = ARITHMETIC[operator];
  return over(one, all, a, b, says, report);
}

function over(
  one: Scalar,
  all: Loop,
  a: Value,
  b: Value,
  says: (a: number, b: number) => string,
  report: Report,
): Value {
  const length = lengthOf([a, b]);
  if (length === null) {
    const result = one(a as number, b as number);
    if (result - result !== 0) report.noValue(says(a as number, b as number));
    return result;
  }
  const result = new Float64Array(length);
  const [left, leftStep] = rowsOf(a);
  const [right, rightStep] = rowsOf(b);
  all(left, leftStep, right, rightStep, result);
  let unsound = 0;
  for (let row = 0; row < length; row += 1) unsound += (result[row] as number) * 0;
  if (unsound !== 0) reportUnsound(result, a, b, says, report);
  return result;
}

/** Figures and the step from row to row; a step of 0 stays at the first entry: a single value for every row. */
export const rowsOf = (value: Value): readonly [figures: Float64Array, step: 0 | 1] =>
  isNumberColumn(value) ? [value, 1] : [Float64Array.of(value as number), 0];

/** Reports the rows that have their operands and no finite result, and marks them missing. */
function reportUnsound(
  result: Float64Array,
  a: Value,
  b: Value,
  says: (a: number, b: number) => string,
  report: Report,
): void {
  for (let row = 0; row < result.length; row += 1) {
    const value = result[row] as number;
    if (value - value === 0) continue;
    const [left, right] = [entryOf(a, row) as number, entryOf(b, row) as number];
    if (isMissing(left) || isMissing(right)) continue;
    report.noValue(says(left, right), row);
    result[row] = Number.NaN;
  }
}
