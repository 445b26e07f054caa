import type { Span } from "../base/span.ts";
import type { Fault } from "../diagnostics/diagnostic.ts";
import { translate } from "./faults.ts";
import { FormulaParser, type FormulaParts } from "./grammar.ts";
import { readPhrase } from "./phrase.ts";
import { FAULT_LIMIT } from "./token-list.ts";
import { tokenize } from "./tokenizer.ts";
import type { ParsedFormula, UnitPhrase, UnitSpeller } from "./tree.ts";

export interface Parser {
  /** Reads a formula with its tail and note. Never throws; what could not be read is in `faults`, in the order of their places. */
  readonly formula: (text: string) => ParsedFormula;
  /** The unit phrase at `at`, unknown spellings included; null when nothing there could be one. */
  readonly unit: (text: string, at: number) => UnitPhrase | null;
  readonly speller: UnitSpeller;
}

/** A parser for formulas whose unit phrases are spelled as `speller` knows them. Making one costs some milliseconds; keep it. */
export function createParser(speller: UnitSpeller): Parser {
  const grammar = new FormulaParser();
  return {
    speller,
    unit: (text, at) => readPhrase(text, at, speller, true),
    formula(text) {
      const { tokens, faults, note } = tokenize(text, speller);
      grammar.text = text;
      grammar.faults = faults;
      grammar.input = tokens;
      const parts: FormulaParts | null = grammar.formula() ?? null;
      // The first only: what the tokens leave to the grammar is one slip, and later errors come of it.
      const [error] = grammar.errors;
      const found = error === undefined ? null : translate(error, tokens, text);
      if (found !== null && !faults.some((told) => sameSpan(told.span, found.span))) faults.push(found);
      if (parts === null && faults.length === 0) throw new Error("invariant broken: an unread formula has a fault");
      return {
        text,
        expression: parts?.expression ?? { node: "broken", span: { start: 0, end: text.length } },
        by: parts?.by ?? null,
        within: parts?.within ?? null,
        note,
        faults: faults.length > 1 ? inOrder(faults) : faults,
      };
    },
  };
}

const sameSpan = (a: Span, b: Span): boolean => a.start === b.start && a.end === b.end;

const inOrder = (faults: readonly Fault[]): readonly Fault[] =>
  faults.toSorted((a, b) => a.span.start - b.span.start || a.span.end - b.span.end).slice(0, FAULT_LIMIT);
