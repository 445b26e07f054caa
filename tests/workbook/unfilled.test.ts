import { expect, test } from "vitest";
import { preview as previewOf } from "../../engine/assist/preview.ts";
import { createSession, type Session } from "../../engine/session.ts";
import { standingOf } from "../laws/standing.ts";

const BOOK = `gylebook 1
function latest(of) = last(of)
function rise(of) = latest(of) - first(of)
sheet s
table log "Daily readings"
  column taken : instant
  column gravity : °P
  column temp : °C
  column remark : text
  column gone = first(gravity) - gravity
  column more = gone + 1 Δ°P
  column same = 5 kg
  rows
  end
table dips
  column depth : cm
  column volume : L
  rows
  end
now = last(log.gravity)
later = now + 1 Δ°P
warmer = if later > 12 °P then 1 else 2
words = last(log.remark)
worked = last(log.more)
constant = last(log.same)
own = rise(log.temp)
kept = log.temp where taken > 2026-03-01
of_kept = mean(kept)
due = time_to_gravity(taken: log.taken, gravity: log.gravity, target: 3 °P, limit: 2.5 °P)
still = gravity_steady(taken: log.taken, gravity: log.gravity)
stick = interpolate(dips.depth, dips.volume, 5 cm)
both = number(last(log.temp) - 0 °C as Δ°C) + number(last(dips.volume * 2) as L)
count = count(log.gravity)
total = sum(dips.volume)
`;

const add = (session: Session, ...rows: string[][]): void => {
  expect(session.dispatch({ edit: "add-rows", table: "s.log", at: null, rows }).ok).toBe(true);
};

/** What each line comes to: its state, and what it waits for. */
const standing = (session: Session): Record<string, string> =>
  Object.fromEntries(
    session.workbook.sheets.flatMap(({ pages }) =>
      pages.flat().flatMap((item) => {
        if (item.is !== "cell") return [];
        const cell = session.cell(`s.${item.name}`);
        return [[item.name, cell?.state === "waiting" ? cell.waitingFor.join(" ") : (cell?.state ?? "")]];
      }),
    ),
  );

/** A book that was edited stands as one that is opened as it is now. */
const agrees = (session: Session): void =>
  expect(standingOf(session)).toEqual(standingOf(createSession(session.text())));

const EMPTY = {
  now: "s.log",
  later: "s.log",
  warmer: "s.log",
  words: "s.log",
  worked: "s.log",
  constant: "s.log",
  own: "s.log",
  kept: "ready",
  of_kept: "s.log",
  due: "s.log",
  still: "s.log",
  stick: "s.dips",
  both: "s.log s.dips",
  count: "ready",
  total: "ready",
};

test("whatever has no value because a table has no row yet waits for the table", () => {
  const session = createSession(BOOK);
  expect(standing(session)).toEqual(EMPTY);
  expect(session.table("s.log")?.columns.map(({ state }) => state)).toEqual([
    "ready",
    "ready",
    "ready",
    "ready",
    "waiting",
    "waiting",
    "ready",
  ]);
  expect(session.problems()).toEqual({ faults: [], blanks: ["s.log", "s.dips"], fileFaults: [] });
});

test("the first row makes it ready, entry by entry, and undoing it waits again", () => {
  const session = createSession(BOOK);
  add(session, ["2026-03-02T08:00", "", "", ""]);
  expect(standing(session)).toEqual({
    ...EMPTY,
    now: "s.log.gravity",
    later: "s.log.gravity",
    warmer: "s.log.gravity",
    words: "s.log.remark",
    worked: "s.log.gravity",
    constant: "ready",
    own: "s.log.temp",
    of_kept: "s.log.temp",
    due: "s.log.gravity",
    still: "s.log.gravity",
    both: "s.log.temp s.dips",
  });
  expect(session.problems().blanks).toEqual(["s.log", "s.dips"]);
  agrees(session);
  const set = (column: string, entry: string): void => {
    expect(session.dispatch({ edit: "set-entry", table: "s.log", row: 0, column, entry }).ok).toBe(true);
    agrees(session);
  };
  set("gravity", "12.1");
  expect(standing(session)).toMatchObject({ now: "ready", later: "ready", warmer: "ready", words: "s.log.remark" });
  set("temp", "18");
  expect(standing(session)).toMatchObject({ own: "ready", of_kept: "ready", both: "s.dips" });
  set("remark", "rocky head");
  expect(standing(session)).toMatchObject({ due: "s.log", still: "s.log" });
  expect(session.problems().faults).toEqual([]);
  expect(session.problems().blanks).toEqual(["s.dips"]);
  while (session.undo());
  expect(standing(session)).toEqual(EMPTY);
  agrees(session);
});

