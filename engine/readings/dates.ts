import { daysFromDate } from "./clock.ts";
import { FIXED_ZONES } from "./zone-names.ts";

/** In which order a date's parts stand. Epochs count from 1970-01-01T00:00 UTC. */
export type DateOrder = "iso" | "day-first" | "month-first" | "year-first" | "epoch-seconds" | "epoch-milliseconds";

/** The orders that three groups of digits may stand in; `iso` begins with a four-digit year and leaves no doubt. */
export const WRITTEN_ORDERS = ["iso", "day-first", "month-first", "year-first"] as const satisfies readonly DateOrder[];

/** What a date and time is called that is written in this order. */
export const ORDER_WORDS: Readonly<Record<DateOrder, string>> = {
  iso: "year-month-day",
  "day-first": "day-first",
  "month-first": "month-first",
  "year-first": "year-first",
  "epoch-seconds": "seconds since 1970",
  "epoch-milliseconds": "milliseconds since 1970",
};

/** The parts of one date and time as found; read again and again into the same object. */
export class DateParts {
  /** The three groups of the date in writing order; a month that is a word is its number. */
  first = 0;
  second = 0;
  third = 0;
  /** Digits of the first and third group: four mean a year. */
  firstDigits = 0;
  thirdDigits = 0;
  /** Which group is a month's name: 1 or 2; 0 for none. */
  namedMonth = 0;
  /** Days from Sunday of the weekday that is written before the date; -1 where none is. */
  weekday = -1;
  hasDate = false;
  hasTime = false;
  /** Seconds from midnight. */
  seconds = 0;
  hour = 0;
  /** Whether a.m. or p.m. stands behind the time. */
  halfDay = false;
  /** Seconds east of UTC, or NaN when no zone is written. */
  offset = Number.NaN;
}

const MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
/** Months in the languages whose first three letters differ: German, French, Spanish, Dutch. */
const OTHER_MONTHS: Readonly<Record<string, number>> = {
  ...{ mär: 3, mae: 3, mai: 5, okt: 10, dez: 12, fév: 2, mrt: 3, mei: 5, avr: 4, aoû: 8, déc: 12 },
  ...{ ene: 1, abr: 4, ago: 8, dic: 12, jui: 0 },
};

const WEEKDAYS = ["sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"];
/** Weekdays in German, whole and in two letters. */
const OTHER_WEEKDAYS: Readonly<Record<string, number>> = {
  ...{ so: 0, mo: 1, di: 2, mi: 3, do: 4, fr: 5, sa: 6 },
  ...{ sonntag: 0, montag: 1, dienstag: 2, mittwoch: 3, donnerstag: 4, freitag: 5, samstag: 6, sonnabend: 6 },
};

const isDigit = (code: number): boolean => code >= 48 && code <= 57;
const isBlank = (code: number): boolean => code === 32 || code === 160 || code === 9;
const isLetter = (code: number): boolean => (code >= 65 && code <= 90) || (code >= 97 && code <= 122) || code > 191;

/** Two digits at a place, NaN where they are none. */
function twoDigits(text: string, at: number): number {
  const tens = text.charCodeAt(at) - 48;
  const ones = text.charCodeAt(at + 1) - 48;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : Number.NaN;
}

/** A place in a text that moves forward; one is kept for a whole column. */
class Cursor {
  text = "";
  at = 0;
  /** Digits taken by the last {@link digits}. */
  length: number = 0;

  code(ahead = 0): number {
    return this.text.charCodeAt(this.at + ahead);
  }

  digits(most: number): number {
    let value = 0;
    const from = this.at;
    while (this.at - from < most && isDigit(this.code())) {
      value = value * 10 + (this.code() - 48);
      this.at += 1;
    }
    this.length = this.at - from;
    return value;
  }

  skipBlanks(): void {
    while (isBlank(this.code())) this.at += 1;
  }

  word(): string {
    const from = this.at;
    while (isLetter(this.code())) this.at += 1;
    return this.text.slice(from, this.at).toLowerCase();
  }
}

