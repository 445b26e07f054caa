import type { Span } from "../base/span.ts";
import type { Caution, Fault } from "../diagnostics/diagnostic.ts";
import type { LibraryFunction } from "../library/declaration.ts";
import type { Comparison } from "../operations/comparison.ts";
import type { GeneralFunction } from "../operations/operand.ts";
import type { Kind, Type } from "../values/kind.ts";
import type { Value } from "../values/value.ts";
import type { Signature } from "./signature.ts";

/*
 * What checking yields: a tree of arithmetic in coherent units. No unit is left to look up; a formula that carries a
 * fault has no tree, so that it cannot be evaluated.
 */

interface Checked {
  readonly type: Type;
  /** In the formula's text; inside a workbook function, the call's. */
  readonly span: Span;
}

export type Arithmetic = "+" | "-" | "*" | "/" | "^";

export type CheckedNode =
  | (Checked & { readonly op: "constant"; readonly value: number | string })
  /** A line, or a column: a node of the dependency graph. */
  | (Checked & { readonly op: "load"; readonly node: number })
  | (Checked & { readonly op: "parameter"; readonly index: number })
  | (Checked & {
      readonly op: "arithmetic";
      readonly operator: Arithmetic;
      readonly left: CheckedNode;
      readonly right: CheckedNode;
    })
  | (Checked & { readonly op: "negate" | "not"; readonly operand: CheckedNode })
  | (Checked & { readonly op: "and" | "or"; readonly left: CheckedNode; readonly right: CheckedNode })
  | (Checked & {
      readonly op: "compare";
      readonly comparison: Comparison;
      readonly kind: Kind;
      readonly left: CheckedNode;
      readonly right: CheckedNode;
    })
  | (Checked & { readonly op: "missing"; readonly negated: boolean; readonly operand: CheckedNode })
  | (Checked & {
      readonly op: "if";
      readonly branches: readonly { readonly condition: CheckedNode; readonly value: CheckedNode }[];
      readonly otherwise: CheckedNode;
    })
  | (Checked & { readonly op: "where"; readonly columns: CheckedNode; readonly condition: CheckedNode })
  | (Checked & {
      readonly op: "general";
      readonly function: GeneralFunction;
      readonly operands: readonly CheckedNode[];
    })
  | (Checked & {
      readonly op: "library";
      readonly function: LibraryFunction;
      readonly signature: Signature;
      /** In the order of the declaration's arguments, defaults filled in. */
      readonly operands: readonly CheckedNode[];
    })
  | (Checked & { readonly op: "apply"; readonly body: CheckedNode; readonly operands: readonly CheckedNode[] });

/** A step that results are shown by, in figures of the shown unit. */
export interface Step {
  readonly figure: number;
  readonly decimals: number;
}

/** What a cell or an entry accepts, coherent. */
export type Within =
  | {
      readonly is: "range";
      readonly low: number;
      readonly high: number;
      readonly lowText: string;
      readonly highText: string;
    }
  | { readonly is: "choices"; readonly texts: readonly string[] };

/** What a `?` asks for, and what it was filled with. */
export interface CheckedBlank {
  readonly asks: "quantity" | "number" | "text" | "instant" | "truth";
  /** Null while it waits. */
  readonly filled: Value | null;
}

export interface CheckedFormula {
  /** The kind is `unknown` when a fault, its own or another line's, hides it. */
  readonly type: Type;
  /** Null when the formula or a line that it needs is faulty, and for a blank. */
  readonly root: CheckedNode | null;
  readonly blank: CheckedBlank | null;
  readonly step: Step | null;
  readonly within: Within | null;
  readonly note: string | null;
  /** Its own faults, in the formula's text. */
  readonly faults: readonly Fault[];
  /** Cautions that follow from the text alone. */
  readonly cautions: readonly Caution[];
}
