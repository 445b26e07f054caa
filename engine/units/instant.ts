import { dateOf } from "./calendar.ts";
import type { Zone } from "./zone.ts";

const DAY = 86400;

const padded = (figure: number, length: number): string => String(figure).padStart(length, "0");

/** Four digits, or the sign and six that ISO 8601 wants outside them. */
const printYear = (year: number): string =>
  year >= 0 && year <= 9999 ? padded(year, 4) : `${year < 0 ? "-" : "+"}${padded(Math.abs(year), 6)}`;

/** `Z` or `+01:00`; to the minute, as every zone keeps since 1972. */
function printOffset(seconds: number): string {
  const minutes = Math.round(Math.abs(seconds) / 60);
  if (minutes === 0) return "Z";
  return `${seconds < 0 ? "-" : "+"}${padded(Math.floor(minutes / 60), 2)}:${padded(minutes % 60, 2)}`;
}

/** Instants beyond ISO 8601's six-digit years have no text. */
const LAST_INSTANT = 999_999 * 365 * DAY;

/**
 * ISO 8601 text of an instant to the minute; seconds, rounded to the millisecond, only where they are not zero.
 * Without a zone `seconds` counts wall-clock time from 1970-01-01T00:00: `2026-03-02T08:15`. With one it counts UTC and
 * the text is that zone's wall clock with its offset: `2026-03-02T08:15+01:00`. With `dateOnly` it is the date alone.
 * Empty for a missing instant (NaN) and for one beyond the calendar.
 */
export function formatInstant(seconds: number, zone: Zone | null, dateOnly = false): string {
  if (!(Math.abs(seconds) <= LAST_INSTANT)) return "";
  const wall = Math.round((zone ? zone.toWall(seconds) : seconds) * 1000) / 1000;
  const days = Math.floor(wall / DAY);
  const { year, month, day } = dateOf(days);
  const date = `${printYear(year)}-${padded(month, 2)}-${padded(day, 2)}`;
  if (dateOnly) return date;
  const inDay = Math.round((wall - days * DAY) * 1000);
  const [hour, minute, rest] = [Math.floor(inDay / 3_600_000), Math.floor(inDay / 60_000) % 60, inDay % 60_000];
  const thousandths = rest % 1000 === 0 ? "" : `.${padded(rest % 1000, 3)}`;
  const tail = rest === 0 ? "" : `:${padded(Math.floor(rest / 1000), 2)}${thousandths}`;
  return `${date}T${padded(hour, 2)}:${padded(minute, 2)}${tail}${zone ? printOffset(wall - seconds) : ""}`;
}
