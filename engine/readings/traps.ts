import { isoOf } from "./clock.ts";
import type { Detection } from "./detect.ts";
import type { Header } from "./headers.ts";
import { inWords } from "./in-words.ts";
import { instantReader } from "./instants.ts";
import type { Jump } from "./jumps.ts";
import type { Mapping } from "./mapping.ts";
import type { SourceColumn } from "./match.ts";
import { sourceColumns } from "./match.ts";
import { noteSaidAgain } from "./preamble.ts";
import { type Asking, choice, question } from "./question.ts";
import type { ColumnSurvey } from "./survey.ts";
import type { TimeProposal } from "./times.ts";

const ALL = "(all)";

const counts = (survey: ColumnSurvey): string[] =>
  [...survey.texts].map(([text, seen]) => `${text}: ${inWords(seen.count, "row")}`).slice(0, 8);

/** Columns of tanks, products and verdicts that hold more than one: which rows are meant is asked. */
export function proposeFilters(detection: Detection, asking: Asking): Mapping["keep"] {
  noteSaidAgain(detection.saidAgain, asking);
  return sourceColumns(detection).flatMap(({ header, survey }) => {
    const texts = [...survey.texts.keys()];
    if (texts.length < 2 || survey.moreTexts) return [];
    const wanted = whichRows(header, survey);
    if (wanted === null) return [];
    const answer = asking.ask(
      question(
        `rows:${header.text}`,
        wanted,
        [choice(ALL, "all rows"), ...texts.map((text) => choice(text, `only ${text}`))],
        {
          why:
            header.role === "verdict"
              ? "Leaving rejected packages out flatters the mean and hides the spread."
              : "Figures of different ones do not belong in one column unasked.",
          examples: counts(survey),
        },
      ),
    );
    if (header.role === "verdict" && answer !== null && answer !== ALL)
      asking.note(`Only packages marked "${answer}" are read: the rejects are left out, which flatters the mean.`);
    return answer === null || answer === ALL ? [] : [{ header: header.text, texts: [answer] }];
  });
}

/** More vessels than this one export does not hold: figures under such a header are counts. */
const MOST_VESSELS = 12;

function whichRows({ role, text, unit }: Header, survey: ColumnSurvey): string | null {
  const names = survey.figures.count === 0 || (survey.whole && survey.texts.size <= MOST_VESSELS);
  if (!names || unit !== null) return null;
  if (role === "tank") return `Which vessel's rows are to be read? ("${text}")`;
  if (role === "product") return `The product changes under "${text}". Which one's rows are to be read?`;
  return role === "verdict" && survey.figures.count === 0
    ? `Are all rows to be read, whatever "${text}" says of them?`
    : null;
}

/** What checkweighers leave unsaid: gross or net, the tare, and whether rejected packages are in the file at all. */
export function askAboutWeights(detection: Detection, used: readonly SourceColumn[], asking: Asking): void {
  const all = sourceColumns(detection);
  const weight = used.find(
    ({ header }) => header.role === "weight" || header.role === "gross" || header.role === "net",
  );
  if (weight === undefined) return;
  const tare = all.find(({ header }) => header.role === "tare");
  if (weight.header.role === "weight") {
    const answer = asking.ask(
      question(
        `gross-or-net:${weight.header.text}`,
        `Are the weights under "${weight.header.text}" gross or net?`,
        [choice("gross", "gross: package and contents"), choice("net", "net: contents only")],
        {
          why: "The header says neither.",
          examples: weight.survey.figures.first.map(({ line, entry }) => `line ${line}: ${entry}`),
        },
      ),
    );
    if (answer === "gross")
      asking.note("The weights are gross: subtract the tare before they are held against the nominal quantity.");
  }
  if (weight.header.role === "gross")
    asking.note(`"${weight.header.text}" is gross: subtract the tare before it is held against the nominal quantity.`);
  if (tare && tare.survey.texts.size === 1)
    asking.note(
      `The tare is preset (${[...tare.survey.texts.keys()][0] ?? ""} in every row), not weighed: its own spread is not in the net weights.`,
    );
  const serial = all.find(({ header, survey }) => header.role === "serial" && survey.whole && survey.rising);
  const verdict = all.some(({ header }) => header.role === "verdict");
  if (serial && serial.survey.skips.count > 0) {
    asking.note(
      `"${serial.header.text}" jumps ${inWords(serial.survey.skips.count, "time")} (first on line ${serial.survey.skips.first[0]?.line ?? 0}): packages are not in the file. If they were rejects, the mean is flattered.`,
    );
  } else if (!verdict)
    asking.note(
      "The file does not say whether rejected packages are in it; if they were left out, the mean is flattered.",
    );
}

