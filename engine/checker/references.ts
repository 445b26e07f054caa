import { childrenOf } from "../parser/references.ts";
import type { NameNode, Node, WhereNode } from "../parser/tree.ts";
import type { Names, Scope } from "./environment.ts";

/** Calls `visit` with every name of an expression and the scope in which it is looked up. */
export function eachName(node: Node, names: Names, scope: Scope, visit: (name: NameNode, scope: Scope) => void): void {
  if (node.node === "name") visit(node, scope);
  else if (node.node === "where") {
    eachName(node.columns, names, scope, visit);
    eachName(node.condition, names, { ...scope, filtered: tableFiltered(node, names, scope) }, visit);
  } else for (const part of childrenOf(node)) eachName(part, names, scope, visit);
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
