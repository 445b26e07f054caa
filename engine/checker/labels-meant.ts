import type { Span } from "../base/span.ts";
import { type Fault, fault, mend } from "../diagnostics/diagnostic.ts";
import type { ParsedFormula } from "../parser/tree.ts";
import type { Labelled, Names, Scope } from "./environment.ts";

const overlap = (a: Span, b: Span): boolean => a.start < b.end && b.start < a.end;

/** The mend of `in` and `to` before a unit. */
const CONVERSION = "Write as";

const QUOTED = /"(?:[^"]|"")*"?/g;

/**
 * Where a faulty formula calls a line by its label, `Malt in`, that is what is told, with the line's name as the mend: one fault in the
 * place of all that the words of the label brought about.
 */
export function labelsMeant(
  { text, note }: ParsedFormula,
  faults: readonly Fault[],
  names: Names,
  scope: Scope,
): readonly Fault[] {
  if (faults.length === 0) return faults;
  const stated = note === null ? text : text.slice(0, note.span.start);
  const found = names.labelled(
    stated.replace(QUOTED, (quoted) => "\0".repeat(quoted.length)),
    scope,
  );
  const told: Labelled[] = [];
  for (const one of found) {
    const about = faults.filter(({ span }) => overlap(span, one.span));
    // `malt in kg` asks for a unit where malt is a name, whatever is called Malt in.
    const faulty = about.some(({ mends }) => mends[0]?.label !== CONVERSION);
    if (faulty && !told.some(({ span }) => overlap(span, one.span))) told.push(one);
  }
  if (told.length === 0) return faults;
  const others = faults.filter((each) => !told.some(({ span }) => overlap(span, each.span)));
  const labels = told.map(({ span, names: meant, columns }) =>
    fault(
      "unknown-name",
      span,
      { name: text.slice(span.start, span.end), near: null, labels: meant, columns },
      meant.map((name) => mend(`Write ${name}`, span, name)),
    ),
  );
  return [...labels, ...others].toSorted((a, b) => a.span.start - b.span.start);
}
