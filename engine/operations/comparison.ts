import { cover } from "../base/span.ts";
import { fault } from "../diagnostics/diagnostic.ts";
import { isInstant, isNumber, type Kind, TRUTH } from "../values/kind.ts";
import { ounceOfVolume } from "./ambiguity.ts";
import { commonKind, describeOperand, mixedInstants, overRows } from "./arithmetic.ts";
import { withUnit } from "./mends.ts";
import type { Operand, Ruled } from "./operand.ts";

export type Comparison = "is" | "is not" | "<" | "<=" | ">" | ">=";

/** Two figures count as equal within this share of the larger: far below what any gauge tells, far above what rounding leaves. */
export const EQUAL_WITHIN = 1e-9;

export const equalFigures = (a: number, b: number): boolean =>
  a === b || Math.abs(a - b) <= EQUAL_WITHIN * Math.max(Math.abs(a), Math.abs(b));

/** Seconds since 1970 are so large that a relative tolerance would merge neighbours: instants are equal to the microsecond. */
const INSTANT_WITHIN = 1e-6;
const equalInstants = (a: number, b: number): boolean => Math.abs(a - b) <= INSTANT_WITHIN;

/** When two figures of a kind count as equal. */
export const equalOf = (kind: Kind): ((a: number, b: number) => boolean) =>
  isInstant(kind) ? equalInstants : equalFigures;

const TRUTHS: { readonly [C in Comparison]: (equal: boolean, a: number, b: number) => boolean } = {
  is: (equal) => equal,
  "is not": (equal) => !equal,
  "<": (equal, a, b) => !equal && a < b,
  "<=": (equal, a, b) => equal || a < b,
  ">": (equal, a, b) => !equal && a > b,
  ">=": (equal, a, b) => equal || a > b,
};

/** Compares coherent figures: 1, 0, or NaN where one is missing. `<=`, `is` and `within` agree on what is equal. */
export function compareFigures(comparison: Comparison, kind: Kind): (a: number, b: number) => number {
  const truth = TRUTHS[comparison];
  const equal = equalOf(kind);
  return (a, b) => (Number.isNaN(a) || Number.isNaN(b) ? Number.NaN : truth(equal(a, b), a, b) ? 1 : 0);
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
