import { gravitiesMeant } from "../checker/gravity-meant.ts";
import { literalOf } from "../checker/literals.ts";
import { loosened, spelledSurely } from "../checker/meant.ts";
import { kindOfUnit, unitOf } from "../checker/units.ts";
import { wordFault } from "../diagnostics/wording.ts";
import { CURRENCIES_OF, decimalOf, vulgarValue } from "../parser/slips.ts";
import { type AmbiguousUnit, countriesBehind, OUNCE_OF_VOLUME } from "../units/ambiguous.ts";
import { printUnit, shownUnitOf } from "../units/compound.ts";
import { dimension } from "../units/dimension.ts";
import type { ShownUnit, Unit } from "../units/unit.ts";
import { describeOne } from "../values/describe.ts";
import { type Kind, quantity, sameKind } from "../values/kind.ts";
import type { HeadReading } from "../workbook/head.ts";

/** A figure as the language writes it, and what it is. */
export interface Meant {
  /** `66.7 °C`, `12 lb 4 oz`. */
  readonly literal: string;
  /** Coherent. */
  readonly value: number;
  readonly kind: Kind;
  /** Of the first figure; the unit of a plain number has no text. */
  readonly unit: ShownUnit | null;
  /** The figure alone, where it is one: `66.7`. */
  readonly figure: string | null;
}

/** Everything that the typed figure may mean here, or why it means nothing. */
export type FiguresMeant =
  | {
      readonly ok: true;
      readonly meant: readonly Meant[];
      /** The question, where it is not which of several readings of one figure is meant. */
      readonly asks?: string;
    }
  | { readonly ok: false; readonly says: string };

const refused = (says: string): FiguresMeant => ({ ok: false, says });

/** A figure, `1 250` with its thousands apart included, and what stands behind it. */
const FIGURE_FIRST = /^(-?)\s*(\d{1,3}(?: \d{3})+(?![\d.,])|(?:\d|[.,]\d)[\d.,]*(?:e[+-]?\d+(?![\p{L}]))?)\s*(.*)$/iu;
const THOUSANDS = /^[1-9]\d{0,2},\d{3}$/;

/** The figures of the language that a typed one may stand for: a comma is a decimal point, or parts thousands. */
export function numeralsOf(typed: string): readonly string[] {
  const text = typed.replace(/^([.,])/, "0$1").replaceAll(" ", "");
  const mantissa = text.split(/e/i)[0] ?? "";
  const commas = mantissa.split(",").length - 1;
  const points = mantissa.split(".").length - 1;
  const plain = (figure: string): readonly string[] => (/^\d+(?:\.\d+)?(?:e[+-]?\d+)?$/i.test(figure) ? [figure] : []);
  if (commas === 0) return points < 2 ? plain(text) : grouped(text, ".", "");
  if (points === 0 && commas === 1)
    return THOUSANDS.test(mantissa) ? [text.replace(",", ""), text.replace(",", ".")] : plain(text.replace(",", "."));
  if (points === 0) return grouped(text, ",", "");
  return mantissa.lastIndexOf(",") > mantissa.lastIndexOf(".") ? grouped(text, ".", ",") : grouped(text, ",", ".");
}

/** `1,250,000.5`: groups of three digits, then decimals behind the other sign. */
function grouped(text: string, between: string, decimal: string): readonly string[] {
  const [whole = "", decimals, more] = decimal === "" ? [text] : text.split(decimal);
  const groups = whole.split(between);
  const sound =
    more === undefined && /^\d{1,3}$/.test(groups[0] ?? "") && groups.slice(1).every((group) => /^\d{3}$/.test(group));
  return sound ? [groups.join("") + (decimals === undefined ? "" : `.${decimals}`)] : [];
}

/** Reads what was typed where a figure of `kind` (null: of any kind) is wanted; a bare one is in `unit`. */
export function figuresMeant(
  typed: string,
  kind: Kind | null,
  unit: ShownUnit | null,
  head: HeadReading,
): FiguresMeant {
  const text = typed
    .trim()
    .replace(/[−–—]/g, "-")
    .replace(/[\u00a0\u2009\u202f]/g, " ")
    .replace(/^\+/, "")
    // A pH is written before its figure as often as behind it.
    .replace(/^pH\s*=?\s*(?=\d)(.*)$/i, "$1 pH");
  const plain = kind === null || sameKind(kind, LENGTH) ? withoutMarks(text) : withCode(text, kind);
  const figures = withoutFractions(plain);
  return rangeMeant(figures, typed, kind, unit, head) ?? plainFigures(figures, typed, kind, unit, head);
}

