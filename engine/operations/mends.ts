import { type Mend, mend } from "../diagnostics/diagnostic.ts";
import { printUnit } from "../units/compound.ts";
import type { ShownUnit } from "../units/unit.ts";
import { isNumber } from "../values/kind.ts";
import type { Operand } from "./operand.ts";

/*
 * What was most likely meant, where a formula can be mended by that alone.
 */

/** A bare number beside something with a unit: it gets the unit that `unitFor` says of the other. */
export function withUnit(left: Operand, right: Operand, unitFor: (other: Operand) => ShownUnit | null): Mend[] {
  const [bare, other] = isNumber(right.type.kind) ? [right, left] : [left, right];
  const unit = unitFor(other);
  const text = unit === null ? "" : printUnit(unit);
  if (!isNumber(bare.type.kind) || bare.constant === null || text === "") return [];
  const { end } = bare.span;
  return [mend(`Write ${text}`, { start: end, end }, ` ${text}`)];
}

/** A reading that is added to another: it was meant as a difference of the same degrees, where they have one. */
export function asDifference({ type: { unit }, written }: Operand): Mend[] {
  if (unit?.is !== "scale" || unit.difference === null || written === null) return [];
  const { symbol } = unit.difference;
  return [mend(`Write ${symbol}`, written.span, symbol)];
}
