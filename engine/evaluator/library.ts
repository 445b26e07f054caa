import type { CheckedNode } from "../checker/checked.ts";
import type { Parameter } from "../checker/signature.ts";
import { type Caution, caution } from "../diagnostics/diagnostic.ts";
import { isNoValue } from "../library/declaration.ts";
import { entryOf } from "../operations/rows.ts";
import { printUnit } from "../units/compound.ts";
import { fromCoherent } from "../units/convert.ts";
import { showValue } from "../values/show.ts";
import { isColumn, type Value } from "../values/value.ts";
import type { Run } from "./evaluate.ts";

type Call = Extract<CheckedNode, { op: "library" }>;

/** Calls a brewing function: once, or row by row when a `each` argument is a column. */
export function runLibrary(run: Run, call: Call, values: readonly Value[]): Value {
  if (run.stop !== null) return Number.NaN;
  tellCaution(run, call);
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

function tellCaution(run: Run, { function: of }: Call): void {
  if (of.caution !== undefined) run.cautions.push(caution(of.caution.is, { says: of.caution.says }));
}

const rowText = (row: number | null): string => (row === null ? "" : `Row ${row + 1}: `);

function callOnce(
  run: Run,
  call: Call,
  values: readonly Value[],
  row: number | null,
  ranges: Set<Caution>,
): number | string | null {
  const { function: of, signature, span } = call;
  for (const [at, parameter] of signature.parameters.entries()) {
    const refused = refusal(parameter, values[at] ?? Number.NaN);
    if (refused !== null) {
      run.halt(
        "no-value",
        call.operands[at]?.span ?? span,
        `${rowText(row)}${of.name}: ${parameter.argument.name} ${refused}`,
        [],
        row,
      );
      return null;
    }
  }
  for (const range of signature.published) {
    const value = values[range.parameter];
    if (typeof value === "number" && (value < range.low || value > range.high))
      addRange(ranges, of.name, range.says, of.source);
  }
  const given = Object.fromEntries(of.arguments.map((argument, at) => [argument.name, values[at] ?? Number.NaN]));
  const result = of.arithmetic(given);
  if (isNoValue(result)) {
    run.halt("no-value", span, `${rowText(row)}${result.noValue}`, [], row);
    return null;
  }
  if (typeof result === "number" && result - result !== 0) {
    run.halt("no-value", span, `${rowText(row)}${of.name} has no value for these arguments.`, [], row);
    return null;
  }
  return result;
}

/** Each published range is told once, however many rows are outside it. */
function addRange(ranges: Set<Caution>, name: string, says: string, source: string): void {
  for (const told of ranges) if (told.code === "outside-published-range" && told.data.says === says) return;
  ranges.add(caution("outside-published-range", { function: name, says, source }));
}

/** Ends count as inside, and so does what conversion between units leaves of them. */
const SLACK = 1e-9;

/** What is wrong with an argument, or null. */
function refusal(parameter: Parameter, value: Value): string | null {
  const { argument, low, high, unit } = parameter;
  if ("text" in argument.takes && argument.takes.text !== "any" && typeof value === "string") {
    const known = argument.takes.text.some((choice) => choice.toLowerCase() === value.toLowerCase());
    return known ? null : `cannot be "${value}". ${parameter.takes}`;
  }
  if (typeof value !== "number" || unit === null) return null;
  const slack = SLACK * Math.max(Math.abs(low), Math.abs(high), Math.abs(value));
  const outside =
    value < low - (Number.isFinite(slack) ? slack : 0) || value > high + (Number.isFinite(slack) ? slack : 0);
  if (!outside) return null;
  const say = (end: number): string =>
    showValue(end, { is: "quantity", dimension: { powers: [], key: "" } }, null, null, null).text;
  const figure = `${say(fromCoherent(value, unit))} ${printUnit(unit)}`.trim();
  const accepts = [
    argument.low === undefined ? "" : `from ${argument.low}`,
    argument.high === undefined ? "" : `up to ${argument.high}`,
  ]
    .filter(Boolean)
    .join(" ");
  return `cannot be ${figure}. It accepts ${accepts} ${printUnit(unit)}`.trim() + ".";
}
