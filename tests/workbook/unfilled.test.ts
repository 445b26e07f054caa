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
  // What one reading cannot tell is a fault of the figures and no lack of entries.
  expect(session.problems().faults.map(({ name, message }) => `${name}: ${message}`)).toEqual([
    "s.due: At least three readings above the limit are needed for a fit.",
    "s.still: The readings do not reach back far enough: take more, or judge over a shorter time.",
  ]);
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
