import type { Rational } from "../base/rational.ts";
import type { Span } from "../base/span.ts";
import type { Fault } from "../diagnostics/diagnostic.ts";
import type { UnitPhrase } from "../parser/tree.ts";
import type { Type } from "../values/kind.ts";
import type { Value } from "../values/value.ts";

/** What a kind rule may look at of one operand; never its value, except where the formula itself fixes it. */
export interface Operand {
  readonly type: Type;
  readonly span: Span;
  /** A literal 0, which fits any linear kind. */
  readonly zero: boolean;
  /** The number, where the operand is a plain number written out: an exponent may depend on it. */
  readonly constant: Rational | null;
  /** Whether the operand itself names the unit it is in: a literal with a unit, or `x as U`. */
  readonly namesUnit: boolean;
  /** The unit of a figure that is written out with one, for mends. */
  readonly written: UnitPhrase | null;
}

/** A kind rule gives the result's type or says what is wrong. */
export type Ruled = Type | Fault;
export const isFault = (ruled: object): ruled is Fault => (ruled as Partial<Fault>).code !== undefined;

/** Where arithmetic tells what it met. */
export interface Report {
  /** There is no value: a full sentence. Counts rows from 0. */
  noValue(says: string, row?: number): void;
  /** There is no value for want of entries, as a full sentence says. `among`: the first so many operands hold them, not all. */
  tooFew(says: string, row?: number, among?: number): void;
  /** Entries that a summary left out. */
  skipped(count: number, of: number): void;
}

/** One general function: its names, kind rule, arithmetic and help stand in one row, so that nothing can disagree. */
export interface GeneralFunction {
  readonly name: string;
  readonly says: string;
  readonly searchWords: readonly string[];
  readonly since: number;
  readonly arguments: readonly GeneralArgument[];
  /** The last argument may be given several times. */
  readonly variadic?: boolean;
  /** What comes out, in words, for the reference. */
  readonly gives: string;
  /** Called with as many operands as were given, none of unknown kind. */
  readonly rule: (operands: readonly Operand[], whole: Span) => Ruled;
  /** Values in coherent units, none of them stopped; types as the rule saw them. */
  readonly run: (values: readonly Value[], types: readonly Type[], report: Report, result: Type) => Value;
  /** Scalar arithmetic where the function is nothing but that; lets a formula run without a look at kinds. */
  readonly scalar?: (a: number, b: number) => number;
}

export interface GeneralArgument {
  readonly name: string;
  readonly says: string;
  /** In words: "a column of readings or quantities". */
  readonly takes: string;
  readonly optional?: boolean;
}
