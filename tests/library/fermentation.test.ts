import { describe, expect, test } from "vitest";
import { FERMENTATION } from "../../engine/library/fermentation.ts";
import type { Value } from "../../engine/values/value.ts";
import { callDirect } from "../support/call.ts";
import { calculate } from "../support/formula.ts";

const call = (name: string, given: Record<string, Value>) => callDirect(FERMENTATION, name, given);
const shown = (formula: string): string => calculate(formula).shown;
/** The figure of a result that is a share, in per cent. */
const percent = (formula: string): number => 100 * Number(calculate(formula).value);

describe("alcohol by volume", () => {
  // Figures of each form computed apart from this code, two of them (HMRC, × 131.25) from published tables and texts.
  const COMPARED = [
    ["1.035", "1.007", 3.61, 3.68, 3.59, 3.69, 3.65],
    ["1.050", "1.012", 4.94, 4.99, 4.96, 5.05, 5.08],
    ["1.100", "1.020", 10.72, 10.5, 11.01, 10.89, 11.58],
    ["1.120", "1.025", 12.83, 12.47, 13.31, 13.06, 14.24],
  ] as const;

  test.each(COMPARED)(
    "of %s fermented to %s agrees with each form in use",
    (og, fg, hmrc, simple, cutaia, balling, hall) => {
      const by = (method: string) => percent(`alcohol_by_volume(${og} SG, ${fg} SG, "${method}")`);
      const expected = { HMRC: hmrc, simple, Cutaia: cutaia, Balling: balling, Hall: hall };
      for (const [method, strength] of Object.entries(expected))
        expect(Math.abs(by(method) - strength)).toBeLessThan(0.02);
    },
  );

  test("goes by Cutaia where no method is named", () => {
    expect(shown("alcohol_by_volume(12 °P, 2.5 °P)")).toBe(shown('alcohol_by_volume(12 °P, 2.5 °P, "cutaia")'));
  });

  test("keeps the default within 0.3 % vol of the official table up to 1.060, where Hall's form drifts away in strong beer", () => {
    for (const [og, fg] of [
      [1.035, 1.007],
      [1.044, 1.01],
      [1.05, 1.012],
      [1.06, 1.014],
    ]) {
      const duty = percent(`alcohol_by_volume(${og} SG, ${fg} SG, "HMRC")`);
      expect(Math.abs(percent(`alcohol_by_volume(${og} SG, ${fg} SG)`) - duty)).toBeLessThan(0.3);
    }
    const gap =
      percent('alcohol_by_volume(1.100 SG, 1.020 SG, "Hall")') -
      percent('alcohol_by_volume(1.100 SG, 1.020 SG, "HMRC")');
    expect(gap).toBeGreaterThan(0.8);
  });

  test("reads the official table at both ends of a band and has no value beyond it", () => {
    expect(percent('alcohol_by_volume(1.0461 SG, 1.0100 SG, "HMRC")')).toBeCloseTo(36.1 * 0.13, 9);
    expect(percent('alcohol_by_volume(1.0460 SG, 1.0100 SG, "HMRC")')).toBeCloseTo(36.0 * 0.129, 9);
    expect(percent('alcohol_by_volume(1.1157 SG, 1.0150 SG, "HMRC")')).toBeCloseTo(100.7 * 0.135, 9);
    expect(shown('alcohol_by_volume(1.1158 SG, 1.0150 SG, "HMRC")')).toMatch(/table ends at 100.7 degrees/);
  });

  test("is nothing before fermentation, even where the reading is a little high, and refuses gravities the wrong way round", () => {
    expect(shown("alcohol_by_volume(12 °P, 12 °P)")).toBe("0 % vol");
    expect(shown("alcohol_by_volume(12 °P, 12.1 °P)")).toBe("0 % vol");
    expect(shown("alcohol_by_volume(2.5 °P, 12 °P)")).toMatch(/present gravity lies above the original/);
  });

  test("warns of law, and of brews stronger than those it was fitted to", () => {
    const { cautionSentences } = calculate("alcohol_by_volume(22 °P, 5 °P)");
    expect(cautionSentences.join(" ")).toMatch(/defer to local code and licensed practice/);
    expect(cautionSentences.join(" ")).toMatch(/original is published for 9.4 °P to 18.1 °P/);
  });
});

