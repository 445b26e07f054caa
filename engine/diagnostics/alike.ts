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

/** Every replacement once, in order. */
function together(mends: readonly Mend[]): readonly Replacement[] {
  const all = new Map(
    mends.flatMap(({ replace }) => replace.map((each) => [`${each.span.start} ${each.span.end}`, each])),
  );
  return [...all.values()].toSorted((a, b) => a.span.start - b.span.start);
}

/**
 * Makes slips of several kinds be mended at once where each has one mend that is `certain`: `1,5 kg at 60F` is one button. Where a
 * choice is left, as of `1,5 gal`, each choice mends what is certain too.
 */
export function mendTogether(faults: readonly Fault[], certain: (fault: Fault) => boolean): readonly Fault[] {
  const sure = faults.filter((fault) => fault.mends.length === 1 && certain(fault));
  const all = together(sure.flatMap(({ mends }) => mends));
  if (sure.length === 0 || !apart(all)) return faults;
  return faults.map((fault) => {
    if (fault === sure[0] && all.length > (fault.mends[0]?.replace.length ?? 0))
      return {
        ...fault,
        mends: [{ label: all.length === 2 ? "Mend both" : `Mend all ${all.length}`, replace: all }, ...fault.mends],
      };
    if (fault.mends.length < 2) return fault;
    return {
      ...fault,
      mends: fault.mends.map((mend) => {
        const more = together([mend, { label: "", replace: all }]);
        return ALONE.has(mend.label) || !apart(more) ? mend : { ...mend, replace: more };
      }),
    };
  });
}
