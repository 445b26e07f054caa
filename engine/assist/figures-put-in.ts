import type { Span } from "../base/span.ts";
import { eachName } from "../checker/references.ts";
import { quoteText } from "../parser/texts.ts";
import type { ParsedFormula } from "../parser/tree.ts";
import { printUnit } from "../units/compound.ts";
import type { Lens } from "../units/lens.ts";
import type { Type } from "../values/kind.ts";
import { isColumn, type Value } from "../values/value.ts";
import { scopeOf } from "../workbook/lines.ts";
import type { Model } from "../workbook/model.ts";
import { type Shape, shapeIn, shapeOf, showIn, typicalValue } from "../workbook/shape.ts";
import { READY, WAITING } from "../workbook/store.ts";

/** Entries of a column that are written out; a longer one is told by its ends. */
const WRITTEN_ENTRIES = 4;

/** What a ready node holds, short enough to stand in a formula. */
export function brief(model: Model, lens: Lens, node: number): string {
  const value = model.store.value(node);
  return briefly(model, model.typeOf(node), shapeOf(model, node, lens, value), value);
}

/** The same for the value of a part of a formula. */
export const briefPart = (model: Model, lens: Lens, type: Type, value: Value): string =>
  briefly(model, type, shapeIn(type, null, lens, typicalValue(value)), value);

/** A value in short: of a long column the first entries and the last. */
function briefly(model: Model, { kind }: Type, shape: Shape, value: Value): string {
  if (!isColumn(value)) return typeof value === "string" ? quoteText(value) : showIn(value, kind, shape, model).text;
  const { length } = value;
  if (length === 0) return "no entry";
  const entry = (row: number): string => showIn(value[row] ?? null, kind, shape, model).figure || "–";
  const rows =
    length <= WRITTEN_ENTRIES
      ? Array.from({ length }, (_, row) => entry(row))
      : [entry(0), entry(1), "…", entry(length - 1)];
  const unit = shape.unit === null ? "" : printUnit(shape.unit);
  return `${rows.join(", ")} ${unit}`.trim();
}

/** A name's place in the formula, and what stands in it once the figures are put in. */
export interface Put {
  readonly span: Span;
  readonly text: string;
}

/** The names of a formula whose lines hold something, or wait for it, with what they hold. */
export function figuresOf(model: Model, lens: Lens, node: number, { expression }: ParsedFormula): readonly Put[] {
  const origin = model.origins[node];
  const put: Put[] = [];
  if (origin === undefined) return put;
  eachName(expression, model.names, scopeOf(origin), (name, scope) => {
    const found = model.names.resolve(name, scope);
    if (found.is === "fault") return;
    const state = model.store.state(found.node);
    // In a condition on rows a column stands for each of its entries in turn.
    const byRow = scope.filtered !== null && model.names.tableOf(found.node) === scope.filtered;
    if (state === READY && !byRow) put.push({ span: name.span, text: written(model, lens, found.node) });
    else if (state === WAITING) put.push({ span: name.span, text: "?" });
  });
  return put.sort((a, b) => a.span.start - b.span.start);
}

/** A column's entries stand in brackets, so that they are not taken for arguments. */
function written(model: Model, lens: Lens, node: number): string {
  const text = brief(model, lens, node);
  return isColumn(model.store.value(node)) ? `[${text}]` : text;
}

/** The stretch of `text` with figures in the place of names. */
export function putIn(text: string, { start, end }: Span, put: readonly Put[]): string {
  let written = "";
  let at = start;
  for (const each of put) {
    if (each.span.start < at || each.span.end > end) continue;
    written += text.slice(at, each.span.start);
    const before = written.trimEnd().slice(-1);
    const after = text.slice(each.span.end, end).trimStart().charAt(0);
    written += grouped(each.text, before, after) ? `(${each.text})` : each.text;
    at = each.span.end;
  }
  return (written + text.slice(at, end)).replace(/\s+/g, " ").trim();
}

/** Whether a figure needs parentheses between these neighbours: `(3 kg)^2`, `5 - (-2)`. */
const grouped = (figure: string, before: string, after: string): boolean =>
  after === "^" || after === "²" || after === "³" || (figure.startsWith("-") && /[-+*/^−×÷·]/.test(before));
