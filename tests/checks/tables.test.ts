import { describe, expect, test } from "vitest";
import { invariant } from "../../engine/base/invariant.ts";
import { Session } from "../../engine/session.ts";
import { language } from "../support/language.ts";

/*
 * Published sets of figures, through the tables of a workbook: entries read as text, checked, summarised by formulas.
 */

/** Works formulas out beside a table `data` of plain numbers. */
function workedOut(columns: Readonly<Record<string, readonly string[]>>, formulas: Readonly<Record<string, string>>) {
  const names = Object.keys(columns);
  const rows = (columns[names[0] ?? ""] ?? []).map((_, row) =>
    names.map((name) => columns[name]?.[row] ?? "").join(", "),
  );
  const session = new Session(
    [
      "gylebook 1",
      "sheet set",
      "table data",
      ...names.map((name) => `  column ${name} : number`),
      "  rows",
      ...rows.map((row) => `    ${row}`),
      "  end",
      ...Object.entries(formulas).map(([name, formula]) => `${name} = ${formula}`),
      "",
    ].join("\n"),
    null,
    language,
  );
  return (name: string): number => {
    const cell = session.cell(`set.${name}`);
    expect({ name, faults: cell?.faults }).toEqual({ name, faults: [] });
    invariant(typeof cell?.value === "number", `${name} is a figure`);
    return cell.value;
  };
}

function near(found: number, expected: number, relative: number): void {
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(relative * Math.abs(expected));
}

const words = (text: string): string[] => text.trim().split(/\s+/);

const NORRIS_X = words(
  "0.2 337.4 118.2 884.6 10.1 226.5 666.3 996.3 448.6 777.0 558.2 0.4 0.6 775.5 666.9 338.0 447.5 11.6 556.0 228.1 995.8 887.6 120.2 0.3 0.3 556.8 339.1 887.2 999.0 779.0 11.1 118.3 229.2 669.1 448.9 0.5",
);
const NORRIS_Y = words(
  "0.1 338.8 118.1 888.0 9.2 228.1 668.5 998.5 449.1 778.9 559.2 0.3 0.1 778.1 668.8 339.3 448.9 10.8 557.7 228.3 998.0 888.8 119.6 0.3 0.6 557.6 339.3 888.0 998.5 778.9 10.2 117.6 228.9 668.4 449.2 0.2",
);

describe("through a workbook's table", () => {
  test("the line of 36 pairs has the certified slope, intercept and scatter (NIST StRD, Norris)", () => {
    const found = workedOut(
      { x: NORRIS_X, y: NORRIS_Y },
      {
        rise: "slope(data.y, data.x)",
        start: "mean(data.y) - rise * mean(data.x)",
        squares: "sum((data.y - start - rise * data.x) ^ 2)",
        scatter: "sqrt(squares / (count(data.y) - 2))",
        share: "1 - squares / sum((data.y - mean(data.y)) ^ 2)",
      },
    );
    near(found("rise"), 1.00211681802045, 1e-9);
    near(found("start"), -0.262323073774029, 1e-9);
    near(found("scatter"), 0.884796396144373, 1e-9);
    near(found("share"), 0.999993745883712, 1e-9);
  });

  test("three large figures keep their mean and spread (NIST StRD, NumAcc1)", () => {
    const found = workedOut(
      { x: ["10000001", "10000003", "10000002"] },
      { middle: "mean(data.x)", scatter: "spread(data.x)" },
    );
    near(found("middle"), 10000002, 1e-12);
    near(found("scatter"), 1, 1e-12);
  });

  test("a thousand and one figures that differ by a tenth keep their spread (NIST StRD, NumAcc3)", () => {
    const x = ["1000000.2", ...Array.from({ length: 500 }, () => ["1000000.1", "1000000.3"]).flat()];
    const found = workedOut({ x }, { middle: "mean(data.x)", scatter: "spread(data.x)" });
    near(found("middle"), 1000000.2, 1e-12);
    near(found("scatter"), 0.1, 1e-9);
  });

  test("a line through the origin comes from sums (NIST StRD, NoInt2)", () => {
    const found = workedOut(
      { x: ["4", "5", "6"], y: ["3", "4", "4"] },
      {
        rise: "sum(data.x * data.y) / sum(data.x ^ 2)",
        scatter: "sqrt(sum((data.y - rise * data.x) ^ 2) / (count(data.y) - 1))",
      },
    );
    near(found("rise"), 0.727272727272727, 1e-9);
    near(found("scatter"), 0.369274472937998, 1e-9);
  });

  test("a small set has its spread by n − 1 (arithmetic)", () => {
    const found = workedOut(
      { x: words("2 4 4 4 5 5 7 9") },
      {
        middle: "mean(data.x)",
        scatter: "spread(data.x)",
        of_all: "sqrt(sum((data.x - middle) ^ 2) / count(data.x))",
      },
    );
    expect(found("middle")).toBe(5);
    near(found("scatter"), 2.13809, 1e-6);
    near(found("of_all"), 2, 1e-12);
  });

  test("the first of four sets alike in their figures has its line (Anscombe, The American Statistician 27, 1973)", () => {
    const found = workedOut(
      { x: words("10 8 13 9 11 14 6 4 12 7 5"), y: words("8.04 6.95 7.58 8.81 8.33 9.96 7.24 4.26 10.84 4.82 5.68") },
      {
        rise: "slope(data.y, data.x)",
        start: "mean(data.y) - rise * mean(data.x)",
        likeness: "rise * spread(data.x) / spread(data.y)",
      },
    );
    near(found("rise"), 0.500091, 1e-6);
    near(found("start"), 3.000091, 1e-6);
    near(found("likeness"), 0.816421, 1e-6);
  });

  test("a table of gravity is read between its entries (NBS Circular C440, Table 114)", () => {
    const found = workedOut(
      { x: ["10", "12", "14"], y: ["1.04003", "1.04837", "1.05683"] },
      { between: "interpolate(data.x, data.y, 13)" },
    );
    // Half way between the entries of 12 and 14 °P.
    near(found("between"), (1.04837 + 1.05683) / 2, 1e-12);
  });
});
