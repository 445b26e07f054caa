import { argument, choice, type Numbers, rowNamed, taking } from "./arguments.ts";
import { ACID_AND_CAUSTIC } from "./cautions.ts";
import { type Argument, type LibraryFunction, noValue } from "./declaration.ts";
import {
  ACIDS,
  BICARBONATE,
  CALCIUM,
  CHLORIDE,
  equivalentsPerKilogram,
  ionShare,
  MAGNESIUM,
  molarMass,
  NITRATE,
  POTASSIUM,
  protonsGiven,
  SALT_IONS,
  SALTS,
  SODIUM,
  SULPHATE,
} from "./physics/chemistry.ts";
import { waterDensity } from "./physics/water.ts";

const SALT_NAMES = SALTS.map((salt) => salt.name);
const ION_NAMES = SALT_IONS.map((ion) => ion.name);
const ACID_NAMES = ACIDS.map((acid) => acid.name);

const STOICHIOMETRY =
  "Stoichiometry with the abridged IUPAC standard atomic weights of 2021 (Prohaska et al., Pure Appl. Chem. 94, 2022, 573)";
const KOLBACH = "P. Kolbach, rule of residual alkalinity, Monatsschrift für Brauerei 6 (1953); MEBAK W-030.01";

const salt = choice("salt", SALT_NAMES, "The salt, by its hydrate: the label says which; gypsum is the dihydrate.");
const ion = (name: string, says: string, more: Partial<Argument> = {}): Argument =>
  argument(name, "mg/L", says, { low: 0, ...more });
const volume = (says: string): Argument => argument("volume", "L", says, { low: 0 });

const NO_SALT_AT_ALL = "There are no ions at all: type the figures of the water report.";

