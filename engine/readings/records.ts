import Papa from "papaparse";

/** Receives one record. `problem` says why the line cannot be split into entries; `entries` is then the line as it stands. */
export type OnRecord = (entries: readonly string[], line: number, problem: string | null) => void;

/** Characters taken at once: large enough for speed, small enough to show progress and to stop soon. */
export const PIECE_LENGTH = 1 << 18;

/** A record longer than this, quoted line breaks included, is refused: no table has one, an unclosed quote has. */
export const LONGEST_RECORD = 2_000_000;

/** After this many broken quotes a file is read line by line, so that reading it takes time in proportion to its length. */
const BROKEN_QUOTES_FORGIVEN = 8;

const NEVER_CLOSED =
  'A quote (") is opened here and not closed properly. Close it, or double it if it belongs to the text.';
const TOO_LONG = `This line is longer than ${LONGEST_RECORD.toLocaleString("en")} characters.`;

const countOf = (text: string, mark: string): number => {
  let count = 0;
  for (let at = text.indexOf(mark); at >= 0; at = text.indexOf(mark, at + mark.length)) count += 1;
  return count;
};

/**
 * Splits CSV text (RFC 4180, with any one-character separator) that comes in pieces into records with their line numbers
 * (1-based, the line on which a record begins). Line ends are LF, CRLF or CR. A broken quote costs its own line only.
 */
export class RecordReader {
  readonly #separator: string;
  readonly #onRecord: OnRecord;
  #lineEnd: "\n" | "\r" | null = null;
  #pending = "";
  #line = 1;
  #broken = 0;
  /** Pieces of a line that is already too long and has not ended yet. */
  #overlong: string[] = [];

  constructor(separator: string, onRecord: OnRecord) {
    this.#separator = separator;
    this.#onRecord = onRecord;
  }

  /** Lines seen so far. */
  get line(): number {
    return this.#line;
  }

  push(text: string): void {
    for (let at = 0; at < text.length; at += PIECE_LENGTH) this.#take(text.slice(at, at + PIECE_LENGTH), false);
  }

  /** The text has ended: what is pending is its last record. */
  end(): void {
    this.#take("", true);
  }

  #take(piece: string, last: boolean): void {
    let text = piece;
    if (this.#overlong.length > 0) {
      const end = text.indexOf(this.#lineEnd ?? "\n");
      this.#overlong.push(end < 0 ? text : text.slice(0, end));
      if (end < 0 && !last) return;
      this.#refuse(this.#overlong.join(""), TOO_LONG);
      this.#overlong = [];
      text = end < 0 ? "" : text.slice(end + 1);
    }
    this.#pending = this.#pending === "" ? text : this.#pending + text;
    if (this.#pending === "") return;
    this.#lineEnd ??= this.#findLineEnd(last);
    if (this.#lineEnd !== null) while (this.#readPending(this.#lineEnd, last));
    if (!last && this.#pending.length > LONGEST_RECORD) this.#giveUp();
  }

  #findLineEnd(last: boolean): "\n" | "\r" | null {
    if (this.#pending.includes("\n")) return "\n";
    // A CR at the very end may be half of CRLF.
    if (this.#pending.slice(0, -1).includes("\r") || (last && this.#pending.endsWith("\r"))) return "\r";
    return last || this.#pending.length > LONGEST_RECORD ? "\n" : null;
  }

  /** Reads what is pending; true when a broken quote was stepped over and there is more to read. */
  #readPending(lineEnd: "\n" | "\r", last: boolean): boolean {
    if (this.#pending === "") return false;
    if (this.#broken > BROKEN_QUOTES_FORGIVEN) {
      this.#readByLines(lineEnd, last);
      return false;
    }
    const config = { delimiter: this.#separator, newline: lineEnd } as const;
    const parsed = new Papa.Parser(config).parse(this.#pending, 0, !last);
    const quoted = this.#pending.includes('"');
    // Trouble in the row that is still incomplete may mend itself with the next piece.
    const wrong = parsed.errors.find((error) => last || (error.row ?? 0) < parsed.data.length)?.row;
    const good = wrong === undefined ? parsed.data : parsed.data.slice(0, wrong);
    // A line end that closes the text begins no further record.
    if (last && wrong === undefined && this.#pending.endsWith(lineEnd) && good.at(-1)?.join("") === "") good.pop();
    for (const entries of good) this.#emit(entries, lineEnd, quoted);
    if (wrong === undefined) {
      this.#pending = last ? "" : this.#pending.slice(parsed.meta.cursor);
      return false;
    }
    const start =
      wrong === 0 ? 0 : new Papa.Parser({ ...config, preview: wrong }).parse(this.#pending, 0, false).meta.cursor;
    this.#stepOverLine(start, lineEnd, NEVER_CLOSED);
    this.#broken += 1;
    return true;
  }

  /** Refuses the one line that begins at `start`; the text after it is pending. */
  #stepOverLine(start: number, lineEnd: string, problem: string): void {
    const end = this.#pending.indexOf(lineEnd, start);
    this.#refuse(this.#pending.slice(start, end < 0 ? this.#pending.length : end), problem);
    this.#pending = end < 0 ? "" : this.#pending.slice(end + 1);
  }

  #readByLines(lineEnd: "\n" | "\r", last: boolean): void {
    const lines = this.#pending.split(lineEnd);
    const rest = lines.pop() ?? "";
    if (last && rest !== "") lines.push(rest);
    this.#pending = last ? "" : rest;
    const reader = new Papa.Parser({ delimiter: this.#separator, newline: lineEnd });
    for (const line of lines) {
      const { data, errors } = reader.parse(line, 0, false);
      if (errors.length > 0) this.#refuse(line, NEVER_CLOSED);
      else this.#emit(data[0] ?? [""], lineEnd, false);
    }
  }

  #giveUp(): void {
    const lineEnd = this.#lineEnd ?? "\n";
    if (this.#pending.includes(lineEnd)) {
      this.#broken = BROKEN_QUOTES_FORGIVEN + 1;
      this.#readByLines(lineEnd === "\r" ? "\r" : "\n", false);
    } else {
      this.#overlong = [this.#pending];
      this.#pending = "";
    }
  }

  #emit(entries: string[], lineEnd: string, quoted: boolean): void {
    const final = entries.length - 1;
    const tail = entries[final] ?? "";
    if (lineEnd === "\n" && tail.charCodeAt(tail.length - 1) === 13) entries[final] = tail.slice(0, -1);
    this.#onRecord(entries, this.#line, null);
    this.#line += 1;
    if (quoted) for (const entry of entries) this.#line += countOf(entry, lineEnd);
  }

  #refuse(line: string, problem: string): void {
    this.#onRecord([line.endsWith("\r") ? line.slice(0, -1) : line], this.#line, problem);
    this.#line += 1;
  }
}

/** Every record of a whole text at once, at most `most` of them. */
export function recordsOf(
  text: string,
  separator: string,
  most = Number.POSITIVE_INFINITY,
): { entries: readonly string[]; line: number }[] {
  const records: { entries: readonly string[]; line: number }[] = [];
  const reader = new RecordReader(separator, (entries, line) => {
    if (records.length < most) records.push({ entries, line });
  });
  reader.push(text);
  reader.end();
  return records;
}
