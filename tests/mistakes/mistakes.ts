import type { Node } from "../../engine/parser/tree.ts";
import type { Session } from "../../engine/session.ts";
import { type Kind, sameKind } from "../../engine/values/kind.ts";

/** What people get wrong. */
export const MISTAKES = [
  "a conversion dropped",
  "two arguments swapped",
  "mass for volume, volume for mass",
  "SG for °P, points for gravity",
  "difference for reading, reading for difference",
  "gallon without its country",
  "gauge for absolute, absolute for gauge",
  "per cent for fraction, fraction for per cent",
  "time as a bare number",
  "a unit of another dimension",
] as const;
export type Mistake = (typeof MISTAKES)[number];

/** A formula with one mistake. */
export interface Mistaken {
  readonly mistake: Mistake;
  readonly formula: string;
  /** What stood there, and what stands there now. */
  readonly was: string;
  readonly is: string;
}

/** Every part of an expression, outermost first. */
function partsOf(node: Node): Node[] {
  const found: Node[] = [];
  const look = (part: unknown): void => {
    if (typeof part !== "object" || part === null) return;
    if ("node" in part && "span" in part) found.push(part as Node);
    for (const inner of Object.values(part)) look(inner);
  };
  look(node);
  return found;
}

const VOLUME_UNITS = /\b(?:L|mL|hL|US gal|imp gal|US bbl|firkin)\b/;
const OTHER_UNIT: readonly (readonly [RegExp, string])[] = [
  [/(?<=\d )(?:kg|g|lb|sack|bag)(?=[\s,)]|$)/, "L"],
  [/(?<=\d )(?:L|mL|US gal|firkin)(?=[\s,)]|$)/, "kg"],
  [/(?<=\d )(?:min|h|day)(?=[\s,)]|$)/, "L"],
  [/(?<=\d )(?:°C|°F)(?=[\s,)]|$)/, "°P"],
  [/(?<=\d )(?:°P|SG)(?=[\s,)]|$)/, "°C"],
  [/(?<=\d )(?:psi|psia|bar|kPa)(?=[\s,)]|$)/, "m"],
  [/(?<=\d )(?:%|pH|vol|inch|kW|SRM)(?=[\s,)]|$)/, "kg"],
];

/** Functions whose first argument is what is converted: people forget to call them. */
const CONVERSIONS: ReadonlySet<string> = new Set([
  "corrected_gravity",
  "cold_volume",
  "volume_at",
  "wort_mass",
  "water_mass",
  "points",
  "extract_mass",
  "duty_strength",
  "co2_mass",
  "malt_as_is",
]);

/** Lines of a book by what they hold, to be put in each other's place. */
export interface Stock {
  readonly masses: readonly string[];
  readonly volumes: readonly string[];
  readonly gravities: readonly string[];
}

const dimensionOf = (kind: Kind): string => (kind.is === "quantity" ? kind.dimension.key : "");
const isMass = (kind: Kind): boolean => dimensionOf(kind) === "mass^1";
const isVolume = (kind: Kind): boolean => dimensionOf(kind) === "length^3";
const isGravity = (kind: Kind): boolean => kind.is === "reading" && kind.family === "gravity";

/** The single figures of a session's lines that others can be mistaken for. */
export function stockOf(session: Session): Stock {
  const names = session.workbook.sheets.flatMap(({ name, pages }) =>
    pages.flat().flatMap((item) => (item.is === "cell" ? [`${name}.${item.name}`] : [])),
  );
  const of = (is: (kind: Kind) => boolean): string[] =>
    names.filter((name) => {
      const cell = session.cell(name);
      return cell !== null && cell.type.rows === null && is(cell.type.kind);
    });
  return { masses: of(isMass), volumes: of(isVolume), gravities: of(isGravity) };
}

/** What a part of a formula is, where it stands. */
export type KindOf = (text: string) => Kind;