export const WATER: readonly LibraryFunction[] = [
  {
    name: "ions_from_salt",
    stage: "water",
    says: "How much a weight of brewing salt raises one ion of the water.",
    searchWords: ["salt addition", "mineral", "burtonise", "gypsum", "calcium chloride"],
    since: 1,
    arguments: [
      salt,
      argument("mass", "g", "Salt added, as weighed.", { low: 0 }),
      volume("Water treated, measured cold (20 °C)."),
      choice("ion", ION_NAMES, "The ion asked for; one that the salt does not hold is raised by nothing."),
    ],
    result: { unit: "mg/L" },
    source: STOICHIOMETRY,
    range:
      "Exact for the pure hydrate. Flakes, solutions and salt that has drawn moisture hold less. Chalk and slaked lime count as the bicarbonate they turn into with carbon dioxide: an upper limit, for chalk hardly dissolves in the mash.",
    arithmetic: taking<{ salt: string; mass: number; volume: number; ion: string }>((given) => {
      const asked = rowNamed(SALT_IONS, given.ion);
      const added = rowNamed(SALTS, given.salt);
      if (!asked || !added) return noValue(`The list of salts has no "${given.salt}" with "${given.ion}".`);
      if (given.volume === 0) return noValue("The volume of water is zero: type how much water the salt goes into.");
      return (given.mass * ionShare(added, asked)) / given.volume;
    }),
  },
  {
    name: "salt_for_ion",
    stage: "water",
    says: "The weight of a brewing salt that raises one ion of the water by a wanted figure.",
    searchWords: ["salt addition", "mineral", "burtonise"],
    since: 1,
    arguments: [
      salt,
      choice("ion", ION_NAMES, "The ion to raise."),
      ion("rise", "The rise wanted, in mg/L of the ion itself."),
      volume("Water treated, measured cold (20 °C)."),
    ],
    result: { unit: "g" },
    source: STOICHIOMETRY,
    range:
      "Exact for the pure hydrate. Flakes, solutions and salt that has drawn moisture need more. Chalk and slaked lime count as bicarbonate: at least this much.",
    arithmetic: taking<{ salt: string; rise: number; volume: number; ion: string }>((given) => {
      const asked = rowNamed(SALT_IONS, given.ion);
      const added = rowNamed(SALTS, given.salt);
      const share = asked && added ? ionShare(added, asked) : 0;
      if (share === 0) return noValue(`${given.salt} brings no ${given.ion}: choose a salt that does.`);
      return (given.rise * given.volume) / share;
    }),
  },
  {
    name: "ion_share",
    stage: "water",
    says: "The share by mass of an ion in a brewing salt.",
    searchWords: ["salt", "hydrate", "gypsum"],
    since: 1,
    arguments: [salt, choice("ion", ION_NAMES, "The ion asked for.")],
    result: { unit: "%" },
    source: STOICHIOMETRY,
    range: "Exact for the pure hydrate.",
    arithmetic: taking<{ salt: string; ion: string }>((given) => {
      const asked = rowNamed(SALT_IONS, given.ion);
      const added = rowNamed(SALTS, given.salt);
      return asked && added
        ? ionShare(added, asked)
        : noValue(`The list of salts has no "${given.salt}" with "${given.ion}".`);
    }),
  },
  {
    name: "blended_ion",
    stage: "water",
    says: "What one ion comes to when two waters are mixed, such as mains water and reverse-osmosis water.",
    searchWords: ["dilute", "reverse osmosis", "RO", "mix water"],
    since: 1,
    arguments: [
      argument("first_volume", "L", "Volume of the first water, cold.", { low: 0 }),
      ion("first", "The ion in the first water."),
      argument("second_volume", "L", "Volume of the second water, cold.", { low: 0 }),
      ion("second", "The ion in the second water.", { default: "0 mg/L" }),
    ],
    result: { unit: "mg/L" },
    source: "Mass balance",
    range: "Exact for every ion and for hardness in mg/L; not for pH.",
    arithmetic: taking<Numbers<"first_volume" | "first" | "second_volume" | "second">>((given) => {
      const total = given.first_volume + given.second_volume;
      if (total === 0) return noValue("Both volumes are zero: there is no water to mix.");
      return (given.first_volume * given.first + given.second_volume * given.second) / total;
    }),
  },
  {
    name: "hardness",
    stage: "water",
    says: "Total hardness of the water from its calcium and magnesium.",
    searchWords: ["total hardness", "calcium", "magnesium", "CaCO3"],
    since: 1,
    arguments: [
      ion("calcium", "Calcium of the water report."),
      ion("magnesium", "Magnesium of the water report.", { default: "0 mg/L" }),
    ],
    result: { unit: "mg/L CaCO3" },
    source: STOICHIOMETRY,
    range: "Exact; strontium and iron, which a hardness titration also finds, are left out.",
    published: [{ argument: "calcium", high: 500 }],
    arithmetic: taking<Numbers<"calcium" | "magnesium">>(
      (given) => given.calcium * equivalentsPerKilogram(CALCIUM) + given.magnesium * equivalentsPerKilogram(MAGNESIUM),
    ),
  },
  {
    name: "alkalinity_from_bicarbonate",
    stage: "water",
    says: "Alkalinity of the water from its bicarbonate.",
    searchWords: ["total alkalinity", "HCO3", "m-value", "carbonate hardness"],
    since: 1,
    arguments: [ion("bicarbonate", "Bicarbonate of the water report, in mg/L of the ion.")],
    result: { unit: "mg/L CaCO3" },
    source: STOICHIOMETRY,
    range: "Good below pH 8.3; above it carbonate counts as well.",
    arithmetic: taking<Numbers<"bicarbonate">>((given) => given.bicarbonate * equivalentsPerKilogram(BICARBONATE)),
  },
  {
    name: "bicarbonate_from_alkalinity",
    stage: "water",
    says: "Bicarbonate of the water from its alkalinity.",
    searchWords: ["HCO3", "total alkalinity", "carbonate hardness"],
    since: 1,
    arguments: [argument("alkalinity", "mg/L CaCO3", "Total alkalinity of the water report.", { low: 0 })],
    result: { unit: "mg/L" },
    source: STOICHIOMETRY,
    range: "Good below pH 8.3; above it a part of the alkalinity is carbonate.",
    arithmetic: taking<Numbers<"alkalinity">>((given) => given.alkalinity / equivalentsPerKilogram(BICARBONATE)),
  },
  {
    name: "residual_alkalinity",
    stage: "water",
    says: "Residual alkalinity: what is left of the alkalinity after calcium and magnesium have done their part in the mash.",
    searchWords: ["RA", "Kolbach", "mash pH"],
    since: 1,
    arguments: [
      argument("alkalinity", "mg/L CaCO3", "Total alkalinity of the water.", { low: 0 }),
      ion("calcium", "Calcium of the water, in mg/L of the ion."),
      ion("magnesium", "Magnesium of the water, in mg/L of the ion.", { default: "0 mg/L" }),
    ],
    result: { unit: "mg/L CaCO3" },
    source: KOLBACH,
    range:
      "Alkalinity less calcium hardness / 3.5 less magnesium hardness / 7, all in one equivalent unit. Set for the pH of cast wort at 12 °P, not of the mash: an index to compare waters by, not a pH.",
    arithmetic: taking<Numbers<"alkalinity" | "calcium" | "magnesium">>(
      (given) =>
        given.alkalinity -
        (given.calcium * equivalentsPerKilogram(CALCIUM)) / 3.5 -
        (given.magnesium * equivalentsPerKilogram(MAGNESIUM)) / 7,
    ),
  },
  {
    name: "ion_balance",
    stage: "water",
    says: "How far the positive and negative ions of a water report are out of balance; a careful report balances within 5 %.",
    searchWords: ["water report", "check", "cations", "anions"],
    since: 1,
    arguments: [
      ion("calcium", "Calcium."),
      ion("magnesium", "Magnesium."),
      ion("sodium", "Sodium."),
      ion("bicarbonate", "Bicarbonate."),
      ion("sulphate", "Sulphate, in mg/L of the ion, not of sulphur."),
      ion("chloride", "Chloride."),
      ion("potassium", "Potassium.", { default: "0 mg/L" }),
      ion("nitrate", "Nitrate, in mg/L of the ion, not of nitrogen.", { default: "0 mg/L" }),
    ],
    result: { unit: "%" },
    source: "Charge balance as in Standard Methods for the Examination of Water and Wastewater, 1030 E (from memory)",
    range:
      "Positive less negative, as a share of all. Yearly means of a supplier often miss 5 %, for they belong to no one day.",
    arithmetic: taking<
      Numbers<"calcium" | "magnesium" | "sodium" | "bicarbonate" | "sulphate" | "chloride" | "potassium" | "nitrate">
    >((given) => {
      const positive =
        given.calcium * equivalentsPerKilogram(CALCIUM) +
        given.magnesium * equivalentsPerKilogram(MAGNESIUM) +
        given.sodium * equivalentsPerKilogram(SODIUM) +
        given.potassium * equivalentsPerKilogram(POTASSIUM);
      const negative =
        given.bicarbonate * equivalentsPerKilogram(BICARBONATE) +
        given.sulphate * equivalentsPerKilogram(SULPHATE) +
        given.chloride * equivalentsPerKilogram(CHLORIDE) +
        given.nitrate * equivalentsPerKilogram(NITRATE);
      return positive + negative === 0 ? noValue(NO_SALT_AT_ALL) : (positive - negative) / (positive + negative);
    }),
  },
  {
    name: "acid_concentration",
    stage: "water",
    says: "Moles of acid in a litre of a bottled acid, from the strength and density on its label.",
    searchWords: ["normality", "molarity", "lactic acid", "phosphoric acid"],
    since: 1,
    arguments: [
      choice("acid", ACID_NAMES, "The acid."),
      argument("strength", "%", "Strength by weight (w/w) on the label.", { low: 0, high: 100 }),
      argument("density", "kg/L", "Density of the bottled acid on the label or safety sheet.", { low: 0.9, high: 1.9 }),
    ],
    result: { unit: "mol/L" },
    source: STOICHIOMETRY,
    range: "Exact for the strength and density typed; strength by weight, never by volume.",
    arithmetic: taking<{ acid: string; strength: number; density: number }>((given) => {
      const acid = rowNamed(ACIDS, given.acid);
      return acid
        ? (given.strength * given.density) / molarMass(acid.composition)
        : noValue(`"${given.acid}" is not in the list of acids.`);
    }),
    caution: ACID_AND_CAUSTIC,
  },
  {
    name: "acid_for_alkalinity",
    stage: "water",
    says: "The volume of bottled acid that brings the alkalinity of the water down to a wanted figure.",
    searchWords: ["lactic acid", "phosphoric acid", "acidify", "sparge water", "mash pH"],
    since: 1,
    arguments: [
      argument("alkalinity", "mg/L CaCO3", "Alkalinity of the untreated water.", { low: 0 }),
      volume("Water treated, measured cold (20 °C)."),
      choice("acid", ACID_NAMES, "The acid."),
      argument("strength", "%", "Strength by weight (w/w) on the label.", { low: 0, high: 100 }),
      argument("density", "kg/L", "Density of the bottled acid on the label or safety sheet.", { low: 0.9, high: 1.9 }),
      argument("left", "mg/L CaCO3", "Alkalinity to be left in the water.", { default: "0 mg/L CaCO3", low: 0 }),
      argument("ph", "pH", "pH at which the water or mash ends: a weak acid gives up less there.", {
        default: "5.4 pH",
        low: 3,
        high: 9,
      }),
    ],
    result: { unit: "mL" },
    source: `${STOICHIOMETRY}; pK values of the acids from the CRC Handbook of Chemistry and Physics (from memory)`,
    range:
      "Complete neutralisation of bicarbonate, the carbon dioxide driven off. At pH 5.4 lactic acid gives 97 % of its proton and phosphoric acid just over one of three. Measure the pH afterwards: none is promised.",
    caution: ACID_AND_CAUSTIC,
    arithmetic: taking<{
      alkalinity: number;
      left: number;
      volume: number;
      acid: string;
      strength: number;
      density: number;
      ph: number;
    }>((given) => {
      const acid = rowNamed(ACIDS, given.acid);
      if (!acid) return noValue(`"${given.acid}" is not in the list of acids.`);
      if (given.left > given.alkalinity)
        return noValue("More alkalinity is to be left than the water has: no acid does that.");
      const moles = (given.strength * given.density) / molarMass(acid.composition);
      if (moles === 0) return noValue("An acid of no strength neutralises nothing: type the strength on the label.");
      return ((given.alkalinity - given.left) * given.volume) / (moles * protonsGiven(acid, given.ph));
    }),
  },
  {
    name: "water_density",
    stage: "water",
    says: "Density of water at a temperature.",
    searchWords: ["hot liquor", "expansion"],
    since: 1,
    arguments: [argument("temp", "°C", "Temperature of the water.", { low: 0, high: 150 })],
    result: { unit: "kg/L" },
    source: "G. S. Kell, J. Chem. Eng. Data 20 (1975) 97, equation 16",
    range: "0 to 150 °C, air-free, at one atmosphere; within 0.015 kg/m³ of IAPWS-95 to 100 °C.",
    arithmetic: taking<Numbers<"temp">>((given) => waterDensity(given.temp)),
  },
  {
    name: "water_mass",
    stage: "water",
    says: "Mass of a volume of water measured at a temperature.",
    searchWords: ["liquor weight", "hot liquor"],
    since: 1,
    arguments: [
      volume("Water, measured at `temp`."),
      argument("temp", "°C", "Temperature at which the volume was measured.", { default: "20 °C", low: 0, high: 150 }),
    ],
    result: { unit: "kg" },
    source: "G. S. Kell, J. Chem. Eng. Data 20 (1975) 97, equation 16",
    range:
      "0 to 150 °C; exact to 0.002 %. Vessel walls expand too, stainless about 0.4 % in volume from 20 to 100 °C (from memory).",
    arithmetic: taking<Numbers<"volume" | "temp">>((given) => given.volume * waterDensity(given.temp)),
  },
];
