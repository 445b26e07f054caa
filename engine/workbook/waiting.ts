import type { TooFew } from "../evaluator/stop.ts";
import type { Model } from "./model.ts";
import type { Awaited } from "./result.ts";
import { FAULTY, READY, WAITING } from "./store.ts";

/**
 * The nodes whose lack keeps a waiting or faulty node from its value: what its last run stopped at, else all it names. A
 * measured column without an entry is such a lack though it has a value, a column of nothing.
 */
function lacks(model: Model, node: number, state: typeof WAITING | typeof FAULTY): readonly number[] {
  const { store, stops, graph } = model;
  const stop = stops.get(node);
  if (stop === undefined || stop.reason === "fault")
    return graph.dependenciesOf(node).filter((need) => store.state(need) === state);
  return stop.nodes.filter((need) => store.state(need) === state || (state === WAITING && isUnfilled(model, need)));
}

/** Of the nodes that a wait names: whether it is a measured column that has no entry yet. */
const isUnfilled = (model: Model, node: number): boolean => model.store.state(node) === READY;

/** Walks what some nodes lack, each node once, without recursion. */
function* walk(model: Model, nodes: readonly number[], state: typeof WAITING | typeof FAULTY): Generator<number> {
  const open = [...nodes];
  const seen = new Set(open);
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    yield at;
    for (const need of lacks(model, at, state)) {
      if (seen.has(need)) continue;
      seen.add(need);
      open.push(need);
    }
  }
}

/** The full name of the table that a column stands in. */
export function tableOf(model: Model, column: number): string {
  const name = model.fullName(column);
  return name.slice(0, name.lastIndexOf("."));
}

/** What is waited for by what waits for these nodes and for more entries of these logs. */
export function awaited(model: Model, nodes: readonly number[], logs: readonly TooFew[] = []): Awaited {
  const found: (readonly [node: number, name: string])[] = [];
  let [first, tooFew]: [number, string | null] = [Number.POSITIVE_INFINITY, null];
  const takeLogs = (line: number, begun: readonly TooFew[]): void => {
    for (const { column, says } of begun) {
      found.push([column, tableOf(model, column)]);
      if (line < first) [first, tooFew] = [line, says];
    }
  };
  takeLogs(-1, logs);
  for (const at of walk(model, nodes, WAITING)) {
    const stop = model.stops.get(at);
    const origin = model.origins[at];
    if (model.presentations.get(at)?.blank?.filled === null) found.push([at, model.fullName(at)]);
    else if (isUnfilled(model, at))
      found.push([
        at,
        origin?.is === "column" && origin.table.rowCount === 0 ? tableOf(model, at) : model.fullName(at),
      ]);
    else if (stop?.reason === "waiting") takeLogs(at, stop.tooFew);
  }
  const names = found.sort(([a], [b]) => a - b).map(([, name]) => name);
  return { waitingFor: [...new Set(names)], tooFew };
}

/** The full names of the tables that lines wait for. */
export function tablesWaitedFor(model: Model): ReadonlySet<string> {
  const found = new Set<string>();
  for (const [node, stop] of model.stops) {
    if (stop.reason !== "waiting" || model.store.state(node) !== WAITING) continue;
    for (const need of stop.nodes) if (isUnfilled(model, need)) found.add(tableOf(model, need));
  }
  return found;
}

/** The nearest node with a fault of its own that keeps `node` from its value. Null when there is none. */
export function rootCause(model: Model, node: number): string | null {
  for (const at of walk(model, [node], FAULTY)) if (at !== node && model.hasOwnFault(at)) return model.fullName(at);
  return null;
}
