import { expect, describe as group, it } from "vitest";
import { CATALOGUE } from "../../engine/units/catalogue.ts";
import { dimension } from "../../engine/units/dimension.ts";
import { describe, KIND_NAMES, kindName } from "../../engine/values/describe.ts";
import { INSTANT, NUMBER, quantity, reading, TEXT, TRUTH } from "../../engine/values/kind.ts";
import { compound, unit } from "./support.ts";

const nameOf = (text: string): string => {
  const of = unit(text);
  return kindName(
    of.is === "compound"
      ? quantity(of.dimension)
      : typeof of.reads === "string"
        ? reading(of.reads)
        : quantity(of.reads),
  );
};

group("a kind", () => {
  it.each([
    ["kg", "mass"],
    ["L/kg", "volume per mass"],
    ["°C", "temperature"],
    ["Δ°C", "temperature difference"],
    ["°P", "gravity"],
    ["Δ°P", "gravity difference"],
    ["psi", "pressure"],
    ["psia", "absolute pressure"],
    ["%", "number"],
    ["mg/L", "mass per volume"],
    ["mg/L CaCO3", "hardness"],
    ["CAD", "money"],
    ["EUR/hL", "money per volume"],
    ["CAD/kg", "money per mass"],
    ["IBU", "bitterness"],
    ["°L", "colour"],
    ["cells/mL/°P", "pitching rate"],
    ["kJ/kg/K", "specific heat"],
  ])("of %s is called %s", (text, name) => {
    expect(nameOf(text)).toBe(name);
    expect(KIND_NAMES).toContain(name);
  });

  it("without a name is told by its base dimensions", () => {
    expect(kindName(quantity(dimension({ mass: 1, length: -4 })))).toBe("mass · length^-4");
    expect(kindName(quantity(dimension({ "currency:CAD": 1, "currency:EUR": -1 })))).toBe("CAD · EUR^-1");
  });

  it("is described with the unit it is shown in", () => {
    expect([
      describe(quantity(compound("kg").dimension), compound("kg")),
      describe(NUMBER, compound("%")),
      describe(NUMBER, null),
    ]).toEqual(["Mass (kg)", "A number (%)", "A number"]);
    expect([TEXT, TRUTH, INSTANT].map((kind) => describe(kind, null))).toEqual(["A text", "A condition", "A time"]);
    expect(describe(reading("pH"), unit("pH"))).toBe("pH");
  });

  it("of every catalogued unit has a name of its own", () => {
    for (const of of CATALOGUE) {
      const kind =
        of.is === "linear"
          ? quantity(of.dimension)
          : typeof of.reads === "string"
            ? reading(of.reads)
            : quantity(of.reads);
      expect(KIND_NAMES, of.symbol).toContain(kindName(kind));
    }
  });
});