/** Reads dates and times as loggers and laboratories write them; makes no text for the usual digits-only forms. */
export class DateReader {
  readonly parts = new DateParts();
  readonly #cursor = new Cursor();

  /** Whether `text` is a date, a time of day or both; {@link parts} then holds what was found. */
  scan(text: string): boolean {
    const cursor = this.#cursor;
    const parts = this.parts;
    cursor.text = text;
    cursor.at = 0;
    parts.hasDate = false;
    parts.hasTime = false;
    parts.seconds = 0;
    parts.halfDay = false;
    parts.namedMonth = 0;
    parts.weekday = -1;
    parts.offset = Number.NaN;
    if (this.#isoAtFixedPlaces(text)) return true;
    cursor.skipBlanks();
    this.#weekday();
    if (this.#date()) {
      if (cursor.code() === 84 || cursor.code() === 116) cursor.at += 1;
      else if (cursor.code() === 44) {
        cursor.at += 1;
        cursor.skipBlanks();
      } else cursor.skipBlanks();
    }
    if (isDigit(cursor.code()) && !this.#time()) return false;
    if (parts.hasTime && !this.#zone()) return false;
    cursor.skipBlanks();
    return cursor.at === text.length && (parts.hasDate || parts.hasTime);
  }

  /** `2026-03-02T08:15` with or without seconds, as most loggers write it: read by place, at a third of the cost. */
  #isoAtFixedPlaces(text: string): boolean {
    const { length } = text;
    if (length !== 19 && length !== 16) return false;
    const parts = this.parts;
    const mark = text.charCodeAt(10);
    if (text.charCodeAt(4) !== 45 || text.charCodeAt(7) !== 45 || text.charCodeAt(13) !== 58) return false;
    if ((mark !== 84 && mark !== 32) || (length === 19 && text.charCodeAt(16) !== 58)) return false;
    const year = twoDigits(text, 0) * 100 + twoDigits(text, 2);
    const hour = twoDigits(text, 11);
    const minute = twoDigits(text, 14);
    const second = length === 19 ? twoDigits(text, 17) : 0;
    const month = twoDigits(text, 5);
    const day = twoDigits(text, 8);
    // What is no such time is left to the general reader, which says no in its own way; NaN fails every comparison.
    if (!(year >= 0 && month >= 0 && day >= 0 && hour < 24 && minute < 60 && second < 60)) return false;
    parts.first = year;
    parts.second = month;
    parts.third = day;
    parts.firstDigits = 4;
    parts.thirdDigits = 2;
    parts.hour = hour;
    parts.seconds = hour * 3600 + minute * 60 + second;
    parts.hasDate = true;
    parts.hasTime = true;
    return true;
  }

  /** `Mon`, `Monday,` or `Mo.` before a date. */
  #weekday(): void {
    const cursor = this.#cursor;
    if (!isLetter(cursor.code())) return;
    const from = cursor.at;
    const word = cursor.word();
    const english = word.length < 3 ? -1 : WEEKDAYS.findIndex((weekday) => weekday.startsWith(word));
    this.parts.weekday = english >= 0 || !Object.hasOwn(OTHER_WEEKDAYS, word) ? english : (OTHER_WEEKDAYS[word] ?? -1);
    if (this.parts.weekday < 0) {
      cursor.at = from;
      return;
    }
    while (cursor.code() === 46 || cursor.code() === 44) cursor.at += 1;
    cursor.skipBlanks();
  }

  #date(): boolean {
    const cursor = this.#cursor;
    const parts = this.parts;
    const from = cursor.at;
    if (isLetter(cursor.code())) {
      parts.first = this.#month();
      parts.namedMonth = 1;
      parts.firstDigits = 0;
      if (parts.first === 0) return this.#back(from);
    } else {
      parts.first = cursor.digits(4);
      parts.firstDigits = cursor.length;
      if (cursor.length === 0) return this.#back(from);
      if (cursor.length === 4 && isDigit(cursor.code())) return this.#compactDate() || this.#back(from);
    }
    const mark = cursor.code();
    if (mark !== 45 && mark !== 47 && mark !== 46 && mark !== 32) return this.#back(from);
    cursor.at += 1;
    cursor.skipBlanks();
    if (isLetter(cursor.code()) && parts.namedMonth === 0) {
      parts.second = this.#month();
      parts.namedMonth = 2;
      if (parts.second === 0) return this.#back(from);
    } else {
      if (mark === 32 && parts.namedMonth === 0) return this.#back(from);
      parts.second = cursor.digits(2);
      if (cursor.length === 0) return this.#back(from);
    }
    // `Mar 2, 2026`, `2. Mar. 2026`
    let marks = 0;
    while (cursor.code() === mark || cursor.code() === 44 || cursor.code() === 32 || cursor.code() === 46) {
      cursor.at += 1;
      marks += 1;
    }
    parts.third = cursor.digits(4);
    parts.thirdDigits = cursor.length;
    if (marks === 0 || marks > 2 || cursor.length === 0 || cursor.length === 3 || isDigit(cursor.code()))
      return this.#back(from);
    parts.hasDate = true;
    return true;
  }

