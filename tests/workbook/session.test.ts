import { describe, expect, test } from "vitest";
import { createSession, type Session, type SessionChange } from "../../engine/session.ts";
import type { Edit } from "../../engine/workbook/edit.ts";

const BOOK = `gylebook 1
library 1
title "Mild"
lens metric
sheet mash
grain = 100 kg
water = grain * 2.7 L/kg
table log
  column at : min
  column temp : °C
  column rise = change(temp)
  rows
    0, 66
    30, 65
  end
sheet boil
into = mash.water * 0.9
hot = last(mash.log.temp)
`;

const set = (cell: string, formula: string): Edit => ({ edit: "set-formula", cell, formula });

/** What a listener is told of while something is done. */
function toldOf(session: Session, work: () => void): SessionChange[] {
  const told: SessionChange[] = [];
  const end = session.subscribe((change) => told.push(change));
  work();
  end();
  return told;
}

describe("who listens", () => {
  test("is told which lines an edit, its undoing and its redoing reach", () => {
    const session = createSession(BOOK);
    const reached = { workbook: true, results: new Set(["mash.grain", "mash.water", "boil.into"]) };
    expect(toldOf(session, () => session.dispatch(set("mash.grain", "90 kg")))).toEqual([reached]);
    expect(toldOf(session, () => session.undo())).toEqual([reached]);
    expect(toldOf(session, () => session.redo())).toEqual([reached]);
  });

  test("is told that all changed when another book is opened or another lens chosen", () => {
    const session = createSession(BOOK);
    expect(toldOf(session, () => session.setLens("US"))).toEqual([{ workbook: false, results: "all" }]);
    expect(toldOf(session, () => session.replace("gylebook 1\nsheet a\n"))).toEqual([
      { workbook: true, results: "all" },
    ]);
  });

  test("hears nothing of a refused edit, of the lens that is there, of undoing nothing, or once it has ended", () => {
    const session = createSession(BOOK);
    const told = toldOf(session, () => {
      expect(session.dispatch(set("mash.nothing", "1")).ok).toBe(false);
      expect(session.replace("gylebook 99\n").ok).toBe(false);
      session.setLens("metric");
      expect([session.undo(), session.redo()]).toEqual([false, false]);
    });
    session.dispatch(set("mash.grain", "90 kg"));
    expect(told).toEqual([]);
  });

  test("may edit, and is told of its own edit after", () => {
    const session = createSession(BOOK);
    const seen: string[] = [];
    session.subscribe(() => {
      seen.push(session.cell("mash.grain")?.shown ?? "");
      if (seen.length === 1) expect(session.dispatch(set("mash.grain", "80 kg")).ok).toBe(true);
    });
    session.dispatch(set("mash.grain", "90 kg"));
    expect(seen).toEqual(["90 kg", "80 kg"]);
    session.undo();
    expect(session.cell("mash.grain")?.shown).toBe("90 kg");
  });
});

describe("the name of a step", () => {
  test("is told for undoing and redoing, and what was undone is given up by a new step", () => {
    const session = createSession(BOOK);
    expect([session.canUndo, session.canRedo, session.undoLabel, session.redoLabel]).toEqual([
      false,
      false,
      null,
      null,
    ]);
    session.dispatch(set("mash.grain", "90 kg"), "Set malt");
    session.dispatch([set("mash.grain", "80 kg"), set("boil.into", "5 L")], "Two lines");
    expect([session.undoLabel, session.redoLabel]).toEqual(["Two lines", null]);
    session.undo();
    expect([session.canUndo, session.canRedo, session.undoLabel, session.redoLabel]).toEqual([
      true,
      true,
      "Set malt",
      "Two lines",
    ]);
    session.dispatch(set("mash.grain", "70 kg"));
    expect([session.canRedo, session.redoLabel, session.undoLabel]).toEqual([false, null, "Edit"]);
  });

  test("opening another text is a step like any other, and takes back to the book that was open", () => {
    const session = createSession(BOOK);
    session.dispatch(set("mash.grain", "90 kg"));
    const text = session.text();
    expect(session.replace("gylebook 1\nsheet a\nx1 = 3\n", "Open other.gyle").ok).toBe(true);
    expect([session.undoLabel, session.cell("a.x1")?.shown, session.cell("mash.grain")]).toEqual([
      "Open other.gyle",
      "3",
      null,
    ]);
    session.undo();
    expect([session.text(), session.cell("boil.into")?.shown]).toEqual([text, "218.7 L"]);
    session.undo();
    expect(session.text()).toBe(BOOK);
  });
});

