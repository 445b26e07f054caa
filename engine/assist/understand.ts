import type { Within } from "../checker/checked.ts";
import { askedType, instantOf, literalOf } from "../checker/literals.ts";
import type { Fault } from "../diagnostics/diagnostic.ts";
import { wordCaution, wordFault } from "../diagnostics/wording.ts";
import { equalTexts } from "../operations/comparison.ts";
import { quoteText, readText } from "../parser/texts.ts";
import type { BlankNode, InstantNode, LiteralNode, Node, TextNode, TruthNode } from "../parser/tree.ts";
import { printUnit } from "../units/compound.ts";
import type { Lens } from "../units/lens.ts";
import type { ShownUnit } from "../units/unit.ts";
import { TEXT, TRUTH, type Type } from "../values/kind.ts";
import { withinCautions } from "../workbook/cautions.ts";
import { askedUnit } from "../workbook/field.ts";
import { BATCH_DATE } from "../workbook/head.ts";
import type { Model } from "../workbook/model.ts";
import { shapeOf, showIn } from "../workbook/shape.ts";
import { READY } from "../workbook/store.ts";
import { nodeNamed } from "./context.ts";
import { figuresMeant, type Meant } from "./typed-figure.ts";
import { instantsMeant } from "./typed-instant.ts";

/** What a field made of what was typed: what is kept, and how it is said before that; or why it is not; or which of several is meant. */
export type Understood =
  | {
      readonly ok: true;
      /** Of a line the whole formula, mark, tail and note as they were; of an entry its text. */
      readonly formula: string;
      /** `66.7 °C`, `152 °F (66.7 °C)`. */
      readonly reads: string;
      /** The same, and behind it, as a sentence, that it lies outside what is accepted. */
      readonly says: string;
    }
  | { readonly ok: false; readonly says: string }
  | {
      readonly ask: true;
      readonly says: string;
      /** `label` is what a choice says, `reads` the same without a caution. */
      readonly choices: readonly Choice[];
    };

/** A field: what it takes, what a bare figure in it is in, and how what it takes is kept. */
interface Field {
  readonly node: number;
  readonly type: Type;
  /** The unit that the field shows. */
  readonly unit: ShownUnit | null;
  readonly keep: (literal: string, meant: Meant | null) => string;
  /** What an emptied field keeps; null: it cannot be emptied. */
  readonly empty: string | null;
}

type Choice = { readonly label: string; readonly reads: string; readonly formula: string };

type Refused = Extract<Understood, { readonly ok: false }>;
const refused = (says: string): Refused => ({ ok: false, says });

/**
 * Understands what was typed in the field of a line, `mash.grain`, or in an entry of a table's measured column, in a row from 0
 * (left out: a new one). Never throws.
 */
export function understand(
  model: Model,
  lens: Lens,
  name: string,
  typed: string,
  column?: string,
  row?: number,
): Understood {
  const node = nodeNamed(model, column === undefined ? name : `${name}.${column}`);
  if (node === null) return refused(`There is no "${column ?? name}" here any more.`);
  const field = model.origins[node]?.is === "column" ? columnField(model, lens, node) : lineField(model, lens, node);
  if ("ok" in field) return field;
  if (typed.trim() === "")
    return field.empty === null
      ? refused("Type a figure. A line is taken away by its menu.")
      : { ok: true, formula: field.empty, reads: "nothing yet", says: "nothing yet" };
  const { kind } = field.type;
  if (kind.is === "text") return readTyped(model, field, typed.trim());
  if (kind.is === "truth") return truthMeant(field, typed.trim());
  if (kind.is === "reading" && kind.family.endsWith("instant")) return instantMeant(model, field, typed, row);
  return figureMeant(model, field, typed);
}

type Written = LiteralNode | InstantNode | TextNode | TruthNode;

const isWritten = (node: Node): node is Written =>
  node.node === "literal" || node.node === "instant" || node.node === "text" || node.node === "truth";

/** The type of what is written out, or asked for. */
function typeWritten(model: Model, node: Written | BlankNode): Type | Fault {
  const { units, zone } = model.head;
  if (node.node === "blank")
    return node.filled === null ? askedType(node.asks, units, zone) : typeWritten(model, node.filled);
  if (node.node === "text") return { kind: TEXT, unit: null, rows: null };
  if (node.node === "truth") return { kind: TRUTH, unit: null, rows: null };
  if (node.node === "instant") return instantOf(node, zone).type;
  const literal = literalOf(node, units);
  return "code" in literal ? literal : literal.type;
}

function lineField(model: Model, lens: Lens, node: number): Field | Refused {
  const text = model.formulaText(node) ?? "";
  const { expression } = model.head.parse(text);
  const written = expression.node === "as" ? expression.operand : expression;
  if (written.node !== "blank" && !isWritten(written))
    return refused("This line is worked out. Open its formula to change it.");
  const type = typeWritten(model, written);
  if ("code" in type) return refused(wordFault(type));
  const { start, end } = written.span;
  const mark = written.node === "blank" ? "? " : "";
  const keep = (literal: string): string => `${text.slice(0, start)}${mark}${literal}${text.slice(end)}`;
  const waiting = written.node === "blank" && written.filled === null;
  return {
    node,
    type,
    unit: waiting ? askedUnit(type, lens) : type.unit,
    keep,
    empty: written.node === "blank" ? keep(asks(written, type)).replace(/\?\s+$/, "?") : null,
  };
}

/** What an emptied blank asks for: what it asked, in the unit it was last filled in. */
function asks({ asks: asked }: BlankNode, type: Type): string {
  if (asked.is === "unit") return type.unit === null ? "" : printUnit(type.unit);
  return asked.is === "number" ? "" : asked.is;
}

