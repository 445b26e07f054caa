import { nameFromLabel, nameKey } from "../base/names.ts";
import type { DateOrder } from "./dates.ts";
import type { Detection } from "./detect.ts";
import type { Header } from "./headers.ts";
import { EPOCH_HIGH, EPOCH_LOW } from "./instants.ts";
import { LEAVE_EMPTY, type SourceColumn, sourceColumns, whichQuestion } from "./match.ts";
import { type Asking, choice, question } from "./question.ts";
import { type ColumnSurvey, isBare } from "./survey.ts";
import type { TargetColumn } from "./target.ts";

/** A column of a CSV that holds times: dates with times, dates, times of day, or seconds or milliseconds since 1970. */
export interface TimeColumn extends SourceColumn {
  readonly is: "whole" | "date" | "clock" | "epoch";
}

/** What the question after the time of a reading is called. */
const TIME = "time";

/** The columns of the file that hold times, those aside that the table has a column of texts for. */
export function timeColumns(detection: Detection, columns: readonly TargetColumn[]): readonly TimeColumn[] {
  const all = sourceColumns(detection).flatMap(({ header, survey }): TimeColumn[] => {
    const is = timeKind(header, survey);
    return is === null ? [] : [{ header, survey, is }];
  });
  const free = all.filter((one) => !columns.some((column) => column.kind.is === "text" && isCalled(one, column)));
  return free.length > 0 ? free : all;
}

/** The file's column has the name or the label of the table's. */
function isCalled({ header }: SourceColumn, { name, label }: TargetColumn): boolean {
  const called = nameKey(nameFromLabel(header.label));
  return called === nameKey(name) || called === nameKey(nameFromLabel(label));
}

/** What kind of times a column of a CSV holds; null for one that holds none. */
export function timeKind(header: Header, survey: ColumnSurvey): TimeColumn["is"] | null {
  const isTime = header.role === "instant" || header.role === "date" || header.role === "clock";
  if (survey.times.count > 0 && survey.times.count >= survey.figures.count) return writtenKind(survey);
  return isTime && survey.figures.count > 0 && isEpoch(survey) ? "epoch" : null;
}

function writtenKind(survey: ColumnSurvey): TimeColumn["is"] {
  const dated = survey.withDate.count * 2 >= survey.times.count;
  const clocked = survey.withClock.count * 2 >= survey.times.count;
  return dated && clocked ? "whole" : dated ? "date" : "clock";
}

/** The latest figure is of our days; an earlier one may be of a clock that was reset, which costs its own row only. */
function isEpoch({ high: [high = 0] }: ColumnSurvey): boolean {
  const within = (factor: number): boolean => high >= EPOCH_LOW * factor && high <= EPOCH_HIGH * factor;
  return within(1) || within(1000);
}

/** Whether figures since 1970 are seconds or milliseconds. */
export const epochOrder = ({ high: [high = 0] }: ColumnSurvey): DateOrder =>
  high > EPOCH_HIGH ? "epoch-milliseconds" : "epoch-seconds";

const sampleOf = ({ header, survey }: SourceColumn): string =>
  `${header.text}: ${(survey.times.first[0] ?? survey.figures.first[0])?.entry ?? "empty"}`;

/** The column that the time of a reading is taken from, or its date; null where none is sure to hold it. */
export function pickTime(
  candidates: readonly TimeColumn[],
  column: TargetColumn,
  others: readonly TargetColumn[],
  asking: Asking,
): TimeColumn | null {
  const whole = candidates.filter(({ is }) => is === "whole" || is === "epoch");
  const dates = candidates.filter(({ is }) => is === "date");
  const withClock = candidates.some(({ is }) => is === "clock");
  const fitting = whole.length === 0 ? dates : withClock ? [...whole, ...dates] : whole;
  const [only, another] = fitting;
  if (only === undefined) return null;
  const called = fitting.filter((one) => isCalled(one, column));
  if (another === undefined) return called.length > 0 || !others.some((other) => isCalled(only, other)) ? only : null;
  const asked = question(
    TIME,
    "Which column holds the time of a reading?",
    fitting.map(({ header }) => choice(header.text)),
    { why: "More than one column holds dates.", examples: fitting.map(sampleOf) },
  );
  const answer = called.length === 1 ? asking.settle(asked, called[0]?.header.text ?? "") : asking.ask(asked);
  return fitting.find(({ header }) => header.text === answer) ?? only;
}

