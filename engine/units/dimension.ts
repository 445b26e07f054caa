import {
  addRational,
  multiplyRational,
  negateRational,
  printRational,
  type Rational,
  sameRational,
} from "../base/rational.ts";

/**
 * A base dimension. The physical ones follow the SI; the others are things the trade measures that must never be mixed
 * with what they resemble (an IBU is not a mg/L, CO2 volumes are not litres). A currency is `currency:` and its ISO 4217 code.
 */
export type BaseDimension =
  | "mass"
  | "length"
  | "time"
  | "temperature"
  | "amount"
  | "equivalent"
  | "bitterness"
  | "colour"
  | "extract"
  | "cells"
  | "alcohol by volume"
  | "alcohol by mass"
  | "carbonation"
  | "diastatic power"
  | "pasteurisation"
  | "pH"
  | `currency:${string}`;

/** A product of base dimensions with exact rational powers, ordered by name; no power is zero. */
export interface Dimension {
  readonly powers: readonly (readonly [BaseDimension, Rational])[];
  /** Equal exactly when the dimensions are: `length^3 mass^-1`. */
  readonly key: string;
}

function build(powers: (readonly [BaseDimension, Rational])[]): Dimension {
  const kept = powers.filter(([, power]) => power.n !== 0).sort(([a], [b]) => (a < b ? -1 : 1));
  return { powers: kept, key: kept.map(([base, power]) => `${base}^${printRational(power)}`).join(" ") };
}

/** No quantity of a brew house has a higher power, or a root of a higher degree; beyond it figures soon leave what a float64 holds. */
export const POWER_LIMIT = 20;

/** Whether a power of some base dimension is beyond {@link POWER_LIMIT}. */
export const isExcessive = ({ powers }: Dimension): boolean =>
  powers.some(([, { n, d }]) => Math.abs(n) > POWER_LIMIT * d || d > POWER_LIMIT);

export const DIMENSIONLESS: Dimension = build([]);

export const dimension = (powers: Partial<Record<BaseDimension, number>>): Dimension =>
  build(Object.entries(powers).map(([base, n]) => [base as BaseDimension, { n: n ?? 0, d: 1 }] as const));

export const sameDimension = (a: Dimension, b: Dimension): boolean => a === b || a.key === b.key;

export const isDimensionless = (a: Dimension): boolean => a.powers.length === 0;

export function multiplyDimensions(a: Dimension, b: Dimension): Dimension {
  if (a.powers.length === 0) return b;
  if (b.powers.length === 0) return a;
  const sums = new Map<BaseDimension, Rational>(a.powers);
  for (const [base, power] of b.powers) {
    const other = sums.get(base);
    sums.set(base, other ? addRational(other, power) : power);
  }
  return build([...sums]);
}

export const powerOfDimension = (a: Dimension, exponent: Rational): Dimension =>
  exponent.n === 1 && exponent.d === 1
    ? a
    : build(a.powers.map(([base, power]) => [base, multiplyRational(power, exponent)] as const));

export const divideDimensions = (a: Dimension, b: Dimension): Dimension =>
  b.powers.length === 0
    ? a
    : multiplyDimensions(a, build(b.powers.map(([base, power]) => [base, negateRational(power)] as const)));

/** The power of one base dimension; null where it does not occur. */
export const powerOf = (a: Dimension, base: BaseDimension): Rational | null =>
  a.powers.find(([name]) => name === base)?.[1] ?? null;

/** `a` with one base dimension left out. */
export const withoutBase = (a: Dimension, base: BaseDimension): Dimension =>
  build(a.powers.filter(([name]) => name !== base));

export const samePower = (a: Rational | null, b: Rational): boolean => a !== null && sameRational(a, b);
