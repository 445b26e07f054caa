import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { tokensOf } from "../../engine/parser/colours.ts";
import { readStatements } from "../../engine/parser/file.ts";
import { createParser } from "../../engine/parser/parser.ts";
import { printFormula } from "../../engine/parser/print.ts";
import { quoteText } from "../../engine/parser/texts.ts";
import { tidyFormula, tidyStatement } from "../../engine/parser/tidy.ts";
import { showFormula, speller } from "./show.ts";

const SEED = 20260301;
const parser = createParser(speller);
const same = (spelling: string): string => spelling;

const unit = fc.constantFrom(
  "kg",
  "L",
  "°C",
  "°P",
  "%",
  "L/kg",
  "kg/m^3",
  "g·m²",
  "cells/mL/°P",
  "m^(1/2)",
  "US fl oz",
  "mg/L CaCO3",
  "1/h",
);
const figure = fc.oneof(fc.nat(9999).map(String), fc.constantFrom("0.5", ".25", "1.5e6", "2E-3"));
const quantity = fc.tuple(figure, unit).map(([digits, of]) => `${digits} ${of}`);
const name = fc.constantFrom(
  "a",
  "grain",
  "mash.grain",
  "cellar.readings.gravity",
  "größe",
  "Δt",
  "kg_x",
  "is_ok",
  "iffy",
);
const leaf = fc.oneof(
  figure,
  quantity,
  name,
  quantity.map((typed) => `-${typed}`),
  fc.constantFrom("12 lb 4 oz", "2026-03-02", "2026-03-02T08:15:30", "2026-03-02T08:15+01:00", "yes", "no"),
  fc
    .string({ maxLength: 6 })
    .filter((text) => !/[\r\n]/.test(text))
    .map(quoteText),
);

/** Formulas as a person may write them, every operator and any nesting of parentheses. */
const { formula } = fc.letrec<{ whole: string; formula: string; part: string }>((tie) => ({
  part: fc.oneof(
    { maxDepth: 4, depthIdentifier: "formula" },
    leaf,
    tie("formula").map((inner) => `(${inner})`),
    fc
      .array(tie("whole"), { maxLength: 3 })
      .map((given) => `f(${given.map((each, i) => (i === 1 ? `x: ${each}` : each)).join(", ")})`),
    tie("whole").map((inner) => `(${inner})`),
  ),
  formula: fc.oneof(
    { maxDepth: 4, depthIdentifier: "formula" },
    tie("part"),
    fc
      .tuple(tie("part"), fc.constantFrom(" + ", " - ", " * ", " / ", " ^ ", " and ", " or ", "*", " × "), tie("part"))
      .map((parts) => parts.join("")),
    fc
      .tuple(tie("part"), fc.constantFrom(" - ", " + "), tie("part"), fc.constant(" * "), tie("part"))
      .map((parts) => parts.join("")),
    fc
      .tuple(tie("part"), fc.constantFrom(" is ", " < ", " >= ", " is not "), tie("part"))
      .map((parts) => parts.join("")),
    fc.tuple(fc.constantFrom("-", "not ", "--", "not not ", "- "), tie("part")).map((parts) => parts.join("")),
    fc
      .tuple(tie("part"), fc.constantFrom("^-", " ^ ", "^--"), tie("part"), fc.constant("^"), tie("part"))
      .map((parts) => parts.join("")),
    tie("part").map((inner) => `${inner} is not missing`),
    fc
      .tuple(tie("formula"), tie("formula"), tie("formula"))
      .map(([a, b, c]) => `if ${a} then ${b} else if ${c} then ${a} else ${b}`),
  ),
  whole: fc.oneof(
    { maxDepth: 4, depthIdentifier: "formula" },
    tie("formula"),
    fc.tuple(tie("formula"), unit).map(([inner, of]) => `${inner} as ${of}`),
    fc.tuple(tie("formula"), tie("formula")).map(([columns, condition]) => `${columns} where ${condition}`),
  ),
}));

