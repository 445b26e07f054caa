import type { Graph } from "../../engine/graph/graph.ts";

/** The plainest possible twin of a graph: what each node needs. Everything else is worked out by looking everywhere. */
export type Needs = ReadonlyMap<number, readonly number[]>;

/** All nodes that `node` needs by way of at least one dependency. */
export function reachable(needs: Needs, node: number): Set<number> {
  const found = new Set<number>();
  const waiting = [...(needs.get(node) ?? [])];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    if (found.has(next)) continue;
    found.add(next);
    waiting.push(...(needs.get(next) ?? []));
  }
  return found;
}

/** All nodes that need one of `sources`, ascending. */
export function dependingOn(needs: Needs, sources: readonly number[]): number[] {
  return ascending([...needs.keys()].filter((node) => sources.some((source) => reachable(needs, node).has(source))));
}

/** Groups of nodes that all need one another (a node that needs itself is a group), by lowest member. */
export function groups(needs: Needs): number[][] {
  const found: number[][] = [];
  for (const node of ascending(needs.keys())) {
    if (found.some((group) => group.includes(node))) continue;
    const mutual = [...reachable(needs, node)].filter((other) => reachable(needs, other).has(node));
    if (mutual.length > 0) found.push(ascending(mutual));
  }
  return found;
}

/** Every dependency that `graph` does not put before its dependant, though it is on no cycle with it. */
export function misplaced(graph: Graph, needs: Needs): string[] {
  const wrong: string[] = [];
  for (const [node, dependencies] of needs) {
    for (const dependency of dependencies) {
      const onCycle = dependency === node || reachable(needs, dependency).has(node);
      if (!onCycle && graph.rank(dependency) >= graph.rank(node)) wrong.push(`${node} stands before ${dependency}`);
    }
  }
  return wrong;
}

export const ascending = (nodes: Iterable<number>): number[] => [...nodes].sort((a, b) => a - b);
