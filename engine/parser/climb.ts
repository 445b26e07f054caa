import type { IToken } from "chevrotain";
import type { Span } from "../base/span.ts";
import { type Fault, fault, mend } from "../diagnostics/diagnostic.ts";
import type { BinaryOperator, Prefix } from "./tokens.ts";
import type { ChainOperator, CompareOperator, Node } from "./tree.ts";

/** One operand of a run, with the signs before it, and the operator or `is missing` behind it. */
export interface Link {
  /** Prefixes token before the operand, or null. */
  readonly prefixes: IToken | null;
  readonly operand: Node;
  /** Operator or Missing token; null at the run's end. A link behind a Missing token has no operand of its own. */
  after: IToken | null;
}

/** How strongly each binds; higher is tighter (language reference, "Operators"). */
const OR = 1;
const AND = 2;
const NOT = 3;
const COMPARE = 4;
/** The sign `-` stands between `*` and `^`. */
const POWER = 8;
const STRENGTH: Readonly<Record<BinaryOperator, number>> = {
  or: OR,
  and: AND,
  is: COMPARE,
  "is not": COMPARE,
  "<": COMPARE,
  "<=": COMPARE,
  ">": COMPARE,
  ">=": COMPARE,
  "+": 5,
  "-": 5,
  "*": 6,
  "/": 6,
  "^": POWER,
};

/**
 * Groups a flat run of operands and operators by strength. The grammar reads a run in one loop instead of a rule per
 * strength: a rule costs more than all of this. Depth of recursion is bounded by the number of strengths and, for signed
 * exponents, by the tokenizer's nesting limit; operators of one strength become one flat chain.
 */
export class Climb {
  readonly #links: readonly Link[];
  readonly #text: string;
  readonly #faults: Fault[];
  #at = 0;

  constructor(links: readonly Link[], text: string, faults: Fault[]) {
    this.#links = links;
    this.#text = text;
    this.#faults = faults;
  }

  /** The tree of the whole run. */
  run(): Node {
    return this.#level(OR);
  }

  #link(): Link {
    return this.#links[this.#at] as Link;
  }

  /** The operator behind the operand just read; `is missing` counts as a comparison. */
  #strength(): number {
    const after = this.#link().after;
    return after === null
      ? 0
      : typeof after.payload === "boolean"
        ? COMPARE
        : STRENGTH[after.payload as BinaryOperator];
  }

  #level(least: number): Node {
    let left = this.#signed(least);
    for (let strength = this.#strength(); strength >= least; strength = this.#strength()) {
      if (strength === COMPARE) left = this.#comparison(left);
      else if (strength === POWER) left = this.#power(left);
      else left = this.#chain(left, strength);
    }
    return left;
  }

  /** Steps over the operator behind the operand just read. */
  #step(): IToken {
    const operator = this.#link().after as IToken;
    this.#at += 1;
    return operator;
  }

  #chain(first: Node, strength: number): Node {
    const rest: { operator: ChainOperator; operatorSpan: Span; operand: Node }[] = [];
    let end = first.span.end;
    while (this.#strength() === strength) {
      const operator = this.#step();
      const operand = this.#level(strength + 1);
      rest.push({ operator: operator.payload as ChainOperator, operatorSpan: spanOfToken(operator), operand });
      end = operand.span.end;
    }
    return { node: "chain", span: { start: first.span.start, end }, first, rest };
  }

  #power(base: Node): Node {
    const exponents: Node[] = [];
    let end = base.span.end;
    while (this.#strength() === POWER) {
      this.#step();
      const exponent = this.#signed(POWER);
      exponents.push(exponent);
      end = exponent.span.end;
    }
    return { node: "power", span: { start: base.span.start, end }, base, exponents };
  }

  /** One comparison; further ones in a row are told, and read as joined by `and`. */
  #comparison(left: Node): Node {
    const compared = this.#compared(left);
    const rest: { operator: "and"; operatorSpan: Span; operand: Node }[] = [];
    let middle = compared.right;
    let end = compared.node.span.end;
    while (this.#strength() === COMPARE) {
      const span = spanOfToken(this.#link().after as IToken);
      const says = "Two comparisons in a row are joined by and.";
      const typed = rest.length === 0 ? this.#text.slice(middle.span.start, middle.span.end) : "";
      const blank = middle.span.end === span.start ? " " : "";
      const add = mend("Write and", { start: span.start, end: span.start }, `${blank}and ${typed} `);
      if (rest.length === 0) this.#faults.push(fault("syntax", span, { says }, [add]));
      const next = this.#compared(middle);
      rest.push({ operator: "and", operatorSpan: span, operand: next.node });
      middle = next.right;
      end = next.node.span.end;
    }
    return rest.length === 0
      ? compared.node
      : { node: "chain", span: { start: left.span.start, end }, first: compared.node, rest };
  }

  #compared(left: Node): { readonly node: Node; readonly right: Node } {
    const operator = this.#step();
    const operatorSpan = spanOfToken(operator);
    const start = left.span.start;
    if (typeof operator.payload === "boolean") {
      const span = { start, end: operatorSpan.end };
      return { node: { node: "missing", span, negated: operator.payload, operand: left }, right: left };
    }
    const right = this.#level(COMPARE + 1);
    const span = { start, end: right.span.end };
    return {
      node: { node: "compare", span, operator: operator.payload as CompareOperator, operatorSpan, left, right },
      right,
    };
  }

  /** An operand with the signs before it: `-` binds tighter than `*` and looser than `^`, `not` tighter than `and`. */
  #signed(least: number): Node {
    const { prefixes, operand } = this.#link();
    if (prefixes === null) return operand;
    const { nots, minuses } = prefixes.payload as Prefix;
    const start = spanOfToken(prefixes).start;
    let node = minuses > 0 ? this.#minus(operand, start, minuses) : operand;
    if (nots === 0) return node;
    if (least > NOT) {
      const says = "A not after this operator needs parentheses round it.";
      this.#faults.push(fault("syntax", spanOfToken(prefixes), { says }));
    }
    for (let strength = this.#strength(); strength > NOT; strength = this.#strength()) {
      if (strength === COMPARE) node = this.#comparison(node);
      else if (strength === POWER) node = this.#power(node);
      else node = this.#chain(node, strength);
    }
    return { node: "unary", span: { start, end: node.span.end }, operator: "not", times: nots, operand: node };
  }

  #minus(operand: Node, start: number, times: number): Node {
    const raised = this.#strength() === POWER ? this.#power(operand) : operand;
    return { node: "unary", span: { start, end: raised.span.end }, operator: "-", times, operand: raised };
  }
}

export const spanOfToken = (token: IToken): Span => ({
  start: token.startOffset,
  end: (token.endOffset ?? token.startOffset) + 1,
});
