import { rational } from "../base/rational.ts";
import { fault, mend } from "../diagnostics/diagnostic.ts";
import { PLAIN, powerUnit } from "../units/compound.ts";
import { fromCoherent } from "../units/convert.ts";
import { isDimensionless, powerOfDimension, sameDimension } from "../units/dimension.ts";
import type { ShownUnit } from "../units/unit.ts";
import { describeOne } from "../values/describe.ts";
import { isNumber, NUMBER, quantity } from "../values/kind.ts";
import { isNumberColumn } from "../values/value.ts";
import { changeOf, operandAsOne, overRows } from "./arithmetic.ts";
import { withUnit } from "./mends.ts";
import type { GeneralFunction, Operand, Ruled } from "./operand.ts";
import { broadcast, type Scalar } from "./rows.ts";

/*
 * Functions of single figures, row by row over columns: rounding, roots, logarithms, the bare number.
 */

const takes = (name: string, operand: Operand, what: string): Ruled & { code: string } =>
  fault("wrong-argument", operand.span, {
    function: name,
    argument: "of",
    says: `cannot be ${operandAsOne(operand)}.`,
    takes: what,
  });

/** A function of plain numbers to plain numbers. */
function plain(
  name: string,
  says: string,
  searchWords: readonly string[],
  operation: (a: number) => number,
  fails: string,
): GeneralFunction {
  return {
    name,
    says,
    searchWords,
    since: 1,
    arguments: [{ name: "of", says: "The number.", takes: "a plain number" }],
    gives: "a number",
    rule: ([operand], whole) =>
      operand === undefined
        ? fault("missing-argument", whole, { function: name, argument: "of", takes: "It takes a plain number." })
        : overRows([operand], whole, () =>
            isNumber(operand.type.kind)
              ? { kind: NUMBER, unit: PLAIN }
              : takes(
                  name,
                  operand,
                  "It takes a plain number; divide by a quantity of the same kind, or use number(x as U).",
                ),
          ),
    run: ([value], _types, report) => broadcast(operation, value ?? Number.NaN, 0, () => fails, report),
    scalar: operation,
  };
}

/** Decimal fractions are not exact in binary: a quotient this close to a whole step counts as whole, or 0.3 would round up by 0.1 to 0.4. */
const WHOLE_WITHIN = 1e-9;

const steps = (value: number, step: number, round: (steps: number) => number): number => {
  const exact = value / step;
  const nearest = Math.round(exact);
  return (Math.abs(exact - nearest) <= WHOLE_WITHIN * Math.max(1, Math.abs(exact)) ? nearest : round(exact)) * step;
};

const halfAway = (exact: number): number => Math.sign(exact) * Math.floor(Math.abs(exact) + 0.5);

const ROUNDINGS: Readonly<
  Record<string, { round: (steps: number) => number; says: string; searchWords: readonly string[] }>
> = {
  round: {
    round: halfAway,
    says: "Rounds to the nearest multiple of a step, halves away from zero.",
    searchWords: ["nearest"],
  },
  round_up: {
    round: Math.ceil,
    says: "Rounds up to a multiple of a step: whole sacks, whole kegs.",
    searchWords: ["ceiling", "whole sacks"],
  },
  round_down: { round: Math.floor, says: "Rounds down to a multiple of a step.", searchWords: ["floor", "truncate"] },
};

/** Readings are rounded on their own scale where it has degrees: multiples of 5 °F count from 0 °F, not from 0 °C. */
function onOwnScale(operation: Scalar, unit: ShownUnit | null): Scalar {
  if (unit?.is !== "scale" || unit.difference === null) return operation;
  const { difference, fromCoherent: toFigure, toCoherent: fromFigure } = unit;
  return (value, step) => fromFigure(operation(toFigure(value), step / difference.factor));
}

function rounding(name: string): GeneralFunction {
  const { round, says, searchWords } = ROUNDINGS[name] as (typeof ROUNDINGS)[string];
  const operation: Scalar = (value, step) => steps(value, step, round);
  return {
    name,
    says,
    searchWords,
    since: 1,
    arguments: [
      { name: "of", says: "The figure.", takes: "a quantity, a reading or a number" },
      {
        name: "step",
        says: "The step: 25 kg, 0.5 Δ°C; for a plain number it may be left out and is 1.",
        takes: "a step of the same dimension",
        optional: true,
      },
    ],
    gives: "the same kind",
    rule: ([operand, step], whole) => {
      if (operand === undefined)
        return fault("missing-argument", whole, {
          function: name,
          argument: "of",
          takes: "It takes a figure and a step.",
        });
      const change = changeOf(operand.type);
      return overRows(step === undefined ? [operand] : [operand, step], whole, () => {
        if (change === null || change.kind.is !== "quantity") return takes(name, operand, "It takes a figure.");
        if (step === undefined)
          return isNumber(operand.type.kind)
            ? { kind: operand.type.kind, unit: operand.type.unit }
            : fault("missing-argument", whole, {
                function: name,
                argument: "step",
                takes: `Say the step with its unit, such as ${name}(x, 25 kg).`,
              });
        const kind = step.type.kind;
        if (kind.is !== "quantity" || !sameDimension(kind.dimension, change.kind.dimension))
          return fault(
            "wrong-argument",
            step.span,
            {
              function: name,
              argument: "step",
              says: `cannot be ${operandAsOne(step)}.`,
              takes: `It takes ${describeOne(change.kind, change.unit)}.`,
            },
            withUnit(operand, step, () => change.unit),
          );
        return { kind: operand.type.kind, unit: operand.type.unit };
      });
    },
    run: ([value, step], [type], report) =>
      broadcast(
        onOwnScale(operation, type?.unit ?? null),
        value ?? Number.NaN,
        step ?? 1,
        (_, by) => (by === 0 ? "A step of zero rounds to nothing." : "The rounded figure is too large to be held."),
        report,
      ),
  };
}

