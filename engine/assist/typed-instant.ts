import { datesOf, parseInstant, two } from "../parser/numbers.ts";
import { spokenDates } from "../parser/spoken-dates.ts";
import { formatInstant } from "../units/instant.ts";

/** The instants, as the language writes them, that were meant; or why none was. */
export type InstantsMeant =
  | { readonly ok: true; readonly meant: readonly string[] }
  | { readonly ok: false; readonly says: string };

const DATE_FIRST = /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})(?:(?:\s*T\s*|\s+)(.+))?$/i;
const YEAR_LAST = /^(\d{1,2})([/.])\s?(\d{1,2})\2\s?(\d{4})(?:[T\s]+(.+))?$/i;
/** `22.11. 8:10`, `22/11`: a day without its year. */
const NO_YEAR = /^(\d{1,2})([/.])\s?(\d{1,2})(?:\.\s?|\s+|$)(.*)$/;
/** `8:15`, `0815`, `8 pm`. */
const CLOCK = /^(\d{1,2})(?:[:.h]?(\d{2}))?(?::(\d{2}))?\s*(am|pm)?\s*(z|[+-]\d{2}:?\d{2})?$/i;

/** `8:15`, `08.15`, `8:15 pm` as ISO 8601 writes it: `08:15`. An hour alone needs am or pm. */
function clockOf(typed: string): string | null {
  const [, hour = "", minute, second, half, zone = ""] = CLOCK.exec(typed.trim()) ?? [];
  if (hour === "" || (minute === undefined && half === undefined)) return null;
  const noon = half === undefined ? Number(hour) : (Number(hour) % 12) + (half.toLowerCase() === "pm" ? 12 : 0);
  if (half !== undefined && (Number(hour) < 1 || Number(hour) > 12)) return null;
  return `${two(String(noon))}:${minute ?? "00"}${second === undefined ? "" : `:${second}`}${zone.toUpperCase()}`;
}

const EXAMPLE = "Write it such as 2026-03-02 08:15.";

const NO_TODAY = "the batch date, which stands for today, is not filled.";
const YEAR_DIGITS = 4;

/**
 * Reads a date, a date and time, or, by `today` (wall-clock seconds of the batch date or of the row above), a time alone, which
 * is on that day, and a day without its year, which is the nearest to it.
 */
export function instantsMeant(typed: string, today: number | null): InstantsMeant {
  const text = typed.trim();
  const alone = clockOf(text);
  // A date that is begun is no time of the evening.
  if (alone !== null && /^(?:19|20)\d\d$/.test(text))
    return { ok: false, says: `"${text}" could be a year. For the time write ${alone}.` };
  if (alone !== null) {
    if (today === null) return { ok: false, says: `Type the date too: ${NO_TODAY}` };
    return sound([`${formatInstant(today, null).slice(0, "2026-03-02".length)}T${alone}`], text);
  }
  const [, year, , month = "", day = "", behind] = DATE_FIRST.exec(text) ?? [];
  if (year !== undefined) return sound([withClock(`${year}-${two(month)}-${two(day)}`, behind)], text);
  const [spoken] = spokenDates(text);
  if (spoken?.start === 0) {
    const behind = text.slice(spoken.end).replace(/^,?\s*(?:at\s+)?/, "");
    return sound([spoken.written + (behind === "" ? "" : `T${clockOf(behind) ?? "none"}`)], text);
  }
  const [, first = "", sign, second = "", last, clock] = YEAR_LAST.exec(text) ?? [];
  if (last === undefined) return withoutYear(text, today);
  return sound(
    datesOf(first, sign ?? "", second, last).map((date) => withClock(date, clock)),
    text,
  );
}

function withoutYear(text: string, today: number | null): InstantsMeant {
  const [, first = "", sign = "", second = "", clock = ""] = NO_YEAR.exec(text) ?? [];
  if (first === "") return { ok: false, says: `"${text}" is no date or time. ${EXAMPLE}` };
  if (today === null) return { ok: false, says: `Type the year too: ${NO_TODAY}` };
  const year = Number(formatInstant(today, null).slice(0, YEAR_DIGITS));
  const farOf = (date: string): number => Math.abs((parseInstant(date)?.seconds ?? Number.POSITIVE_INFINITY) - today);
  // The day first and the month first are two meanings; of each the year is taken that brings it nearest.
  const nearest = datesOf(first, sign, second, "").map((day) =>
    [year, year - 1, year + 1]
      .map((each) => each + day)
      .reduce((best, date) => (farOf(date) < farOf(best) ? date : best)),
  );
  return sound(
    nearest.map((date) => withClock(date, clock === "" ? undefined : clock)),
    text,
  );
}

const withClock = (date: string, clock: string | undefined): string =>
  clock === undefined ? date : `${date}T${clockOf(clock) ?? "none"}`;

/** Those that the calendar has, each once. */
function sound(candidates: readonly string[], typed: string): InstantsMeant {
  const meant = [...new Set(candidates)].filter((candidate) => parseInstant(candidate) !== null);
  return meant.length === 0
    ? { ok: false, says: `"${typed}" is no date or time that the calendar has. ${EXAMPLE}` }
    : { ok: true, meant };
}
