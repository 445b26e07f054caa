import { nameFromLabel, nameKey } from "../base/names.ts";
import { zoneOf } from "./clock.ts";
import { type DateOrder, WRITTEN_ORDERS } from "./dates.ts";
import type { Detection } from "./detect.ts";
import type { Header } from "./headers.ts";
import { type Asking, choice, question } from "./question.ts";
import type { ColumnSurvey, Seen } from "./survey.ts";
import type { TargetColumn } from "./target.ts";

/** How instants are read: from one column or from a date and a time of day. */
export interface TimeProposal {
  readonly from: readonly string[];
  readonly order: DateOrder;
  readonly zone: string | null;
  readonly clock: string | null;
  /** Further times of a row, for the table's other columns of times: when it ended, when it is to be drunk by. */
  readonly others: readonly { readonly to: string; readonly from: string; readonly order: DateOrder }[];
}

interface Candidate {
  readonly header: Header;
  readonly survey: ColumnSurvey;
  readonly is: "whole" | "date" | "clock" | "epoch";
}

/** Epoch figures between 2001 and 2040: outside these no logger of beer was read in. */
const EPOCH_LOW = 978_307_200;
const EPOCH_HIGH = 2_208_988_800;

const examplesOf = (seen: Seen): string[] => seen.first.map(({ line, entry }) => `line ${line}: ${entry}`);

const ORDER_LABELS: Readonly<Record<(typeof WRITTEN_ORDERS)[number], string>> = {
  iso: "year, month, day",
  "day-first": "day first: 03/04 is 3 April",
  "month-first": "month first: 03/04 is 4 March",
  "year-first": "a two-digit year first: 03/04/05 is 5 April 2003",
};

/** Finds the times of a CSV for the table's columns of times, and how they are written; null when it has none. Asks what the entries leave open. */
export function proposeTimes(
  detection: Detection,
  [column, ...columns]: readonly TargetColumn[],
  headZone: string | null,
  asking: Asking,
): TimeProposal | null {
  const candidates = detection.headers.flatMap((header, at): Candidate[] => {
    const survey = detection.columns[at];
    const is = survey ? timeKind(header, survey) : null;
    return survey && is ? [{ header, survey, is }] : [];
  });
  if (column === undefined) return null;
  const chosen = chooseColumns(candidates, column, asking);
  const [first, second] = chosen;
  if (first === undefined) return null;
  const order = first.is === "epoch" ? epochOrder(first) : proposeOrder(first, asking);
  const clockColumn = second ?? first;
  askHalfDay(clockColumn, asking);
  return {
    from: chosen.map(({ header }) => header.text),
    order,
    ...proposeZone(first, clockColumn, isZoned(column) ? "zoned" : "unzoned", headZone, asking),
    others: columns.flatMap((other) => {
      const found = candidates.find((one) => one.is !== "clock" && !chosen.includes(one) && isCalled(one, other));
      if (found === undefined) return [];
      const itsOrder = found.is === "epoch" ? epochOrder(found) : proposeOrder(found, asking);
      return [{ to: other.name, from: found.header.text, order: itsOrder }];
    }),
  };
}

const isZoned = ({ kind }: TargetColumn): boolean => kind.is === "reading" && kind.family === "zoned instant";

/** The file's column has the name or the label of the table's. */
function isCalled({ header }: Candidate, { name, label }: TargetColumn): boolean {
  const called = nameKey(nameFromLabel(header.label));
  return called === nameKey(name) || called === nameKey(nameFromLabel(label));
}

function timeKind(header: Header, survey: ColumnSurvey): Candidate["is"] | null {
  const isTime = header.role === "instant" || header.role === "date" || header.role === "clock";
  if (survey.times.count > 0 && survey.times.count >= survey.figures.count) {
    const dated = survey.withDate.count * 2 >= survey.times.count;
    const clocked = survey.withClock.count * 2 >= survey.times.count;
    return dated && clocked ? "whole" : dated ? "date" : "clock";
  }
  const [low] = survey.low;
  const [high] = survey.high;
  if (!isTime || survey.figures.count === 0 || low === undefined || high === undefined) return null;
  const within = (factor: number): boolean => low >= EPOCH_LOW * factor && high <= EPOCH_HIGH * factor;
  return within(1) || within(1000) ? "epoch" : null;
}

function chooseColumns(candidates: readonly Candidate[], column: TargetColumn, asking: Asking): Candidate[] {
  const whole = candidates.filter(({ is }) => is === "whole" || is === "epoch");
  if (whole.length > 1) {
    const called = whole.filter((one) => isCalled(one, column));
    const asked = question(
      "time",
      "Which column holds the time of a reading?",
      whole.map(({ header }) => choice(header.text)),
      {
        why: "More than one column holds dates with times.",
        examples: whole.flatMap(({ header, survey }) =>
          (survey.times.first[0] ?? survey.figures.first[0])
            ? [`${header.text}: ${(survey.times.first[0] ?? survey.figures.first[0])?.entry ?? ""}`]
            : [],
        ),
      },
    );
    const [only] = called;
    const answer = only && called.length === 1 ? asking.settle(asked, only.header.text) : asking.ask(asked);
    return whole.filter(({ header }, at) => (answer === null ? at === 0 : header.text === answer)).slice(0, 1);
  }
  if (whole.length === 1) return whole;
  const date = candidates.find(({ is }) => is === "date");
  if (date === undefined) return [];
  const clock = candidates.find(({ is }) => is === "clock");
  return clock === undefined ? [date] : [date, clock];
}

