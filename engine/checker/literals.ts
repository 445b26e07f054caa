import { cover, type Span } from "../base/span.ts";
import { type Fault, fault, type Mend, mend } from "../diagnostics/diagnostic.ts";
import { FAMILIES } from "../operations/families.ts";
import { isFault } from "../operations/operand.ts";
import { askedWord } from "../parser/asked-words.ts";
import type { BlankNode, Figure, InstantNode, LiteralNode, UnitPhrase, WithinNode } from "../parser/tree.ts";
import type { UnitBook } from "../units/book.ts";
import { PLAIN, printUnit } from "../units/compound.ts";
import { fromCoherent, toCoherent } from "../units/convert.ts";
import { sameDimension } from "../units/dimension.ts";
import type { ShownUnit } from "../units/unit.ts";
import type { Zone } from "../units/zone.ts";
import { describe, describeInside } from "../values/describe.ts";
import { INSTANT, isInstant, NUMBER, TEXT, TRUTH, type Type, ZONED_INSTANT } from "../values/kind.ts";
import type { Step, Within } from "./checked.ts";
import { kindOfUnit, shownIn, unitOf } from "./units.ts";

/** A literal's type and coherent value. */
export interface Literal {
  readonly type: Type;
  readonly value: number;
}

/** `640 L`, `-1.2 °P`, `12 lb 4 oz`. */
export function literalOf(node: LiteralNode, book: UnitBook): Literal | Fault {
  let sum = 0;
  let type: Type | null = null;
  let last = Number.POSITIVE_INFINITY;
  for (const figure of node.figures) {
    const found = figureOf(figure, book);
    if (isFault(found)) return found;
    if (type === null) {
      type = found.type;
      sum = node.negative && node.figures.length === 1 ? coherentOf(-figure.value, found.type.unit) : found.value;
      last = found.type.unit?.is === "compound" ? found.type.unit.factor : last;
      continue;
    }
    const [first, next] = [type.kind, found.type.kind];
    const linear =
      first.is === "quantity" &&
      next.is === "quantity" &&
      type.unit?.is === "compound" &&
      found.type.unit?.is === "compound";
    if (!linear || !sameDimension(first.dimension, next.dimension))
      return fault("unlike-units", cover(node.figures[0]?.span ?? node.span, figure.span), {
        did: "combined",
        left: describe(first, type.unit),
        right: describe(next, found.type.unit),
        hint: "Figures in a row are descending units of one dimension, such as 12 lb 4 oz.",
      });
    const factor = found.type.unit?.is === "compound" ? found.type.unit.factor : 0;
    if (factor >= last)
      return fault("syntax", figure.span, {
        says: "Figures in a row go from the larger unit to the smaller, such as 12 lb 4 oz. Write an operator between them otherwise.",
      });
    last = factor;
    sum += found.value;
  }
  const of: Type = type ?? { kind: NUMBER, unit: PLAIN, rows: null };
  if (!Number.isFinite(sum))
    return fault("bad-number", node.span, {
      text: node.figures.map(({ text }) => text).join(" "),
      says: "In this unit it is too large to be held.",
    });
  return { type: of, value: node.negative && node.figures.length > 1 ? -sum : sum };
}

/** The unit of a literal that is one figure; null when it has none, or several. */
export const unitWritten = ({ figures }: LiteralNode): UnitPhrase | null =>
  figures.length === 1 ? (figures[0]?.unit ?? null) : null;

const coherentOf = (figure: number, unit: ShownUnit | null): number =>
  unit === null ? figure : toCoherent(figure, unit);

function figureOf(figure: Figure, book: UnitBook): Literal | Fault {
  if (figure.unit === null) return { type: { kind: NUMBER, unit: PLAIN, rows: null }, value: figure.value };
  const unit = unitOf(figure.unit, book);
  if (isFault(unit)) return unit;
  return { type: { kind: kindOfUnit(unit), unit, rows: null }, value: toCoherent(figure.value, unit) };
}

/** With a zone in the head every instant is on one clock; without, zoned and unzoned ones are different kinds. */
export function instantOf(node: InstantNode, zone: Zone | null): Literal {
  if (zone === null)
    return { type: { kind: node.zoned ? ZONED_INSTANT : INSTANT, unit: null, rows: null }, value: node.seconds };
  return {
    type: { kind: ZONED_INSTANT, unit: null, rows: null },
    value: node.zoned ? node.seconds : zone.toUtc(node.seconds),
  };
}

/** The kind that a `?` or a column asks for. */
export function askedType(asks: BlankNode["asks"], book: UnitBook, zone: Zone | null): Type | Fault {
  if (asks.is === "unit") {
    const unit = unitOf(asks.unit, book);
    const spelling = asks.unit.factors.map((each) => each.spelling).join("/");
    return isFault(unit) ? (askedWord(spelling, asks.unit.span) ?? unit) : { kind: kindOfUnit(unit), unit, rows: null };
  }
  if (asks.is === "text") return { kind: TEXT, unit: null, rows: null };
  if (asks.is === "truth") return { kind: TRUTH, unit: null, rows: null };
  if (asks.is === "instant") return { kind: zone === null ? INSTANT : ZONED_INSTANT, unit: null, rows: null };
  return { kind: NUMBER, unit: PLAIN, rows: null };
}

