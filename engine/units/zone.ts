import { daysOf } from "./calendar.ts";

/** The wall clock of a named time zone of the IANA database. */
export interface Zone {
  /** The name as given: `Europe/Berlin`, `UTC`. */
  readonly name: string;
  /** Whether the name is known; when it is not, wall clock and UTC are taken to be the same. */
  readonly known: boolean;
  /** Wall-clock seconds from 1970-01-01T00:00 of an instant in UTC seconds. */
  readonly toWall: (seconds: number) => number;
  /** The instant at which the wall clock shows this. Of an hour that comes twice the first; one that is skipped is read as if it were not. */
  readonly toUtc: (wallSeconds: number) => number;
}

const DAY = 86400;

const FIELDS = {
  calendar: "gregory",
  numberingSystem: "latn",
  hourCycle: "h23",
  era: "short",
  year: "numeric",
  month: "numeric",
  day: "numeric",
  hour: "numeric",
  minute: "numeric",
  second: "numeric",
} as const;

function formatterFor(name: string): Intl.DateTimeFormat | null {
  try {
    return new Intl.DateTimeFormat("en-US", { ...FIELDS, timeZone: name });
  } catch {
    return null;
  }
}

/** The platform's calendar ends here, in seconds either side of 1970. */
const CALENDAR_END = 8.64e12;

function wallSeconds(formatter: Intl.DateTimeFormat, milliseconds: number): number {
  const field: Record<string, string> = {};
  for (const { type, value } of formatter.formatToParts(milliseconds)) field[type] = value;
  const year = field.era === "BC" ? 1 - Number(field.year) : Number(field.year);
  const days = daysOf({ year, month: Number(field.month), day: Number(field.day) });
  return ((days * 24 + Number(field.hour)) * 60 + Number(field.minute)) * 60 + Number(field.second);
}

/** The zone of this name. An unknown name is reported by `known`, never thrown; whoever read it says so. */
export function createZone(name: string): Zone {
  const formatter = formatterFor(name);
  if (!formatter) return { name, known: false, toWall: (seconds) => seconds, toUtc: (wall) => wall };
  /** Seconds that the wall clock is ahead of UTC at this instant. */
  const offsetAt = (seconds: number): number => {
    const whole = Math.floor(seconds);
    return Math.abs(whole) < CALENDAR_END ? wallSeconds(formatter, whole * 1000) - whole : 0;
  };
  return {
    name,
    known: true,
    toWall: (seconds) => seconds + offsetAt(seconds),
    toUtc(wall) {
      // A day to either side has the offsets before and after any change of the clock.
      const before = wall - offsetAt(wall - DAY);
      if (before + offsetAt(before) === wall) return before;
      const after = wall - offsetAt(wall + DAY);
      return after + offsetAt(after) === wall ? after : before;
    },
  };
}
