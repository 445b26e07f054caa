import { type Fault, fault, mend } from "../diagnostics/diagnostic.ts";
import type { Names, Scope } from "./environment.ts";
import { inTheirPlace, overlap } from "./places.ts";

/** The mend of `in` and `to` before a unit. */
const CONVERSION = "Write as";

/** Where a faulty formula calls a line by its label, `Malt in`, that is what is told, with the line's name as the mend. */
export function labelsMeant(stated: string, faults: readonly Fault[], names: Names, scope: Scope): readonly Fault[] {
  const told = names.labelled(stated, scope).flatMap(({ span, names: meant, columns }) => {
    // `malt in kg` asks for a unit where malt is a name, whatever is called Malt in.
    const about = faults.filter((each) => overlap(each.span, span));
    if (about.every(({ mends }) => mends[0]?.label === CONVERSION)) return [];
    return [
      fault(
        "unknown-name",
        span,
        { name: stated.slice(span.start, span.end), near: null, labels: meant, columns },
        meant.map((name) => mend(`Write ${name}`, span, name)),
      ),
    ];
  });
  return inTheirPlace(faults, told);
}
