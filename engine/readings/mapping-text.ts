import { isoOf } from "./clock.ts";
import { type DateOrder, DateReader, daysIn, WRITTEN_ORDERS } from "./dates.ts";
import { ENCODINGS, type Encoding } from "./decode.ts";
import type { Marks } from "./figures.ts";
import type { ColumnMapping, Mapping } from "./mapping.ts";
import type { Separator } from "./shape.ts";

const SEPARATOR_WORDS: Readonly<Record<Separator, string>> = {
  ",": "comma",
  ";": "semicolon",
  "\t": "tab",
  "|": "bar",
};
const MARK_WORDS = { ".": "point", ",": "comma", " ": "blank", "'": "apostrophe" } as const;
const ORDERS: readonly string[] = [...WRITTEN_ORDERS, "epoch-seconds", "epoch-milliseconds"];

const quote = (text: string): string =>
  `"${text.replaceAll("\\", "\\\\").replaceAll('"', '""').replaceAll("\n", "\\n").replaceAll("\r", "\\r")}"`;
const quoteAll = (texts: readonly string[]): string => texts.map(quote).join(" ");

/**
 * Writes a mapping as one line of clauses, so that a workbook can keep it and a person can read it:
 * `csv utf-8 semicolon; decimal comma; headers "Zeit" "Temp (°C)"; column taken from "Zeit" day-first; …; key taken`.
 */
export function printMapping(mapping: Mapping): string {
  const clauses = [`csv ${mapping.encoding} ${SEPARATOR_WORDS[mapping.separator]}`];
  clauses.push(
    `${mapping.headerRow ? (mapping.unitsRow ? "headers-and-units" : "headers") : "no-header"} ${quoteAll(mapping.headers)}`,
  );
  const { decimal, thousands } = mapping.marks;
  clauses.push(`decimal ${MARK_WORDS[decimal]}${thousands === "" ? "" : ` thousands ${MARK_WORDS[thousands]}`}`);
  if (mapping.empties.length > 0) clauses.push(`empty ${quoteAll(mapping.empties)}`);
  if (mapping.zone !== null) clauses.push(`zone ${quote(mapping.zone)}`);
  if (mapping.clock !== null) clauses.push(`clock ${quote(mapping.clock)}`);
  for (const column of mapping.columns) clauses.push(printColumn(column));
  clauses.push(`key ${[...mapping.key, ...(mapping.occurrence ? ["and-order"] : [])].join(" ")}`);
  for (const { header, texts } of mapping.keep) clauses.push(`keep ${quote(header)} is ${quoteAll(texts)}`);
  if (mapping.after !== null) clauses.push(`after ${isoOf(mapping.after)}`);
  if (mapping.before !== null) clauses.push(`before ${isoOf(mapping.before)}`);
  for (const [about, answer] of Object.entries(mapping.answers))
    clauses.push(`answer ${quote(about)} ${quote(answer)}`);
  return clauses.join("; ");
}

function printColumn(column: ColumnMapping): string {
  let text = `column ${column.to} from ${quoteAll(column.from)}`;
  if (column.order !== null) text += ` ${column.order}`;
  if (column.unit !== null) text += ` in ${quote(column.unit)}`;
  if (column.unitFrom !== null) text += ` unit-from ${quote(column.unitFrom)}`;
  if (column.implied !== 0) text += ` implied ${column.implied}`;
  if (column.offset !== 0) text += ` offset ${column.offset}`;
  for (const { from, unit } of column.switches) text += ` since ${isoOf(from)} in ${quote(unit)}`;
  return text;
}

/** A clause's words; a quoted one is kept apart from a bare one, for `"in"` is a header and `in` is not. */
interface Word {
  readonly text: string;
  readonly quoted: boolean;
}

const WORD = /\s*(?:"((?:[^"\\]|""|\\.)*)"|(;)|([^\s;"]+))/y;

function clausesOf(text: string): Word[][] | null {
  const clauses: Word[][] = [[]];
  const end = text.trimEnd().length;
  WORD.lastIndex = 0;
  while (WORD.lastIndex < end) {
    const found = WORD.exec(text);
    if (found === null) return null;
    if (found[2] !== undefined) clauses.push([]);
    else if (found[1] === undefined) clauses.at(-1)?.push({ text: found[3] ?? "", quoted: false });
    else {
      const plain = found[1].replace(/""|\\(.)/g, (all, after: string | undefined) => {
        if (all === '""') return '"';
        return after === "n" ? "\n" : after === "r" ? "\r" : (after ?? "");
      });
      clauses.at(-1)?.push({ text: plain, quoted: true });
    }
  }
  return clauses.filter((clause) => clause.length > 0);
}

/** Thrown and caught within this file alone: a clause that cannot be read, with the sentence that says so. */
class Unread extends Error {}

/** Reads what {@link printMapping} wrote, or says in a sentence what cannot be read. */
export function parseMapping(text: string): Mapping | { readonly problem: string } {
  const clauses = clausesOf(text);
  if (clauses === null) return { problem: "The mapping has a quote that is not closed." };
  try {
    return build(clauses);
  } catch (error) {
    if (error instanceof Unread) return { problem: error.message };
    throw error;
  }
}

type Draft = { -readonly [K in keyof Mapping]: Mapping[K] };

