import type { Fault, Mend } from "./diagnostic.ts";

type Replacement = Mend["replace"][number];

/** A mend that puts something between two operands is meant for its place alone. */
const ALONE: ReadonlySet<string> = new Set(["Multiply them", "Join them"]);

const keyOf = ({ code }: Fault, { label }: Mend): string => `${code} ${label}`;

/** Whether replacements, in order, leave each other alone. */
const apart = (all: readonly Replacement[]): boolean =>
  all.every(({ span }, at) => at === 0 || (all[at - 1]?.span.end ?? 0) <= span.start);

/** Makes every slip of one kind be mended at once: `gal` in three places of a formula is one button. */
export function mendAlike(faults: readonly Fault[]): readonly Fault[] {
  if (faults.length < 2) return faults;
  const alike = new Map<string, Replacement[]>();
  for (const fault of faults)
    for (const mend of fault.mends) {
      const known = alike.get(keyOf(fault, mend));
      if (known === undefined) alike.set(keyOf(fault, mend), [...mend.replace]);
      else known.push(...mend.replace);
    }
  return faults.map((fault) => ({
    ...fault,
    mends: fault.mends.map((mend) => {
      const all = (alike.get(keyOf(fault, mend)) ?? []).toSorted((a, b) => a.span.start - b.span.start);
      return ALONE.has(mend.label) || all.length === mend.replace.length || !apart(all)
        ? mend
        : { ...mend, replace: all };
    }),
  }));
}
