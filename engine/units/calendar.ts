/** Days in the 400 years after which the Gregorian calendar repeats. */
const DAYS_IN_ERA = 146097;
/** Days from 0000-03-01 to 1970-01-01. Years are counted from March, so that the leap day comes last. */
const DAYS_BEFORE_1970 = 719468;

/** A day of the proleptic Gregorian calendar (ISO 8601); months and days count from 1, year 0 is 1 BC. */
export interface CalendarDate {
  readonly year: number;
  readonly month: number;
  readonly day: number;
}

/** The date that lies `days` whole days after 1970-01-01. */
export function dateOf(days: number): CalendarDate {
  const shifted = days + DAYS_BEFORE_1970;
  const era = Math.floor(shifted / DAYS_IN_ERA);
  const dayOfEra = shifted - era * DAYS_IN_ERA;
  const leapDays = Math.floor(dayOfEra / 1460) - Math.floor(dayOfEra / 36524) + Math.floor(dayOfEra / 146096);
  const yearOfEra = Math.floor((dayOfEra - leapDays) / 365);
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const marchMonth = Math.floor((5 * dayOfYear + 2) / 153);
  const month = marchMonth < 10 ? marchMonth + 3 : marchMonth - 9;
  const day = dayOfYear - Math.floor((153 * marchMonth + 2) / 5) + 1;
  return { year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0), month, day };
}

/** Whole days from 1970-01-01 to a date; a day past its month's end runs on into the next. */
export function daysOf({ year, month, day }: CalendarDate): number {
  const marchYear = month <= 2 ? year - 1 : year;
  const era = Math.floor(marchYear / 400);
  const yearOfEra = marchYear - era * 400;
  const dayOfYear = Math.floor((153 * (month > 2 ? month - 3 : month + 9) + 2) / 5) + day - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return era * DAYS_IN_ERA + dayOfEra - DAYS_BEFORE_1970;
}
