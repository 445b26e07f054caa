import type { Span } from "../base/span.ts";
import type { CheckedNode } from "../checker/checked.ts";
import { partsOf } from "../checker/formula.ts";
import type { Parameter } from "../checker/signature.ts";
import { type Caution, caution, type Fault, fault } from "../diagnostics/diagnostic.ts";
import { type Argument, argumentInWords, isNoValue } from "../library/declaration.ts";
import { equalFigures, equalTexts } from "../operations/comparison.ts";
import { entryOf } from "../operations/rows.ts";
import { printUnit } from "../units/compound.ts";
import { formatFigure } from "../units/format.ts";
import { isColumn, type Value } from "../values/value.ts";
import type { Stoppable } from "./stop.ts";

type Call = Extract<CheckedNode, { op: "library" }>;

/** Calls a brewing function: once, or row by row when a `each` argument is a column. */
export function runLibrary(run: Stoppable, call: Call, values: readonly Value[]): Value {
  if (run.stop !== null) return Number.NaN;
  const { parameters } = call.signature;
  let length: number | null = null;
  for (const [at, value] of values.entries())
    if (isColumn(value) && parameters[at]?.argument.column !== "whole") length = value.length;
  const ranges = new Set<Caution>();
  if (length === null) {
    const result = callOnce(run, call, values, null, ranges);
    run.cautions.push(...ranges);
    return result ?? Number.NaN;
  }
  const results: (number | string | null)[] = [];
  for (let row = 0; row < length && run.stop === null; row += 1) {
    if (!run.isNeeded(row)) {
      results.push(null);
      continue;
    }
    const given = values.map((value, at) =>
      parameters[at]?.argument.column === "whole" ? value : entryOf(value, row),
    );
    results.push(
      given.some((value) => value === null || Number.isNaN(value))
        ? null
        : callOnce(run, call, given as Value[], row, ranges),
    );
  }
  run.cautions.push(...ranges);
  if (run.stop !== null) return Number.NaN;
  return call.type.kind.is === "text"
    ? (results as (string | null)[])
    : Float64Array.from(results, (result) => (result === null ? Number.NaN : (result as number)));
}

function callOnce(
  run: Stoppable,
  call: Call,
  values: readonly Value[],
  row: number | null,
  ranges: Set<Caution>,
): number | string | null {
  const { function: of, signature, span } = call;
  const halt = (found: Fault): null => {
    run.halt({ reason: "fault", fault: found, row });
    return null;
  };
  for (const [at, parameter] of signature.parameters.entries()) {
    const refused = refusal(of.name, parameter, values[at] ?? Number.NaN, call.operands[at]?.span ?? span);
    if (refused !== null) return halt(refused);
  }
  for (const range of signature.published) {
    const value = values[range.parameter];
    if (typeof value === "number" && (value < range.low || value > range.high))
      addRange(ranges, of.name, range.says, of.source);
  }
  const given = Object.fromEntries(of.arguments.map((argument, at) => [argument.name, values[at] ?? Number.NaN]));
  const result = of.arithmetic(given);
  if (isNoValue(result)) {
    const wait = result.tooFew ? run.waitFor(result.noValue, ...readBy(call, values, row)) : null;
    if (wait === null) return halt(fault("no-value", span, { says: result.noValue }));
    run.halt(wait);
    return null;
  }
  if (typeof result === "number" && result - result !== 0)
    return halt(fault("no-value", span, { says: `${of.name} has no value for these arguments.` }));
  return result;
}

/**
 * What a call reads entries of, with their values: its columns. One that is given figures alone reads the columns that these
 * sum up: `count(packages.net)`.
 */
const readBy = (
  call: Call,
  values: readonly Value[],
  row: number | null,
): readonly [operands: readonly CheckedNode[], values: readonly Value[]] =>
  row === null && !values.some(isColumn) ? [call.operands.flatMap(partsOf), []] : [call.operands, values];

/** Each published range is told once, however many rows are outside it. */
function addRange(ranges: Set<Caution>, name: string, says: string, source: string): void {
  for (const told of ranges) if (told.code === "outside-published-range" && told.data.says === says) return;
  ranges.add(caution("outside-published-range", { function: name, says, source }));
}

/** What is wrong with an argument, or null. Ends count as inside, and so does what is equal to them. */
function refusal(name: string, parameter: Parameter, value: Value, span: Span): Fault | null {
  const { argument, low, high, unit } = parameter;
  if ("text" in argument.takes) {
    const choices = argument.takes.text;
    if (choices === "any" || typeof value !== "string" || choices.some((choice) => equalTexts(choice, value)))
      return null;
    return fault("not-a-choice", span, { text: value, choices });
  }
  if (typeof value !== "number" || unit === null) return null;
  const below = value < low && !equalFigures(value, low);
  const above = value > high && !equalFigures(value, high);
  if (!below && !above) return null;
  return fault("wrong-argument", span, {
    function: name,
    argument: argumentInWords(argument),
    says: `cannot be ${`${formatFigure(value, unit, null)} ${printUnit(unit)}`.trim()}.`,
    takes: `It accepts ${accepted(argument, printUnit(unit))}.`,
  });
}

/** `20 to 85 °C`, `0 kg and more`, `up to 14 pH`. */
function accepted({ low, high }: Argument, unit: string): string {
  if (low === undefined) return `up to ${high} ${unit}`.trimEnd();
  return high === undefined ? `${`${low} ${unit}`.trimEnd()} and more` : `${low} to ${high} ${unit}`.trimEnd();
}
