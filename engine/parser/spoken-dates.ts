import { parseInstant, two } from "./numbers.ts";

/** A date with its month as a word, where it stands in a text. */
export interface SpokenDate {
  readonly start: number;
  readonly end: number;
  /** As the language writes it: `2026-03-02`, or with a time of day. */
  readonly written: string;
}

const MONTHS = "jan feb mar apr may jun jul aug sep oct nov dec".split(" ");
const MONTH =
  "(jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\\.?";
const DAY = "(\\d{1,2})(?:st|nd|rd|th|\\.)?";
const SPOKEN = new RegExp(
  `(?<![\\p{L}\\p{M}\\p{Nd}_.])(?:${MONTH}\\s+${DAY},?\\s+(\\d{4})|${DAY}\\s+(?:of\\s+)?${MONTH},?\\s+(\\d{4}))(?:,?\\s+(?:at\\s+)?(\\d{1,2}):(\\d\\d)(?!\\s*[ap]\\.?m))?(?![\\p{L}\\p{Nd}_:])`,
  "giu",
);

/** Every date of the calendar that is written so: `March 2, 2026`, `2nd Mar 2026 8:15`. */
export function spokenDates(text: string): readonly SpokenDate[] {
  return [...text.matchAll(SPOKEN)].flatMap((found) => {
    const [typed, month = found[5] ?? "", day = found[4] ?? "", year = found[6] ?? "", , , , hour, minutes] = found;
    const number = MONTHS.indexOf(month.slice(0, 3).toLowerCase()) + 1;
    const date = `${year}-${two(String(number))}-${two(day)}`;
    const written = hour === undefined ? date : `${date}T${two(hour)}:${minutes}`;
    return parseInstant(written) === null ? [] : [{ start: found.index, end: found.index + typed.length, written }];
  });
}
