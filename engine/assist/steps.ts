import type { Span } from "../base/span.ts";
import type { CheckedNode } from "../checker/checked.ts";
import { partsOf } from "../checker/formula.ts";
import { evaluate } from "../evaluator/evaluate.ts";
import type { Lens } from "../units/lens.ts";
import type { Model } from "../workbook/model.ts";
import { briefPart } from "./figures-put-in.ts";

/** One step of a working: `strike_temperature(…)` and what it gives. */
export interface Step {
  /** As it is written in the formula. */
  readonly formula: string;
  /** The same with figures in the place of names. */
  readonly withFigures: string;
  /** What it gives, under the lens; empty when it has no value. */
  readonly shown: string;
  /** Arguments that were not given and are taken at their usual value: `tun_temp: 20 °C`. */
  readonly usual: readonly string[];
}

/** More steps than these are not written out: nobody reads them. */
const MOST_STEPS = 40;

/** The calls and conditions of a node's calculation with what they give, innermost first. */
export function stepsOf(
  model: Model,
  lens: Lens,
  node: number,
  text: string,
  withFigures: (span: Span) => string,
): readonly Step[] {
  const root = model.checkedOf(node)?.root ?? null;
  if (root === null) return [];
  const steps: Step[] = [];
  const nodes = stepNodes(root);
  for (const each of nodes) {
    const usual = each.op === "library" ? usualOf(each) : [];
    // The whole formula is its own last step, and told as the result.
    if (each === root && usual.length === 0) continue;
    steps.push({
      formula: text.slice(each.span.start, each.span.end).replace(/\s+/g, " "),
      withFigures: withFigures(each.span),
      shown: shownPart(model, lens, each),
      usual,
    });
  }
  return steps;
}

/** Calls and conditions, those inside others first; found without recursion, as a long chain is as deep as it is long. */
function stepNodes(root: CheckedNode): readonly CheckedNode[] {
  const found: CheckedNode[] = [];
  const open: CheckedNode[] = [root];
  for (let node = open.pop(); node !== undefined && found.length < MOST_STEPS; node = open.pop()) {
    if (
      node.op === "library" ||
      node.op === "general" ||
      node.op === "apply" ||
      node.op === "compare" ||
      node.op === "missing"
    )
      found.push(node);
    // The body of a workbook's function has its own text and its own arguments; rows of a condition have no single value.
    open.push(...(node.op === "apply" ? node.operands : node.op === "where" ? [node.columns] : partsOf(node)));
  }
  return found.reverse();
}

function shownPart(model: Model, lens: Lens, node: CheckedNode): string {
  const { value, stop } = evaluate(node, model.store);
  return stop === null ? briefPart(model, lens, node.type, value) : "";
}

/** The defaults that a call left as they are: the checker gives them the place of the call, where no written argument begins. */
function usualOf({ span, operands, signature }: Extract<CheckedNode, { op: "library" }>): readonly string[] {
  return signature.parameters.flatMap(({ argument }, at) => {
    const usual = argument.default !== undefined && operands[at]?.span.start === span.start;
    return usual ? [`${argument.name}: ${argument.default}`] : [];
  });
}
