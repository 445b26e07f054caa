import { ByteDecoder, type Encoding, MARKED_UTF8, proposeEncoding } from "./decode.ts";
import { type EncodingDoubt, encodingDoubt, lineNotUtf8 } from "./encoding-doubt.ts";
import type { Marks } from "./figures.ts";
import { distinctHeaders, type Header, type KnowsUnit, readHeader } from "./headers.ts";
import { JumpWatch } from "./jumps.ts";
import { Preamble, type SaidAgain } from "./preamble.ts";
import type { Proposal } from "./question.ts";
import { RecordReader } from "./records.ts";
import { MOST_COLUMNS, proposeShape, type Separator, type Shape } from "./shape.ts";
import { type Chunk, eachPiece, type Running, type Source } from "./source.ts";
import { ColumnSurvey, MarkEvidence, Seen } from "./survey.ts";

/** The beginning of a file that its shape is found from; a table starts within it. */
export const SAMPLE_LENGTH = 1 << 16;

/** Everything a CSV says of itself. */
export interface Detection {
  readonly encoding: Encoding;
  readonly encodingEvidence: string;
  /** Whether some lines speak for this encoding and others against it; null where none do. */
  readonly encodingDoubt: EncodingDoubt | null;
  readonly shape: Shape;
  readonly headers: readonly Header[];
  readonly columns: readonly ColumnSurvey[];
  readonly marks: MarkEvidence;
  /** The first rows as text, to be shown. */
  readonly firstRows: readonly { readonly line: number; readonly entries: readonly string[] }[];
  /** Rows with too few or too many entries, broken quotes, and summary rows. */
  readonly ragged: Seen;
  readonly totals: Seen;
  /** Of the ragged rows those that would fit if a comma between whole figures were a decimal mark. */
  readonly parted: Seen;
  /** Header lines that stand again among the data. */
  readonly headerAgain: Seen;
  /** What the lines above the table say, and what records among the rows say otherwise. */
  readonly preamble: Preamble;
  readonly saidAgain: SaidAgain[];
  /** By column: changes of unit in mid-file and second batches, before any is asked about. */
  readonly watches: readonly (JumpWatch | null)[];
  /** Whether the whole file was looked at, and not its beginning only. */
  readonly whole: boolean;
  /** Why this is no table that can be read; null when it is one. */
  readonly problem: string | null;
}

const ROWS_SHOWN = 20;

/** What is said for the encoding of a text that never was bytes. */
export const TEXT_NOT_BYTES = "text, not bytes";

/** The beginning of a source as text, with what its bytes say. */
async function beginning(
  source: Source,
  given: Encoding | undefined,
): Promise<{ text: string; encoding: Encoding; evidence: string; ended: boolean }> {
  const pieces: Chunk[] = [];
  let length = 0;
  let ended = true;
  for await (const piece of source.chunks()) {
    pieces.push(piece);
    length += piece.length;
    if (length > SAMPLE_LENGTH) {
      ended = false;
      break;
    }
  }
  if (pieces.every((piece) => typeof piece === "string")) {
    const text = pieces.join("").slice(0, SAMPLE_LENGTH);
    return {
      text: text.startsWith("\ufeff") ? text.slice(1) : text,
      encoding: "utf-8",
      evidence: TEXT_NOT_BYTES,
      ended,
    };
  }
  const bytes = new Uint8Array(length);
  let at = 0;
  for (const piece of pieces) {
    if (typeof piece === "string") continue;
    bytes.set(piece, at);
    at += piece.length;
  }
  const first = bytes.subarray(0, SAMPLE_LENGTH);
  const { encoding, evidence } = given ? { encoding: given, evidence: "chosen" } : proposeEncoding(first);
  return { text: new ByteDecoder(encoding).decode(first, ended), encoding, evidence, ended };
}

/** How a file is looked at when a person has already corrected what was proposed. */
export interface DetectOptions extends Running {
  readonly encoding?: Encoding;
  readonly separator?: Separator;
  /** The line of the header row; 0 for none. */
  readonly headerLine?: number;
}