const epochOrder = ({ survey }: Candidate): DateOrder =>
  (survey.high[0] ?? 0) > EPOCH_HIGH ? "epoch-milliseconds" : "epoch-seconds";

function proposeOrder({ header, survey }: Candidate, asking: Asking): DateOrder {
  const possible = WRITTEN_ORDERS.filter((order) => survey.against.get(order)?.count === 0);
  const [only] = possible;
  const asks = `In which order do the dates under "${header.text}" stand?`;
  const about = `date-order:${header.text}`;
  if (only !== undefined && (possible.length === 1 || survey.namedMonths.count === survey.withDate.count)) {
    const orders = WRITTEN_ORDERS.map((order) => choice(order, ORDER_LABELS[order]));
    const examples = examplesOf(survey.withDate);
    const settled = asking.settle(
      question(about, asks, orders, { why: "The dates of the file allow no other.", examples }),
      only,
    );
    return WRITTEN_ORDERS.find((order) => order === settled) ?? only;
  }
  const mixed = possible.length === 0;
  const choices = mixed
    ? WRITTEN_ORDERS.filter((order) => (survey.against.get(order)?.count ?? 0) < survey.withDate.count)
    : possible;
  const dotted = survey.withDate.first.every(({ entry }) => /^\d+\./.test(entry));
  const answer = asking.ask(
    question(
      about,
      asks,
      choices.map((order) => choice(order, ORDER_LABELS[order])),
      {
        why: mixed
          ? "No order fits every date; those that do not fit the chosen one will be listed as unread."
          : "Every date in the file is one in either order.",
        examples: mixed
          ? choices.flatMap((order) => examplesOf(survey.against.get(order) ?? survey.withDate).slice(0, 1))
          : examplesOf(survey.withDate),
        likely: survey.halfDay.count > 0 ? "month-first" : dotted ? "day-first" : null,
      },
    ),
  );
  return choices.find((order) => order === answer) ?? choices[0] ?? "iso";
}

function askHalfDay({ header, survey }: Candidate, asking: Asking): void {
  if (survey.halfDay.count > 0 || survey.pastNoon.count > 0 || survey.atTwelve.count === 0 || survey.atOne.count === 0)
    return;
  const answer = asking.ask(
    question(
      `clock:${header.text}`,
      `Do the times under "${header.text}" run through 24 hours?`,
      [choice("24-hour", "yes, there are none after 12:59"), choice("12-hour", "no, a.m. and p.m. were lost")],
      {
        why: "There are times at twelve and at one, and none later: they may be of a 12-hour clock.",
        examples: examplesOf(survey.atTwelve),
      },
    ),
  );
  if (answer === "12-hour")
    asking.note(
      `The times under "${header.text}" lack a.m. and p.m.; export them with a 24-hour clock, or morning and evening will be confused.`,
    );
}

function proposeZone(
  date: Candidate,
  clock: Candidate,
  kept: "zoned" | "unzoned",
  headZone: string | null,
  asking: Asking,
): Pick<TimeProposal, "zone" | "clock"> {
  const named = [date, clock]
    .map(({ header }) => /\b(?:utc|gmt|zulu)\b/i.exec(header.text))
    .find((found) => found !== null);
  const { zoned, unzoned } = clock.survey;
  let zone: string | null = named || date.is === "epoch" ? "UTC" : null;
  if (zone === null && zoned.count > 0 && unzoned.count > 0) {
    zone = askZone(
      "zone",
      "In which zone are the times that are written without one?",
      examplesOf(unzoned),
      headZone,
      asking,
    );
  }
  const hasZone = zone !== null || zoned.count > 0;
  if (!hasZone || kept === "zoned") return { zone: zone ?? headZone, clock: null };
  if (headZone !== null) return { zone, clock: headZone };
  return {
    zone,
    clock: askZone(
      "brewery-clock",
      "Which zone does the brewery's clock show?",
      examplesOf(zoned.count > 0 ? zoned : date.survey.figures.count > 0 ? date.survey.figures : unzoned),
      null,
      asking,
    ),
  };
}

function askZone(
  about: string,
  asks: string,
  examples: readonly string[],
  likely: string | null,
  asking: Asking,
): string | null {
  const asked = question(about, asks, [choice("UTC"), ...(likely === null ? [] : [choice(likely)])], {
    why: "The file gives times in a zone of its own; the workbook's times are the brewery's wall clock. Type a zone such as +02:00 or Europe/Vienna.",
    examples,
    likely,
    free: true,
  });
  const answer = asking.ask(asked);
  if (answer === null || zoneOf(answer) !== null) return answer;
  asking.open.push(asked);
  asking.note(`"${answer}" is no time zone; write UTC, +02:00 or a name such as Europe/Vienna.`);
  return null;
}
