import type { Span } from "../base/span.ts";
import { type Fault, fault, type Mend, mend } from "../diagnostics/diagnostic.ts";
import { isBlank, isDigit, skipDigits, startsName } from "./characters.ts";
import type { BrokenNode, InstantNode } from "./tree.ts";

/** A number's characters, read. `value` is finite even where `fault` says what is wrong. */
export interface NumberRead {
  readonly value: number;
  readonly end: number;
  readonly fault: Fault | null;
}

const DECIMAL_COMMA = "A decimal is written with a point";

const badNumber = (text: string, span: Span, says: string, mends: readonly Mend[]): Fault =>
  fault("bad-number", span, { text: text.slice(span.start, span.end), says }, mends);

/** `1,250` or `1,250,000`, with at most three digits before the first comma. */
const THOUSANDS = /^\d{1,3}(,\d{3})+$/;

const LONGEST_EXPONENT = 6;

/** `66,7`: one mend. `1,250` may be meant either way: both are offered. */
function readCommas(text: string, start: number, firstEnd: number): NumberRead {
  let end = firstEnd;
  let commas = 0;
  while (text.charCodeAt(end) === 44 && isDigit(text.charCodeAt(end + 1))) {
    end = skipDigits(text, end + 1);
    commas += 1;
  }
  if (text.charCodeAt(end) === 46 && isDigit(text.charCodeAt(end + 1))) end = skipDigits(text, end + 1);
  end += /^e[+-]?\d+/i.exec(text.slice(end, end + LONGEST_EXPONENT))?.[0].length ?? 0;
  const span = { start, end };
  const typed = text.slice(start, end);
  const joined = typed.replaceAll(",", "");
  const pointed = typed.replace(",", ".");
  const thousands = THOUSANDS.test(typed);
  const asThousands = mend(`Write ${joined}`, span, joined);
  const asDecimal = mend(`Write ${pointed}`, span, pointed);
  if (commas > 1 || typed.includes(".")) {
    const says = `Commas do not group digits here: write ${joined}.`;
    return { value: finite(Number(joined)), end, fault: badNumber(text, span, says, [asThousands]) };
  }
  const says = thousands
    ? `A comma in a number can be read two ways: write ${joined} or ${pointed}.`
    : `${DECIMAL_COMMA}: ${pointed}.`;
  const mends = thousands ? [asThousands, asDecimal] : [asDecimal];
  return { value: finite(Number(pointed)), end, fault: badNumber(text, span, says, mends) };
}

const finite = (value: number): number => (Number.isFinite(value) ? value : 0);

/**
 * The number at `at`, where a digit stands or a point with a digit behind it (`.5` is understood, and tidied to `0.5`).
 * `commaJoins`: a comma between two digits is a decimal comma rather than a comma between arguments.
 */
export function readNumber(text: string, at: number, commaJoins: boolean): NumberRead {
  let end = skipDigits(text, at);
  if (commaJoins && end > at && text.charCodeAt(end) === 44 && isDigit(text.charCodeAt(end + 1)))
    return readCommas(text, at, end);
  let whole = true;
  if (text.charCodeAt(end) === 46 && !startsName(text, end + 1)) {
    whole = false;
    const decimals = end + 1;
    end = skipDigits(text, decimals);
    if (end === decimals) {
      const written = text.slice(at, decimals - 1);
      const says = `A digit is missing after the point: write ${written}.`;
      return {
        value: finite(Number(written)),
        end,
        fault: badNumber(text, { start: at, end }, says, [mend(`Write ${written}`, { start: at, end }, written)]),
      };
    }
    if (text.charCodeAt(end) === 46 && isDigit(text.charCodeAt(end + 1))) return readManyPoints(text, at, end);
    if (commaJoins && text.charCodeAt(end) === 44 && isDigit(text.charCodeAt(end + 1)))
      return readPointThenComma(text, at, end);
  }
  const power = text.charCodeAt(end) | 32;
  if (power === 101) {
    const sign = text.charCodeAt(end + 1);
    const digits = end + (sign === 43 || sign === 45 ? 2 : 1);
    if (isDigit(text.charCodeAt(digits))) {
      end = skipDigits(text, digits);
      whole = false;
    }
  }
  // Small whole numbers are most of all: no slice, no parse.
  if (whole && end - at <= 9) {
    let value = 0;
    for (let i = at; i < end; i += 1) value = value * 10 + text.charCodeAt(i) - 48;
    return { value, end, fault: null };
  }
  const value = Number(text.slice(at, end));
  if (Number.isFinite(value)) return { value, end, fault: null };
  return {
    value: 0,
    end,
    fault: badNumber(text, { start: at, end }, "This number is too large to calculate with.", []),
  };
}

