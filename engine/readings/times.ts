import { type DateOrder, WRITTEN_ORDERS } from "./dates.ts";
import type { Detection } from "./detect.ts";
import { type Asking, choice, question } from "./question.ts";
import { isInstant, type Target, type TargetColumn } from "./target.ts";
import {
  askForTime,
  epochOrder,
  pickClock,
  pickOthers,
  pickTime,
  type TimeColumn,
  timeColumns,
} from "./time-columns.ts";
import { examplesOf, noteUnreadZones, proposeZone } from "./zone-choice.ts";

/** How instants are read: from one column or from a date and a time of day. */
export interface TimeProposal {
  /** The table's column that they are read into: the time of a reading. */
  readonly column: TargetColumn;
  readonly from: readonly string[];
  readonly order: DateOrder;
  readonly zone: string | null;
  readonly clock: string | null;
  /** Further times of a row, for the table's other columns of times: when it ended, when it is to be drunk by. */
  readonly others: readonly { readonly to: string; readonly from: string; readonly order: DateOrder }[];
}

const ORDER_LABELS: Readonly<Record<(typeof WRITTEN_ORDERS)[number], string>> = {
  iso: "year, month, day",
  "day-first": "day first: 03/04 is 3 April",
  "month-first": "month first: 03/04 is 4 March",
  "year-first": "a two-digit year first: 03/04/05 is 5 April 2003",
};

/** Finds the times of a CSV for the table's columns of times, and how they are written; null when it has none. Asks what the entries leave open. */
export function proposeTimes(detection: Detection, { columns, zone }: Target, asking: Asking): TimeProposal | null {
  // Without rows there is nothing to ask.
  if (detection.columns.every(({ entries }) => entries === 0)) return null;
  noteUnreadZones(detection, asking);
  const candidates = timeColumns(detection, columns);
  const instants = columns.filter(({ kind }) => isInstant(kind));
  for (const [at, column] of instants.entries()) {
    const others = instants.slice(at + 1);
    const chosen =
      pickTime(candidates, column, others, asking) ??
      (at === 0 ? askForTime(detection, candidates, column, asking) : null);
    if (chosen === null) {
      if (!asking.open.some(({ about }) => about === `column:${column.name}`))
        asking.note(`No column of the file holds a time for "${column.label}".`);
      continue;
    }
    const clock = chosen.is === "date" ? pickClock(candidates, asking) : null;
    const used = clock === null ? [chosen] : [chosen, clock];
    const order = orderOf(chosen, asking);
    askHalfDay(clock ?? chosen, asking);
    return {
      column,
      from: used.map(({ header }) => header.text),
      order,
      ...proposeZone(detection, chosen, clock ?? chosen, isZoned(column) ? "zoned" : "unzoned", zone, asking),
      others: pickOthers(
        detection,
        candidates.filter((one) => one.is !== "clock" && !used.includes(one)),
        others,
        asking,
      ).map(({ to, source }) => ({ to: to.name, from: source.header.text, order: orderOf(source, asking) })),
    };
  }
  return null;
}

const isZoned = ({ kind }: TargetColumn): boolean => kind.is === "reading" && kind.family === "zoned instant";

const orderOf = (one: TimeColumn, asking: Asking): DateOrder =>
  one.is === "epoch" ? epochOrder(one.survey) : proposeOrder(one, asking);

function proposeOrder({ header, survey }: TimeColumn, asking: Asking): DateOrder {
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

/** Times of a 12-hour clock that lost a.m. and p.m. are not read: which half of the day they are of is nowhere in the file. */
function askHalfDay({ header, survey }: TimeColumn, asking: Asking): void {
  if (survey.halfDay.count > 0 || survey.pastNoon.count > 0 || survey.atTwelve.count === 0 || survey.atOne.count === 0)
    return;
  const asked = question(
    `clock:${header.text}`,
    `Do the times under "${header.text}" run through 24 hours?`,
    [choice("24-hour", "yes, there are none after 12:59"), choice("12-hour", "no, a.m. and p.m. were lost")],
    {
      why: "There are times at twelve and at one, and none later: they may be of a 12-hour clock.",
      examples: examplesOf(survey.atTwelve),
    },
  );
  if (asking.ask(asked) === "12-hour")
    asking.refuse(
      asked,
      `The times under "${header.text}" cannot be read without a.m. and p.m.: morning and evening would be confused. Export them with a 24-hour clock, or with a.m. and p.m. behind them.`,
    );
}
