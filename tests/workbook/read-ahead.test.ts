import { expect, test } from "vitest";
import type { CheckedNode } from "../../engine/checker/checked.ts";
import type { Held } from "../../engine/evaluator/memory.ts";
import { createSession } from "../../engine/session.ts";
import { PLAIN } from "../../engine/units/compound.ts";
import { NUMBER } from "../../engine/values/kind.ts";
import { Ahead } from "../../engine/workbook/ahead.ts";
import type { Edit } from "../../engine/workbook/edit.ts";

const PLAIN_TYPE = { kind: NUMBER, unit: PLAIN };

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
    // A step for each page that is made: the page with the corrected and the first new row, and those that follow at the end;
    // one for the columns, and one for the line that draws on them.
    expect(steps).toBe(edits === NEW_TABLE ? 1 : 5);
    expect(prepared.text()).toBe(BOOK);
    expect(prepared.dispatch(ready).ok).toBe(true);
    expect(prepared.text()).toBe(plain.text());
    for (const table of ["cellar.log", "cellar.fresh"])
      expect(prepared.table(table)?.columns.map(({ value, entryFaults }) => [value, entryFaults.size])).toEqual(
        plain.table(table)?.columns.map(({ value, entryFaults }) => [value, entryFaults.size]),
      );
  }
});

/** Lines that draw on a table in every way: worked columns, conditions, summaries, the library, other sheets, what waits and what is faulty. */
const LOG_BOOK = `gylebook 1
library 1

sheet cellar
table log
  column taken : instant
  column temp : °F
  column sg : SG
  column who : text
  column away = temp - set
  column gravity = corrected_gravity(reading: sg, sample_temp: temp) as °P
  column same = 3 L
  rows
    2026-03-02T08:00, 65, 1.0480, Jo
    2026-03-02T09:00, 66, 1.0470,
  end
set = 66 °F
late = ? °C
warmest = max(log.temp where taken > from)
from = 2026-03-02T08:30
warm = (warmest - set) * 2
waits = max(log.temp) - late
wrong = warmest + 1 kg
gone = apparent_attenuation(original: 12.1 °P, present: last(log.gravity))
total = sum(log.same)
first_by = first(log.who)
judged = if warm > 1 Δ°F then "warm" else "cool"
met = first(log.taken where temp > 67 °F)
soon = met + 1 h
known = first_known(met, from)
boiling = max(log.temp where temp > 200 °F)

sheet other
seen = cellar.warm * 3
rows_read = count(cellar.log.taken)
table tally
  column n : number
  column m = n * cellar.total
  rows
    2
  end
`;

const LOG_ROWS: Edit = {
  edit: "read-rows",
  table: "cellar.log",
  changed: [{ row: 1, entries: ["2026-03-02T09:00", "67.5", "1.0465", "Al"] }],
  pages: [{ text: "2026-03-02T10:00,68,1.0440,Jo\n2026-03-02T11:00,,1.0430,\n", count: 2 }],
  places: [],
  mapping: null,
};

const LINES = [
  "set",
  "late",
  "warmest",
  "warm",
  "waits",
  "wrong",
  "gone",
  "total",
  "first_by",
  "judged",
  "met",
  "soon",
  "known",
  "boiling",
];

/** Everything that a reader of the book sees. */
const shown = (session: ReturnType<typeof createSession>) => [
  ...[...LINES.map((name) => `cellar.${name}`), "other.seen", "other.rows_read"].map((name) => {
    const { state, shown: figure, waitingFor, tooFew, faults, cautions } = session.cell(name) ?? { state: "gone" };
    return [name, state, figure, waitingFor, tooFew, faults?.map(({ code }) => code), cautions];
  }),
  ...["cellar.log", "other.tally"].map((name) =>
    session.table(name)?.columns.map(({ value, state, faults }) => [value, state, faults.map(({ code }) => code)]),
  ),
];

test("what was worked out ahead is what a book opened with these rows comes to, and undo takes it back", () => {
  for (const rows of [LOG_ROWS, { ...LOG_ROWS, pages: [{ text: "2026-03-02T10:00,foam,1.0440,Jo\n", count: 1 }] }]) {
    const session = createSession(LOG_BOOK);
    const before = shown(session);
    expect(session.dispatch(ahead(session, [rows]).edits).ok).toBe(true);
    expect(shown(session)).toEqual(shown(createSession(session.text())));
    expect(shown(session)).not.toEqual(before);
    session.undo();
    expect(shown(session)).toEqual(before);
    session.redo();
    expect(shown(session)).toEqual(shown(createSession(session.text())));
  }
});

