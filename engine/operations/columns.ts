import { meanOf } from "../base/statistics.ts";
import { fault } from "../diagnostics/diagnostic.ts";
import { PLAIN } from "../units/compound.ts";
import { isDimensionless } from "../units/dimension.ts";
import { NUMBER, type Type } from "../values/kind.ts";
import { isMissing, isNumberColumn, isTextColumn, type Value } from "../values/value.ts";
import { changeOf, operandAsOne } from "./arithmetic.ts";
import { FAMILIES } from "./families.ts";
import type { GeneralFunction, Operand, Ruled } from "./operand.ts";

/*
 * Functions that make a column from a column of the same table, row for row.
 */

const needsColumn = (name: string, operand: Operand): Ruled =>
  fault("wrong-argument", operand.span, {
    function: name,
    argument: "",
    says: "needs a column.",
    takes: "A column is written table.column.",
  });

function columnRule(name: string, result: (type: Type) => Pick<Type, "kind" | "unit"> | null): GeneralFunction["rule"] {
  return ([operand], whole) => {
    if (operand === undefined)
      return fault("missing-argument", whole, { function: name, argument: "of", takes: "It takes one column." });
    if (operand.type.kind.is === "unknown") return operand.type;
    if (operand.type.rows === null) return needsColumn(name, operand);
    const given = result(operand.type);
    if (given === null)
      return fault("wrong-argument", operand.span, {
        function: name,
        argument: "of",
        says: `cannot be ${operandAsOne(operand)}.`,
        takes: "It takes figures.",
      });
    return { ...given, rows: operand.type.rows };
  };
}

/** Every entry moved by `by` rows; what has no neighbour is missing. */
function shifted(column: Value, by: number): Value {
  if (isTextColumn(column)) return column.map((_, row) => column[row + by] ?? null);
  if (!isNumberColumn(column)) return Number.NaN;
  const result = new Float64Array(column.length).fill(Number.NaN);
  for (let row = Math.max(0, -by); row < Math.min(column.length, column.length - by); row += 1)
    result[row] = column[row + by] as number;
  return result;
}

const sameType = (type: Type): Pick<Type, "kind" | "unit"> => ({ kind: type.kind, unit: type.unit });

const COLUMN = [{ name: "of", says: "The column.", takes: "a column" }] as const;

const runningSum: GeneralFunction["run"] = ([column]) => {
  if (column === undefined || !isNumberColumn(column)) return Number.NaN;
  const result = new Float64Array(column.length);
  let sum = 0;
  let lost = 0;
  for (let row = 0; row < column.length; row += 1) {
    const value = column[row] as number;
    if (isMissing(value)) {
      result[row] = Number.NaN;
      continue;
    }
    const next = sum + value;
    lost += Math.abs(sum) >= Math.abs(value) ? sum - next + value : value - next + sum;
    sum = next;
    result[row] = sum + lost;
  }
  return result;
};

/** How many rows a running mean spans when it is not told: a week of daily readings. */
const USUAL_WINDOW = 7;

const runningMean: GeneralFunction["run"] = ([column, rows], _types, report) => {
  if (column === undefined || !isNumberColumn(column)) return Number.NaN;
  const window = typeof rows === "number" ? Math.round(rows) : USUAL_WINDOW;
  if (!(window >= 1)) {
    report.noValue("A running mean spans at least one row.");
    return Number.NaN;
  }
  const result = new Float64Array(column.length);
  const length = column.length;
  // The window's sum is carried from row to row and drawn anew every block, so that rounding never builds up.
  let sum = 0;
  let used = 0;
  for (let row = 0; row < length; row += 1) {
    if (row % REDRAW_EVERY === 0) {
      const drawn = meanOf(column.subarray(Math.max(0, row - window + 1), row + 1));
      used = drawn.used;
      sum = used === 0 ? 0 : drawn.value * used;
    } else {
      const entering = column[row] as number;
      if (!isMissing(entering)) {
        sum += entering;
        used += 1;
      }
      const leaving = row >= window ? (column[row - window] as number) : Number.NaN;
      if (!isMissing(leaving)) {
        sum -= leaving;
        used -= 1;
      }
    }
    result[row] = used === 0 || isMissing(column[row] as number) ? Number.NaN : sum / used;
  }
  return result;
};

