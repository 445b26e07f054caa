import { readFileSync } from "node:fs";
import { invariant } from "../../engine/base/invariant.ts";

/** One line that a case must give: `kind mass`, `fault unlike-units «a + b»`. */
export interface Given {
  readonly is: string;
  readonly text: string;
}

export interface Case {
  /** The line of the table that it begins at. */
  readonly line: number;
  /** The workbook that the formula is put into, or that the case itself is about. */
  readonly book: string;
  /** Null: the case is about the workbook. */
  readonly formula: string | null;
  readonly gives: readonly Given[];
}

const PLAIN_BOOK = "gylebook 1\nlibrary 1\nsheet here\n";

/** Reads a table of cases; how one is written stands at the head of tests/cases/arithmetic.txt. */
export function readCases(file: string): readonly Case[] {
  const cases: { line: number; book: string; formula: string | null; gives: Given[] }[] = [];
  const text = readFileSync(new URL(`../cases/${file}`, import.meta.url), "utf8");
  let book = PLAIN_BOOK;
  let inBook = false;
  for (const [at, line] of text.split("\n").entries()) {
    if (line.startsWith("//") || line.trim() === "") {
      inBook = false;
    } else if (line === "| -") {
      book = PLAIN_BOOK;
    } else if (line === "|" || line.startsWith("| ")) {
      const row = `${line.slice(2)}\n`;
      book = inBook ? book + row : row;
      inBook = true;
    } else if (line.startsWith("  ")) {
      const [, is = "", said = ""] = /^ {2}(\w+)(?: (.*))?$/.exec(line) ?? [];
      invariant(is !== "", `${file}:${at + 1} is no line that a case can give`);
      if (inBook) cases.push({ line: at + 1, book, formula: null, gives: [] });
      inBook = false;
      cases.at(-1)?.gives.push({ is, text: said });
    } else {
      inBook = false;
      cases.push({ line: at + 1, book, formula: line.replaceAll("⏎", "\n"), gives: [] });
    }
  }
  return cases;
}
