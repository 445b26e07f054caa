import { ENCODINGS, type Encoding } from "./decode.ts";
import { type Detection, TEXT_NOT_BYTES } from "./detect.ts";
import type { Marks } from "./figures.ts";
import { entryUnit } from "./headers.ts";
import { inWords } from "./in-words.ts";
import { type ColumnMapping, headersUsed, type Mapping } from "./mapping.ts";
import { proposeMarks } from "./marks.ts";
import { type Matches, matchColumns, type SourceColumn, sourceColumns } from "./match.ts";
import { notePartedFigures } from "./parted.ts";
import { type Answers, Asking, type Choice, choice, type Question, question, type Settled } from "./question.ts";
import { SEPARATORS, type Separator } from "./shape.ts";
import { EMPTY_MARKS, isBare } from "./survey.ts";
import { isWrittenOut, type Target, type TargetColumn } from "./target.ts";
import { proposeTimes, type TimeProposal } from "./times.ts";
import { askAboutHydrometer, askAboutWeights, proposeCut, proposeFilters, proposeSwitches } from "./traps.ts";
import { impliedDecimals, proposeUnit } from "./unit-choice.ts";
import type { ReadUnit } from "./units-in-text.ts";

/** A mapping as far as the data and the answers so far decide it. */
export interface ProposedMapping {
  /** To be used only when no question is open; until then it shows what each first choice would do. */
  readonly mapping: Mapping;
  readonly questions: readonly Question[];
  /** Questions that are answered already and can be answered anew. */
  readonly answered: readonly Question[];
  /** What the data decide and a person may decide otherwise, in the order in which it is decided. */
  readonly settled: readonly Settled[];
  /** What a person should know of the file, a sentence each. */
  readonly notes: readonly string[];
  /** Columns of the file that are not read, and of the table that are not filled. */
  readonly unread: readonly string[];
  readonly unfilled: readonly string[];
}

/**
 * Proposes how a CSV is read into a table. Pure: called anew with each answer, until nothing is open. An answer to
 * `separator` or `header` takes a new detection with it.
 */
export function proposeMapping(
  detection: Detection,
  target: Target,
  readUnit: ReadUnit,
  answers: Answers = {},
): ProposedMapping {
  const asking = new Asking(answers);
  settleEncoding(detection, asking);
  askSeparator(detection, asking);
  askHeader(detection, asking);
  const marks = proposeMarks(detection, asking);
  const times = proposeTimes(detection, target, asking);
  const taken = times === null ? [] : [...times.from, ...times.others.map(({ from }) => from)];
  const matches = matchColumns(detection, target.columns, taken, readUnit, asking);
  const columns = mapColumns(target, matches, times, detection, marks, readUnit, asking);
  const gravity = [...matches].find(([name]) => isGravity(target.columns.find((column) => column.name === name)))?.[1];
  // What the table itself wrote out is read back as it was: what an instrument leaves unsaid is no question then.
  const isOwn = isWrittenOut(headersOf(detection), target);
  if (!isOwn) {
    askAboutWeights(detection, [...matches.values()], asking);
    askAboutHydrometer(detection, gravity, asking);
  }
  const cut =
    gravity && times
      ? proposeCut(jumpsOf(detection, gravity, marks), gravity.header.text, times, headersOf(detection), asking)
      : { after: null, before: null };
  const keep = proposeFilters(detection, asking);
  const key = proposeKey(detection, columns, times);
  noteRowsAside(detection, isOwn && times !== null, asking);
  if (detection.headers.length === 1 && target.columns.length > 1)
    asking.note(
      `The file has one column, "${detection.headers[0]?.text ?? ""}": no comma, semicolon, tab or upright bar parts its entries.`,
    );
  notePartedFigures(detection, asking);
  const mapping: Mapping = {
    encoding: detection.encoding,
    separator: detection.shape.separator.value,
    headers: headersOf(detection),
    headerRow: detection.shape.header.value > 0,
    unitsRow: detection.shape.unitsLine > 0,
    marks,
    empties: emptiesOf(detection),
    zone: times?.zone ?? null,
    clock: times?.clock ?? null,
    columns,
    ...key,
    keep,
    ...cut,
    answers: asking.drawnOn(),
  };
  const drawn = headersUsed(mapping);
  return {
    mapping,
    questions: asking.open,
    answered: asking.answered,
    settled: asking.settled,
    notes: asking.notes,
    unread: unreadOf(detection, drawn),
    unfilled: target.columns.filter(({ name }) => !columns.some(({ to }) => to === name)).map(({ name }) => name),
  };
}

