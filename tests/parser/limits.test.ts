import { describe, expect, test } from "vitest";
import { readStatements } from "../../engine/parser/file.ts";
import { createParser } from "../../engine/parser/parser.ts";
import { NESTING_LIMIT } from "../../engine/parser/token-list.ts";
import { speller } from "./show.ts";

const parser = createParser(speller);

describe("the limits of the parser", () => {
  test("parentheses at the limit are read, one more is refused with a message", () => {
    const nested = (depth: number): string => `${"(".repeat(depth)}1${")".repeat(depth)}`;
    expect(parser.formula(nested(NESTING_LIMIT)).faults).toEqual([]);
    expect(parser.formula(nested(NESTING_LIMIT + 1)).faults).toMatchObject([{ code: "syntax" }]);
    expect(parser.formula(nested(10_000)).faults).toMatchObject([{ code: "syntax" }]);
  });

  test.each([
    ["calls", "f("],
    ["ifs", "if "],
    ["signed exponents", "2^-"],
    ["unfinished ifs behind else", "1 + if a then b else "],
  ])("%s nested 20,000 deep are refused with a message", (_, piece) => {
    expect(parser.formula(`${piece.repeat(20_000)}1`).faults.length).toBeGreaterThan(0);
  });

  test.each([
    ["sums", "1 + "],
    ["products", "x * "],
    ["powers", "x ^ "],
    ["signs", "- "],
    ["nots", "not "],
    ["choices", "if a then b else "],
    ["arguments", "f(1) + "],
  ])("%s in a row of 100,000 characters are read", (_, piece) => {
    const { faults } = parser.formula(`${piece.repeat(100_000 / piece.length)}y`);
    expect(faults).toEqual([]);
  });

  test.each([
    ["1 1 + "],
    [") "],
    ["1 < "],
    ["? "],
    ["as kg "],
    ["a where "],
    ["f(1 then, "],
    ["“"],
    ["1, "],
    ["then "],
    ["$ "],
    ["else if "],
  ])("a row of 100,000 characters of %s is refused in good time", (piece) => {
    const { faults } = parser.formula(piece.repeat(100_000 / piece.length));
    expect(faults.length).toBeGreaterThan(0);
    expect(faults.length).toBeLessThan(50);
  });

  test("a file of 50 MB is split into its statements", () => {
    const line = 'cell_name "A label" = other_cell * 2.5 kg + (third - 1 kg) # note\n';
    const text = line.repeat(50_000_000 / line.length);
    expect(readStatements(text, parser).length).toBe(Math.floor(50_000_000 / line.length));
    const noise = '"(\0)\n'.repeat(1_000_000);
    expect(readStatements(noise, parser).length).toBeLessThan(1000);
  }, 60_000);

  test("a file cut anywhere is read", () => {
    const text =
      'gylebook 1\nsheet s "S"\na = f(1,\n 2) as kg # n\ntable t\n column c : °C\n rows\n "a\nb", 1\n end\nplot "p"\n across t.c\n';
    for (let at = 0; at <= text.length; at += 1) {
      const cut = text.slice(0, at);
      expect(
        readStatements(cut, parser)
          .map(({ source }) => source)
          .join(""),
      ).toBe(cut);
    }
  });
});
