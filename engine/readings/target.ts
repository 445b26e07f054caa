import type { ShownUnit } from "../units/unit.ts";
import type { Kind } from "../values/kind.ts";

/** A measured column of the table that is read into. */
export interface TargetColumn {
  readonly name: string;
  readonly label: string;
  readonly kind: Kind;
  /** The unit that bare entries are in; null for text, truths and instants. */
  readonly unit: ShownUnit | null;
}

/** The table that is read into: its measured columns in order. */
export interface Target {
  readonly columns: readonly TargetColumn[];
  /** The zone in the workbook's head, which lets zoned instants stand beside unzoned ones; null for none. */
  readonly zone: string | null;
}

/** How a unit is written behind an entry; empty for a plain number. */
export const unitText = (unit: ShownUnit | null): string =>
  unit === null ? "" : unit.is === "scale" ? unit.symbol : unit.text;

export const isInstant = (kind: Kind): boolean =>
  kind.is === "reading" && (kind.family === "instant" || kind.family === "zoned instant");

/** Whether figures in `unit` can stand in a column of `kind`. */
export function unitFits(unit: ShownUnit, kind: Kind): boolean {
  const reads = unit.is === "scale" ? unit.reads : unit.dimension;
  if (kind.is === "reading") return reads === kind.family;
  return kind.is === "quantity" && typeof reads !== "string" && reads.key === kind.dimension.key;
}
