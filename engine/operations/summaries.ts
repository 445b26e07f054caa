import { cover } from "../base/span.ts";
import { compensatedSum, type Drawn, lineOf, meanOf, medianOf, sampleDeviation } from "../base/statistics.ts";
import { type Fault, fault } from "../diagnostics/diagnostic.ts";
import { divideUnits, PLAIN } from "../units/compound.ts";
import { divideDimensions } from "../units/dimension.ts";
import { type Kind, NUMBER, quantity, type Type } from "../values/kind.ts";
import { isColumn, isMissing, isNumberColumn, isTextColumn, type Value } from "../values/value.ts";
import { changeOf, commonKind, operandAsOne, overRows, unlike } from "./arithmetic.ts";
import { FAMILIES } from "./families.ts";
import type { GeneralFunction, Operand, Report, Ruled } from "./operand.ts";
import { entryOf, lengthOf } from "./rows.ts";

/*
 * Functions that draw one value from a column: sum, mean, median, min, max, count, first, last, spread, slope.
 * Given several values instead of one column, sum, mean, median, min and max work across them, row by row.
 */

const wrongKind = (name: string, operand: Operand, takes: string): Fault =>
  fault("wrong-argument", operand.span, {
    function: name,
    argument: "",
    says: `cannot take ${operandAsOne(operand)}.`,
    takes,
  });

/** The rule of a summary: one column to a single value, or several like values to one. */
function summaryRule(name: string, figure: (operand: Operand, all: Operand) => Ruled): GeneralFunction["rule"] {
  return (operands, whole) => {
    const [first, ...others] = operands;
    if (first === undefined)
      return fault("missing-argument", whole, {
        function: name,
        argument: "a column",
        takes: "It takes one column, or several values.",
      });
    if (others.length === 0) {
      if (first.type.kind.is === "unknown") return first.type;
      if (first.type.rows === null)
        return fault("wrong-argument", first.span, {
          function: name,
          argument: "",
          says: "needs a column, or several values.",
          takes: "A column is written table.column.",
        });
      const ruled = figure(first, first);
      return "code" in ruled ? ruled : { ...ruled, rows: null };
    }
    return overRows(operands, whole, () => {
      let soFar: Operand = first;
      for (const next of others) {
        const common = commonKind(soFar, next);
        if (common === null) return unlike("combined", soFar, next, cover(first.span, next.span));
        soFar = { ...soFar, zero: soFar.zero && next.zero, type: { ...soFar.type, ...common } };
      }
      const ruled = figure(soFar, soFar);
      return "code" in ruled ? ruled : { kind: ruled.kind, unit: ruled.unit };
    });
  };
}

const figures =
  (name: string, readings: boolean) =>
  (operand: Operand): Ruled => {
    const kind = operand.type.kind;
    if (kind.is === "quantity") return operand.type;
    if (kind.is === "reading")
      return readings
        ? operand.type
        : fault("sum-of-readings", operand.span, {
            family: FAMILIES[kind.family].noun,
            hint: "Their mean can be taken.",
          });
    return wrongKind(name, operand, "It takes figures.");
  };

/** One value from one column, or row by row across several values; `fewest` entries are needed, as `tooFew` says. */
function summaryRun(draw: (column: Float64Array) => Drawn, fewest = 0, tooFew = ""): GeneralFunction["run"] {
  return (values, _types, report) => {
    const [first] = values;
    if (values.length === 1 && first !== undefined && isNumberColumn(first))
      return drawn(draw(first), first.length, fewest, tooFew, report);
    const length = lengthOf(values);
    if (length === null)
      return drawn(draw(Float64Array.from(values as number[])), values.length, fewest, tooFew, report);
    const result = new Float64Array(length);
    const across = new Float64Array(values.length);
    for (let row = 0; row < length; row += 1) {
      values.forEach((value, at) => {
        across[at] = entryOf(value, row) as number;
      });
      // A row of which one value is missing is missing: a sum of the rest would look whole.
      result[row] = across.some(isMissing) ? Number.NaN : draw(across).value;
    }
    return result;
  };
}

