import { createGraph, type Graph } from "../../engine/graph/graph.ts";

/** A graph whose nodes are written as words. */
export interface Lettered {
  readonly graph: Graph;
  node(word: string): number;
  word(node: number): string;
  /** Words for nodes, apart by spaces. */
  words(nodes: Iterable<number>): string;
}

/** Reads "a: b c" lines: a needs b and c. Words only ever needed may go without a line. */
export function lettered(text: string): Lettered {
  const needs = new Map<string, string[]>();
  for (const line of text.split(/[\n;]/)) {
    const [word = "", list = ""] = line.split(":").map((part) => part.trim());
    if (word !== "") needs.set(word, list.split(/\s+/).filter(Boolean));
  }
  const names = [...new Set([...needs].flatMap(([word, list]) => [word, ...list]))].sort();
  const graph = createGraph();
  const node = (word: string): number => names.indexOf(word);
  const word = (at: number): string => names[at] ?? "?";
  graph.load(names.length, (at) => (needs.get(word(at)) ?? []).map(node));
  return { graph, node, word, words: (nodes) => [...nodes].map(word).join(" ") };
}

/** A shortest cycle through the lowest node of each knot. */
export const cyclesOf = (graph: Graph): readonly (readonly number[])[] =>
  graph.knots().map(([lowest = -1]) => graph.cycleThrough(lowest) ?? []);
