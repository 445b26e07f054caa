import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { preview } from "../../engine/assist/preview.ts";
import { wordCaution } from "../../engine/diagnostics/wording.ts";
import type { Lens } from "../../engine/units/lens.ts";
import { writeWorkbook } from "../../engine/workbook/open.ts";
import { BREW_DAY, modelOf } from "./book.ts";

const model = modelOf(BREW_DAY);
const MASH = { sheet: "mash", cell: "mash.mash_ratio" };

/** State, kind, and what is shown, waited for or wrong. */
function told(formula: string, context: Parameters<typeof preview>[2] = MASH, lens: Lens = "as-written"): string {
  const { state, kindName, shown, waitingFor, because, faults, cautions } = preview(model, lens, context, formula);
  const says = [
    shown,
    ...waitingFor,
    because ?? "",
    ...faults.map(({ message }) => message),
    ...cautions.map(wordCaution),
  ];
  return [state, kindName, ...says.filter((one) => one !== "")].join(" | ");
}

describe("a formula while it is typed", () => {
  test.for<[formula: string, told: string]>([
    ["strike_water / grain as L/kg", "ready | volume per mass | 3.01 L/kg"],
    ["strike_water * 2", "ready | volume | 1280 L"],
    ["66.5 °C within 65 to 68 °C # note", "ready | temperature | 66.5 °C"],
    ["64 °C within 65 to 68 °C", "ready | temperature | 64 °C | 64 °C is outside 65 °C to 68 °C."],
    ['"kettle"', "ready | text | kettle"],
    ["grain > 200 kg", "ready | truth | yes"],
    ["mean(cellar.readings.temp) by 0.1", "ready | temperature | 18.2 °C"],
    ["? °C", "waiting | temperature"],
    ["? 66 °C", "ready | temperature | 66 °C"],
    ["rest_measured + 1 Δ°C", "waiting | temperature | mash.rest_measured"],
    ["if rest_miss > 1 Δ°C then grain else 2 * grain", "waiting | mass | mash.rest_measured"],
    ["wrong * 2", "faulty | unknown | mash.wrong"],
    ["after_wrong", "faulty | unknown | mash.wrong"],
    ["mash_ratio * 2", "faulty | volume per mass | mash.mash_ratio needs itself."],
    ["1 / 0", "faulty | number | This divides by zero."],
    ["", "faulty | unknown | A formula is missing here."],
  ])("%j: %s", ([formula, expected]) => {
    if (formula === "") expect(told(formula)).toMatch(/^faulty \| unknown \| ./);
    else expect(told(formula)).toBe(expected);
  });

  test("a fault has the very characters, a sentence and a mend", () => {
    const [fault] = preview(model, "as-written", MASH, "grain + grian").faults;
    expect(fault?.span).toEqual({ start: 8, end: 13 });
    expect(fault?.message).toBe('There is no "grian" here. Did you mean grain?');
    expect(fault?.mends.map(({ label }) => label)).toEqual(["Write grain"]);
  });

  test("a circle over other lines is shown as a path", () => {
    expect(told("after_wrong", { sheet: "mash", cell: "mash.grain" })).toMatch(
      /mash\.grain → mash\.after_wrong → mash\.wrong → mash\.grain: each needs the other\./,
    );
  });

  test("the lens shows, and a column's formula reads its own table", () => {
    expect(told("rest_target", MASH, "US")).toBe("ready | temperature | 151.7 °F");
    const gone = { sheet: "cellar", cell: "gone", table: "cellar.readings" };
    expect(told("gravity - 1 Δ°P", gone)).toMatch(/^ready \| gravity \| 11\.1, /);
    expect(told("cellar.readings.gravity where gravity < 8 °P", gone)).toMatch(/^faulty/);
  });
});

describe("nothing is kept", () => {
  test("neither the text nor what a line holds, needs or is checked for changes, whatever is typed", () => {
    const fresh = modelOf(BREW_DAY);
    const standing = () => ({
      text: writeWorkbook(fresh.workbook),
      states: [...fresh.origins.keys()].map((node) => [
        fresh.store.state(node),
        fresh.graph.dependenciesOf(node),
        fresh.typeOf(node),
      ]),
      counts: { ...fresh.counts },
    });
    const before = JSON.stringify(standing());
    const piece = fc.constantFrom(
      "grain",
      "mash_ratio",
      "strike_water",
      "cellar.",
      "readings.gravity",
      " + ",
      " / ",
      "(",
      ")",
      "25 kg",
      "gal",
      "?",
      " as ",
      "°C",
      '"',
      "#",
      "if ",
      "max(",
      "1e9",
      "nothing",
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 12 }), (pieces) => {
        preview(fresh, "as-written", MASH, pieces.join(""));
      }),
      { seed: 214, numRuns: 300 },
    );
    expect(JSON.stringify(standing())).toBe(before);
  });
});

describe("speed", () => {
  /** One frame of a screen that is drawn sixty times a second. */
  const FRAME = 16;

  test("a keystroke in a book of 2,000 lines that lean on one another is previewed well within a frame", () => {
    const lines = Array.from({ length: 2_000 }, (_, at) =>
      at === 0 ? "line_0 = 640 L" : `line_${at} = line_${at - 1} * 1.001 + ${at} mL`,
    );
    const large = modelOf(`gylebook 1\nsheet mash "Mash"\n${lines.join("\n")}\n`);
    const typed = "if line_1998 > 3 hL then round_up(line_1998, 25 L) else line_0 / 2 as hL by 0.1";
    const times: number[] = [];
    for (let at = 1; at <= typed.length; at += 1) {
      const start = performance.now();
      preview(large, "as-written", { sheet: "mash", cell: "mash.line_1999" }, typed.slice(0, at));
      times.push(performance.now() - start);
    }
    // What else the machine does only ever adds: the quicker quarter tells what the work itself takes.
    times.sort((a, b) => a - b);
    expect(times[times.length >> 2]).toBeLessThan(FRAME / 2);
  });
});
