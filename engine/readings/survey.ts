import { type DateOrder, DateReader, daysIn, WRITTEN_ORDERS } from "./dates.ts";
import { type Marks, readFigure } from "./figures.ts";
import { FAILED_READINGS } from "./trouble.ts";

/** An entry with the line it stands on: evidence. */
export interface Sighting {
  readonly line: number;
  readonly entry: string;
}

/** Entries that mean "nothing was measured", in lower case; an empty entry always does. */
export const EMPTY_MARKS = [
  "-",
  "--",
  "---",
  "–",
  "—",
  "n/a",
  "na",
  "n.a.",
  "nan",
  "null",
  "none",
  "nil",
  "#n/a",
  "?",
  "k.a.",
  "*",
];
const EMPTY = new Set(EMPTY_MARKS);

const TRUTHS: Readonly<Record<string, boolean>> = {
  ...{ yes: true, true: true, on: true, y: true, ja: true, oui: true },
  ...{ no: false, false: false, off: false, n: false, nein: false, non: false },
};

/** The truth that a word means, or null. 1 and 0 are figures, `ok` is a text. */
export const truthOf = (entry: string): boolean | null => {
  const word = entry.trim().toLowerCase();
  return Object.hasOwn(TRUTHS, word) ? (TRUTHS[word] ?? null) : null;
};

/** How many different texts of a column are remembered: enough for tanks and products, too few to hold a column of remarks. */
const TEXTS_REMEMBERED = 40;
const SIGHTINGS_KEPT = 3;
/** How many figures of a column are remembered at most, evenly over its rows: enough to tell what most of them are. */
const FIGURES_REMEMBERED = 256;

/** Sightings of one kind: all are counted, the first few kept. */
export class Seen {
  count = 0;
  readonly first: Sighting[] = [];

  add(line: number, entry: string): void {
    this.count += 1;
    if (this.first.length < SIGHTINGS_KEPT) this.first.push({ line, entry });
  }
}

/** What decimal and thousands marks the figures of a file bear witness to. `1,250` alone fits both readings. */
export class MarkEvidence {
  readonly decimalPoint = new Seen();
  readonly decimalComma = new Seen();
  readonly eitherPoint = new Seen();
  readonly eitherComma = new Seen();
  readonly groupedBy = new Map<"," | "." | " " | "'", Seen>();

  grouped(mark: "," | "." | " " | "'"): Seen {
    const seen = this.groupedBy.get(mark) ?? new Seen();
    this.groupedBy.set(mark, seen);
    return seen;
  }

