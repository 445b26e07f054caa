import { computed, signal } from "alien-signals";
import { enablePatches, Immer } from "immer";
import { createSession } from "../../engine/session.ts";
import { PAGE_LENGTH } from "../../engine/workbook/document.ts";
import { bookOf, counted, linesInFives, modelOf, nodeOf, numbersFrom, readLines } from "./books.ts";
import type { Workload } from "./race.ts";

/*
 * Random edits: through the engine's recalculation alone, and as edits of a document with history.
 */

const INPUTS = 500;
const LAYERS = 30;
const WIDTH = 50;
/** Of each formula: two inputs, and so many neighbours on the layer before that the mean fan-out of all 2,000 lines is 5. */
const NEIGHBOURS = [-2, -1, 0, 1, 2];
const EDITS = 1_000;

interface Formula {
  readonly needs: readonly number[];
  readonly factor: number;
}

/** Inputs first, then layer upon layer. */
function formulas(): readonly Formula[] {
  const random = numbersFrom(2026);
  return counted(LAYERS * WIDTH).map((at): Formula => {
    const [layer, place] = [Math.floor(at / WIDTH), at % WIDTH];
    const inputs = [0, 1].map(() => Math.floor(random() * INPUTS));
    const before =
      layer === 0
        ? []
        : NEIGHBOURS.filter(() => random() < 0.97).map(
            (by) => INPUTS + (layer - 1) * WIDTH + ((place + by + WIDTH) % WIDTH),
          );
    const needs = [...new Set([...inputs, ...before])];
    return { needs, factor: 0.9 / needs.length };
  });
}

export function randomEdits(): Workload {
  const all = formulas();
  const random = numbersFrom(7);
  const edited = counted(EDITS).map(() => Math.floor(random() * INPUTS));
  const first = counted(INPUTS).map((at) => 1 + (at % 10) / 10);
  const figureOf = (turn: number): number => 1 + (turn % 1_009) / 1_009;
  const names = counted(INPUTS + all.length).map((at) => `x${at}`);
  const inputOf = (turn: number): number => edited[turn % EDITS] as number;

  const model = modelOf(
    bookOf([
      ...first.map((figure, at) => `x${at} = ${figure}`),
      ...all.map(
        ({ needs, factor }, at) => `x${INPUTS + at} = (${needs.map((need) => `x${need}`).join(" + ")}) * ${factor}`,
      ),
    ]),
  );
  const nodes = names.map((name) => nodeOf(model, name));

  const values = new Float64Array(INPUTS + all.length);
  values.set(first);
  const closures = all.map(({ needs, factor }, at) => {
    const own = INPUTS + at;
    return () => {
      let sum = values[needs[0] as number] as number;
      for (let which = 1; which < needs.length; which += 1) sum += values[needs[which] as number] as number;
      values[own] = sum * factor;
    };
  });
  for (const closure of closures) closure();
  const plans = counted(INPUTS).map((input) => {
    const reached = new Set([input]);
    const plan: (() => void)[] = [];
    for (const [at, { needs }] of all.entries()) {
      if (!needs.some((need) => reached.has(need))) continue;
      reached.add(INPUTS + at);
      plan.push(closures[at] as () => void);
    }
    return { plan, reached: [...reached] };
  });

  const inputs = first.map((figure) => signal(figure));
  const cells: (() => number)[] = [...inputs];
  for (const { needs, factor } of all) {
    const from = needs.map((need) => cells[need] as () => number);
    cells.push(
      computed(() => {
        let sum = 0;
        for (const one of from) sum += one();
        return sum * factor;
      }),
    );
  }
  return {
    title: "random edits in 2,000 lines, fan-out 5, depth 30: recalculation",
    contenders: [
      {
        name: "closures",
        run: (turn) => {
          values[inputOf(turn)] = figureOf(turn);
          for (const work of (plans[inputOf(turn)] as (typeof plans)[number]).plan) work();
        },
        read: () => values,
      },
      {
        name: "engine",
        run: (turn) => model.tryFigure(nodes[inputOf(turn)] as number, figureOf(turn)),
        read: () => readLines(model, names),
      },
      {
        name: "alien-signals",
        run: (turn) => {
          inputs[inputOf(turn)]?.(figureOf(turn));
          for (const at of (plans[inputOf(turn)] as (typeof plans)[number]).reached) cells[at]?.();
        },
        read: () => cells.map((cell) => cell()),
      },
    ],
    limits: [
      { of: "engine", over: "closures", most: 2 },
      { of: "engine", over: "closures", most: 2, at: "p99" },
    ],
    time: 200,
  };
}

