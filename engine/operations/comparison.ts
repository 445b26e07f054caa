import { cover } from "../base/span.ts";
import { fault } from "../diagnostics/diagnostic.ts";
import { isInstant, isNumber, type Kind, TRUTH } from "../values/kind.ts";
import type { Value } from "../values/value.ts";
import { ounceOfVolume } from "./ambiguity.ts";
import { commonKind, describeOperand, mixedInstants, overRows } from "./arithmetic.ts";
import { withUnit } from "./mends.ts";
import type { Operand, Ruled } from "./operand.ts";
import { lengthOf, rowsOf } from "./rows.ts";

export type Comparison = "is" | "is not" | "<" | "<=" | ">" | ">=";

/** Two figures count as equal within this share of the larger: far below what any gauge tells, far above what rounding leaves. */
export const EQUAL_WITHIN = 1e-9;

export const equalFigures = (a: number, b: number): boolean =>
  a === b || Math.abs(a - b) <= EQUAL_WITHIN * Math.max(Math.abs(a), Math.abs(b));

/** Seconds since 1970 are so large that a relative tolerance would merge neighbours: instants are equal to the microsecond. */
const INSTANT_WITHIN = 1e-6;

/** Figures of a kind this far apart are equal: in themselves, and as a share of the larger. */
const equalWithin = (kind: Kind): readonly [absolute: number, relative: number] =>
  isInstant(kind) ? [INSTANT_WITHIN, 0] : [0, EQUAL_WITHIN];

/** When two figures of a kind count as equal. */
export function equalOf(kind: Kind): (a: number, b: number) => boolean {
  const [absolute, relative] = equalWithin(kind);
  return relative === 0 ? (a, b) => Math.abs(a - b) <= absolute : equalFigures;
}

/** What a comparison gives for a figure that is less than another, equal to it, and greater: 1 or 0. */
const TRUTHS: { readonly [C in Comparison]: readonly [less: number, equal: number, greater: number] } = {
  is: [0, 1, 0],
  "is not": [1, 0, 1],
  "<": [1, 0, 0],
  "<=": [1, 1, 0],
  ">": [0, 0, 1],
  ">=": [0, 1, 1],
};

/** Compares coherent figures, single or by column: 1, 0, or NaN where one is missing. `<=`, `is` and `within` agree on what is equal. */
export function compareOver(comparison: Comparison, kind: Kind, a: Value, b: Value): Value {
  const [less, same, greater] = TRUTHS[comparison];
  const [absolute, relative] = equalWithin(kind);
  const length = lengthOf([a, b]);
  const [left, leftStep] = rowsOf(a);
  const [right, rightStep] = rowsOf(b);
  const result = new Float64Array(length ?? 1);
  for (let row = 0; row < result.length; row += 1) {
    const one = left[row * leftStep] as number;
    const other = right[row * rightStep] as number;
    const apart = one - other;
    const within = relative === 0 ? absolute : absolute + relative * Math.max(Math.abs(one), Math.abs(other));
    result[row] = apart > within ? greater : apart < -within ? less : apart - apart === 0 ? same : Number.NaN;
  }
  return length === null ? (result[0] as number) : result;
}

/** `and` (decided by a 0) and `or` (by a 1) over truths, single or by column. A missing left side is missing; a right one only where the left does not decide. */
export function junctionOver(decides: 0 | 1, a: Value, b: Value): Value {
  const length = lengthOf([a, b]);
  const [left, leftStep] = rowsOf(a);
  const [right, rightStep] = rowsOf(b);
  const result = new Float64Array(length ?? 1);
  for (let row = 0; row < result.length; row += 1) {
    const one = left[row * leftStep] as number;
    result[row] = one === decides || Number.isNaN(one) ? one : (right[row * rightStep] as number);
  }
  return length === null ? (result[0] as number) : result;
}

/** Texts are compared without case. */
export const equalTexts = (a: string, b: string): boolean =>
  a.normalize("NFC").toLowerCase() === b.normalize("NFC").toLowerCase();

/** Like kinds only; a literal 0 fits any linear kind; texts and truths are only equal or not. */
export function compareRule(left: Operand, right: Operand, comparison: Comparison): Ruled {
  const span = cover(left.span, right.span);
  return overRows([left, right], span, () => {
    const common = commonKind(left, right);
    const [a, b] = [left.type.kind, right.type.kind];
    if (common === null) {
      if (a.is === "reading" && b.is === "reading") {
        const mixed = mixedInstants(a.family, b.family, span);
        if (mixed !== null) return mixed;
      }
      const ounce = ounceOfVolume(left.written, b) ?? ounceOfVolume(right.written, a);
      if (ounce !== null) return ounce;
      return fault(
        "unlike-units",
        span,
        { did: "compared", left: describeOperand(left), right: describeOperand(right), hint: hint(left, right) },
        withUnit(left, right, (other) => other.type.unit),
      );
    }
    if ((common.kind.is === "text" || common.kind.is === "truth") && comparison !== "is" && comparison !== "is not")
      return fault("unlike-units", span, {
        did: "compared",
        left: describeOperand(left),
        right: describeOperand(right),
        hint: `Use "is" or "is not" for ${common.kind.is === "text" ? "text" : "yes and no"}.`,
      });
    return { kind: TRUTH, unit: null };
  });
}

const measured = ({ type: { kind } }: Operand): boolean => kind.is === "quantity" || kind.is === "reading";

const hint = (left: Operand, right: Operand): string | null =>
  (isNumber(left.type.kind) && measured(right)) || (isNumber(right.type.kind) && measured(left))
    ? "Add the unit to the plain number."
    : null;
