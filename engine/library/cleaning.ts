import { equalTexts } from "../operations/comparison.ts";
import { argument, choice, type Numbers, rowNamed, taking } from "./arguments.ts";
import { ACID_AND_CAUSTIC } from "./cautions.ts";
import { type LibraryFunction, noValue } from "./declaration.ts";
import { molarMass } from "./physics/chemistry.ts";

const COMMON = "common practice, no source";
const BALANCE = "mass balance";
const STOICHIOMETRY = "stoichiometry, IUPAC abridged atomic weights 2021";

/** What a titration of each cleaner turns on: mass of one equivalent, kg. */
const CLEANERS = [
  { name: "caustic soda", equivalent: molarMass({ Na: 1, O: 1, H: 1 }) },
  { name: "caustic potash", equivalent: molarMass({ K: 1, O: 1, H: 1 }) },
  { name: "nitric acid", equivalent: molarMass({ H: 1, N: 1, O: 3 }) },
  { name: "phosphoric acid", equivalent: molarMass({ H: 3, P: 1, O: 4 }) },
] as const;

/** Counting rinses, a result that exceeds a whole number by less than this is that number: the arithmetic's last digits. */
const WHOLE = 1e-9;

const solution = argument("volume", "L", "Cleaning solution to make, at the temperature at which it is made up.", {
  low: 0,
});
const density = argument(
  "density",
  "kg/L",
  "Density of the concentrate, from its label: 50 % caustic soda is 1.53 kg/L.",
  {
    low: 0.7,
    high: 2,
  },
);
const held = argument(
  "held",
  "L",
  "Liquid that stays behind in vessel and pipes after draining: the plant's own figure.",
  { low: 0 },
);
const rinse = argument("rinse", "L", "Water of each rinse.", { low: 0 });

