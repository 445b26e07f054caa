import { ONE } from "../base/rational.ts";
import { type Fault, fault, mend } from "../diagnostics/diagnostic.ts";
import { datesOf, parseInstant, two } from "./numbers.ts";
import type { BinaryOperator } from "./tokens.ts";
import type { UnitPhrase } from "./tree.ts";

/*
 * What people type before they know the language. It is looked for only where the language itself can read nothing (a date
 * between strokes and a fraction of a unit are the two exceptions, see the reference), is told with what to write instead,
 * and read as that.
 */

/** A slip that makes a figure: what it was read as, and where it ends. */
export interface FigureSlip {
  readonly value: number;
  readonly end: number;
  /** Of a length with inch or foot marks. */
  readonly unit: UnitPhrase | null;
  readonly fault: Fault;
}

/** Enough of a text to hold a fraction, a time or a date. */
const ENOUGH = 24;

const BLANKS = "[ \\t\\u00a0\\u2009\\u202f]";
const FRACTION = new RegExp(`^(?:${BLANKS}+(\\d+)[/⁄](\\d+)(?![\\d.,/⁄])|⁄(\\d+)|${BLANKS}*([¼-¾⅐-⅞]))`);
const MARK = /^(?:(["″”]|''|′′|’’)|['′’])(?!\d)/;
const CLOCK = /^:(\d\d)(?::\d\d)?(?:\s?([ap])\.?m\b\.?)?/i;

/** Decimals of a fraction that no decimal figure ends: finer than any scale. */
const FRACTION_DECIMALS = 6;

/** A figure with a fraction as a decimal figure: `36.125`. */
export const decimalOf = (value: number): string => String(Number(value.toFixed(FRACTION_DECIMALS)));

/** `½` as 0.5. */
export function vulgarValue(sign: string): number {
  const [above = 0, below = 1] = sign.normalize("NFKD").split("⁄").map(Number);
  return above / below;
}

export const isVulgarFraction = (text: string, at: number): boolean => /^[¼-¾⅐-⅞]/.test(text.charAt(at));

const spelt = (spelling: string, start: number, end: number): UnitPhrase => ({
  factors: [{ spelling, power: ONE, span: { start, end } }],
  span: { start, end },
});

/** What follows the figure `text.slice(start, end)` and belongs to it: `36 1/8`, `1½`, `36"`, `6′`, `8:15`; null: nothing. */
export function slipBehind(text: string, start: number, end: number, figure: number): FigureSlip | null {
  const behind = text.slice(end, end + ENOUGH);
  const clock = CLOCK.exec(behind);
  if (clock !== null) return timeOfDay(text, start, end + clock[0].length, figure, clock);
  const whole = /^\d*$/.test(text.slice(start, end));
  const [fraction = "", above, below, under, sign] = (whole ? FRACTION.exec(behind) : null) ?? [];
  const [mark = "", inches] = MARK.exec(behind.slice(fraction.length)) ?? [];
  if (fraction === "" && mark === "") return null;
  const part = above === undefined ? (sign === undefined ? 0 : vulgarValue(sign)) : Number(above) / Number(below);
  const value = under === undefined ? figure + part : figure / Number(under);
  if (!Number.isFinite(value)) return null;
  const numeral = decimalOf(value);
  const unit = mark === "" ? "" : inches === undefined ? "ft" : "inch";
  const written = `${numeral} ${unit}`.trim();
  const numberEnd = end + fraction.length;
  const span = { start, end: numberEnd + mark.length };
  // Feet and inches are mended together.
  const label = fraction === "" ? "Write the unit" : `Write ${written}`;
  const says = fraction === "" ? "A length is written with its unit" : "A fraction is written as a decimal figure";
  return {
    value,
    end: span.end,
    unit: mark === "" ? null : spelt(unit, numberEnd, span.end),
    fault: fault("syntax", span, { says: `${says}: ${written}.` }, [mend(label, span, written)]),
  };
}

function timeOfDay(text: string, start: number, end: number, hours: number, clock: RegExpExecArray): FigureSlip {
  const span = { start, end };
  const [, minutes = "", half] = clock;
  const length = `${hours} h ${Number(minutes)} min`;
  const mends = half === undefined ? [mend(`Write ${length}`, span, length)] : [];
  const says = `A time of day stands with its date: 2026-03-02T08:15. A length of time is written ${length}.`;
  return {
    value: hours * 60 + Number(minutes),
    end,
    unit: spelt("min", end, end),
    fault: fault("bad-number", span, { text: text.slice(start, end), says }, mends),
  };
}

const LOOSE_DATE =
  /^(?:(\d{1,2})([/.])(\d{1,2})\2((?:19|20)\d\d)|((?:19|20)\d\d)\/(\d{1,2})\/(\d{1,2}))(?:[ T](\d{1,2}):(\d\d))?(?![\w.,:/°%])/;

/** The dates of the calendar that `02/03/2026`, `25.3.2026` or `2026/3/2` at `at` may be; null: it is none. */
export function looseDateAt(text: string, at: number): { readonly end: number; readonly fault: Fault } | null {
  const found = LOOSE_DATE.exec(text.slice(at, at + ENOUGH));
  if (found === null) return null;
  const [typed, first = "", sign, second = "", last, year, month = "", day = "", hour, minutes] = found;
  const time = hour === undefined ? "" : `T${two(hour)}:${minutes}`;
  const read =
    year === undefined ? datesOf(first, sign ?? "", second, last ?? "") : [`${year}-${two(month)}-${two(day)}`];
  const dates = [...new Set(read.map((date) => date + time))].filter((date) => parseInstant(date) !== null);
  const [one, other] = dates;
  if (one === undefined) return null;
  const span = { start: at, end: at + typed.length };
  const says =
    other === undefined
      ? `A date is written with the year first: ${one}.`
      : `Does the day or the month stand first? Write ${one} or ${other}.`;
  const mends = dates.map((date) => mend(`Write ${date}`, span, date));
  return { end: span.end, fault: fault("bad-number", span, { text: typed, says }, mends) };
}

/** Units and signs written as words between two operands. */
export const SIGN_WORDS: ReadonlyMap<string, BinaryOperator> = new Map([
  ["x", "*"],
  ["times", "*"],
  ["of", "*"],
  ["at", "*"],
  ["per", "/"],
  ["over", "/"],
  ["plus", "+"],
  ["minus", "-"],
]);

/** Words behind an operand that ask for another unit. */
export const CONVERTING: ReadonlySet<string> = new Set(["in", "into", "to"]);

/** `2x25`: how many characters of the word at `word`'s start are a sign. */
export const signWordLength = (word: string): number =>
  SIGN_WORDS.has(word.toLowerCase()) ? word.length : /^[xX]\d+$/.test(word) ? 1 : 0;

/** Signs of money, which several currencies share, by the codes that are meant. */
export const MONEY_SIGNS: ReadonlyMap<string, readonly string[]> = new Map([
  ["$", ["USD", "CAD", "AUD"]],
  ["€", ["EUR"]],
  ["£", ["GBP"]],
  ["¥", ["JPY", "CNY"]],
]);

const DOLLARS =
  "USD CAD AUD NZD SGD HKD TWD MXN ARS CLP COP UYU DOP BBD BMD BND BSD BZD FJD GYD JMD KYD LRD NAD SBD SRD TTD XCD";

/** Every currency that is written with a sign or by a word: in a book that counts in one of them, that one is meant. From memory. */
export const CURRENCIES_OF: ReadonlyMap<string, readonly string[]> = new Map([
  ["$", DOLLARS.split(" ")],
  ["dollars", DOLLARS.split(" ")],
  ["€", ["EUR"]],
  ["£", ["GBP", "EGP", "FKP", "GIP", "SHP"]],
  ["¥", ["JPY", "CNY"]],
]);

/** Words before a unit that make it another: `us gal`, `square feet`, `degrees Plato`. */
const BEFORE_UNITS =
  /^(?:us|uk|imp|imperial|british|american|fl|fluid|short|long|metric|sq|square|cu|cubic|°|º|deg|degs|degree|degrees)$/i;

export const standsBeforeUnit = (word: string): boolean => BEFORE_UNITS.test(word);
