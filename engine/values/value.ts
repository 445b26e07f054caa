/**
 * What evaluation yields, always in coherent units (see Kind): a number (truths are 1 and 0, instants seconds, a missing
 * value NaN), a text, or a column of either. A missing entry of a column is NaN or null.
 */
export type Value = number | string | NumberColumn | TextColumn;
export type NumberColumn = Float64Array;
export type TextColumn = readonly (string | null)[];

export const isMissing = (entry: number | string | null): boolean => entry === null || Number.isNaN(entry);
export const isNumberColumn = (value: Value): value is NumberColumn => value instanceof Float64Array;
export const isTextColumn = (value: Value): value is TextColumn => Array.isArray(value);
export const isColumn = (value: Value): value is NumberColumn | TextColumn => typeof value === "object";

/** Whether a column has an entry, be it one. */
export const hasEntry = (column: NumberColumn | TextColumn): boolean =>
  isNumberColumn(column) ? column.some((entry) => !isMissing(entry)) : column.some((entry) => entry !== null);