test("what waits for a log that has too few entries is worked out anew with the rows that are read into it", () => {
  const session = createSession(LOG_BOOK);
  const states = (): unknown =>
    ["met", "soon", "known", "boiling"].map((name) => session.cell(`cellar.${name}`)?.state);
  expect(states()).toEqual(["waiting", "waiting", "ready", "waiting"]);
  expect(session.dispatch(ahead(session, [LOG_ROWS]).edits).ok).toBe(true);
  expect(states()).toEqual(["ready", "ready", "ready", "waiting"]);
  expect(session.cell("cellar.known")?.shown).toBe(session.cell("cellar.met")?.shown);
});

test("what is changed between the working out and the reading in counts as it is then", () => {
  const edits: readonly Edit[] = [
    { edit: "set-formula", cell: "cellar.set", formula: "60 °F" },
    { edit: "set-formula", cell: "cellar.from", formula: "2026-03-02T10:30" },
    { edit: "set-formula", cell: "cellar.warmest", formula: "min(log.temp)" },
    { edit: "set-formula", cell: "cellar.late", formula: "? 4 °C" },
    { edit: "set-formula", cell: "cellar.warmest", formula: "2 kg +" },
    { edit: "set-column", table: "cellar.log", column: "away", text: "away = set - temp" },
    { edit: "set-entry", table: "other.tally", row: 0, column: "n", entry: "5" },
    { edit: "add-text", sheet: "other", at: null, text: "more = max(cellar.log.temp)" },
  ];
  for (const edit of edits) {
    const session = createSession(LOG_BOOK);
    const ready = ahead(session, [LOG_ROWS]).edits;
    expect(session.dispatch(edit)).toMatchObject({ ok: true });
    const outcome = session.dispatch(ready);
    // A column's line is part of its table: then the rows are made anew, or refused; never wrong.
    expect(outcome.ok || outcome.says.includes("changed while the file was being read")).toBe(true);
    expect(shown(session)).toEqual(shown(createSession(session.text())));
    session.undo();
    session.undo();
    expect(shown(session)).toEqual(shown(createSession(LOG_BOOK)));
  }
});

test("a formula that was worked out ahead is not worked out again while all that it read is the same", () => {
  const held = new Map<number, Held>([
    [1, { is: "value", value: Float64Array.of(1, 2) }],
    [2, { is: "value", value: 3 }],
    [3, { is: "waiting" }],
  ]);
  const now = {
    read: (node: number) => held.get(node) ?? { is: "faulty" as const },
    unfilled: () => [],
    logs: () => [],
  };
  const ahead = new Ahead(now);
  const next = Float64Array.of(4, 5);
  ahead.put(1, { is: "value", value: next });
  const span = { start: 0, end: 0 };
  const load = (node: number, rows: string | null): CheckedNode => ({
    op: "load",
    node,
    span,
    type: { ...PLAIN_TYPE, rows },
  });
  const sum = {
    op: "arithmetic",
    operator: "+",
    left: load(1, "log"),
    right: load(2, null),
    span,
    type: { ...PLAIN_TYPE, rows: "log" },
  } as const;
  const waits = load(3, null);
  expect(ahead.workOut(8, sum).value).toEqual(Float64Array.of(7, 8));
  expect(ahead.workOut(9, waits).stop).toEqual({ reason: "waiting", nodes: [3], tooFew: [] });
  expect(ahead.outcomeOf(8, sum)).toBeNull();
  held.set(1, { is: "value", value: next });
  expect(ahead.outcomeOf(8, sum)?.value).toEqual(Float64Array.of(7, 8));
  expect(ahead.outcomeOf(8, { ...sum })).toBeNull();
  expect(ahead.outcomeOf(9, waits)?.stop?.reason).toBe("waiting");
  held.set(3, { is: "faulty" });
  expect(ahead.outcomeOf(9, waits)).toBeNull();
  held.set(2, { is: "value", value: 4 });
  expect(ahead.outcomeOf(8, sum)).toBeNull();
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
