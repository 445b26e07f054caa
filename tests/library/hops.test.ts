import { describe, expect, test } from "vitest";
import { HOPS, isomerisationRate } from "../../engine/library/hops.ts";
import { massShare } from "../../engine/units/gravity.ts";
import type { Value } from "../../engine/values/value.ts";
import { callDirect } from "../support/call.ts";

const call = (name: string, given: Record<string, Value>) => callDirect(HOPS, name, given);

const MINUTE = 60;
const boil = { time: 60 * MINUTE, gravity: massShare(1.05), method: "Tinseth", kettle_constant: 4.15 };
const addition = { hops: 0.9, alpha: 0.11, volume: 1 };

describe("a boil addition", () => {
  test("has the bitterness of its alpha acid times its utilisation, by either method", () => {
    for (const method of ["Tinseth", "rager"]) {
      const utilisation = call("hop_utilisation", { ...boil, method });
      const bitterness = call("bitterness_from_utilisation", { ...addition, utilisation });
      expect(call("hop_bitterness", { ...boil, ...addition, method })).toBeCloseTo(Number(bitterness), 9);
      const { hops: _hops, ...rest } = addition;
      expect(call("hops_for_bitterness", { ...rest, bitterness, utilisation })).toBeCloseTo(0.9, 12);
    }
  });

  test("is a third bitterer after Rager than after Tinseth at an hour and 1.050", () => {
    const by = (method: string) => Number(call("hop_utilisation", { ...boil, method }));
    expect(by("Rager") / by("Tinseth")).toBeGreaterThan(1.3);
    expect(by("Rager") / by("Tinseth")).toBeLessThan(1.36);
  });

  test("follows the kettle's own constant", () => {
    const by = (kettle_constant: number) => Number(call("hop_utilisation", { ...boil, kettle_constant }));
    expect(by(3.5) / by(4.15)).toBeCloseTo(4.15 / 3.5, 12);
  });

  test("gives nothing after no time by Tinseth, and needs wort and alpha acid", () => {
    expect(call("hop_utilisation", { ...boil, time: 0 })).toBe(0);
    expect(call("hop_bitterness", { ...boil, ...addition, volume: 0 })).toMatch(/volume is zero/);
    expect(call("bitterness_from_utilisation", { ...addition, volume: 0, utilisation: 0.3 })).toMatch(/volume is zero/);
    expect(call("hops_for_bitterness", { bitterness: 0, alpha: 0, utilisation: 0.3, volume: 1 })).toMatch(
      /no bitterness/,
    );
  });
});

describe("isomerisation", () => {
  test("D182 runs at 0.01249 a minute at 100 °C (Malowicki and Shellhammer 2005, from memory)", () => {
    expect(Math.abs(isomerisationRate(100) - 0.01249)).toBeLessThanOrEqual(0.00003);
  });

  test("slows down as the whirlpool cools, and in time is undone", () => {
    const share = (minutes: number, temp: number) => Number(call("isomerised_share", { time: minutes * MINUTE, temp }));
    expect(share(30, 80) / share(30, 95)).toBeLessThan(0.35);
    expect(share(600, 130)).toBeLessThan(share(60, 130));
    expect(share(0, 95)).toBe(0);
  });

  test("in the whirlpool gives its share of bitterness", () => {
    const stand = { ...addition, time: 20 * MINUTE, temp: 92, recovery: 0.5 };
    const isomerised = Number(call("isomerised_share", { time: stand.time, temp: stand.temp }));
    expect(call("whirlpool_bitterness", stand)).toBeCloseTo(0.9 * 0.11 * 1000 * isomerised * 0.5, 9);
    expect(call("whirlpool_bitterness", { ...stand, volume: 0 })).toMatch(/volume is zero/);
  });
});
