import type { CellResult } from "../../engine/index.ts";

/**
 * Small readings of a formula's text for the screen: where its tail begins, and whether it is one figure that a field can
 * take. What it means is the engine's affair.
 */

/** A formula and its tail: `66 °C within 65 to 68 °C # early` is `66 °C`, `within 65 to 68 °C`, `early`. */
export interface FormulaText {
  /** The expression, without outer blanks. */
  readonly body: string;
  /** `by …` and `within …`, as typed; empty when there are none. */
  readonly tail: string;
  /** Null when there is no note. */
  readonly note: string | null;
}

/** Where the first match of `pattern` (global) outside quoted text stands, or -1. */
const outsideQuotes = (text: string, pattern: RegExp): number => {
  const hidden = text.replace(/"(?:[^"]|"")*"/g, (quoted) => "\0".repeat(quoted.length));
  return hidden.search(pattern);
};

export const splitFormula = (formula: string): FormulaText => {
  const noteAt = outsideQuotes(formula, /#/);
  const stated = noteAt < 0 ? formula : formula.slice(0, noteAt);
  const tailAt = outsideQuotes(stated, /\s(?:by|within)\s/);
  return {
    body: (tailAt < 0 ? stated : stated.slice(0, tailAt)).trim(),
    tail: tailAt < 0 ? "" : stated.slice(tailAt).trim(),
    note: noteAt < 0 ? null : formula.slice(noteAt + 1).trim(),
  };
};

export const joinFormula = ({ body, tail, note }: FormulaText): string =>
  [body, tail, note === null || note === "" ? "" : `# ${note.replace(/\s+/g, " ")}`]
    .filter((part) => part !== "")
    .join(" ");

/** What a field shows of a line that holds one figure, text, instant or truth. */
export interface FieldText {
  /** The `?` of a reading to be taken. */
  readonly blank: boolean;
  /** What stands in the field as it was written: `66.5`, `12 lb 4 oz`, `2026-03-01`, `kettle`. */
  readonly figure: string;
  /** The unit that stands beside the field; empty when it is part of the figure or there is none. */
  readonly unit: string;
}

const FIGURE = /^([-−]?\d[\d.,]*(?:[eE][+-]?\d+)?)\s*(.*)$/;
const INSTANT = /^\d{4}-\d{2}-\d{2}(?:T[\d:.]+(?:Z|[+-][\d:]+)?)?$/;
const WORKED = /[()^*]|\s[-+/]\s|\s(?:as|where|or|and|is|if)\s/;

/** Reads a formula as one literal, blank or filled; null when it is worked out from something. */
export const readField = (formula: string): FieldText | null => {
  const { body } = splitFormula(formula);
  const blank = body.startsWith("?");
  const literal = blank ? body.slice(1).trim() : body;
  if (INSTANT.test(literal)) return { blank, figure: literal.replace("T", " "), unit: "" };
  const quoted = /^"((?:[^"]|"")*)"$/.exec(literal);
  if (quoted !== null) return { blank, figure: (quoted[1] ?? "").replaceAll('""', '"'), unit: "" };
  if (literal === "yes" || literal === "no") return { blank, figure: literal, unit: "" };
  if (WORKED.test(` ${literal} `)) return null;
  const figure = FIGURE.exec(literal);
  if (figure === null)
    return blank ? { blank, figure: "", unit: /^(?:text|instant|truth)$/.test(literal) ? "" : literal } : null;
  const [, digits = "", unit = ""] = figure;
  return /\d\s*\p{L}/u.test(unit) && /\s\d/.test(unit)
    ? { blank, figure: literal, unit: "" }
    : { blank, figure: digits, unit };
};

/** The unit beside a field, which a bare figure in it takes: of an empty one what the lens asks in, else what was written. */
export const unitOfField = ({ blank }: CellResult, field: FieldText | null): string =>
  blank !== null && !blank.filled ? blank.unitText : (field?.unit ?? "");

/** A label or text as it stands in a file. */
export const quoted = (text: string): string => `"${text.replaceAll('"', '""').replace(/\r\n|\r|\n/g, "\\n")}"`;
