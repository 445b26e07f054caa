import type { Within } from "../checker/checked.ts";
import { instantOf, literalOf, unitWritten } from "../checker/literals.ts";
import { type Fault, fault } from "../diagnostics/diagnostic.ts";
import { ounceOfVolume } from "../operations/ambiguity.ts";
import { equalTexts } from "../operations/comparison.ts";
import type { ParsedFormula } from "../parser/tree.ts";
import type { UnitBook } from "../units/book.ts";
import { toCoherent } from "../units/convert.ts";
import type { Zone } from "../units/zone.ts";
import { describe, describeMany, describeOne } from "../values/describe.ts";
import { isInstant, sameKind, type Type } from "../values/kind.ts";
import type { RowPage } from "./document.ts";

/** A column's figures or texts. */
export type Values = Float64Array | (string | null)[];

/** A page of a table, read. Rows count from 0 within it; spans are in its text. */
export interface PageRead {
  /** By measured column: coherent figures (NaN is missing or unreadable), or texts. */
  readonly columns: readonly Values[];
  readonly faults: readonly { readonly column: number; readonly row: number; readonly fault: Fault }[];
  /** Rows with too few or too many entries. */
  readonly ragged: readonly { readonly row: number; readonly fault: Fault }[];
}

/** How entries are read: what the workbook knows of units and clocks, and the reader of literals. */
export interface EntryReader {
  readonly parse: (text: string) => ParsedFormula;
  readonly units: UnitBook;
  readonly zone: Zone | null;
  /** Pages that were read, with the lines of the columns that they were read by. */
  readonly pages: WeakMap<RowPage, { readonly columns: string; readonly read: PageRead }>;
}

/** One entry as it is used; a missing one is NaN or null. */
export type Entry = number | string | null;

/** A plain decimal figure, which most entries are. */
const PLAIN_FIGURE = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;

/** Reads one entry of a measured column: a figure in the column's unit, or one with its own unit; an empty one is missing. */
export function readEntry(text: string, type: Type, within: Within | null, reader: EntryReader): Entry | Fault {
  const { kind, unit } = type;
  if (text === "") return kind.is === "text" ? null : Number.NaN;
  const span = { start: 0, end: text.length };
  if (kind.is === "text") {
    if (within?.is === "choices" && !within.texts.some((choice) => equalTexts(choice, text)))
      return fault("not-a-choice", span, { text, choices: within.texts });
    return text;
  }
  if (kind.is === "quantity" || (kind.is === "reading" && !isInstant(kind))) {
    if (PLAIN_FIGURE.test(text)) return unit === null ? Number(text) : finite(toCoherent(Number(text), unit), text);
  }
  return readLiteral(text, type, reader);
}

const finite = (value: number, text: string): number | Fault =>
  value - value === 0
    ? value
    : fault("bad-number", { start: 0, end: text.length }, { text, says: "It is too large to be held." });

function readLiteral(text: string, type: Type, reader: EntryReader): Entry | Fault {
  const span = { start: 0, end: text.length };
  const { expression, faults } = reader.parse(text);
  const [first] = faults;
  if (first !== undefined) return first;
  if (type.kind.is === "truth") {
    if (expression.node === "truth") return expression.value ? 1 : 0;
    return fault("bad-number", span, { text, says: "Write yes or no." });
  }
  const found =
    expression.node === "instant"
      ? instantOf(expression, reader.zone)
      : expression.node === "literal"
        ? literalOf(expression, reader.units)
        : null;
  if (found === null)
    return fault("bad-number", span, {
      text,
      says: `An entry here is ${describeOne(type.kind, type.unit)}.`,
    });
  if ("code" in found) return found;
  if (!sameKind(found.type.kind, type.kind))
    return (
      ounceOfVolume(expression.node === "literal" ? unitWritten(expression) : null, type.kind) ??
      fault("unlike-units", span, {
        did: "entered",
        left: describeMany(type.kind, type.unit),
        right: describe(found.type.kind, found.type.unit),
        hint: null,
      })
    );
  return finite(found.value, text);
}
