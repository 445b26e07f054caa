import { expect, test } from "vitest";
import { createSession } from "../../engine/session.ts";
import type { Edit } from "../../engine/workbook/edit.ts";
import { standingOf } from "../laws/standing.ts";

const BOOK = `gylebook 1
library 1
unit firkin_full = 72 pt

sheet mash "Mash"
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

sheet boil "Boil"
into = mash.water * 0.9
late = into * 2
`;

const set = (cell: string, formula: string): Edit => ({ edit: "set-formula", cell, formula });

/** What a step does to the book, and how much of the book it changes. */
const STEPS: readonly (readonly [string, readonly Edit[]])[] = [
  ["one line", [set("mash.grain", "120 kg")]],
  ["one line, of another kind", [set("mash.grain", "3 hours")]],
  ["one entry of a table", [{ edit: "set-entry", table: "mash.log", row: 1, column: "temp", entry: "64" }]],
  ["two lines of one page", [set("mash.grain", "90 kg"), set("mash.water", "grain * 3 L/kg")]],
  ["two lines of two sheets", [set("mash.grain", "80 kg"), set("boil.late", "into * 3")]],
  ["one line twice", [set("mash.grain", "70 kg"), set("mash.grain", "60 kg")]],
  ["one line, and back", [set("mash.grain", "70 kg"), set("mash.grain", "100 kg")]],
  ["nothing, then one line", [set("mash.grain", "100 kg"), set("mash.water", "5 L")]],
  ["the head", [{ edit: "set-head", text: "unit firkin_full = 9 gal_UK" }]],
  ["a name that other lines use", [{ edit: "rename", of: "mash.grain", name: "malt" }]],
  ["a line that goes", [{ edit: "remove-item", sheet: "mash", at: 0 }]],
];

test.each(STEPS)("a step of %s leaves what its text says, and goes back and forth whole", (_, edits) => {
  const session = createSession(BOOK);
  const before = standingOf(session);
  expect(session.dispatch(edits).ok).toBe(true);
  const [text, after] = [session.text(), standingOf(session)];
  expect(after).toEqual(standingOf(createSession(text)));
  for (let round = 0; round < 2; round += 1) {
    expect(session.undo()).toBe(true);
    expect(session.text()).toBe(BOOK);
    expect(standingOf(session)).toEqual(before);
    expect(session.redo()).toBe(true);
    expect(session.text()).toBe(text);
    expect(standingOf(session)).toEqual(after);
  }
});

test("steps of all sizes go back to the first version one by one", () => {
  const session = createSession(BOOK);
  const texts = [session.text()];
  for (const [label, edits] of STEPS.slice(0, -1)) {
    if (!session.dispatch(edits, label).ok || session.text() === texts.at(-1)) continue;
    expect(session.undoLabel).toBe(label);
    texts.push(session.text());
  }
  expect(texts.length).toBe(STEPS.length);
  for (const text of texts.slice(0, -1).reverse()) {
    session.undo();
    expect(session.text()).toBe(text);
    expect(standingOf(session)).toEqual(standingOf(createSession(text)));
  }
});
