import { createSignatures, type Signatures } from "../checker/signature.ts";
import { createParser, type Parser } from "../parser/parser.ts";
import type { ParsedFormula, UnitSpeller } from "../parser/tree.ts";
import { BASE_BOOK, type UnitBook } from "../units/book.ts";

/**
 * The reader of formulas and the library's declarations, made once and used by every version of every workbook: making
 * them costs milliseconds. Which units a text is read with is told at each reading.
 */
export interface Language {
  readonly parse: (text: string, units: UnitBook) => ParsedFormula;
  /** The same reader for a whole file, with these units until it is used otherwise. */
  readonly reader: (units: UnitBook) => Parser;
  readonly signatures: Signatures;
}

export function createLanguage(): Language {
  let units = BASE_BOOK;
  const speller: UnitSpeller = (text, at) => units.speller(text, at);
  const parser = createParser(speller);
  const parse = (text: string, book: UnitBook): ParsedFormula => {
    units = book;
    return parser.formula(text);
  };
  const reader = (book: UnitBook): Parser => {
    units = book;
    return parser;
  };
  return { parse, reader, signatures: createSignatures((text) => parse(text, BASE_BOOK)) };
}
