import { DateReader } from "./dates.ts";
import { readFigure } from "./figures.ts";
import type { KnowsUnit } from "./headers.ts";
import { headerUnit } from "./headers.ts";
import type { Proposal } from "./question.ts";
import { recordsOf } from "./records.ts";
import { EMPTY_MARKS } from "./survey.ts";

export const SEPARATORS = [",", ";", "\t", "|"] as const;
export type Separator = (typeof SEPARATORS)[number];

/** More columns than this are no table of readings; such a file is refused with a sentence. */
export const MOST_COLUMNS = 1000;

/** Records that are looked at to find the shape. */
const RECORDS_LOOKED_AT = 200;

/** Lines at either end of those that could be the header which are offered beside the one that is proposed. */
const OTHERS_OFFERED = 3;

/** Where a table begins in a CSV. Lines count from 1; 0: there is none. */
export interface Shape {
  readonly separator: Proposal<Separator>;
  /** The header's line. */
  readonly header: Proposal<number>;
  /** The line of a row of units below the header. */
  readonly unitsLine: number;
  /** Lines before the header that belong to no table, as they stand. */
  readonly preamble: readonly string[];
  readonly headers: readonly string[];
  readonly units: readonly (string | null)[];
  /** The first line of data. */
  readonly firstLine: number;
}

type Records = readonly { readonly entries: readonly string[]; readonly line: number }[];

const filled = (entries: readonly string[]): string[] => entries.filter((entry) => entry.trim() !== "");

/** How many entries a record has, empty ones at its end aside. */
function width(entries: readonly string[]): number {
  let end = entries.length;
  while (end > 0 && (entries[end - 1] ?? "").trim() === "") end -= 1;
  return end;
}

/** The number of entries that most records have. */
function usualWidth(records: Records): { width: number; share: number } {
  const counts = new Map<number, number>();
  let all = 0;
  for (const { entries } of records) {
    if (filled(entries).length === 0) continue;
    all += 1;
    const count = counts.get(entries.length) ?? 0;
    // In the order in which they were seen last.
    counts.delete(entries.length);
    counts.set(entries.length, count + 1);
  }
  let best = { width: 0, share: 0 };
  // Of two that are as frequent the one that comes last is of rows; one entry alone says least, it may be remarks.
  for (const [count, times] of counts)
    if (times / all > best.share || (times / all === best.share && count > 1))
      best = { width: count, share: times / all };
  return best;
}

const scanner = (): ((entry: string) => boolean) => {
  const dates = new DateReader();
  const marks = [
    { decimal: ".", thousands: "," },
    { decimal: ",", thousands: "." },
  ] as const;
  return (entry) =>
    marks.some((one) => !Number.isNaN(readFigure(entry, one))) || (entry.trim() !== "" && dates.scan(entry));
};

/** Which character parts the entries: the one that splits the most records into the same number of entries. */
export function proposeSeparator(text: string): Proposal<Separator> {
  const scored = SEPARATORS.map((separator) => {
    const records = recordsOf(text, separator, RECORDS_LOOKED_AT);
    const usual = usualWidth(records);
    return { separator, width: usual.width, share: usual.share, splits: usual.width > 1 };
  }).filter((one) => one.splits);
  // Agreement between the lines counts first: a header without decimal commas tells them from separators.
  const rank = (one: { share: number; width: number }): number =>
    Math.round(one.share * 1000) * MOST_COLUMNS + Math.min(one.width, MOST_COLUMNS - 1);
  scored.sort((a, b) => rank(b) - rank(a));
  const [best, second] = scored;
  if (best === undefined)
    return { value: ",", certain: true, evidence: "one column only: nothing parts the entries", alternatives: [] };
  const tied = second !== undefined && rank(second) === rank(best);
  return {
    value: best.separator,
    certain: !tied,
    evidence: `splits ${Math.round(best.share * 100)} % of the lines into ${best.width} entries`,
    alternatives: scored.slice(1).map((one) => one.separator),
  };
}

function givenHeader(records: Records, headerLine: number): FoundHeader {
  const at = records.findIndex(({ line }) => line === headerLine);
  return { at, firstData: at + 1, certain: true, evidence: "chosen", others: [] };
}