/** `number(x as U)`: the figure in a unit that is named, as a plain number. */
const number: GeneralFunction = {
  name: "number",
  says: "The figure of a quantity or reading in a unit that is named, as a plain number: number(strike as °F).",
  searchWords: ["strip the unit", "value in", "convert to number"],
  since: 1,
  arguments: [{ name: "of", says: "What to strip of its unit, with the unit named.", takes: "x as U" }],
  gives: "a number",
  rule: ([operand], whole) => {
    if (operand === undefined)
      return fault("missing-argument", whole, { function: "number", argument: "of", takes: "Write number(x as U)." });
    return overRows([operand], whole, () => {
      const { kind, unit } = operand.type;
      if (kind.is !== "quantity" && (kind.is !== "reading" || unit === null))
        return takes("number", operand, "It takes a quantity or a reading.");
      const plain = unit?.is === "compound" && unit.terms.length === 0;
      if (operand.namesUnit || plain) return { kind: NUMBER, unit: PLAIN };
      const written = unit === null ? "U" : unit.is === "scale" ? unit.symbol : unit.text;
      return fault(
        "wrong-argument",
        operand.span,
        { function: "number", argument: "", says: "must be told the unit.", takes: `Write number(… as ${written}).` },
        [mend(`Write as ${written}`, { start: operand.span.end, end: operand.span.end }, ` as ${written}`)],
      );
    });
  },
  run: ([value], [type]) => {
    const unit = type?.unit ?? null;
    if (value === undefined || unit === null || (unit.is === "compound" && unit.terms.length === 0))
      return value ?? Number.NaN;
    return isNumberColumn(value)
      ? value.map((entry) => fromCoherent(entry, unit))
      : fromCoherent(value as number, unit);
  },
};

const abs: GeneralFunction = {
  name: "abs",
  says: "The size without the sign.",
  searchWords: ["absolute value", "magnitude"],
  since: 1,
  arguments: [{ name: "of", says: "The figure.", takes: "a quantity or a number" }],
  gives: "the same kind",
  rule: ([operand], whole) =>
    operand === undefined
      ? fault("missing-argument", whole, { function: "abs", argument: "of", takes: "It takes a quantity." })
      : overRows([operand], whole, () =>
          operand.type.kind.is === "quantity"
            ? { kind: operand.type.kind, unit: operand.type.unit }
            : takes("abs", operand, "It takes a quantity; the size of a reading means nothing."),
        ),
  run: ([value], _types, report) => broadcast(Math.abs, value ?? Number.NaN, 0, () => "There is no such size.", report),
  scalar: Math.abs,
};

const HALF = rational(1, 2);

const sqrt: GeneralFunction = {
  name: "sqrt",
  says: "The square root; that of an area is a length.",
  searchWords: ["root"],
  since: 1,
  arguments: [{ name: "of", says: "The figure, not below zero.", takes: "a quantity or a number" }],
  gives: "the root's kind",
  rule: ([operand], whole) =>
    operand === undefined
      ? fault("missing-argument", whole, { function: "sqrt", argument: "of", takes: "It takes a quantity." })
      : overRows([operand], whole, () => {
          const { kind, unit } = operand.type;
          if (kind.is !== "quantity") return takes("sqrt", operand, "It takes a quantity or a number.");
          return isDimensionless(kind.dimension)
            ? { kind: NUMBER, unit: PLAIN }
            : {
                kind: quantity(powerOfDimension(kind.dimension, HALF)),
                unit: powerUnit(unit?.is === "compound" ? unit : PLAIN, HALF),
              };
        }),
  run: ([value], _types, report) =>
    broadcast(Math.sqrt, value ?? Number.NaN, 0, () => "The root of a negative figure has no value.", report),
  scalar: Math.sqrt,
};

export const FIGURE_FUNCTIONS: readonly GeneralFunction[] = [
  rounding("round"),
  rounding("round_up"),
  rounding("round_down"),
  abs,
  sqrt,
  plain("exp", "e to the power of a number.", ["exponential"], Math.exp, "The power is too large to be held."),
  plain("ln", "The natural logarithm.", ["log", "logarithm"], Math.log, "Only a number above zero has a logarithm."),
  plain(
    "log10",
    "The logarithm to base 10.",
    ["log", "logarithm"],
    Math.log10,
    "Only a number above zero has a logarithm.",
  ),
  number,
];