describe("alcohol by mass", () => {
  // Cutaia, Reid, Speers, J. Inst. Brew. 115 (2009) 318, table III: measured means of the five sets of brews.
  test.each([
    [14.08, 3.11, 5.28, 4.72],
    [14.54, 2.53, 4.88, 5.14],
    [17.67, 2.45, 5.38, 6.56],
    [11.34, 2.01, 3.8, 3.82],
    [12.75, 2.79, 4.74, 4.21],
  ])("of brews of %d °P at %d °P agrees with the measured mean", (original, apparent, real, alcohol) => {
    expect(Math.abs(percent(`alcohol_by_weight(${original} °P, ${apparent} °P)`) - alcohol)).toBeLessThan(0.15);
    expect(Math.abs(percent(`alcohol_from_real_extract(${original} °P, ${real} °P)`) - alcohol)).toBeLessThan(0.15);
    expect(Math.abs(percent(`real_extract(${original} °P, ${apparent} °P)`) - real)).toBeLessThan(0.15);
  });

  test("and the original extract are each other's inverse", () => {
    for (const [original, real] of [
      [0.09, 0.03],
      [0.12, 0.04],
      [0.2, 0.07],
    ] as const) {
      const alcohol = call("alcohol_from_real_extract", { original, real });
      expect(call("original_extract", { alcohol, real })).toBeCloseTo(original, 12);
    }
    expect(shown("alcohol_from_real_extract(4 °P, 12 °P)")).toMatch(/real extract lies above/);
  });

  test("turns to volume and back", () => {
    const byWeight = call("strength_by_weight", { strength: 0.052, present: 0.026 });
    expect(call("strength_by_volume", { strength: byWeight, present: 0.026 })).toBeCloseTo(0.052, 12);
  });

  test("of a distillate follows from its density, between water and pure alcohol only", () => {
    for (const strength of [0, 0.05, 0.4, 1])
      expect(call("distillate_strength", { density: call("distillate_density", { strength }) })).toBeCloseTo(
        strength,
        9,
      );
    expect(call("distillate_strength", { density: 999 })).toMatch(/998.20/);
    expect(call("distillate_strength", { density: 750 })).toMatch(/789.24/);
  });
});

describe("attenuation", () => {
  test("real by mass lies 1 to 2.5 points above the simple form", () => {
    for (const [original, present] of [
      [10, 2],
      [12, 2.5],
      [16, 4],
    ]) {
      const byMass = percent(`real_degree_of_fermentation(${original} °P, ${present} °P)`);
      const simple = percent(`real_attenuation(${original} °P, real_extract(${original} °P, ${present} °P))`);
      expect(byMass - simple).toBeGreaterThan(1);
      expect(byMass - simple).toBeLessThan(2.5);
    }
  });

  test("gives the final gravity that gives it back, and what a forced ferment leaves to come", () => {
    expect(shown("apparent_attenuation(12 °P, final_gravity(12 °P, 78 %))")).toBe("78 %");
    expect(call("attenuation_left", { original: 0.12, present: 0.03, forced: 0.024 })).toBeCloseTo(0.05, 12);
  });
});

describe("food energy", () => {
  test("is 7 kcal in a gram of alcohol and 4 in one of extract", () => {
    const given = { present: 0, volume: 1e-4 };
    const grams = 100 * 0.9982;
    expect(Number(call("energy_content", { ...given, alcohol: 0.04, real: 0 })) / 4184).toBeCloseTo(
      grams * 0.04 * 7,
      2,
    );
    expect(Number(call("energy_content", { ...given, alcohol: 0, real: 0.04 })) / 4184).toBeCloseTo(
      grams * 0.04 * 4,
      2,
    );
  });
});

describe("yeast and oxygen", () => {
  test("have no answer where nothing is there", () => {
    expect(call("slurry_to_pitch", { cells: 1e13, count: 0, viability: 0.9 })).toMatch(/no living cells/);
    expect(call("pitching_rate", { cells: 1e13, wort: 0, gravity: 0.12 })).toMatch(/no wort/);
    expect(call("viability", { unstained: 201, counted: 200 })).toMatch(/More cells are unstained/);
    expect(shown("yeast_to_pitch(-5 L, 12 °P)")).toMatch(/wort \(wort in the fermenter\) cannot be -5 L/);
    expect(shown("slurry_to_pitch(1e13 cells, 1e9 cells/mL, 120 %)")).toMatch(/viability.* cannot be 120 %/);
  });

  test("the pitching rate is that which the pitch was made for", () => {
    expect(shown("pitching_rate(yeast_to_pitch(8 hL, 13 °P, 0.75e6 cells/mL/°P), 8 hL, 13 °P)")).toBe(
      "0.75 Mcells/mL/°P",
    );
    expect(shown("dry_yeast_to_pitch(1e13 cells, 2e10 cells/g)")).toBe("500 g");
  });

  test("low viability and small counts carry a caution", () => {
    expect(calculate("slurry_to_pitch(1e13 cells, 1e9 cells/mL, 70 %)").cautionSentences.join()).toMatch(
      /viability is published from 80 %/,
    );
    expect(calculate("yeast_count(counted: 120, squares: 5)").cautionSentences.join()).toMatch(
      /counted is published from 200/,
    );
  });

  test("pure oxygen gives 4.8 times what air gives, wort its share of what water holds", () => {
    const air = Number(calculate("oxygen_saturation(18 °C)").value);
    expect(Number(calculate('oxygen_saturation(18 °C, gas: "Oxygen")').value) / air).toBeCloseTo(4.774, 3);
    expect(Number(calculate("oxygen_saturation(18 °C, share_of_water: 85 %)").value) / air).toBeCloseTo(0.85, 12);
    expect(Number(calculate("oxygen_saturation(18 °C, altitude: 310 m)").value) / air).toBeCloseTo(0.963, 2);
  });

  test("oxygen runs the longer the less of it dissolves, and not at all where enough is there", () => {
    const given = { wort: 1, target: 0.01, flow: 4e-3 / 60, start: 0 };
    // 10 g into 1000 L at 4 L/min of 1.33 g/L.
    expect(Number(call("oxygen_run_time", { ...given, taken_up: 1 })) / 60).toBeCloseTo(10 / (4 * 1.33), 2);
    expect(Number(call("oxygen_run_time", { ...given, taken_up: 0.5 })) / 60).toBeCloseTo(20 / (4 * 1.33), 2);
    expect(call("oxygen_run_time", { ...given, taken_up: 1, start: 0.02 })).toBe(0);
  });

  test("D317: wort at pitching is allowed the usual 8 to 15 mg/L without a caution (instrument makers' advice)", () => {
    const cautions = (target: number) => calculate(`oxygen_run_time(1000 L, ${target} mg/L, 4 L/min)`).cautions;
    for (const usual of [8, 10, 15]) expect(cautions(usual).map(({ code }) => code)).toEqual(["safety"]);
    expect(cautions(30).map(({ code }) => code)).toContain("outside-published-range");
  });
});

