import type { Model } from "./model.ts";
import { FAULTY, WAITING } from "./store.ts";

/** The nodes whose lack keeps a waiting or faulty node from its value: what its last run stopped at, else all it names. */
function lacks(model: Model, node: number, state: typeof WAITING | typeof FAULTY): readonly number[] {
  const stop = model.stops.get(node);
  const nodes = stop === undefined || stop.reason === "fault" ? model.graph.dependenciesOf(node) : stop.nodes;
  return nodes.filter((need) => model.store.state(need) === state);
}

/** Walks what a node lacks, each node once, without recursion. */
function* walk(model: Model, node: number, state: typeof WAITING | typeof FAULTY): Generator<number> {
  const seen = new Set([node]);
  const open = [node];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    yield at;
    for (const need of lacks(model, at, state)) {
      if (seen.has(need)) continue;
      seen.add(need);
      open.push(need);
    }
  }
}

/** The blanks that a waiting node waits for, by full name, in the order of the file. */
export function blanksOf(model: Model, node: number): readonly string[] {
  const blanks: number[] = [];
  for (const at of walk(model, node, WAITING)) if (model.presentations.get(at)?.blank?.filled === null) blanks.push(at);
  return blanks.sort((a, b) => a - b).map((at) => model.fullName(at));
}

/** The nearest node with a fault of its own that keeps `node` from its value. Null when there is none. */
export function rootCause(model: Model, node: number): string | null {
  for (const at of walk(model, node, FAULTY)) if (at !== node && model.hasOwnFault(at)) return model.fullName(at);
  return null;
}
