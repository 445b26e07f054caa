import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { createGraph, type Graph } from "../../engine/graph/graph.ts";
import { cyclesOf } from "./letters.ts";
import { ascending, dependingOn, groups, misplaced } from "./naive.ts";

/** Fixed, so that a run can be repeated; fast-check prints it with a failure. */
const SEED = 20_061_101;

type Edit =
  | { readonly kind: "add" }
  | { readonly kind: "remove"; readonly at: number }
  | { readonly kind: "set"; readonly at: number; readonly dependencies: readonly number[] };

const place = fc.nat({ max: 1_000 });
const edit: fc.Arbitrary<Edit> = fc.oneof(
  { weight: 2, arbitrary: fc.constant({ kind: "add" } as const) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant("remove" as const), at: place }) },
  {
    weight: 12,
    arbitrary: fc.record({
      kind: fc.constant("set" as const),
      at: place,
      dependencies: fc.array(place, { maxLength: 4 }),
    }),
  },
);
const edits = fc.array(edit, { minLength: 1, maxLength: 60, size: "max" });

/** Whether edits may close cycles, or only ever refer to lower nodes. */
type Style = "free" | "acyclic";

/** A graph and its plain twin, kept in step. */
class Pair {
  readonly graph: Graph = createGraph();
  readonly needs = new Map<number, readonly number[]>();
  readonly #style: Style;

  constructor(size: number, style: Style) {
    this.#style = style;
    this.graph.load(size, () => []);
    for (let node = 0; node < size; node += 1) this.needs.set(node, []);
  }

  /** Numbers in an edit are taken round the nodes there are. Edits of an empty graph do nothing. */
  apply(edit: Edit): void {
    const nodes = ascending(this.needs.keys());
    const nodeAt = (at: number): number => nodes[at % nodes.length] as number;
    if (edit.kind === "add") this.needs.set(this.graph.addNode(), []);
    else if (nodes.length === 0) return;
    else if (edit.kind === "remove") this.#remove(nodeAt(edit.at));
    else {
      const node = nodeAt(edit.at);
      const dependencies = edit.dependencies
        .map(nodeAt)
        .filter((other) => this.#style === "free" || hashed(other) < hashed(node));
      this.graph.setDependencies(node, dependencies);
      this.needs.set(node, [...new Set(dependencies)]);
    }
  }

  #remove(node: number): void {
    this.graph.removeNode(node);
    this.needs.delete(node);
    for (const [other, list] of this.needs)
      this.needs.set(
        other,
        list.filter((needed) => needed !== node),
      );
  }
}

/** A fixed shuffle of small numbers, so that an acyclic graph does not run along the order of its nodes. */
const hashed = (node: number): number => (node * 7_919) % 1_009;

function hold(style: Style, size: number, runs: number, law: (pair: Pair, edit: Edit) => void): void {
  fc.assert(
    fc.property(edits, (list) => {
      const pair = new Pair(size, style);
      for (const step of list) {
        pair.apply(step);
        law(pair, step);
      }
    }),
    { seed: SEED, numRuns: runs },
  );
}

describe.each<[Style, number, number]>([
  ["free", 8, 80],
  ["free", 40, 12],

  ["acyclic", 300, 3],
])("after each of many random edits (%s, %d nodes)", (style, size, runs) => {
  test("the order is valid for all dependencies off cycles, and lists each node once", () => {
    hold(style, size, runs, ({ graph, needs }) => {
      expect(misplaced(graph, needs)).toEqual([]);
      expect(ascending(graph.order())).toEqual(ascending(needs.keys()));
      expect(graph.size).toBe(needs.size);
    });
  });

  test("neighbours are those of the plain twin", () => {
    hold(style, size, runs, ({ graph, needs }) => {
      for (const [node, dependencies] of needs) expect(graph.dependenciesOf(node)).toEqual(dependencies);
      const dependants = [...needs.keys()].flatMap((node) =>
        graph.dependantsOf(node).map((other) => `${other} ${node}`),
      );
      const expected = [...needs].flatMap(([node, list]) => list.map((other) => `${node} ${other}`));
      expect(dependants.sort()).toEqual(expected.sort());
    });
  });

  test("affected nodes are those that plain search finds, in order", () => {
    hold(style, size, runs, ({ graph, needs }, step) => {
      const nodes = [...needs.keys()];
      if (step.kind !== "set" || nodes.length === 0) return;
      const sources = [step.at, ...step.dependencies].map((at) => nodes[at % nodes.length] as number);
      const found = [...graph.affected(sources)];
      expect(ascending(found)).toEqual(dependingOn(needs, sources));
      expect(found).toEqual([...found].sort((a, b) => graph.rank(a) - graph.rank(b)));
    });
  });

  test("plans are never stale", () => {
    hold(style, Math.min(size, 40), runs, ({ graph, needs }) => {
      for (const node of needs.keys()) expect(graph.plan(node)).toEqual(graph.affected([node]));
    });
  });

  test("cycles are those that plain search finds, and the same as from scratch", () => {
    hold(style, Math.min(size, 40), runs, ({ graph, needs }) => {
      const expected = groups(needs);
      expect(graph.knots()).toEqual(expected);
      for (const node of needs.keys())
        expect(graph.knotOf(node)).toEqual(expected.find((group) => group.includes(node)) ?? null);
      const rebuilt = createGraph();
      rebuilt.load(Math.max(0, ...needs.keys()) + 1, (node) => needs.get(node) ?? []);
      expect(cyclesOf(graph)).toEqual(cyclesOf(rebuilt));
      for (const group of expected) {
        for (const node of group) {
          const cycle = graph.cycleThrough(node) ?? [];
          expect(cycle[0]).toBe(node);
          expect(new Set(cycle).size).toBe(cycle.length);
          cycle.forEach((member, at) => {
            expect(needs.get(member)).toContain(cycle[(at + 1) % cycle.length]);
          });
          expect(cycle).toEqual(rebuilt.cycleThrough(node));
        }
      }
    });
  });
});