function drawn({ value, used }: Drawn, of: number, fewest: number, tooFew: string, report: Report): number {
  if (used < of) report.skipped(of - used, of);
  if (used < fewest) report.tooFew(tooFew);
  else if (value - value !== 0) report.noValue("The result is too large to be held.");
  return value;
}

/** The smallest entry (`sign` 1) or the largest (-1). */
const extreme =
  (sign: 1 | -1) =>
  (column: Float64Array): Drawn => {
    let value = Number.NaN;
    let used = 0;
    for (let row = 0; row < column.length; row += 1) {
      const entry = column[row] as number;
      if (isMissing(entry)) continue;
      if (used === 0 || sign * entry < sign * value) value = entry;
      used += 1;
    }
    return { value, used };
  };

const columnOrValues = [
  { name: "of", says: "A column, or several values.", takes: "a column of figures, or two or more figures" },
] as const;

/** The first or last entry that is present. */
function endEntry(from: "start" | "end"): GeneralFunction["run"] {
  return ([column], _types, report) => {
    if (column === undefined || !isColumn(column)) return Number.NaN;
    const length = column.length;
    for (let step = 0; step < length; step += 1) {
      const entry = column[from === "start" ? step : length - 1 - step];
      if (entry === null || entry === undefined || Number.isNaN(entry)) continue;
      if (step > 0) report.skipped(step, length);
      return entry;
    }
    report.tooFew("There is no entry to take.");
    return Number.NaN;
  };
}

const oneColumn =
  (name: string, result: (type: Type) => { kind: Kind; unit: Type["unit"] } | null): GeneralFunction["rule"] =>
  ([operand], whole) => {
    if (operand === undefined)
      return fault("missing-argument", whole, { function: name, argument: "a column", takes: "It takes one column." });
    if (operand.type.kind.is === "unknown") return operand.type;
    if (operand.type.rows === null)
      return fault("wrong-argument", operand.span, {
        function: name,
        argument: "",
        says: "needs a column.",
        takes: "A column is written table.column.",
      });
    const given = result(operand.type);
    return given === null ? wrongKind(name, operand, "It takes figures.") : { ...given, rows: null };
  };

const slopeRule: GeneralFunction["rule"] = ([of, against], whole) => {
  if (of === undefined || against === undefined)
    return fault("missing-argument", whole, {
      function: "slope",
      argument: of === undefined ? "of" : "against",
      takes: "It takes a column and the column it is drawn against.",
    });
  const both = overRows([of, against], whole, () => {
    const [rise, run] = [changeOf(of.type), changeOf(against.type)];
    if (rise === null || rise.kind.is !== "quantity") return wrongKind("slope", of, "It takes figures.");
    if (run === null || run.kind.is !== "quantity") return wrongKind("slope", against, "It takes figures or times.");
    return {
      kind: quantity(divideDimensions(rise.kind.dimension, run.kind.dimension)),
      unit: divideUnits(
        rise.unit?.is === "compound" ? rise.unit : PLAIN,
        run.unit?.is === "compound" ? run.unit : PLAIN,
      ),
    };
  });
  if ("code" in both || both.kind.is === "unknown") return both;
  if (both.rows === null)
    return fault("wrong-argument", whole, {
      function: "slope",
      argument: "",
      says: "needs two columns.",
      takes: "Write slope(table.column, table.column).",
    });
  return { ...both, rows: null };
};

