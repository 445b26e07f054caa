import type { Mapping } from "./mapping.ts";
import { type Reject, readCsv } from "./read.ts";
import { entriesOfRow, PageReader } from "./rows-text.ts";
import type { Chunk, Source } from "./source.ts";
import type { Target } from "./target.ts";
import type { ReadUnit } from "./units-in-text.ts";

/** One of a file's first rows: as the table would hold it, or why it cannot. */
export type FirstRow =
  | { readonly line: number; readonly entries: readonly string[] }
  | (Reject & { readonly entries: null });

/** Enough of a file for its first rows, in characters or bytes. */
const BEGINNING = 1 << 16;

/** The beginning of a source as a source of its own. */
async function beginningOf(source: Source): Promise<Source> {
  const pieces: Chunk[] = [];
  let length = 0;
  for await (const piece of source.chunks()) {
    const part = piece.slice(0, BEGINNING - length);
    pieces.push(part);
    length += part.length;
    if (length >= BEGINNING) break;
  }
  return { length, chunks: () => pieces };
}

/** The first `count` rows of a file as a mapping reads them, those that it cannot read among them; by line. */
export async function firstRows(
  source: Source,
  mapping: Mapping,
  target: Target,
  readUnit: ReadUnit,
  count: number,
): Promise<readonly FirstRow[]> {
  const reading = await readCsv(await beginningOf(source), mapping, target, readUnit);
  if ("problem" in reading) return [];
  const lines = new PageReader(reading.pages);
  const read = Array.from({ length: Math.min(count, reading.rows) }, (_, row) => ({
    line: reading.lines[row] ?? 0,
    entries: entriesOfRow(lines.line(row)),
  }));
  const rejected = reading.rejects.slice(0, count).map((reject) => ({ ...reject, entries: null }));
  return [...read, ...rejected].sort((a, b) => a.line - b.line).slice(0, count);
}
