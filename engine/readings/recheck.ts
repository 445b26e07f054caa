import { either } from "../diagnostics/wording.ts";
import { ORDER_WORDS, WRITTEN_ORDERS } from "./dates.ts";
import { PLAIN_BYTES } from "./decode.ts";
import { type Detection, TEXT_NOT_BYTES } from "./detect.ts";
import { formulaUnit, readHeader } from "./headers.ts";
import { instantReader } from "./instants.ts";
import { type HeaderChange, headerChanges, headersUsed, type Mapping, wordChange } from "./mapping.ts";
import { LEAVE_EMPTY, plainLabel, type SourceColumn, sourceColumns } from "./match.ts";
import { headersOf, jumpsOf, type ProposedMapping, proposeMapping, unreadOf } from "./propose.ts";
import type { Answers } from "./question.ts";
import { isBare, type Sighting } from "./survey.ts";
import { isInstant, type Target, unitFits, unitText } from "./target.ts";
import { epochOrder, timeKind } from "./time-columns.ts";
import { otherScale } from "./unit-choice.ts";
import type { ReadUnit } from "./units-in-text.ts";
import { againstZone } from "./zone-choice.ts";

/** A kept mapping held against today's export. */
export interface Rechecked {
  /** To be used only where nothing is against the mapping and the export is of its kind. */
  readonly proposed: ProposedMapping;
  readonly changes: readonly HeaderChange[];
  /** What the export shows against the mapping, a sentence each; empty when it can be used as it is. */
  readonly against: readonly string[];
  /** The export is laid out otherwise altogether, so that the mapping says nothing of it. */
  readonly isOther: boolean;
}

/**
 * Checks a kept mapping again before it is used: its headers are still there, its columns are the table's, and no date,
 * decimal mark or encoding of the export contradicts it. New doubts (a second vessel, say) are asked as for a new file.
 */
export function recheckMapping(
  mapping: Mapping,
  detection: Detection,
  target: Target,
  readUnit: ReadUnit,
  answers: Answers = {},
): Rechecked {
  const outdated = outdatedAnswers(mapping, detection);
  const settled = Object.fromEntries(Object.entries(mapping.answers).filter(([about]) => !outdated.has(about)));
  const anew = proposeMapping(detection, target, readUnit, { ...settled, ...answers });
  const changes = headerChanges(mapping, anew.mapping.headers);
  const notes = [...changes.filter(({ is }) => is !== "moved").map(wordChange), ...anew.notes];
  const against = [
    ...againstHeaders(mapping, changes, target),
    ...againstUnits(mapping, detection, target, readUnit, answers),
    ...againstEntries(mapping, detection),
    ...againstTimes(mapping, detection, target),
    ...againstZone(mapping, detection),
  ];
  const isOther = isLaidOutOtherwise(mapping, detection, readUnit);
  if (isOther || against.length > 0)
    return { proposed: anew, changes, against: [...against, ...lostAfresh(mapping, anew)], isOther };
  // A decision that is now taken, or taken otherwise, may change others.
  const isAnswered = Object.entries(answers).some(([about, answer]) => settled[about] !== answer);
  if (isAnswered) {
    const drawn = { ...setByHand(mapping, anew.mapping, target), ...settled, ...answers };
    const proposed = proposeMapping(detection, target, readUnit, drawn);
    const undone = new Set(Object.keys(answers).filter((about) => !outdated.has(about) && answers[about] === "no"));
    return {
      proposed: { ...proposed, mapping: withKept(proposed.mapping, mapping, undone) },
      changes,
      against,
      isOther,
    };
  }
  // A question that the kept mapping has decided without being asked is not open: it was set by hand.
  const open = anew.questions.filter(({ about }) => outdated.has(about) || isNewDoubt(about, mapping, anew.mapping));
  const drawn = headersUsed(mapping);
  const kept: ProposedMapping = {
    ...anew,
    mapping: open.length === 0 ? { ...mapping, headers: anew.mapping.headers } : anew.mapping,
    questions: open,
    notes,
    unread: unreadOf(detection, drawn),
    unfilled: target.columns
      .filter(({ name }) => !mapping.columns.some(({ to }) => to === name))
      .map(({ name }) => name),
  };
  return { proposed: kept, changes, against, isOther };
}

/**
 * Whether a column that the mapping draws on is gone and with it most of the mapping's others, not one alone. A header
 * with another unit is still there: that is the same kind of file, and changed.
 */
function isLaidOutOtherwise(mapping: Mapping, { headers }: Detection, readUnit: ReadUnit): boolean {
  const knows = (spelling: string): boolean => readUnit(spelling) !== null;
  const texts = new Set(headers.map(({ text }) => text));
  const labels = new Set(headers.map(({ label }) => plainLabel(label)));
  const gone = mapping.headers.filter((header) => {
    const label = plainLabel(readHeader(header, knows).label);
    return !texts.has(header) && (label === "" || !labels.has(label));
  });
  const drawn = headersUsed(mapping);
  return gone.length > 1 && gone.length * 2 > mapping.headers.length && gone.some((header) => drawn.has(header));
}

