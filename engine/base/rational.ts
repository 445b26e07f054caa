/** An exact fraction in lowest terms with a positive denominator; the exponents of dimensions are these. */
export interface Rational {
  readonly n: number;
  readonly d: number;
}

const gcd = (a: number, b: number): number => {
  let [x, y] = [Math.abs(a), Math.abs(b)];
  while (y !== 0) [x, y] = [y, x % y];
  return x;
};

/** The fraction n/d. Throws when d is 0 or either is no integer: only a programmer can pass that. */
export function rational(n: number, d = 1): Rational {
  if (d === 0 || !Number.isSafeInteger(n) || !Number.isSafeInteger(d))
    throw new RangeError(`not a fraction: ${n}/${d}`);
  const common = gcd(n, d) || 1;
  const sign = d < 0 ? -1 : 1;
  return { n: (sign * n) / common, d: (sign * d) / common };
}

export const ONE: Rational = { n: 1, d: 1 };

export const addRational = (a: Rational, b: Rational): Rational =>
  a.d === 1 && b.d === 1 ? { n: a.n + b.n, d: 1 } : rational(a.n * b.d + b.n * a.d, a.d * b.d);

export const multiplyRational = (a: Rational, b: Rational): Rational =>
  a.d === 1 && b.d === 1 ? { n: a.n * b.n, d: 1 } : rational(a.n * b.n, a.d * b.d);

export const negateRational = (a: Rational): Rational => ({ n: -a.n || 0, d: a.d });

export const sameRational = (a: Rational, b: Rational): boolean => a.n === b.n && a.d === b.d;

export const toNumber = (a: Rational): number => a.n / a.d;

/** `2`, `-1` or `1/2`. */
export const printRational = (a: Rational): string => (a.d === 1 ? `${a.n}` : `${a.n}/${a.d}`);

/** The largest denominator that {@link toRational} looks for: square, cube and fourth roots and their like. */
const LARGEST_DENOMINATOR = 12;

/** The fraction that `value` is meant to be, or null when it is none with a small denominator. */
export function toRational(value: number): Rational | null {
  for (let d = 1; d <= LARGEST_DENOMINATOR; d += 1) {
    const n = Math.round(value * d);
    if (Math.abs(n) < 1e6 && Math.abs(value * d - n) < 1e-12 * Math.max(1, Math.abs(n))) return rational(n, d);
  }
  return null;
}