const decimalsOf = (text: string): number => {
  const [mantissa = "", exponent = "0"] = text.toLowerCase().split("e");
  return Math.max(0, (mantissa.split(".")[1] ?? "").length - Number(exponent));
};

/** `by 0.1`, `by 25 kg`: the step in figures of the unit that is shown. */
export function stepOf(by: Figure, type: Type, book: UnitBook): Step | Fault {
  const bad = (says: string): Fault => fault("bad-number", by.span, { text: by.text, says });
  if (!(by.value > 0)) return bad("A step is above zero, such as 0.1.");
  if (type.kind.is === "text" || type.kind.is === "truth" || isInstant(type.kind))
    return fault("syntax", by.span, {
      says: `Only figures are shown in steps; this is ${describeInside(type.kind, null)}.`,
    });
  if (by.unit === null) return { figure: by.value, decimals: decimalsOf(by.text) };
  const unit = unitOf(by.unit, book);
  if (isFault(unit)) return unit;
  const { kind } = type;
  const wanted =
    kind.is === "quantity" ? kind.dimension : kind.is === "reading" ? FAMILIES[kind.family].difference : null;
  // A step may be written in the reading's own unit, by 0.1 °C, or as a difference, by 0.1 Δ°C.
  const same = type.unit !== null && printUnit(unit) === printUnit(type.unit);
  if (same) return { figure: by.value, decimals: decimalsOf(by.text) };
  if (kind.is === "unknown") return { figure: by.value, decimals: decimalsOf(by.text) };
  if (wanted === null || unit.is !== "compound" || !sameDimension(unit.dimension, wanted))
    return fault("not-a-unit-for", by.unit.span, {
      unit: printUnit(unit),
      of: `The step of ${describe(kind, type.unit)}`,
      hint: null,
    });
  const size = by.value * unit.factor;
  const shown = type.unit;
  const figure =
    shown === null
      ? size
      : shown.is === "compound"
        ? size / shown.factor
        : shown.difference === null
          ? Number.NaN
          : size / shown.difference.factor;
  if (!(figure > 0)) return bad(`Write the step in ${shown === null ? "the unit shown" : printUnit(shown)}.`);
  const rounded = Number(figure.toPrecision(12));
  return { figure: rounded, decimals: decimalsOf(String(rounded)) };
}

/** `within 65 to 68 °C`, `within "kettle", "stand"`. A bare low end takes the high end's unit. */
export function withinOf(within: WithinNode, type: Type, book: UnitBook, zone: Zone | null): Within | Fault {
  if (within.is === "choices") {
    if (type.kind.is !== "text" && type.kind.is !== "unknown")
      return fault("unlike-units", within.span, {
        did: "compared",
        left: describe(type.kind, type.unit),
        right: "Text",
        hint: null,
      });
    return { is: "choices", texts: within.texts.map((text) => text.value) };
  }
  const high = endOf(within.high, null, book, zone);
  if (isFault(high)) return high;
  const low = endOf(within.low, high.type.unit, book, zone);
  if (isFault(low)) return low;
  for (const [node, end] of [
    [within.high, high],
    [within.low, low],
  ] as const) {
    const { kind } = end.type;
    if (type.kind.is === "unknown") continue;
    if (end.type.unit !== null) {
      const shown = shownIn(type, end.type.unit, node.span);
      if (isFault(shown))
        return fault(
          "unlike-units",
          node.span,
          { did: "compared", left: describe(type.kind, type.unit), right: describe(kind, end.type.unit), hint: null },
          end.type.unit === PLAIN ? unitMend(type.unit, node.span) : [],
        );
    } else if (type.kind.is !== "reading" || kind.is !== "reading" || type.kind.family !== kind.family)
      return fault("unlike-units", node.span, {
        did: "compared",
        left: describe(type.kind, type.unit),
        right: describe(kind, null),
        hint: null,
      });
  }
  if (low.value > high.value)
    return fault("syntax", within.span, { says: "The low end stands first: within LOW to HIGH." });
  return { is: "range", low: low.value, high: high.value, lowText: low.text, highText: high.text };
}

/** A bare figure most likely has the unit that is shown. */
const unitMend = (unit: ShownUnit | null, { end }: Span): Mend[] =>
  unit === null || unit === PLAIN ? [] : [mend(`Write ${printUnit(unit)}`, { start: end, end }, ` ${printUnit(unit)}`)];

/** One end of a range; a bare figure is in `unit`. */
function endOf(
  node: LiteralNode | InstantNode,
  unit: ShownUnit | null,
  book: UnitBook,
  zone: Zone | null,
): (Literal & { text: string }) | Fault {
  if (node.node === "instant") return { ...instantOf(node, zone), text: "" };
  const literal = literalOf(node, book);
  if (isFault(literal)) return literal;
  const [only] = node.figures;
  const bare = node.figures.length === 1 && only !== undefined && only.unit === null && unit !== null && unit !== PLAIN;
  const shown = bare ? unit : literal.type.unit;
  const value = bare ? toCoherent(node.negative ? -only.value : only.value, unit) : literal.value;
  const figure = shown === null ? value : Number(fromCoherent(value, shown).toPrecision(12));
  return {
    type: bare ? { kind: kindOfUnit(unit), unit, rows: null } : literal.type,
    value,
    text: `${figure} ${shown === null ? "" : printUnit(shown)}`.trim(),
  };
}
