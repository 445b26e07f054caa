import { describe, expect, test } from "vitest";
import { ACIDS, type Composition, molarMass, protonsGiven, SALTS } from "../../engine/library/physics/chemistry.ts";
import { WATER } from "../../engine/library/water.ts";
import type { Value } from "../../engine/values/value.ts";
import { callDirect } from "../support/call.ts";

const call = (name: string, given: Record<string, Value>) => callDirect(WATER, name, given);
const named = (name: string): Composition => {
  const row = [...SALTS, ...ACIDS].find((one) => one.name === name);
  if (!row) throw new Error(`no ${name}`);
  return row.composition;
};
/** One mg/L in kg/m³; one mg/L as CaCO3 in Eq/m³. */
const MG_L = 1e-3;
const CACO3 = 2 / molarMass({ Ca: 1, C: 1, O: 3 }) / 1000;

describe("molar masses", () => {
  /** D219 to D226: stoichiometry with IUPAC 2021 abridged atomic weights. */
  test.each([
    ["D219", "gypsum", 172.16],
    ["D220", "calcium chloride dihydrate", 147.01],
    ["D221", "Epsom salt", 246.47],
    ["D222", "sodium bicarbonate", 84.01],
    ["D223", "chalk", 100.09],
    ["D224", "slaked lime", 74.09],
    ["D225", "lactic", 90.08],
    ["D226", "phosphoric", 97.99],
  ])("%s of %s is %s g/mol", (_id, name, expected) => {
    expect(Math.abs(molarMass(named(name)) * 1000 - expected)).toBeLessThanOrEqual(0.02);
  });
});

describe("salts", () => {
  test("carry no more charge than they cancel", () => {
    for (const salt of SALTS)
      expect([salt.name, salt.brings.reduce((sum, [ion, moles]) => sum + ion.charge * moles, 0)]).toEqual([
        salt.name,
        0,
      ]);
  });

  test("give back the rise for which they were weighed", () => {
    for (const salt of SALTS)
      for (const [ion] of salt.brings) {
        const mass = call("salt_for_ion", { salt: salt.name, ion: ion.name, rise: 40 * MG_L, volume: 0.64 });
        expect(call("ions_from_salt", { salt: salt.name, ion: ion.name, mass, volume: 0.64 })).toBeCloseTo(
          40 * MG_L,
          12,
        );
      }
  });

  test("of different hydrates differ by a third in calcium: the trap of the unnamed calcium chloride", () => {
    const share = (salt: string) => Number(call("ion_share", { salt, ion: "calcium" }));
    expect(share("calcium chloride anhydrous") / share("calcium chloride dihydrate")).toBeCloseTo(1.325, 3);
    expect(share("calcium sulphate anhydrous") / share("gypsum")).toBeCloseTo(1.265, 3);
  });

  test("are found whatever the case they are typed in", () => {
    expect(call("ion_share", { salt: "EPSOM SALT", ion: "Magnesium" })).toBeCloseTo(0.0986, 4);
  });

  test("that lack an ion raise it by nothing, and cannot be asked to", () => {
    expect(call("ions_from_salt", { salt: "gypsum", ion: "chloride", mass: 1, volume: 1 })).toBe(0);
    expect(call("salt_for_ion", { salt: "gypsum", ion: "chloride", rise: 0.04, volume: 1 })).toBe(
      "gypsum brings no chloride: choose a salt that does.",
    );
  });

  test("need water to go into", () => {
    expect(call("ions_from_salt", { salt: "gypsum", ion: "calcium", mass: 1, volume: 0 })).toMatch(
      /volume of water is zero/,
    );
  });
});

describe("residual alkalinity", () => {
  test("uses one equivalent unit: 3.5 and 7 of hardness are 1.40 and 1.70 of the ions", () => {
    const left =
      Number(call("residual_alkalinity", { alkalinity: 150 * CACO3, calcium: 100 * MG_L, magnesium: 20 * MG_L })) /
      CACO3;
    expect(left).toBeCloseTo(150 - 100 / 1.4016 - 20 / 1.7, 1);
  });
});

describe("a water report", () => {
  const report = {
    calcium: 60,
    magnesium: 8,
    sodium: 12,
    bicarbonate: 150,
    sulphate: 45,
    chloride: 20,
    potassium: 2,
    nitrate: 10,
  };
  const inKilograms = (over: Partial<typeof report>) =>
    Object.fromEntries(Object.entries({ ...report, ...over }).map(([ion, figure]) => [ion, figure * MG_L]));

  test("that was read carefully balances within 5 %", () => {
    expect(Math.abs(Number(call("ion_balance", inKilograms({}))))).toBeLessThan(0.05);
  });

  test("whose sulphate is told as sulphur does not balance", () => {
    expect(Number(call("ion_balance", inKilograms({ sulphate: 145 / 3, bicarbonate: 20 })))).toBeGreaterThan(0.05);
  });

  test("without any ion cannot balance", () => {
    const none = Object.fromEntries(Object.keys(report).map((ion) => [ion, 0]));
    expect(call("ion_balance", none)).toMatch(/no ions at all/);
  });

  test("that is blended lies between the two waters", () => {
    expect(call("blended_ion", { first_volume: 3, first: 0.1, second_volume: 1, second: 0.02 })).toBeCloseTo(0.08, 12);
    expect(call("blended_ion", { first_volume: 0, first: 0.1, second_volume: 0, second: 0 })).toMatch(
      /no water to mix/,
    );
  });

  test("tells bicarbonate and alkalinity there and back", () => {
    const alkalinity = call("alkalinity_from_bicarbonate", { bicarbonate: 0.183 });
    expect(call("bicarbonate_from_alkalinity", { alkalinity })).toBeCloseTo(0.183, 12);
  });
});

describe("acid", () => {
  const acid = (name: string) => {
    const row = ACIDS.find((one) => one.name === name);
    if (!row) throw new Error(`no ${name}`);
    return row;
  };

  test("gives 97 % of its proton at pH 5.4 as lactic, just over one of three as phosphoric, all as hydrochloric and sulphuric", () => {
    expect(protonsGiven(acid("lactic"), 5.4)).toBeCloseTo(0.972, 3);
    expect(protonsGiven(acid("phosphoric"), 5.4)).toBeCloseTo(1.015, 3);
    expect(protonsGiven(acid("hydrochloric"), 5.4)).toBeCloseTo(1, 6);
    expect(protonsGiven(acid("sulphuric"), 5.4)).toBeCloseTo(2, 3);
  });

  const dose = { alkalinity: 100 * CACO3, left: 0, volume: 1, acid: "lactic", strength: 0.88, density: 1206, ph: 5.4 };

  test("is dosed for what shall go, not for what may stay", () => {
    const all = Number(call("acid_for_alkalinity", dose));
    expect(call("acid_for_alkalinity", { ...dose, left: 75 * CACO3 })).toBeCloseTo(all / 4, 12);
  });

  test("cannot leave more alkalinity than there is, nor work without strength", () => {
    expect(call("acid_for_alkalinity", { ...dose, left: 101 * CACO3 })).toMatch(/no acid does that/);
    expect(call("acid_for_alkalinity", { ...dose, strength: 0 })).toMatch(/no strength/);
  });
});
