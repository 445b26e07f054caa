import { ENCODINGS } from "./decode.ts";
import { type Detection, detect } from "./detect.ts";
import type { Mapping } from "./mapping.ts";
import { type ExistingRows, type Merge, mergeReading } from "./merge.ts";
import { type ProposedMapping, proposeMapping } from "./propose.ts";
import type { Answers } from "./question.ts";
import { type Reading, readCsv } from "./read.ts";
import { recheckMapping } from "./recheck.ts";
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
    }
  | { readonly is: "read"; readonly merge: Merge; readonly reading: Reading; readonly mapping: Mapping }
  | { readonly is: "stopped" };

export interface ReadIntoOptions extends Running {
  /** The mapping kept from last time; it is checked again first. */
  readonly kept?: Mapping;
  readonly answers?: Answers;
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
  { kept, answers = {}, ...running }: ReadIntoOptions = {},
): Promise<ReadInto> {
  const settled: Answers = { ...kept?.answers, ...answers };
  const encoding = ENCODINGS.find((one) => one === settled.encoding);
  const separator = SEPARATORS.find((mark) => mark === settled.separator);
  const looking = {
    ...running,
    ...(encoding === undefined ? {} : { encoding }),
    ...(separator === undefined ? {} : { separator }),
    ...(settled.header === undefined ? {} : { headerLine: Number(settled.header) }),
  };
  const detection = await detect(source, (spelling) => readUnit(spelling) !== null, looking);
  if (detection.problem !== null) return { is: "refused", says: detection.problem };
  if (!detection.whole) return { is: "stopped" };
  const checked = kept
    ? recheckMapping(kept, detection, target, readUnit, answers)
    : { proposed: proposeMapping(detection, target, readUnit, answers), against: [] };
  const { proposed, against } = checked;
  if (proposed.questions.length > 0 || against.length > 0) return { is: "asks", proposed, against, detection };
  const reading = await readCsv(source, proposed.mapping, target, readUnit, running);
  if ("problem" in reading) return { is: "refused", says: reading.problem };
  if (reading.stopped) return { is: "stopped" };
  const merge = mergeReading(reading, existing, proposed.mapping, target);
  return {
    is: "read",
    merge: { ...merge, notes: [...proposed.notes, ...merge.notes] },
    reading,
    mapping: proposed.mapping,
  };
}
