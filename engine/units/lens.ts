import { ONE, sameRational } from "../base/rational.ts";
import { BASE_BOOK } from "./book.ts";
import { compoundOf, divideUnits } from "./compound.ts";
import { fromCoherent, toCoherent } from "./convert.ts";
import { type Dimension, multiplyDimensions, sameDimension, withoutBase } from "./dimension.ts";
import { type Step, stepOf } from "./format.ts";
import { unitNamed } from "./phrase.ts";
import { LENS_ROWS, type LensRow, type LensSize, MONEY_PER } from "./rows/lenses.ts";
import { CONCENTRATION } from "./rows/row.ts";
import type { ScaleFamily, ShownUnit } from "./unit.ts";

/** How results are shown to this reader. It never changes a value. */
export type Lens = "as-written" | "metric" | "US" | "imperial";
export const LENSES: readonly Lens[] = ["as-written", "metric", "US", "imperial"];

/** What a lens shows a value in, and what it rounds to there. */
export interface LensUnit {
  readonly unit: ShownUnit;
  readonly step: Step;
}

/** The step that is written so: `0.01` keeps two decimals. */
const stepWritten = (text: string): Step => ({ figure: Number(text), decimals: text.split(".")[1]?.length ?? 0 });

const rowFor = (rows: readonly LensRow[], reads: Dimension | ScaleFamily): LensRow | undefined =>
  rows.find(({ of }) =>
    typeof of === "string" || typeof reads === "string" ? of === reads : sameDimension(of, reads),
  );

const placeFor = (sizes: readonly LensSize[], value: number): number => {
  const found = sizes.findIndex(([below]) => Math.abs(value) < below);
  return found < 0 ? sizes.length - 1 : found;
};

const sizeFor = (sizes: readonly LensSize[], value: number): LensSize | undefined => sizes[placeFor(sizes, value)];

/** What a step in `unit` comes to at a coherent value, which on a curve depends on where it is. */
const stepAt = (value: number, unit: ShownUnit, step: number): number =>
  Math.abs(toCoherent(fromCoherent(value, unit) + step, unit) - value);

/** Steps this much alike are the same: beyond it lies the arithmetic. */
const SAME_STEP = 1 + 1e-6;
/** A lens shows no finer than so many decimals. */
const MOST_DECIMALS = 8;

/** A step of the lens that is no coarser than `wanted`: its own, or one with more decimals. */
function keeping(value: number, unit: ShownUnit, { figure, decimals }: Step, wanted: number): Step {
  let step = { figure, decimals };
  while (step.decimals < MOST_DECIMALS && stepAt(value, unit, step.figure) > wanted * SAME_STEP)
    step = stepOf(step.decimals + 1);
  return step;
}

/** The step `own` of `unit`, or one with more decimals: no coarser at a coherent value than what was typed, by its last digit. */
export const stepKeeping = (value: number, unit: ShownUnit, own: Step, typedIn: ShownUnit, typed: Step): Step =>
  keeping(value, unit, own, stepAt(value, typedIn, typed.figure));

/**
 * The size that shows a value no more coarsely than `wanted`: the one at `place` with one decimal more at most, else a smaller
 * one; where none does, the first with as many decimals as it takes.
 */
function keptBy(sizes: readonly LensSize[], place: number, value: number, wanted: number): LensUnit | null {
  let first: LensUnit | null = null;
  for (let at = place; at >= 0; at -= 1) {
    const [, text, written] = sizes[at] as LensSize;
    const [unit, own] = [unitNamed(text, BASE_BOOK), stepWritten(written)];
    const kept = { unit, step: keeping(value, unit, own, wanted) };
    first ??= kept;
    if (kept.step.decimals <= own.decimals + 1) return kept;
  }
  return first;
}

/** Less than this share of the written unit is what adding and subtracting leave behind where nothing should be. */
const NOTHING = 1e-9;

/** What chooses the row: nothing has no size, so one of the written unit stands for it (0.0 kg, not 0 mg). */
const sizeOf = (value: number, written: ShownUnit | null): number =>
  written?.is === "compound" && Math.abs(value) < NOTHING * written.factor ? written.factor : value;

/** A dissolved substance keeps its unit in every lens: mg/L, µg/L, ppm and ppb are what water reports and laboratories print. */
const isDissolved = (written: ShownUnit | null): boolean =>
  written?.is === "compound" &&
  sameDimension(written.dimension, CONCENTRATION) &&
  written.terms.some(({ unit }) => ["mg", "µg", "ppm", "ppb"].includes(unit.symbol));

function moneyPer(lens: Exclude<Lens, "as-written">, reads: Dimension): LensUnit | null {
  const [currency, power] = reads.powers.find(([base]) => base.startsWith("currency:")) ?? [];
  if (!currency || !power || !sameRational(power, ONE)) return null;
  const under = withoutBase(reads, currency);
  const row = MONEY_PER.find(({ of }) => typeof of !== "string" && multiplyDimensions(of, under).powers.length === 0);
  const money = BASE_BOOK.find(currency.slice("currency:".length));
  const [, unit, step] = (row && sizeFor(row[lens], 1)) ?? [];
  if (money?.is !== "linear" || unit === undefined || step === undefined) return null;
  const per = unitNamed(unit, BASE_BOOK);
  return per.is === "compound" ? { unit: divideUnits(compoundOf(money), per), step: stepWritten(step) } : null;
}

/**
 * What `lens` shows a value of a kind in; null: it stays as written. `reads` is the dimension of a quantity or the family of
 * a reading, `value` coherent (its size chooses the row; for a column its largest), `written` what it would be shown in
 * without a lens, `step` the step that is written in it: a lens shows no more coarsely.
 */
export function lensUnit(
  lens: Lens,
  reads: Dimension | ScaleFamily,
  value: number,
  written: ShownUnit | null,
  step: Step | null = null,
): LensUnit | null {
  if (lens === "as-written" || isDissolved(written)) return null;
  const row = rowFor(LENS_ROWS, reads);
  if (!row) return typeof reads === "string" ? null : moneyPer(lens, reads);
  const place = placeFor(row[lens], sizeOf(value, written));
  return keptBy(
    row[lens],
    place,
    value,
    step && written ? stepAt(value, written, step.figure) : Number.POSITIVE_INFINITY,
  );
}
