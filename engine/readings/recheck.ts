import { type Detection, TEXT_NOT_BYTES } from "./detect.ts";
import { type HeaderChange, headerChanges, headersUsed, type Mapping } from "./mapping.ts";
import { type ProposedMapping, proposeMapping } from "./propose.ts";
import type { Answers } from "./question.ts";
import type { Target } from "./target.ts";
import type { ReadUnit } from "./units-in-text.ts";

/** A kept mapping held against today's export. */
export interface Rechecked {
  /** As kept where the export still fits it; else as proposed anew from the kept answers. */
  readonly proposed: ProposedMapping;
  readonly changes: readonly HeaderChange[];
  /** What the export shows against the mapping, a sentence each; empty when it can be used as it is. */
  readonly against: readonly string[];
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
  const anew = proposeMapping(detection, target, readUnit, { ...mapping.answers, ...answers });
  const changes = headerChanges(mapping, anew.mapping.headers);
  const against = [...againstHeaders(mapping, changes, target), ...againstEntries(mapping, detection)];
  // A kept decision that is now taken otherwise may change others.
  const isChanged = anew.settled.some(({ question: { about }, value }) => answers[about] === value);
  if (against.length > 0 || isChanged) return { proposed: anew, changes, against };
  // A question that the kept mapping has decided without being asked is not open: it was set by hand.
  const open = anew.questions.filter(({ about }) => isNewDoubt(about, mapping, anew.mapping));
  const drawn = headersUsed(mapping);
  const kept: ProposedMapping = {
    ...anew,
    mapping: open.length === 0 ? { ...mapping, headers: anew.mapping.headers } : anew.mapping,
    questions: open,
    unread: anew.mapping.headers.filter((header) => !drawn.has(header)),
    unfilled: target.columns
      .filter(({ name }) => !mapping.columns.some(({ to }) => to === name))
      .map(({ name }) => name),
  };
  return { proposed: kept, changes, against };
}

/** Doubts about rows (vessels, products, batches, units switched) are of this export; those about how it is written were settled. */
function isNewDoubt(about: string, mapping: Mapping, now: Mapping): boolean {
  const [topic = "", header = ""] = about.split(/:(.*)/s);
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

function againstEntries(mapping: Mapping, detection: Detection): string[] {
  const says: string[] = [];
  if (mapping.encoding !== detection.encoding && detection.encodingEvidence !== TEXT_NOT_BYTES) {
    says.push(`The file was ${mapping.encoding} and now is ${detection.encoding}: ${detection.encodingEvidence}.`);
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
  for (const { from, order } of mapping.columns) {
    const at = detection.headers.findIndex(({ text }) => text === from[0]);
    const seen = order === null ? undefined : detection.columns[at]?.against.get(order);
    if (seen === undefined || seen.count === 0) continue;
    says.push(
      `The dates were ${order ?? ""}; on line ${seen.first[0]?.line ?? 0} "${seen.first[0]?.entry ?? ""}" is none.`,
    );
  }
  return says;
}
