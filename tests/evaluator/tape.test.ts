import { describe, expect, test } from "vitest";
import { invariant } from "../../engine/base/invariant.ts";
import { Session } from "../../engine/session.ts";
import { READY } from "../../engine/workbook/store.ts";
import { language } from "../support/language.ts";

/** Figures whose sums, products and quotients are all different, and none of which a float64 holds exactly. */
const FIGURES = { a: 7.1, b: 3.3, c: 0.7 };
const HEAD = `gylebook 1\nlibrary 1\nfunction twice_less(x, y) = (x - y) * 2\nsheet s\n${Object.entries(FIGURES)
  .map(([name, figure]) => `${name} = ${figure}\n`)
  .join("")}none = ? number\n`;

interface Ran {
  /** Coherent; null where the line has none. */
  readonly value: unknown;
  /** Instructions that the line has on the tape; none: it walks the tree. */
  readonly steps: number;
  readonly state: string | undefined;
}

function run(formula: string, more = ""): Ran {
  const session = new Session(`${HEAD}${more}it = ${formula}\n`, null, language);
  const node = session.model.names.node("s.it");
  invariant(node !== undefined, "the line is there");
  const { store } = session.model;
  return {
    value: store.state(node) === READY ? store.value(node) : null,
    // Operation, target and three operands.
    steps: ((store.ends[node] as number) - (store.starts[node] as number)) / 5,
    state: session.cell("s.it")?.state,
  };
}

const OPERATORS: Readonly<Record<string, (a: number, b: number) => number>> = {
  "+": (a, b) => a + b,
  "-": (a, b) => a - b,
  "*": (a, b) => a * b,
  "/": (a, b) => a / b,
};
const { a, b, c } = FIGURES;

describe("two steps in a row", () => {
  const pairs = Object.entries(OPERATORS).flatMap(([one, first]) =>
    Object.entries(OPERATORS).map(([other, second]) => [one, other, second(first(a, b), c)] as const),
  );

  test.each(pairs)("(a %s b) %s c is one instruction, rounded as each step alone would be", (one, other, wanted) => {
    expect(run(`(a ${one} b) ${other} c`)).toEqual({ value: wanted, steps: 1, state: "ready" });
  });

  test.each(pairs)("c after (a %s b) %s is worked out as it is written, whichever side is nested", (one, other) => {
    const [first, second] = [OPERATORS[one], OPERATORS[other]];
    invariant(first !== undefined && second !== undefined, "they are operators");
    expect(run(`c ${other} (a ${one} b)`).value).toBe(second(c, first(a, b)));
    expect(run(`(a ${one} b) ${other} (b ${one} c)`).value).toBe(second(first(a, b), first(b, c)));
  });
});

test("longer rows, powers, signs and functions of the book are worked out on the tape", () => {
  for (const [formula, wanted] of [
    ["a + b - c + a - b", a + b - c + a - b],
    ["a / b / c * a", (a / b / c) * a],
    ["a ^ 2 + b", a ** 2 + b],
    ["-a + b", -a + b],
    ["-(a + b) * c", -(a + b) * c],
    ["twice_less(a, b) + c", (a - b) * 2 + c],
    ["twice_less(a + b, twice_less(b, c))", (a + b - (b - c) * 2) * 2],
  ] as const) {
    const { value, steps, state } = run(formula);
    expect({ formula, value, state }).toEqual({ formula, value: wanted, state: "ready" });
    expect(steps, formula).toBeGreaterThan(0);
  }
});

