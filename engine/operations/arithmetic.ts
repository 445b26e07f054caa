import type { Span } from "../base/span.ts";
import { cover } from "../base/span.ts";
import { type Fault, fault } from "../diagnostics/diagnostic.ts";
import { divideUnits, multiplyUnits, PLAIN, powerUnit, printUnit, withoutExtract } from "../units/compound.ts";
import {
  type Dimension,
  dimension,
  divideDimensions,
  isDimensionless,
  multiplyDimensions,
  powerOf,
  powerOfDimension,
  sameDimension,
  samePower,
  withoutBase,
} from "../units/dimension.ts";
import type { ScaleFamily, ShownUnit } from "../units/unit.ts";
import { describe, describeOne } from "../values/describe.ts";
import { type Kind, NUMBER, quantity, type Type, UNKNOWN } from "../values/kind.ts";
import { ounceOfVolume } from "./ambiguity.ts";
import { differenceUnit, FAMILIES, linearShown } from "./families.ts";
import { asDifference, withUnit } from "./mends.ts";
import type { Operand, Ruled } from "./operand.ts";
import { sharedRows } from "./rows.ts";

/*
 * Which kinds combine into which, for + - * / ^ and the sign: the one place that says so. Rules see types only.
 */

const EXTRACT = dimension({ extract: 1 });
const MASS = dimension({ mass: 1 });
const VOLUME = dimension({ length: 3 });
const UNKNOWN_TYPE: Type = { kind: UNKNOWN, unit: null, rows: null };

/** At the start of a sentence: `Mass (kg)`. */
const describeOperand = ({ type }: Operand): string => describe(type.kind, type.unit);
/** One of its kind: `a mass (kg)`. */
const operandAsOne = ({ type }: Operand): string => describeOne(type.kind, type.unit);

/** The operands' rows, or the fault that columns of different tables met. */
function rowsOf(operands: readonly Operand[], span: Span): { rows: string | null } | { fault: Fault } {
  const rows = sharedRows(operands.map((operand) => operand.type));
  if (rows !== undefined) return { rows };
  const names = [...new Set(operands.map((operand) => operand.type.rows).filter((name) => name !== null))];
  return {
    fault: fault("column-lengths", span, {
      says: `These columns have different rows (${names.join("; ")}). Bring them together with matching or interpolate.`,
    }),
  };
}

/** Runs `rule` once no operand is unknown and all share their rows, and puts the rows on its result. */
export function overRows(
  operands: readonly Operand[],
  span: Span,
  rule: () => { kind: Kind; unit: ShownUnit | null } | Fault,
): Ruled {
  if (operands.some((operand) => operand.type.kind.is === "unknown")) return UNKNOWN_TYPE;
  const shared = rowsOf(operands, span);
  if ("fault" in shared) return shared.fault;
  const ruled = rule();
  return "code" in ruled ? ruled : { ...ruled, rows: shared.rows };
}

/** What might have been meant by adding a volume to a mass, and their like. */
function hintFor(left: Dimension, right: Dimension): string | null {
  const meets = (a: Dimension, b: Dimension): boolean =>
    (sameDimension(left, a) && sameDimension(right, b)) || (sameDimension(left, b) && sameDimension(right, a));
  if (meets(MASS, VOLUME)) return "To turn volume into mass, multiply by a density.";
  if (isDimensionless(left) || isDimensionless(right)) return "Write the unit of the plain number.";
  return null;
}

/** A tenth is added to something by multiplying it. */
function shareHint(did: string, of: Type, { unit }: Type): string | null {
  if (
    unit === null ||
    printUnit(unit) !== "%" ||
    (of.unit !== null && printUnit(of.unit).startsWith("%")) ||
    (did !== "added" && did !== "subtracted")
  )
    return null;
  return `A share of something is ${did} by multiplying it, such as by (1 ${did === "added" ? "+" : "-"} 10 %).`;
}

const unlike = (
  did: "added" | "subtracted" | "compared" | "combined",
  left: Operand,
  right: Operand,
  span: Span,
): Fault =>
  ounceOfVolume(left.written, right.type.kind) ??
  ounceOfVolume(right.written, left.type.kind) ??
  fault(
    "unlike-units",
    span,
    {
      did,
      left: describeOperand(left),
      right: describeOperand(right),
      hint:
        left.type.kind.is === "quantity" && right.type.kind.is === "quantity"
          ? (shareHint(did, left.type, right.type) ?? hintFor(left.type.kind.dimension, right.type.kind.dimension))
          : mixedHint(left.type.kind, right.type.kind),
    },
    did === "added" || did === "subtracted" || did === "combined"
      ? withUnit(left, right, ({ type }) => changeOf(type)?.unit ?? null)
      : [],
  );

