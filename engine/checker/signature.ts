import { invariant } from "../base/invariant.ts";
import type { Argument, ArgumentUnit, LibraryFunction } from "../library/declaration.ts";
import { LIBRARY_FUNCTIONS } from "../library/functions.ts";
import type { ParsedFormula } from "../parser/tree.ts";
import { BASE_BOOK } from "../units/book.ts";
import { PLAIN, printUnit } from "../units/compound.ts";
import { toCoherent } from "../units/convert.ts";
import {
  type Dimension,
  divideDimensions,
  isDimensionless,
  multiplyDimensions,
  sameDimension,
} from "../units/dimension.ts";
import { resolvePhrase } from "../units/phrase.ts";
import type { ShownUnit } from "../units/unit.ts";
import { describeOne } from "../values/describe.ts";
import { isInstant, type Kind, quantity, reading, TEXT, TRUTH, type Type } from "../values/kind.ts";

/** An argument with its unit looked up. */
export interface Parameter {
  readonly argument: Argument;
  /** Whether a kind fits. */
  readonly fits: (kind: Kind) => boolean;
  /** Null for text, truth, money and instants. */
  readonly unit: ShownUnit | null;
  /** Bounds in coherent units, where the argument has them. */
  readonly low: number;
  readonly high: number;
  /** For messages: `It takes a temperature (°C).` */
  readonly takes: string;
  /** The default, parsed; null: it must be given. */
  readonly default: ParsedFormula | null;
}

/** A declaration made ready for checking and running. */
export interface Signature {
  readonly function: LibraryFunction;
  readonly parameters: readonly Parameter[];
  readonly byName: ReadonlyMap<string, number>;
  /** Null where the result follows the arguments. */
  readonly result: { readonly kind: Kind; readonly unit: ShownUnit | null } | null;
  /** Published ranges in coherent units. */
  readonly published: readonly {
    readonly parameter: number;
    readonly low: number;
    readonly high: number;
    readonly says: string;
  }[];
}

/** Every brewing function by name; a signature is made when it is first asked for. */
export interface Signatures {
  readonly find: (name: string) => Signature | null;
  readonly names: readonly string[];
}

/** The unit that a declaration names. Throws on one that is not in the catalogue: only a declaration can be wrong. */
export function declaredUnit(text: string, parse: (unit: string) => ParsedFormula): ShownUnit {
  if (text === "1") return PLAIN;
  const parsed = parse(`1 ${text}`);
  const literal = parsed.expression;
  invariant(literal.node === "literal" && parsed.faults.length === 0, `declared unit ${text} cannot be read`);
  const phrase = literal.figures[0]?.unit;
  invariant(phrase, `declared unit ${text} is no unit`);
  const resolved = resolvePhrase(phrase.factors, BASE_BOOK);
  invariant("unit" in resolved, `declared unit ${text} is not in the catalogue`);
  return resolved.unit;
}

const kindOf = (unit: ShownUnit): Kind => {
  if (unit.is === "compound") return quantity(unit.dimension);
  return typeof unit.reads === "string" ? reading(unit.reads) : quantity(unit.reads);
};

/** The dimension without its one currency of power 1, or null when there is none. */
export function withoutMoney(of: Dimension): Dimension | null {
  const money = of.powers.filter(([base, power]) => base.startsWith("currency:") && power.n === 1 && power.d === 1);
  const [only] = money;
  if (money.length !== 1 || only === undefined) return null;
  return divideDimensions(of, { powers: [only], key: `${only[0]}^1` });
}

function fitsMoney(takes: Extract<ArgumentUnit, { money: unknown }>, per: ShownUnit): (kind: Kind) => boolean {
  const wanted = per.is === "compound" ? per.dimension : null;
  return (kind) => {
    if (kind.is !== "quantity") return false;
    const rest = withoutMoney(kind.dimension);
    if (rest === null) return false;
    return takes.money === "amount"
      ? isDimensionless(rest)
      : wanted !== null && isDimensionless(multiplyDimensions(rest, wanted));
  };
}