/** Where a mapping draws a column from elsewhere than the export alone would have it, or in another unit: as answers. */
function setByHand(mapping: Mapping, anew: Mapping, target: Target): Answers {
  const answers: Record<string, string> = {};
  for (const { name, kind } of target.columns) {
    if (isInstant(kind)) continue;
    const [kept, now] = [mapping, anew].map(({ columns }) => columns.find(({ to }) => to === name));
    const from = kept?.from[0] ?? LEAVE_EMPTY;
    if (from !== (now?.from[0] ?? LEAVE_EMPTY)) answers[`column:${name}`] = from;
    if (kept && kept.unit !== null && kept.unit !== now?.unit) answers[`unit:${from}`] = kept.unit;
  }
  return answers;
}

/** Questions whose kept answer is of a change of unit or batch that was the last one then; in this export another follows. */
function outdatedAnswers(mapping: Mapping, detection: Detection): ReadonlySet<string> {
  const time = mapping.columns.find(({ order }) => order !== null);
  const outdated = new Set<string>();
  if (time?.order == null) return outdated;
  const { zone, clock, marks } = mapping;
  const instantOf = instantReader({ from: time.from, order: time.order, zone, clock }, headersOf(detection));
  for (const source of sourceColumns(detection)) {
    const { text } = source.header;
    const column = mapping.columns.find(({ from }) => from[0] === text);
    const lastSwitch = column?.switches.at(-1)?.from ?? Number.NaN;
    const lastCut = mapping.before === null ? (mapping.after ?? Number.NaN) : Number.NaN;
    for (const { is, entries } of jumpsOf(detection, source, marks)) {
      // Where there was no change before, the figures were taken as they are, or it is asked anyhow.
      if (is === "unit" && instantOf(entries) > lastSwitch) outdated.add(`unit-change:${text}`);
      if (is === "batch" && instantOf(entries) > lastCut) outdated.add(`batch:${text}`);
    }
  }
  return outdated;
}

/**
 * What stands in no export and is kept where the column is read from the same one: what a hand sample showed an instrument to
 * be off by, and units that it was switched to before the changes that this export shows, but for those `undone` now.
 */
const withKept = (mapping: Mapping, { columns }: Mapping, undone: ReadonlySet<string>): Mapping => ({
  ...mapping,
  columns: mapping.columns.map((column) => {
    const kept = columns.find(({ to, from }) => to === column.to && from[0] === column.from[0]);
    if (kept === undefined) return column;
    const first = column.switches[0]?.from ?? Number.POSITIVE_INFINITY;
    const earlier = undone.has(`unit-change:${column.from[0]}`) ? [] : kept.switches.filter(({ from }) => from < first);
    return { ...column, offset: kept.offset, switches: [...earlier, ...column.switches] };
  }),
});

/** What a mapping did beyond what stands in a file, which a fresh look does not: offsets, and rows that were left out. */
export const lostAfresh = ({ columns, keep }: Mapping, { mapping: anew, questions }: ProposedMapping): string[] => [
  ...columns
    .filter(({ offset }) => offset !== 0)
    .map(({ from, offset }) => `Until now ${offset} was added to "${from[0] ?? ""}"; looked at afresh, it is not.`),
  ...keep
    .filter(() => anew.keep.length === 0 && !questions.some(({ about }) => about.startsWith("rows:")))
    .map(({ header, texts }) => {
      const named = either(texts.map((text) => `"${text}"`));
      return `Until now only rows with ${named} under "${header}" were read; looked at afresh, all are.`;
    }),
];

/** Doubts about rows (vessels, products, batches, units switched) are of this export; those about how it is written were settled. */
function isNewDoubt(about: string, mapping: Mapping, now: Mapping): boolean {
  const [topic = "", header = ""] = about.split(/:(.*)/s);
  if (topic === "encoding") return true;
  if (topic === "rows") return !mapping.keep.some((filter) => filter.header === header);
  if (topic === "batch") return mapping.after === null && mapping.before === null;
  if (topic === "unit-change")
    return !mapping.columns.some(({ from, switches }) => from.includes(header) && switches.length > 0);
  return topic === "column" && now.headers.some((one) => !mapping.headers.includes(one));
}

function againstHeaders(mapping: Mapping, changes: readonly HeaderChange[], target: Target): string[] {
  const used = headersUsed(mapping);
  const gone = changes
    .filter(({ is, header }) => is === "gone" && used.has(header))
    .map(({ header }) => `The column "${header}" is no longer in the file.`);
  const strangers = [...mapping.columns.map(({ to }) => to), ...mapping.key]
    .filter((name) => !target.columns.some((column) => column.name === name))
    .map((name) => `The table has no column "${name}" any more.`);
  return [...new Set([...gone, ...strangers])];
}