function columnField(model: Model, lens: Lens, node: number): Field | Refused {
  const origin = model.origins[node];
  const type = model.typeOf(node);
  if (origin?.is !== "column" || origin.table.item.columns[origin.column]?.formula !== null)
    return refused("This column is worked out. Its formula stands in the header.");
  if (type.kind.is === "unknown") return refused("The line of this column is faulty. Mend it first.");
  const own = type.unit === null ? "" : printUnit(type.unit);
  const shown = shapeOf(model, node, lens, model.store.state(node) === READY ? model.store.value(node) : null);
  // A figure in the column's own unit is kept without it.
  const keep = (literal: string, meant: Meant | null): string =>
    meant?.figure != null && meant.unit !== null && printUnit(meant.unit) === own ? meant.figure : literal;
  return { node, type, unit: shown.unit, keep, empty: "" };
}

function figureMeant(model: Model, field: Field, typed: string): Understood {
  const { kind } = field.type;
  const found = figuresMeant(typed, kind, field.unit, model.head);
  if (!found.ok) return found;
  const readsOf = (meant: Meant): string => {
    const own = field.unit === null || meant.unit === null || printUnit(meant.unit) === printUnit(field.unit);
    const shown = own ? "" : ` (${showIn(meant.value, kind, { unit: field.unit, step: null }, model).text})`;
    return meant.literal + shown;
  };
  const [only, ...others] = found.meant.map((meant) => ({
    label: readsOf(meant) + outside(model, field, meant),
    reads: readsOf(meant),
    formula: field.keep(meant.literal, meant),
  }));
  return only === undefined
    ? refused(`"${typed.trim()}" is no figure that can be read.`)
    : settledOn(only, others, found.asks ?? `"${typed.trim()}" can be read in ${waysOf(others)}. Which is meant?`);
}

/** `two ways`, `4 ways`: one and the others. */
export const waysOf = (others: readonly Choice[]): string =>
  others.length === 1 ? "two ways" : `${others.length + 1} ways`;

/** One meaning is taken; of several `asks` asks. */
export const settledOn = (only: Choice, others: readonly Choice[], asks: string): Understood =>
  others.length === 0
    ? { ok: true, formula: only.formula, reads: only.reads, says: only.label }
    : { ask: true, says: asks, choices: [only, ...others] };

const withinOf = (model: Model, { node }: Field): Within | null => {
  const origin = model.origins[node];
  return origin?.is === "column"
    ? origin.table.withinOf(origin.column)
    : (model.presentations.get(node)?.within ?? null);
};

/** A figure outside what the line accepts is kept all the same, and said to be. */
function outside(model: Model, field: Field, { value, unit }: Meant): string {
  const [caution] = withinCautions(withinOf(model, field), value, field.type, { unit, step: null }, model);
  return caution === undefined ? "" : `. ${wordCaution(caution)}`;
}

function readTyped(model: Model, field: Field, typed: string): Understood {
  const read = typed.startsWith('"') ? readText(typed, 0) : null;
  const text = read !== null && read.fault === null && read.node.span.end === typed.length ? read.node.value : typed;
  const within = withinOf(model, field);
  const choice = within?.is === "choices" ? within.texts.find((one) => equalTexts(one, text)) : text;
  if (choice === undefined)
    return refused(`"${text}" is not one of ${within?.is === "choices" ? within.texts.join(", ") : ""}.`);
  const entry = model.origins[field.node]?.is === "column";
  return { ok: true, formula: field.keep(entry ? choice : quoteText(choice), null), reads: choice, says: choice };
}

const TRUTHS: ReadonlyMap<string, string> = new Map([
  ["yes", "yes"],
  ["y", "yes"],
  ["true", "yes"],
  ["no", "no"],
  ["n", "no"],
  ["false", "no"],
]);

function truthMeant(field: Field, typed: string): Understood {
  const truth = TRUTHS.get(typed.toLowerCase());
  return truth === undefined
    ? refused(`"${typed}" is neither yes nor no.`)
    : { ok: true, formula: field.keep(truth, null), reads: truth, says: truth };
}

function instantMeant(model: Model, field: Field, typed: string, row?: number): Understood {
  const found = instantsMeant(typed, batchDate(model) ?? dateAbove(model, field, row));
  if (!found.ok) return found;
  const [only, ...others] = found.meant.map((literal) => ({
    label: literal.replace("T", " "),
    reads: literal.replace("T", " "),
    formula: field.keep(literal, null),
  }));
  return only === undefined
    ? refused(`"${typed.trim()}" is no date or time.`)
    : settledOn(only, others, dayOrMonth(typed));
}

export const dayOrMonth = (typed: string): string =>
  `"${typed.trim()}" can be read with the day or the month first. Which is meant?`;

/** The day that stands for today, on the wall clock; null while it is not filled. */
function batchDate(model: Model): number | null {
  const node = model.names.node(BATCH_DATE);
  if (node === undefined || model.store.state(node) !== READY) return null;
  const value = model.store.value(node);
  return typeof value === "number" ? onTheWall(model, value, model.typeOf(node)) : null;
}

function onTheWall({ head }: Model, value: number, { kind }: Type): number {
  const zoned = kind.is === "reading" && kind.family === "zoned instant";
  return zoned && head.zone !== null ? head.zone.toWall(value) : value;
}

/** The last moment of a table's column above `row` (left out: of all rows), on the wall clock; null: there is none. */
function dateAbove(model: Model, { node, type }: Field, row?: number): number | null {
  const origin = model.origins[node];
  const values = origin?.is === "column" ? origin.table.readable(origin.column) : null;
  if (!(values instanceof Float64Array)) return null;
  const value = values.subarray(0, row).findLast((each) => !Number.isNaN(each));
  return value === undefined ? null : onTheWall(model, value, type);
}
