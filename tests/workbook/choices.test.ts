import { describe, expect, test } from "vitest";
import { createSession } from "../../engine/session.ts";
import type { ColumnResult } from "../../engine/workbook/result.ts";

/** The column that a formula gives beside two measured ones. */
function worked(formula: string, head = ""): ColumnResult {
  const session = createSession(
    `gylebook 1\n${head}\nsheet s\nwaits = ?\ntable log\n  column parts : number\n  column held : number\n  column item : text\n  column found = ${formula}\n  rows\n    0, 10, none\n    1, 20, one\n    2, 30, two\n  end\n`,
  );
  return session.table("s.log")?.columns.find(({ name }) => name === "found") as ColumnResult;
}

const says = (column: ColumnResult): readonly string[] =>
  column.faults.map(({ data }) => ("says" in data ? (data.says ?? "") : ""));

describe("each row takes its own branch", () => {
  test.each<[string, readonly (number | string)[]]>([
    ["if parts > 0 then held / parts else -1", [-1, 20, 15]],
    ["if parts is 0 then -1 else if held / parts < 16 then 2 else 3", [-1, 3, 2]],
    ["if parts > 0 then round(held / parts, 10) else -1", [-1, 20, 20]],
    [
      "if parts > 0 then (if held > 20 then held / parts else -2) else (if held > 5 then -3 else 1 / parts)",
      [-3, -2, 15],
    ],
    ['if parts > 0 then item else "empty"', ["empty", "one", "two"]],
  ])("%s", (formula, expected) => {
    expect(Array.from(worked(formula).value as ArrayLike<number | string>)).toEqual(expected);
  });

  test("a function of the library is called for the rows of its branch alone", () => {
    const column = worked("if held > 10 then carbonation(pressure: 1 bar, temp: held * 2 Δ°C + -30 °C) else 0 vol");
    expect(column.faults).toEqual([]);
    expect(column.cautions.map(({ code }) => code)).toEqual(["safety"]);
    expect(Array.from(column.value as ArrayLike<number>, (entry) => entry > 0)).toEqual([false, true, true]);
    expect(says(worked("carbonation(pressure: 1 bar, temp: held * 2 Δ°C + -30 °C)"))).toEqual([
      expect.stringMatching(/^in row 1 /),
    ]);
  });

  test("what a function refuses in another row is not told", () => {
    const formula = (low: number): string =>
      `if parts > ${low} then interpolate(log.parts, log.held, parts - 1) else 0`;
    expect(Array.from(worked(formula(0)).value as ArrayLike<number>)).toEqual([0, 10, 20]);
    expect(says(worked(formula(-1)))).toEqual(["Row 1: The table goes from 0 to 2; -1 is outside it."]);
  });
});

describe("what looks across rows sees all of them, whichever rows take its branch", () => {
  test.each<[string, readonly number[]]>([
    ["if parts > 0 then held / parts + sum(held) else 0", [0, 80, 75]],
    ["if parts > 0 then held / parts + previous(held) else 0", [0, 30, 35]],
    ["if parts > 0 then held / parts + running_sum(held) else 0", [0, 50, 75]],
    ["if parts > 0 then held / parts + matching(log.parts, log.held, parts - 1) else 0", [0, 30, 35]],
    ["if parts > 0 then held / parts + rest(held) else 0", [0, 60, 45]],
  ])("%s", (formula, expected) => {
    const column = worked(formula, "function rest(x) = sum(x) - x");
    expect(Array.from(column.value as ArrayLike<number>)).toEqual(expected);
  });

  test.each([
    "if parts > 0 then sum(held / parts) else 0",
    "if parts > 0 then running_sum(held / parts) else 0",
    "if parts > 0 then previous(held / parts) else 0",
  ])("%s has no value where one row has none", (formula) => {
    const column = worked(formula);
    expect([column.value, says(column)]).toEqual([null, ["Row 1: This divides by zero."]]);
  });
});

describe("and, or", () => {
  test.each<[string, readonly number[]]>([
    ["if parts > 0 and held / parts > 16 then 1 else 0", [0, 1, 0]],
    ["if parts is 0 or held / parts > 16 then 1 else 0", [1, 1, 0]],
    ["if held > 0 or s.waits > 1 then 1 else 0", [1, 1, 1]],
  ])("%s: the right side is not looked at in a row where the left decides", (formula, expected) => {
    expect(Array.from(worked(formula).value as ArrayLike<number>)).toEqual(expected);
  });

  test("the right side makes a column wait as soon as one row needs it", () => {
    expect(worked("if held > 10 or s.waits > 1 then 1 else 0").state).toBe("waiting");
  });
});