describe("conditions", () => {
  test.each([
    ["a > b", 1],
    ["b > a", 0],
    ["a > a", 0],
    ["a >= a", 1],
    ["b >= a", 0],
    ["a < b", 0],
    ["b < a", 1],
    ["a < a", 0],
    ["a <= a", 1],
    ["a <= b", 0],
    ["a is a", 1],
    ["a is b", 0],
    ["a is not b", 1],
    ["a is not a", 0],
    ["not (a > b)", 0],
    ["a > b and b > c", 1],
    ["a > b and c > b", 0],
    ["c > b and a > b", 0],
    ["c > b or a > b", 1],
    ["a > b or c > b", 1],
    ["c > b or b > a", 0],
    ["a > b and b > c and c > a", 0],
    ["c > a or b > a or a > b", 1],
    // 0.1 + 0.2 is a bit more than 0.3 in float64: equal, and neither less nor greater.
    ["0.1 + 0.2 is 0.3", 1],
    ["0.1 + 0.2 > 0.3", 0],
    ["0.1 + 0.2 >= 0.3", 1],
    ["0.3 >= 0.1 + 0.2", 1],
    ["0.3 < 0.1 + 0.2", 0],
    ["0.1 + 0.2 <= 0.3", 1],
    // Within 1e-9 of the larger is equal, beyond it is not.
    ["1000 is 1000.0000005", 1],
    ["1000 is 1000.000002", 0],
    ["0 is 0", 1],
    ["-1 < 1", 1],
  ])("%s is %i, on the tape", (formula, wanted) => {
    const { value, steps } = run(formula);
    expect({ formula, value }).toEqual({ formula, value: wanted });
    expect(steps).toBeGreaterThan(0);
  });

  test.each([
    ["if a > b then a else c", a],
    ["if b > a then a else c", c],
    ["if b > a then a else if a > c then b else c", b],
    ["if b > a then a else if c > a then b else c + 1", c + 1],
    ["(if a > b then a + b else c) * c", (a + b) * c],
    ["c * (if b > a then a else b - c)", c * (b - c)],
    ["if a > b and b > c then a else b", a],
  ])("%s takes one branch", (formula, wanted) => {
    const { value, steps } = run(formula);
    expect({ formula, value }).toEqual({ formula, value: wanted });
    expect(steps).toBeGreaterThan(0);
  });
});

describe("what has no value on the tape is told by the tree", () => {
  test.each([
    ["a / (b - b)", "faulty"],
    ["(a - b * 10) ^ 0.5", "faulty"],
    ["a + none", "waiting"],
    ["if a > b then none else c", "waiting"],
    ["if none > b then a else c", "waiting"],
    ["none > a or a > b", "waiting"],
  ])("%s is %s", (formula, state) => {
    expect(run(formula)).toMatchObject({ value: null, state });
  });

  test.each([
    ["if b > a then none else c", c],
    ["b > a and none > a", 0],
    ["a > b or none > a", 1],
    ["first_known(none, c)", c],
    ["if none is missing then a else none", a],
  ])("%s has what it needs", (formula, wanted) => {
    expect(run(formula)).toMatchObject({ value: wanted, state: "ready" });
  });
});

test("texts, instants and columns stay off the tape", () => {
  const table = "table t1\n  column x : kg\n  column word : text\n  rows\n    1, one\n    2, two\n  end\n";
  for (const [formula, wanted] of [
    ['if a > b then "more" else "less"', "more"],
    ["2026-03-02 + 1 day < 2026-03-04", 1],
    ["sum(t1.x)", 3],
    ['"one" is "ONE"', 1],
  ] as const)
    expect(run(formula, table)).toEqual({ value: wanted, steps: 0, state: "ready" });
});

test("a formula that nests deeper than the scratch slots is worked out all the same", () => {
  const deep = (levels: number): string => (levels === 0 ? "c" : `a - (${deep(levels - 1)}) * b`);
  const wanted = (levels: number): number => (levels === 0 ? c : a - wanted(levels - 1) * b);
  const conditions = (levels: number): string =>
    levels === 0 ? "c" : `c + (if a > b then ${conditions(levels - 1)} else a)`;
  for (const levels of [3, 30, 70]) {
    expect(run(deep(levels)).value).toBe(wanted(levels));
    const { value, steps } = run(conditions(levels));
    let sum = c;
    for (let level = 0; level < levels; level += 1) sum = c + sum;
    expect(value).toBe(sum);
    expect(steps > 0).toBe(levels < 70);
  }
});