  /** The month and day of `20260302`, the basic format of ISO 8601, in this century. */
  #compactDate(): boolean {
    const cursor = this.#cursor;
    const parts = this.parts;
    parts.second = cursor.digits(2);
    const isMonth = cursor.length === 2;
    parts.third = cursor.digits(2);
    parts.thirdDigits = cursor.length;
    const isDay = parts.thirdDigits === 2 && !Number.isNaN(daysFromDate(parts.first, parts.second, parts.third));
    parts.hasDate = isMonth && isDay && Math.floor(parts.first / 100) * 100 === CENTURY;
    return parts.hasDate;
  }

  #back(from: number): false {
    this.#cursor.at = from;
    this.parts.namedMonth = 0;
    return false;
  }

  #month(): number {
    const short = this.#cursor.word().slice(0, 3);
    const at = MONTHS.indexOf(short);
    return at >= 0 ? at + 1 : Object.hasOwn(OTHER_MONTHS, short) ? (OTHER_MONTHS[short] ?? 0) : 0;
  }

  #time(): boolean {
    const cursor = this.#cursor;
    const parts = this.parts;
    const hour = cursor.digits(2);
    if (cursor.length === 0) return false;
    let seconds = 0;
    const colon = cursor.code();
    // Some clocks write 08.15 or 08h15.
    if (colon === 58 || colon === 46 || colon === 104) {
      cursor.at += 1;
      const minute = cursor.digits(2);
      if (cursor.length !== 2 || minute > 59) return false;
      seconds = minute * 60;
      if (cursor.code() === colon || cursor.code() === 58) {
        cursor.at += 1;
        const second = cursor.digits(2);
        if (cursor.length !== 2 || second > 59) return false;
        seconds += second;
        if (cursor.code() === 46 || cursor.code() === 44 || cursor.code() === 58) {
          cursor.at += 1;
          const fraction = cursor.digits(9);
          // Read anew: the compiler holds the length to be what it was last compared with.
          const { length } = cursor as Cursor;
          if (length === 0) return false;
          seconds += fraction / 10 ** length;
        }
      }
    } else if (parts.hasDate && isDigit(colon)) {
      // `0815` and `081500` behind a date.
      const minute = cursor.digits(2);
      const second = isDigit(cursor.code()) ? cursor.digits(2) : 0;
      if (cursor.length !== 2 || minute > 59 || second > 59) return false;
      seconds = minute * 60 + second;
    } else if (!this.#halfDayAhead()) return false;
    const shown = this.#halfDay(hour);
    if (Number.isNaN(shown) || shown > 24 || (shown === 24 && seconds > 0)) return false;
    parts.hour = hour;
    parts.seconds = shown * 3600 + seconds;
    parts.hasTime = true;
    return true;
  }

  #halfDayAhead(): boolean {
    const cursor = this.#cursor;
    const code = (isBlank(cursor.code()) ? cursor.code(1) : cursor.code()) | 32;
    return code === 97 || code === 112;
  }

  /** The hour of the day, after a.m. or p.m. where either is written: 12 a.m. is midnight. NaN for 13 p.m. */
  #halfDay(hour: number): number {
    const cursor = this.#cursor;
    if (!this.#halfDayAhead()) return hour;
    cursor.skipBlanks();
    const afternoon = (cursor.code() | 32) === 112;
    cursor.at += 1;
    if (cursor.code() === 46) cursor.at += 1;
    if ((cursor.code() | 32) !== 109) return Number.NaN;
    cursor.at += 1;
    if (cursor.code() === 46) cursor.at += 1;
    this.parts.halfDay = true;
    if (hour < 1 || hour > 12) return Number.NaN;
    return (hour % 12) + (afternoon ? 12 : 0);
  }

  #zone(): boolean {
    const cursor = this.#cursor;
    const parts = this.parts;
    if (isBlank(cursor.code())) cursor.skipBlanks();
    const code = cursor.code();
    if (Number.isNaN(code)) return true;
    if (isLetter(code)) {
      const word = cursor.word();
      const isUtc = word === "z" || word === "utc" || word === "gmt";
      // `8:15 wet` is a remark.
      const east = isUtc ? 0 : code < 97 ? FIXED_ZONES.get(word) : undefined;
      if (east === undefined) return false;
      parts.offset = east * 3600;
      if (!isUtc || Number.isNaN(cursor.code())) return true;
    }
    const sign = cursor.code();
    if (sign !== 43 && sign !== 45 && sign !== 0x2212) return true;
    cursor.at += 1;
    const hours = cursor.digits(2);
    if (cursor.length === 0) return false;
    if (cursor.code() === 58) cursor.at += 1;
    const minutes = cursor.digits(2);
    if (hours > 14 || minutes > 59) return false;
    parts.offset = (sign === 43 ? 1 : -1) * (hours * 3600 + minutes * 60);
    this.#zoneInBrackets();
    return true;
  }

  /** `+02:00[Europe/Vienna]`, RFC 9557: the offset says it already. */
  #zoneInBrackets(): void {
    const cursor = this.#cursor;
    if (cursor.code() !== 91) return;
    const end = cursor.text.indexOf("]", cursor.at);
    if (end >= 0) cursor.at = end + 1;
  }
}