function build(clauses: readonly Word[][]): Mapping {
  const draft: Draft = {
    ...{
      encoding: "utf-8",
      separator: ",",
      headers: [],
      headerRow: true,
      unitsRow: false,
      marks: { decimal: ".", thousands: "" },
    },
    ...{
      empties: [],
      zone: null,
      clock: null,
      columns: [],
      key: [],
      occurrence: false,
      keep: [],
      after: null,
      before: null,
      answers: {},
    },
  };
  const columns: ColumnMapping[] = [];
  const keep: { header: string; texts: string[] }[] = [];
  const answers: [string, string][] = [];
  for (const [head, ...rest] of clauses) {
    const texts = rest.map((word) => word.text);
    const [first = "", second = ""] = texts;
    switch (head?.text) {
      case "csv":
        draft.encoding = oneOf<Encoding>(first, ENCODINGS, "encoding");
        draft.separator = keyFor(SEPARATOR_WORDS, second, "separator");
        break;
      case "headers":
      case "headers-and-units":
      case "no-header":
        draft.headers = texts;
        draft.headerRow = head.text !== "no-header";
        draft.unitsRow = head.text === "headers-and-units";
        break;
      case "decimal":
        draft.marks = marksOf(texts);
        break;
      case "empty":
        draft.empties = texts;
        break;
      case "zone":
        draft.zone = first;
        break;
      case "clock":
        draft.clock = first;
        break;
      case "column":
        columns.push(columnOf(rest));
        break;
      case "key":
        draft.occurrence = texts.at(-1) === "and-order";
        draft.key = draft.occurrence ? texts.slice(0, -1) : texts;
        break;
      case "keep":
        keep.push({ header: first, texts: texts.slice(2) });
        break;
      case "after":
        draft.after = instantOf(first);
        break;
      case "before":
        draft.before = instantOf(first);
        break;
      case "answer":
        answers.push([first, second]);
        break;
      default:
        throw new Unread(`A mapping has no clause "${head?.text ?? ""}".`);
    }
  }
  if (draft.headers.length === 0) throw new Unread("The mapping names no headers.");
  return { ...draft, columns, keep, answers: Object.fromEntries(answers) };
}

function columnOf(words: readonly Word[]): ColumnMapping {
  const column = {
    to: words[0]?.text ?? "",
    from: [] as string[],
    unit: null as string | null,
    unitFrom: null as string | null,
  };
  let [implied, offset] = [0, 0];
  let order: DateOrder | null = null;
  const switches: { from: number; unit: string }[] = [];
  let since: number | null = null;
  for (let at = 1; at < words.length; at += 1) {
    const word = words[at];
    const next = words[at + 1]?.text ?? "";
    if (word === undefined) break;
    if (word.quoted) column.from.push(word.text);
    else if (word.text === "from") continue;
    else if (ORDERS.includes(word.text)) order = word.text as DateOrder;
    else {
      at += 1;
      if (word.text === "in" && since !== null) switches.push({ from: since, unit: next });
      else if (word.text === "in") column.unit = next;
      else if (word.text === "unit-from") column.unitFrom = next;
      else if (word.text === "implied") implied = wholeOf(next);
      else if (word.text === "offset") offset = numberOf(next);
      else if (word.text === "since") since = instantOf(next);
      else throw new Unread(`A column of a mapping has no "${word.text}".`);
    }
  }
  if (column.to === "" || column.from.length === 0)
    throw new Unread("A column of the mapping says not what it is read from.");
  return { ...column, implied, offset, switches, order };
}

function marksOf(words: readonly string[]): Marks {
  const decimal = keyFor({ ".": "point", ",": "comma" } as const, words[0] ?? "", "decimal mark");
  if (words[1] === undefined) return { decimal, thousands: "" };
  return { decimal, thousands: keyFor(MARK_WORDS, words[2] ?? "", "thousands mark") };
}

function keyFor<K extends string>(words: Readonly<Record<K, string>>, word: string, what: string): K {
  const found = (Object.keys(words) as K[]).find((key) => words[key] === word);
  if (found === undefined) throw new Unread(`"${word}" is no ${what}.`);
  return found;
}

function oneOf<T extends string>(word: string, all: readonly T[], what: string): T {
  const found = all.find((one) => one === word);
  if (found === undefined) throw new Unread(`"${word}" is no ${what}.`);
  return found;
}

function numberOf(text: string): number {
  const value = Number(text);
  if (text === "" || !Number.isFinite(value)) throw new Unread(`"${text}" is no figure.`);
  return value;
}

/** More implied decimals than this no instrument has. */
const MOST_IMPLIED = 9;

function wholeOf(text: string): number {
  const value = numberOf(text);
  if (!Number.isInteger(value) || value < 0 || value > MOST_IMPLIED)
    throw new Unread(`"${text}" is no number of decimals.`);
  return value;
}

/** Seconds of an ISO 8601 date or date and time. Throws Unread for anything else. */
function instantOf(text: string): number {
  const dates = new DateReader();
  const days = dates.scan(text) && dates.parts.hasDate ? daysIn(dates.parts, "iso") : Number.NaN;
  if (Number.isNaN(days)) throw new Unread(`"${text}" is no date and time.`);
  return days * 86_400 + dates.parts.seconds;
}
