import type { Type } from "../values/kind.ts";
import type { Value } from "../values/value.ts";

/** The stages of the work, in its order; the reference and completion are sorted by it. */
export type Stage =
  | "general"
  | "water"
  | "mash"
  | "boil"
  | "gravity"
  | "fermentation"
  | "carbonation"
  | "packaging"
  | "heat"
  | "cleaning"
  | "account";

/** What an argument takes, named by a unit of its kind: `°C` a temperature reading, `Δ°C` a difference, `kg` a mass, `1` a plain number. */
export type ArgumentUnit =
  /** A unit phrase of the catalogue: `L/kg`, `mg/L CaCO3`. */
  | { readonly unit: string }
  /** A text; with `choices`, one of these (compared without case). */
  | { readonly text: "any" | readonly string[] }
  /** Money in whatever currency; with `per` money divided by that unit: `{ money: "per", unit: "L" }`. */
  | { readonly money: "amount" }
  | { readonly money: "per"; readonly unit: string }
  /** An instant, zoned or not. */
  | { readonly instant: true }
  /** A truth. */
  | { readonly truth: true };

export interface Argument {
  readonly name: string;
  /** One plain sentence; a volume says at which point and temperature it is measured. */
  readonly says: string;
  readonly takes: ArgumentUnit;
  /** A literal as a brewer would write it, `20 °C` or `"Tinseth"`; absent: the argument must be given. A plant-dependent default says in `says` that it is one. */
  readonly default?: string;
  /** What is accepted, in `takes`' unit, ends included; outside it the call is refused with `wrong-argument` naming these. */
  readonly low?: number;
  readonly high?: number;
  /** `each` (the default): single or column, row by row. `whole`: the function takes the column as a whole. */
  readonly column?: "each" | "whole";
}

/** An argument as a message speaks of it: its name and the beginning of what is said of it, `rest (temperature at which the mash shall rest)`. */
export function argumentInWords({ name, says }: Pick<Argument, "name" | "says">): string {
  const first = says.split(/[.:;,(]/)[0]?.trim() ?? "";
  const inside = /^[A-Z][a-z]*(?: |$)/.test(first) ? first.charAt(0).toLowerCase() + first.slice(1) : first;
  const same = inside.toLowerCase().replace(/^the /, "") === name.replaceAll("_", " ");
  return same || inside === "" ? name : `${name} (${inside})`;
}

/** Outside a published range the value stands, with a caution that names it and its source. In `unit`'s figures of the argument. */
export interface PublishedRange {
  readonly argument: string;
  readonly low?: number;
  readonly high?: number;
}

/** Why there is no value, in a brewer's words: a full sentence. */
export interface NoValue {
  readonly noValue: string;
  /** There is none because a column given as a `whole` argument has too few entries: more of them would give one. */
  readonly tooFew?: true;
}
export const noValue = (says: string): NoValue => ({ noValue: says });
export const tooFew = (says: string): NoValue => ({ noValue: says, tooFew: true });
export const isNoValue = (result: Value | NoValue): result is NoValue =>
  typeof result === "object" && "noValue" in result;

/** Arguments by name in coherent units: numbers (truths 1 and 0, readings per their scale: °C, mass share, Pa absolute, seconds), texts, and columns for `whole` arguments. */
export type Given = Readonly<Record<string, Value>>;

/**
 * One brewing function. Everything a person is told of it, in the app, on the command line and in the reference, is read from here.
 */
export interface LibraryFunction {
  readonly name: string;
  readonly stage: Stage;
  /** One plain sentence that says what comes out. */
  readonly says: string;
  /** Other words under which a brewer would look for it. */
  readonly searchWords: readonly string[];
  /** The library version that brought it. */
  readonly since: number;
  /** Library versions in which its figures changed. */
  readonly changed?: readonly number[];
  readonly arguments: readonly Argument[];
  /** The unit its result is shown in (`°C`, `kg`, `1`), text, or a rule where it follows the arguments (money). */
  readonly result:
    | { readonly unit: string }
    | { readonly text: true }
    | { readonly truth: true }
    | { readonly rule: (given: Readonly<Record<string, Type>>) => Type };
  /** The published source, or "common practice, no source". */
  readonly source: string;
  /** In words: validity and known error. */
  readonly range: string;
  readonly published?: readonly PublishedRange[];
  /** An estimate's known error, shown beside the result. */
  readonly error?: string;
  /** `safety`: the work can hurt someone. `estimate`: law or licence is involved. Shown once per sheet. */
  readonly caution?: { readonly is: "safety" | "estimate"; readonly says: string };
  /** Coherent in, coherent out; pure; never throws; never sees a missing number. NaN or infinite results are reported as `no-value`. */
  readonly arithmetic: (given: Given) => number | string | NoValue;
}