/** Two-digit years are of this century: no brewery reads in a logger's figures from the last one. */
const CENTURY = 2000;
const yearOf = (figure: number, digits: number): number =>
  digits === 4 ? figure : digits <= 2 ? CENTURY + figure : Number.NaN;

/** Days from 1970-01-01 of the date in `parts` when its groups stand in `order`; NaN when that is no date, or one of another weekday. */
export function daysIn(parts: DateParts, order: DateOrder): number {
  const days = daysByGroups(parts, order);
  return parts.weekday < 0 || (((days + THURSDAY) % 7) + 7) % 7 === parts.weekday ? days : Number.NaN;
}

/** 1970-01-01 was a Thursday. */
const THURSDAY = 4;

function daysByGroups(parts: DateParts, order: DateOrder): number {
  const { first, second, third } = parts;
  if (parts.namedMonth === 1)
    return order === "iso" ? Number.NaN : daysFromDate(yearOf(third, parts.thirdDigits), first, second);
  if (parts.firstDigits === 4) {
    return order === "iso" || parts.namedMonth === 2 ? daysFromDate(first, second, third) : Number.NaN;
  }
  if (parts.namedMonth === 2)
    return order === "iso" ? Number.NaN : daysFromDate(yearOf(third, parts.thirdDigits), second, first);
  if (order === "day-first") return daysFromDate(yearOf(third, parts.thirdDigits), second, first);
  if (order === "month-first") return daysFromDate(yearOf(third, parts.thirdDigits), first, second);
  if (order === "year-first" && parts.firstDigits === 2 && parts.thirdDigits <= 2)
    return daysFromDate(CENTURY + first, second, third);
  return Number.NaN;
}
