import { cover, type Span } from "../base/span.ts";
import { curveOf, type Interpolated, readCurve } from "../base/statistics.ts";
import { type Fault, fault } from "../diagnostics/diagnostic.ts";
import type { Type } from "../values/kind.ts";
import { showValue } from "../values/show.ts";
import { isColumn, isMissing, isNumberColumn, isTextColumn, type Value } from "../values/value.ts";
import { commonKind, operandAsOne, overRows, unlike } from "./arithmetic.ts";
import { equalOf } from "./comparison.ts";
import type { GeneralFunction, Operand, Report, Ruled } from "./operand.ts";
import { entryOf, lengthOf } from "./rows.ts";
import { type FindRow, nearestRows, rowsByKey } from "./rows-by-key.ts";

/*
 * Functions that read one table for another: calibration curves, lists looked up by a key, the first known of several.
 */

/** Two columns of one table, and what is asked of them, which may be a column of another table. */
function lookupRule(
  name: string,
  keysName: string,
  valuesName: string,
  askName: string,
  figuresOnly: boolean,
): GeneralFunction["rule"] {
  return (operands, whole) => {
    const [keys, values, ask] = operands;
    if (keys === undefined || values === undefined || ask === undefined) {
      const missing = [keysName, valuesName, askName][operands.length] ?? askName;
      return fault("missing-argument", whole, {
        function: name,
        argument: missing,
        takes: `It takes ${keysName} and ${valuesName}, two columns of one table, and ${askName}.`,
      });
    }
    const columns = overRows([keys, values], cover(keys.span, values.span), () => values.type);
    if ("code" in columns || columns.kind.is === "unknown") return columns;
    if (ask.type.kind.is === "unknown") return ask.type;
    for (const [argument, operand] of [
      [keysName, keys],
      [valuesName, values],
    ] as const) {
      if (operand.type.rows === null)
        return fault("wrong-argument", operand.span, {
          function: name,
          argument,
          says: "must be a column.",
          takes: "A column is written table.column.",
        });
      if (figuresOnly && operand.type.kind.is !== "quantity" && operand.type.kind.is !== "reading")
        return notFigures(name, argument, operand);
    }
    if (commonKind(keys, ask) === null) return unlike("compared", keys, ask, ask.span);
    return { kind: values.type.kind, unit: values.type.unit, rows: ask.type.rows };
  };
}

const notFigures = (name: string, argument: string, operand: Operand): Fault =>
  fault("wrong-argument", operand.span, {
    function: name,
    argument,
    says: `cannot be ${operandAsOne(operand)}.`,
    takes: "It takes figures.",
  });

/** Asks `one` for a single value, or for every row of a column; a row with nothing to ask is missing. */
function ask(asked: Value, texts: boolean, one: (key: number | string, row?: number) => number | string | null): Value {
  if (!isColumn(asked)) return one(asked) ?? Number.NaN;
  const answers = Array.from(asked as ArrayLike<number | string | null>, (key, row) =>
    key === null || Number.isNaN(key) ? null : one(key, row),
  );
  return texts
    ? (answers as (string | null)[])
    : Float64Array.from(answers, (answer) => (answer === null ? Number.NaN : (answer as number)));
}

/** Why a calibration table gives nothing, with its ends as they are shown. */
function unread(read: Exclude<Interpolated, { is: "value" }>, at: number, { kind, unit }: Type): string {
  const say = (value: number): string => showValue(value, kind, unit, null, null).text;
  if (read.is === "empty") return "The table has no row to read.";
  if (read.is === "doubled") return `The table gives two values for ${say(read.at)}.`;
  return `The table goes from ${say(read.low)} to ${say(read.high)}; ${say(at)} is outside it.`;
}

/** How many columns a lookup reads: its first operands. */
const COLUMNS_READ = 2;

const interpolateRun: GeneralFunction["run"] = ([xs, ys, at], types, report) => {
  if (xs === undefined || ys === undefined || at === undefined || !isNumberColumn(xs) || !isNumberColumn(ys))
    return Number.NaN;
  const curve = curveOf(xs, ys);
  return ask(at, false, (key, row) => {
    const read = readCurve(curve, key as number);
    if (read.is === "value") return read.value;
    const says = unread(read, key as number, types[0] as Type);
    if (read.is === "empty") report.tooFew(says, row, COLUMNS_READ);
    else report.noValue(says, row);
    return null;
  });
};

