import { equalTexts } from "../operations/comparison.ts";
import { specificGravity } from "../units/gravity.ts";
import { argument, choice, type Numbers, rowNamed, taking } from "./arguments.ts";
import { ALCOHOL_FROM_DENSITIES, NOT_A_LABEL_ANALYSIS } from "./cautions.ts";
import { type LibraryFunction, type NoValue, noValue, type PublishedRange } from "./declaration.ts";
import {
  ballingAlcohol,
  ballingFermented,
  ballingOriginal,
  byMassInBeer,
  byVolumeInBeer,
  cutaiaFermented,
  DUTY_TABLE_TO,
  dutyTableByVolume,
  type Fermented,
  hallByVolume,
  realDegree,
  simpleByVolume,
} from "./physics/alcohol.ts";
import { byMassAtDensity, byMassOf, byVolumeOf, ethanolWaterDensity, PURE_ETHANOL_DENSITY } from "./physics/ethanol.ts";
import { waterDensity } from "./physics/water.ts";

const CUTAIA = "Cutaia, Reid, Speers, J. Inst. Brew. 115 (2009) 318";
const BALLING = "Balling's relation (1865): 2.0665 g extract give 1 g alcohol, 0.9565 g carbon dioxide, 0.11 g yeast";
const BY_MASS_ERROR = "±0.1 % mass";
const BY_VOLUME_ERROR = "±0.13 % vol";
const SUGAR_WORT =
  "Holds for wort fermented by yeast alone, not for fruit, spirit, beer diluted after fermentation or freed of alcohol.";

/** The finished brews that Cutaia's relation was fitted to, table III; a present gravity above them is one on its way down. */
const FITTED_BREWS: readonly PublishedRange[] = [
  { argument: "original", low: 9.4, high: 18.1 },
  { argument: "present", low: -0.5 },
];

/** Readings scatter: a present gravity this little above the original one counts as nothing fermented yet. In mass share. */
const READING_ERROR = 0.002;

/** Heat of combustion that the body uses, J/kg: 7 kcal/g alcohol and 4 kcal/g extract, kilocalories of 4184 J. */
const ENERGY_OF_ALCOHOL = 7 * 4.184e6;
const ENERGY_OF_EXTRACT = 4 * 4.184e6;

const original = argument("original", "°P", "Gravity of the wort before fermentation, at 20 °C.", {
  low: 0.5,
  high: 40,
});
const present = argument("present", "°P", "Gravity of the beer now, free of gas, by hydrometer at 20 °C.", {
  low: -3,
  high: 40,
});
const real = argument("real", "°P", "Real extract: what is left when the alcohol was taken out (see real_extract).", {
  low: 0,
  high: 40,
});
const method = choice("method", ["Cutaia", "Balling"], "Which relation between extracts and alcohol.", {
  default: '"Cutaia"',
});

/** Densities are printed to this, kg/m³: a rounded figure may lie so far outside pure water and pure alcohol. */
const DENSITY_ROUNDING = 0.01;

type Gravities = Numbers<"original" | "present">;
type WithMethod = Gravities & { readonly method: string };

const NOTHING_FERMENTED = noValue(
  "The present gravity lies above the original one. Give the wort's gravity as original and the beer's as present.",
);

/** Runs `work` with a present gravity that is not above the original one; a slightly higher reading counts as equal. */
const fermenting =
  <Given extends Gravities>(work: (given: Given) => number | NoValue): ((given: Given) => number | NoValue) =>
  (given) =>
    given.present > given.original + READING_ERROR
      ? NOTHING_FERMENTED
      : work({ ...given, present: Math.min(given.present, given.original) });

const fermentedBy = ({ original, present, method }: WithMethod): Fermented =>
  equalTexts(method, "Balling") ? ballingFermented(original, present) : cutaiaFermented(original, present);

/** Each method of alcohol_by_volume: the share by volume, NaN where it has none. */
const BY_VOLUME: readonly {
  readonly name: string;
  readonly strength: (original: number, present: number) => number;
}[] = [
  {
    name: "Cutaia",
    strength: (original, present) => byVolumeInBeer(cutaiaFermented(original, present).alcohol, present),
  },
  {
    name: "Balling",
    strength: (original, present) => byVolumeInBeer(ballingFermented(original, present).alcohol, present),
  },
  { name: "HMRC", strength: dutyTableByVolume },
  { name: "Hall", strength: hallByVolume },
  { name: "simple", strength: simpleByVolume },
];

