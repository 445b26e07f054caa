import { printRational } from "../base/rational.ts";
import { printUnit } from "../units/compound.ts";
import { type BaseDimension, type Dimension, dimension } from "../units/dimension.ts";
import type { ScaleFamily, ShownUnit } from "../units/unit.ts";
import type { Kind } from "./kind.ts";

/** Names of dimensions, by what they are made of. Money stands for any currency. */
const NAMED: readonly (readonly [name: string, powers: Partial<Record<BaseDimension, number>>])[] = [
  ["number", {}],
  ["mass", { mass: 1 }],
  ["volume", { length: 3 }],
  ["length", { length: 1 }],
  ["area", { length: 2 }],
  ["time", { time: 1 }],
  ["temperature difference", { temperature: 1 }],
  ["gravity difference", { extract: 1 }],
  ["pH difference", { pH: 1 }],
  ["amount of substance", { amount: 1 }],
  ["equivalents", { equivalent: 1 }],
  ["hardness", { equivalent: 1, length: -3 }],
  ["amount per volume", { amount: 1, length: -3 }],
  ["amount per mass", { amount: 1, mass: -1 }],
  ["mass per amount", { mass: 1, amount: -1 }],
  ["mass per equivalent", { mass: 1, equivalent: -1 }],
  ["mass per volume", { mass: 1, length: -3 }],
  ["volume per mass", { length: 3, mass: -1 }],
  ["pressure", { mass: 1, length: -1, time: -2 }],
  ["force", { mass: 1, length: 1, time: -2 }],
  ["energy", { mass: 1, length: 2, time: -2 }],
  ["power", { mass: 1, length: 2, time: -3 }],
  ["energy per mass", { length: 2, time: -2 }],
  ["specific heat", { length: 2, time: -2, temperature: -1 }],
  ["heat capacity", { mass: 1, length: 2, time: -2, temperature: -1 }],
  ["heat transfer coefficient", { mass: 1, time: -3, temperature: -1 }],
  ["viscosity", { mass: 1, length: -1, time: -1 }],
  ["speed", { length: 1, time: -1 }],
  ["rate", { time: -1 }],
  ["volume flow", { length: 3, time: -1 }],
  ["mass flow", { mass: 1, time: -1 }],
  ["mass per area", { mass: 1, length: -2 }],
  ["temperature change per time", { temperature: 1, time: -1 }],
  ["gravity change per time", { extract: 1, time: -1 }],
  ["mass per gravity difference", { mass: 1, extract: -1 }],
  ["bitterness", { bitterness: 1 }],
  ["colour", { colour: 1 }],
  ["alcohol by volume", { "alcohol by volume": 1 }],
  ["alcohol by mass", { "alcohol by mass": 1 }],
  ["carbonation", { carbonation: 1 }],
  ["diastatic power", { "diastatic power": 1 }],
  ["pasteurisation", { pasteurisation: 1 }],
  ["cells", { cells: 1 }],
  ["cells per volume", { cells: 1, length: -3 }],
  ["cells per mass", { cells: 1, mass: -1 }],
  ["pitching rate", { cells: 1, length: -3, extract: -1 }],
  ["money", { "currency:": 1 }],
  ["money per mass", { "currency:": 1, mass: -1 }],
  ["money per volume", { "currency:": 1, length: -3 }],
  ["money per energy", { "currency:": 1, mass: -1, length: -2, time: 2 }],
  ["money per time", { "currency:": 1, time: -1 }],
];

const READINGS: Readonly<Record<ScaleFamily, string>> = {
  temperature: "temperature",
  gravity: "gravity",
  "absolute pressure": "absolute pressure",
  instant: "instant",
  "zoned instant": "zoned instant",
  pH: "pH",
};

const NAME_BY_KEY: ReadonlyMap<string, string> = new Map(
  [...NAMED].reverse().map(([name, powers]) => [dimension(powers).key, name] as const),
);

const CURRENCY = /^currency:/;

/** Two currencies are told apart; one alone is money. */
function nameOfDimension(of: Dimension): string {
  const currencies = of.powers.filter(([base]) => CURRENCY.test(base)).length;
  const key = currencies === 1 ? of.key.replace(/currency:[^^ ]+/, "currency:") : of.key;
  const named = NAME_BY_KEY.get(key);
  if (named) return named;
  return [...of.powers]
    .sort(([, a], [, b]) => Math.sign(b.n) - Math.sign(a.n))
    .map(([base, power]) => {
      const name = CURRENCY.test(base) ? base.slice("currency:".length) : base;
      return power.n === 1 && power.d === 1 ? name : `${name}^${printRational(power)}`;
    })
    .join(" · ");
}

/** A kind in words: `mass`, `volume per mass`, `temperature`; what has no name is told by its base dimensions, `mass · length^-4`. */
export function kindName(kind: Kind): string {
  switch (kind.is) {
    case "quantity":
      return nameOfDimension(kind.dimension);
    case "reading":
      return READINGS[kind.family];
    default:
      return kind.is;
  }
}

/** Every name that {@link kindName} gives, for the reference; other dimensions are told by their base dimensions. */
export const KIND_NAMES: readonly string[] = [
  ...new Set([...NAMED.map(([name]) => name), ...Object.values(READINGS), "text", "truth", "unknown"]),
];

/** For messages, at the start of a sentence: `Mass (kg)`, `A number`; the unit is the one it is shown in. */
export function describe(kind: Kind, unit: ShownUnit | null): string {
  const inside = describeInside(kind, unit);
  return inside.startsWith("pH") ? inside : inside.charAt(0).toUpperCase() + inside.slice(1);
}

/** What is counted has an article wherever a sentence speaks of it, or is many in a column. */
const COUNTED: Readonly<Record<string, { readonly one: string; readonly many: string }>> = {
  number: { one: "a number", many: "numbers" },
  text: { one: "a text", many: "texts" },
  truth: { one: "a condition", many: "conditions" },
  instant: { one: "a time", many: "times" },
  "zoned instant": { one: "a time with a zone", many: "times with a zone" },
};

function withUnit(name: string, unit: ShownUnit | null, kind: string): string {
  const written = unit ? printUnit(unit) : "";
  return written === "" || written === kind ? name : `${name} (${written})`;
}

/** For messages, inside a sentence: `mass (kg)`, `a number`. */
export function describeInside(kind: Kind, unit: ShownUnit | null): string {
  const name = kindName(kind);
  return withUnit(COUNTED[name]?.one ?? name, unit, name);
}

/** For messages, what stands in a column: `mass (kg)`, `numbers`. */
export function describeMany(kind: Kind, unit: ShownUnit | null): string {
  const name = kindName(kind);
  return withUnit(COUNTED[name]?.many ?? name, unit, name);
}

/** Kinds that are not counted: `money`, not a money. */
const UNCOUNTED =
  /^(?:money|cells|equivalents|pH$|energy|power|heat|specific heat|bitterness|carbonation|hardness|viscosity)/;

/** For messages, one of a kind: `a mass (kg)`, `an area (m²)`, `a number`. */
export function describeOne(kind: Kind, unit: ShownUnit | null): string {
  const inside = describeInside(kind, unit);
  if (COUNTED[kindName(kind)] !== undefined || UNCOUNTED.test(inside)) return inside;
  return `${/^[aeiou]/.test(inside) ? "an" : "a"} ${inside}`;
}