/** Rows after which a running mean's sum is drawn anew. */
const REDRAW_EVERY = 64;

const runningMeanRule: GeneralFunction["rule"] = (operands, whole) => {
  const ruled = columnRule("running_mean", (type) => (changeOf(type) === null ? null : sameType(type)))(
    operands,
    whole,
  );
  const rows = operands[1];
  if (rows === undefined || "code" in ruled) return ruled;
  const kind = rows.type.kind;
  if (kind.is !== "unknown" && (kind.is !== "quantity" || !isDimensionless(kind.dimension) || rows.type.rows !== null))
    return fault("wrong-argument", rows.span, {
      function: "running_mean",
      argument: "rows",
      says: `cannot be ${operandAsOne(rows)}.`,
      takes: "It takes a number of rows.",
    });
  return ruled;
};

export const COLUMN_FUNCTIONS: readonly GeneralFunction[] = [
  {
    name: "previous",
    says: "The entry of the row before; missing in the first row.",
    searchWords: ["row above", "before"],
    since: 1,
    arguments: COLUMN,
    gives: "a column of the same kind",
    rule: columnRule("previous", sameType),
    run: ([column]) => shifted(column ?? Number.NaN, -1),
  },
  {
    name: "next",
    says: "The entry of the row after; missing in the last row.",
    searchWords: ["row below", "after"],
    since: 1,
    arguments: COLUMN,
    gives: "a column of the same kind",
    rule: columnRule("next", sameType),
    run: ([column]) => shifted(column ?? Number.NaN, 1),
  },
  {
    name: "change",
    says: "The entry less that of the row before; missing in the first row.",
    searchWords: ["difference from row to row", "drop", "rise"],
    since: 1,
    arguments: COLUMN,
    gives: "a column of differences",
    rule: columnRule("change", changeOf),
    run: ([column]) => {
      if (column === undefined || !isNumberColumn(column)) return Number.NaN;
      const result = new Float64Array(column.length).fill(Number.NaN);
      for (let row = 1; row < column.length; row += 1)
        result[row] = (column[row] as number) - (column[row - 1] as number);
      return result;
    },
  },
  {
    name: "running_sum",
    says: "The sum from the first row to this one; missing entries add nothing and stay missing.",
    searchWords: ["cumulative", "running total"],
    since: 1,
    arguments: COLUMN,
    gives: "a column of the same kind; readings cannot be added",
    rule: (operands, whole) => {
      const [operand] = operands;
      if (operand?.type.kind.is === "reading")
        return fault("sum-of-readings", operand.span, {
          family: FAMILIES[operand.type.kind.family].noun,
          hint: "Their running_mean can be taken.",
        });
      return columnRule("running_sum", (type) => (type.kind.is === "quantity" ? sameType(type) : null))(
        operands,
        whole,
      );
    },
    run: runningSum,
  },
  {
    name: "running_mean",
    says: "The mean of this row and the rows before it, as many as are told; fewer at the start.",
    searchWords: ["moving average", "smooth"],
    since: 1,
    arguments: [
      { name: "of", says: "The column.", takes: "a column of figures" },
      {
        name: "rows",
        says: `How many rows it spans; ${USUAL_WINDOW} when not told.`,
        takes: "a number",
        optional: true,
      },
    ],
    gives: "a column of the same kind",
    rule: runningMeanRule,
    run: runningMean,
  },
  {
    name: "row",
    says: "The number of the row, from 1.",
    searchWords: ["row number", "line number"],
    since: 1,
    arguments: COLUMN,
    gives: "a column of numbers",
    rule: columnRule("row", () => ({ kind: NUMBER, unit: PLAIN })),
    run: ([column]) =>
      isNumberColumn(column ?? 0) || isTextColumn(column ?? 0)
        ? Float64Array.from({ length: (column as Float64Array).length }, (_, row) => row + 1)
        : Number.NaN,
  },
];
