import { toCoherent } from "../units/convert.ts";
import { type Lens, lensUnit } from "../units/lens.ts";
import type { ShownUnit } from "../units/unit.ts";
import type { Type } from "../values/kind.ts";

/** A reading to be taken is of this size, in the unit it is asked in, where a lens has several units for a kind: litres are gallons then, hectolitres barrels. */
const USUAL_FIGURE = 100;

/** The unit that an empty field shows under a lens, which a bare figure in it takes, and a result that waits; null for what has no unit. */
export function askedUnit({ kind, unit }: Type, lens: Lens): ShownUnit | null {
  const reads = kind.is === "quantity" ? kind.dimension : kind.is === "reading" ? kind.family : null;
  if (reads === null || unit === null) return unit;
  return lensUnit(lens, reads, toCoherent(USUAL_FIGURE, unit), unit)?.unit ?? unit;
}
