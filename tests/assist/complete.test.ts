import { describe, expect, test } from "vitest";
import { complete } from "../../engine/assist/complete.ts";
import { BREW_DAY, modelOf } from "./book.ts";

const model = modelOf(BREW_DAY);
const MASH = { sheet: "mash", cell: "mash.mash_ratio" };

/** What is put in by the first options for the formula typed so far. */
const offered = (typed: string, context: Parameters<typeof complete>[1] = MASH): readonly string[] =>
  complete(model, context, typed, typed.length).options.map(({ insert }) => insert);

describe("what may stand at the cursor, best first", () => {
  test.for<[typed: string, first: readonly string[]]>([
    ["gra", ["grain", "grain_temp", "grain_absorption("]],
    ["2 * GRA", ["grain", "grain_temp"]],
    ["cellar.", ["cellar.original", "cellar.opening"]],
    ["cellar.readings.g", ["cellar.readings.gravity", "cellar.readings.gone"]],
    // By label and by the words of the trade.
    ["malt", ["malt_bill"]],
    ["dough in", []],
    // A label of several words, as the screen calls the line.
    ["malt i", ["grain"]],
    ["2 * Malt in", ["grain"]],
    ["if grain > 3 kg then malt in", ["grain"]],
    ["daily r", []],
    ["infusion", ["infusion_volume(", "strike_temperature("]],
    // Units of the kind that is wanted.
    ["8.5 sa", ["sack"]],
    ["strike_water / grain as ", ["L/kg", "US qt/lb", "imp qt/lb"]],
    ["strike_temp as ", ["°C", "°F", "K"]],
    ["round_up(grain, 25 kg) as ", ["sack", "kg"]],
    ["number(strike_temp as ", ["°C", "°F", "K"]],
    ["strike_temp by 1 ", ["Δ°C"]],
    ["rest_target within 65 to 68 ", ["°C", "°F", "K"]],
    ["strike_temperature(rest: 66 ", ["°C", "°F", "K"]],
    ["3.2 L/k", ["kg"]],
    ["? ", ["number", "text", "instant", "truth"]],
    ["? °", ["°C", "°F"]],
    // Words where they fit.
    ["grain wi", ["within"]],
    ["if grain > 3 kg ", ["then"]],
    ["if grain > 3 kg then grain el", ["else"]],
    ["rest_target within 65 t", ["t", "to"]],
    ["", ["grain", "strike_water"]],
    // Arguments that are not given yet; the texts that one takes.
    ["strike_temperature(", ["rest: ", "grain: ", "water: "]],
    ["strike_temperature(rest: 66 °C, ", ["grain: ", "water: "]],
    ["cellar.readings.temp where g", ["gravity", "gone"]],
  ])("%j: %j", ([typed, first]) => {
    expect(offered(typed).slice(0, first.length)).toEqual(first);
  });

  test("a label of several words is replaced whole", () => {
    expect(complete(model, MASH, "2 * malt  in", 12)).toMatchObject({ from: 4, to: 12 });
    expect(complete(model, MASH, "2 * malt gr", 11)).toMatchObject({ from: 9 });
  });

  test.for<[typed: string]>([["12"], ["grain # a note on gra"], ['"a text"'], ["2026-03"]])(
    "nothing behind %j",
    ([typed]) => {
      expect(offered(typed)).toEqual([]);
    },
  );

  test.for<[cell: string, first: readonly string[]]>([
    ["mash.grain", ["sack", "kg", "g"]],
    ["mash.rest_target", ["°C", "°F", "K"]],
  ])("behind the figure of %s units of its kind", ([cell, first]) => {
    expect(offered("66 ", { sheet: "mash", cell }).slice(0, first.length)).toEqual(first);
  });

  test("currencies come after all other units", () => {
    const options = complete(model, MASH, "5 l", 3).options;
    const money = options.map(({ detail }) => detail === "money");
    expect(options.slice(0, 2).map(({ label }) => label)).toEqual(["lb", "long ton"]);
    expect(money).toContain(true);
    expect(money.indexOf(true)).toBeGreaterThan(options.findIndex(({ label }) => label === "L"));
  });

  test("the line itself is never offered, nor more than fifty", () => {
    expect(offered("mash_r")).not.toContain("mash_ratio");
    expect(offered("mash_r", { sheet: "mash", cell: null })).toContain("mash_ratio");
    expect(offered("e").length).toBeLessThanOrEqual(50);
  });

  test("words that the trade uses for one thing find it", () => {
    const found = offered("copper");
    expect(found.length).toBeGreaterThan(1);
    expect(found).toContain("volume_after_boil(");
  });

  test("in a table its own columns come first and need no prefix", () => {
    expect(offered("gr", { sheet: "cellar", cell: "gone", table: "cellar.readings" })[0]).toBe("gravity");
  });

  test("functions of the book are offered with what they say", () => {
    const { options } = complete(model, MASH, "sha", 3);
    expect(options[0]).toEqual({
      label: "share",
      insert: "share(",
      detail: "Defined in this book: part / whole as %",
      kind: "function",
    });
  });

  test("a line is offered with its label and kind", () => {
    expect(complete(model, MASH, "grai", 4).options[0]).toEqual({
      label: "grain",
      insert: "grain",
      detail: "Malt in, mass",
      kind: "line",
    });
  });

  test("only the word at the cursor is exchanged", () => {
    expect(complete(model, MASH, "2 * gra + strike_water", 7)).toMatchObject({ from: 4, to: 7 });
    expect(complete(model, MASH, "3.2 L/k", 7)).toMatchObject({ from: 6, to: 7 });
  });
});

describe("the argument in hand", () => {
  test.for<[typed: string, told: string | null]>([
    ["strike_temperature(", "strike_temperature 0 rest"],
    ["strike_temperature(66 °C, ", "strike_temperature 1 grain"],
    ["strike_temperature(rest: 66 °C, grain_temp: ", "strike_temperature 3 grain_temp"],
    ["strike_temperature(rest: 66 °C, ", "strike_temperature 1 grain"],
    ["strike_temperature(66 °C, max(grain, ", "max 0 of"],
    ["strike_temperature(66 °C, max(grain, 2 kg), ", "strike_temperature 2 water"],
    ["share(grain, ", "share 1 whole"],
    ["round_up(grain, ", "round_up 1 step"],
    ["strike_temperature(66 °C, nothing: ", "strike_temperature -1"],
    ["strike_temperature(66 °C, (grain ", null],
    ["strike_temperature(66 °C)", null],
    ["nobody_knows(", null],
    ["grain", null],
  ])("%j: %s", ([typed, told]) => {
    const { argument } = complete(model, MASH, typed, typed.length);
    expect(
      argument === null ? null : `${argument.function.name} ${argument.index} ${argument.argument?.name ?? ""}`.trim(),
    ).toBe(told);
  });
});
