import { expect } from "vitest";
import { BASE_BOOK } from "../../engine/units/book.ts";
import { fromCoherent, toCoherent } from "../../engine/units/convert.ts";
import { unitNamed } from "../../engine/units/phrase.ts";
import type { CompoundUnit, ShownUnit } from "../../engine/units/unit.ts";

/** One seed for every random law here; fast-check prints it with the counter-example. */
export const SEED = 20260302;

export const unit = (text: string): ShownUnit => unitNamed(text, BASE_BOOK);

export function compound(text: string): CompoundUnit {
  const found = unit(text);
  if (found.is !== "compound") throw new Error(`${text} is a scale`);
  return found;
}

/** `figure` of one unit, as a figure of another. */
export const convert = (figure: number, from: string, to: string): number =>
  fromCoherent(toCoherent(figure, unit(from)), unit(to));

/** Equal to the last two bits of a float64, or within `tolerance` where the source rounds. */
export function expectClose(got: number, wanted: number, tolerance: number | "exact"): void {
  const allowed = tolerance === "exact" ? Math.max(1, Math.abs(wanted)) * 4 * Number.EPSILON : tolerance;
  expect(Math.abs(got - wanted), `${got} against ${wanted}`).toBeLessThanOrEqual(allowed);
}
