import { unreachable } from "../base/invariant.ts";
import { nameKey } from "../base/names.ts";
import type { NameNode, Node, WhereNode } from "../parser/tree.ts";
import type { Names, Scope } from "./environment.ts";

/** The parts of a node, one level down; a `where` is told apart by its callers. */
function partsOf(node: Node): readonly Node[] {
  switch (node.node) {
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
    case "call":
      return node.arguments.map(({ value }) => value);
    case "where":
      return [node.columns, node.condition];
    case "literal":
    case "instant":
    case "text":
    case "truth":
    case "name":
    case "blank":
    case "broken":
      return [];
    default:
      return unreachable(node);
  }
}

/** Calls `visit` with every name of an expression and the scope in which it is looked up. */
export function eachName(node: Node, names: Names, scope: Scope, visit: (name: NameNode, scope: Scope) => void): void {
  if (node.node === "name") visit(node, scope);
  else if (node.node === "where") {
    eachName(node.columns, names, scope, visit);
    eachName(node.condition, names, { ...scope, filtered: tableFiltered(node, names, scope) }, visit);
  } else for (const part of partsOf(node)) eachName(part, names, scope, visit);
}

/** The table whose columns need no prefix in a `where`'s condition: the one that its left side names columns of. */
export function tableFiltered(node: WhereNode, names: Names, scope: Scope): string | null {
  let table: string | null = null;
  eachName(node.columns, names, scope, (name, within) => {
    const found = names.resolve(name, within);
    if (table === null && found.is === "node") table = names.tableOf(found.node);
  });
  return table;
}

/** The functions that an expression calls, by key. */
export function eachCall(node: Node, visit: (key: string) => void): void {
  if (node.node === "call") visit(nameKey(node.name));
  for (const part of partsOf(node)) eachCall(part, visit);
}