/** Finds preamble, header row, row of units and first data row in the beginning of a file. */
export function proposeShape(
  text: string,
  knows: KnowsUnit,
  separator: Proposal<Separator> = proposeSeparator(text),
  headerLine: number | null = null,
): Shape {
  const records = recordsOf(text, separator.value, RECORDS_LOOKED_AT);
  const usual = usualWidth(records).width;
  const isData = scanner();
  const isUnits = (entries: readonly string[]): boolean => isUnitsRow(entries, knows);
  const found =
    headerLine === null
      ? (headerOverRows(records, usual, isData, isUnits) ?? findHeader(records, usual, isData))
      : givenHeader(records, headerLine);
  const headerAt = found.at;
  const header = headerAt < 0 ? undefined : records[headerAt];
  const below = header === undefined ? undefined : records[headerAt + 1];
  const units = below !== undefined && isUnits(below.entries) ? below : undefined;
  const first = records[headerAt < 0 ? found.firstData : headerAt + (units ? 2 : 1)];
  const lines = text.split(/\r\n|\n|\r/);
  const start = header?.line ?? first?.line ?? 1;
  return {
    separator,
    header: {
      value: header?.line ?? 0,
      certain: found.certain,
      evidence: found.evidence,
      alternatives: found.others,
    },
    unitsLine: units?.line ?? 0,
    preamble: lines.slice(0, start - 1),
    headers: trimmedHeaders(header?.entries ?? Array.from({ length: usual }, () => ""), usual),
    units: (units?.entries ?? []).map((entry) => entry.trim() || null),
    firstLine: first?.line ?? (header?.line ?? 0) + 1,
  };
}

/** A header row that ends in a separator has an empty last entry: no column where the rows have none either. */
function trimmedHeaders(entries: readonly string[], usual: number): readonly string[] {
  return entries.slice(0, Math.max(width(entries), Math.min(entries.length, usual)));
}

/** Places count records from 0; −1: there is no header. `others` are lines that could be the header too. */
interface FoundHeader {
  readonly at: number;
  readonly firstData: number;
  readonly certain: boolean;
  readonly evidence: string;
  readonly others: readonly number[];
}

/** Columns that hold figures or dates in most records of the usual width; those at the end are rows in any file. */
function measuredColumns(records: Records, usual: number, isData: (entry: string) => boolean): number[] {
  const fitting = records.filter(({ entries }) => entries.length === usual);
  const rows = fitting.slice(Math.floor(fitting.length / 2));
  return Array.from({ length: usual }, (_, at) => at).filter(
    (at) => rows.filter(({ entries }) => isData(entries[at] ?? "")).length * 2 >= rows.length,
  );
}

/**
 * The header by the rows below it: of the lines of words before the first of them the last that names every one of
 * their columns. `Tank;FV 2` above three columns is no header, whatever stands below it; above two it may be one. Null
 * where no row or no such line is found.
 */
function headerOverRows(
  records: Records,
  usual: number,
  isData: (entry: string) => boolean,
  isUnits: (entries: readonly string[]) => boolean,
): FoundHeader | null {
  const measured = measuredColumns(records, usual, isData);
  const isNone = (entry: string): boolean => entry.trim() === "" || EMPTY_MARKS.includes(entry.trim().toLowerCase());
  const isRow = ({ entries }: Records[number]): boolean =>
    entries.length === usual &&
    measured.some((at) => isData(entries[at] ?? "")) &&
    measured.every((at) => isData(entries[at] ?? "") || isNone(entries[at] ?? ""));
  const firstRow = usual > 1 ? records.findIndex(isRow) : -1;
  if (firstRow < 1) return null;
  const isName = (entry: string): boolean => !isNone(entry) && !isData(entry);
  const named = records.slice(0, firstRow).flatMap(({ entries, line }, at) => {
    if (entries.length < usual || isUnits(entries) || filled(entries).some((entry) => !isName(entry))) return [];
    // A column may be without a name; a row without figures has none where figures are.
    const names = measured.filter((column) => isName(entries[column] ?? "")).length;
    return names * 2 > measured.length ? [{ at, line, whole: entries.every(isName) }] : [];
  });
  const whole = named.filter((one) => one.whole);
  const found = whole.at(-1);
  if (found === undefined) return null;
  const below = named.filter(({ at }) => at > found.at);
  const others = [...below, ...whole.slice(0, -1).reverse()].map(({ line }) => line);
  return {
    at: found.at,
    firstData: found.at + 1,
    certain: others.length === 0,
    evidence: `line ${found.line} has a name for each of the ${usual} columns of the rows below it`,
    // Next to the rows it follows a preamble; at the top it has rows of text below it.
    others: others.filter((_, at) => at < OTHERS_OFFERED || at >= others.length - OTHERS_OFFERED),
  };
}

