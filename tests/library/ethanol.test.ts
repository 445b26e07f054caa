import { describe, expect, test } from "vitest";
import {
  byMassAtDensity,
  byMassOf,
  byVolumeOf,
  ETHANOL_GRAVITY,
  ethanolWaterDensity,
} from "../../engine/library/physics/ethanol.ts";

// OIML R 22 (1973), International alcoholometric tables; Directive 76/766/EEC.
describe("alcohol and water at 20 °C", () => {
  test.each([
    ["D109", 4, 992.41, 3.181],
    ["D110", 5, 991.06, 3.982],
    ["D111", 5.5, 990.39, 4.383],
    ["D112", 6, 989.73, 4.785],
    ["D113", 10, 984.71, 8.015],
  ])("%s: %d per cent by volume weigh %d kg/m³ and are %d by mass", (_id, volume, density, mass) => {
    const byMass = byMassOf(volume / 100);
    expect(Math.abs(ethanolWaterDensity(byMass) - density)).toBeLessThan(0.01);
    expect(Math.abs(100 * byMass - mass)).toBeLessThan(0.001);
  });

  test.each([
    ["D114", 3, 0.99452, 3.773],
    ["D115", 5, 0.99116, 6.268],
    ["D116", 6, 0.98956, 7.509],
  ])("%s: %d per cent by mass have a gravity of %d and are %d by volume", (_id, mass, gravity, volume) => {
    const share = mass / 100;
    expect(Math.abs(ethanolWaterDensity(share) / ethanolWaterDensity(0) - gravity)).toBeLessThan(0.00002);
    expect(Math.abs(100 * byVolumeOf(share) - volume)).toBeLessThan(0.002);
  });

  test("D118: the gravity of pure alcohol is 0.79066", () => {
    expect(Math.abs(ETHANOL_GRAVITY - 0.79066)).toBeLessThan(0.00001);
  });

  test("is found again from volume and from density, from water to pure alcohol", () => {
    for (let share = 0; share <= 1; share += 0.05) {
      expect(byMassOf(byVolumeOf(share))).toBeCloseTo(share, 10);
      expect(byMassAtDensity(ethanolWaterDensity(share))).toBeCloseTo(share, 10);
    }
  });
});
