import { describe, expect, test } from "vitest";
import { HEAT } from "../../engine/library/heat.ts";
import type { Value } from "../../engine/values/value.ts";
import { callDirect } from "../support/call.ts";

const call = (name: string, given: Record<string, Value>) => callDirect(HEAT, name, given);

const WATER = 4184;

describe("heat", () => {
  const warm = { mass: 640, temp: 12, wanted: 76, specific_heat: WATER };

  test("arrives in the time that power and efficiency allow", () => {
    const heat = Number(call("heat_to_warm", warm));
    const time = Number(call("time_to_heat", { ...warm, power: 30e3, efficiency: 0.9 }));
    expect(time * 30e3 * 0.9).toBeCloseTo(heat, 3);
  });

  test("that is taken away is the heat that was put in", () => {
    const load = Number(call("cooling_load", { mass: 640, temp: 76, wanted: 12, time: 3600, specific_heat: WATER }));
    expect(load * 3600).toBeCloseTo(Number(call("heat_to_warm", warm)), 3);
  });

  test("passes from wort to cooling water without loss", () => {
    const cooler = { mass: 1000, temp: 95, wanted: 18, water_in: 12, water_out: 75, specific_heat: 4000 };
    const litres = Number(call("cooling_water", cooler)) * 1000;
    expect(litres).toBeCloseTo((1000 * 4000 * 77) / (WATER * 63) / 0.9995, 0);
  });

  test("is kept when two masses mix", () => {
    const mix = {
      first_mass: 100,
      first_temp: 85,
      second_mass: 300,
      second_temp: 15,
      first_specific_heat: WATER,
      second_specific_heat: WATER,
    };
    expect(call("blend_temperature", mix)).toBeCloseTo(32.5, 9);
    expect(call("blend_temperature", { ...mix, first_mass: 0, second_mass: 0 })).toMatch(/nothing to mix/);
  });

  test("condenses as much steam as it boils off", () => {
    const flow = Number(call("steam_flow", { power: 50e3, temp: 121 }));
    expect(call("heat_to_boil_off", { mass: flow, temp: 121 })).toBeCloseTo(50e3, 6);
    expect(call("heat_of_evaporation", { temp: 121 })).toBeCloseTo(50e3 / flow, 3);
  });

  test("does not flow uphill, out of no power, or in no time", () => {
    expect(call("heat_to_warm", { ...warm, wanted: 10 })).toMatch(/cooling_load/);
    expect(call("time_to_heat", { ...warm, wanted: 10, power: 1, efficiency: 1 })).toMatch(/heater cannot/);
    expect(call("time_to_heat", { ...warm, power: 0, efficiency: 1 })).toMatch(/no power/);
    expect(call("cooling_load", { mass: 1, temp: 4, wanted: 20, time: 1, specific_heat: WATER })).toMatch(
      /heat_to_warm/,
    );
    expect(call("cooling_load", { mass: 1, temp: 20, wanted: 4, time: 0, specific_heat: WATER })).toMatch(/no time/);
    const cooler = { mass: 1, temp: 95, wanted: 18, water_in: 12, water_out: 75, specific_heat: 4000 };
    expect(call("cooling_water", { ...cooler, wanted: 99 })).toMatch(/not cooling/);
    expect(call("cooling_water", { ...cooler, water_out: 12 })).toMatch(/takes no heat/);
    expect(call("cooling_water", { ...cooler, water_out: 97 })).toMatch(/hotter than the wort/);
    expect(call("cooling_water", { ...cooler, wanted: 10 })).toMatch(/below its own/);
  });
});

describe("steam", () => {
  test("at 15 psi on the gauge is at 121 °C, and 204.8 kPa absolute", () => {
    expect(Number(call("steam_pressure", { temp: 121.0 })) / 1000).toBeCloseTo(204.8, 0);
  });

  test("comes from water of 4.18 to 4.22 kJ/(kg K)", () => {
    expect(call("specific_heat_of_water", { temp: 20 })).toBeCloseTo(4184.5, 0);
  });
});