const RANGE = /^(-?[\d.,]+)\s*([^\s\d-][^\d-]*?)?\s*(?:-|\bto\b)\s*([\d.,]+)\s*([^\d-]*)$/u;

/** `65-68 °C`: a field takes one figure, so that it is asked which of the two; null: it is no range. */
function rangeMeant(
  text: string,
  typed: string,
  kind: Kind | null,
  unit: ShownUnit | null,
  head: HeadReading,
): FiguresMeant | null {
  const [, low = "", lowUnit, high = "", highUnit = ""] = RANGE.exec(text) ?? [];
  if (low === "" || kind === null) return null;
  const ends = [`${low} ${lowUnit ?? highUnit}`, `${high} ${highUnit}`].map((end) =>
    plainFigures(end.trim(), end, kind, unit, head),
  );
  const meant = ends.flatMap((end) => (end.ok ? end.meant : []));
  if (ends.some(({ ok }) => !ok) || meant[0]?.literal === meant.at(-1)?.literal) return null;
  return { ok: true, meant, asks: `"${typed.trim()}" is a range, and one figure is wanted. Which?` };
}

/** `$5/kg` and `5 $/kg` where money is wanted in a currency that is written with the sign: `5 CAD/kg`. */
function withCode(text: string, kind: Kind): string {
  const base =
    kind.is === "quantity" ? kind.dimension.powers.find(([one]) => one.startsWith("currency:"))?.[0] : undefined;
  const code = base?.slice("currency:".length) ?? "";
  const [typed, before = "", sign = before] = /^([$€£¥])|([$€£¥])/.exec(text) ?? [];
  if (typed === undefined || CURRENCIES_OF.get(sign)?.includes(code) !== true) return text;
  return before === ""
    ? text.replace(sign, code)
    : text.replace(/^[$€£¥]\s*([\d.,]+(?: \d{3})*)\s*/, (_, figure: string) => `${figure} ${code}`);
}

const LENGTH = quantity(dimension({ length: 1 }));