/** A reading met a quantity that is not its difference. */
function mixedHint(left: Kind, right: Kind): string | null {
  const family = left.is === "reading" ? left.family : right.is === "reading" ? right.family : null;
  if (family === null || left.is === right.is) return null;
  return FAMILIES[family].example;
}

/** + and −: like kinds; a reading and its difference; two readings of one family only subtracted. */
export function addRule(left: Operand, right: Operand, did: "added" | "subtracted"): Ruled {
  const span = cover(left.span, right.span);
  return overRows([left, right], span, () => {
    const [a, b] = [left.type.kind, right.type.kind];
    if (a.is === "quantity" && b.is === "quantity") {
      if (sameDimension(a.dimension, b.dimension))
        return { kind: a, unit: left.zero ? right.type.unit : left.type.unit };
      if (left.zero) return { kind: b, unit: right.type.unit };
      if (right.zero) return { kind: a, unit: left.type.unit };
      return unlike(did, left, right, span);
    }
    if (a.is === "reading" && b.is === "reading") {
      if (a.family !== b.family) return mixedInstants(a.family, b.family, span) ?? unlike(did, left, right, span);
      const family = FAMILIES[a.family];
      if (did === "subtracted")
        return { kind: quantity(family.difference), unit: differenceUnit(a.family, left.type.unit) };
      return fault("sum-of-readings", span, { family: family.noun, hint: family.example }, asDifference(right));
    }
    if (a.is === "reading" && b.is === "quantity" && sameDimension(b.dimension, FAMILIES[a.family].difference))
      return { kind: a, unit: left.type.unit };
    if (
      did === "added" &&
      b.is === "reading" &&
      a.is === "quantity" &&
      sameDimension(a.dimension, FAMILIES[b.family].difference)
    )
      return { kind: b, unit: right.type.unit };
    return unlike(did, left, right, span);
  });
}

export function mixedInstants(a: ScaleFamily, b: ScaleFamily, span: Span): Fault | null {
  if (!a.endsWith("instant") || !b.endsWith("instant")) return null;
  return fault("syntax", span, {
    says: "A time with a zone and one without can only meet when the head of the file names the brewery's zone, such as zone Europe/London.",
  });
}

type Done = "multiplied" | "divided" | "raised" | "negated";

const scaled = (family: ScaleFamily, did: Done, span: Span): Fault =>
  fault("scaled-reading", span, { what: `${FAMILIES[family].noun} reading`, did, hint: hintForScaled(family) });

/** What was done to a gravity or a difference of gravities, neither of which may be scaled. */
const scaledGravity = (operand: Operand, did: Done, span: Span): Fault =>
  isExtract(operand.type.kind)
    ? fault("scaled-reading", span, { what: "gravity difference", did, hint: hintForScaled("gravity") })
    : scaled("gravity", did, span);

const hintForScaled = (family: ScaleFamily): string =>
  family === "gravity"
    ? "Use extract_mass for the extract in a volume of wort, points for gravity points, or alcohol_by_volume for alcohol."
    : `A difference can be scaled. ${FAMILIES[family].example}`;

const isExtract = (kind: Kind): boolean => kind.is === "quantity" && sameDimension(kind.dimension, EXTRACT);
const isGravity = (kind: Kind): boolean => kind.is === "reading" && kind.family === "gravity";

/** Extract times a mass is a mass of extract; times a quantity per °P it cancels the °P; null: neither. */
function timesExtract(other: Operand): { kind: Kind; unit: ShownUnit | null } | null {
  const kind = other.type.kind;
  if (kind.is !== "quantity") return null;
  if (sameDimension(kind.dimension, MASS)) return { kind, unit: other.type.unit };
  if (!samePower(powerOf(kind.dimension, "extract"), { n: -1, d: 1 })) return null;
  return { kind: quantity(withoutBase(kind.dimension, "extract")), unit: withoutExtract(linearShown(other.type)) };
}

/** `*`: quantities multiply; gravity and its differences only a mass or what is per °P; no other reading at all. */
export function multiplyRule(left: Operand, right: Operand): Ruled {
  const span = cover(left.span, right.span);
  return overRows([left, right], span, () => {
    const [a, b] = [left.type.kind, right.type.kind];
    for (const [one, other] of [
      [left, right],
      [right, left],
    ] as const) {
      const kind = one.type.kind;
      if (isGravity(kind) || isExtract(kind)) return timesExtract(other) ?? scaledGravity(one, "multiplied", span);
    }
    if (a.is === "reading") return scaled(a.family, "multiplied", span);
    if (b.is === "reading") return scaled(b.family, "multiplied", span);
    if (a.is !== "quantity" || b.is !== "quantity") return unlike("combined", left, right, span);
    return {
      kind: quantity(multiplyDimensions(a.dimension, b.dimension)),
      unit: multiplyUnits(linearShown(left.type), linearShown(right.type)),
    };
  });
}

