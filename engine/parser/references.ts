import type { CallNode, Node } from "./tree.ts";

/** Every node of a formula's tree, a node before what it holds, left to right. */
function* nodesOf(node: Node): Generator<Node> {
  // A list of its own instead of recursion: each node is pushed once.
  const waiting: Node[] = [node];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    yield next;
    const children = childrenOf(next);
    for (let i = children.length - 1; i >= 0; i -= 1) waiting.push(children[i] as Node);
  }
}

/** What a node holds, left to right. */
export function childrenOf(node: Node): readonly Node[] {
  switch (node.node) {
    case "call":
      return node.arguments.map(({ value }) => value);
    case "chain":
      return [node.first, ...node.rest.map(({ operand }) => operand)];
    case "power":
      return [node.base, ...node.exponents];
    case "unary":
    case "missing":
    case "as":
      return [node.operand];
    case "compare":
      return [node.left, node.right];
    case "if":
      return [...node.branches.flatMap(({ condition, value }) => [condition, value]), node.otherwise];
    case "where":
      return [node.columns, node.condition];
    default:
      return [];
  }
}

/** The function calls in an expression, outer before inner. */
export function callsOf(expression: Node): readonly CallNode[] {
  const found: CallNode[] = [];
  for (const node of nodesOf(expression)) if (node.node === "call") found.push(node);
  return found;
}
