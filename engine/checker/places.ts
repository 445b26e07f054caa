import type { Span } from "../base/span.ts";
import type { Fault } from "../diagnostics/diagnostic.ts";
import type { ParsedFormula } from "../parser/tree.ts";

export const overlap = (a: Span, b: Span): boolean => a.start < b.end && b.start < a.end;

const QUOTED = /"(?:[^"]|"")*"?/g;

/** A formula without its note, and with nothing in its quoted texts; places stay where they are. */
export const statedText = ({ text, note }: ParsedFormula): string =>
  (note === null ? text : text.slice(0, note.span.start)).replace(QUOTED, (quoted) => "\0".repeat(quoted.length));

/** Faults that tell what is meant, in the place of all that the same words brought about; those that no fault touches are left out. */
export function inTheirPlace(faults: readonly Fault[], told: readonly Fault[]): readonly Fault[] {
  const meant: Fault[] = [];
  for (const one of told)
    if (faults.some(({ span }) => overlap(span, one.span)) && !meant.some(({ span }) => overlap(span, one.span)))
      meant.push(one);
  if (meant.length === 0) return faults;
  const others = faults.filter((each) => !meant.some(({ span }) => overlap(span, each.span)));
  return [...meant, ...others].toSorted((a, b) => a.span.start - b.span.start);
}
