import { describe, expect, test } from "vitest";
import { nameKey } from "../../engine/base/names.ts";
import type { Argument, LibraryFunction } from "../../engine/library/declaration.ts";
import { isNoValue } from "../../engine/library/declaration.ts";
import { LIBRARY_FUNCTIONS } from "../../engine/library/functions.ts";
import { RESERVED_WORDS } from "../../engine/parser/tokens.ts";
import type { Value } from "../../engine/values/value.ts";
import { onlyDeclared } from "../support/call.ts";

const each = LIBRARY_FUNCTIONS.map((of) => [of.name, of] as const);

/** Numbers that a brewer might type, some of them silly; coherent for any unit. */
const FIGURES = [0, 1e-6, 0.004, 0.12, 1, 20, 66, 1000, 101_325];

function probes(argument: Argument, at: number): Value {
  const { takes } = argument;
  const figure = FIGURES[at % FIGURES.length] ?? 0;
  if ("text" in takes) return takes.text === "any" ? "any" : (takes.text[at % takes.text.length] ?? "");
  if ("truth" in takes) return at % 2;
  return argument.column === "whole" ? Float64Array.of(figure, 1, 2) : figure;
}

/** Calls with every argument at the same figure, then with each in turn at another. */
function* calls(of: LibraryFunction): Generator<Record<string, Value>> {
  for (let common = 0; common < FIGURES.length; common += 1)
    for (let other = 0; other < FIGURES.length; other += 1)
      for (const turned of of.arguments)
        yield Object.fromEntries(
          of.arguments.map((argument) => [argument.name, probes(argument, argument === turned ? other : common)]),
        );
}

describe("the brewing functions", () => {
  test("have a name each, in plain words", () => {
    const names = LIBRARY_FUNCTIONS.map((of) => nameKey(of.name));
    expect(new Set(names).size).toBe(names.length);
    for (const name of names) expect(name).toMatch(/^[a-z][a-z0-9]*(_[a-z0-9]+)*$/);
  });

  test.each(each)("%s says what comes out, whence, how far it holds, and how it is looked for", (_name, of) => {
    expect(of.says).toMatch(/^[A-Z].*[.]$/);
    expect(of.source.length).toBeGreaterThan(3);
    expect(of.range.length).toBeGreaterThan(3);
    expect(of.searchWords.length).toBeGreaterThan(0);
    expect(of.since).toBeGreaterThan(0);
  });

  test.each(each)("%s names each argument once, in a sentence, with limits that leave room", (_name, of) => {
    const names = of.arguments.map((argument) => nameKey(argument.name));
    expect(new Set(names).size).toBe(names.length);
    for (const argument of of.arguments) {
      expect(argument.name).toMatch(/^[a-z][a-z0-9]*(_[a-z0-9]+)*$/);
      expect(RESERVED_WORDS.has(argument.name)).toBe(false);
      expect(argument.says).toMatch(/[.]$/);
      expect((argument.low ?? Number.NEGATIVE_INFINITY) < (argument.high ?? Number.POSITIVE_INFINITY)).toBe(true);
    }
    for (const range of of.published ?? [])
      expect(of.arguments.map((argument) => argument.name)).toContain(range.argument);
  });

  test.each(each)("%s puts the arguments that have a default after those that must be given", (_name, of) => {
    const given = of.arguments.map((argument) => argument.default === undefined);
    expect(given).toEqual([...given].sort((a, b) => Number(b) - Number(a)));
  });

  test.each(each)(
    "%s never throws, reads only what it declares, and says in a sentence why it has no value",
    (_name, of) => {
      for (const given of calls(of)) {
        const result = of.arithmetic(onlyDeclared(given));
        if (isNoValue(result)) expect(result.noValue).toMatch(/^.+[.]$/s);
        else expect(["number", "string"]).toContain(typeof result);
      }
    },
  );
});
