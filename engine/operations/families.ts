import { invariant } from "../base/invariant.ts";
import { CATALOGUE } from "../units/catalogue.ts";
import { compoundOf, PLAIN } from "../units/compound.ts";
import { type Dimension, dimension, sameDimension } from "../units/dimension.ts";
import type { CompoundUnit, LinearUnit, ScaleFamily, ShownUnit } from "../units/unit.ts";
import type { Type } from "../values/kind.ts";

interface Family {
  /** The family as a message says it. */
  readonly noun: string;
  /** What the difference of two readings is. */
  readonly difference: Dimension;
  /** What a difference is shown in where the reading's own unit has none. */
  readonly shownIn: string;
  /** How a change is written, for messages. */
  readonly example: string;
}

const TIME = dimension({ time: 1 });

/** Every family of readings: what its differences are, and how to speak of it. */
export const FAMILIES: { readonly [F in ScaleFamily]: Family } = {
  temperature: {
    noun: "temperature",
    difference: dimension({ temperature: 1 }),
    shownIn: "Δ°C",
    example: "For a rise of 5 degrees write 5 Δ°C.",
  },
  gravity: {
    noun: "gravity",
    difference: dimension({ extract: 1 }),
    shownIn: "Δ°P",
    example: "For a change of 2 degrees write 2 Δ°P; for gravity times volume use extract_mass or points.",
  },
  "absolute pressure": {
    noun: "absolute pressure",
    difference: dimension({ mass: 1, length: -1, time: -2 }),
    shownIn: "kPa",
    example: "For a difference from ambient write a pressure such as 10 psi.",
  },
  instant: { noun: "time", difference: TIME, shownIn: "day", example: "For a length of time write 90 min or 3 day." },
  "zoned instant": {
    noun: "time",
    difference: TIME,
    shownIn: "day",
    example: "For a length of time write 90 min or 3 day.",
  },
  pH: {
    noun: "pH",
    difference: dimension({ pH: 1 }),
    shownIn: "ΔpH",
    example: "For a change of a tenth write 0.1 ΔpH.",
  },
};

export function linearUnit(symbol: string): LinearUnit {
  const found = CATALOGUE.find((unit) => unit.symbol === symbol);
  invariant(found?.is === "linear", `no linear unit ${symbol}`);
  return found;
}

/** What the difference of two readings is shown in: the first reading's own degrees where it has them. */
export function differenceUnit(family: ScaleFamily, first: ShownUnit | null): CompoundUnit {
  const own = first?.is === "scale" ? first.difference : null;
  return compoundOf(own ?? linearUnit(FAMILIES[family].shownIn));
}

/** The linear unit that a quantity's arithmetic is shown in: its own, or for one read on a scale (°L) the first of its dimension (SRM). */
export function linearShown({ kind, unit }: Type): CompoundUnit {
  if (unit?.is === "compound") return unit;
  const like =
    kind.is === "quantity"
      ? CATALOGUE.find((row) => row.is === "linear" && sameDimension(row.dimension, kind.dimension))
      : undefined;
  return like?.is === "linear" ? compoundOf(like) : PLAIN;
}