export const SUMMARIES: readonly GeneralFunction[] = [
  {
    name: "sum",
    says: "Adds up a column, or several values.",
    searchWords: ["total", "add up"],
    since: 1,
    arguments: columnOrValues,
    variadic: true,
    gives: "the same kind; readings cannot be added",
    rule: summaryRule("sum", figures("sum", false)),
    run: summaryRun(compensatedSum),
  },
  {
    name: "mean",
    says: "The arithmetic mean of a column, or of several values.",
    searchWords: ["average", "avg"],
    since: 1,
    arguments: columnOrValues,
    variadic: true,
    gives: "the same kind",
    rule: summaryRule("mean", figures("mean", true)),
    run: summaryRun(meanOf, 1, "The mean of no entry has no value."),
  },
  {
    name: "median",
    says: "The middle value of a column, or of several values: half are above it and half below.",
    searchWords: ["middle"],
    since: 1,
    arguments: columnOrValues,
    variadic: true,
    gives: "the same kind",
    rule: summaryRule("median", figures("median", true)),
    run: summaryRun(medianOf, 1, "The median of no entry has no value."),
  },
  {
    name: "min",
    says: "The smallest of a column, or of several values.",
    searchWords: ["least", "lowest", "smallest"],
    since: 1,
    arguments: columnOrValues,
    variadic: true,
    gives: "the same kind",
    rule: summaryRule("min", figures("min", true)),
    run: summaryRun(extreme(1), 1, "There is no entry to take the smallest of."),
  },
  {
    name: "max",
    says: "The largest of a column, or of several values.",
    searchWords: ["most", "highest", "largest"],
    since: 1,
    arguments: columnOrValues,
    variadic: true,
    gives: "the same kind",
    rule: summaryRule("max", figures("max", true)),
    run: summaryRun(extreme(-1), 1, "There is no entry to take the largest of."),
  },
  {
    name: "count",
    says: "How many entries of a column are there, missing ones left out.",
    searchWords: ["number of", "how many"],
    since: 1,
    arguments: [{ name: "of", says: "The column.", takes: "any column" }],
    gives: "a number",
    rule: oneColumn("count", () => ({ kind: NUMBER, unit: PLAIN })),
    run: ([column]) => countPresent(column ?? Number.NaN),
  },
  {
    name: "first",
    says: "The first entry of a column that is there.",
    searchWords: ["start", "initial"],
    since: 1,
    arguments: [{ name: "of", says: "The column.", takes: "any column" }],
    gives: "the same kind",
    rule: oneColumn("first", (type) => ({ kind: type.kind, unit: type.unit })),
    run: endEntry("start"),
  },
  {
    name: "last",
    says: "The last entry of a column that is there.",
    searchWords: ["latest", "newest", "final"],
    since: 1,
    arguments: [{ name: "of", says: "The column.", takes: "any column" }],
    gives: "the same kind",
    rule: oneColumn("last", (type) => ({ kind: type.kind, unit: type.unit })),
    run: endEntry("end"),
  },
  {
    name: "spread",
    says: "The sample standard deviation of a column (divided by n − 1).",
    searchWords: ["standard deviation", "stdev", "sd", "scatter", "variation"],
    since: 1,
    arguments: [{ name: "of", says: "The column.", takes: "a column of figures" }],
    gives: "the same kind, or a difference for readings",
    rule: oneColumn("spread", changeOf),
    run: summaryRun(sampleDeviation, 2, "A spread needs at least two entries."),
  },
  {
    name: "slope",
    says: "The slope of the straight line of least squares through a column drawn against another.",
    searchWords: ["trend", "rate", "gradient", "regression"],
    since: 1,
    arguments: [
      { name: "of", says: "The column whose change is wanted.", takes: "a column of figures" },
      {
        name: "against",
        says: "The column it is drawn against, often a time.",
        takes: "a column of figures or times of the same table",
      },
    ],
    gives: "the change of the first for one of the second: Δ°P/day",
    rule: slopeRule,
    run: ([of, against], _types, report) => {
      if (of === undefined || against === undefined || !isNumberColumn(of) || !isNumberColumn(against))
        return Number.NaN;
      const line = lineOf(against, of);
      return drawn(
        { value: line.slope, used: line.used },
        of.length,
        Number.isNaN(line.slope) ? line.used + 1 : 0,
        "A slope needs at least two different places on the line it is drawn against.",
        report,
      );
    },
  },
];

function countPresent(column: Value): number {
  let count = 0;
  if (isNumberColumn(column)) for (const entry of column) count += isMissing(entry) ? 0 : 1;
  else if (isTextColumn(column)) for (const entry of column) count += entry === null ? 0 : 1;
  return count;
}