/** Looks the whole file through: its shape from the beginning, its columns from every row. Changes nothing and decides no doubt. */
export async function detect(source: Source, knows: KnowsUnit, options: DetectOptions = {}): Promise<Detection> {
  const start = await beginning(source, options.encoding);
  const { encoding } = start;
  if (encoding === "windows-1252" && options.encoding === undefined) {
    const doubt = await encodingDoubt(source, await lineNotUtf8(source));
    if (doubt !== null) {
      const anew = await detect(source, knows, { ...options, encoding: "utf-8" });
      return { ...anew, encodingEvidence: doubt.why, encodingDoubt: doubt };
    }
  }
  const sample = wholeLines(start.text, start.ended);
  const given: Proposal<Separator> | undefined = options.separator && {
    value: options.separator,
    certain: true,
    evidence: "chosen",
    alternatives: [],
  };
  const shape = proposeShape(sample, knows, given, options.headerLine ?? null);
  // A million columns are counted, and told of, but not looked into.
  const names = shape.headers.length > MOST_COLUMNS ? [] : distinctHeaders(shape.headers);
  const headers = names.map((text, at) => {
    // What sets a second `Temp (°C)` apart is no part of its label.
    const plain = shape.headers[at]?.trim().replace(/\s+/g, " ") || text;
    return { ...readHeader(plain, knows, shape.units[at] ?? null), text };
  });
  const detection: Detection = {
    encoding,
    encodingEvidence: start.evidence,
    encodingDoubt: null,
    shape,
    headers,
    columns: headers.map(() => new ColumnSurvey()),
    marks: new MarkEvidence(),
    firstRows: [],
    ragged: new Seen(),
    totals: new Seen(),
    parted: new Seen(),
    headerAgain: new Seen(),
    preamble: new Preamble(shape.preamble.map((line) => line.split(shape.separator.value))),
    saidAgain: [],
    watches: headers.map(({ role }) => (role === "gravity" || role === "temperature" ? new JumpWatch(role) : null)),
    whole: true,
    problem: problemOf(sample, shape.headers.length),
  };
  if (detection.problem !== null) return detection;
  const { ended: whole, undecoded } = await survey(source, encoding, detection, options);
  if (undecoded && whole && options.encoding === undefined && encoding === "utf-8") {
    const wrong = await lineNotUtf8(source);
    if (wrong > 0 && start.evidence === MARKED_UTF8)
      return { ...detection, encodingEvidence: `${MARKED_UTF8}, though line ${wrong} is not UTF-8` };
    if (wrong > 0) {
      const doubt = await encodingDoubt(source, wrong);
      if (doubt !== null) return { ...detection, encodingEvidence: doubt.why, encodingDoubt: doubt };
      const anew = await detect(source, knows, { ...options, encoding: "windows-1252" });
      return { ...anew, encodingEvidence: `line ${wrong} has a byte that is not UTF-8` };
    }
  }
  return { ...detection, whole };
}

function wholeLines(text: string, ended: boolean): string {
  if (ended) return text;
  const cut = Math.max(text.lastIndexOf("\n"), text.lastIndexOf("\r"));
  return cut > 0 ? text.slice(0, cut + 1) : text;
}

function problemOf(sample: string, columns: number): string | null {
  if (sample.trim() === "") return "The file is empty.";
  if (sample.includes("\0")) return "This is no text: it holds zero bytes. Export the readings as CSV.";
  if (columns > MOST_COLUMNS)
    return `The first line has ${columns} entries; a table of readings has at most ${MOST_COLUMNS}. Is this a CSV?`;
  return null;
}

async function survey(
  source: Source,
  encoding: Encoding,
  detection: Detection,
  options: DetectOptions,
): Promise<{ readonly ended: boolean; readonly undecoded: boolean }> {
  const { shape, headers, columns, marks } = detection;
  const isTime = headers.map(({ role }) => role === "instant" || role === "date" || role === "clock");
  // Where the comma parts the entries, it is no decimal mark unless they are quoted.
  const usual = { decimal: shape.separator.value === ";" ? "," : ".", thousands: "" } as const;
  const shown = detection.firstRows as { line: number; entries: readonly string[] }[];
  const reader = new RecordReader(shape.separator.value, (entries, line, problem) => {
    if (line < shape.firstLine || line === shape.unitsLine || isBlankRow(entries)) return;
    const aside = asideOf(entries, problem, detection);
    if (aside === detection.ragged || columns.length === 2) noteAgain(entries, line, detection);
    if (aside !== null) {
      aside.add(line, entries.join(shape.separator.value));
      if (aside === detection.ragged && shape.separator.value === "," && isParted(entries, columns.length))
        detection.parted.add(line, entries.join(","));
      if (aside === detection.headerAgain) for (const watch of detection.watches) watch?.begin();
      return;
    }
    if (shown.length < ROWS_SHOWN) shown.push({ line, entries: [...entries] });
    for (let at = 0; at < columns.length; at += 1) {
      const entry = entries[at] ?? "";
      columns[at]?.note(entry, line, marks, isTime[at] ?? false);
      detection.watches[at]?.note(
        entry,
        line,
        entries,
        entry.includes(",") || entry.includes(".") ? marksIn(entry) : usual,
      );
    }
  });
  let undecoded = false;
  const ended = await eachPiece(source, encoding, options, (text) => {
    undecoded ||= text.includes("\ufffd");
    reader.push(text);
    return reader.line;
  });
  if (ended) reader.end();
  return { ended, undecoded };
}

