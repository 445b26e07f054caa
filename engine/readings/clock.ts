/** Days from 1970-01-01 to a date of the Gregorian calendar, or NaN when there is no such date. */
export function daysFromDate(year: number, month: number, day: number): number {
  if (month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) return Number.NaN;
  // Years that begin in March put the leap day last; an era of 400 years has 146,097 days.
  const y = month <= 2 ? year - 1 : year;
  const era = Math.floor(y / 400);
  const yearOfEra = y - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + day - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return era * 146_097 + dayOfEra - 719_468;
}

function daysInMonth(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

const two = (value: number): string => (value < 10 ? `0${value}` : String(value));

/** Seconds from 1970 to the nearest microsecond: what a float64 tells apart today, and {@link isoOf} writes. */
export function toMicrosecond(seconds: number): number {
  const whole = Math.floor(seconds);
  return whole + Math.round((seconds - whole) * 1e6) / 1e6;
}

/** The digits of a fraction of a second: milliseconds, or microseconds where those say more. */
function fractionText(microseconds: number): string {
  const digits = String(microseconds).padStart(6, "0");
  return digits.endsWith("000") ? digits.slice(0, 3) : digits;
}

/** ISO 8601 of seconds from 1970-01-01T00:00, to the minute where the seconds are none and to the microsecond at most; `zone` is put behind it. */
export function isoOf(instant: number, zone = ""): string {
  const seconds = toMicrosecond(instant);
  const whole = Math.floor(seconds);
  const days = Math.floor(whole / 86_400);
  const rest = whole - days * 86_400;
  // The inverse of daysFromDate, in the same calendar that begins in March.
  const shifted = days + 719_468;
  const era = Math.floor(shifted / 146_097);
  const dayOfEra = shifted - era * 146_097;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36_524) - Math.floor(dayOfEra / 146_096)) / 365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const marchMonth = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - Math.floor((153 * marchMonth + 2) / 5) + 1;
  const month = marchMonth < 10 ? marchMonth + 3 : marchMonth - 9;
  const year = yearOfEra + era * 400 + (month <= 2 ? 1 : 0);
  const clock = `${two(Math.floor(rest / 3600))}:${two(Math.floor(rest / 60) % 60)}`;
  const second = rest % 60;
  const fraction = Math.round((seconds - whole) * 1e6);
  const tail =
    second === 0 && fraction === 0 ? "" : `:${two(second)}${fraction === 0 ? "" : `.${fractionText(fraction)}`}`;
  return `${String(year).padStart(4, "0")}-${two(month)}-${two(day)}T${clock}${tail}${zone}`;
}

/** How a zone differs from UTC, in seconds east, at an instant of UTC. */
export type Zone = (utc: number) => number;

/** `UTC`, `Z`, `+02:00`, `-0330` or a name of the IANA time zone database; null for anything else. */
export function zoneOf(name: string): Zone | null {
  if (/^(?:utc|gmt|z)$/i.test(name)) return () => 0;
  const fixed = /^(?:utc|gmt)?([+\-\u2212])(\d{1,2}):?(\d{2})?$/i.exec(name);
  if (fixed) {
    const east = Number(fixed[2]) * 3600 + Number(fixed[3] ?? 0) * 60;
    if (east > 14 * 3600) return null;
    return () => (fixed[1] === "+" ? east : -east);
  }
  if (!/^[A-Za-z]+(?:[_/+-][A-Za-z0-9_]+)+$/.test(name)) return null;
  try {
    const format = new Intl.DateTimeFormat("en-US", {
      timeZone: name,
      hourCycle: "h23",
      ...{ year: "numeric", month: "numeric", day: "numeric", hour: "numeric", minute: "numeric", second: "numeric" },
    });
    return cachedByQuarter((utc) => offsetFrom(format, utc));
  } catch {
    return null;
  }
}

function offsetFrom(format: Intl.DateTimeFormat, utc: number): number {
  const parts = new Map(format.formatToParts(utc * 1000).map((part) => [part.type, Number(part.value)]));
  const get = (type: Intl.DateTimeFormatPartTypes): number => parts.get(type) ?? 0;
  const days = daysFromDate(get("year"), get("month"), get("day"));
  return days * 86_400 + get("hour") * 3600 + get("minute") * 60 + get("second") - Math.floor(utc);
}

/** Zones change their offset on a quarter of an hour, so one look-up serves all readings of that quarter. */
const QUARTER = 900;

/** The language's calendar ends here, in seconds from 1970 (ECMA-262, time values). */
const LAST_SECOND = 8.64e12 - 86_400;

function cachedByQuarter(zone: Zone): Zone {
  const known = new Map<number, number>();
  return (utc) => {
    if (!(Math.abs(utc) <= LAST_SECOND)) return Number.NaN;
    const quarter = Math.floor(utc / QUARTER);
    let offset = known.get(quarter);
    if (offset === undefined) {
      offset = zone(quarter * QUARTER);
      known.set(quarter, offset);
    }
    return offset;
  };
}

/**
 * UTC of a wall-clock reading. In the hour that a clock change repeats the earlier pass is taken unless `later`;
 * a reading in the hour that it skips is NaN: no clock ever showed it.
 */
export function utcFromWall(zone: Zone, wall: number, later: boolean): number {
  const day = 86_400;
  const before = wall - zone(wall - day);
  const after = wall - zone(wall + day);
  const fits = [before, after].filter((utc) => utc + zone(utc) === wall);
  if (fits.length === 0) return Number.NaN;
  return later ? Math.max(...fits) : Math.min(...fits);
}