describe("an edit", () => {
  test("tells the lines whose kind is another than before, in words", () => {
    const session = createSession(BOOK);
    expect(session.dispatch(set("mash.water", "grain * 2.7"))).toMatchObject({
      ok: true,
      kindChanges: [
        { name: "mash.water", before: "volume", after: "mass" },
        { name: "boil.into", before: "volume", after: "mass" },
      ],
    });
    // A line that becomes faulty is told by its fault.
    expect(session.dispatch(set("mash.water", "grain + 1 L"))).toMatchObject({ ok: true, kindChanges: [] });
  });

  test("that reaches a thousand lines and more names none of them", () => {
    const many = Array.from({ length: 1_100 }, (_, at) => `x${at + 1}a = start * ${at}\n`).join("");
    const session = createSession(`gylebook 1\nsheet a\nstart = 1 kg\n${many}`);
    const told = toldOf(session, () => session.dispatch(set("a.start", "2 kg")));
    expect(told).toEqual([{ workbook: true, results: "all" }]);
    expect(session.cell("a.x1100a")?.shown).toBe("2198 kg");
  });

  test("of several of which one is refused leaves book, results and steps as they were", () => {
    const session = createSession(BOOK);
    const outcome = session.dispatch([
      set("mash.grain", "90 kg"),
      { edit: "set-entry", table: "mash.log", row: 1, column: "temp", entry: "60" },
      set("mash.nothing", "1"),
    ]);
    expect(outcome).toMatchObject({ ok: false });
    expect([session.text(), session.canUndo]).toEqual([BOOK, false]);
    expect([session.cell("boil.into")?.shown, session.cell("boil.hot")?.shown]).toEqual(["243 L", "65 °C"]);
  });
});

describe("a lens", () => {
  test("is the one that the file names, until the reader chooses; neither changes the file", () => {
    const session = createSession(BOOK);
    expect(session.lens).toBe("metric");
    session.setLens("US");
    expect([session.lens, session.cell("boil.hot")?.shown, session.text()]).toEqual(["US", "149.0 °F", BOOK]);
    expect(createSession(BOOK, { lens: "imperial" }).lens).toBe("imperial");
    expect(createSession("gylebook 1\nsheet a\n").lens).toBe("as-written");
  });

  test("shows what waits in the unit that its figure will have, as it shows what is ready", () => {
    const waits = "gylebook 1\nsheet a\nrest = ? °C\nhot = rest + 2 Δ°C\nwater = ? L\nratio = water / 100 kg as L/kg\n";
    const names = ["a.rest", "a.hot", "a.water", "a.ratio"];
    const session = createSession(waits);
    const units = (): (string | undefined)[] => names.map((name) => session.cell(name)?.unitText);
    expect(units()).toEqual(["°C", "°C", "L", "L/kg"]);
    session.setLens("US");
    const before = units();
    expect(session.cell("a.hot")?.state).toBe("waiting");
    session.dispatch([set("a.rest", "? 66 °C"), set("a.water", "? 100 L")]);
    expect(session.cell("a.hot")?.state).toBe("ready");
    expect(units()).toEqual(before);
    expect(before[1]).toBe("°F");
    expect(before[3]).not.toBe("L/kg");
  });

  test("shows a worked column that waits in its own unit too", () => {
    const table = "table vats\n  column volume : L\n  column total = volume + extra\n  rows\n    20\n  end\n";
    const session = createSession(`gylebook 1\nsheet a\nextra = ? L\n${table}`, { lens: "US" });
    const unit = (): string | undefined => session.table("a.vats")?.columns[1]?.unitText;
    expect([session.table("a.vats")?.columns[1]?.state, unit()]).toEqual(["waiting", "US gal"]);
    session.dispatch(set("a.extra", "? 10 L"));
    expect([session.table("a.vats")?.columns[1]?.state, unit()]).toEqual(["ready", "US gal"]);
  });
});

