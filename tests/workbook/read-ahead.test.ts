import { expect, test } from "vitest";
import { createSession } from "../../engine/session.ts";
import type { Edit } from "../../engine/workbook/edit.ts";

const BOOK = `gylebook 1
library 1
unit firkin_full = 72 pt

sheet cellar
table log
  column taken : instant
  column temp : °C
  rows
    2026-03-02T08:00, 18.2
  end
warmest = max(log.temp)
`;

const ROWS: Edit = {
  edit: "read-rows",
  table: "cellar.log",
  changed: [{ row: 0, entries: ["2026-03-02T08:00", "18.4"] }],
  pages: [
    { text: "2026-03-02T09:00,18.6\n2026-03-02T10:00,64.9 °F\n", count: 2 },
    { text: "2026-03-02T11:00,foam\n", count: 1 },
  ],
  places: [{ before: 0, count: 1 }],
  mapping: null,
};

const NEW_TABLE: readonly Edit[] = [
  {
    edit: "add-text",
    sheet: "cellar",
    at: null,
    text: "table fresh\n  column taken : instant\n  column temp : °F\n  rows\n  end",
  },
  {
    edit: "read-rows",
    table: "cellar.fresh",
    changed: [],
    pages: [{ text: "2026-03-02T09:00,65\n", count: 1 }],
    places: [],
    mapping: null,
  },
];

/** Goes through all steps; gives what came of them and how many there were. */
const ahead = (session: ReturnType<typeof createSession>, edits: readonly Edit[]) => {
  const work = session.readAhead(edits);
  let steps = 0;
  for (;;) {
    const step = work.next();
    if (step.done) return { edits: step.value, steps };
    steps += 1;
  }
};

test("edits whose rows were read ahead come to the same book and the same figures as without", () => {
  for (const edits of [[ROWS], NEW_TABLE]) {
    const [plain, prepared] = [createSession(BOOK), createSession(BOOK)];
    expect(plain.dispatch(edits).ok).toBe(true);
    const { edits: ready, steps } = ahead(prepared, edits);
    // A step for each page that is made: the page with the corrected and the first new row, and those that follow at the end.
    expect(steps).toBe(edits === NEW_TABLE ? 1 : 3);
    expect(prepared.text()).toBe(BOOK);
    expect(prepared.dispatch(ready).ok).toBe(true);
    expect(prepared.text()).toBe(plain.text());
    for (const table of ["cellar.log", "cellar.fresh"])
      expect(prepared.table(table)?.columns.map(({ value, entryFaults }) => [value, entryFaults.size])).toEqual(
        plain.table(table)?.columns.map(({ value, entryFaults }) => [value, entryFaults.size]),
      );
  }
});

test("corrected rows stay where they stand, new ones stand in their places, and the rest at the end", () => {
  const session = createSession(BOOK);
  session.dispatch(ROWS);
  expect(session.text()).toContain(
    [
      "    2026-03-02T09:00,18.6",
      "    2026-03-02T08:00, 18.4",
      "    2026-03-02T10:00,64.9 °F",
      "    2026-03-02T11:00,foam",
      "  end",
    ].join("\n"),
  );
});

test("rows that were read ahead are refused when the table was changed meanwhile", () => {
  const session = createSession(BOOK);
  const { edits } = ahead(session, [ROWS]);
  session.dispatch({ edit: "set-entry", table: "cellar.log", row: 0, column: "temp", entry: "3" });
  const before = session.text();
  const outcome = session.dispatch(edits);
  expect(outcome.ok ? "" : outcome.says).toContain("changed while the file was being read");
  expect(session.text()).toBe(before);
});

test("corrections of every row come to the same figures as reading the file anew, and undo gives the old ones back", () => {
  const entries = (row: number, temp: number) => [
    `2026-03-${String(1 + Math.floor(row / 24)).padStart(2, "0")}T${String(row % 24).padStart(2, "0")}:00`,
    temp.toFixed(1),
  ];
  const session = createSession(BOOK);
  const count = 600;
  session.dispatch({
    edit: "add-rows",
    table: "cellar.log",
    at: null,
    rows: Array.from({ length: count }, (_, row) => entries(row, 18 + (row % 7))),
  });
  const before = session.text();
  const corrected: Edit = {
    edit: "read-rows",
    table: "cellar.log",
    changed: Array.from({ length: count }, (_, row) => ({ row: row + 1, entries: entries(row, 19 + (row % 7)) })),
    ...{ pages: [], places: [], mapping: null },
  };
  expect(session.dispatch(ahead(session, [corrected]).edits).ok).toBe(true);
  const anew = createSession(session.text());
  const figures = (of: typeof session) => of.table("cellar.log")?.columns.map(({ value }) => value);
  expect(figures(session)).toEqual(figures(anew));
  expect(session.cell("cellar.warmest")?.value).toBe(25);
  session.undo();
  expect(session.text()).toBe(before);
  expect(figures(session)).toEqual(figures(createSession(before)));
  expect(session.cell("cellar.warmest")?.value).toBe(24);
});

test("rows that were read ahead and never brought leave the book as it was", () => {
  const session = createSession(BOOK);
  session.readAhead([ROWS]).next();
  expect([session.text(), session.canUndo]).toEqual([BOOK, false]);
});

test("a page that is remembered is read anew once its column asks for another unit", () => {
  const session = createSession(BOOK);
  session.dispatch({ edit: "set-column", table: "cellar.log", column: "temp", text: "temp : °F" });
  // 18.2 °F by the definition of the scale: (18.2 − 32) · 5/9 °C.
  expect(session.cell("cellar.warmest")?.value).toBeCloseTo(((18.2 - 32) * 5) / 9, 12);
  session.undo();
  expect(session.cell("cellar.warmest")?.value).toBe(18.2);
});
