import type { Span } from "../base/span.ts";
import { type Fault, fault, mend } from "../diagnostics/diagnostic.ts";
import type { UnitPhrase } from "../parser/tree.ts";
import { type AmbiguousUnit, OUNCE_OF_VOLUME } from "../units/ambiguous.ts";
import { dimension, sameDimension } from "../units/dimension.ts";
import type { Kind } from "../values/kind.ts";

/** A word that two measures share, refused with its choices. */
export const ambiguous = (span: Span, { word, choices }: Pick<AmbiguousUnit, "word" | "choices">): Fault =>
  fault(
    "ambiguous-unit",
    span,
    { word, choices },
    choices.map(({ symbol }) => mend(`Write ${symbol}`, span, symbol)),
  );

const VOLUME = dimension({ length: 3 });

const OUNCE_SPELLINGS: ReadonlySet<string> = new Set([OUNCE_OF_VOLUME.word, ...OUNCE_OF_VOLUME.names]);

/** The fault of a figure whose unit is a bare `oz` where a volume is wanted; null where it is anything else. */
export function ounceOfVolume(written: UnitPhrase | null, wanted: Kind): Fault | null {
  if (written === null || wanted.is !== "quantity" || !sameDimension(wanted.dimension, VOLUME)) return null;
  const [only, ...others] = written.factors;
  const ounce = others.length === 0 && only?.power.n === 1 && OUNCE_SPELLINGS.has(only.spelling);
  return ounce ? ambiguous(written.span, OUNCE_OF_VOLUME) : null;
}
