import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { labelFromName } from "../../engine/base/names.ts";
import { type Detection, detect } from "../../engine/readings/detect.ts";
import { existingRows } from "../../engine/readings/existing.ts";
import type { Mapping } from "../../engine/readings/mapping.ts";
import { type Merge, mergeReading } from "../../engine/readings/merge.ts";
import { type ProposedMapping, proposeMapping } from "../../engine/readings/propose.ts";
import type { Answers } from "../../engine/readings/question.ts";
import { type Reading, readCsv } from "../../engine/readings/read.ts";
import type { RowsPage } from "../../engine/readings/rows-text.ts";
import { type Chunk, sourceOf } from "../../engine/readings/source.ts";
import { type Target, targetOf } from "../../engine/readings/target.ts";
import { unitReader } from "../../engine/readings/units-in-text.ts";
import { BASE_BOOK } from "../../engine/units/book.ts";

export const readUnit = unitReader(BASE_BOOK);
export const knowsUnit = (spelling: string): boolean => readUnit(spelling) !== null;

/** A table for a test: `taken: instant, gravity: °P, temp: °C`. */
export function target(columns: string, zone: string | null = null): Target {
  const asked = columns.split(",").map((column) => {
    const [name = "", asks = ""] = column.split(":").map((part) => part.trim());
    return { name, label: labelFromName(name), asks };
  });
  const made = targetOf(asked, zone, readUnit);
  if (made === null) throw new Error(`the test names no unit: ${columns}`);
  return made;
}

/** The bytes of a sample in `tests/readings/csv/`. */
export const sample = (name: string): Uint8Array =>
  new Uint8Array(readFileSync(fileURLToPath(new URL(`csv/${name}`, import.meta.url))));

export interface Looked {
  readonly detection: Detection;
  readonly proposed: ProposedMapping;
}

export async function look(csv: Chunk, table: Target, answers: Answers = {}): Promise<Looked> {
  const detection = await detect(sourceOf(csv), knowsUnit);
  return { detection, proposed: proposeMapping(detection, table, readUnit, answers) };
}

/** Reads with the mapping that is proposed, as it is kept afterwards; fails the test while a question is open. */
export async function readProposed(
  csv: Chunk,
  table: Target,
  answers: Answers = {},
): Promise<Reading & { readonly mapping: Mapping; readonly notes: readonly string[] }> {
  const { proposed } = await look(csv, table, answers);
  if (proposed.questions.length > 0)
    throw new Error(`open: ${proposed.questions.map(({ about }) => about).join(", ")}`);
  const result = await readCsv(sourceOf(csv), proposed.mapping, table, readUnit);
  if ("problem" in result) throw new Error(result.problem);
  const { mapping, notes } = mergeInto([], result, proposed.mapping, table);
  return { ...result, mapping, notes: [...proposed.notes, ...notes] };
}

export const linesOf = (pages: readonly RowsPage[]): string[] =>
  pages.flatMap(({ text }) => text.split("\n").slice(0, -1));

/** Merges a reading into rows given as a workbook's lines. */
export const mergeInto = (lines: readonly string[], read: Reading, mapping: Mapping, table: Target): Merge => {
  const text = lines.map((line) => `${line}\n`).join("");
  const existing = existingRows(lines.length === 0 ? [] : [{ text, count: lines.length }], table, readUnit);
  return mergeReading(read, existing, mapping, table);
};

/** Whether the counts of a merge add up. */
export const addsUp = ({ read, added, changed, same, rejected }: Merge): boolean =>
  read === added + changed.length + same + rejected.length;

/** A column of a reading as plain numbers, rounded to `decimals`. */
export function numbers(read: Reading, table: Target, name: string, decimals = 6): (number | null)[] {
  const column = read.columns[table.columns.findIndex((one) => one.name === name)] ?? [];
  return Array.from(column as ArrayLike<number>, (value) =>
    Number.isNaN(value) ? null : Number(value.toFixed(decimals)),
  );
}