const HOUR = 3600;
const hours = (...values: number[]): Float64Array => Float64Array.from(values, (value) => value * HOUR);
const plato = (...values: number[]): Float64Array => Float64Array.from(values, (value) => value / 100);

describe("the time to a gravity", () => {
  const falling = (t: number): number => 2.5 + 6 * Math.exp(-t / 30);
  const taken = [24, 36, 48, 60, 72, 84];
  const given = {
    taken: hours(...taken),
    gravity: plato(...taken.map(falling)),
    target: 0.026,
    limit: 0.025,
    readings: 6,
  };

  test("is found exactly for readings that fall exactly toward the limit", () => {
    const wanted = 30 * Math.log(6 / 0.1) - 84;
    expect(Number(call("time_to_gravity", given)) / HOUR).toBeCloseTo(wanted, 6);
  });

  test("goes by the last readings, in whatever order they stand, and skips gaps", () => {
    const mixed = {
      ...given,
      taken: hours(60, 0, 12, 24, 30, 36, 48, 72, 84),
      gravity: plato(
        falling(60),
        12,
        11.9,
        falling(24),
        Number.NaN,
        falling(36),
        falling(48),
        falling(72),
        falling(84),
      ),
    };
    expect(call("time_to_gravity", mixed)).toBeCloseTo(Number(call("time_to_gravity", given)), 3);
  });

  test("is 0 once the gravity is there", () => {
    expect(call("time_to_gravity", { ...given, target: 0.04 })).toBe(0);
  });

  test("has no value for too few readings, a target that is never reached, or a gravity that stands still", () => {
    expect(call("time_to_gravity", { ...given, target: 0.025 })).toMatch(/target must lie above the limit/);
    expect(call("time_to_gravity", { ...given, taken: hours(1, 2), gravity: plato(9, 8) })).toMatch(/three readings/);
    expect(call("time_to_gravity", { ...given, taken: hours(1, 2, 3), gravity: plato(8, 8, 8.1) })).toMatch(
      /does not fall/,
    );
    expect(call("time_to_gravity", { ...given, taken: hours(2, 2, 2), gravity: plato(9, 8, 7) })).toMatch(/same time/);
    expect(call("time_to_gravity", { ...given, taken: hours(), gravity: plato() })).toMatch(/no reading/);
  });
});

describe("a steady gravity", () => {
  const given = { over: 48 * HOUR, margin: 0.001 };

  test("is told from one that still moves", () => {
    const taken = hours(0, 24, 48, 72, 96);
    expect(call("gravity_steady", { ...given, taken, gravity: plato(6, 3, 2.6, 2.6, 2.5) })).toBe(1);
    expect(call("gravity_steady", { ...given, taken, gravity: plato(6, 3, 2.8, 2.6, 2.5) })).toBe(0);
  });

  test("needs readings that reach back far enough", () => {
    expect(call("gravity_steady", { ...given, taken: hours(0, 24), gravity: plato(2.5, 2.5) })).toMatch(/reach back/);
    expect(call("gravity_steady", { ...given, taken: hours(Number.NaN), gravity: plato(2.5) })).toMatch(/no reading/);
  });

  test("of a log with a reading a second over days are judged as well", () => {
    const rows = 200_000;
    const taken = Float64Array.from({ length: rows }, (_, row) => row);
    const gravity = new Float64Array(rows).fill(0.025);
    expect(call("gravity_steady", { over: rows - 1, margin: 0.001, taken, gravity })).toBe(1);
    gravity[1] = 0.03;
    expect(call("gravity_steady", { over: rows - 1, margin: 0.001, taken, gravity })).toBe(0);
  });
});
