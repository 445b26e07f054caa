import { fromCoherent } from "./convert.ts";
import type { ShownUnit } from "./unit.ts";

/** What is shown is rounded to a multiple of `figure`, in the unit's figures, with `decimals` decimals (zeros kept). */
export interface Step {
  readonly figure: number;
  readonly decimals: number;
}

/** Digits that are looked at before rounding; beyond them lies the noise of float64, not the figure. */
const DIGITS = 15;
/** Without a step a figure shows at least this many significant figures. */
const SIGNIFICANT = 3;
/** Shorter numbers are written out; from here on, and below {@link SMALL}, a power of ten is easier to read. */
const LARGE = 1e7;
const SMALL = 1e-6;
/** A number with a fine step is written out as far as float64 is exact. */
const LARGEST_WRITTEN_OUT = 1e15;
/** Up to this step a figure is written out in full. */
const COARSE_STEP = 1e3;
/** Decimals of a plain number: a specific gravity typed without its unit keeps its points. */
const PLAIN_DECIMALS = 4;
/** Decimals of a compound, which has no row of its own. */
const COMPOUND_DECIMALS = 2;

/** A decimal number: 0.digits × 10^exponent. */
interface Decimal {
  readonly digits: string;
  readonly exponent: number;
}

function decimalOf(size: number): Decimal {
  const [mantissa = "0", exponent = "0"] = size.toExponential(DIGITS - 1).split("e");
  return { digits: mantissa.replace(".", ""), exponent: Number(exponent) + 1 };
}

/** Rounded to `places` decimals (negative: tens, hundreds), half away from zero, on the decimal digits. */
function roundDecimal({ digits, exponent }: Decimal, places: number): Decimal {
  const kept = exponent + places;
  if (kept >= digits.length) return { digits, exponent };
  if (kept < 0) return { digits: "0", exponent: 1 };
  if ((digits[kept] ?? "0") < "5")
    return kept === 0 ? { digits: "0", exponent: 1 } : { digits: digits.slice(0, kept), exponent };
  const carried = String(BigInt(`0${digits.slice(0, kept)}`) + 1n).padStart(kept, "0");
  return { digits: carried, exponent: exponent + (carried.length - kept) };
}

/** Written out with exactly `places` decimals. */
function writeOut({ digits, exponent }: Decimal, places: number): string {
  const padded = "0".repeat(Math.max(0, 1 - exponent)) + digits.padEnd(exponent, "0");
  const point = Math.max(1, exponent);
  const fraction = padded.slice(point, point + places).padEnd(places, "0");
  return padded.slice(0, point) + (places > 0 ? `.${fraction}` : "");
}

const withoutZeros = (text: string): string => (text.includes(".") ? text.replace(/\.?0+$/, "") : text);

/** `1.5e13`: read back by the language. */
function writePower({ digits, exponent }: Decimal): string {
  const trimmed = digits.replace(/0+$/, "") || "0";
  return `${withoutZeros(`${trimmed[0]}.${trimmed.slice(1) || "0"}`)}e${exponent - 1}`;
}

const signed = (figure: number, text: string): string => (figure < 0 && /[1-9]/.test(text) ? `-${text}` : text);

/** Money keeps the zeros of its minor unit: 2.40, not 2.4. */
const keepsZeros = (unit: ShownUnit | null): boolean =>
  unit?.is === "compound" && (unit.terms[0]?.unit.dimension.powers[0]?.[0].startsWith("currency:") ?? false);

function decimalsOf(unit: ShownUnit | null): number {
  if (!unit) return PLAIN_DECIMALS;
  if (unit.is === "scale") return unit.decimals;
  const first = unit.terms[0];
  if (!first) return PLAIN_DECIMALS;
  return unit.terms.length === 1 || keepsZeros(unit) ? first.unit.decimals : COMPOUND_DECIMALS;
}

/** One at the last of so many decimals. */
export const stepOf = (decimals: number): Step => ({ figure: Number(`1e-${decimals}`), decimals });

/** Shows a figure rounded half away from zero to `decimals` decimals, zeros kept: 2.675 by two is 2.68, -0.001 is 0.00. */
export const fixed = (figure: number, decimals: number): string =>
  signed(figure, writeOut(roundDecimal(decimalOf(Math.abs(figure)), decimals), decimals));

function formatByStep(figure: number, step: Step): string {
  const steps = figure / step.figure;
  if (!Number.isFinite(steps)) return formatFreely(figure, null);
  const count = Number(fixed(steps, 0));
  const rounded = count * step.figure;
  const size = Math.abs(rounded);
  if (size >= (step.figure < COARSE_STEP ? LARGEST_WRITTEN_OUT : LARGE))
    return signed(rounded, writePower(decimalOf(size)));
  return fixed(rounded, step.decimals);
}

function formatFreely(figure: number, unit: ShownUnit | null): string {
  const size = Math.abs(figure);
  if (size === 0) return keepsZeros(unit) ? fixed(0, decimalsOf(unit)) : "0";
  const decimal = decimalOf(size);
  const places = Math.max(decimalsOf(unit), SIGNIFICANT - decimal.exponent);
  const rounded = roundDecimal(decimal, places);
  if (size >= LARGE || size < SMALL) return signed(figure, writePower(rounded));
  const text = writeOut(rounded, places);
  return signed(figure, keepsZeros(unit) && places === decimalsOf(unit) ? text : withoutZeros(text));
}

/**
 * A coherent value as it is shown in `unit` (null: as a plain number), without the unit itself.
 *
 * Rounding is half away from zero on the decimal figure as it would be written with fifteen digits, so 2.675 is 2.68 although
 * float64 holds a little less. With a step the figure is a multiple of it and keeps the step's decimals. Without, it has at
 * least three significant figures and the unit's decimals, no digit of a whole number is lost, and trailing zeros are dropped
 * (money keeps those of its minor unit). From ten million up and below one millionth a power of ten is written: `1.5e13`.
 * A missing value (NaN) is an empty text. The minus sign is ASCII; there is no grouping and no locale.
 */
export function formatFigure(value: number, unit: ShownUnit | null, step: Step | null): string {
  const figure = unit ? fromCoherent(value, unit) : value;
  if (Number.isNaN(figure)) return "";
  if (!Number.isFinite(figure)) return figure < 0 ? "-∞" : "∞";
  return step && step.figure > 0 ? formatByStep(figure, step) : formatFreely(figure, unit);
}