/** Cleaning: concentrates, their strength, rinses and flows. */
export const CLEANING: readonly LibraryFunction[] = [
  {
    name: "concentrate_for",
    stage: "cleaning",
    says: "Volume of a concentrate that makes a cleaning solution of a stated strength.",
    searchWords: ["CIP", "caustic", "acid", "detergent", "dilution", "sanitiser", "sanitizer"],
    since: 1,
    arguments: [
      solution,
      argument("strength", "%", "Strength wanted.", { low: 0, high: 100 }),
      choice(
        "basis",
        ["w/w", "w/v", "v/v"],
        "What the strength means: mass in mass, kg of it in 100 L, or litres of concentrate in 100 L.",
      ),
      argument(
        "concentrate",
        "%",
        "Active substance in the concentrate by mass; 100 % where the strength is meant of the product as sold.",
        {
          default: "100 %",
          low: 0.01,
          high: 100,
        },
      ),
      argument(
        "density",
        "kg/L",
        "Density of the concentrate, from its label: 50 % caustic soda is 1.53 kg/L; v/v does not need it.",
        {
          default: "1 kg/L",
          low: 0.7,
          high: 2,
        },
      ),
      argument("solution_density", "kg/L", "Density of the solution made, for w/w: 2 % caustic soda is 1.02 kg/L.", {
        default: "1 kg/L",
        low: 0.7,
        high: 2,
      }),
    ],
    result: { unit: "L" },
    source: BALANCE,
    range:
      "Exact for the figures typed. Taking w/w for v/v with 50 % caustic soda is off by half. Check by titration: detergent_strength.",
    caution: ACID_AND_CAUSTIC,
    arithmetic: taking<
      Numbers<"volume" | "strength" | "concentrate" | "density" | "solution_density"> & { readonly basis: string }
    >(({ volume, strength, basis, concentrate, density, solution_density }) => {
      if (strength > concentrate) return noValue("The solution wanted is stronger than the concentrate.");
      if (equalTexts(basis, "v/v")) return (volume * strength) / concentrate;
      // 1 % w/v is 10 kg of it in a cubic metre.
      const active = strength * (equalTexts(basis, "w/w") ? solution_density : 1000);
      return (volume * active) / (concentrate * density);
    }),
  },
  {
    name: "sanitiser_for",
    stage: "cleaning",
    says: "Volume of a sanitiser that gives water a concentration of its active substance.",
    searchWords: ["peracetic acid", "PAA", "sanitizer", "disinfectant", "ppm"],
    since: 1,
    arguments: [
      solution,
      argument("target", "mg/L", "Active substance wanted, by the maker's sheet.", { low: 0 }),
      argument("active", "%", "Active substance in the product by mass.", { low: 0.01, high: 100 }),
      density,
    ],
    result: { unit: "mL" },
    source: BALANCE,
    range: "Exact for the figures typed; products lose strength in store.",
    caution: ACID_AND_CAUSTIC,
    arithmetic: taking<Numbers<"volume" | "target" | "active" | "density">>(
      ({ volume, target, active, density }) => (volume * target) / (active * density),
    ),
  },
  {
    name: "concentrate_to_top_up",
    stage: "cleaning",
    says: "Volume of a concentrate that brings a used cleaning solution back to strength.",
    searchWords: ["CIP", "recovery tank", "caustic tank", "strengthen"],
    since: 1,
    arguments: [
      argument("volume", "L", "Solution in the tank.", { low: 0 }),
      argument("found", "g/L", "Strength found by titration.", { low: 0 }),
      argument("wanted", "g/L", "Strength wanted.", { low: 0 }),
      argument(
        "concentrate",
        "g/L",
        "Active substance in the concentrate: 50 % caustic soda of 1.53 kg/L holds 765 g/L.",
        { low: 1 },
      ),
    ],
    result: { unit: "L" },
    source: BALANCE,
    range: "Counts the volume that the concentrate adds.",
    caution: ACID_AND_CAUSTIC,
    arithmetic: taking<Numbers<"volume" | "found" | "wanted" | "concentrate">>(
      ({ volume, found, wanted, concentrate }) => {
        if (wanted >= concentrate) return noValue("The strength wanted is not below that of the concentrate.");
        return found > wanted
          ? noValue("The solution is stronger than wanted already: add water instead.")
          : (volume * (wanted - found)) / (concentrate - wanted);
      },
    ),
  },
  {
    name: "detergent_strength",
    stage: "cleaning",
    says: "Strength of a cleaning solution by titration.",
    searchWords: ["titration", "caustic strength", "acid strength", "CIP check", "normality"],
    since: 1,
    arguments: [
      argument("titrant", "mL", "Acid or alkali used up to the end point.", { low: 0 }),
      argument("normality", "Eq/L", "Its strength in equivalents: 0.1 N is 0.1 Eq/L.", { low: 1e-4, high: 20 }),
      argument("sample", "mL", "Cleaning solution titrated.", { low: 0.01 }),
      choice(
        "cleaner",
        CLEANERS.map(({ name }) => name),
        "What it is reckoned as; phosphoric acid to its first end point (methyl orange).",
        { default: '"caustic soda"' },
      ),
    ],
    result: { unit: "g/L" },
    source: STOICHIOMETRY,
    range: "Total alkali or acid: carbonate in old caustic is counted too, unless taken off by a second end point.",
    caution: ACID_AND_CAUSTIC,
    arithmetic: taking<Numbers<"titrant" | "normality" | "sample"> & { readonly cleaner: string }>(
      ({ titrant, normality, sample, cleaner }) =>
        (titrant * normality * (rowNamed(CLEANERS, cleaner)?.equivalent ?? Number.NaN)) / sample,
    ),
  },
  {
    name: "rinse_left",
    stage: "cleaning",
    says: "Share of the cleaning solution that is left behind after a number of rinses.",
    searchWords: ["rinsing", "carry-over", "CIP", "residue"],
    since: 1,
    arguments: [held, rinse, argument("rinses", "1", "How many rinses, each drained.", { low: 0, high: 1000 })],
    result: { unit: "%" },
    source: "mass balance, full mixing in each rinse",
    range:
      "The best that rinses by filling can do; dead ends keep more. A continuous rinse needs more water. Check by pH or conductivity.",
    caution: ACID_AND_CAUSTIC,
    arithmetic: taking<Numbers<"held" | "rinse" | "rinses">>(({ held, rinse, rinses }) =>
      held + rinse === 0
        ? noValue("There is no liquid at all: held and rinse are 0.")
        : (held / (held + rinse)) ** rinses,
    ),
  },
  {
    name: "rinses_needed",
    stage: "cleaning",
    says: "How many rinses bring what is left of a cleaning solution below a concentration.",
    searchWords: ["rinsing", "carry-over", "CIP", "residue"],
    since: 1,
    arguments: [
      held,
      rinse,
      argument("start", "mg/L", "Concentration of the solution drained.", { low: 0 }),
      argument("target", "mg/L", "Concentration that may be left.", { low: 1e-6 }),
    ],
    result: { unit: "1" },
    source: "mass balance, full mixing in each rinse",
    range: "The fewest that can do; check by pH or conductivity.",
    caution: ACID_AND_CAUSTIC,
    arithmetic: taking<Numbers<"held" | "rinse" | "start" | "target">>(({ held, rinse, start, target }) => {
      if (start <= target || held === 0) return 0;
      if (rinse === 0) return noValue("Without rinse water nothing is rinsed: rinse is 0.");
      return Math.ceil(Math.log(target / start) / Math.log(held / (held + rinse)) - WHOLE);
    }),
  },
  {
    name: "spray_flow",
    stage: "cleaning",
    says: "Flow that a spray device needs to wet the wall of an upright vessel.",
    searchWords: ["CIP", "spray ball", "falling film", "tank cleaning"],
    since: 1,
    arguments: [
      argument("diameter", "m", "Inside diameter of the vessel.", { low: 0.05, high: 20 }),
      argument("film", "L/min/m", "Flow for each metre of circumference: 27 to 32 L/min.", {
        default: "30 L/min/m",
        low: 1,
        high: 100,
      }),
    ],
    result: { unit: "L/min" },
    source: COMMON,
    range: "Static spray balls; a rotating head needs what its maker says.",
    published: [{ argument: "film", low: 25, high: 40 }],
    caution: ACID_AND_CAUSTIC,
    arithmetic: taking<Numbers<"diameter" | "film">>(({ diameter, film }) => Math.PI * diameter * film),
  },
  {
    name: "pipe_flow",
    stage: "cleaning",
    says: "Flow that gives a velocity in a full pipe.",
    searchWords: ["CIP", "turbulent", "pipe cleaning", "hose"],
    since: 1,
    arguments: [
      argument("bore", "mm", "Inside diameter.", { low: 1, high: 1000 }),
      argument("velocity", "m/s", "Velocity: 1.5 m/s or more to clean.", { default: "1.5 m/s", low: 0, high: 20 }),
    ],
    result: { unit: "L/min" },
    source: "geometry; 1.5 m/s by common practice, no source",
    range: "A full pipe without dead legs.",
    published: [{ argument: "velocity", low: 1.5, high: 3 }],
    caution: ACID_AND_CAUSTIC,
    arithmetic: taking<Numbers<"bore" | "velocity">>(({ bore, velocity }) => (Math.PI / 4) * bore * bore * velocity),
  },
];
