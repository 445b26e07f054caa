import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { invariant } from "../../engine/base/invariant.ts";
import { evaluate } from "../../engine/evaluator/evaluate.ts";
import { faultOf } from "../../engine/evaluator/stop.ts";
import { Session } from "../../engine/session.ts";
import { FAULTY, READY, WAITING } from "../../engine/workbook/store.ts";
import { language } from "../support/language.ts";
import { FIGURES, formula } from "./formulas.ts";

const settings = { seed: 214, numRuns: Number(process.env.GYLEBOOK_LAW_RUNS ?? 1000) };
/** Faults that only a run can tell; every other is told before anything is calculated. */
const OF_A_RUN = ["no-value", "wrong-argument", "not-a-choice"];

/** A line `it` among the figures, set to one formula after another. */
function bench(): { session: Session; put: (text: string) => number } {
  const session = new Session(`${FIGURES}it = 1\nuser = it\n`, null, language);
  return {
    session,
    put(text) {
      const outcome = session.dispatch({ edit: "set-formula", cell: "here.it", formula: text });
      invariant(outcome.ok, `${text} can be written`);
      const node = session.model.names.node("here.it");
      invariant(node !== undefined, "the line is there");
      return node;
    },
  };
}

describe("formulas made at random", () => {
  const { session, put } = bench();

  test("that pass checking have no fault of kinds when they run", () => {
    let passed = 0;
    fc.assert(
      fc.property(formula, (text) => {
        const node = put(text);
        const { model } = session;
        if (model.presentations.get(node)?.faults.length !== undefined || model.typeOf(node).kind.is === "unknown")
          return;
        passed += 1;
        const code = faultOf(model.stops.get(node))?.code;
        if (code !== undefined) expect(OF_A_RUN).toContain(code);
      }),
      settings,
    );
    expect(passed).toBeGreaterThan(settings.numRuns / 20);
  }, 120_000);

  test("give on the tape what a walk over the tree gives", () => {
    let taped = 0;
    fc.assert(
      fc.property(formula, (text) => {
        const node = put(text);
        const { model } = session;
        const { store } = model;
        const checked = model.checkedOf(node);
        if (checked?.root == null || checked.faults.length > 0) return;
        if (store.starts[node] !== store.ends[node]) taped += 1;
        const { value, stop } = evaluate(checked.root, {
          read: (at) =>
            store.state(at) === READY
              ? { is: "value", value: store.value(at) }
              : { is: store.state(at) === WAITING ? "waiting" : "faulty" },
          unfilled: store.unfilled,
          logs: store.logs,
        });
        const state = stop === null ? READY : stop.reason === "waiting" ? WAITING : FAULTY;
        expect({ text, state: store.state(node) }).toEqual({ text, state });
        if (stop === null) expect({ text, value: store.value(node) }).toEqual({ text, value });
      }),
      settings,
    );
    expect(taped).toBeGreaterThan(settings.numRuns / 40);
  }, 120_000);

  test("recompile nothing where a change of a figure leaves kinds alone", () => {
    const own = bench();
    for (const text of ["m1 * 2", "if c1 then m1 else w1", "first_known(w1, m1) + m2", "(m1 + m2) / v1 as kg/hL"]) {
      own.put(text);
      const before = { ...own.session.model.counts };
      const outcome = own.session.dispatch({ edit: "set-formula", cell: "here.m1", formula: "4 kg" });
      expect(outcome.ok && outcome.changed).toEqual(expect.arrayContaining(["here.it", "here.user"]));
      const { parsed, checked } = own.session.model.counts;
      // The edited line itself is read and checked; nothing that uses it is.
      expect({ text, checked: checked - before.checked }).toEqual({ text, checked: 1 });
      expect({ text, parsed: parsed - before.parsed }).toEqual({ text, parsed: 1 });
      own.session.undo();
    }
  });
});