test("removing the only row, and a new gyle, wait again", () => {
  const session = createSession(BOOK);
  add(session, ["2026-03-02T08:00", "12.1", "18", "calm"]);
  expect(standing(session)).toMatchObject({ now: "ready", warmer: "ready" });
  expect(session.dispatch({ edit: "remove-rows", table: "s.log", at: 0, count: 1 }).ok).toBe(true);
  expect(standing(session)).toEqual(EMPTY);
  session.undo();
  session.dispatch({ edit: "empty-blanks" });
  expect(standing(session)).toEqual(EMPTY);
  agrees(session);
});

test("a log that no line waits for is still to be begun, any other table is not", () => {
  const session = createSession(
    "gylebook 1\nsheet s\ntable log\n  column taken : instant\n  rows\n  end\ntable list\n  column mass : kg\n  rows\n  end\ntotal = sum(list.mass)\n",
  );
  expect(session.problems().blanks).toEqual(["s.log"]);
});

test("a formula that is being typed waits as it would when it is kept", () => {
  const session = createSession(BOOK);
  const preview = (formula: string): readonly string[] =>
    previewOf(session.model, session.lens, { sheet: "s", cell: null }, formula).waitingFor;
  expect(preview("max(log.gravity) - later")).toEqual(["s.log"]);
  expect(preview("last(log.temp)")).toEqual(["s.log"]);
  add(session, ["2026-03-02T08:00", "12.1", "", ""]);
  expect(preview("last(log.temp)")).toEqual(["s.log.temp"]);
});

test("a column that was never used does not stand for entries that another has too few of", () => {
  const session = createSession(
    "gylebook 1\nsheet s\ntable log\n  column read : °P\n  column other : °P\n  rows\n    12,\n  end\nscatter = spread(first_known(log.read, log.other))\n",
  );
  expect(session.problems().faults.map(({ message }) => message)).toEqual(["A spread needs at least two entries."]);
});

const FEW = `gylebook 1
function begun(of) = first(of where row(of) > 1)
sheet s
table log "Daily readings"
  column taken : instant
  column gravity : °P
  column gone = first(gravity) - gravity
  column spare : °C
  rows
  end
table packages
  column weighed : instant
  column volume : mL
  rows
  end
table steps
  column temp : °C
  column reached = matching_nearest(log.spare, log.taken, temp)
  rows
    20
  end
gap = max(change(log.taken))
scatter = spread(log.gravity)
doubled = scatter + scatter
rate = slope(log.gravity, log.taken)
there = first(log.taken where gravity <= 3 °P)
next_one = begun(log.gone)
due = time_to_gravity(taken: log.taken, gravity: log.gravity, target: 3 °P, limit: 2.5 °P)
verdict = fill_verdict(packages.volume, 500 mL)
cleaned = matching(log.gravity, log.taken, 3 °P)
kept = log.gravity where gravity < 4 °P
low = last(kept)
either = first_known(there, 2026-04-01)
told = if there is missing then "not yet" else "there"
done = last(steps.reached)
flow = 1 kg / count(log.gravity)
root = (count(log.gravity) - 2) ^ 0.5
`;

/** What waits for a log that has begun, and what for. */
const lacking = (session: Session): Record<string, string> => {
  const found: Record<string, string> = {};
  for (const item of session.workbook.sheets[0]?.pages.flat() ?? []) {
    const cell = item.is === "cell" ? session.cell(`s.${item.name}`) : null;
    if (cell !== null && cell.tooFew !== null)
      found[cell.name.slice(2)] = `${cell.state} ${cell.waitingFor.join(" ")}: ${cell.tooFew}`;
  }
  return found;
};