/** The columns of the file that are not drawn on; one without a name and without an entry is none. */
export const unreadOf = (detection: Detection, drawn: ReadonlySet<string>): string[] =>
  sourceColumns(detection)
    .filter(
      ({ header, survey }, at) => !drawn.has(header.text) && (header.text !== `column ${at + 1}` || !isBare(survey)),
    )
    .map(({ header }) => header.text);

const isGravity = (column: TargetColumn | undefined): boolean =>
  column?.kind.is === "reading" && column.kind.family === "gravity";

export const headersOf = (detection: Detection): string[] => detection.headers.map(({ text }) => text);

/** The marks that stand for nothing in this file, and the usual ones: tomorrow's export may bring another. */
function emptiesOf(detection: Detection): string[] {
  const found = new Set(
    detection.columns.flatMap(({ empty }) => [...empty.keys()]).map((entry) => entry.toLowerCase()),
  );
  return EMPTY_MARKS.filter((mark) => found.has(mark));
}

const ENCODING_WORDS: Readonly<Record<Encoding, string>> = {
  "utf-8": "UTF-8",
  "utf-16le": "UTF-16, little-endian",
  "utf-16be": "UTF-16, big-endian",
  "windows-1252": "Windows-1252",
};

function settleEncoding({ encoding, encodingEvidence, encodingDoubt }: Detection, asking: Asking): void {
  if (encodingEvidence === TEXT_NOT_BYTES) return;
  const choices = ENCODINGS.map((one) => choice(one, ENCODING_WORDS[one]));
  const asks = "How are the characters written?";
  if (encodingDoubt === null) asking.settle(question("encoding", asks, choices, { why: encodingEvidence }), encoding);
  else
    asking.ask(
      question(
        "encoding",
        asks,
        choices.filter(({ value }) => !value.startsWith("utf-16")),
        encodingDoubt,
      ),
    );
}

const SEPARATOR_WORDS: Readonly<Record<Separator, string>> = {
  ",": "comma",
  ";": "semicolon",
  "\t": "tab",
  "|": "upright bar",
};

function askSeparator({ shape }: Detection, asking: Asking): void {
  const { value, certain, alternatives, evidence } = shape.separator;
  const asks = "Which mark parts the entries of a row?";
  const examples = shape.headers.slice(0, 1);
  const choices = (marks: readonly Separator[]): Choice[] => marks.map((mark) => choice(mark, SEPARATOR_WORDS[mark]));
  if (certain) asking.settle(question("separator", asks, choices(SEPARATORS), { why: evidence, examples }), value);
  else
    asking.ask(
      question("separator", asks, choices([value, ...alternatives]), {
        why: "More than one splits every line into the same number of entries.",
        examples,
      }),
    );
}

/** Lines below those before the table among which its header may be chosen. */
const HEADERS_OFFERED = 5;

function askHeader({ shape, firstRows }: Detection, asking: Asking): void {
  const { value, certain, alternatives, evidence } = shape.header;
  const asks = "Which line holds the names of the columns?";
  const examples = [
    `line ${value}: ${shape.headers.join(", ")}`,
    ...firstRows.slice(0, 1).map(({ line, entries }) => `line ${line}: ${entries.join(", ")}`),
  ];
  if (certain) {
    const lines = Array.from({ length: Math.max(value, shape.firstLine) + HEADERS_OFFERED }, (_, at) => at + 1);
    const choices = [choice("0", "none"), ...lines.map((line) => choice(String(line), `line ${line}`))];
    asking.settle(question("header", asks, choices, { why: evidence, examples }), String(value));
    return;
  }
  const choices = [value, ...alternatives].map((line) => choice(String(line), line === 0 ? "none" : `line ${line}`));
  const why = alternatives.includes(0)
    ? `It is in doubt: ${evidence}.`
    : "More than one line of words is as wide as the table.";
  asking.ask(question("header", asks, choices, { why, examples }));
}