/** Feet and inches: `6' 2"`. */
const withoutMarks = (text: string): string =>
  text.replace(/(?<=[\d¼-¾⅐-⅞])\s*(?:"|″|”|''|′′|’’)/g, " inch").replace(/(?<=[\d¼-¾⅐-⅞])\s*['′’]/g, " ft");

const FRACTION = /(?<![\d.,/⁄])(?:(\d+) +)?(\d+)[/⁄](\d+)(?![\d.,/⁄])/g;
const VULGAR = /(?<![\d.,])(\d*) *([¼-¾⅐-⅞])/g;

/** `36 1/8`, `1½`: brewers' rules and dip sticks are read in halves and eighths. */
const withoutFractions = (text: string): string =>
  text
    .replace(FRACTION, (typed, whole: string | undefined, above: string, below: string) =>
      Number(below) === 0 ? typed : decimalOf(Number(whole ?? 0) + Number(above) / Number(below)),
    )
    .replace(VULGAR, (_, whole: string, sign: string) => decimalOf(Number(whole) + vulgarValue(sign)));

function plainFigures(
  text: string,
  typed: string,
  kind: Kind | null,
  unit: ShownUnit | null,
  head: HeadReading,
): FiguresMeant {
  const takes = kind === null ? "" : `This takes ${describeOne(kind, unit)}.`;
  const [, sign = "", figure = "", rest = ""] = FIGURE_FIRST.exec(text) ?? [];
  if (figure === "") return refused(`"${typed.trim()}" is no figure. ${takes}`);
  const numerals = numeralsOf(figure).map((numeral) => `${sign}${numeral}`);
  if (numerals.length === 0)
    return refused(`"${figure}" is no figure that can be read. Write it with one decimal point, such as 1250.5.`);
  if (rest === "") {
    const literals = bareLiterals(numerals, kind, unit);
    return literals.length === 0
      ? refused(`"${text}" is no gravity: write it such as 1.048 SG or 12 °P.`)
      : settled(literals, kind, head, takes);
  }
  const clock = kind !== null && sameKind(kind, TIME) ? clocksMeant(text) : [];
  if (clock.length > 0) return settled(clock, kind, head, takes);
  if (/^\d/.test(rest))
    return refused(`"${text}" is two figures with nothing between. A fraction is typed such as 36 1/8. ${takes}`);
  const units = wordsMeant(rest, kind, head);
  if (units.ok)
    return settled(
      numerals.flatMap((numeral) => units.units.map((one) => withUnit(numeral, one))),
      kind,
      head,
      takes,
    );
  const row = rowLiteral(text, kind, head);
  if (row !== null) return settled([row], kind, head, takes);
  const other = otherRow(text, kind, head);
  if (other !== null) return isOther(other.literal, other.kind, takes);
  if (units.other !== null)
    return isOther(`${sign}${figure} ${printUnit(units.other)}`, kindOfUnit(units.other), takes);
  return refused(`${units.says} ${takes}`);
}

/** `152 °F is a temperature; this takes a volume (L).` */
const isOther = (literal: string, kind: Kind, takes: string): FiguresMeant =>
  refused(`${literal} is ${describeOne(kind, null)}; ${takes.replace("This", "this")}`);

/** Figures in a row that are of another kind than is wanted: `12 lb 4 oz` is a mass. */
function otherRow(text: string, kind: Kind | null, head: HeadReading): Meant | null {
  const row = kind === null ? null : rowLiteral(text, null, head);
  const found = row === null ? null : settled([row], null, head, "");
  return found?.ok === true ? (found.meant[0] ?? null) : null;
}

const TIME = quantity(dimension({ time: 1 }));

/** `1:30` of a clock or a stop watch: hours and minutes, or minutes and seconds; with three figures there is no question. */
function clocksMeant(text: string): readonly string[] {
  const [, first = "", second = "", third] = /^(\d+):(\d\d)(?::(\d\d))?$/.exec(text) ?? [];
  if (first === "") return [];
  const [one, two] = [Number(first), Number(second)];
  return third === undefined
    ? [`${one} h ${two} min`, `${one} min ${two} s`]
    : [`${one} h ${two} min ${Number(third)} s`];
}

function bareLiterals(numerals: readonly string[], kind: Kind | null, unit: ShownUnit | null): readonly string[] {
  const plain = unit === null ? "" : printUnit(unit);
  if (kind?.is === "reading" && kind.family === "gravity" && unit !== null)
    return [...new Set(numerals.flatMap((numeral) => gravitiesMeant(numeral, plain)))];
  return numerals.map((numeral) => `${numeral} ${plain}`.trim());
}

/** Brewers say `1048 SG` as well. */
const withUnit = (numeral: string, unit: ShownUnit): string => {
  const [only = "", ...others] = printUnit(unit) === "SG" ? gravitiesMeant(numeral, "SG") : [];
  return others.length === 0 && only !== "" ? only : `${numeral} ${printUnit(unit)}`;
};

/** What the literals are; the language reads them itself, so that nothing is kept that it would not read back. */
function settled(literals: readonly string[], kind: Kind | null, head: HeadReading, takes: string): FiguresMeant {
  const meant: Meant[] = [];
  for (const literal of literals) {
    const { expression, faults } = head.parse(literal);
    const found = faults[0] ?? (expression.node === "literal" ? literalOf(expression, head.units) : null);
    if (found === null || expression.node !== "literal") return refused(`"${literal}" is no figure. ${takes}`);
    if ("code" in found) return refused(wordFault(found));
    if (kind !== null && !sameKind(found.type.kind, kind)) return isOther(literal, found.type.kind, takes);
    const [only] = expression.figures;
    const figure =
      expression.figures.length === 1 && only !== undefined ? `${expression.negative ? "-" : ""}${only.text}` : null;
    if (!meant.some(({ literal: known }) => known === literal))
      meant.push({ literal, value: found.value, kind: found.type.kind, unit: found.type.unit, figure });
  }
  return { ok: true, meant };
}

/** The units behind a figure, however they are said: `gal US`, `in °C`, `°F in °C`. */
function wordsMeant(rest: string, kind: Kind | null, head: HeadReading): UnitsMeant {
  const plain = unitsMeant(rest, kind, head);
  if (plain.ok || kind === null) return plain;
  const [turned] = countriesBehind(`1 ${rest}`);
  if (turned?.end === rest.length + 2) return unitsMeant(turned.unit, kind, head);
  const [, first = "", second = ""] = /^(?:(.+?)\s+)?(?:in|into|to|as)\s+(.+)$/.exec(rest) ?? [];
  const wanted = unitsMeant(second, kind, head);
  if (second === "" || !wanted.ok) return plain;
  const own = first === "" ? (/^in\s/.test(rest) ? unitsMeant("in", kind, head) : null) : unitsMeant(first, kind, head);
  if (first !== "") return own ?? plain;
  return { ok: true, units: [...wanted.units, ...(own?.ok === true ? own.units : [])] };
}

type UnitsMeant =
  | { readonly ok: true; readonly units: readonly ShownUnit[] }
  | {
      readonly ok: false;
      readonly says: string;
      /** The unit of another kind that was typed; null: none. */
      readonly other: ShownUnit | null;
    };

/** The units that a typed one may stand for here: as it is spelt, else without regard to case, ° and Δ among units of the kind. */
function unitsMeant(typed: string, kind: Kind | null, head: HeadReading): UnitsMeant {
  const { expression, faults } = head.parse(`1 ${typed}`);
  const phrase =
    expression.node === "literal" && faults.length === 0 && expression.figures.length === 1
      ? (expression.figures[0]?.unit ?? null)
      : null;
  const exact = phrase === null ? null : unitOf(phrase, head.units);
  const fits = (unit: ShownUnit): boolean => kind === null || sameKind(kindOfUnit(unit), kind);
  if (exact !== null && !("code" in exact) && fits(exact)) return { ok: true, units: [exact] };
  const word = loosened(typed);
  const loose =
    kind === null
      ? spelledSurely(typed, head.units)
      : head.units.all().filter((unit) => [unit.symbol, ...unit.names].some((spelling) => loosened(spelling) === word));
  const shown = [...loose, ...choicesOf(typed, kind, head)].map(shownUnitOf).filter(fits);
  if (shown.length > 0) return { ok: true, units: shown };
  if (exact !== null && !("code" in exact)) return { ok: false, says: "", other: exact };
  // What is surely spelled, if only loosely, is of another kind: `152F` where a volume is wanted.
  const [other, ...more] = kind === null ? [] : spelledSurely(typed, head.units);
  if (other !== undefined && more.length === 0) return { ok: false, says: "", other: shownUnitOf(other) };
  if (exact === null) return { ok: false, says: `"${typed}" is not a unit that is known here.`, other: null };
  if (exact.code !== "unknown-unit" || exact.data.spelling !== typed)
    return { ok: false, says: wordFault(exact), other: null };
  // A slip of the fingers is not taken for a unit of another kind.
  const near = exact.data.near.filter((spelling) => unitsMeant(spelling, kind, head).ok);
  return { ok: false, says: wordFault({ ...exact, data: { spelling: typed, near } }), other: null };
}

const VOLUME = quantity(dimension({ length: 3 }));

/** The choices of a word that two measures share; `oz` is one where a volume is wanted. */
function choicesOf(typed: string, kind: Kind | null, head: HeadReading): readonly Unit[] {
  const word = typed.toLowerCase();
  const ounce =
    kind !== null && sameKind(kind, VOLUME) && [OUNCE_OF_VOLUME.word, ...OUNCE_OF_VOLUME.names].includes(word);
  const found: Unit | AmbiguousUnit | null = ounce ? OUNCE_OF_VOLUME : head.units.find(word);
  if (found?.is !== "ambiguous") return [];
  return found.choices.flatMap(({ symbol }) => {
    const unit = head.units.find(symbol);
    return unit === null || unit.is === "ambiguous" ? [] : [unit];
  });
}

/** `12lb 4oz`, `12 LB 4,5 OZ`: figures in a row as the language writes them; null when they are none. */
function rowLiteral(text: string, kind: Kind | null, head: HeadReading): string | null {
  const pairs = [...text.matchAll(/(\d[\d.,]*)\s*([^\d\s.,][^\d.,]*)/gu)];
  if (pairs.length < 2 || pairs.map(([whole]) => whole).join("") !== text.replace(/^-\s*/, "")) return null;
  const written = pairs.map(([, figure = "", word = ""]) => {
    const numerals = numeralsOf(figure);
    const units = unitsMeant(word.trim(), kind, head);
    const [numeral] = numerals;
    const [unit] = units.ok ? units.units : [];
    return numerals.length === 1 && units.ok && units.units.length === 1 && unit !== undefined
      ? `${numeral} ${printUnit(unit)}`
      : null;
  });
  return written.includes(null) ? null : `${text.startsWith("-") ? "-" : ""}${written.join(" ")}`;
}
