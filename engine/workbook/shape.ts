import { unitOf } from "../checker/units.ts";
import type { Node } from "../parser/tree.ts";
import { PLAIN, printUnit } from "../units/compound.ts";
import { type Step, stepOf } from "../units/format.ts";
import { type Lens, lensUnit, stepKeeping } from "../units/lens.ts";
import type { ShownUnit } from "../units/unit.ts";
import { isInstant, type Kind, type Type } from "../values/kind.ts";
import { isMidnight, type Shown, showValue } from "../values/show.ts";
import { isColumn, isMissing, isNumberColumn, type Value } from "../values/value.ts";
import { formulaOf } from "./document.ts";
import type { Model } from "./model.ts";

/** What figures of a node are shown in under a lens, and rounded to. */
export interface Shape {
  readonly unit: ShownUnit | null;
  readonly step: Step | null;
  /** Instants with their time of day even at midnight: a column of which one has a time of day. */
  readonly clock?: boolean;
}

export function shapeOf(model: Model, node: number, lens: Lens, value: Value | null): Shape {
  const type = model.typeOf(node);
  const typical = lens === "as-written" ? null : typicalValue(value);
  const shape = shapeIn(type, model.presentations.get(node)?.step ?? stepTyped(model, node), lens, typical);
  if (!isInstant(type.kind) || value === null || !isNumberColumn(value)) return shape;
  return {
    ...shape,
    clock: value.some((entry) => !isMissing(entry) && !isMidnight(entry, type.kind, model.head.zone)),
  };
}

/** An explicit `as` and `by` win only as written; a lens shows by its own table, and no more coarsely than the step. */
export function shapeIn({ kind, unit }: Type, step: Step | null, lens: Lens, value: number | null): Shape {
  const written = { unit, step };
  if (lens === "as-written" || unit === null || value === null) return written;
  const reads = kind.is === "quantity" ? kind.dimension : kind.is === "reading" ? kind.family : null;
  const seen = reads === null ? null : lensUnit(lens, reads, value, unit, step);
  if (seen === null) return written;
  return printUnit(seen.unit) === printUnit(unit) ? written : { unit: seen.unit, step: seen.step };
}

export const PLAIN_DECIMAL = /^\d+(?:\.(\d+))?$/;

function stepTyped(model: Model, node: number): Step | null {
  const origin = model.origins[node];
  return origin?.is === "cell" ? typedStep(model.parse(formulaOf(origin.item)).expression) : null;
}

/** A figure that is written out is shown with the decimals it was written with. */
export function typedStep(expression: Node): Step | null {
  const literal = expression.node === "blank" ? expression.filled : expression;
  if (literal?.node !== "literal" || literal.figures.length !== 1) return null;
  const typed = PLAIN_DECIMAL.exec(literal.figures[0]?.text ?? "");
  return typed && stepOf(typed[1]?.length ?? 0);
}

/**
 * An entry of a measured column under a lens: as it was typed where that is in the unit, or on the clock, that is shown; else a
 * figure no more coarsely than its last digit. Null: it is neither.
 */
export function showTyped(text: string, value: number, type: Type, shape: Shape, model: Model): string | null {
  // A moment with an offset is shown by another clock than it was written by.
  if (isInstant(type.kind)) return /T.*[-+Z]/.test(text) ? null : text.replace("T", " ");
  const unsigned = text.replace(/^[-+]/, "");
  const literal = PLAIN_DECIMAL.test(unsigned) ? null : model.head.parse(unsigned).expression;
  const figures =
    literal === null ? [{ text: unsigned, unit: null }] : literal.node === "literal" ? literal.figures : [];
  const last = figures.at(-1);
  const typedIn = last?.unit ? unitOf(last.unit, model.head.units) : (type.unit ?? PLAIN);
  if (last === undefined || "code" in typedIn) return null;
  const unit = shape.unit ?? PLAIN;
  if (figures.length === 1 && printUnit(typedIn) === printUnit(unit))
    return text.slice(0, -unsigned.length) + last.text;
  const typed = stepOf(PLAIN_DECIMAL.exec(last.text)?.[1]?.length ?? 0);
  const shown = shape.step ?? stepOf(showIn(value, type.kind, shape, model).figure.split(".")[1]?.length ?? 0);
  return showIn(value, type.kind, { ...shape, step: stepKeeping(value, unit, shown, typedIn, typed) }, model).figure;
}

/** The largest figure of a column decides which unit of a lens it is shown in. */
export function typicalValue(value: Value | null): number | null {
  if (typeof value === "number") return value;
  if (value === null || !isNumberColumn(value)) return null;
  let [largest, size] = [Number.NaN, -1];
  for (let row = 0; row < value.length; row += 1) {
    const entry = value[row] as number;
    if (Math.abs(entry) > size) [largest, size] = [entry, Math.abs(entry)];
  }
  return isMissing(largest) ? null : largest;
}

export function showIn(value: number | string | null, kind: Kind, shape: Shape, model: Model): Shown {
  return showValue(value, kind, shape.unit, shape.step, model.head.zone, shape.clock ?? false);
}

/** How many entries of a column are written out where a line holds one. */
const SHOWN_ENTRIES = 20;

/** A value as a line shows it; of a column its first entries. */
export function showAll(value: Value, type: Type, shape: Shape, model: Model): Shown {
  if (!isColumn(value)) return showIn(value, type.kind, shape, model);
  const entries: string[] = [];
  for (let row = 0; row < Math.min(value.length, SHOWN_ENTRIES); row += 1)
    entries.push(showIn(value[row] ?? null, type.kind, shape, model).figure || "–");
  const unitText = shape.unit === null ? "" : printUnit(shape.unit);
  const figure = entries.join(", ") + (value.length > SHOWN_ENTRIES ? ", …" : "");
  return { figure, unitText, text: unitText === "" ? figure : `${figure} ${unitText}` };
}
