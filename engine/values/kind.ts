import { DIMENSIONLESS, type Dimension, sameDimension } from "../units/dimension.ts";
import type { ScaleFamily, ShownUnit } from "../units/unit.ts";

/** What the checker knows of a value before there is one. `unknown` is the kind of what is already faulty: it never causes a second fault. */
export type Kind =
  | { readonly is: "quantity"; readonly dimension: Dimension }
  | { readonly is: "reading"; readonly family: ScaleFamily }
  | { readonly is: "text" }
  | { readonly is: "truth" }
  | { readonly is: "unknown" };

export const NUMBER: Kind = { is: "quantity", dimension: DIMENSIONLESS };
export const TEXT: Kind = { is: "text" };
export const TRUTH: Kind = { is: "truth" };
export const UNKNOWN: Kind = { is: "unknown" };
export const INSTANT: Kind = { is: "reading", family: "instant" };
export const ZONED_INSTANT: Kind = { is: "reading", family: "zoned instant" };
export const quantity = (dimension: Dimension): Kind => ({ is: "quantity", dimension });
export const reading = (family: ScaleFamily): Kind => ({ is: "reading", family });

export const isNumber = (kind: Kind): boolean => kind.is === "quantity" && kind.dimension.powers.length === 0;

export function sameKind(a: Kind, b: Kind): boolean {
  if (a === b) return true;
  if (a.is === "quantity") return b.is === "quantity" && sameDimension(a.dimension, b.dimension);
  if (a.is === "reading") return b.is === "reading" && a.family === b.family;
  return a.is === b.is;
}

/** Kind, the unit its figures are shown in as written, and the set of rows for a column. */
export interface Type {
  readonly kind: Kind;
  /** Null for text, truth, instants and what is unknown. */
  readonly unit: ShownUnit | null;
  /** Null for a single value; for a column, the identity of its rows: two columns go row by row exactly when these are equal. */
  readonly rows: string | null;
}

export const isInstant = (kind: Kind): boolean => kind.is === "reading" && kind.family.endsWith("instant");