function readManyPoints(text: string, at: number, from: number): NumberRead {
  let end = from;
  while (text.charCodeAt(end) === 46 && isDigit(text.charCodeAt(end + 1))) end = skipDigits(text, end + 1);
  return { value: 0, end, fault: badNumber(text, { start: at, end }, "A number has one decimal point.", []) };
}

/** `1.250,5`: points between thousands, a comma before the decimals. */
function readPointThenComma(text: string, at: number, comma: number): NumberRead {
  const end = skipDigits(text, comma + 1);
  const span = { start: at, end };
  const written = text.slice(at, end).replaceAll(".", "").replace(",", ".");
  const fault = badNumber(text, span, `${DECIMAL_COMMA}: ${written}.`, [mend(`Write ${written}`, span, written)]);
  return { value: finite(Number(written)), end, fault };
}

/** Whether digits-hyphen-digits-hyphen-digits stand at `at` without blanks. */
export function startsInstant(text: string, at: number): boolean {
  const year = skipDigits(text, at);
  if (year === at || text.charCodeAt(year) !== 45) return false;
  const month = skipDigits(text, year + 1);
  return month > year + 1 && text.charCodeAt(month) === 45 && isDigit(text.charCodeAt(month + 1));
}

/** `3` as `03`. */
export const two = (figure: string): string => figure.padStart(2, "0");

/** `2/3/2026` as ISO 8601 writes what it may be: the day first, and the month first, but for points, which stand only where the day does; the calendar is not asked. */
export const datesOf = (first: string, sign: string, second: string, year: string): readonly string[] => {
  const dayFirst = `${year}-${two(second)}-${two(first)}`;
  return sign === "." ? [dayFirst] : [dayFirst, `${year}-${two(first)}-${two(second)}`];
};

/** Whether two like strokes or points part the digits at `at`: `02/03/2026`, `25.3.2026`. */
export function mayBeDate(text: string, at: number): boolean {
  const first = skipDigits(text, at);
  const sign = text.charCodeAt(first);
  if (sign !== 47 && sign !== 46) return false;
  const second = skipDigits(text, first + 1);
  return second > first + 1 && text.charCodeAt(second) === sign && isDigit(text.charCodeAt(second + 1));
}

const INSTANT = /^(\d{4})-(\d\d)-(\d\d)(?:T(\d\d):(\d\d)(?::(\d\d)(\.\d{1,9})?)?(Z|[+-]\d\d(?::?\d\d)?)?)?$/;
const LOOSE_DATE = /^(\d{4})-(\d{1,2})-(\d{1,2})$/;
/** A whole sum such as `12-3-2`: what only arithmetic can mean. */
const SUM = /^\d+(-\d+)+$/;

/** Days from 1970-01-01 in the Gregorian calendar, counted from 1 March so that the leap day comes last. */
export function daysFromEpoch(year: number, month: number, day: number): number {
  const y = month > 2 ? year : year - 1;
  const era = Math.floor(y / 400);
  const yearOfEra = y - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + day - 1;
  return era * 146097 + yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear - 719468;
}

const daysInMonth = (year: number, month: number): number =>
  month === 2
    ? year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0)
      ? 29
      : 28
    : [4, 6, 9, 11].includes(month)
      ? 30
      : 31;

/** An ISO 8601 date, or date and time with minutes at the least; null when `text` as a whole is none that exists. */
export function parseInstant(text: string): Pick<InstantNode, "seconds" | "zoned" | "dateOnly"> | null {
  const match = INSTANT.exec(text);
  if (match === null) return null;
  const [, y, mo, d, h, mi, s, fraction, zone] = match;
  const [year, month, day] = [Number(y), Number(mo), Number(d)];
  const [hour, minute, second] = [Number(h ?? 0), Number(mi ?? 0), Number(s ?? 0)];
  if (month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) return null;
  if (hour > 23 || minute > 59 || second > 59) return null;
  let seconds = daysFromEpoch(year, month, day) * 86400 + hour * 3600 + minute * 60 + second + Number(fraction ?? 0);
  if (zone !== undefined && zone !== "Z") {
    const digits = zone.replace(":", "");
    const [hours, minutes] = [Number(digits.slice(1, 3)), Number(digits.slice(3) || 0)];
    if (hours > 23 || minutes > 59) return null;
    seconds -= (digits.startsWith("-") ? -1 : 1) * (hours * 3600 + minutes * 60);
  }
  return { seconds, zoned: zone !== undefined, dateOnly: h === undefined };
}

