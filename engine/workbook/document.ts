import { visible } from "../base/deceptive.ts";
import { labelFromName } from "../base/names.ts";
import type { ParsedColumn } from "../parser/tree.ts";

/**
 * The whole document, immutable. Every part keeps its verbatim `source` (line ends included), so that writing an unedited
 * workbook gives its file back to the character; an edit replaces the sources it touches and shares the rest.
 */
export interface Workbook {
  /** Whether the file began with a byte-order mark. */
  readonly byteOrderMark: boolean;
  /** What new lines end with: the file's own first line end. */
  readonly lineEnd: "\n" | "\r\n" | "\r";
  readonly head: readonly HeadItem[];
  readonly sheets: readonly Sheet[];
}

export interface Sheet {
  readonly name: string;
  /** Null: made from the name. */
  readonly label: string | null;
  /** The `sheet …` line. */
  readonly source: string;
  /** The items in order, in pages of at most {@link PAGE_LENGTH}, so that an edit copies one page and not the sheet. */
  readonly pages: readonly (readonly Item[])[];
}

/** Long enough that a usual sheet is one page, short enough that copying one is nothing. */
export const PAGE_LENGTH = 256;

interface Sourced {
  readonly source: string;
}

export type HeadItem = Sourced &
  (
    | { readonly is: "format"; readonly version: number }
    | { readonly is: "library"; readonly version: number }
    | { readonly is: "title"; readonly text: string }
    | { readonly is: "lens"; readonly lens: string }
    | { readonly is: "zone"; readonly zone: string }
    | { readonly is: "means"; readonly word: string; readonly unit: string }
    | { readonly is: "unit"; readonly name: string; readonly formulaStart: number }
    | {
        readonly is: "function";
        readonly name: string;
        readonly parameters: readonly string[];
        readonly formulaStart: number;
      }
    | CellPart
    | GapPart
    | UnreadPart
  );

interface CellPart {
  readonly is: "cell";
  readonly name: string;
  readonly label: string | null;
  /** Where the formula (with its tail: `by`, `within`, note) begins in `source`. */
  readonly formulaStart: number;
}
interface GapPart {
  readonly is: "gap";
}
interface UnreadPart {
  readonly is: "unread";
}

export type CellItem = Sourced & CellPart;

export interface TableItem extends Sourced {
  readonly is: "table";
  readonly name: string;
  readonly label: string | null;
  /** `source` is everything before the rows (the `table` line, column lines, the `rows` line); this is what follows them: the `end` line. */
  readonly tail: string;
  readonly columns: readonly ParsedColumn[];
  /** How CSVs were read into it, kept for the next time; see `readings/mapping-text.ts`. */
  readonly mapping: string | null;
  readonly rows: readonly RowPage[];
}

/** CSV lines of a table, verbatim; `count` rows, at most {@link PAGE_LENGTH} after an edit. */
export interface RowPage {
  readonly text: string;
  readonly count: number;
}

export interface PlotItem extends Sourced {
  readonly is: "plot";
  readonly label: string;
  /** The name of a column as written, `readings.taken`; null: the row number. */
  readonly across: string | null;
  readonly lines: readonly string[];
}

export type Item =
  | CellItem
  | TableItem
  | PlotItem
  | (Sourced & { readonly is: "section"; readonly label: string })
  | (Sourced & { readonly is: "prose"; readonly text: string })
  | (Sourced & GapPart)
  | (Sourced & UnreadPart);

/** A cell's formula with its tail, as typed, without outer blanks and line end. */
export const formulaOf = (item: CellItem): string => item.source.slice(item.formulaStart).trim();

/** Whether a table takes times: then it is a log of readings, which each gyle begins anew. */
export const isLog = ({ columns }: TableItem): boolean =>
  columns.some(({ measured }) => measured?.asks.is === "instant");

/** Every item of a sheet in order. */
export function* itemsOf(sheet: Sheet): Generator<Item> {
  for (const page of sheet.pages) yield* page;
}

/** What a line, table, column or sheet is called where it is shown: its label, or one that is made from its name. */
export const labelOf = ({ name, label }: { readonly name: string; readonly label: string | null }): string =>
  visible(label ?? labelFromName(name));
