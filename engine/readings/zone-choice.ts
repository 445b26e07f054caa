import { zoneOf } from "./clock.ts";
import { DateReader } from "./dates.ts";
import type { Detection } from "./detect.ts";
import type { Mapping } from "./mapping.ts";
import { sourceColumns } from "./match.ts";
import { type Asking, choice, type Question, question } from "./question.ts";
import type { Seen } from "./survey.ts";
import type { TimeColumn } from "./time-columns.ts";
import { type NamedZone, zoneAbove, zoneNamedIn } from "./zone-names.ts";

/** The answer that the times are the brewery's own clock's, whatever zone is named. */
const AS_THEY_STAND = "(clock)";

const TYPE_ONE = "Type a zone such as +02:00 or Europe/Vienna.";

export const examplesOf = (seen: Seen): string[] => seen.first.map(({ line, entry }) => `line ${line}: ${entry}`);

/** The zone of times without one, and the clock that zoned times are turned into: what the file names settles the first, and what it leaves open is asked. */
export function proposeZone(
  detection: Detection,
  date: TimeColumn,
  clock: TimeColumn,
  kept: "zoned" | "unzoned",
  headZone: string | null,
  asking: Asking,
): { readonly zone: string | null; readonly clock: string | null } {
  const { zoned, unzoned } = clock.survey;
  const named = date.is === "epoch" || unzoned.count === 0 ? null : namedZone(detection, [date, clock]);
  let zone: string | null = date.is === "epoch" ? "UTC" : null;
  if (named !== null) {
    zone = settleZone(named, clock, headZone, asking);
  } else if (zone === null && zoned.count > 0 && unzoned.count > 0) {
    const asks = "In which zone are the times that are written without one?";
    zone = askZone("zone", asks, examplesOf(unzoned), headZone, asking);
  }
  const hasZone = zone !== null || zoned.count > 0;
  if (!hasZone || kept === "zoned") return { zone: zone ?? headZone, clock: null };
  if (headZone !== null) return { zone, clock: headZone };
  const shown = zoned.count > 0 ? zoned : date.survey.figures.count > 0 ? date.survey.figures : unzoned;
  const asks = "Which zone does the brewery's clock show?";
  return { zone, clock: askZone("brewery-clock", asks, examplesOf(shown), null, asking) };
}

/** The zone that a file names, and where: in the header of its times or above the table. */
type Named = NamedZone & { readonly where: string };

/** A zone behind a time of day that is not read there: an abbreviation in capitals, or a place. */
const ZONE_BEHIND = /^(.*\d)\s*\[?([A-Z]{2,5}|[A-Za-z]+(?:\/[A-Za-z_]+)+)\]?$/;

/** Tells of times that are none because of the zone that is written behind them, and what to do. */
export function noteUnreadZones(detection: Detection, asking: Asking): void {
  const dates = new DateReader();
  for (const { header, survey } of sourceColumns(detection)) {
    const isTime = header.role === "instant" || header.role === "date" || header.role === "clock";
    const found = survey.words.first.flatMap(({ line, entry }) => {
      const [, time, zone] = ZONE_BEHIND.exec(entry) ?? [];
      const isOne = time !== undefined && dates.scan(time) && dates.parts.hasTime && (dates.parts.hasDate || isTime);
      return isOne && zone !== undefined ? [{ line, zone }] : [];
    });
    const [first] = found;
    if (first === undefined) continue;
    asking.note(
      `Line ${first.line} has "${first.zone}" behind its time under "${header.text}", which is not read there: write its offset in its place, such as +02:00, or take it out and write it into the header, ${header.label} (${first.zone}).`,
    );
  }
}

function namedZone(detection: Detection, columns: readonly TimeColumn[]): Named | null {
  for (const { header } of columns) {
    const named = zoneNamedIn(header.text);
    if (named !== null) return { ...named, where: `The header is "${header.text}"` };
  }
  const above = zoneAbove(detection.preamble);
  return above && { ...above, where: `Above the table stands "${above.said.key}: ${above.said.value}"` };
}

/** A zone that can be read holds unless it is answered otherwise; an abbreviation is asked about. Null: the times are taken as they stand. */
function settleZone(
  named: Named,
  { header, survey }: TimeColumn,
  headZone: string | null,
  asking: Asking,
): string | null {
  const offered =
    "zone" in named
      ? [choice(named.zone)]
      : named.mayBe.map(([offset, of]) => choice(offset, `${offset}: ${named.name}, ${of}`));
  const others = headZone !== null && !offered.some(({ value }) => value === headZone) ? [choice(headZone)] : [];
  const why =
    "zone" in named
      ? `${named.where}.`
      : `${named.where}; "${named.name}" may be one of several zones, or a clock that is changed in summer. ${TYPE_ONE}`;
  const asked = question(
    "zone",
    `In which zone are the times under "${header.text}"?`,
    [...offered, ...others, choice(AS_THEY_STAND, "the brewery's own clock: they are taken as they stand")],
    { why, examples: examplesOf(survey.unzoned), free: true },
  );
  const answer = "zone" in named ? asking.settle(asked, named.zone) : asking.ask(asked);
  return answer === AS_THEY_STAND ? null : readable(answer, asked, asking);
}

function askZone(
  about: string,
  asks: string,
  examples: readonly string[],
  likely: string | null,
  asking: Asking,
): string | null {
  const asked = question(about, asks, [choice("UTC"), ...(likely === null ? [] : [choice(likely)])], {
    why: `The file gives times in a zone of its own; the workbook's times are the brewery's wall clock. ${TYPE_ONE}`,
    examples,
    likely,
    free: true,
  });
  return readable(asking.ask(asked), asked, asking);
}

/** An answer that is no zone opens its question again. */
function readable(answer: string | null, asked: Question, asking: Asking): string | null {
  if (answer === null || zoneOf(answer) !== null) return answer;
  asking.refuse(asked, `"${answer}" is no time zone; write UTC, +02:00 or a name such as Europe/Vienna.`);
  return null;
}

/** A zone above the table that is not the one in which a kept mapping reads the times: an export made in summer says another. */
export function againstZone({ columns, zone, answers }: Mapping, detection: Detection): string[] {
  const above = zoneAbove(detection.preamble);
  const from = columns.find(({ order }) => order !== null)?.from ?? [];
  const clock = sourceColumns(detection).find(({ header }) => header.text === from.at(-1));
  if (above === null || clock === undefined || clock.survey.unzoned.count === 0 || Object.hasOwn(answers, "zone"))
    return [];
  if (from.some((header) => zoneNamedIn(header) !== null) || ("zone" in above && above.zone === zone)) return [];
  const was = zone === null ? "the brewery's own clock's" : `in ${zone}`;
  return [`The times were ${was}; above the table stands "${above.said.key}: ${above.said.value}" now.`];
}