function parameterOf(argument: Argument, parse: (text: string) => ParsedFormula): Parameter {
  const { takes } = argument;
  const fixed = argument.default === undefined ? null : parse(argument.default);
  invariant(fixed === null || fixed.faults.length === 0, `default of ${argument.name} cannot be read`);
  const of = (fits: (kind: Kind) => boolean, unit: ShownUnit | null, words: string): Parameter => ({
    argument,
    fits,
    unit,
    low: argument.low === undefined || unit === null ? Number.NEGATIVE_INFINITY : toCoherent(argument.low, unit),
    high: argument.high === undefined || unit === null ? Number.POSITIVE_INFINITY : toCoherent(argument.high, unit),
    takes: `It takes ${words}.`,
    default: fixed,
  });
  if ("text" in takes)
    return of(
      (kind) => kind.is === "text",
      null,
      takes.text === "any" ? "a text" : takes.text.map((choice) => `"${choice}"`).join(", "),
    );
  if ("truth" in takes) return of((kind) => kind.is === "truth", null, "yes or no");
  if ("instant" in takes) return of(isInstant, null, "a time such as 2026-03-02T08:15");
  if ("money" in takes) {
    const per = takes.money === "per" ? declaredUnit(takes.unit, parse) : PLAIN;
    return of(
      fitsMoney(takes, per),
      null,
      takes.money === "per"
        ? `money per ${printUnit(per)}, such as 2.40 CAD/${printUnit(per)}`
        : "money, such as 250 CAD",
    );
  }
  const unit = declaredUnit(takes.unit, parse);
  const kind = kindOf(unit);
  const fits = (given: Kind): boolean =>
    kind.is === "quantity"
      ? given.is === "quantity" && sameDimension(given.dimension, kind.dimension)
      : given.is === "reading" && kind.is === "reading" && given.family === kind.family;
  return of(fits, unit, printUnit(unit) === "" ? "a plain number" : describeOne(kind, unit));
}

function resultOf(of: LibraryFunction, parse: (text: string) => ParsedFormula): Signature["result"] {
  const { result } = of;
  if ("rule" in result) return null;
  if ("text" in result) return { kind: TEXT, unit: null };
  if ("truth" in result) return { kind: TRUTH, unit: null };
  const unit = declaredUnit(result.unit, parse);
  return { kind: kindOf(unit), unit };
}

function signatureOf(of: LibraryFunction, parse: (text: string) => ParsedFormula): Signature {
  const parameters = of.arguments.map((argument) => parameterOf(argument, parse));
  const byName = new Map(of.arguments.map((argument, index) => [argument.name, index]));
  const published = (of.published ?? []).map((range) => {
    const parameter = byName.get(range.argument);
    invariant(parameter !== undefined, `${of.name} publishes a range of ${range.argument}, which it does not take`);
    const unit = parameters[parameter]?.unit ?? PLAIN;
    const ends = [range.low, range.high].map((end) => (end === undefined ? "" : `${end} ${printUnit(unit)}`.trim()));
    const says =
      range.low === undefined
        ? `${range.argument} is published up to ${ends[1]}.`
        : range.high === undefined
          ? `${range.argument} is published from ${ends[0]}.`
          : `${range.argument} is published for ${ends[0]} to ${ends[1]}.`;
    return {
      parameter,
      low: range.low === undefined ? Number.NEGATIVE_INFINITY : toCoherent(range.low, unit),
      high: range.high === undefined ? Number.POSITIVE_INFINITY : toCoherent(range.high, unit),
      says,
    };
  });
  return { function: of, parameters, byName, result: resultOf(of, parse), published };
}

/** `parse` reads the declarations' units and defaults; they are written in the language itself. */
export function createSignatures(parse: (text: string) => ParsedFormula): Signatures {
  const declared = new Map(LIBRARY_FUNCTIONS.map((of) => [of.name, of]));
  const made = new Map<string, Signature>();
  return {
    names: [...declared.keys()],
    find(name) {
      const known = made.get(name);
      if (known !== undefined) return known;
      const of = declared.get(name);
      if (of === undefined) return null;
      const signature = signatureOf(of, parse);
      made.set(name, signature);
      return signature;
    },
  };
}

/** The type with which a function's result appears, given its arguments' types by name. */
export function resultType(signature: Signature, given: Readonly<Record<string, Type>>, rows: string | null): Type {
  if (signature.result !== null) return { ...signature.result, rows };
  const { result } = signature.function;
  invariant("rule" in result, "a signature without result has a rule");
  return { ...result.rule(given), rows };
}
