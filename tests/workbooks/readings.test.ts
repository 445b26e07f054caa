import { describe, expect, test } from "vitest";
import { invariant } from "../../engine/base/invariant.ts";
import { bookTable, readingEdit } from "../../engine/readings/book.ts";
import type { Answers } from "../../engine/readings/question.ts";
import { readInto } from "../../engine/readings/read-into.ts";
import { sourceOf } from "../../engine/readings/source.ts";
import { unitReader } from "../../engine/readings/units-in-text.ts";
import { createSession, type Session } from "../../engine/session.ts";
import { columnOf, openShipped, shippedBytes, shippedText } from "./shipped.ts";

/** The counts of a reading, done to the book unless something is asked. */
async function read(session: Session, table: string, csv: string, afresh: Answers | null): Promise<readonly number[]> {
  const book = bookTable(session.model, table);
  invariant(book, `there is no table ${table}`);
  const kept = afresh === null ? book.kept : null;
  const came = await readInto(
    sourceOf(shippedBytes(csv)),
    book.target,
    book.existing,
    unitReader(session.model.head.units),
    { ...(kept === null ? {} : { kept }), answers: afresh ?? {} },
  );
  invariant(came.is === "read", `${csv} is read without a question`);
  expect(session.dispatch(readingEdit(table, came.merge, came.mapping)).ok).toBe(true);
  const { added, changed, same, rejected } = came.merge;
  return [added, changed.length, same, rejected.length];
}

/** The book with the rows of a table left out. */
function emptied(file: string, table: string): Session {
  const lines = shippedText(file).split("\n");
  const from = lines.findIndex((line) => line.startsWith(`table ${table} `));
  const rows = lines.indexOf("  rows", from);
  const end = lines.indexOf("  end", rows);
  return createSession([...lines.slice(0, rows + 1), ...lines.slice(end)].join("\n"));
}

describe.each([
  ["cellar-log", "log", "tank", 688, {}, ["temp", "set", "gravity", "pressure"]],
  ["packaging", "fills", "weighed", 80, { "rows:Verdict": "(all)" }, ["bottle", "gross"]],
] as const)("%s's readings", (name, sheet, table, count, answers, columns) => {
  const [csv, full] = [`${name}.csv`, `${sheet}.${table}`];

  test("are the rows that stand in the book", async () => {
    expect(await read(openShipped(name), full, csv, null)).toEqual([0, 0, count, 0]);
    const book = emptied(`${name}.gyle`, table);
    expect(book.table(full)?.rowCount).toBe(0);
    expect(await read(book, full, csv, answers)).toEqual([count, 0, 0, 0]);
    for (const column of columns)
      expect(columnOf(book, full, column)).toEqual(columnOf(openShipped(name), full, column));
  });

  test("read in twice are there once", async () => {
    const book = emptied(`${name}.gyle`, table);
    expect(await read(book, full, csv, answers)).toEqual([count, 0, 0, 0]);
    expect(await read(book, full, csv, null)).toEqual([0, 0, count, 0]);
    expect(book.table(full)?.rowCount).toBe(count);
  });
});
