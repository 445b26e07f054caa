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

const atLeastOneMissing = (a: number, b: number): boolean => isMissing(a) || isMissing(b);

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
  if (!isColumn(a) && !isColumn(b)) {
    const result = operation(a as number, b as number);
    if (result - result !== 0) report.noValue(says(a as number, b as number));
    return result;
  }
  const result = spread(operation, a, b);
  let unsound = 0;
  for (let row = 0; row < result.length; row += 1) unsound += (result[row] as number) * 0;
  if (unsound !== 0) {
    for (let row = 0; row < result.length; row += 1) {
      const value = result[row] as number;
      if (value - value === 0) continue;
      const [left, right] = [entryOf(a, row) as number, entryOf(b, row) as number];
      if (!atLeastOneMissing(left, right)) {
        report.noValue(says(left, right), row);
        result[row] = Number.NaN;
      }
    }
  }
  return result;
}

function spread(operation: Scalar, a: Value, b: Value): Float64Array {
  if (isNumberColumn(a)) {
    const result = new Float64Array(a.length);
    if (isNumberColumn(b))
      for (let row = 0; row < result.length; row += 1) result[row] = operation(a[row] as number, b[row] as number);
    else for (let row = 0; row < result.length; row += 1) result[row] = operation(a[row] as number, b as number);
    return result;
  }
  const column = b as Float64Array;
  const result = new Float64Array(column.length);
  for (let row = 0; row < result.length; row += 1) result[row] = operation(a as number, column[row] as number);
  return result;
}
