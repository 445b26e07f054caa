import { describe, expect, test } from "vitest";
import { createGraph, type Graph } from "../../engine/graph/graph.ts";
import { cyclesOf, lettered } from "./letters.ts";

describe("cycles", () => {
  test.each([
    ["are none in a graph without", "a: b c; b: c; c:", ""],
    ["of one are nodes that need themselves", "a: a; b: a", "a"],
    ["of two name both", "a: b; b: a", "a b"],
    ["run from a node to what it needs", "a: c; b: a; c: b", "a c b"],
    ["leave out what only leads to them or from them", "a:; b: a c; c: b; d: c", "b c"],
    ["come one from each group", "a: b; b: a; c: d e; d: c; e: e; f: a c", "a b | c d | e"],
    ["take the shortest way round", "a: b d; b: c; c: a; d: a", "a d"],
    ["take the earlier dependency of two equals", "a: c b; b: a; c: a", "a c"],
  ])("%s", (_, text, expected) => {
    const { graph, words } = lettered(text);
    expect(cyclesOf(graph).map(words).join(" | ")).toBe(expected);
  });

  test.each([
    ["starts at the node asked for", "a: c; b: a; c: b", "b", "b a c"],
    ["goes through the node asked for, not through a shorter one", "a: b c; b: a; c: d; d: a", "d", "d a c"],
    ["is none for a node that only depends on a cycle", "a: b; b: a; c: a", "c", null],
    ["is none for a node a cycle depends on", "a: b; b: a c; c:", "c", null],
  ])("a cycle through a node %s", (_, text, start, expected) => {
    const { graph, node, words } = lettered(text);
    const cycle = graph.cycleThrough(node(start));
    expect(cycle === null ? null : words(cycle)).toBe(expected);
    expect(graph.knotOf(node(start)) !== null).toBe(expected !== null);
  });

  test("a dependency that closed a cycle takes its place once the cycle is broken elsewhere", () => {
    const { graph, node, words } = lettered("a:; b: a; c: b; d: c");
    graph.setDependencies(node("a"), [node("d")]);
    expect(words(graph.cycleThrough(node("c")) ?? [])).toBe("c b a d");
    graph.setDependencies(node("c"), []);
    expect(cyclesOf(graph)).toEqual([]);
    expect(words(graph.order())).toBe("c d a b");
  });

  test("a cycle is broken by the removal of a node", () => {
    const { graph, node, words } = lettered("a: c; b: a; c: b");
    graph.removeNode(node("b"));
    expect(cyclesOf(graph)).toEqual([]);
    expect(words(graph.order())).toBe("c a");
  });

  test("a cycle follows the dependencies when only their order changes", () => {
    const { graph, node, words } = lettered("a: c b; b: a; c: a");
    expect(cyclesOf(graph).map(words)).toEqual(["a c"]);
    graph.setDependencies(node("a"), [node("b"), node("c")]);
    expect(cyclesOf(graph).map(words)).toEqual(["a b"]);
  });

  test.each([
    ["a total needing its shares", (node: number) => node > 0],
    ["shares needing their total", (node: number) => node === 0],
  ])("many cycles broken at once all take their place (%s last)", (_, isEarly) => {
    const count = 100;
    const graph = createGraph();
    const shares = Array.from({ length: count - 1 }, (_, at) => at + 1);
    const needs = (node: number): number[] => (node === 0 ? shares : [0]);
    graph.load(count, (node) => (isEarly(node) ? needs(node) : []));
    for (let node = 0; node < count; node += 1) graph.setDependencies(node, needs(node));
    expect(cyclesOf(graph)).toEqual([[0, 1]]);
    graph.setDependencies(0, [1]);
    expect(cyclesOf(graph)).toEqual([[0, 1]]);
    graph.setDependencies(1, []);
    expect(cyclesOf(graph)).toEqual([]);
    expect([...graph.order()].slice(0, 2)).toEqual([1, 0]);
  });
});

describe("depth never follows the input", () => {
  const ring = (count: number): Graph => {
    const graph = createGraph();
    graph.load(count, (node) => [(node + 1) % count]);
    return graph;
  };

  test.each([1_000, 100_000])("a cycle of %d nodes is found, written out and broken", (count) => {
    const graph = ring(count);
    expect(cyclesOf(graph).map((cycle) => cycle.length)).toEqual([count]);
    expect(graph.cycleThrough(count - 1)?.slice(0, 3)).toEqual([count - 1, 0, 1]);
    expect(graph.affected([5])).toHaveLength(count);
    graph.setDependencies(10, []);
    expect(cyclesOf(graph)).toEqual([]);
    expect([...graph.order().slice(0, 3)]).toEqual([10, 9, 8]);
  });

  test("a chain of 100,000 nodes is ordered, followed and turned round", () => {
    const count = 100_000;
    const graph = createGraph();
    graph.load(count, (node) => (node === count - 1 ? [] : [node + 1]));
    const plan = graph.plan(count - 1);
    expect([plan.length, plan[0], plan[count - 2]]).toEqual([count - 1, count - 2, 0]);
    graph.setDependencies(count / 2, []);
    graph.setDependencies(count - 1, [0]);
    expect(cyclesOf(graph)).toEqual([]);
    expect(graph.order()[0]).toBe(count / 2);
    expect([...graph.plan(count / 2).slice(-2)]).toEqual([count / 2 + 2, count / 2 + 1]);
  });
});
