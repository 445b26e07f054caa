import type { Span } from "../base/span.ts";
import { type Fault, fault, mend } from "../diagnostics/diagnostic.ts";
import { ambiguous } from "../operations/ambiguity.ts";
import { FAMILIES } from "../operations/families.ts";
import type { UnitPhrase } from "../parser/tree.ts";
import type { UnitBook } from "../units/book.ts";
import { printUnit } from "../units/compound.ts";
import { dimension, isDimensionless, isExcessive, sameDimension } from "../units/dimension.ts";
import { resolvePhrase } from "../units/phrase.ts";
import type { ShownUnit } from "../units/unit.ts";
import { describe } from "../values/describe.ts";
import { type Kind, quantity, reading, type Type } from "../values/kind.ts";
import { EXCESSIVE_POWER } from "./check.ts";
import { unitsMeant } from "./meant.ts";

/** The kind of a figure written in a unit. */
export const kindOfUnit = (unit: ShownUnit): Kind => {
  if (unit.is === "compound") return quantity(unit.dimension);
  return typeof unit.reads === "string" ? reading(unit.reads) : quantity(unit.reads);
};

/** Looks up a unit phrase, or says which of its words is wrong and how to mend it. */
export function unitOf(phrase: UnitPhrase, book: UnitBook): ShownUnit | Fault {
  const resolved = resolvePhrase(phrase.factors, book);
  if ("unit" in resolved) {
    const { unit } = resolved;
    const excessive = unit.is === "compound" && isExcessive(unit.dimension);
    return excessive ? fault("syntax", phrase.span, { says: EXCESSIVE_POWER }) : unit;
  }
  const at =
    "unknown" in resolved ? resolved.unknown : "ambiguous" in resolved ? resolved.ambiguous : resolved.noDifference;
  const factor = phrase.factors[at];
  const span = factor?.span ?? phrase.span;
  if ("unknown" in resolved) {
    const spelling = factor?.spelling ?? "";
    const near = unitsMeant(spelling, book);
    return fault(
      "unknown-unit",
      span,
      { spelling, near },
      near.map((unit) => mend(`Write ${unit}`, span, unit)),
    );
  }
  if ("ambiguous" in resolved) return ambiguous(span, resolved);
  return fault("not-a-unit-for", span, {
    unit: resolved.symbol,
    of: "A compound",
    hint: `A difference of ${resolved.symbol} depends on where it is taken; write °P in a compound.`,
  });
}

const MASS = dimension({ mass: 1 });
const VOLUME = dimension({ length: 3 });

/** Why a kind cannot be shown in a unit, where a reason helps. */
function hintFor(kind: Kind, unit: ShownUnit): string | null {
  const shown = kindOfUnit(unit);
  if (kind.is === "quantity" && shown.is === "reading") {
    if (!sameDimension(kind.dimension, FAMILIES[shown.family].difference)) return null;
    if (shown.family === "temperature") return `A difference is written Δ${printUnit(unit)}.`;
    if (shown.family === "gravity") return "Δ°P is not a gravity; points gives gravity points, extract_mass a mass.";
    if (shown.family === "absolute pressure")
      return "The two convert only where the ambient pressure is known: absolute_pressure and gauge_pressure.";
  }
  if (kind.is === "reading" && shown.is === "quantity") {
    if (kind.family === "temperature") return "A reading is not a difference; subtract another reading first.";
    if (kind.family === "gravity") return "Use points for gravity points, or extract_mass for the extract in a volume.";
    if (kind.family === "absolute pressure")
      return "The two convert only where the ambient pressure is known: absolute_pressure and gauge_pressure.";
  }
  if (kind.is !== "quantity" || shown.is !== "quantity") return null;
  if (sameDimension(kind.dimension, VOLUME) && sameDimension(shown.dimension, MASS))
    return "To turn volume into mass, multiply by a density.";
  if (sameDimension(kind.dimension, MASS) && sameDimension(shown.dimension, VOLUME))
    return "To turn mass into volume, divide by a density.";
  return isDimensionless(kind.dimension) ? "It has no unit; multiply by a quantity first." : null;
}

/** The type shown in another unit, or why it cannot be. */
export function shownIn(type: Type, unit: ShownUnit, span: Span): Type | Fault {
  const { kind } = type;
  if (kind.is === "unknown") return type;
  const shown = kindOfUnit(unit);
  const fits =
    kind.is === "quantity"
      ? shown.is === "quantity" && sameDimension(shown.dimension, kind.dimension)
      : kind.is === "reading" && shown.is === "reading" && shown.family === kind.family;
  if (fits) return { ...type, unit };
  return fault("not-a-unit-for", span, {
    unit: printUnit(unit),
    of: describe(kind, type.unit),
    hint: hintFor(kind, unit),
  });
}
