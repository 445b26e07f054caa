import { describe, expect, test } from "vitest";
import { createGraph, type Graph } from "../../engine/graph/graph.ts";
import { Plans } from "../../engine/graph/plans.ts";
import { cyclesOf, lettered } from "./letters.ts";

describe("order", () => {
  test.each([
    ["follows the text where nothing forbids it", "a:; b:; c:", "a b c"],
    ["puts what is needed first", "a: b; b: c; c:", "c b a"],
    ["puts a node soon after what it needs", "a: c; b:; c:", "c a b"],
    ["takes a repeated dependency as one", "a: b b b; b:", "b a"],
    ["keeps the rest of the order beside a cycle", "a: b; b: a c; c:; d: a", "c b a d"],
  ])("%s", (_, text, expected) => {
    const { graph, words } = lettered(text);
    expect(words(graph.order())).toBe(expected);
  });

  test("ranks the nodes as it lists them", () => {
    const { graph, words } = lettered("a: b; b: c; c:; d: a c");
    expect(words([0, 1, 2, 3].sort((x, y) => graph.rank(x) - graph.rank(y)))).toBe(words(graph.order()));
  });
});

describe("a node that little needs", () => {
  test("goes behind the end of a long chain with its dependants and back, any number of times", () => {
    const count = 1_000;
    const pairs = 50;
    const needs = new Map<number, number[]>();
    for (let node = 0; node < count; node += 1) {
      if (node < pairs) needs.set(node, []);
      else if (node < 2 * pairs) needs.set(node, [node - pairs]);
      else needs.set(node, node === count - 1 ? [] : [node + 1]);
    }
    const graph = createGraph();
    graph.load(count, (node) => needs.get(node) ?? []);
    for (let step = 0; step < 1_000; step += 1) {
      const node = (step * 7) % pairs;
      const dependencies = step % 3 === 0 ? [] : [2 * pairs + ((step * 13) % 400)];
      needs.set(node, dependencies);
      graph.setDependencies(node, dependencies);
      expect(disorder(graph, needs)).toEqual([]);
    }
    expect(new Set(graph.order())).toEqual(new Set(needs.keys()));
    expect(graph.order()).toHaveLength(count);
  });

  /** Dependencies that stand behind their dependant. */
  function disorder(graph: Graph, needs: ReadonlyMap<number, readonly number[]>): string[] {
    return [...needs].flatMap(([node, dependencies]) =>
      dependencies.filter((other) => graph.rank(other) >= graph.rank(node)).map((other) => `${node} before ${other}`),
    );
  }
});

describe("affected", () => {
  const diamond = "a:; b: a; c: a; d: b c; e: d; f:";
  test.each([
    ["lists all that depend on a source, after what they need", diamond, "a", "b c d e"],
    ["leaves the sources out", diamond, "b", "d e"],
    ["holds a source that another source reaches", diamond, "b a", "b c d e"],
    ["is empty for a node nobody needs", diamond, "e f", ""],
    ["holds a source that is on a cycle", "a: c; b: a; c: b; d: c", "b", "b c a d"],
    ["holds a node that needs itself", "a: a; b: a", "a", "a b"],
    ["goes on behind a cycle", "a:; b: a c; c: b; d: c", "a", "c b d"],
  ])("%s", (_, text, sources, expected) => {
    const { graph, node, words } = lettered(text);
    expect(words(graph.affected(sources.split(" ").map(node)))).toBe(expected);
  });

  test("comes in order where the nodes are far apart too", () => {
    const count = 2_000;
    const graph = createGraph();
    graph.load(count, (node) => (node === count - 1 ? [1_000] : node === 1_000 ? [1] : []));
    graph.setDependencies(500, [count - 1]);
    expect([...graph.affected([1])]).toEqual([1_000, count - 1, 500]);
  });
});

describe("plan", () => {
  test("is the same array until a dependency changes", () => {
    const { graph, node, words } = lettered("a:; b: a; c: b; d:");
    const before = graph.plan(node("a"));
    graph.addNode();
    graph.setDependencies(node("c"), [node("b"), node("b")]);
    expect(graph.plan(node("a"))).toBe(before);
    graph.setDependencies(node("d"), [node("c")]);
    expect(words(graph.plan(node("a")))).toBe("b c d");
    expect(words(before)).toBe("b c");
  });

  test("is given up, the oldest first, when too many entries are kept", () => {
    const plans = new Plans();
    const large = new Int32Array(100_000);
    const sources = Array.from({ length: 25 }, (_, at) => at);
    for (const source of sources) plans.keep(source, large);
    expect(sources.filter((source) => plans.get(source) === large)).toEqual(sources.slice(-10));
    plans.keep(99, new Int32Array(2_000_000));
    expect(plans.get(99)).toBeUndefined();
    expect(plans.get(24)).toBe(large);
  });

  test("leaves the version alone unless a dependency comes or goes", () => {
    const { graph, node } = lettered("a: b c; b:; c:");
    const { version } = graph;
    graph.setDependencies(node("a"), [node("c"), node("b")]);
    expect(graph.version).toBe(version);
    graph.setDependencies(node("a"), [node("c")]);
    expect(graph.version).not.toBe(version);
  });
});

describe("nodes", () => {
  test("lists what a node needs as given and without repeats", () => {
    const { graph, node, words } = lettered("a: c b c; b:; c:");
    expect(words(graph.dependenciesOf(node("a")))).toBe("c b");
    graph.setDependencies(node("a"), [node("b"), node("a"), node("c"), node("b")]);
    expect(words(graph.dependenciesOf(node("a")))).toBe("b a c");
  });

  test("lists who needs a node", () => {
    const { graph, node, words } = lettered("a:; b: a; c: a b");
    expect(words(graph.dependantsOf(node("a")).sort())).toBe("b c");
    graph.setDependencies(node("b"), []);
    expect(words(graph.dependantsOf(node("a")))).toBe("c");
  });

  test("gives the number of the node removed last to the next one", () => {
    const graph = createGraph();
    const [a, b, c] = [graph.addNode(), graph.addNode(), graph.addNode()];
    graph.setDependencies(c, [b]);
    graph.removeNode(a);
    graph.removeNode(b);
    expect(graph.size).toBe(1);
    expect(graph.dependenciesOf(c)).toEqual([]);
    expect([graph.addNode(), graph.addNode(), graph.addNode()]).toEqual([b, a, 3]);
    expect(graph.plan(b)).toHaveLength(0);
  });

  test("are refused by the programmer's error when they are not in the graph", () => {
    const graph = createGraph();
    const node = graph.addNode();
    expect(() => graph.setDependencies(node, [7])).toThrow("node 7 is in the graph");
    graph.removeNode(node);
    expect(() => graph.plan(node)).toThrow("node 0 is in the graph");
  });

  test("are replaced by a load, cycles and all", () => {
    const { graph } = lettered("a: b; b: a; c: a");
    graph.load(2, (node) => (node === 1 ? [0] : []));
    expect([...graph.order()]).toEqual([0, 1]);
    expect(cyclesOf(graph)).toEqual([]);
    expect(graph.size).toBe(2);
  });
});