const BEYOND_DUTY_TABLE = noValue(
  `The official table ends at ${DUTY_TABLE_TO} degrees of gravity lost. Use distillation, or another method for an estimate.`,
);

/** Attenuation, extract and alcohol. */
export const ATTENUATION: readonly LibraryFunction[] = [
  {
    name: "apparent_attenuation",
    stage: "fermentation",
    says: "Share of the gravity that has gone, as a hydrometer reads it.",
    searchWords: ["ADF", "apparent degree of fermentation", "attenuation"],
    since: 1,
    arguments: [original, present],
    result: { unit: "%" },
    source: "definition: (original − present) / original, in °P",
    range:
      "Ordinary beer 65 to 85 %; above 100 % only in very dry beer. Alcohol makes it larger than the real one: see real_degree_of_fermentation.",
    arithmetic: taking<Gravities>(({ original, present }) => (original - present) / original),
  },
  {
    name: "final_gravity",
    stage: "fermentation",
    says: "Gravity that the beer reaches at a wanted apparent attenuation.",
    searchWords: ["expected final gravity", "FG", "terminal gravity", "racking gravity"],
    since: 1,
    arguments: [
      original,
      argument("attenuation", "%", "Apparent attenuation, as the yeast gives it in this wort.", { low: 0, high: 110 }),
    ],
    result: { unit: "°P" },
    source: "definition: original × (1 − attenuation), in °P",
    range: "As good as the attenuation that was put in; a forced ferment tells it.",
    arithmetic: taking<Numbers<"original" | "attenuation">>(
      ({ original, attenuation }) => original * (1 - attenuation),
    ),
  },
  {
    name: "attenuation_left",
    stage: "fermentation",
    says: "Apparent attenuation still to come, up to the limit that a forced ferment found.",
    searchWords: ["forced ferment", "limit attenuation", "attenuation limit", "fast ferment test"],
    since: 1,
    arguments: [
      original,
      present,
      argument("forced", "°P", "Gravity at which the forced ferment of the same wort stopped.", { low: -3, high: 40 }),
    ],
    result: { unit: "%" },
    source: "definition: (present − forced) / original, in °P",
    range: "Below about 1 % the beer is finished (common practice). Never package above: it goes on in the bottle.",
    arithmetic: taking<Gravities & Numbers<"forced">>(({ original, present, forced }) => (present - forced) / original),
  },
  {
    name: "real_extract",
    stage: "fermentation",
    says: "Real extract of the beer from original and present gravity.",
    searchWords: ["RE", "residual extract", "true extract"],
    since: 1,
    arguments: [original, present, method],
    result: { unit: "°P" },
    source: `${CUTAIA}, closed by ${BALLING}; "Balling": 0.1808 original + 0.8192 present (De Clerck, from memory)`,
    range: `Good to 0.15 °P. ${SUGAR_WORT}`,
    published: FITTED_BREWS,
    error: "±0.15 °P",
    arithmetic: taking<WithMethod>(fermenting((given) => fermentedBy(given).realExtract)),
  },
  {
    name: "real_degree_of_fermentation",
    stage: "fermentation",
    says: "Share of the extract, by mass, that was fermented.",
    searchWords: ["RDF", "RDA", "real degree of fermentation", "real attenuation"],
    since: 1,
    arguments: [original, present, method],
    result: { unit: "%" },
    source: `${CUTAIA}; share by ${BALLING}`,
    range: `On the basis of mass: 1 to 2.5 points above real_attenuation. ${SUGAR_WORT}`,
    published: FITTED_BREWS,
    arithmetic: taking<WithMethod>(fermenting((given) => realDegree(fermentedBy(given)))),
  },
  {
    name: "real_attenuation",
    stage: "fermentation",
    says: "Original less real extract, as a share of original extract.",
    searchWords: ["real attenuation", "true attenuation"],
    since: 1,
    arguments: [original, real],
    result: { unit: "%" },
    source: "definition: (original − real) / original, in °P",
    range: "1 to 2.5 points below real_degree_of_fermentation, because the beer weighs less than its wort.",
    arithmetic: taking<Numbers<"original" | "real">>(({ original, real }) => (original - real) / original),
  },
  {
    name: "alcohol_by_weight",
    stage: "fermentation",
    says: "Alcohol by mass of the beer from original and present gravity.",
    searchWords: ["ABW", "alcohol by mass"],
    since: 1,
    arguments: [original, present, method],
    result: { unit: "% mass" },
    source: `${CUTAIA}; or ${BALLING}`,
    range: `Any formula from densities alone is off by up to 0.1 % mass. ${SUGAR_WORT}`,
    published: FITTED_BREWS,
    error: BY_MASS_ERROR,
    caution: ALCOHOL_FROM_DENSITIES,
    arithmetic: taking<WithMethod>(fermenting((given) => fermentedBy(given).alcohol)),
  },
  {
    name: "alcohol_by_volume",
    stage: "fermentation",
    says: "Alcohol by volume at 20 °C of the beer from original and present gravity.",
    searchWords: ["ABV", "alcohol content", "strength"],
    since: 1,
    arguments: [
      original,
      present,
      choice(
        "method",
        BY_VOLUME.map(({ name }) => name),
        'Which relation: "HMRC" is the British duty table, "simple" is gravity lost × 131.25; "Hall" overshoots in strong beer.',
        { default: '"Cutaia"' },
      ),
    ],
    result: { unit: "% vol" },
    source: `${CUTAIA}, with the specific gravity 0.79066 of ethanol (OIML R 22); "Balling": ${BALLING}; "HMRC": Notice 226, section 30.3; "Hall": Zymurgy 18 (1995) 2; "simple": common practice, no source`,
    range: `"HMRC" ends at ${DUTY_TABLE_TO} degrees of gravity lost; duty strength is cut, not rounded: see duty_strength. "Hall" is 0.5 to 0.9 % vol above that table from SG 1.080 on. ${SUGAR_WORT}`,
    published: FITTED_BREWS,
    error: BY_VOLUME_ERROR,
    caution: ALCOHOL_FROM_DENSITIES,
    arithmetic: taking<WithMethod>(
      fermenting(({ original, present, method }) => {
        const strength = rowNamed(BY_VOLUME, method)?.strength(original, present) ?? Number.NaN;
        return equalTexts(method, "HMRC") && Number.isNaN(strength) ? BEYOND_DUTY_TABLE : strength;
      }),
    ),
  },
  {
    name: "alcohol_from_real_extract",
    stage: "fermentation",
    says: "Alcohol by mass from original and real extract.",
    searchWords: ["ABW", "Balling equation"],
    since: 1,
    arguments: [original, real],
    result: { unit: "% mass" },
    source: BALLING,
    range: `Within 0.13 % mass of measured means of 532 brews (${CUTAIA}). ${SUGAR_WORT}`,
    error: BY_MASS_ERROR,
    caution: ALCOHOL_FROM_DENSITIES,
    arithmetic: taking<Numbers<"original" | "real">>(({ original, real }) =>
      real > original
        ? noValue(
            "The real extract lies above the original one. Give the wort's gravity as original and what is left as real.",
          )
        : ballingAlcohol(original, real),
    ),
  },
  {
    name: "original_extract",
    stage: "fermentation",
    says: "Original gravity of the wort, worked back from alcohol and real extract of the beer.",
    searchWords: ["OG", "original gravity", "back calculation", "OE", "Balling equation"],
    since: 1,
    arguments: [argument("alcohol", "% mass", "Alcohol by mass.", { low: 0, high: 30 }), real],
    result: { unit: "°P" },
    source: BALLING,
    range: `Within 0.23 °P of measured means of 532 brews (${CUTAIA}). ${SUGAR_WORT}`,
    error: "±0.25 °P",
    arithmetic: taking<Numbers<"alcohol" | "real">>(({ alcohol, real }) => ballingOriginal(alcohol, real)),
  },
  {
    name: "strength_by_volume",
    stage: "fermentation",
    says: "Alcohol by volume at 20 °C of beer whose alcohol by mass is known.",
    searchWords: ["ABW to ABV"],
    since: 1,
    arguments: [argument("strength", "% mass", "Alcohol by mass.", { low: 0, high: 100 }), present],
    result: { unit: "% vol" },
    source: "mass balance, specific gravity 0.79066 of ethanol (OIML R 22)",
    range: "Exact to 0.05 % of the figure.",
    arithmetic: taking<Numbers<"strength" | "present">>(({ strength, present }) => byVolumeInBeer(strength, present)),
  },
  {
    name: "strength_by_weight",
    stage: "fermentation",
    says: "Alcohol by mass of beer whose alcohol by volume at 20 °C is known.",
    searchWords: ["ABV to ABW"],
    since: 1,
    arguments: [argument("strength", "% vol", "Alcohol by volume at 20 °C.", { low: 0, high: 100 }), present],
    result: { unit: "% mass" },
    source: "mass balance, specific gravity 0.79066 of ethanol (OIML R 22)",
    range: "Exact to 0.05 % of the figure.",
    arithmetic: taking<Numbers<"strength" | "present">>(({ strength, present }) => byMassInBeer(strength, present)),
  },
  {
    name: "distillate_strength",
    stage: "fermentation",
    says: "Alcohol by volume at 20 °C of a distillate, made up to the volume of the sample, from its density at 20 °C.",
    searchWords: ["distillation", "pycnometer", "ethanol density", "alcoholometry"],
    since: 1,
    arguments: [argument("density", "kg/m³", "Density at 20 °C, in vacuo.", { low: 700, high: 1000 })],
    result: { unit: "% vol" },
    source: "OIML R 22 (1973), International alcoholometric tables; Directive 76/766/EEC",
    range: "Ethanol and water alone, at 20 °C; 0.1 kg/m³ is 0.07 % vol.",
    caution: ALCOHOL_FROM_DENSITIES,
    arithmetic: taking<Numbers<"density">>(({ density }) =>
      density > ethanolWaterDensity(0) + DENSITY_ROUNDING || density < PURE_ETHANOL_DENSITY - DENSITY_ROUNDING
        ? noValue("A distillate at 20 °C weighs between 789.24 kg/m³ (pure alcohol) and 998.20 kg/m³ (pure water).")
        : byVolumeOf(byMassAtDensity(density)),
    ),
  },
  {
    name: "distillate_density",
    stage: "fermentation",
    says: "Density at 20 °C of alcohol and water of a strength by volume.",
    searchWords: ["ethanol density", "alcoholometry"],
    since: 1,
    arguments: [argument("strength", "% vol", "Alcohol by volume at 20 °C.", { low: 0, high: 100 })],
    result: { unit: "kg/m³" },
    source: "OIML R 22 (1973), International alcoholometric tables; Directive 76/766/EEC",
    range: "Ethanol and water alone, at 20 °C; exact to 0.01 kg/m³.",
    arithmetic: taking<Numbers<"strength">>(({ strength }) => ethanolWaterDensity(byMassOf(strength))),
  },
  {
    name: "energy_content",
    stage: "fermentation",
    says: "Food energy of a volume of beer, from alcohol and real extract.",
    searchWords: ["calories", "nutrition", "kilojoules"],
    since: 1,
    arguments: [
      argument("alcohol", "% mass", "Alcohol by mass.", { low: 0, high: 30 }),
      real,
      present,
      argument("volume", "mL", "Volume at 20 °C that it is stated for.", { default: "100 mL", low: 0 }),
    ],
    result: { unit: "kcal" },
    source:
      "7 kcal in a gram of alcohol and 4 in a gram of extract (trade lists; ASBC uses 6.9 and leaves out the ash, from memory)",
    range: "Within some 3 % of analysis.",
    error: "±3 %",
    caution: NOT_A_LABEL_ANALYSIS,
    arithmetic: taking<Numbers<"alcohol" | "real" | "present" | "volume">>(
      ({ alcohol, real, present, volume }) =>
        volume * specificGravity(present) * waterDensity(20) * (ENERGY_OF_ALCOHOL * alcohol + ENERGY_OF_EXTRACT * real),
    ),
  },
];
