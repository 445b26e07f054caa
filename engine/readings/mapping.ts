import type { DateOrder } from "./dates.ts";
import type { Encoding } from "./decode.ts";
import type { Marks } from "./figures.ts";
import type { Answers } from "./question.ts";
import type { Separator } from "./shape.ts";

/** How one column of the table is filled from a CSV. */
export interface ColumnMapping {
  /** The table's column. */
  readonly to: string;
  /** The CSV's headers: one, or a date and a time of day. */
  readonly from: readonly string[];
  /** For figures: the unit they are in (`°F`, `SG`); null where the entry is a text, a truth, an instant or a plain number. */
  readonly unit: string | null;
  /** The header whose entries name the unit row by row (a lb/oz switch); null for none. */
  readonly unitFrom: string | null;
  /** Implied decimals: 1048 with 3 is 1.048. */
  readonly implied: number;
  /** Added to every figure, as a difference in `unit`, whatever unit stands behind the figure itself: what a hand sample showed the instrument to be off by. */
  readonly offset: number;
  /** Later units, each from an instant on (seconds): the instrument was switched over. */
  readonly switches: readonly { readonly from: number; readonly unit: string }[];
  /** For instants: in which order the parts of a date stand. */
  readonly order: DateOrder | null;
}

/** How a CSV is read into a table. Plain data: kept with the workbook and used again on tomorrow's export. */
export interface Mapping {
  readonly encoding: Encoding;
  readonly separator: Separator;
  /** The CSV's headers in order; without a header row `column 1` and so on. */
  readonly headers: readonly string[];
  /** Whether the CSV has a header row, and a row of units below it. */
  readonly headerRow: boolean;
  readonly unitsRow: boolean;
  readonly marks: Marks;
  /** Entries that stand for nothing, in lower case; an empty entry always does. */
  readonly empties: readonly string[];
  /** The zone of times that are written without one; null: the brewery's wall clock. Epochs are UTC. */
  readonly zone: string | null;
  /** The zone of the brewery's wall clock, which zoned times are turned into; null: zoned times are kept with their zone. */
  readonly clock: string | null;
  readonly columns: readonly ColumnMapping[];
  /** Columns of the table that tell one row from another. */
  readonly key: readonly string[];
  /** Whether rows with equal keys are told apart by their order: three packages in one second are three. */
  readonly occurrence: boolean;
  /** Only rows whose entry under `header` is one of `texts` are read. */
  readonly keep: readonly { readonly header: string; readonly texts: readonly string[] }[];
  /** Only rows from this instant on, and before that one, in seconds. */
  readonly after: number | null;
  readonly before: number | null;
  /** What was answered, so that nothing is asked twice. */
  readonly answers: Answers;
}

/** A header that is not where the mapping found it. */
export interface HeaderChange {
  readonly is: "gone" | "new" | "moved";
  readonly header: string;
}

/** What changed in a CSV's headers since the mapping was made; nothing may be read while a mapped one is gone. */
export function headerChanges(mapping: Mapping, headers: readonly string[]): HeaderChange[] {
  const changes: HeaderChange[] = [];
  for (const [at, header] of mapping.headers.entries()) {
    const now = headers.indexOf(header);
    if (now < 0) changes.push({ is: "gone", header });
    else if (now !== at) changes.push({ is: "moved", header });
  }
  for (const header of headers) if (!mapping.headers.includes(header)) changes.push({ is: "new", header });
  return changes;
}

export const wordChange = ({ is, header }: HeaderChange): string =>
  is === "new"
    ? `The column "${header}" is new.`
    : `The column "${header}" ${is === "gone" ? "is no longer there" : "has moved"}.`;

/** Every header that the mapping draws on. */
export const headersUsed = (mapping: Mapping): Set<string> =>
  new Set([
    ...mapping.columns.flatMap(({ from, unitFrom }) => (unitFrom === null ? from : [...from, unitFrom])),
    ...mapping.keep.map(({ header }) => header),
  ]);
