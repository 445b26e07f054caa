import { isBlank, isLineEnd, skipBlanks, startsName } from "./characters.ts";
import { readHead, skipLineEnd } from "./lines.ts";

/*
 * The rows of a table: comma-separated values after RFC 4180, with blanks around unquoted entries dropped. A quoted entry
 * may hold commas, line ends and doubled quotes. Line ends may be LF, CRLF or CR.
 */

/** A quoted entry that does not close within this many characters is taken as unclosed, and ends with its line. */
const LONGEST_QUOTED = 8192;

/**
 * Past the entry that starts at `at` (blanks before it skipped), where its comma or line end stands. Quotes count only where
 * they open the entry, close it, and only a comma or line end follows; else they are characters like any other.
 */
function skipEntry(text: string, at: number, end: number): number {
  if (text.charCodeAt(at) === 34) {
    const close = closingQuote(text, at, end);
    if (close >= 0) return skipBlanks(text, close + 1);
  }
  let to = at;
  while (to < end && text.charCodeAt(to) !== 44 && !isLineEnd(text.charCodeAt(to))) to += 1;
  return to;
}

/** The quote that closes the entry opened at `at`, or -1 when none does. */
function closingQuote(text: string, at: number, end: number): number {
  const last = Math.min(end, at + LONGEST_QUOTED);
  for (let to = at + 1; to < last; to += 1) {
    if (text.charCodeAt(to) !== 34) continue;
    if (text.charCodeAt(to + 1) === 34) {
      to += 1;
      continue;
    }
    const after = skipBlanks(text, to + 1);
    return after >= end || text.charCodeAt(after) === 44 || isLineEnd(text.charCodeAt(after)) ? to : -1;
  }
  return -1;
}

/**
 * Where the rows that begin at `from` end: at the line that holds `end` alone (`closed`), or, when there is none before
 * another table's lines or the end of the file, at the first line that can only be the next statement.
 */
export function scanRows(text: string, from: number): { readonly end: number; readonly closed: boolean } {
  let at = from;
  /** The first line that looks like a statement: data all the same when this table's `end` follows. */
  let statement = -1;
  while (at < text.length) {
    if (startsName(text, skipBlanks(text, at))) {
      const { is } = readHead(text, at);
      if (is === "end") return { end: at, closed: true };
      if (statement >= 0 && (is === "rows" || is === "column")) return { end: statement, closed: false };
      if (statement < 0 && is !== null) statement = at;
    }
    at = skipLineEnd(text, skipRow(text, at));
  }
  return { end: statement >= 0 ? statement : text.length, closed: false };
}

/** The end of the row at `at`: usually its line's, further on where a quoted entry spans lines. */
function skipRow(text: string, at: number): number {
  let lineEnd = at;
  let quotes = false;
  for (let code = text.charCodeAt(at); lineEnd < text.length && !isLineEnd(code); code = text.charCodeAt(lineEnd)) {
    if (code === 34) quotes = true;
    lineEnd += 1;
  }
  if (!quotes) return lineEnd;
  for (let to = at; ; to += 1) {
    to = skipEntry(text, skipBlanks(text, to), text.length);
    if (text.charCodeAt(to) !== 44) return to;
  }
}

/** Rows read into offsets: compact enough for a month of minutes. */
export interface Rows {
  /** How many rows; blank lines are none. */
  readonly count: number;
  /** Where each row's entries begin in `starts` and `ends`; `count + 1` long. */
  readonly firsts: Int32Array;
  /** The entry's characters in the text, quotes and blanks around it not included. */
  readonly starts: Int32Array;
  readonly ends: Int32Array;
  /** 1 where the entry is quoted: its doubled quotes are still doubled. */
  readonly quoted: Uint8Array;
}

class Growing {
  array = new Int32Array(1024);
  length = 0;

  push(value: number): void {
    if (this.length === this.array.length) {
      const larger = new Int32Array(this.length * 2);
      larger.set(this.array);
      this.array = larger;
    }
    this.array[this.length] = value;
    this.length += 1;
  }
}

/** Finds the entries of a table's rows. Never throws; a row has as many entries as it has, ragged or not. */
export function readRows(text: string): Rows {
  const firsts = new Growing();
  const starts = new Growing();
  const ends = new Growing();
  const quoted: number[] = [];
  const { length } = text;
  for (let at = 0; at < length; ) {
    let start = skipBlanks(text, at);
    if (isLineEnd(text.charCodeAt(start)) || start >= length) {
      at = skipLineEnd(text, start);
      continue;
    }
    firsts.push(starts.length);
    for (;;) {
      let end = skipEntry(text, start, length);
      const sign = end;
      while (end > start && isBlank(text.charCodeAt(end - 1))) end -= 1;
      const inQuotes =
        end - start >= 2 && text.charCodeAt(start) === 34 && closingQuote(text, start, length) === end - 1;
      if (inQuotes) quoted.push(starts.length);
      starts.push(inQuotes ? start + 1 : start);
      ends.push(inQuotes ? end - 1 : end);
      if (text.charCodeAt(sign) !== 44) {
        at = skipLineEnd(text, sign);
        break;
      }
      start = skipBlanks(text, sign + 1);
    }
  }
  const count = firsts.length;
  firsts.push(starts.length);
  const marks = new Uint8Array(starts.length);
  for (const entry of quoted) marks[entry] = 1;
  return {
    count,
    firsts: firsts.array.slice(0, count + 1),
    starts: starts.array.slice(0, starts.length),
    ends: ends.array.slice(0, ends.length),
    quoted: marks,
  };
}

/** The text of entry `entry` of `rows`, doubled quotes undoubled. */
export function entryText(text: string, rows: Rows, entry: number): string {
  const raw = text.slice(rows.starts[entry], rows.ends[entry]);
  return rows.quoted[entry] === 1 ? raw.replaceAll('""', '"') : raw;
}

/** An entry as a table's rows write it: quoted where a comma, quote, line end or outer blank needs it, or where it is `end`. */
export function quoteEntry(entry: string): string {
  const plain = !/[",\r\n]|^\s|\s$/u.test(entry) && !/^end$/i.test(entry) && readHead(entry, 0).is !== "end";
  return plain ? entry : `"${entry.replaceAll('"', '""')}"`;
}