/** What floating hydrometers leave unsaid: a raw tilt, and whether the gravity is corrected for temperature already. */
export function askAboutHydrometer(detection: Detection, gravity: SourceColumn | undefined, asking: Asking): void {
  const all = sourceColumns(detection);
  const angle = all.find(({ header }) => header.role === "angle");
  if (angle && gravity === undefined)
    asking.note(
      `"${angle.header.text}" is a raw tilt angle, no gravity: read it into a column of plain numbers and calibrate it with interpolate.`,
    );
  if (gravity === undefined) return;
  const says = [...detection.shape.preamble, ...detection.shape.headers].join(" ");
  if (/\b(?:uncorrected|raw)\b/i.test(gravity.header.text)) {
    asking.note(
      `"${gravity.header.text}" is not corrected for temperature: do that in a column of its own, with corrected_gravity.`,
    );
  } else if (/\b(?:corrected|compensated|temp\.? ?comp)/i.test(gravity.header.text)) {
    asking.note(`"${gravity.header.text}" is corrected for temperature already: it must not be corrected again.`);
  } else if (angle || /\b(?:float|hydromet|tilt)/i.test(says)) {
    const answer = asking.ask(
      question(
        `temperature-corrected:${gravity.header.text}`,
        `Is the gravity under "${gravity.header.text}" corrected for temperature already?`,
        [choice("yes", "yes, by the instrument"), choice("no", "no, it is as read")],
        {
          why: "Floating hydrometers write both, and a gravity must be corrected once and never twice.",
          examples: gravity.survey.figures.first.map(({ line, entry }) => `line ${line}: ${entry}`),
        },
      ),
    );
    if (answer === "no")
      asking.note(
        `"${gravity.header.text}" is not corrected for temperature: do that in a column of its own, with corrected_gravity.`,
      );
    if (answer === "yes")
      asking.note(`"${gravity.header.text}" is corrected for temperature already: it must not be corrected again.`);
    asking.note("Check the instrument against a hand sample; what it is off by goes into the mapping as its offset.");
  }
}

/** An export that spans two batches is cut by time; which part is meant is asked. */
export function proposeCut(
  jumps: readonly Jump[],
  gravity: string,
  times: TimeProposal,
  headers: readonly string[],
  asking: Asking,
): { after: number | null; before: number | null } {
  const none = { after: null, before: null };
  const read = instantReader(times, headers);
  const cuts = jumps.flatMap((jump) => {
    const at = jump.is === "batch" ? read(jump.entries) : Number.NaN;
    return Number.isNaN(at) ? [] : [{ jump, at }];
  });
  if (cuts.length === 0) return none;
  const parts = [null, ...cuts.map(({ at }) => at)].map((from, at) => ({ from, to: cuts[at]?.at ?? null }));
  const rangeOf = ({ from, to }: { from: number | null; to: number | null }): string =>
    `${from === null ? "" : isoOf(from)}/${to === null ? "" : isoOf(to)}`;
  const labelOf = ({ from, to }: { from: number | null; to: number | null }): string =>
    from === null
      ? `only before ${isoOf(to ?? 0)}`
      : to === null
        ? `only from ${isoOf(from)} on`
        : `only from ${isoOf(from)} to ${isoOf(to)}`;
  const answer = asking.ask(
    question(
      `batch:${gravity}`,
      "The gravity rises as when a tank is filled anew. Which batch is to be read?",
      [choice(ALL, "all rows: it is one batch"), ...parts.map((part) => choice(rangeOf(part), labelOf(part)))],
      {
        why: "An export by date may span two batches.",
        examples: cuts.map(({ jump }) => `line ${jump.line}: ${jump.from}, then ${jump.to}`),
      },
    ),
  );
  const part = parts.find((one) => rangeOf(one) === answer);
  return part ? { after: part.from, before: part.to } : none;
}

/** A unit that changes in mid-file is asked about; yes gives the instant from which the new one holds. */
export function proposeSwitches(
  jumps: readonly Jump[],
  source: SourceColumn,
  unit: string | null,
  times: TimeProposal | null,
  headers: readonly string[],
  asking: Asking,
): { from: number; unit: string }[] {
  const read = times === null ? null : instantReader(times, headers);
  const changes = jumps.filter((jump) => jump.is === "unit");
  const [first] = changes;
  if (first === undefined || unit === null) return [];
  const answer = asking.ask(
    question(
      `unit-change:${source.header.text}`,
      `Does "${source.header.text}" change its unit on line ${first.line}?`,
      [
        choice("yes", `yes: the figures are ${first.unit ?? ""} from there on`),
        choice("no", "no, the figures are what they are"),
      ],
      {
        why: "The figure is the one before it in another unit.",
        examples: changes.map((jump) => `line ${jump.line}: ${jump.from}, then ${jump.to}`),
      },
    ),
  );
  if (answer !== "yes" || read === null) return [];
  return changes.flatMap((jump) => {
    const from = read(jump.entries);
    return Number.isNaN(from) || jump.unit === null ? [] : [{ from, unit: jump.unit }];
  });
}
