import { isoOf, toMicrosecond, utcFromWall, type Zone, zoneOf } from "./clock.ts";
import { type DateOrder, DateReader, daysIn } from "./dates.ts";
import { PLAIN_MARKS, readFigure } from "./figures.ts";

/** How instants are written in a CSV and kept in a workbook. */
export interface InstantFormat {
  readonly order: DateOrder;
  /** Zone of times without one; null: wall clock. */
  readonly zone: string | null;
  /** Zone of the wall clock that zoned times are turned into; null: they are kept in UTC. */
  readonly clock: string | null;
}

/** Seconds since 1970 of 2001 and 2040: outside these no logger of beer was read in. */
export const EPOCH_LOW = 978_307_200;
export const EPOCH_HIGH = 2_208_988_800;

/** 10000-01-01T00:00 in seconds from 1970, and as far back before it: what lies beyond is no time of a reading. */
const YEAR_10000 = 253_402_300_800;

/** Reads the instants of one column, or of a date and a time beside one another, row by row. */
export class InstantReader {
  readonly #dates = new DateReader();
  readonly #clocks = new DateReader();
  readonly #order: DateOrder;
  readonly #zone: Zone | null;
  readonly #clock: Zone | null;
  #lastWall = Number.NEGATIVE_INFINITY;
  #lastStep = Number.NaN;
  #later = false;
  #source = "";
  #isPlain = false;
  /** Seconds from 1970-01-01T00:00: wall clock, or UTC when {@link zoned}. */
  seconds = Number.NaN;
  /** Whether the last instant is kept in UTC. */
  zoned = false;

  constructor(format: InstantFormat) {
    this.#order = format.order;
    this.#zone = format.zone === null ? null : zoneOf(format.zone);
    this.#clock = format.clock === null ? null : zoneOf(format.clock);
  }

  /** Reads one instant; false when it is none, or no time that a clock ever showed. A date alone is midnight, but not where the time of day has a column of its own. */
  read(date: string, clock: string | null): boolean {
    this.#isPlain = false;
    const { parts } = this.#dates;
    if (this.#order === "epoch-seconds" || this.#order === "epoch-milliseconds") {
      const figure = readFigure(date, PLAIN_MARKS);
      const seconds = this.#order === "epoch-seconds" ? figure : figure / 1000;
      // A clock that was reset counts from nought: such a row has no time.
      return seconds >= EPOCH_LOW && seconds <= EPOCH_HIGH && this.#fromUtc(seconds);
    }
    if (!this.#dates.scan(date) || !parts.hasDate) return false;
    let { seconds, offset } = parts;
    if (clock !== null && clock.trim() !== "") {
      const time = this.#clocks.parts;
      if (!this.#clocks.scan(clock) || time.hasDate) return false;
      seconds = time.seconds;
      offset = time.offset;
    } else if (clock !== null && !parts.hasTime) return false;
    const wall = daysIn(parts, this.#order) * 86_400 + seconds;
    if (Number.isNaN(offset)) {
      if (this.#zone !== null) return this.#fromUtc(this.#utcOf(this.#zone, wall));
      this.#source = date;
      this.#isPlain = clock === null && this.#order === "iso";
      this.zoned = false;
      this.seconds = asWritten(wall);
      return !Number.isNaN(wall);
    }
    return this.#fromUtc(wall - offset);
  }

  /** The last instant as a workbook writes it: as the file has it where that is ISO 8601, seconds where there are any. */
  text(): string {
    if (this.#isPlain) {
      const { length } = this.#source;
      const mark = this.#source.charCodeAt(10);
      if ((length === 16 || length === 19) && this.#source.charCodeAt(4) === 45) {
        if (mark === 84) return this.#source;
        if (mark === 32) return `${this.#source.slice(0, 10)}T${this.#source.slice(11)}`;
      }
    }
    return isoOf(this.seconds, this.zoned ? "Z" : "");
  }

  #fromUtc(utc: number): boolean {
    this.zoned = this.#clock === null;
    this.seconds = asWritten(this.#clock === null ? utc : utc + this.#clock(utc));
    // A workbook writes years in four digits; NaN fails the comparison too.
    return Math.abs(this.seconds) < YEAR_10000;
  }

  /** In the hour that a clock change repeats, a time that goes back begins the later pass; so does the same time again in an hourly log. */
  #utcOf(zone: Zone, wall: number): number {
    const step = wall - this.#lastWall;
    if (step < 0 || (step === 0 && this.#lastStep === HOUR)) this.#later = true;
    else if (step > 3 * HOUR) this.#later = false;
    this.#lastStep = step;
    this.#lastWall = wall;
    return utcFromWall(zone, wall, this.#later);
  }
}

/** An instant as the table will write it, so that the same reading is known again. */
const asWritten = (seconds: number): number => (Number.isInteger(seconds) ? seconds : toMicrosecond(seconds));

/** A reader of the instant in a row of entries, for headers found by their text; NaN where the row has none. */
export function instantReader(
  format: InstantFormat & { readonly from: readonly string[] },
  headers: readonly string[],
): (entries: readonly string[]) => number {
  const reader = new InstantReader(format);
  const [date = -1, clock = -1] = format.from.map((header) => headers.indexOf(header));
  return (entries) =>
    reader.read(entries[date] ?? "", clock < 0 ? null : (entries[clock] ?? "")) ? reader.seconds : Number.NaN;
}

/**
 * Rows of the later pass through an hour that a clock change repeats, 1 where so; null when there is none. Wall-clock
 * times run on, go back by about an hour once, and run on again.
 */
export function laterPass(times: Float64Array): Uint8Array | null {
  let later: Uint8Array | null = null;
  let high = Number.NEGATIVE_INFINITY;
  for (let row = 0; row < times.length; row += 1) {
    const time = times[row] ?? Number.NaN;
    if (time > high) {
      high = time;
      continue;
    }
    // A zone is changed in the small hours, by an hour; the first reading after it may be late by one interval.
    if (isClockChange(high, time) && (later?.[row - 1] === 1 || isFirstBack(times, row))) {
      later ??= new Uint8Array(times.length);
      later[row] = 1;
    }
  }
  return later;
}

const HOUR = 3600;
/** Clocks go back between midnight and four. */
const isSmallHour = (time: number): boolean => ((time % 86_400) + 86_400) % 86_400 < 4 * HOUR;

/** Whether a wall clock that had come to `high` may have been put back to `time`. */
export const isClockChange = (high: number, time: number): boolean =>
  high >= time && high - time <= HOUR && isSmallHour(time);

/** The step back is by more than half an hour after the interval is allowed for, and the rows before and after run forward; a log may end with it. */
function isFirstBack(times: Float64Array, row: number): boolean {
  const before = times[row - 1] ?? Number.NaN;
  const interval = before - (times[row - 2] ?? Number.NaN);
  const back = before - (times[row] ?? Number.NaN);
  const step = back + interval;
  const next = (times[row + 1] ?? Number.NaN) - (times[row] ?? Number.NaN);
  return back > 0 && interval > 0 && !(next <= 0) && Math.abs(step - HOUR) <= interval / 2;
}
