import type { CheckedNode } from "../checker/checked.ts";
import { partsOf } from "../checker/formula.ts";
import type { Value } from "../values/value.ts";

/** A call of one of the book's functions: what its parameters hold, and the parts of the formula that stand for them. */
export interface Frame {
  readonly values: readonly Value[];
  readonly operands: readonly CheckedNode[];
  readonly outer: Frame | null;
}

/**
 * The lines and columns from which a part of a formula that is a column has its entries. What only chooses among rows, a
 * condition after `where`, is none of them.
 */
export function drawsOn(part: CheckedNode, frame: Frame | null): ReadonlySet<number> {
  const found = new Set<number>();
  const open: (readonly [CheckedNode, Frame | null])[] = [[part, frame]];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const [node, within] = next;
    // A single figure is there for every row.
    if (node.type.rows === null) continue;
    if (node.op === "load") found.add(node.node);
    else if (node.op === "parameter") {
      const operand = within?.operands[node.index];
      if (operand !== undefined) open.push([operand, within?.outer ?? null]);
    } else for (const each of entriesFrom(node)) open.push([each, within]);
  }
  return found;
}

function entriesFrom(node: CheckedNode): readonly CheckedNode[] {
  // A function of the book reads its arguments alone; whether an entry is missing is never missing itself.
  if (node.op === "apply") return node.operands;
  if (node.op === "where") return [node.columns];
  return node.op === "missing" ? [] : partsOf(node);
}