/** Past everything that was meant as the instant from `at` on: digits, hyphens, `T`, colons, a zone. */
function skipInstant(text: string, at: number): number {
  let end = skipDigits(text, skipDigits(text, skipDigits(text, at) + 1) + 1);
  while (text.charCodeAt(end) === 45 && isDigit(text.charCodeAt(end + 1))) end = skipDigits(text, end + 1);
  if ((text.charCodeAt(end) | 32) !== 116 || !isDigit(text.charCodeAt(end + 1))) return end;
  end = skipDigits(text, end + 1);
  while ((text.charCodeAt(end) === 58 || text.charCodeAt(end) === 46) && isDigit(text.charCodeAt(end + 1))) {
    end = skipDigits(text, end + 1);
  }
  const zone = text.charCodeAt(end);
  if ((zone | 32) === 122 && !startsName(text, end + 1)) return end + 1;
  if ((zone === 43 || zone === 45) && isDigit(text.charCodeAt(end + 1))) {
    end = skipDigits(text, end + 1);
    if (text.charCodeAt(end) === 58 && isDigit(text.charCodeAt(end + 1))) end = skipDigits(text, end + 1);
  }
  return end;
}

/** A time of day behind a date: `8:15`, `08:15:30`, `8:15 pm`. */
const CLOCK = /^(\d{1,2})(:\d\d(?::\d\d)?)(?: ?([ap]m)\b)?/i;

/** The instant at `at`, where {@link startsInstant} holds; broken with a `bad-number` fault when no calendar has it. */
export function readInstant(
  text: string,
  at: number,
): { readonly node: InstantNode | BrokenNode; readonly fault: Fault | null } {
  const end = skipInstant(text, at);
  const span = { start: at, end };
  const written = text.slice(at, end);
  // Date and time parted by a blank: one slip, one mend.
  const clock = isBlank(text.charCodeAt(end)) ? CLOCK.exec(text.slice(end + 1, end + 13)) : null;
  if (clock !== null && !written.includes("T")) {
    const whole = { start: at, end: end + 1 + clock[0].length };
    const [, typed = "", minutes = "", half] = clock;
    const hour = half === undefined ? Number(typed) : (Number(typed) % 12) + (/p/i.test(half) ? 12 : 0);
    const mended = `${written}T${two(String(hour))}${minutes}`;
    const told = badNumber(text, whole, `Date and time are joined by a T: ${mended}.`, [
      mend(`Write ${mended}`, whole, mended),
    ]);
    return { node: { node: "broken", span: whole }, fault: told };
  }
  const read = parseInstant(written);
  if (read !== null) return { node: { node: "instant", span, ...read }, fault: null };
  return { node: { node: "broken", span }, fault: badInstant(text, span, written) };
}

function badInstant(text: string, span: Span, written: string): Fault {
  const upper = written.toUpperCase();
  if (parseInstant(upper) !== null) {
    return badNumber(text, span, `An instant is written ${upper}.`, [mend(`Write ${upper}`, span, upper)]);
  }
  const loose = LOOSE_DATE.exec(written);
  const padded = loose === null ? "" : `${loose[1]}-${two(loose[2] ?? "")}-${two(loose[3] ?? "")}`;
  if (parseInstant(padded) !== null) {
    const says = `A date is written with two digits for month and day: ${padded}.`;
    return badNumber(text, span, says, [mend(`Write ${padded}`, span, padded)]);
  }
  const spaced = SUM.test(written) && loose === null ? written.replaceAll("-", " - ") : null;
  const mends = spaced === null ? [] : [mend("Put blanks round the minus signs", span, spaced)];
  const says =
    "This is no date in the calendar. An instant is written 2026-03-02 or 2026-03-02T08:15; to subtract, put blanks round each minus.";
  return badNumber(text, span, says, mends);
}
