import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { GRAVITY_HIGH, GRAVITY_LOW, massShare, specificGravity } from "../../engine/units/gravity.ts";
import { convert, expectClose, SEED } from "./support.ts";

/**
 * NBS Circular C440 (1942), Table 114: apparent specific gravity 20/20 °C of sucrose solutions of 0 to 30 % by mass, in whole
 * degrees (D052 to D072; the degrees between them from the same table as transcribed in the data of GNU Units 2.22).
 */
const TABLE_114 = [
  1.0, 1.0039, 1.0078, 1.01173, 1.01569, 1.01968, 1.02369, 1.02773, 1.0318, 1.0359, 1.04003, 1.04418, 1.04837, 1.05259,
  1.05683, 1.06111, 1.06542, 1.06976, 1.07413, 1.07853, 1.08297, 1.08744, 1.09194, 1.09647, 1.10104, 1.10564, 1.11027,
  1.11493, 1.11963, 1.12436, 1.12913,
];
/** What the curve promises against the table. */
const PROMISED = 0.00003;
/** What its description states. */
const STATED = 0.000017;

type Row = [id: string, figure: number, from: string, to: string, wanted: number, tolerance: number, source: string];

describe("the gravity curve", () => {
  it.each(TABLE_114.map((sg, plato) => [plato, sg] as const))(
    "gives %d °P the SG %d of NBS C440 Table 114",
    (plato, sg) => {
      expectClose(convert(plato, "°P", "SG"), sg, PROMISED);
    },
  );

  it("has the greatest error that its description states", () => {
    const errors = TABLE_114.map((sg, plato) => Math.abs(specificGravity(plato / 100) - sg));
    expect(Math.max(...errors)).toBeLessThanOrEqual(STATED);
    expect(Math.max(...errors)).toBeGreaterThan(STATED - 0.000002);
  });

  it.each<Row>([
    ["D073", 8.4, "°P", "SG", 1.03344, 0.00003, "USDA table (1.03344 at 8.4 % by mass)"],
    ["D073", 8.8, "°P", "SG", 1.03508, 0.00003, "USDA table (1.03508 at 8.8 % by mass)"],
    ["D074", 1.012, "SG", "°P", 3.07, 0.02, "inverse of C440 Table 114"],
    ["D075", 1.04, "SG", "°P", 9.99, 0.02, "inverse of C440 Table 114"],
    ["D076", 1.05, "SG", "°P", 12.39, 0.02, "inverse of C440 Table 114"],
    ["D077", 1.06, "SG", "°P", 14.74, 0.02, "inverse of C440 Table 114"],
    ["D078", 1.1, "SG", "°P", 23.77, 0.02, "inverse of C440 Table 114"],
    ["D088", 1.048, "SG", "GU", 48, 1e-9, "definition"],
    ["D088", 1.075, "SG", "°Oe", 75, 1e-9, "definition"],
    ["D089", 1.05, "SG", "°Bé", 6.905, 0.001, "NBS C440, modulus 145"],
    ["D309", 12.5, "°P", "SG", 1.05048, 0.00003, "between 12 and 13 °P of C440 Table 114"],
    ["degrees Brix by density", 12, "°Bx", "°P", 12, 1e-12, "C440: both are mass share"],
  ])("%s: %d %s is %d in %s (%s; %s)", (_id, figure, from, to, wanted, tolerance) => {
    expectClose(convert(figure, from, to), wanted, tolerance);
  });

  it("has an exact inverse where it holds and far beyond", () => {
    fc.assert(
      fc.property(fc.double({ min: -1, max: 2, noNaN: true }), (share) => {
        expect(Math.abs(massShare(specificGravity(share)) - share)).toBeLessThan(1e-12);
      }),
      { seed: SEED, numRuns: 2000 },
    );
    fc.assert(
      fc.property(fc.double({ min: 0.95, max: 1.15, noNaN: true }), (gravity) => {
        expect(Math.abs(specificGravity(massShare(gravity)) - gravity)).toBeLessThan(1e-12);
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });

  it("rises strictly from the driest beer to syrup and beyond", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -100, max: 100, noNaN: true }),
        fc.double({ min: 1e-6, max: 1, noNaN: true }),
        (share, more) => {
          expect(specificGravity(share + more)).toBeGreaterThan(specificGravity(share));
        },
      ),
      { seed: SEED, numRuns: 2000 },
    );
  });

  it("stays finite for whatever a person may type", () => {
    for (const gravity of [-1e12, -1, 0, 0.5, 1, 2, 1000, 1e15])
      expect(Number.isFinite(massShare(gravity)), `${gravity}`).toBe(true);
  });

  it("holds from -2 to 30 °P", () => {
    expect([GRAVITY_LOW, GRAVITY_HIGH]).toEqual([-0.02, 0.3]);
  });

  it("gives water exactly 0 °P and SG 1", () => {
    expect([massShare(1), specificGravity(0)]).toEqual([0, 1]);
  });
});