/** A record that says what the lines above the table say, and says it otherwise. */
function noteAgain(entries: readonly string[], line: number, { preamble, saidAgain }: Detection): void {
  const again = preamble.again(entries);
  if (again !== null && again.value !== again.before) saidAgain.push({ ...again, line });
}

/** Where a record belongs that is no row of readings; null when it is one. */
function asideOf(entries: readonly string[], problem: string | null, detection: Detection): Seen | null {
  if (problem !== null || !fits(entries, detection.headers.length)) return detection.ragged;
  if (isHeaderAgain(entries, detection.headers)) return detection.headerAgain;
  return isTotalsRow(entries) ? detection.totals : null;
}

/** A single mark in a figure is taken for a decimal mark: enough to tell a jump. */
const marksIn = (entry: string): Marks => ({ decimal: entry.includes(",") ? "," : ".", thousands: "" });

export const isBlankRow = (entries: readonly string[]): boolean => {
  for (const entry of entries) if (entry !== "" && entry.trim() !== "") return false;
  return true;
};

/** Whether a record has an entry for every header and none beyond that is filled. */
export function fits(entries: readonly string[], headers: number): boolean {
  if (entries.length < headers) return false;
  for (let at = headers; at < entries.length; at += 1) if ((entries[at] ?? "").trim() !== "") return false;
  return true;
}

/** Whether a record with too many entries would fit if commas between whole figures were decimal marks: `18,5` for `18.5`. */
function isParted(entries: readonly string[], headers: number): boolean {
  let joins = 0;
  for (let at = 1; at < entries.length; at += 1) {
    if (!/^\s*[+\-\u2212]?\d{1,4}$/.test(entries[at - 1] ?? "") || !/^\d{1,3}\s*$/.test(entries[at] ?? "")) continue;
    joins += 1;
    at += 1;
  }
  const beyond = entries.length - headers;
  return beyond > 0 && joins >= beyond;
}

/** Whether a record is the header once more, as appended exports have it; its units may be others. */
export function isHeaderAgain(entries: readonly string[], headers: readonly Header[]): boolean {
  const first = headers[0];
  if (first === undefined || !sharesStart(entries[0] ?? "", first)) return false;
  return headers.every((header, at) => sharesStart(entries[at] ?? "", header));
}

const sharesStart = (entry: string, header: Header): boolean => {
  const text = entry.trim();
  if (text === "") return header.text.startsWith("column ");
  return (
    text === header.text ||
    text === header.label ||
    (text.startsWith(header.label) && /^[\s([{,_/|]/.test(text.slice(header.label.length))) ||
    header.text.startsWith(`${text} #`)
  );
};

const SUMMARY =
  /^(?:grand |sub-?)?(?:totals?|sums?|means?|averages?|avg|min(?:imum)?|max(?:imum)?|median|std\.?(?: ?dev\.?)?|s\.?d\.?|count|range|summe|gesamt|mittel(?:wert)?|moyenne|somme|end of (?:report|file|data)|end)[\s.:=]*$/i;

/** Whether a row sums others up: its first filled entry is `Total`, `Mean` and the like. */
export function isTotalsRow(entries: readonly string[]): boolean {
  for (const entry of entries) {
    // Most rows begin with a figure or a date.
    if (entry.charCodeAt(0) >= 48 && entry.charCodeAt(0) <= 57) return false;
    if (entry !== "" && entry.trim() !== "") return SUMMARY.test(entry.trim());
  }
  return false;
}
