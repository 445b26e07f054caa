import { describe, expect, test } from "vitest";
import { BOIL } from "../../engine/library/boil.ts";
import type { Value } from "../../engine/values/value.ts";
import { callDirect } from "../support/call.ts";

const call = (name: string, given: Record<string, Value>) => callDirect(BOIL, name, given);

const MINUTE = 60;
const LITRES_AN_HOUR = 1e-3 / 3600;

describe("volumes", () => {
  test("shrink on cooling and grow back on heating", () => {
    const cold = call("cold_volume", { volume: 1.2, temp: 98, cold_at: 20 });
    expect(call("hot_volume", { volume: cold, temp: 98, cold_at: 20 })).toBeCloseTo(1.2, 12);
    expect(Number(cold) / 1.2).toBeCloseTo(0.9615, 3);
  });
});

describe("the boil", () => {
  const start = { volume: 1.2, time: 75 * MINUTE, evaporation: 80 * LITRES_AN_HOUR, evaporation_share: 0 };

  test("takes away litres an hour or a share of the start an hour", () => {
    expect(call("volume_after_boil", start)).toBeCloseTo(1.1, 12);
    const share = 80 / 1200 / 3600;
    expect(call("volume_after_boil", { ...start, evaporation: 0, evaporation_share: share })).toBeCloseTo(1.1, 12);
  });

  test("keeps the extract: what it concentrates to, boil_longer finds the time for", () => {
    const gravity = Number(call("gravity_after_boil", { volume: 1.2, gravity: 0.11, volume_after: 1.1 }));
    const time = call("boil_longer", { volume: 1.2, gravity: 0.11, wanted: gravity, evaporation: 80 * LITRES_AN_HOUR });
    expect(time).toBeCloseTo(75 * MINUTE, 3);
  });

  test("conserves points times volume to about 0.3 %, extract exactly: both forms agree that far", () => {
    const gravity = Number(call("gravity_after_boil", { volume: 1, gravity: 0.11, volume_after: 0.8 }));
    const points = (share: number) => 1000 * share * (0.3871 + share * (0.127 + share * 0.0585));
    expect((points(gravity) * 0.8) / points(0.11)).toBeCloseTo(1, 2);
  });

  test("says so when it ends dry, as syrup, or cannot reach the gravity", () => {
    expect(call("volume_after_boil", { ...start, time: 3600 * 20 })).toMatch(/boils dry/);
    expect(call("gravity_after_boil", { volume: 1, gravity: 0.2, volume_after: 0 })).toMatch(/No wort is left/);
    expect(call("gravity_after_boil", { volume: 1, gravity: 0.2, volume_after: 0.05 })).toMatch(/thicker than syrup/);
    const longer = { volume: 1, gravity: 0.12, wanted: 0.13, evaporation: 80 * LITRES_AN_HOUR };
    expect(call("boil_longer", { ...longer, wanted: 0.11 })).toMatch(/dilute it/);
    expect(call("boil_longer", { ...longer, evaporation: 0 })).toMatch(/Nothing boils away/);
    expect(call("boil_longer", { ...longer, gravity: 0 })).toMatch(/never grows stronger/);
  });
});

describe("the boiling point", () => {
  test("falls with altitude and with the weather, and wort boils a little higher", () => {
    const at = (given: Partial<Record<"altitude" | "pressure" | "wort_rise", number>>) =>
      Number(call("boiling_point", { altitude: 0, pressure: 101_325, wort_rise: 0, ...given }));
    expect(at({})).toBeCloseTo(99.97, 2);
    expect(at({ altitude: 310 })).toBeCloseTo(98.94, 1);
    expect(at({ pressure: 98_500 })).toBeCloseTo(99.97 - 0.79, 1);
    expect(at({ wort_rise: 0.4 }) - at({})).toBeCloseTo(0.4, 12);
  });

  test("rests on the pressure of the air there", () => {
    const pressure = Number(call("air_pressure", { altitude: 310, pressure: 101_325 }));
    expect(call("boiling_point", { altitude: 0, pressure, wort_rise: 0 })).toBe(
      call("boiling_point", { altitude: 310, pressure: 101_325, wort_rise: 0 }),
    );
  });
});
