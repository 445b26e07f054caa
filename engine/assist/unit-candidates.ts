import { UNKNOWN_TYPE } from "../checker/check.ts";
import { checkFormula } from "../checker/formula.ts";
import { kindOfUnit } from "../checker/units.ts";
import { FAMILIES } from "../operations/families.ts";
import { printUnit, shownUnitOf } from "../units/compound.ts";
import { LENSES, lensUnit } from "../units/lens.ts";
import type { ShownUnit, Unit } from "../units/unit.ts";
import { kindName } from "../values/describe.ts";
import { type Kind, quantity, sameKind, type Type } from "../values/kind.ts";
import type { Model } from "../workbook/model.ts";
import type { ArgumentInHand } from "./argument-in-hand.ts";
import { type Candidate, candidate } from "./candidates.ts";
import { type Context, nodeAt, scopeAt } from "./context.ts";
import { innermost } from "./parts.ts";

const isMoney = (unit: Unit): boolean =>
  unit.is === "linear" && (unit.dimension.powers[0]?.[0].startsWith("currency:") ?? false);

/** What a brewer most often writes, where nothing tells which kind is wanted. */
const USUAL: readonly string[] = [
  "°C",
  "°F",
  "kg",
  "lb",
  "L",
  "hL",
  "US gal",
  "US bbl",
  "imp gal",
  "°P",
  "SG",
  "min",
  "h",
  "bar",
  "psi",
  "pH",
  "%",
];

/** The book's own units, then the usual ones, then the rest in the order of the catalogue; currencies last. */
function usualFirst(units: readonly Unit[]): readonly Unit[] {
  const rank = (unit: Unit): number => {
    if (unit.since === 0) return -1;
    if (isMoney(unit)) return USUAL.length + 1;
    return USUAL.includes(unit.symbol) ? USUAL.indexOf(unit.symbol) : USUAL.length;
  };
  return units.toSorted((a, b) => rank(a) - rank(b));
}

/** Units: first those of the kind that is wanted, where it is known; behind `as` only those. */
export function unitCandidates(
  model: Model,
  context: Context,
  before: string,
  inHand: ArgumentInHand | null,
): readonly Candidate[] {
  const wanted = wantedKind(model, context, before, inHand);
  const inCompound = /[/·*]$/.test(before);
  const all = model.head.units.all();
  const fits = (unit: Unit): boolean => wanted !== null && sameKind(kindOfUnit(shownUnitOf(unit)), wanted);
  const first = inCompound ? [] : all.filter(fits);
  const compounds = wanted === null || inCompound ? [] : usualCompounds(wanted);
  const strict = /\bas\s*$/.test(before) && first.length + compounds.length > 0;
  const others = strict ? [] : usualFirst(all.filter((unit) => !first.includes(unit)));
  return [
    ...compounds.map((unit) =>
      candidate(
        { label: printUnit(unit), insert: printUnit(unit), detail: kindName(kindOfUnit(unit)), kind: "unit" },
        [],
        { exactCase: true },
      ),
    ),
    ...[...first, ...others].map((unit) =>
      candidate(
        { label: unit.symbol, insert: unit.symbol, detail: kindName(kindOfUnit(shownUnitOf(unit))), kind: "unit" },
        unit.names,
        { exactCase: true, rare: isMoney(unit) && !fits(unit) },
      ),
    ),
  ];
}

/** What the lenses show a kind in where no single unit of the catalogue does: `L/kg`. */
function usualCompounds(kind: Kind): readonly ShownUnit[] {
  const reads = kind.is === "quantity" ? kind.dimension : null;
  if (reads === null || reads.powers.length < 2) return [];
  const units = LENSES.flatMap((lens) => lensUnit(lens, reads, 1, null)?.unit ?? []);
  return units.filter((unit, at) => units.findIndex((other) => printUnit(other) === printUnit(unit)) === at);
}

/** One figure, with nothing that it is worked out from or with. */
const ONE_FIGURE = /^\s*\??\s*[-−]?[\d.,]*\s*$/;

/** The kind of what stands before `as`, `by` and a range; of the argument in hand; where a figure is all there is, what the line has been. */
function wantedKind(model: Model, context: Context, before: string, inHand: ArgumentInHand | null): Kind | null {
  const tail = /^(.*?)\b(as|by|within)\s+(?:[\d.]+\s*)?(?:to\s+[\d.]+\s*)?$/s.exec(before);
  if (tail !== null) {
    const { kind } = typeOfText(model, context, innermost(tail[1] ?? ""));
    if (kind.is === "unknown") return null;
    return tail[2] === "by" && kind.is === "reading" ? quantity(FAMILIES[kind.family].difference) : kind;
  }
  if (ONE_FIGURE.test(before)) {
    const node = nodeAt(model, context);
    const kind = node === null ? null : model.typeOf(node).kind;
    return kind?.is === "unknown" ? null : kind;
  }
  if (inHand?.argument == null) return null;
  const signature = model.environment.signatures.find(inHand.function.name);
  const unit = signature?.parameters[inHand.index]?.unit ?? null;
  return unit === null ? null : kindOfUnit(unit);
}

/** The type of the formula before the cursor, where it is sound. */
function typeOfText(model: Model, context: Context, text: string): Type {
  if (text.trim() === "") return UNKNOWN_TYPE;
  model.names.allowSuggestions();
  return checkFormula(model.head.parse(text), model.environment, scopeAt(model, context)).type;
}
