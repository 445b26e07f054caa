import { ENCODINGS } from "./decode.ts";
import { type Detection, detect } from "./detect.ts";
import type { Mapping } from "./mapping.ts";
import { type ExistingRows, type Merge, mergeReading } from "./merge.ts";
import { type ProposedMapping, proposeMapping } from "./propose.ts";
import type { Answers } from "./question.ts";
import { type Reading, readCsv } from "./read.ts";
import { lostAfresh, recheckMapping } from "./recheck.ts";
import { SEPARATORS } from "./shape.ts";
import type { Running, Source } from "./source.ts";
import type { Target } from "./target.ts";
import type { ReadUnit } from "./units-in-text.ts";

/** What came of reading a CSV into a table. Nothing has been done to the table yet. */
export type ReadInto =
  /** The file cannot be read at all. */
  | { readonly is: "refused"; readonly says: string }
  /** Open questions, and what a kept mapping and the file have against one another. */
  | {
      readonly is: "asks";
      readonly proposed: ProposedMapping;
      readonly against: readonly string[];
      readonly detection: Detection;
      readonly putAside: boolean;
    }
  | {
      readonly is: "read";
      readonly proposed: ProposedMapping;
      readonly detection: Detection;
      /** The kept mapping is for files of another kind: this one is read without it. */
      readonly putAside: boolean;
      readonly merge: Merge;
      readonly reading: Reading;
      readonly mapping: Mapping;
    }
  | { readonly is: "stopped" };

export interface ReadIntoOptions extends Running {
  /** The mapping kept from last time; it is checked again first. */
  readonly kept?: Mapping;
  readonly answers?: Answers;
  /** What was found of the file before; used again where the answers leave the marks and the header as they were. */
  readonly looked?: Detection;
}

/** Answers by which a file is looked at; another answer to one of them takes another look. */
const LOOKED_BY = ["encoding", "separator", "header"];

/** The same look would be taken with these answers as with those. */
export const looksAlike = (answers: Answers, before: Answers): boolean =>
  LOOKED_BY.every((about) => answers[about] === before[about]);

const OTHERWISE = "This file is not laid out like the one before; it is read afresh.";

/** Looks a CSV through as the answers so far have it. */
export function lookInto(
  source: Source,
  readUnit: ReadUnit,
  answers: Answers,
  running: Running = {},
): Promise<Detection> {
  const encoding = ENCODINGS.find((one) => one === answers.encoding);
  const separator = SEPARATORS.find((mark) => mark === answers.separator);
  return detect(source, (spelling) => readUnit(spelling) !== null, {
    ...running,
    ...(encoding === undefined ? {} : { encoding }),
    ...(separator === undefined ? {} : { separator }),
    ...(answers.header === undefined ? {} : { headerLine: Number(answers.header) }),
  });
}

/**
 * Reads a CSV into a table in one go: looks the file through, maps it, and when nothing is left to ask reads it and
 * compares it with the rows that are there. The command line and the screen both go this way.
 */
export async function readInto(
  source: Source,
  target: Target,
  existing: ExistingRows,
  readUnit: ReadUnit,
  { kept, answers = {}, looked, ...running }: ReadIntoOptions = {},
): Promise<ReadInto> {
  const all = { ...kept?.answers, ...answers };
  let detection = looked ?? (await lookInto(source, readUnit, all, running));
  if (detection.problem !== null) return { is: "refused", says: detection.problem };
  if (!detection.whole) return { is: "stopped" };
  const checked = kept && recheckMapping(kept, detection, target, readUnit, answers);
  const putAside = checked?.isOther ?? false;
  const against = checked === undefined || putAside ? [] : checked.against;
  let proposed = checked?.proposed;
  if (proposed === undefined || putAside || against.length > 0) {
    // A fresh look knows nothing of the kept answers, neither here nor when it is asked for.
    if (!looksAlike(all, answers)) detection = await lookInto(source, readUnit, answers, running);
    if (detection.problem !== null) return { is: "refused", says: detection.problem };
    if (!detection.whole) return { is: "stopped" };
    proposed = proposeMapping(detection, target, readUnit, answers);
    if (kept && putAside)
      proposed = { ...proposed, notes: [OTHERWISE, ...lostAfresh(kept, proposed), ...proposed.notes] };
  }
  if (proposed.questions.length > 0 || against.length > 0)
    return { is: "asks", proposed, against, detection, putAside };
  const reading = await readCsv(source, proposed.mapping, target, readUnit, running);
  if ("problem" in reading) return { is: "refused", says: reading.problem };
  if (reading.stopped) return { is: "stopped" };
  const merge = mergeReading(reading, existing, proposed.mapping, target);
  return {
    is: "read",
    proposed,
    detection,
    putAside,
    merge: { ...merge, notes: [...proposed.notes, ...merge.notes] },
    reading,
    mapping: merge.mapping,
  };
}
