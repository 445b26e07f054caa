import type { Span } from "../base/span.ts";
import { type Fault, fault } from "../diagnostics/diagnostic.ts";
import { isFault, type Operand, type Ruled } from "../operations/operand.ts";
import type { Node } from "../parser/tree.ts";
import { isExcessive, POWER_LIMIT } from "../units/dimension.ts";
import { type Type, UNKNOWN } from "../values/kind.ts";
import type { CheckedNode } from "./checked.ts";
import type { CheckEnvironment, Scope } from "./environment.ts";
import type { Work } from "./work.ts";

export const UNKNOWN_TYPE: Type = { kind: UNKNOWN, unit: null, rows: null };

/** A parameter of a workbook function, as one call gives it. */
export interface Parameter {
  readonly name: string;
  readonly index: number;
  readonly type: Type;
}

/** The state of one formula's check: what it may look at, where names are looked up, and the faults so far. */
export interface Check {
  readonly environment: CheckEnvironment;
  readonly scope: Scope;
  /** Inside a workbook function: its parameters' types by key, the only names it may use. */
  readonly parameters: ReadonlyMap<string, Parameter> | null;
  /** The text that the spans point into. */
  readonly text: string;
  /** Names of the workbook functions being checked, outermost first: none may come again. */
  readonly calls: readonly string[];
  readonly work: Work;
  readonly faults: Fault[];
  /** Checks a part: handed along, so that calls and expressions, which need each other, need not import each other. */
  readonly part: (check: Check, node: Node) => Found;
}

/** A checked operand: the arithmetic, and what kind rules may look at. */
export interface Found {
  readonly node: CheckedNode;
  readonly operand: Operand;
}

/** Something that a fault already hides: it causes no second one. */
export function hidden(span: Span): Found {
  const node: CheckedNode = { op: "constant", value: Number.NaN, type: UNKNOWN_TYPE, span };
  return { node, operand: { type: UNKNOWN_TYPE, span, zero: false, constant: null, namesUnit: false, written: null } };
}

export function refuse(check: Check, found: Fault): Found {
  check.faults.push(found);
  return hidden(found.span);
}

export const plainly = (node: CheckedNode): Found => ({
  node,
  operand: { type: node.type, span: node.span, zero: false, constant: null, namesUnit: false, written: null },
});

/** Takes a rule's answer: the node it makes, or its fault noted. */
export function ruled(check: Check, answer: Ruled, make: (type: Type) => CheckedNode): Found {
  if (isFault(answer)) return refuse(check, answer);
  const made = make(answer);
  const { kind } = made.type;
  if (kind.is === "quantity" && isExcessive(kind.dimension))
    return refuse(check, fault("syntax", made.span, { says: EXCESSIVE_POWER }));
  return plainly(made);
}

/** Said of a unit, written or come about, that no quantity has. */
export const EXCESSIVE_POWER = `A unit has a power of at most ${POWER_LIMIT}.`;