/** `/`: quantities divide; gravity by gravity and differences by either are plain numbers; no other reading at all. */
export function divideRule(left: Operand, right: Operand): Ruled {
  const span = cover(left.span, right.span);
  return overRows([left, right], span, () => {
    const [a, b] = [left.type.kind, right.type.kind];
    const gravities = (isGravity(a) && isGravity(b)) || (isExtract(a) && (isExtract(b) || isGravity(b)));
    if (gravities) return { kind: NUMBER, unit: PLAIN };
    if (isGravity(a) || isExtract(a)) return scaledGravity(left, "divided", span);
    if (isGravity(b) || isExtract(b)) return scaledGravity(right, "divided", span);
    if (a.is === "reading") return scaled(a.family, "divided", span);
    if (b.is === "reading") return scaled(b.family, "divided", span);
    if (a.is !== "quantity" || b.is !== "quantity") return unlike("combined", left, right, span);
    return {
      kind: quantity(divideDimensions(a.dimension, b.dimension)),
      unit: divideUnits(linearShown(left.type), linearShown(right.type)),
    };
  });
}

/** `^`: a plain number to any plain number; a quantity to a power that is written out. */
export function powerRule(base: Operand, exponent: Operand): Ruled {
  const span = cover(base.span, exponent.span);
  return overRows([base, exponent], span, () => {
    const [a, b] = [base.type.kind, exponent.type.kind];
    if (a.is === "reading") return scaled(a.family, "raised", span);
    if (a.is !== "quantity") return unlike("combined", base, exponent, span);
    if (b.is !== "quantity" || !isDimensionless(b.dimension))
      return fault("unlike-units", exponent.span, {
        did: "combined",
        left: describeOperand(base),
        right: describeOperand(exponent),
        hint: "An exponent is a plain number; a power of ten is written 1e6.",
      });
    if (isDimensionless(a.dimension)) return { kind: NUMBER, unit: PLAIN };
    if (isExtract(a)) return scaledGravity(base, "raised", span);
    if (exponent.constant === null)
      return fault("syntax", exponent.span, {
        says: "The power of a quantity must be a number that is written out, such as ^2, so that its unit is known.",
      });
    return {
      kind: quantity(powerOfDimension(a.dimension, exponent.constant)),
      unit: powerUnit(linearShown(base.type), exponent.constant),
    };
  });
}

/** The sign: a reading turned round means nothing. */
export function negateRule(operand: Operand, span: Span): Ruled {
  return overRows([operand], span, () => {
    const { kind, unit } = operand.type;
    if (kind.is === "reading") return scaled(kind.family, "negated", span);
    if (kind.is !== "quantity")
      return fault("unlike-units", span, {
        did: "combined",
        left: "A sign",
        right: describeOperand(operand),
        hint: null,
      });
    return { kind, unit };
  });
}

/** The kind that two branches, or two things compared or chosen between, have in common. */
export function commonKind(left: Operand, right: Operand): { kind: Kind; unit: ShownUnit | null } | null {
  const [a, b] = [left.type.kind, right.type.kind];
  if (a.is === "quantity" && b.is === "quantity") {
    if (sameDimension(a.dimension, b.dimension))
      return { kind: a, unit: left.zero && !right.zero ? right.type.unit : left.type.unit };
    if (left.zero) return { kind: b, unit: right.type.unit };
    if (right.zero) return { kind: a, unit: left.type.unit };
    return null;
  }
  if (a.is === "reading" && b.is === "reading") return a.family === b.family ? { kind: a, unit: left.type.unit } : null;
  return a.is === b.is && a.is !== "quantity" ? { kind: a, unit: left.type.unit } : null;
}

/** What a change of `type` is: readings change by their difference, quantities by themselves. Null where neither. */
export function changeOf(type: Type): { kind: Kind; unit: ShownUnit | null } | null {
  if (type.kind.is === "quantity") return { kind: type.kind, unit: type.unit };
  if (type.kind.is !== "reading") return null;
  return { kind: quantity(FAMILIES[type.kind.family].difference), unit: differenceUnit(type.kind.family, type.unit) };
}

export { describeOperand, operandAsOne, unlike };