function matchingRun(rowsOf: (keys: Value, type: Type) => FindRow, says: string): GeneralFunction["run"] {
  return ([keys, values, key], types, report) => {
    if (keys === undefined || values === undefined || key === undefined || !isColumn(keys) || !isColumn(values))
      return Number.NaN;
    const find = rowsOf(keys, types[0] as Type);
    return ask(key, isTextColumn(values), (wanted, row) => {
      const at = find(wanted);
      const entry = at < 0 ? null : entryOf(values, at);
      if (isMissing(entry) && row === undefined)
        report.tooFew(at < 0 ? says : "The row that matches has no entry there.", row, COLUMNS_READ);
      return entry;
    });
  };
}

const exactRows = (keys: Value, { kind }: Type): FindRow => rowsByKey(keys, equalOf(kind));

const nearest = (keys: Value, type: Type): FindRow =>
  isNumberColumn(keys) ? (nearestRows(keys) as FindRow) : exactRows(keys, type);

/** The first operand that has a value, row by row. Blanks that wait are passed over: the evaluator hands them in as missing. */
function firstKnown(values: readonly Value[], report: Report, result: Type): Value {
  const length = lengthOf(values);
  const pick = (row: number): number | string | null => {
    for (const value of values) {
      const entry = entryOf(value, row);
      if (!isMissing(entry)) return entry;
    }
    return null;
  };
  if (length !== null) {
    const picked = Array.from({ length }, (_, row) => pick(row));
    return result.kind.is === "text"
      ? (picked as (string | null)[])
      : Float64Array.from(picked, (entry) => (entry === null ? Number.NaN : (entry as number)));
  }
  const picked = pick(0);
  if (picked === null) report.noValue("None of these is known yet.");
  return picked ?? Number.NaN;
}

const firstKnownRule = (operands: readonly Operand[], whole: Span): Ruled => {
  const [first, ...others] = operands;
  if (first === undefined)
    return fault("missing-argument", whole, {
      function: "first_known",
      argument: "a value",
      takes: "It takes values in the order in which they are preferred.",
    });
  return overRows(operands, whole, () => {
    let soFar = first;
    for (const next of others) {
      const common = commonKind(soFar, next);
      if (common === null) return unlike("combined", soFar, next, whole);
      soFar = { ...soFar, zero: soFar.zero && next.zero, type: { ...soFar.type, ...common } };
    }
    return { kind: soFar.type.kind, unit: soFar.type.unit };
  });
};

export const LOOKUPS: readonly GeneralFunction[] = [
  {
    name: "interpolate",
    says: "Reads a calibration table along straight lines between its points; outside it there is no value.",
    searchWords: ["calibration", "dip stick", "between points"],
    since: 1,
    arguments: [
      { name: "xs", says: "The column that is known: dips.", takes: "a column of figures" },
      { name: "ys", says: "The column that is wanted: volumes.", takes: "a column of figures of the same table" },
      { name: "at", says: "Where to read it.", takes: "a value or column like xs" },
    ],
    gives: "the kind of ys",
    rule: lookupRule("interpolate", "xs", "ys", "at", true),
    run: interpolateRun,
  },
  {
    name: "matching",
    says: "The entry of a column in the row where another column is exactly the key.",
    searchWords: ["look up", "find row"],
    since: 1,
    arguments: [
      { name: "keys", says: "The column to look in.", takes: "a column" },
      { name: "values", says: "The column to take the entry from.", takes: "a column of the same table" },
      { name: "key", says: "What to look for.", takes: "a value or column like keys" },
    ],
    gives: "the kind of values",
    rule: lookupRule("matching", "keys", "values", "key", false),
    run: matchingRun(exactRows, "No row has exactly this key."),
  },
  {
    name: "matching_nearest",
    says: "The entry of a column in the row where another column is nearest to the key.",
    searchWords: ["look up nearest", "closest row"],
    since: 1,
    arguments: [
      { name: "keys", says: "The column to look in.", takes: "a column of figures or times" },
      { name: "values", says: "The column to take the entry from.", takes: "a column of the same table" },
      { name: "key", says: "What to come nearest to.", takes: "a value or column like keys" },
    ],
    gives: "the kind of values",
    rule: lookupRule("matching_nearest", "keys", "values", "key", false),
    run: matchingRun(nearest, "The table has no row to match."),
  },
  {
    name: "first_known",
    says: "The first of several values that is known: a reading if it was taken, else the plan.",
    searchWords: ["fallback", "if missing", "default"],
    since: 1,
    arguments: [
      {
        name: "of",
        says: "The values in the order in which they are preferred.",
        takes: "values or columns of one kind",
      },
    ],
    variadic: true,
    gives: "the same kind",
    rule: firstKnownRule,
    run: (values, _types, report, result) => firstKnown(values, report, result),
  },
];