/** What the units row and the figures say of the units: a header may stay and its unit change. */
function againstUnits(
  mapping: Mapping,
  detection: Detection,
  target: Target,
  readUnit: ReadUnit,
  answers: Answers,
): string[] {
  const hasRow = detection.shape.unitsLine > 0;
  if (mapping.unitsRow !== hasRow)
    return [`There ${hasRow ? "is a row" : "is no row"} of units below the headers ${hasRow ? "now" : "any more"}.`];
  return mapping.columns.flatMap((kept) => {
    const {
      to,
      from: [from = ""],
      unit,
    } = kept;
    const at = detection.headers.findIndex(({ text }) => text === from);
    const [header, survey] = [detection.headers[at], detection.columns[at]];
    const column = target.columns.find(({ name }) => name === to);
    const isAnswered = [`unit:${from}`, `gravity:${from}`].some((about) => Object.hasOwn(answers, about));
    if (unit === null || header === undefined || survey === undefined || column === undefined || isAnswered) return [];
    const isKept = Object.hasOwn(mapping.answers, `unit:${from}`);
    const now = hasRow && !isKept && header.unit !== null ? readUnit(formulaUnit(header.unit)) : null;
    if (now !== null && unitFits(now, column.kind) && unitText(now) !== unit)
      return [`"${from}" was in ${unit}; the row of units now says ${header.unit}.`];
    const isChosen = isKept || Object.hasOwn(mapping.answers, `gravity:${from}`);
    const other = otherScale({ header, survey }, column, kept, isChosen, mapping.marks);
    const [example] = survey.figures.first;
    return other === null
      ? []
      : [`"${from}" was in ${unit}; figures such as ${example?.entry} on line ${example?.line} are ${other}.`];
  });
}

function againstEntries(mapping: Mapping, detection: Detection): string[] {
  const says: string[] = [];
  const { encodingEvidence } = detection;
  // Umlauts in a remark today and none tomorrow are no change.
  const isEither = encodingEvidence === PLAIN_BYTES && mapping.encoding === "windows-1252";
  if (mapping.encoding !== detection.encoding && encodingEvidence !== TEXT_NOT_BYTES && !isEither) {
    says.push(`The file was ${mapping.encoding} and now is ${detection.encoding}: ${encodingEvidence}.`);
  }
  if (mapping.separator !== detection.shape.separator.value)
    says.push("The entries are parted by another mark than before.");
  const { decimalComma, decimalPoint } = detection.marks;
  const wrong = mapping.marks.decimal === "." ? decimalComma : decimalPoint;
  const right = mapping.marks.decimal === "." ? decimalPoint : decimalComma;
  if (wrong.count > 0 && right.count === 0) {
    says.push(
      `The decimal mark was "${mapping.marks.decimal}"; line ${wrong.first[0]?.line ?? 0} has ${wrong.first[0]?.entry ?? ""}.`,
    );
  }
  return says;
}

/** Times in another order, with a zone or without one where it was otherwise, or counted otherwise since 1970. */
function againstTimes(mapping: Mapping, detection: Detection, target: Target): string[] {
  const sourceOf = (header: string | undefined): SourceColumn | undefined =>
    sourceColumns(detection).find((source) => source.header.text === header);
  return mapping.columns.flatMap(({ to, from, order }): string[] => {
    const [date, clock] = [sourceOf(from[0]), sourceOf(from.at(-1))];
    if (order === null || date === undefined || clock === undefined) return [];
    if (from.length > 1 && isBare(clock.survey) && date.survey.times.count > 0)
      return [`There is no time of day under "${clock.header.text}" any more.`];
    const { header, survey } = date;
    const wasEpoch = order === "epoch-seconds" || order === "epoch-milliseconds";
    const now = timeKind(header, survey) === "epoch" ? epochOrder(survey) : null;
    if (wasEpoch && now === null && survey.times.count === 0) return [];
    if (wasEpoch ? now !== order : now !== null) {
      const [example] = (now === null ? survey.times : survey.figures).first;
      return [
        differs(`The times were ${ORDER_WORDS[order]}`, example, now === null ? "is a date" : `is ${ORDER_WORDS[now]}`),
      ];
    }
    const [other] = survey.against.get(order)?.first ?? [];
    // Where no order fits every date, those that do not fit the kept one are rejected one by one, as was answered.
    if (other !== undefined && WRITTEN_ORDERS.some((one) => survey.against.get(one)?.count === 0))
      return [differs(`The dates were ${ORDER_WORDS[order]}`, other, "is none")];
    const [zoned, unzoned] = [clock.survey.zoned.first[0], clock.survey.unzoned.first[0]];
    const isZoned = target.columns.some(
      ({ name, kind }) => name === to && kind.is === "reading" && kind.family === "zoned instant",
    );
    if (isZoned || now !== null) return [];
    if (mapping.clock === null && zoned !== undefined) return [differs("The times had no zone", zoned, "has one")];
    const lacksZone = mapping.clock !== null && mapping.zone === null && unzoned !== undefined;
    return lacksZone ? [differs("The times had a zone", unzoned, "has none")] : [];
  });
}

const differs = (was: string, example: Sighting | undefined, now: string): string =>
  `${was}; on line ${example?.line ?? 0} "${example?.entry ?? ""}" ${now}.`;
