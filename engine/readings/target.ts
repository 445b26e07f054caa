import type { ShownUnit } from "../units/unit.ts";
import { INSTANT, type Kind, NUMBER, quantity, reading, TEXT, TRUTH, ZONED_INSTANT } from "../values/kind.ts";

/** A measured column of the table that is read into. */
export interface TargetColumn {
  readonly name: string;
  readonly label: string;
  readonly kind: Kind;
  /** The unit that bare entries are in; null for text, truths and instants. */
  readonly unit: ShownUnit | null;
  /** The texts that it may hold, whatever their case; null: it holds every text. */
  readonly choices: readonly string[] | null;
}

/** The table that is read into: its measured columns in order. */
export interface Target {
  readonly columns: readonly TargetColumn[];
  /** The zone in the workbook's head, which lets zoned instants stand beside unzoned ones; null for none. */
  readonly zone: string | null;
}

/** How a unit is written behind an entry; empty for a plain number. */
export const unitText = (unit: ShownUnit | null): string =>
  unit === null ? "" : unit.is === "scale" ? unit.symbol : unit.text;

/** A column's header where a table is written out: its label with its unit. */
export const headerText = (label: string, unit: string): string => (unit === "" ? label : `${label} (${unit})`);

/** The headers are the ones that the table is written out with, all of them and no others. */
export const isWrittenOut = (headers: readonly string[], { columns }: Target): boolean =>
  headers.length === columns.length &&
  columns.every(({ label, unit }, at) => headers[at] === headerText(label, unitText(unit)));

export const isInstant = (kind: Kind): boolean =>
  kind.is === "reading" && (kind.family === "instant" || kind.family === "zoned instant");

/** Whether figures in `unit` can stand in a column of `kind`. */
export function unitFits(unit: ShownUnit, kind: Kind): boolean {
  const reads = unit.is === "scale" ? unit.reads : unit.dimension;
  if (kind.is === "reading") return reads === kind.family;
  return kind.is === "quantity" && typeof reads !== "string" && reads.key === kind.dimension.key;
}

/** A column as plain data, for a worker that makes its own units: a unit's spelling, or one of the words. */
export interface ColumnAsks {
  readonly name: string;
  readonly label: string;
  readonly asks: string;
}

const WORDS: Readonly<Record<string, Kind>> = {
  number: NUMBER,
  text: TEXT,
  truth: TRUTH,
  instant: INSTANT,
  "zoned instant": ZONED_INSTANT,
};

/** The table that columns given as plain data describe; null for one whose unit the workbook does not know. */
export function targetOf(
  columns: readonly ColumnAsks[],
  zone: string | null,
  readUnit: (spelling: string) => ShownUnit | null,
): Target | null {
  const made: TargetColumn[] = [];
  for (const { name, label, asks } of columns) {
    const word = Object.hasOwn(WORDS, asks) ? WORDS[asks] : undefined;
    const unit = word ? null : readUnit(asks);
    if (word === undefined && unit === null) return null;
    made.push({ name, label, unit, kind: word ?? kindOf(unit as ShownUnit), choices: null });
  }
  return { columns: made, zone };
}

function kindOf(unit: ShownUnit): Kind {
  const reads = unit.is === "scale" ? unit.reads : unit.dimension;
  return typeof reads === "string" ? reading(reads) : quantity(reads);
}

/** What a column asks for, as plain data: the inverse of {@link targetOf}. */
export function asksOf({ name, label, kind, unit }: TargetColumn): ColumnAsks {
  if (unit !== null && unitText(unit) !== "") return { name, label, asks: unitText(unit) };
  const word = kind.is === "reading" ? kind.family : kind.is === "quantity" ? "number" : kind.is;
  return { name, label, asks: word };
}
