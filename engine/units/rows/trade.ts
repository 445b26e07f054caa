import { DIMENSIONLESS, dimension } from "../dimension.ts";
import type { LinearUnit } from "../unit.ts";
import { COLOUR, CONCENTRATION, DIASTATIC_POWER, EXTRACT, HARDNESS, row, SI, SP811, TRADE } from "./row.ts";

/** Molar masses in g/mol, IUPAC abridged atomic weights 2021: Ca 40.078, C 12.011, O 15.999. */
const CALCIUM_CARBONATE = 40.078 + 12.011 + 3 * 15.999;
const CALCIUM_OXIDE = 40.078 + 15.999;
/** Equivalents per m³ in 1 mg/L of a substance that carries two per mole. */
const equivalents = (molarMass: number): number => 2 / molarMass;

export const SHARES: readonly LinearUnit[] = [
  row("%", ["percent", "per cent", "pct"], DIMENSIONLESS, 0.01, 1, SP811),
  row("‰", ["permille", "per mille"], DIMENSIONLESS, 0.001, 2, SP811),
];

/** `ppm` and `ppb` as the trade says them: mg/L and µg/L. */
export const CONCENTRATIONS: readonly LinearUnit[] = [
  row("ppm", [], CONCENTRATION, 1e-3, 1, `${TRADE} (in dilute water, mg/L)`),
  row("ppb", [], CONCENTRATION, 1e-6, 1, `${TRADE} (in dilute water, µg/L)`),
];

export const AMOUNTS: readonly LinearUnit[] = [
  row("mol", ["mole", "moles", "mols"], dimension({ amount: 1 }), 1, 2, SI),
  row("mmol", ["millimole", "millimoles"], dimension({ amount: 1 }), 1e-3, 2, SI),
  row("µmol", ["umol", "micromole", "micromoles"], dimension({ amount: 1 }), 1e-6, 1, SI),
  row("Eq", [], dimension({ equivalent: 1 }), 1, 2, "IUPAC Gold Book, equivalent entity"),
  row(
    "mEq",
    ["meq", "milliequivalent", "milliequivalents", "mval"],
    dimension({ equivalent: 1 }),
    1e-3,
    2,
    "IUPAC Gold Book, equivalent entity",
  ),
];

const ATOMIC = "IUPAC abridged atomic weights 2021";

/** Hardness and alkalinity: equivalents per volume, Eq/m³ (the same figure as mEq/L). */
export const HARDNESSES: readonly LinearUnit[] = [
  row(
    "mg/L CaCO3",
    ["mg/l CaCO3", "mg/L CaCO₃", "mg/L as CaCO3", "ppm CaCO3", "ppm as CaCO3"],
    HARDNESS,
    equivalents(CALCIUM_CARBONATE),
    1,
    ATOMIC,
  ),
  row(
    "°dH",
    ["ºdH", "degdH", "dH", "°DH", "German degree", "German degrees"],
    HARDNESS,
    10 * equivalents(CALCIUM_OXIDE),
    1,
    `DIN 38409-6 (10 mg/L CaO); ${ATOMIC}`,
  ),
  row(
    "°fH",
    ["degfH", "fH", "French degree", "French degrees"],
    HARDNESS,
    10 * equivalents(CALCIUM_CARBONATE),
    1,
    `10 mg/L CaCO3; ${ATOMIC}`,
  ),
  row(
    "°Clark",
    ["degClark", "Clark", "Clark degree", "Clark degrees", "°e", "English degree", "English degrees"],
    HARDNESS,
    (64.79891 / 4.54609) * equivalents(CALCIUM_CARBONATE),
    1,
    `grain of CaCO3 per imperial gallon; ${ATOMIC}`,
  ),
];

export const BITTERNESS_AND_COLOUR: readonly LinearUnit[] = [
  row(
    "IBU",
    ["IBUs", "EBU", "EBUs"],
    dimension({ bitterness: 1 }),
    1,
    1,
    "ASBC Methods of Analysis, Beer-23; EBC Analytica 9.8",
  ),
  row("SRM", ["°SRM"], COLOUR, 1, 1, "ASBC Methods of Analysis, Beer-10 (12.7 × A430)"),
  row("EBC", ["°EBC"], COLOUR, 12.7 / 25, 1, "EBC Analytica 9.6 (25 × A430)"),
];

/** A difference of gravity readings, in hundredths of mass share. */
export const DELTA_P = row(
  "Δ°P",
  ["delta degP", "delta °P", "ΔdegP", "Δ°Plato", "delta Plato"],
  EXTRACT,
  0.01,
  2,
  "NBS Circular C440 (1942), Table 114",
);
/** A difference of pH readings. */
export const DELTA_PH = row("ΔpH", ["delta pH"], dimension({ pH: 1 }), 1, 2, SI);

export const FERMENTATION: readonly LinearUnit[] = [
  DELTA_P,
  DELTA_PH,
  row("cells", [], dimension({ cells: 1 }), 1, 0, "a count"),
  row("Mcells", ["million cells"], dimension({ cells: 1 }), 1e6, 2, "a count"),
  row("Gcells", ["billion cells"], dimension({ cells: 1 }), 1e9, 2, "a count"),
  row(
    "% vol",
    ["%vol", "% ABV", "%ABV", "% alc vol"],
    dimension({ "alcohol by volume": 1 }),
    0.01,
    2,
    "OIML R 22 (alcoholic strength by volume)",
  ),
  row(
    "% mass",
    ["%mass", "% ABW", "%ABW"],
    dimension({ "alcohol by mass": 1 }),
    0.01,
    2,
    "OIML R 22 (alcoholic strength by mass)",
  ),
  row(
    "vol",
    ["vols", "vol CO2", "vols CO2", "volumes CO2", "volumes of CO2"],
    dimension({ carbonation: 1 }),
    1,
    2,
    "litres of CO2 at 0 °C and 1 atm per litre of beer",
  ),
  row(
    "PU",
    ["PUs"],
    dimension({ pasteurisation: 1 }),
    1,
    1,
    "Del Vecchio et al., ASBC Proceedings 1951 (one minute at 60 °C)",
  ),
  row("°Lintner", ["degLintner", "Lintner"], DIASTATIC_POWER, 1, 0, "ASBC Methods of Analysis, Malt-6"),
];
