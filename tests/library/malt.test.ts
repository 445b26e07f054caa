import { describe, expect, test } from "vitest";
import { MALT } from "../../engine/library/malt.ts";
import { massShare } from "../../engine/units/gravity.ts";
import type { Value } from "../../engine/values/value.ts";
import { callDirect } from "../support/call.ts";

const call = (name: string, given: Record<string, Value>) => callDirect(MALT, name, given);

const brew = { volume: 1, gravity: 0.12, extract_as_is: 0.78, volume_temp: 20 };

describe("extract", () => {
  test("is volume times density times share, not volume times share: 4.4 % more at 12 °P", () => {
    expect(Number(call("extract_mass", { volume: 1, gravity: 0.12, volume_temp: 20 })) / 120).toBeCloseTo(1.0464, 4);
  });

  test("in boiling wort is 4 % less than in as much cold wort", () => {
    const extract = (volume_temp: number) => Number(call("extract_mass", { volume: 1, gravity: 0.12, volume_temp }));
    expect(1 - extract(100) / extract(20)).toBeCloseTo(0.0399, 3);
  });

  test("gives back the gravity that held it", () => {
    for (const volume_temp of [20, 70]) {
      const extract = call("extract_mass", { volume: 1.2, gravity: 0.16, volume_temp });
      expect(call("gravity_from_extract", { extract, volume: 1.2, volume_temp })).toBeCloseTo(0.16, 10);
    }
  });

  test("of a malt is found from its potential: 37 points of the 46.2 that a pound of sucrose gives are 80 %", () => {
    expect(call("extract_from_potential", { potential: massShare(1.037) })).toBeCloseTo(37 / 46.2, 2);
    expect(call("extract_from_potential", { potential: massShare(1.0462) })).toBeCloseTo(1, 2);
  });

  test("needs wort to be in, and room to dissolve", () => {
    expect(call("gravity_from_extract", { extract: 1, volume: 0, volume_temp: 20 })).toMatch(/volume is zero/);
    expect(call("gravity_from_extract", { extract: 3000, volume: 1, volume_temp: 20 })).toMatch(/does not dissolve/);
  });
});

describe("malt", () => {
  test("that is needed for a wort gives that wort, at the yield that was typed", () => {
    const grain = call("malt_needed", { ...brew, yield: 0.86 });
    const { volume: _asked, ...wort } = brew;
    expect(call("wort_volume", { ...wort, grain, yield: 0.86 })).toBeCloseTo(1, 12);
    expect(call("brewhouse_yield", { ...brew, grain, measured_at: "fermenter" })).toBeCloseTo(0.86, 12);
  });

  test("as is loses what coarse grinding and moisture take", () => {
    expect(call("malt_as_is", { fine_dry: 0.815, difference: 0.015, moisture: 0.045 })).toBeCloseTo(0.8 * 0.955, 12);
    expect(call("malt_as_is", { fine_dry: 0.05, difference: 0.1, moisture: 0 })).toMatch(/larger than the extract/);
  });

  test("of a bill weighs by mass, skips what is missing, and takes one figure for all", () => {
    const mass = Float64Array.of(150, 50, Number.NaN);
    const extract_as_is = Float64Array.of(0.78, 0.7, 0.6);
    expect(call("grist_extract", { mass, extract_as_is })).toBeCloseTo(0.76, 12);
    expect(call("grist_extract", { mass, extract_as_is: 0.77 })).toBeCloseTo(0.77, 12);
    expect(call("grist_extract", { mass: new Float64Array(0), extract_as_is: new Float64Array(0) })).toMatch(
      /bill is empty/,
    );
  });

  test("cannot give more extract than it holds, nor be read hot in a fermenter", () => {
    const grain = 150;
    expect(call("brewhouse_yield", { ...brew, grain, measured_at: "kettle" })).toBeTypeOf("number");
    expect(call("brewhouse_yield", { ...brew, grain: 120, measured_at: "kettle" })).toMatch(
      /more extract than the malt/,
    );
    expect(call("brewhouse_yield", { ...brew, grain, volume_temp: 98, measured_at: "fermenter" })).toMatch(
      /not so hot/,
    );
    expect(call("brewhouse_yield", { ...brew, grain: 0, measured_at: "kettle" })).toMatch(/holds no extract/);
  });

  test("of no extract gives no wort, and wort of no extract has no volume", () => {
    expect(call("malt_needed", { ...brew, extract_as_is: 0, yield: 0.85 })).toMatch(/gives no wort/);
    expect(call("wort_volume", { grain: 1, extract_as_is: 0.78, gravity: 0, yield: 0.85, volume_temp: 20 })).toMatch(
      /is water/,
    );
  });
});

describe("first wort", () => {
  const mash = { grain: 212, water: 0.64, extract_as_is: 0.78, moisture: 0.04, conversion: 1, water_metered_at: 20 };

  test("is weaker by the malt's own moisture and by what has not converted", () => {
    const full = Number(call("first_wort_gravity", mash));
    expect(Number(call("first_wort_gravity", { ...mash, moisture: 0 }))).toBeGreaterThan(full);
    expect(Number(call("first_wort_gravity", { ...mash, conversion: 0.9 }))).toBeLessThan(full);
    expect(call("first_wort_gravity", { ...mash, grain: 0, water: 0 })).toMatch(/neither malt nor water/);
  });
});