/** The time of day that belongs to a date; null for a date alone. */
export function pickClock(candidates: readonly TimeColumn[], asking: Asking): TimeColumn | null {
  const clocks = candidates.filter(({ is }) => is === "clock");
  const [only, another] = clocks;
  if (only === undefined || another === undefined) return only ?? null;
  const called = clocks.filter(({ header }) => header.role === "clock");
  const asked = question(
    "time-of-day",
    "Which column holds the time of day of a reading?",
    clocks.map(({ header }) => choice(header.text)),
    { why: "More than one column holds times of day.", examples: clocks.map(sampleOf) },
  );
  const answer = called.length === 1 ? asking.settle(asked, called[0]?.header.text ?? "") : asking.ask(asked);
  return clocks.find(({ header }) => header.text === answer) ?? only;
}

/** Where no column is sure to hold the time of a reading, rows without one are read only when a person says so. */
export function askForTime(
  detection: Detection,
  candidates: readonly TimeColumn[],
  column: TargetColumn,
  asking: Asking,
): TimeColumn | null {
  const all = sourceColumns(detection);
  if (isThereEmpty(all, column)) return null;
  const doubtful = all.flatMap((one): TimeColumn[] => {
    const { survey } = one;
    const is =
      survey.times.count > 0
        ? writtenKind(survey)
        : survey.whole && survey.figures.count > 0 && isEpoch(survey)
          ? "epoch"
          : "clock";
    return is === "clock" ? [] : [{ ...one, is }];
  });
  const why = [
    ...candidates
      .filter(({ is }) => is === "clock")
      .map(({ header }) => `"${header.text}" holds times of day without a date.`),
    ...all
      .filter(
        (one) =>
          (one.header.role === "instant" || one.header.role === "date" || isCalled(one, column)) &&
          one.survey.times.count === 0,
      )
      .map(
        (one) =>
          `"${one.header.text}" holds no dates that can be read: ${(one.survey.figures.first[0] ?? one.survey.words.first[0])?.entry ?? ""}.`,
      ),
  ];
  const asked = question(
    `column:${column.name}`,
    `Which column of the file is "${column.label}"?`,
    [
      ...doubtful.map(({ header }) => choice(header.text)),
      choice(LEAVE_EMPTY, "none: its rows are read without a time"),
    ],
    { why: why.join(" ") || "No column of the file is sure to hold its times.", examples: doubtful.map(sampleOf) },
  );
  const answer = asking.ask(asked);
  return doubtful.find(({ header }) => header.text === answer) ?? null;
}

/** The file has the column, and nothing in it. */
const isThereEmpty = (all: readonly SourceColumn[], column: TargetColumn): boolean =>
  all.some((one) => isCalled(one, column) && isBare(one.survey));

/** Further columns of times: by their names, else asked while a column of dates is left. */
export function pickOthers(
  detection: Detection,
  candidates: readonly TimeColumn[],
  columns: readonly TargetColumn[],
  asking: Asking,
): { readonly to: TargetColumn; readonly source: TimeColumn }[] {
  // Which columns are left is known once the time of a reading is.
  if (asking.open.some(({ about }) => about === TIME)) return [];
  const named = candidates.filter((one) => columns.some((column) => isCalled(one, column)));
  return columns.flatMap((column) => {
    const called = named.find((one) => isCalled(one, column));
    const left = called === undefined ? candidates.filter((one) => !named.includes(one)) : candidates;
    if (left.length === 0 || isThereEmpty(sourceColumns(detection), column)) return [];
    const asked = whichQuestion(
      column,
      left,
      called === undefined ? "No column of dates in the file is called so." : "By its name.",
    );
    const answer = called === undefined ? asking.ask(asked) : asking.settle(asked, called.header.text);
    const found = left.find(({ header }) => header.text === answer);
    return found === undefined ? [] : [{ to: column, source: found }];
  });
}