test("what a log that has begun has too few entries for waits for it, and is told why", () => {
  const session = createSession(FEW);
  expect(lacking(session)).toEqual({});
  expect(session.problems()).toMatchObject({ blanks: ["s.log", "s.packages"] });
  add(session, ["2026-03-02T08:00", "12.1", ""]);
  session.dispatch({ edit: "add-rows", table: "s.packages", at: null, rows: [["2026-03-09T10:00", "501"]] });
  expect(lacking(session)).toEqual({
    gap: "waiting s.log: There is no entry to take the largest of.",
    scatter: "waiting s.log: A spread needs at least two entries.",
    doubled: "waiting s.log: A spread needs at least two entries.",
    rate: "waiting s.log: A slope needs at least two different places on the line it is drawn against.",
    there: "waiting s.log: There is no entry to take.",
    next_one: "waiting s.log: There is no entry to take.",
    due: "waiting s.log: At least three readings above the limit are needed for a fit.",
    verdict: "waiting s.packages: A verdict needs at least 20 packages; 1 is weighed.",
    cleaned: "waiting s.log: No row has exactly this key.",
    low: "waiting s.log: There is no entry to take.",
  });
  expect(session.cell("s.either")?.shown).toBe("2026-04-01");
  expect(session.cell("s.told")?.shown).toBe("not yet");
  // A log that has begun is not to be filled; a column of it without an entry that a line waits for is.
  expect(session.cell("s.done")?.waitingFor).toEqual(["s.log.spare"]);
  expect(session.problems().blanks).toEqual(["s.log"]);
  agrees(session);
});

test("rows that come and go, and what is undone, make it ready and let it wait again", () => {
  const session = createSession(FEW);
  add(session, ["2026-03-02T08:00", "12.1", "20"]);
  const one = lacking(session);
  add(session, ["2026-03-03T08:00", "8", "20"]);
  agrees(session);
  expect(Object.keys(lacking(session))).toEqual(["there", "due", "cleaned", "low"]);
  add(session, ["2026-03-04T08:00", "3", "20"]);
  agrees(session);
  expect(lacking(session)).toEqual({});
  expect(session.cell("s.told")?.shown).toBe("there");
  session.undo();
  agrees(session);
  expect(Object.keys(lacking(session))).toEqual(["there", "due", "cleaned", "low"]);
  session.dispatch({ edit: "remove-rows", table: "s.log", at: 1, count: 1 });
  agrees(session);
  expect(lacking(session)).toEqual(one);
  session.dispatch({ edit: "empty-blanks" });
  expect(lacking(session)).toEqual({});
  agrees(session);
});

test("any other want of a value stays a fault, in a log too, and so does a want of entries elsewhere", () => {
  const session = createSession(FEW.replaceAll(": instant", ": number"));
  add(session, ["1", "12.1", "20"]);
  expect(lacking(session)).toEqual({});
  expect(session.problems().faults.map(({ name }) => name)).toContain("s.scatter");
  const log = createSession(FEW);
  add(log, ["2026-03-02T08:00", "12.1", "20"]);
  expect(log.problems().faults.map(({ name, fault }) => `${name} ${fault.code}`)).toEqual(["s.root no-value"]);
  log.dispatch({ edit: "set-entry", table: "s.log", row: 0, column: "gravity", entry: "" });
  expect(log.problems().faults.map(({ name, message }) => `${name}: ${message}`)).toEqual([
    "s.flow: This divides by zero.",
    "s.root: The root of a negative figure has no value.",
  ]);
});

test("a formula that is being typed waits for a log that has too few entries as it would when it is kept", () => {
  const session = createSession(FEW);
  add(session, ["2026-03-02T08:00", "12.1", "20"]);
  const preview = (formula: string): readonly (string | null)[] => {
    const seen = previewOf(session.model, session.lens, { sheet: "s", cell: null }, formula);
    return [seen.state, ...seen.waitingFor, seen.tooFew];
  };
  expect(preview("max(log.gone where gone > 1 Δ°P)")).toEqual([
    "waiting",
    "s.log",
    "There is no entry to take the largest of.",
  ]);
  expect(preview("doubled + 1 Δ°P")).toEqual(["waiting", "s.log", "A spread needs at least two entries."]);
});
