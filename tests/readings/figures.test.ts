import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type Marks,
  PLAIN_MARKS,
  plainFigure,
  readFigure,
  readPlain,
  shiftPoint,
} from "../../engine/readings/figures.ts";

const CONTINENTAL: Marks = { decimal: ",", thousands: "." };
const GROUPED: Marks = { decimal: ".", thousands: "," };

const CASES: [text: string, marks: Marks, value: number, plain: string][] = [
  ["12.5", PLAIN_MARKS, 12.5, "12.5"],
  ["  -0.40 ", PLAIN_MARKS, -0.4, "-0.40"],
  ["\u22121.5", PLAIN_MARKS, -1.5, "-1.5"],
  ["+3", PLAIN_MARKS, 3, "3"],
  [".5", PLAIN_MARKS, 0.5, "0.5"],
  ["5.", PLAIN_MARKS, 5, "5"],
  ["003020", PLAIN_MARKS, 3020, "3020"],
  ["1.2e6", PLAIN_MARKS, 1.2e6, "1.2e6"],
  ["66,7", CONTINENTAL, 66.7, "66.7"],
  ["1.250,5", CONTINENTAL, 1250.5, "1250.5"],
  ["1,250,000.5", GROUPED, 1250000.5, "1250000.5"],
  ["1\u00a0250,5", { decimal: ",", thousands: " " }, 1250.5, "1250.5"],
  ["1\u202f250,5", { decimal: ",", thousands: " " }, 1250.5, "1250.5"],
  ["1’250.5", { decimal: ".", thousands: "'" }, 1250.5, "1250.5"],
];

describe("a figure", () => {
  test.each(CASES)("%j under %j is %d and is kept as %s", (text, marks, value, plain) => {
    expect(readFigure(text, marks)).toBe(value);
    expect(plainFigure(text, marks)).toBe(plain);
  });

  test.each([
    ["", PLAIN_MARKS],
    ["-", PLAIN_MARKS],
    [".", PLAIN_MARKS],
    ["12,5", PLAIN_MARKS],
    ["1,25", GROUPED],
    ["12,50,000", GROUPED],
    ["1250,000", GROUPED],
    ["1.2.3", PLAIN_MARKS],
    ["1e", PLAIN_MARKS],
    ["1e400", PLAIN_MARKS],
    ["12 °C", PLAIN_MARKS],
    ["0x1F", PLAIN_MARKS],
    ["Infinity", PLAIN_MARKS],
  ] as [string, Marks][])("%j under %j is none", (text, marks) => {
    expect(readFigure(text, marks)).toBeNaN();
  });

  test("is the float64 that the language itself reads, to the last bit", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(readFigure(String(value), PLAIN_MARKS)).toBe(Number(String(value)) + 0);
      }),
      { seed: 5, numRuns: 2000 },
    );
    fc.assert(
      fc.property(fc.stringMatching(/^-?\d{1,20}\.\d{1,20}$/), (text) => {
        expect(readFigure(text, PLAIN_MARKS) + 0).toBe(Number(text) + 0);
      }),
      { seed: 5, numRuns: 2000 },
    );
  });

  test("that stands as a workbook writes it is read in one pass, as the same float64; every other is left to the whole reader", () => {
    const written = fc.stringMatching(/^-?(0|[1-9]\d{0,17})(\.\d{1,18})?$/);
    const other = fc.stringMatching(/^[ +-]?0{0,2}\d{0,4}[.,]?\d{0,4}(e\d)? ?$/);
    fc.assert(
      fc.property(fc.oneof(written, other), (text) => {
        const plain = readPlain(text);
        if (Number.isNaN(plain)) return;
        expect(plain).toBe(Number(text));
        expect(plain).toBe(readFigure(text, PLAIN_MARKS));
        expect(plainFigure(text, PLAIN_MARKS)).toBe(text);
      }),
    );
    fc.assert(
      fc.property(fc.stringMatching(/^-?(0|[1-9]\d{0,11})(\.\d{1,3})?$/), (text) => {
        expect(readPlain(text)).toBe(Number(text));
      }),
    );
    for (const text of [
      "",
      "-",
      ".",
      "1.",
      ".5",
      "007",
      "-00.5",
      "+1",
      " 1",
      "1 ",
      "1e3",
      "1,5",
      "1.2.3",
      "--1",
      "\u22121",
    ])
      expect(readPlain(text), text).toBeNaN();
  });

  test("is kept as text that reads back as itself", () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[+-]?\d{1,3}(\.\d{3}){0,3}(,\d{0,6})?$/), (text) => {
        expect(Number(plainFigure(text, CONTINENTAL)) + 0).toBe(readFigure(text, CONTINENTAL) + 0);
      }),
      { seed: 5 },
    );
  });

  test.each([
    ["1048", 3, "1.048"],
    ["-12.5", 1, "-1.25"],
    ["5", 2, "0.05"],
    ["12", 0, "12"],
  ])("%s with its point moved by %d is %s, exactly", (plain, places, shifted) => {
    expect(shiftPoint(plain, places)).toBe(shifted);
  });
});
