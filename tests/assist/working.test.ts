import { describe, expect, test } from "vitest";
import { type Working, working } from "../../engine/assist/working.ts";
import type { Lens } from "../../engine/units/lens.ts";
import { BREW_DAY, modelOf } from "./book.ts";

const model = modelOf(BREW_DAY);

function of(name: string, lens: Lens = "as-written"): Working {
  const found = working(model, lens, name);
  if (found === null) throw new Error(`there is no working of ${name}`);
  return found;
}

describe("a working is written out as on paper", () => {
  test.for<[name: string, formula: string, withFigures: string | null, shown: string]>([
    ["mash.grain", "8.5 sack", null, "8.5 sack"],
    ["mash.mash_ratio", "strike_water / grain as L/kg", "640 L / 8.5 sack as L/kg", "3.01 L/kg"],
    ["mash.rest_miss", "rest_measured - rest_target", "? - 66.5 °C", ""],
    ["mash.after_wrong", "wrong * 2", null, ""],
    ["cellar.latest", "last(readings.gravity)", "last([12.1, 10.4, 7.4 °P])", "7.4 °P"],
    // In a condition on rows a column stands for each entry in turn.
    [
      "cellar.cool",
      "mean(readings.temp where gravity < 11 °P)",
      "mean([17.8, 18.3, 18.6 °C] where gravity < 11 °P)",
      "18.4 °C",
    ],
    [
      "cellar.readings.gone",
      "share(original - gravity, original)",
      "share(12.1 °P - [12.1, 10.4, 7.4 °P], 12.1 °P)",
      "0, 14.4, 38.8 %",
    ],
    ["cellar.readings.gravity", "", null, "12.1, 10.4, 7.4 °P"],
    ["batch_date", "? 2026-03-01", null, "2026-03-01"],
  ])("%s", ([name, formula, withFigures, shown]) => {
    expect(of(name)).toMatchObject({ formula, withFigures, shown });
  });

  test("negative figures and powers stand in parentheses", () => {
    const cold = modelOf(
      'gylebook 1\nsheet a "A"\nchill = -2 Δ°C\nside = 3 m\ncolder = 5 Δ°C - chill\narea = side^2\n',
    );
    expect(working(cold, "as-written", "a.colder")?.withFigures).toBe("5 Δ°C - (-2 Δ°C)");
    expect(working(cold, "as-written", "a.area")?.withFigures).toBe("(3 m)^2");
  });

  test("a long column is told by its ends", () => {
    const rows = Array.from({ length: 100 }, (_, at) => `    ${at + 1}`).join("\n");
    const long = modelOf(
      `gylebook 1\nsheet a "A"\ntable log "Log"\n  column figure : kg\n  rows\n${rows}\n  end\nall = sum(log.figure)\n`,
    );
    expect(working(long, "as-written", "a.all")).toMatchObject({
      withFigures: "sum([1, 2, …, 100 kg])",
      shown: "5050 kg",
    });
  });

  test("the lens is this reader's throughout", () => {
    // 640 L is 5.454 barrels of 31 US gal, 8.5 × 25 kg is 468.5 lb (NIST SP 811, appendix B).
    expect(of("mash.mash_ratio", "US").withFigures).toBe("5.454 US bbl / 468.5 lb as L/kg");
  });
});

describe("steps", () => {
  test("each call and condition inside with what it gives, innermost first", () => {
    expect(of("cellar.dear").steps.map(({ withFigures, shown }) => `${withFigures}: ${shown}`)).toEqual([
      "7.4 °P < 8 °P: yes",
      "round_up(8.5 sack, 25 kg): 9 sack",
    ]);
  });

  test("what a brewing function takes as usual is said", () => {
    const [step] = of("mash.strike_temp").steps;
    expect(step?.usual).toEqual([
      "water_metered_at: 20 °C",
      "tun_heat: 0 kJ/K",
      "tun_temp: 20 °C",
      "slaking: 0 Δ°C",
      "malt_specific_heat: 0.41",
    ]);
  });
});

describe("what belongs to a working", () => {
  test("what it draws on and what draws on it, with label and figure, in the order of the file", () => {
    expect(of("mash.wrong").drawsOn.map(({ name, label, shown }) => [name, label, shown])).toEqual([
      ["mash.grain", "Malt in", "8.5 sack"],
      ["mash.strike_water", "Strike water", "640 L"],
    ]);
    expect(of("mash.grain").feeds.map(({ name, state }) => [name, state])).toEqual([
      ["mash.strike_temp", "ready"],
      ["mash.mash_ratio", "ready"],
      ["mash.wrong", "faulty"],
      ["cellar.dear", "ready"],
    ]);
  });

  test("the brewing functions with source and caution, and the note", () => {
    const { functions, cautions } = of("mash.strike_temp");
    expect(functions.map(({ name }) => name)).toEqual(["strike_temperature"]);
    expect(cautions.map(({ code }) => code)).toEqual(["safety"]);
    expect(of("mash.grain").note).toBe("eight full, one half");
    expect(of("cellar.readings.gone").functions).toEqual([]);
  });

  test("a name that nothing has gives none", () => {
    expect(working(model, "as-written", "mash.nowhere")).toBeNull();
    expect(working(model, "as-written", "")).toBeNull();
  });
});