const LINES = 100_000;

export function editsWithHistory(): Workload {
  enablePatches();
  const session = createSession(bookOf(linesInFives(LINES)));
  const random = numbersFrom(11);
  const edited = counted(EDITS).map(() => Math.floor(random() * (LINES / 5)) * 5);
  const atOf = (turn: number): number => edited[turn % EDITS] as number;
  const figureOf = (turn: number): number => 1 + (turn % 1_009) / 8;

  const lines = linesInFives(LINES);
  const pages = counted(Math.ceil(LINES / PAGE_LENGTH)).map((page) =>
    lines
      .slice(page * PAGE_LENGTH, (page + 1) * PAGE_LENGTH)
      .map((source, at) => ({ is: "cell", name: `c${page * PAGE_LENGTH + at}`, label: null, source })),
  );
  const immer = (name: string, autoFreeze: boolean) => {
    const { produceWithPatches } = new Immer({ autoFreeze });
    // Each freezes what it is given: items are not shared with the other.
    let immutable = structuredClone({ sheets: [{ name: "s", pages }] });
    const history: unknown[] = [];
    return {
      name,
      run: (turn: number) => {
        const at = atOf(turn);
        const [next, ...patches] = produceWithPatches(immutable, (draft) => {
          const item = draft.sheets[0]?.pages[Math.floor(at / PAGE_LENGTH)]?.[at % PAGE_LENGTH];
          if (item !== undefined) item.source = `c${at} = ${figureOf(turn)} kg\n`;
        });
        immutable = next;
        history.push(patches);
        if (history.length > EDITS) history.length = 0;
      },
    };
  };
  // By default it freezes, which takes most of its time. A Session's document is read-only by its types: it is set beside the faster.
  const alone = immer("Immer alone, with patches", false);
  return {
    title: "an edit of 100,000 lines, with history: Session.dispatch",
    contenders: [
      alone,
      immer("the same, freezing what it makes", true),
      {
        name: "Session.dispatch",
        run: (turn) => {
          session.dispatch({ edit: "set-formula", cell: `lines.c${atOf(turn)}`, formula: `${figureOf(turn)} kg` });
        },
      },
    ],
    limits: [{ of: "Session.dispatch", over: alone.name, most: 3 }],
    time: 200,
  };
}

/** One formula's text is changed; it reaches the same few lines in a small book and in a large one. */
export function textChange(): Workload {
  const contender = (count: number) => {
    const session = createSession(bookOf(linesInFives(count)));
    const random = numbersFrom(13);
    const edited = counted(EDITS).map(() => Math.floor(random() * (count / 5)) * 5 + 1);
    return {
      name: `${count.toLocaleString("en")} lines`,
      run: (turn: number) => {
        const at = edited[turn % EDITS] as number;
        const outcome = session.dispatch({
          edit: "set-formula",
          cell: `lines.c${at}`,
          formula: `c${at - 1} * ${1 + (turn % 7) / 4} + ${turn % 11} kg`,
        });
        if (!outcome.ok) throw new Error(outcome.says);
      },
    };
  };
  const [small, large] = [contender(2_000), contender(LINES)];
  return {
    title: "one formula's text changed",
    contenders: [small, large],
    limits: [{ of: large.name, over: small.name, most: 2 }],
    time: 200,
  };
}
