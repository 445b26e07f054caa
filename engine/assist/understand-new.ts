import type { Lens } from "../units/lens.ts";
import type { Model } from "../workbook/model.ts";
import type { Context } from "./context.ts";
import { preview } from "./preview.ts";
import { figuresMeant } from "./typed-figure.ts";
import { instantsMeant } from "./typed-instant.ts";
import { dayOrMonth, settledOn, type Understood, waysOf } from "./understand.ts";

/**
 * Understands a figure or a date that was typed where a formula is to be made, as a field would: `152F`, `1,5`, `? 36 1/8 inch`.
 * Null where the text is sound as it stands, or no such shorthand. Never throws.
 */
export function understandNew(model: Model, lens: Lens, context: Context, typed: string): Understood | null {
  const sound = (formula: string): boolean => preview(model, lens, context, formula).faults.length === 0;
  const [, mark = "", body = ""] = /^(\??)\s*(.*?)\s*$/s.exec(typed) ?? [];
  if (body === "" || sound(typed)) return null;
  const figures = figuresMeant(body, null, null, model.head);
  const dates = figures.ok ? null : instantsMeant(body, null);
  const literals = figures.ok ? figures.meant.map(({ literal }) => literal) : dates?.ok ? dates.meant : [];
  const [only, ...others] = literals
    .map((literal) => ({
      label: literal.replace(/(?<=^[\d-]+)T/, " "),
      reads: literal.replace(/(?<=^[\d-]+)T/, " "),
      formula: mark === "" ? literal : `? ${literal}`,
    }))
    .filter(({ formula }) => sound(formula));
  if (only === undefined) return null;
  const asks = `"${body}" can be read in ${waysOf(others)}. Which is meant?`;
  return settledOn(only, others, figures.ok ? asks : dayOrMonth(body));
}
