import { describe, expect, test } from "vitest";
import { MASH } from "../../engine/library/mash.ts";
import type { Value } from "../../engine/values/value.ts";
import { callDirect } from "../support/call.ts";

const call = (name: string, given: Record<string, Value>) => callDirect(MASH, name, given);

const tun = {
  grain: 212,
  water: 0.64,
  grain_temp: 16,
  water_metered_at: 20,
  malt_specific_heat: 0.41,
  slaking: 0,
  tun_heat: 0,
  tun_temp: 20,
};
const step = {
  temp: 63,
  wanted: 72,
  grain: 212,
  water: 0.64,
  liquor_temp: 98,
  water_metered_at: 20,
  tun_heat: 0,
  malt_specific_heat: 0.41,
};

describe("mashing in", () => {
  test("rests where its strike water was reckoned for, whatever the tun and the malt bring", () => {
    for (const more of [
      {},
      { slaking: 1.7 },
      { tun_heat: 90e3, tun_temp: 12 },
      { water_metered_at: 76, malt_specific_heat: 0.38 },
    ]) {
      const strike = call("strike_temperature", { ...tun, ...more, rest: 66.5 });
      expect(call("rest_temperature", { ...tun, ...more, strike })).toBeCloseTo(66.5, 9);
    }
  });

  test("needs hotter water when the volume was metered hot, for there is less of it", () => {
    const cold = Number(call("strike_temperature", { ...tun, rest: 66.5 }));
    const hot = Number(call("strike_temperature", { ...tun, rest: 66.5, water_metered_at: 76 }));
    expect(hot - cold).toBeGreaterThan(0.1);
    expect(hot - cold).toBeLessThan(0.3);
  });

  test("is not the 3 °C too cold that the figure 0.2 gives when it is taken from quarts and pounds to litres and kilograms", () => {
    const strike = Number(call("strike_temperature", { ...tun, grain: 1, water: 3e-3, grain_temp: 18, rest: 66 }));
    expect(strike - ((0.2 / 3) * 48 + 66)).toBeGreaterThan(3);
  });

  test("never ends hotter than both of its ingredients when nothing slakes", () => {
    const rest = Number(call("rest_temperature", { ...tun, strike: 60, grain_temp: 30 }));
    expect(rest).toBeGreaterThan(30);
    expect(rest).toBeLessThan(60);
  });

  test("says so when the water would have to boil, freeze, or is not there", () => {
    expect(call("strike_temperature", { ...tun, water: 0.15, rest: 72 })).toMatch(/hotter than boiling/);
    expect(call("strike_temperature", { ...tun, grain_temp: 60, rest: 20, water: 0.06 })).toMatch(/have to be ice/);
    expect(call("strike_temperature", { ...tun, water: 0, rest: 66 })).toMatch(/no strike water/);
    expect(call("rest_temperature", { ...tun, grain: 0, water: 0, strike: 70 })).toMatch(/neither malt nor water/);
  });
});

describe("raising a mash", () => {
  test("by infusion comes to the next rest", () => {
    const added = Number(call("infusion_volume", step));
    const mash = 212 * 0.41 + 0.64 * 998.2041;
    const liquor = added * 998.2041;
    expect((mash * 63 + liquor * 98) / (mash + liquor)).toBeCloseTo(72, 4);
  });

  test("by infusion needs liquor that is hotter than the rest", () => {
    expect(call("infusion_volume", { ...step, liquor_temp: 72 })).toMatch(/never gets there/);
    expect(call("infusion_volume", { ...step, wanted: 60 })).toMatch(/cannot cool/);
  });

  test("by decoction comes to the next rest", () => {
    const share = Number(call("decoction_share", { temp: 52, wanted: 65, returns_at: 99 }));
    expect(share * 99 + (1 - share) * 52).toBeCloseTo(65, 9);
    expect(call("decoction_share", { temp: 52, wanted: 65, returns_at: 65 })).toMatch(/never gets there/);
    expect(call("decoction_share", { temp: 65, wanted: 52, returns_at: 99 })).toMatch(/cannot cool/);
  });
});

describe("the malt table", () => {
  test("is read along straight lines and held at its end", () => {
    expect(call("malt_specific_heat", { moisture: 0.05 })).toBeCloseTo(0.405, 12);
    expect(call("slaking_rise", { moisture: 0.02 })).toBeCloseTo(2.4, 12);
    expect(call("slaking_rise", { moisture: 0.12 })).toBe(1.1);
  });
});

describe("lautering", () => {
  test("runs off and sparges up to the kettle with no litre lost", () => {
    const lauter = { grain: 212, water: 0.64, absorption: 1e-3, dead_space: 0.02 };
    const first = Number(call("first_runnings", lauter));
    const sparge = Number(call("sparge_volume", { ...lauter, kettle_volume: 1.1 }));
    expect(first + sparge).toBeCloseTo(1.1, 12);
    expect(call("grain_absorption", { grain: 212, absorption: 1e-3 })).toBeCloseTo(0.212, 12);
    expect(call("mash_volume", { grain: 212, water: 0.64, displacement: 0.67e-3 })).toBeCloseTo(0.78204, 9);
  });

  test("says so when nothing runs off or no sparge water is needed", () => {
    expect(call("first_runnings", { grain: 212, water: 0.2, absorption: 1e-3, dead_space: 0 })).toMatch(
      /nothing runs off/,
    );
    expect(
      call("sparge_volume", { grain: 20, water: 0.64, absorption: 1e-3, dead_space: 0, kettle_volume: 0.5 }),
    ).toMatch(/no sparge water/);
  });
});