  /** Sorts one figure in; entries without a mark say nothing. */
  note(entry: string, line: number): void {
    if (/^[+\-\u2212]?\d{1,3}(?:[ \u00a0\u202f\u2007]\d{3})+(?:[.,]\d+)?$/.test(entry))
      this.grouped(" ").add(line, entry);
    if (/^[+\-\u2212]?\d{1,3}(?:['\u2019]\d{3})+(?:[.,]\d+)?$/.test(entry)) this.grouped("'").add(line, entry);
    const point = entry.lastIndexOf(".");
    const comma = entry.lastIndexOf(",");
    if (point < 0 && comma < 0) return;
    if (point >= 0 && comma >= 0) {
      (point > comma ? this.decimalPoint : this.decimalComma).add(line, entry);
      this.grouped(point > comma ? "," : ".").add(line, entry);
      return;
    }
    const isPoint = point >= 0;
    const mark = isPoint ? "." : ",";
    if (entry.indexOf(mark) !== entry.lastIndexOf(mark)) this.grouped(mark).add(line, entry);
    else if (/^[+\-\u2212]?[1-9]\d{0,2}[.,]\d{3}$/.test(entry))
      (isPoint ? this.eitherPoint : this.eitherComma).add(line, entry);
    else (isPoint ? this.decimalPoint : this.decimalComma).add(line, entry);
  }
}

/** Nothing was measured in any entry. */
export const isBare = ({ times, figures, words, truths }: ColumnSurvey): boolean =>
  times.count + figures.count + words.count + truths.count === 0;

/** In a column of times `08.15` is a clock time, and `20260302` a date, with `081500` perhaps right behind it. */
const TIME_LIKE_FIGURE = /^(?:\d{1,2}\.\d{2}|\d{8}(?:\d{4}(?:\d{2})?)?)$/;

const MARKS: readonly Marks[] = [
  { decimal: ".", thousands: "," },
  { decimal: ",", thousands: "." },
  { decimal: ".", thousands: " " },
  { decimal: ",", thousands: " " },
  { decimal: ".", thousands: "'" },
];

/** An entry with no mark in it reads alike in both ways; only the range of both is to be kept. */
const UNMARKED: readonly Marks[] = MARKS.slice(0, 2);
const MARKED: readonly Marks[] = MARKS.slice(0, 2);
const GROUP_MARKS = /[\s'\u2019]/;

function waysToRead(entry: string): readonly Marks[] {
  if (GROUP_MARKS.test(entry)) return MARKS;
  return entry.includes(".") || entry.includes(",") ? MARKED : UNMARKED;
}

/** What the entries of one column are, entry by entry; asks nothing and decides nothing. */
export class ColumnSurvey {
  entries = 0;
  readonly empty = new Map<string, Seen>();
  readonly figures = new Seen();
  /** Figures with something behind them, `18.4 °C`; what stands there, with its sightings. */
  readonly suffixes = new Map<string, Seen>();
  readonly truths = new Seen();
  readonly texts = new Map<string, Seen>();
  moreTexts = false;
  /** What is neither figure nor date nor truth. */
  readonly words = new Seen();
  readonly times = new Seen();
  readonly withDate = new Seen();
  readonly withClock = new Seen();
  readonly zoned = new Seen();
  readonly unzoned = new Seen();
  readonly halfDay = new Seen();
  readonly pastNoon = new Seen();
  readonly atTwelve = new Seen();
  readonly atOne = new Seen();
  readonly namedMonths = new Seen();
  /** For each order the dates that are none in it; an order without any is possible. */
  readonly against = new Map<DateOrder, Seen>(WRITTEN_ORDERS.map((order) => [order, new Seen()]));
  /** Range of the figures read with a decimal point, and with a decimal comma; what failed probes report is left aside. */
  readonly low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  readonly high = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  /** What failed probes report and no figure around it is near to. */
  readonly aside = new Set<number>();
  /** Figures from all over the column, read in both ways; NaN for one that is none in that way. */
  readonly some: readonly [number[], number[]] = [[], []];
  /** Whole numbers only; how many begin with a needless zero; the fewest decimals written. */
  whole = true;
  leadingZeros = 0;
  fewestDecimals = Number.POSITIVE_INFINITY;
  /** Whole figures that rise by each row: a serial number. */
  rising = true;
  /** Rises by more than one: packages or records that are not in the file. */
  readonly skips = new Seen();
  #last = Number.NaN;
  #every = 1;
  readonly #now: [number, number] = [Number.NaN, Number.NaN];
  readonly #dates = new DateReader();

  note(raw: string, line: number, marks: MarkEvidence, isTime: boolean): void {
    this.entries += 1;
    const entry = raw.trim();
    const lower = entry.toLowerCase();
    if (entry === "" || EMPTY.has(lower)) {
      const seen = this.empty.get(entry) ?? new Seen();
      this.empty.set(entry, seen);
      seen.add(line, entry);
      return;
    }
    if (this.#figure(entry, line, marks, isTime)) return;
    if (this.#dates.scan(entry)) {
      this.#time(entry, line);
      return;
    }
    const suffixed = /^([+\-\u2212]?[\d.,]*\d)\s*([^\d\s.,:/-][^\d]{0,14})$/.exec(entry);
    if (suffixed?.[1] !== undefined && suffixed[2] !== undefined) {
      const seen = this.suffixes.get(suffixed[2]) ?? new Seen();
      if (this.suffixes.size < TEXTS_REMEMBERED) this.suffixes.set(suffixed[2], seen);
      seen.add(line, entry);
      marks.note(suffixed[1], line);
    }
    if (truthOf(entry) === null) this.words.add(line, entry);
    else this.truths.add(line, entry);
    this.#text(entry, line);
  }

  #text(entry: string, line: number): void {
    let seen = this.texts.get(entry);
    if (seen === undefined) {
      if (this.texts.size >= TEXTS_REMEMBERED) {
        this.moreTexts = true;
        return;
      }
      seen = new Seen();
      this.texts.set(entry, seen);
    }
    seen.add(line, entry);
  }

  #figure(entry: string, line: number, evidence: MarkEvidence, isTime: boolean): boolean {
    let isFigure = false;
    const now = this.#now;
    now[0] = now[1] = Number.NaN;
    const ways = waysToRead(entry);
    for (const marks of ways) {
      const value = readFigure(entry, marks);
      if (Number.isNaN(value)) {
        // Without a mark it is a figure in every way or in none.
        if (ways === UNMARKED) return false;
        continue;
      }
      isFigure = true;
      const side = marks.decimal === "." ? 0 : 1;
      now[side] = value;
      if (!(value >= (this.low[side] as number) && value <= (this.high[side] as number))) this.#widen(side, value);
    }
    if (!isFigure || (isTime && TIME_LIKE_FIGURE.test(entry) && this.#dates.scan(entry))) return false;
    if (this.figures.count % this.#every === 0) this.#remember(now);
    this.figures.add(line, entry);
    evidence.note(entry, line);
    if (/^[+-]?0\d/.test(entry)) this.leadingZeros += 1;
    const mark = Math.max(entry.lastIndexOf("."), entry.lastIndexOf(","));
    const decimals = mark < 0 ? 0 : entry.length - mark - 1;
    if (decimals < this.fewestDecimals && !now.some((value) => FAILED_READINGS.has(value)))
      this.fewestDecimals = decimals;
    if (/^[+-]?\d+$/.test(entry)) {
      const value = Number(entry);
      if (value <= this.#last) this.rising = false;
      else if (value > this.#last + 1) this.skips.add(line, entry);
      this.#last = value;
    } else {
      this.whole = false;
      this.rising = false;
    }
    this.#text(entry, line);
    return true;
  }

  #widen(side: 0 | 1, value: number): void {
    if (FAILED_READINGS.has(value)) {
      this.aside.add(value);
      return;
    }
    this.low[side] = Math.min(this.low[side] as number, value);
    this.high[side] = Math.max(this.high[side] as number, value);
  }

  /** Once there are too many, every second one is left out, here and from now on. */
  #remember(now: readonly [number, number]): void {
    for (const side of [0, 1] as const) this.some[side].push(now[side]);
    if (this.some[0].length < FIGURES_REMEMBERED) return;
    this.#every *= 2;
    for (const some of this.some) {
      for (let at = 1; 2 * at < some.length; at += 1) some[at] = some[2 * at] as number;
      some.length /= 2;
    }
  }

  #time(entry: string, line: number): void {
    const { parts } = this.#dates;
    this.times.add(line, entry);
    if (parts.hasTime) {
      this.withClock.add(line, entry);
      (Number.isNaN(parts.offset) ? this.unzoned : this.zoned).add(line, entry);
      if (parts.halfDay) this.halfDay.add(line, entry);
      if (parts.hour > 12 || parts.hour === 0) this.pastNoon.add(line, entry);
      if (parts.hour === 12) this.atTwelve.add(line, entry);
      if (parts.hour === 1) this.atOne.add(line, entry);
    }
    if (!parts.hasDate) return;
    this.withDate.add(line, entry);
    if (parts.namedMonth > 0) this.namedMonths.add(line, entry);
    const wrong = WRITTEN_ORDERS.filter((order) => Number.isNaN(daysIn(parts, order)));
    // 13/14/2026 is no date in any order: a slip, and no witness for one.
    if (wrong.length < WRITTEN_ORDERS.length) for (const order of wrong) this.against.get(order)?.add(line, entry);
  }
}
