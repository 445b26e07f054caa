import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { Fault } from "../../engine/diagnostics/diagnostic.ts";
import { createParser } from "../../engine/parser/parser.ts";
import { showFormula, speller } from "./show.ts";

interface Case {
  readonly formula: string;
  readonly gives: { readonly is: string; readonly text: string }[];
}

function readCases(file: string): readonly Case[] {
  const cases: Case[] = [];
  const text = readFileSync(new URL(`../cases/${file}`, import.meta.url), "utf8");
  for (const line of text.split("\n")) {
    if (line.startsWith("//") || line.trim() === "") continue;
    const given = /^ {2}(\w+) (.*)$/.exec(line);
    if (given === null) cases.push({ formula: line.replaceAll("⏎", "\n"), gives: [] });
    else cases.at(-1)?.gives.push({ is: given[1] ?? "", text: given[2] ?? "" });
  }
  return cases;
}

const mark = (formula: string, fault: Fault): string =>
  `${fault.code} ${formula.slice(0, fault.span.start)}«${formula.slice(fault.span.start, fault.span.end)}»${formula.slice(fault.span.end)}`;

function mended(formula: string, fault: Fault | undefined, which: number): string {
  const chosen = fault?.mends[which];
  if (chosen === undefined) return "no mend";
  return chosen.replace.reduceRight(
    (text, { span, text: by }) => text.slice(0, span.start) + by + text.slice(span.end),
    formula,
  );
}

const parser = createParser(speller);

describe("the parser", () => {
  for (const { formula, gives } of readCases("parse.txt")) {
    test(`reads ${formula}`, () => {
      const parsed = parser.formula(formula);
      const of = (is: string): string[] => gives.filter((each) => each.is === is).map(({ text }) => text);
      expect(gives.length).toBeGreaterThan(0);
      expect(parsed.faults.map((fault) => mark(formula, fault))).toEqual(of("fault"));
      for (const tree of of("tree")) expect(showFormula(parsed)).toBe(tree);
      for (const result of of("mend")) expect(mended(formula, parsed.faults[0], 0)).toBe(result);
      for (const result of of("mend2")) expect(mended(formula, parsed.faults[0], 1)).toBe(result);
    });
  }
});