/** Every mistake that can be made in a formula, one at a time. */
export function mistakesIn(text: string, expression: Node, stock: Stock, kindOf: KindOf): Mistaken[] {
  const found: Mistaken[] = [];
  const put = (mistake: Mistake, { span }: { span: Node["span"] }, is: string): void => {
    const was = text.slice(span.start, span.end);
    if (is !== was) found.push({ mistake, formula: text.slice(0, span.start) + is + text.slice(span.end), was, is });
  };
  const source = ({ span }: Node): string => text.slice(span.start, span.end);
  for (const part of partsOf(expression)) {
    const here = source(part);
    switch (part.node) {
      case "as":
        put("a conversion dropped", part, source(part.operand));
        break;
      case "call": {
        const [first] = part.arguments;
        if (first !== undefined && CONVERSIONS.has(part.name)) put("a conversion dropped", part, source(first.value));
        for (const [at, argument] of part.arguments.entries()) {
          const next = part.arguments[at + 1];
          if (next === undefined) continue;
          const [from, to] = [argument.value.span.start, next.value.span.end];
          const between = text.slice(argument.value.span.end, next.value.span.start);
          put(
            "two arguments swapped",
            { span: { start: from, end: to } },
            source(next.value) + between + source(argument.value),
          );
        }
        break;
      }
      case "chain":
        // `x / 1 h`: the step that takes a unit away.
        for (const { operator, operatorSpan, operand } of part.rest)
          if (operator === "/" && operand.node === "literal")
            put("a conversion dropped", { span: { start: operatorSpan.start, end: operand.span.end } }, "");
        break;
      case "name": {
        const kind = kindOf(here);
        const other = isMass(kind) ? stock.volumes : isVolume(kind) ? stock.masses : [];
        if (other[0] !== undefined) put("mass for volume, volume for mass", part, other[0]);
        if (isGravity(kind)) {
          put("SG for °P, points for gravity", part, `points(${here})`);
          const zero = stock.gravities.find((name) => !name.endsWith(`.${here}`) && name !== here);
          if (zero !== undefined) put("difference for reading, reading for difference", part, `(${zero} - ${here})`);
        }
        break;
      }
      case "literal": {
        const bare = part.figures.map((figure) => figure.text).join(" ");
        if (/SG$/.test(here)) {
          put("SG for °P, points for gravity", part, bare);
          put("SG for °P, points for gravity", part, `${bare} °P`);
        }
        if (/[^Δ]°P$/.test(here)) {
          put("SG for °P, points for gravity", part, bare);
          put("SG for °P, points for gravity", part, `${bare} SG`);
        }
        if (/ °[CFP]$/.test(here))
          put("difference for reading, reading for difference", part, here.replace(/ °/, " Δ°"));
        if (/ Δ/.test(here)) put("difference for reading, reading for difference", part, here.replace(" Δ", " "));
        if (VOLUME_UNITS.test(here)) put("gallon without its country", part, here.replace(VOLUME_UNITS, "gal"));
        if (/ psi$/.test(here)) put("gauge for absolute, absolute for gauge", part, `${here}a`);
        if (/ (?:psia|bara)$/.test(here)) put("gauge for absolute, absolute for gauge", part, here.slice(0, -1));
        if (/ %$/.test(here)) put("per cent for fraction, fraction for per cent", part, bare);
        if (/^\d+(?:\.\d+)?$/.test(here)) put("per cent for fraction, fraction for per cent", part, `${here} %`);
        if (/ (?:min|h|day)$/.test(here)) put("time as a bare number", part, bare);
        for (const [unit, put_] of OTHER_UNIT)
          if (unit.test(here)) put("a unit of another dimension", part, here.replace(unit, put_));
        break;
      }
      default:
        break;
    }
  }
  return found;
}

/** Whether what stands there now is of another dimension or on another scale than what stood there. */
export function changesKind({ was, is }: Mistaken, kindOf: KindOf): boolean {
  const [before, after] = [kindOf(was), kindOf(is)];
  return before.is !== "unknown" && after.is !== "unknown" && !sameKind(before, after);
}