function mapColumns(
  target: Target,
  matches: Matches,
  times: TimeProposal | null,
  detection: Detection,
  marks: Marks,
  readUnit: ReadUnit,
  asking: Asking,
): ColumnMapping[] {
  const plain = { unit: null, unitFrom: null, implied: 0, offset: 0, switches: [], order: null };
  return target.columns.flatMap((column): ColumnMapping[] => {
    if (column === times?.column) return [{ ...plain, to: column.name, from: times.from, order: times.order }];
    const other = times?.others.find(({ to }) => to === column.name);
    if (other !== undefined) return [{ ...plain, ...other, from: [other.from] }];
    const source = matches.get(column.name);
    if (source === undefined) return [];
    const unitFrom = unitColumn(source, column, detection, readUnit);
    if (unitFrom !== null)
      return [
        { ...plain, to: column.name, from: [source.header.text], unitFrom, implied: impliedDecimals(source, asking) },
      ];
    const { unit, implied } = proposeUnit(source, column, marks, readUnit, asking);
    const switches = proposeSwitches(
      jumpsOf(detection, source, marks),
      source,
      unit,
      times,
      headersOf(detection),
      asking,
    );
    return [{ ...plain, to: column.name, from: [source.header.text], unit, implied, switches }];
  });
}

/** Where the figures of a column look like those of another unit or batch from one row to the next. */
export function jumpsOf(
  detection: Detection,
  source: SourceColumn,
  marks: Marks,
): ReturnType<NonNullable<Detection["watches"][number]>["jumps"]> {
  const at = marks.decimal === "." ? 0 : 1;
  const watch = detection.watches[detection.headers.indexOf(source.header)];
  return watch?.jumps(source.survey.low[at] ?? 0, source.survey.high[at] ?? 0) ?? [];
}

/** A column beside the figures whose entries name their unit, for a scale that is switched between lb and oz. */
function unitColumn(
  { header, survey }: SourceColumn,
  column: TargetColumn,
  detection: Detection,
  readUnit: ReadUnit,
): string | null {
  if (column.kind.is !== "quantity" || header.unit !== null || survey.figures.count === 0) return null;
  const found = sourceColumns(detection).find((one) => {
    const spellings = [...one.survey.texts.keys()];
    return (
      one.header.role === "unit" &&
      spellings.length > 0 &&
      spellings.some((spelling) => entryUnit(spelling, readUnit) !== null)
    );
  });
  return found?.header.text ?? null;
}

/** What tells rows apart: the time; with it the vessel where several are read, or the serial number. Whether rows share it is seen when they are read. */
function proposeKey(
  detection: Detection,
  columns: readonly ColumnMapping[],
  times: TimeProposal | null,
): { key: readonly string[]; occurrence: boolean } {
  const sourceOf = new Map(sourceColumns(detection).map((source) => [source.header.text, source]));
  const mapped = columns.flatMap((column) => {
    const source = sourceOf.get(column.from[0] ?? "");
    return source ? [{ column, source }] : [];
  });
  const serial = mapped.find(
    ({ source }) => source.header.role === "serial" && source.survey.whole && source.survey.rising,
  );
  const timed = times === null ? [] : [times.column.name];
  // Counters start anew: a number alone would take today's first package for yesterday's.
  if (serial) return { key: [serial.column.to, ...timed], occurrence: false };
  if (times === null) return { key: columns.map(({ to }) => to), occurrence: true };
  const vessel = mapped
    .filter(({ source }) => source.header.role === "tank" && source.survey.texts.size > 1)
    .map(({ column }) => column.to);
  return { key: [...timed, ...vessel], occurrence: false };
}

/** `maySumUp`: a text such as "Total" may stand first in a row of readings, which a time tells from a sum. */
function noteRowsAside({ ragged, totals, headerAgain, whole }: Detection, maySumUp: boolean, asking: Asking): void {
  if (ragged.count > 0)
    asking.note(
      `${inWords(ragged.count, "line has", "lines have")} more or fewer entries than the header (first line ${ragged.first[0]?.line ?? 0}) and will be listed.`,
    );
  if (totals.count > 0 && !maySumUp)
    asking.note(
      `${inWords(totals.count, "line sums", "lines sum")} up others (first line ${totals.first[0]?.line ?? 0}) and will be listed, not read.`,
    );
  if (headerAgain.count > 0)
    asking.note(
      `The header stands again on line ${headerAgain.first[0]?.line ?? 0}; the units there hold from there on.`,
    );
  if (!whole) asking.note("Only the beginning of the file has been looked at.");
}
