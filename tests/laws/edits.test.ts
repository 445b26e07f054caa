import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Session } from "../../engine/session.ts";
import type { Lens } from "../../engine/units/lens.ts";
import { language } from "../support/language.ts";
import { START } from "./books.ts";
import { anyEdit } from "./edits.ts";
import { standingOf } from "./standing.ts";

const open = (text: string, lens: Lens = "as-written"): Session => new Session(text, lens, language);
const SEED = 214;
const RUNS = Number(process.env.GYLEBOOK_LAW_RUNS ?? 80);
const edits = fc.array(anyEdit, { minLength: 1, maxLength: 12 });
const settings = { seed: SEED, numRuns: RUNS };

describe("after any edits", () => {
  test("what stands is what the file's text gives when it is opened afresh", () => {
    fc.assert(
      fc.property(edits, (list) => {
        const session = open(START);
        for (const edit of list) {
          session.dispatch(edit);
          standingOf(session);
        }
        expect(standingOf(session)).toEqual(standingOf(open(session.text(), session.lens)));
      }),
      settings,
    );
  }, 120_000);

  test("undoing them all restores the text and what stands, redoing them restores the end", () => {
    fc.assert(
      fc.property(edits, (list) => {
        const session = open(START);
        const before = standingOf(session);
        for (const edit of list) session.dispatch(edit);
        const [text, after] = [session.text(), standingOf(session)];
        while (session.undo());
        expect(session.text()).toBe(START);
        expect(standingOf(session)).toEqual(before);
        while (session.redo());
        expect(session.text()).toBe(text);
        expect(standingOf(session)).toEqual(after);
      }),
      settings,
    );
  }, 120_000);

  test("an edit that is refused changes nothing and says why", () => {
    fc.assert(
      fc.property(edits, (list) => {
        const session = open(START);
        for (const edit of list) {
          const before = session.text();
          const outcome = session.dispatch(edit);
          if (outcome.ok) continue;
          expect(outcome.says).toMatch(/\.$|\?$/);
          expect(session.text()).toBe(before);
        }
      }),
      settings,
    );
  }, 120_000);

  test("several edits in one step are all made or none", () => {
    fc.assert(
      fc.property(edits, (list) => {
        const [together, apart] = [open(START), open(START)];
        const all = together.dispatch(list);
        const each = list.map((edit) => apart.dispatch(edit));
        if (all.ok) {
          expect(each.every((outcome) => outcome.ok)).toBe(true);
          expect(together.text()).toBe(apart.text());
        } else expect(together.text()).toBe(START);
        expect(standingOf(together)).toEqual(standingOf(open(together.text(), together.lens)));
      }),
      settings,
    );
  }, 120_000);
});