function findHeader(records: Records, usual: number, isData: (entry: string) => boolean): FoundHeader {
  const near = (count: number): boolean => Math.abs(count - usual) <= 1;
  const bears = (entries: readonly string[]): boolean => near(entries.length) && filled(entries).some(isData);
  const words = (entries: readonly string[]): boolean => {
    const some = filled(entries);
    return (
      near(entries.length) &&
      // One entry over several columns is a remark.
      some.length >= Math.max(usual > 1 ? 2 : 1, Math.ceil(0.6 * Math.min(usual, entries.length))) &&
      !some.some(isData)
    );
  };
  const anyData = records.findIndex(
    ({ entries }, at) =>
      bears(entries) && (at + 1 >= records.length || bears(records[at + 1]?.entries ?? []) || usual > 1),
  );
  const worded = records.flatMap(({ entries }, at) => (words(entries) ? [at] : []));
  const above = worded.find((at) =>
    records
      .slice(at + 1, at + 3)
      .some(({ entries }) => bears(entries) || (entries.length > 1 && filled(entries).some(isData))),
  );
  const [first] = worded;
  const lineAt = (at: number): number => records[at]?.line ?? 0;
  const last = records[anyData - 1];
  const names = filled(last?.entries ?? []);
  if (above === undefined && last !== undefined && names.length > 1 && !names.some(isData)) {
    const below = filled(records[anyData]?.entries ?? []).length;
    const evidence = `line ${last.line} has ${names.length} entries, the line below it ${below}`;
    const certain = names.length === below;
    return { at: anyData - 1, firstData: anyData, certain, evidence, others: certain ? [] : [0] };
  }
  if (above === undefined && (first === undefined || anyData >= 0)) {
    return {
      at: -1,
      firstData: Math.max(0, anyData),
      certain: true,
      evidence: "no line of words stands above the figures",
      others: [],
    };
  }
  // Where a wider line of words stands between it and the figures, that is the header.
  const wider = worded.filter(
    (other) =>
      above !== undefined &&
      other > above &&
      (records[other]?.entries.length ?? 0) > (records[above]?.entries.length ?? 0) &&
      !records.slice(above, other).some(({ entries }) => filled(entries).some(isData)),
  );
  const at = wider.at(-1) ?? above ?? first ?? 0;
  if (above === undefined) {
    return { at, firstData: at + 1, certain: true, evidence: `line ${lineAt(at)} is the first full line`, others: [] };
  }
  // Lines of words above it are preamble as wide as the table, or the header with rows of text below it.
  const others = worded.filter((other) => other < at).map(lineAt);
  const evidence = `line ${lineAt(at)} holds words, the lines below it figures`;
  return { at, firstData: at + 1, certain: others.length === 0, evidence, others };
}

/** A row of units: every filled entry is one, in brackets or not, and at least one is. */
function isUnitsRow(entries: readonly string[], knows: KnowsUnit): boolean {
  const some = filled(entries);
  const isUnit = (entry: string): boolean => {
    const bare = entry.trim().replace(/^[([{]|[)\]}]$/g, "");
    return headerUnit(bare, knows) !== null || /^(?:-|–|hh:mm(?::ss)?|yyyy.*|dd.*|mm.*|utc|text|local)$/i.test(bare);
  };
  return (
    some.length > 0 &&
    some.every(isUnit) &&
    some.some((entry) => headerUnit(entry.trim().replace(/^[([{]|[)\]}]$/g, ""), knows) !== null)
  );
}
