import { describe, it } from "vitest";
import { convert, expectClose } from "./support.ts";

type Check = readonly [
  id: string,
  figure: number,
  from: string,
  to: string,
  wanted: number,
  tolerance: number | "exact",
  source: string,
];

const POUND = "International yard and pound agreement 1959 (US EIA, Monthly Energy Review, table B1)";
const SP811 = "NIST SP 811 (2008), appendix B";
const UK = "UK Weights and Measures Act 1985";

/** Published factors. `exact` is by definition. */
const CHECKS: readonly Check[] = [
  ["D001", 1, "US gal", "L", 3.785411784, "exact", "27 CFR 7.10"],
  ["D002", 1, "imp gal", "L", 4.54609, "exact", UK],
  ["D003", 1, "US fl oz", "mL", 29.5735295625, "exact", SP811],
  ["D004", 1, "US qt", "L", 0.946352946, "exact", SP811],
  ["D005", 1, "imp pt", "mL", 568.26125, "exact", UK],
  ["D006", 1, "US bbl", "L", 117.347765304, "exact", "27 CFR 25.156"],
  ["D007", 1, "UK bbl", "L", 163.65924, "exact", UK],
  ["D008", 1, "firkin", "L", 40.91481, "exact", UK],
  ["D009 (half-barrel keg)", 15.5, "US gal", "L", 58.673882652, "exact", SP811],
  ["D010", 1, "lb", "kg", 0.45359237, "exact", POUND],
  ["D011", 1, "oz", "g", 28.349523125, "exact", POUND],
  ["D012", 1, "short ton", "kg", 907.18474, "exact", POUND],
  ["D013", 1, "q", "kg", 100, "exact", SP811],
  ["D014", 1, "UK cwt", "kg", 50.80234544, "exact", SP811],
  ["D015", 1, "psi", "Pa", 6894.757293168, 6894.757293168e-9, SP811],
  ["D016", 1, "bar", "psi", 14.503773773, 14.503773773e-9, SP811],
  ["D017", 1, "atm", "kPa", 101.325, "exact", SP811],
  ["D018", 1, "inHg", "Pa", 3386.389, 0.001, SP811],
  ["D019", 1, "Btu", "J", 1055.05585262, "exact", SP811],
  ["D020", 1, "kcal", "J", 4184, "exact", SP811],
  ["D021", 1, "kWh", "MJ", 3.6, "exact", SP811],
  ["D022 (inch)", 1, "inch", "mm", 25.4, "exact", SP811],
  ["D022 (cubic foot)", 1, "ft³", "L", 28.316846592, "exact", SP811],
  ["D023", 1, "US qt/lb", "L/kg", 2.086351113, 1e-9, "computed from the definitions"],
  ["D024", 1, "lb/US bbl", "kg/hL", 0.3865368623, 1e-9, "computed from the definitions"],
  ["D025", 1, "oz/US gal", "g/L", 7.489151707, 1e-9, "computed from the definitions"],
  ["D026", 1, "gr/US gal", "mg/L", 17.118061, 1e-6, "computed from the definitions"],
  ["D027 (grain per imperial gallon)", 1, "gr/imp gal", "mg/L", 14.253768, 1e-6, "computed from the definitions"],
  ["D028", 212, "°F", "°C", 100, "exact", SP811],
  ["D028", 68, "°F", "°C", 20, "exact", SP811],
  ["D028", -40, "°F", "°C", -40, "exact", SP811],
  ["D028 (back)", 100, "°C", "°F", 212, "exact", SP811],
  ["D028 (kelvin)", 20, "°C", "K", 293.15, "exact", SP811],
  ["D029", 18, "Δ°F", "ΔK", 10, "exact", SP811],
  ["D030", 5, "Δ°C", "Δ°F", 9, "exact", SP811],
  ["D032", 1, "bu malt", "kg", 15.42214058, "exact", "common practice, no source (34 lb)"],
  ["D186", 10, "SRM", "EBC", 19.7, 0.05, "ASBC Beer-10 and EBC 9.6"],
  ["D187", 40, "°L", "SRM", 53.4, 0.1, "ASBC Beer-10"],
  ["D191 (lb/US gal)", 1, "lb/US gal", "kg/L", 0.1198, 0.0001, "computed from the definitions"],
  ["kilderkin", 1, "kilderkin", "imp gal", 18, "exact", UK],
  ["hogshead", 1, "UK hogshead", "imp gal", 54, "exact", UK],
  ["stone", 1, "stone", "lb", 14, "exact", UK],
  ["long ton", 1, "long ton", "lb", 2240, "exact", UK],
  ["US hundredweight", 1, "US cwt", "lb", 100, "exact", SP811],
  ["imperial fluid ounce", 160, "imp fl oz", "imp gal", 1, "exact", UK],
  ["imperial quart", 4, "imp qt", "imp gal", 1, "exact", UK],
  ["US pint", 8, "US pt", "US gal", 1, "exact", SP811],
  ["US gallon", 231, "inch³", "US gal", 1, "exact", "27 CFR 7.10"],
  ["litre", 1, "dm³", "L", 1, "exact", "SI Brochure"],
  ["millilitre", 1, "cm³", "mL", 1, "exact", "SI Brochure"],
  ["grain", 7000, "gr", "lb", 1, "exact", POUND],
  ["metric horsepower does not stand in", 1, "hp", "W", 745.6999, 0.0001, SP811],
  ["inch of water", 1, "inH2O", "Pa", 249.0889, 0.0001, SP811],
  ["millimetre of mercury", 1, "mmHg", "Pa", 133.3224, 0.0001, SP811],
  ["D241", 1, "°dH", "mg/L CaCO3", 17.848, 0.001, "DIN 38409-6"],
  ["D242", 1, "°fH", "mg/L CaCO3", 10, "exact", "definition"],
  ["D242", 1, "°fH", "°dH", 0.56, 0.005, "definition"],
  ["D242", 1, "°fH", "mEq/L", 0.2, 0.005, "definition"],
  ["Clark degree", 1, "°Clark", "mg/L CaCO3", 14.253768, 1e-6, "grain per imperial gallon"],
  ["ppm as the trade says it", 1, "ppm", "mg/L", 1, "exact", "common practice, no source"],
  ["ppb as the trade says it", 1, "ppb", "µg/L", 1, "exact", "common practice, no source"],
];

describe("a published factor", () => {
  it.each(CHECKS)("%s: %d %s in %s is %d (tolerance %s; %s)", (_id, figure, from, to, wanted, tolerance) => {
    expectClose(convert(figure, from, to), wanted, tolerance);
  });
});

describe("a difference added to a reading", () => {
  it("D031: 150 °F and 5 Δ°C make 159 °F (computed)", () => {
    const inCelsius = convert(150, "°F", "°C") + convert(5, "Δ°C", "ΔK");
    expectClose(convert(inCelsius, "°C", "°F"), 159, "exact");
  });
});