/** Scraps that a formula or a file is made of, so that random texts reach deep. */
const scrap = fc.constantFrom(
  ..."( ) [ ] , ; : ? # \" “ ' + - * / ^ = == < <= && ² ⁻¹ . 5 1.5 66,7 1,250 2026-03-02 2026-3-2 kg L/kg °C % a b.c f( x: if then else where as by within to not is missing and or yes NOT".split(
    " ",
  ),
  " ",
  "\n",
  "\r\n",
  "\r",
  "\t",
  "\u00a0",
  "\ufeff",
  "\0",
  "\ud800",
  "sheet s",
  "table t",
  "rows",
  "end",
  "column c : °C",
  "column d = ",
  'plot "p"',
  "line t.c",
  "across t.c",
  "unit u = ",
  "function f(x) = ",
  "gal means US gal",
  "a = ",
  "> prose",
  'section "s"',
  "gylebook 1",
  'title "t"',
  '""',
);
const scraps = fc
  .array(fc.oneof(scrap, fc.string({ unit: "binary", maxLength: 3 })), { maxLength: 40 })
  .map((parts) => parts.join(""));

describe("laws of the parser", () => {
  test("a printed formula reads as the same tree", () => {
    fc.assert(
      fc.property(formula, (text) => {
        const parsed = parser.formula(text);
        fc.pre(parsed.faults.length === 0);
        const printed = printFormula(parsed, same);
        const again = parser.formula(printed);
        expect(again.faults, printed).toEqual([]);
        const normal = (shown: string): string => shown.replace(/(^|[^\d.])\./g, "$10.").replace(/(\d)E/g, "$1e");
        expect(normal(showFormula(again))).toBe(normal(showFormula(parsed)));
        expect(printFormula(again, same)).toBe(printed);
      }),
      { seed: SEED, numRuns: 3000 },
    );
  });

  test("a tidied formula reads as the same tree, and tidying again changes nothing", () => {
    fc.assert(
      fc.property(formula, (text) => {
        const tidy = tidyFormula(text, parser, same);
        expect(tidyFormula(tidy, parser, same)).toBe(tidy);
        expect(printFormula(parser.formula(tidy), same)).toBe(printFormula(parser.formula(text), same));
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });

  test("any text is read without throwing, and every place lies inside it", () => {
    fc.assert(
      fc.property(scraps, (text) => {
        const { faults } = parser.formula(text);
        for (const { span, mends } of faults) {
          for (const each of [span, ...mends.flatMap(({ replace }) => replace.map((one) => one.span))]) {
            expect(each.start).toBeGreaterThanOrEqual(0);
            expect(each.end).toBeGreaterThanOrEqual(each.start);
            expect(each.end).toBeLessThanOrEqual(text.length);
          }
        }
        const colours = tokensOf(text, speller);
        for (let i = 1; i < colours.length; i += 1) {
          expect(colours[i]?.span.start).toBeGreaterThanOrEqual(colours[i - 1]?.span.end ?? 0);
        }
      }),
      { seed: SEED, numRuns: 3000 },
    );
  });

  test("the statements of any text joined are the text, and tidying twice equals tidying once", () => {
    fc.assert(
      fc.property(scraps, (text) => {
        const statements = readStatements(text, parser);
        expect(statements.map(({ source }) => source).join("")).toBe(text);
        for (const statement of statements) {
          expect(statement.is === "unread" && statement.faults.length === 0).toBe(false);
          for (const { span } of statement.faults) expect(span.end).toBeLessThanOrEqual(statement.source.length);
        }
        const tidy = (of: string): string =>
          readStatements(of, parser)
            .map((each) => tidyStatement(each, parser, same))
            .join("");
        const once = tidy(text);
        expect(tidy(once)).toBe(once);
      }),
      { seed: SEED, numRuns: 3000 },
    );
  });

  test("a quoted text reads as itself", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (value) => {
        const read = parser.formula(quoteText(value)).expression;
        expect(read.node === "text" && read.value).toBe(value.replace(/\r\n|\r/g, "\n"));
      }),
      { seed: SEED, numRuns: 500 },
    );
  });
});
