import type { NumberColumn, Value } from "../values/value.ts";
import { isNumberColumn } from "../values/value.ts";
import type { Argument, Given, NoValue } from "./declaration.ts";

/** An argument that takes figures in a unit of its kind: `argument("grain", "kg", "Malt mashed in.", { low: 0 })`. */
export const argument = (name: string, unit: string, says: string, more: Partial<Argument> = {}): Argument => ({
  name,
  says,
  takes: { unit },
  ...more,
});

/** An argument that takes one of a list of words. */
export const choice = (
  name: string,
  choices: readonly string[],
  says: string,
  more: Partial<Argument> = {},
): Argument => ({
  name,
  says,
  takes: { text: choices },
  ...more,
});

/** The shape of `given` where every named argument is a number. */
export type Numbers<Name extends string> = Readonly<Record<Name, number>>;

/**
 * Arithmetic that names the arguments it reads and what each is. The checker has seen to it that they are there and of that kind;
 * a test calls every function with exactly its declared arguments.
 */
export const taking =
  <Named extends Given>(
    work: (given: Named) => number | string | NoValue,
  ): ((given: Given) => number | string | NoValue) =>
  (given) =>
    work(given as Named);

/** What was given for a `whole` argument as a column; a single value is a column of one. */
export const asColumn = (given: Value): NumberColumn =>
  isNumberColumn(given) ? given : Float64Array.of(typeof given === "number" ? given : Number.NaN);

/** The entry of a row; a column of one stands for every row. */
export const entryAt = (column: NumberColumn, row: number): number =>
  column[column.length === 1 ? 0 : row] ?? Number.NaN;

/**
 * What was given for two `whole` arguments, row by row; a single value stands for every row, and a row with a missing entry is left out.
 */
export function rowsOf(first: Value, second: Value): [number, number][] {
  const left = asColumn(first);
  const right = asColumn(second);
  const rows: [number, number][] = [];
  for (let row = 0; row < Math.max(left.length, right.length); row += 1) {
    const [a, b] = [entryAt(left, row), entryAt(right, row)];
    if (!Number.isNaN(a) && !Number.isNaN(b)) rows.push([a, b]);
  }
  return rows;
}

/** Finds a word of a closed list in a table that is keyed by it, without case. */
export function rowNamed<Row extends { readonly name: string }>(rows: readonly Row[], word: string): Row | undefined {
  const wanted = word.toLowerCase();
  return rows.find((row) => row.name.toLowerCase() === wanted);
}
