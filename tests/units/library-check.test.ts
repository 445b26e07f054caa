import { unit as general } from "mathjs";
import { describe, expect, it } from "vitest";
import { LINEAR_UNITS } from "../../engine/units/catalogue.ts";

/**
 * The catalogue beside the general-purpose library mathjs 15: its name for each unit that it knows. `rounds` is the relative
 * amount by which the library itself rounds the published definition; everything else must agree to float64.
 */
const KNOWN: Readonly<Record<string, readonly [name: string, rounds?: number]>> = {
  kg: ["kg"],
  g: ["g"],
  mg: ["mg"],
  µg: ["ug"],
  t: ["tonne"],
  lb: ["lbm"],
  oz: ["ounce"],
  gr: ["grain"],
  stone: ["stone"],
  "US cwt": ["hundredweight"],
  "short ton": ["ton"],
  m: ["m"],
  dm: ["dm"],
  cm: ["cm"],
  mm: ["mm"],
  µm: ["um"],
  km: ["km"],
  inch: ["inch"],
  ft: ["foot"],
  yd: ["yard"],
  L: ["L"],
  mL: ["mL"],
  cL: ["cL"],
  dL: ["dL"],
  hL: ["hL"],
  µL: ["uL"],
  "US gal": ["gallon"],
  "US qt": ["quart"],
  "US pt": ["pint"],
  "US fl oz": ["fluidounce"],
  "US bbl": ["beerbarrel"],
  s: ["s"],
  min: ["minute"],
  h: ["hour"],
  day: ["day"],
  week: ["week"],
  Pa: ["Pa"],
  mPa: ["mPa"],
  hPa: ["hPa"],
  kPa: ["kPa"],
  MPa: ["MPa"],
  mbar: ["mbar"],
  bar: ["bar"],
  // 6894.75729276459 Pa; NIST SP 811 has 6894.757293168.
  psi: ["psi", 1e-10],
  atm: ["atm"],
  // 133.322 Pa; the conventional value is 133.322387415.
  mmHg: ["mmHg", 3e-6],
  J: ["J"],
  kJ: ["kJ"],
  MJ: ["MJ"],
  GJ: ["GJ"],
  Wh: ["Wh"],
  kWh: ["kWh"],
  MWh: ["MWh"],
  Btu: ["BTU"],
  W: ["W"],
  kW: ["kW"],
  MW: ["MW"],
  // 745.6998715386 W; 550 ft·lbf/s is 745.69987158227.
  hp: ["hp", 1e-10],
  N: ["N"],
  kN: ["kN"],
  lbf: ["lbf"],
  mol: ["mol"],
  mmol: ["mmol"],
  µmol: ["umol"],
};

/** What the library does not know, so that a new unit is checked or listed here. Currencies are left out: their factor is 1. */
const UNKNOWN_THERE = [
  ...["q", "UK cwt", "long ton", "Ztr", "bu malt", "qr malt"],
  ...["imp gal", "imp qt", "imp pt", "imp fl oz", "UK bbl", "firkin", "kilderkin", "UK hogshead"],
  ...["rpm", "Δ°C", "ΔK", "Δ°F", "inHg", "inH2O", "kcal", "cP"],
  ...["%", "‰", "ppm", "ppb", "Eq", "mEq", "mg/L CaCO3", "°dH", "°fH", "°Clark", "IBU", "SRM", "EBC", "Δ°P", "ΔpH"],
  ...["cells", "Mcells", "Gcells", "% vol", "% mass", "vol", "PU", "°Lintner"],
];

/** Where the library only divides or multiplies in another order. */
const FLOAT_NOISE = 4e-16;

const isCurrency = (symbol: string): boolean =>
  /^[A-Z]{3}$/.test(symbol) && symbol !== "IBU" && symbol !== "SRM" && symbol !== "EBC";

describe("the catalogue beside a general-purpose library", () => {
  it("is checked unit by unit, or said to be unknown there", () => {
    const here = LINEAR_UNITS.map(({ symbol }) => symbol).filter((symbol) => !isCurrency(symbol));
    expect([...Object.keys(KNOWN), ...UNKNOWN_THERE].sort()).toEqual([...here].sort());
  });

  it.each(Object.entries(KNOWN))("has the same %s (there: %s)", (symbol, [name, rounds = 0]) => {
    const ours = LINEAR_UNITS.find((unit) => unit.symbol === symbol)?.factor ?? Number.NaN;
    // Its numbers in SI base units, whatever the unit is made of.
    const theirs = Number(general(1, name).toSI().toNumeric());
    expect(Math.abs(ours / theirs - 1)).toBeLessThanOrEqual(rounds + FLOAT_NOISE);
    if (rounds > 0) expect(Math.abs(ours / theirs - 1), "say no longer that it rounds").toBeGreaterThan(FLOAT_NOISE);
  });

  it("has the currencies in use of ISO 4217 as the Unicode CLDR lists them", () => {
    const current = new Set(Intl.supportedValuesOf("currency"));
    const ours = LINEAR_UNITS.map(({ symbol }) => symbol).filter(isCurrency);
    // Amended after the CLDR of the oldest Node that is supported: VED beside VES in 2021, XCG for ANG in 2025, ZWG in 2024.
    expect(ours.filter((code) => !current.has(code) && !["VED", "XCG", "ZWG"].includes(code))).toEqual([]);
    // The CLDR gives former currencies their years: what has none there is in use, but for these withdrawn ones and funds.
    const names = new Intl.DisplayNames("en", { type: "currency" });
    const inUse = [...current].filter((code) => !/\d{4}/.test(names.of(code) ?? ""));
    const left = ["ANG", "BGN", "CUC", "HRK", "XDR", "XSU"];
    expect(inUse.filter((code) => !ours.includes(code) && !left.includes(code))).toEqual([]);
  });

  it("has each currency's minor unit as the Unicode CLDR has it for accounts", () => {
    const isoDecimals = new Map([
      ["ISK", 0],
      ["UYU", 2],
    ]);
    for (const code of ["EUR", "USD", "GBP", "CAD", "JPY", "KWD", "CLP", "TND", "CHF", ...isoDecimals.keys()]) {
      const decimals = new Intl.NumberFormat("en", { style: "currency", currency: code }).resolvedOptions()
        .maximumFractionDigits;
      expect(LINEAR_UNITS.find(({ symbol }) => symbol === code)?.decimals, code).toBe(decimals);
    }
  });
});
