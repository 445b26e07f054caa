import { describe, expect, test } from "vitest";
import { GRAVITY } from "../../engine/library/gravity.ts";
import { massShare, specificGravity } from "../../engine/units/gravity.ts";
import type { Value } from "../../engine/values/value.ts";
import { callDirect } from "../support/call.ts";

const call = (name: string, given: Record<string, Value>) => callDirect(GRAVITY, name, given);

const hydrometer = { reading: massShare(1.05), sample_temp: 20, calibration: 20, glass_expansion: 25e-6 };

describe("a hydrometer", () => {
  test("is right at the temperature it was made for", () => {
    for (const reading of [-0.01, 0, 0.05, 0.2])
      expect(call("corrected_gravity", { ...hydrometer, reading })).toBeCloseTo(reading, 9);
  });

  test("made for 15 °C or 60 °F shows 0.0007 to 0.0010 less than one for 20 °C in wort at 20 °C", () => {
    const added = (calibration: number) =>
      specificGravity(Number(call("corrected_gravity", { ...hydrometer, calibration }))) - 1.05;
    expect(added(15)).toBeGreaterThan(0.0007);
    expect(added(15)).toBeLessThan(0.001);
    expect(Math.abs(added(15) - added((60 - 32) / 1.8))).toBeLessThan(0.0002);
  });

  test("cannot float in what is no wort", () => {
    expect(
      call("corrected_gravity", { ...hydrometer, reading: -0.02, sample_temp: 0, glass_expansion: 1e-2 }),
    ).toBeTypeOf("number");
    expect(call("corrected_gravity", { ...hydrometer, reading: 0.6, sample_temp: 0, glass_expansion: 1e-2 })).toMatch(
      /No wort floats/,
    );
  });
});

describe("blending", () => {
  test("lets wort down with the water that liquor_back names", () => {
    const water = call("liquor_back", { volume: 0.8, gravity: 0.15, wanted: 0.12, water_temp: 20 });
    const blend = { first_volume: 0.8, first_gravity: 0.15, second_volume: water, second_gravity: 0 };
    expect(call("blended_gravity", blend)).toBeCloseTo(0.12, 9);
  });

  test("keeps mass and extract of both", () => {
    const blend = { first_volume: 2, first_gravity: 0.18, second_volume: 1, second_gravity: 0.04 };
    const mass = (volume: number, gravity: number) => Number(call("wort_mass", { volume, gravity, temp: 20 }));
    const blended = Number(call("blended_gravity", blend));
    expect(blended * (mass(2, 0.18) + mass(1, 0.04))).toBeCloseTo(mass(2, 0.18) * 0.18 + mass(1, 0.04) * 0.04, 9);
  });

  test("says so when there is nothing to blend or no way down", () => {
    expect(
      call("blended_gravity", { first_volume: 0, first_gravity: 0.1, second_volume: 0, second_gravity: 0 }),
    ).toMatch(/nothing to blend/);
    const back = { volume: 1, gravity: 0.12, wanted: 0.12, water_temp: 20 };
    expect(call("liquor_back", back)).toBe(0);
    expect(call("liquor_back", { ...back, wanted: 0.13 })).toMatch(/boil_longer/);
    expect(call("liquor_back", { ...back, wanted: 0 })).toMatch(/above 0 °P/);
  });
});

describe("a refractometer", () => {
  const wort = { reading: 0.125, wort_correction: 1.04, sample_temp: 20, pitched: 0 };

  test("is divided by the wort correction at 20 °C", () => {
    expect(call("refractometer_gravity", wort)).toBeCloseTo(0.125 / 1.04, 12);
  });

  test("is refused once yeast is in", () => {
    expect(call("refractometer_gravity", { ...wort, pitched: 1 })).toMatch(/After pitching/);
  });

  /** OIV-MA-AS2-02, Table I: correction in % at °C and % by mass. */
  test.each([
    [5, 10, -0.82],
    [5, 20, -0.92],
    [8, 15, -0.73],
    [10, 20, -0.65],
    [12, 10, -0.49],
    [12, 25, -0.55],
    [14, 15, -0.39],
    [16, 20, -0.28],
    [17, 30, -0.22],
  ])("at %s °C and %s %% needs the correction of the OIV table, %s %%, to 0.02", (sample_temp, percent, table) => {
    const reading = percent / 100;
    const corrected = Number(call("refractometer_gravity", { ...wort, reading, wort_correction: 1, sample_temp }));
    expect(Math.abs((corrected - reading) * 100 - table)).toBeLessThanOrEqual(0.02);
  });
});
