import { datesOf, parseInstant, two } from "../parser/numbers.ts";
import { spokenDates } from "../parser/spoken-dates.ts";
import { formatInstant } from "../units/instant.ts";

/** The instants, as the language writes them, that were meant; or why none was. */
export type InstantsMeant =
  | { readonly ok: true; readonly meant: readonly string[] }
  | { readonly ok: false; readonly says: string };

const DATE_FIRST = /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})(?:(?:\s*T\s*|\s+)(.+))?$/i;
const YEAR_LAST = /^(\d{1,2})([/.])\s?(\d{1,2})\2\s?(\d{4})(?:[T\s]+(.+))?$/i;
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

/** Reads a date, a date and time, or, on the day of `today` (wall-clock seconds of the batch date), a time alone. */
export function instantsMeant(typed: string, today: number | null): InstantsMeant {
  const text = typed.trim();
  const alone = clockOf(text);
  // A date that is begun is no time of the evening.
  if (alone !== null && /^(?:19|20)\d\d$/.test(text))
    return { ok: false, says: `"${text}" could be a year. For the time write ${alone}.` };
  if (alone !== null) {
    if (today === null)
      return { ok: false, says: "Type the date too: the batch date, which stands for today, is not filled." };
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
  if (last === undefined) return { ok: false, says: `"${text}" is no date or time. ${EXAMPLE}` };
  return sound(
    datesOf(first, sign ?? "", second, last).map((date) => withClock(date, clock)),
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