test("what uses a line directly is told by full name, in the order of the file", () => {
  const session = createSession(BOOK);
  expect(session.dependants("mash.grain")).toEqual(["mash.water"]);
  expect(session.dependants("MASH.water")).toEqual(["boil.into"]);
  expect(session.dependants("mash.log.temp")).toEqual(["mash.log.rise", "boil.hot"]);
  expect(session.dependants("mash.nothing")).toEqual([]);
});

test("problems are the faults of lines and columns, the blanks that are not filled, and what the file says amiss", () => {
  const session = createSession(`gylebook 1
sheet a
x1 = 1 kg + 1 L
x2 = x1 * 2
taken = ? °C
filled = ? 3 °C
what is this
table weighed
  column mass : kg
  column worked = mass + 1 L
  rows
    3 L
  end
`);
  const { faults, blanks, fileFaults } = session.problems();
  expect(faults.map(({ name, fault }) => `${name} ${fault.code}`)).toEqual([
    "a.x1 unlike-units",
    "a.weighed.mass unlike-units",
    "a.weighed.worked unlike-units",
  ]);
  expect(faults[0]?.message).toMatch(/^Mass \(kg\) and volume \(L\) cannot be added/);
  expect(blanks).toEqual(["a.taken"]);
  expect(fileFaults.map(({ line, column, code }) => `${line}:${column} ${code}`)).toEqual(["7:1 syntax"]);
});

describe("an edit that is rehearsed", () => {
  test("tells the faults it would bring, and leaves text, results and history as they are", () => {
    const session = createSession(BOOK);
    const [text, into] = [session.text(), session.cell("boil.into")];
    let told = 0;
    session.subscribe(() => {
      told += 1;
    });
    const found = (edit: Edit): string[] => session.rehearse(edit).map(({ name, message }) => `${name}: ${message}`);
    const add = (columns: string): Edit => ({
      edit: "add-text",
      sheet: "mash",
      at: null,
      text: `table stick\n${columns}\n  rows\n  end`,
    });
    expect(found(add("  column dip : inch"))).toEqual([]);
    expect(found(add("  column dip : inch\n  column filled : barrels"))).toEqual([
      'mash.stick.filled: "barrels" is 117.3 L in the US and 163.7 L in the UK. Write US bbl or UK bbl.',
    ]);
    expect(found({ edit: "set-formula", cell: "mash.grain", formula: "100 L" })).toEqual([]);
    expect(found({ edit: "add-cell", sheet: "mash", at: null, name: "grain", label: null, formula: "1 kg" })).toEqual([
      ': "grain" is already a name here.',
    ]);
    expect([session.text(), session.canUndo, session.canRedo, told]).toEqual([text, false, false, 0]);
    expect(session.cell("boil.into")?.shown).toBe(into?.shown);
  });
});

test("the cautions of the brewing functions that a formula names are known, even where it cannot be read", () => {
  const session = createSession("gylebook 1\nlibrary 1\nfunction twice(temp) = temp * 2\nsheet s\nline = 1\n");
  const says = (formula: string) => session.cautionsNamed(formula).map(({ code }) => code);
  expect(says("Heat_to_warm(gone, priming_sugar(")).toEqual(["safety", "safety"]);
  // A text or a note names nothing, and neither the book's own functions nor sums are dangerous.
  expect(says('"priming_sugar(1)" # priming_sugar(1)')).toEqual([]);
  expect(says("twice(1) + sum(2)")).toEqual([]);
});
