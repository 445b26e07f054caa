import { equalTexts } from "../operations/comparison.ts";
import { specificGravity } from "../units/gravity.ts";
import { argument, choice, type Numbers, rowNamed, taking } from "./arguments.ts";
import { BURSTING_PACKAGES, PRESSURE } from "./cautions.ts";
import { type LibraryFunction, type NoValue, noValue } from "./declaration.ts";
import { CARBON_DIOXIDE_OF_EXTRACT, cutaiaFermented, REAL_FOR_APPARENT, realDegree } from "./physics/alcohol.ts";
import { molarMass } from "./physics/chemistry.ts";
import { CARBON_DIOXIDE_MOLAR_MASS, VOLUME_OF_CARBON_DIOXIDE } from "./physics/gases.ts";
import { waterDensity } from "./physics/water.ts";
import { CONVENTION, ORDINARY_PACKAGES_TO } from "./surroundings.ts";

const BALLING = "Balling's relation (1865): 0.9565 g carbon dioxide for 2.0665 g extract";

const volume = argument("volume", "L", "Beer, at its own temperature.", { low: 0 });
const residual = argument("residual", "vol", "Carbonation that the beer has already, see residual_carbonation.", {
  low: 0,
});
const target = argument("target", "vol", "Carbonation wanted in the package.", { low: 0, high: 10 });
const container = choice(
  "container",
  ["ordinary", "high-pressure"],
  'What it is filled into; above 4.5 vol only a "high-pressure" one, rated for it, will do.',
  { default: '"ordinary"' },
);

/** Priming sugars: grams of carbon dioxide that a gram gives when all of it is fermented. */
const gasOf = (sugar: Parameters<typeof molarMass>[0], molecules: number): number =>
  (molecules * CARBON_DIOXIDE_MOLAR_MASS) / molarMass(sugar);
const SUGARS = [
  { name: "sucrose", gives: gasOf({ C: 12, H: 22, O: 11 }, 4) },
  { name: "glucose", gives: gasOf({ C: 6, H: 12, O: 6 }, 2) },
  { name: "dextrose monohydrate", gives: gasOf({ C: 6, H: 14, O: 7 }, 2) },
  { name: "wort extract", gives: CARBON_DIOXIDE_OF_EXTRACT },
] as const;

type Priming = Numbers<"target" | "residual"> & { readonly container: string };

/** Carbon dioxide to be made in each cubic metre, kg; or why there is none to make. */
function gasToMake({ target, residual, container }: Priming): number | NoValue {
  if (target > ORDINARY_PACKAGES_TO && equalTexts(container, "ordinary"))
    return noValue(
      `Above ${ORDINARY_PACKAGES_TO} vol ordinary bottles, cans and kegs may burst. Give container "high-pressure" only for one rated for it.`,
    );
  if (residual > target)
    return noValue("The beer already holds more than the target: no sugar is wanted, let gas off instead.");
  return (target - residual) * VOLUME_OF_CARBON_DIOXIDE;
}

/** Carbonation that fermentation itself makes. */
export const PRIMING: readonly LibraryFunction[] = [
  {
    name: "carbonation_gain",
    stage: "carbonation",
    says: "Carbonation that a further fall of gravity in a closed tank or package adds.",
    searchWords: ["spunding", "bunging", "closing the tank", "secondary fermentation"],
    since: 1,
    arguments: [
      argument("present", "°P", "Gravity when the tank is closed.", { low: -3, high: 30 }),
      argument("limit", "°P", "Gravity at which fermentation stops, by a forced ferment.", { low: -3, high: 30 }),
    ],
    result: { unit: "vol" },
    source: `${BALLING}; 0.8192 °P of real extract for 1 °P apparent (De Clerck, from memory)`,
    range: "Within 10 %: some 2 vol for each °P. Unless a relief valve limits it, all of it turns to pressure.",
    error: "±10 %",
    caution: PRESSURE,
    arithmetic: taking<Numbers<"present" | "limit">>(({ present, limit }) =>
      present < limit
        ? noValue("The present gravity lies below the limit: nothing is left to ferment.")
        : ((present - limit) *
            REAL_FOR_APPARENT *
            specificGravity(present) *
            waterDensity(20) *
            CARBON_DIOXIDE_OF_EXTRACT) /
          VOLUME_OF_CARBON_DIOXIDE,
    ),
  },
  {
    name: "priming_sugar",
    stage: "carbonation",
    says: "Sugar to prime beer with for a carbonation in bottle or cask.",
    searchWords: ["priming", "bottle conditioning", "cask conditioning", "primings"],
    since: 1,
    arguments: [
      volume,
      target,
      residual,
      choice(
        "sugar",
        SUGARS.map(({ name }) => name),
        "Which sugar; dextrose as sold is the monohydrate.",
        { default: '"sucrose"' },
      ),
      container,
    ],
    result: { unit: "g" },
    source:
      "stoichiometry: sucrose gives 0.5144 g carbon dioxide a gram, anhydrous glucose 0.4886, dextrose monohydrate 0.4442; wort extract 0.4629 by Balling",
    range: `Beer that has fermented out; extract still left adds to it: see carbonation_gain. Yeast keeps up to 5 % back. ${CONVENTION}`,
    error: "±5 %",
    caution: BURSTING_PACKAGES,
    arithmetic: taking<Priming & Numbers<"volume"> & { readonly sugar: string }>((given) => {
      const gas = gasToMake(given);
      return typeof gas === "number"
        ? (given.volume * gas) / (rowNamed(SUGARS, given.sugar)?.gives ?? Number.NaN)
        : gas;
    }),
  },
  {
    name: "priming_wort",
    stage: "carbonation",
    says: "Unfermented wort to prime beer with for a carbonation in bottle or cask.",
    searchWords: ["gyle priming", "speise", "kräusen", "krausen"],
    since: 1,
    arguments: [
      volume,
      target,
      residual,
      argument("wort_gravity", "°P", "Gravity of the priming wort.", { low: 1, high: 40 }),
      argument("wort_final", "°P", "Gravity at which that wort stops fermenting.", { low: -3, high: 30 }),
      container,
    ],
    result: { unit: "L" },
    source: `${BALLING}; real extract by Cutaia, Reid, Speers, J. Inst. Brew. 115 (2009) 318`,
    range: `Beer that has fermented out; the wort brings no gas of its own but must be carbonated too, which is counted. ${CONVENTION}`,
    error: "±10 %",
    caution: BURSTING_PACKAGES,
    arithmetic: taking<Priming & Numbers<"volume" | "wort_gravity" | "wort_final">>((given) => {
      const gas = gasToMake(given);
      if (typeof gas !== "number") return gas;
      if (given.wort_final >= given.wort_gravity)
        return noValue("The priming wort would not ferment: its final gravity is not below its gravity.");
      const fermented = realDegree(cutaiaFermented(given.wort_gravity, given.wort_final)) * given.wort_gravity;
      const made = fermented * specificGravity(given.wort_gravity) * waterDensity(20) * CARBON_DIOXIDE_OF_EXTRACT;
      const kept = given.target * VOLUME_OF_CARBON_DIOXIDE;
      return made <= kept
        ? noValue("This wort ferments to less carbonation than is wanted: take a stronger one, or sugar.")
        : (given.volume * gas) / (made - kept);
    }),
  },
];
