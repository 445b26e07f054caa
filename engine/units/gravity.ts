/**
 * The gravity curve: mass share of extract p (12 °P is 0.12) against apparent specific gravity s at 20/20 °C.
 *
 * Form: s = 1 + a·p + b·p² + c·p³, with a = 0.3871, b = 0.1270, c = 0.0585. The constants were fitted to the whole degrees
 * 0 to 30 of NBS Circular C440 (1942), Table 114, for the least greatest error, and cut to four decimals.
 * Its greatest error against that table is 0.000017 SG; the table itself is printed to 0.00001.
 *
 * Because b² < 3·a·c the slope is positive everywhere, so the curve rises strictly for every real p and the cubic has exactly
 * one real root: the inverse is that root in closed form, polished by Newton's rule. There and back agrees to 1e-12.
 */

const A = 0.3871;
const B = 0.127;
const C = 0.0585;

/** Where the curve holds, in mass share: below 0 it continues the table (beer drier than water), above 0.30 the table of °P ends. */
export const GRAVITY_LOW = -0.02;
export const GRAVITY_HIGH = 0.3;

/** Apparent specific gravity 20/20 °C of a mass share of extract (0.12 for 12 °P). Finite and rising for every finite share of sane size. */
export const specificGravity = (share: number): number => 1 + share * (A + share * (B + share * C));

/** With p = t − B/3C the cubic becomes t³ + P·t + Q = 0, and P is positive: one real root. */
const SHIFT = B / (3 * C);
const P = A / C - (B * B) / (3 * C * C);
const Q_AT_ONE = (2 * B ** 3) / (27 * C ** 3) - (A * B) / (3 * C * C);
const ROOT_SIZE = -2 * Math.sqrt(P / 3);
const ROOT_INNER = (3 / (2 * P)) * Math.sqrt(3 / P);

/** Two rounds bring the closed form, which loses digits near zero, to the last bit. */
const POLISHING_ROUNDS = 2;

/** Mass share of extract of an apparent specific gravity 20/20 °C: the exact inverse of {@link specificGravity}. */
export function massShare(gravity: number): number {
  const rise = gravity - 1;
  const q = Q_AT_ONE - rise / C;
  let share = ROOT_SIZE * Math.sinh(Math.asinh(ROOT_INNER * q) / 3) - SHIFT;
  if (!Number.isFinite(share)) return share;
  for (let round = 0; round < POLISHING_ROUNDS; round += 1) {
    const missing = rise - share * (A + share * (B + share * C));
    share += missing / (A + share * (2 * B + share * 3 * C));
  }
  return share;
}
