import type { Value } from "../values/value.ts";
import { argument, choice, type Numbers, rowsOf, taking } from "./arguments.ts";
import { type Argument, type LibraryFunction, noValue, tooFew } from "./declaration.ts";
import { extractFromConcentration, sucroseDensity } from "./physics/sucrose.ts";
import { waterDensity } from "./physics/water.ts";

/** One pound in one US gallon, kg/m³. */
const POUND_PER_US_GALLON = 0.45359237 / 0.003785411784;
/** A little over what is possible, so that an honest error of reading still shows its figure. */
const MOST_YIELD = 1.1;
/** Nobody's fermenter is hotter than this when its volume is read, °C. */
const WARMEST_FERMENTER = 45;

const MASS_BALANCE = "Mass balance of extract; wort density by K. Rosenbruch's equation for sucrose (ICUMSA SPS-4)";

const grain = argument("grain", "kg", "Malt mashed in, as weighed.", { low: 0 });
const meteredAt = argument("water_metered_at", "°C", "Temperature at which the water volume is measured.", {
  default: "20 °C",
  low: 0,
  high: 100,
});
const volumeTemp = (says: string): Argument =>
  argument("volume_temp", "°C", says, { default: "20 °C", low: 0, high: 100 });
const extractAsIs = argument("extract_as_is", "%", "Extract of the malt as it comes, coarse grind: see malt_as_is.", {
  low: 0,
  high: 100,
});
const wort = (says: string): Argument => argument("gravity", "°P", says, { low: 0, high: 60 });
const share = (name: string, says: string, more: Partial<Argument> = {}): Argument =>
  argument(name, "%", says, { low: 0, high: 100, ...more });

/** The malts and what they give; it follows the functions of the mash. */
export const MALT: readonly LibraryFunction[] = [
  {
    name: "malt_as_is",
    stage: "mash",
    says: "Extract of malt as it comes from the sack, coarse grind, from the figures of its analysis.",
    searchWords: ["malt analysis", "DBFG", "CGAI", "coarse", "fine", "potential"],
    since: 1,
    arguments: [
      share("fine_dry", "Extract of the analysis: fine grind, dry basis."),
      share("difference", "Fine-coarse difference of the analysis, in points of extract.", {
        default: "1.5 %",
        high: 10,
      }),
      share("moisture", "Moisture of the malt.", { default: "4 %", high: 15 }),
    ],
    result: { unit: "%" },
    source: "Mass balance of the laboratory figures",
    range: "Exact for the analysis typed; base malt is 78 to 83 % fine, dry (common practice).",
    published: [
      { argument: "fine_dry", low: 50, high: 100 },
      { argument: "difference", high: 4 },
    ],
    arithmetic: taking<Numbers<"fine_dry" | "difference" | "moisture">>((given) => {
      const coarse = given.fine_dry - given.difference;
      return coarse < 0
        ? noValue("The fine-coarse difference is larger than the extract itself.")
        : coarse * (1 - given.moisture);
    }),
  },
  {
    name: "extract_from_potential",
    stage: "mash",
    says: "Extract of a malt or sugar, as share of its mass, from the gravity that a pound of it gives in a US gallon.",
    searchWords: ["PPG", "points per pound per gallon", "potential", "yield"],
    since: 1,
    arguments: [
      argument("potential", "°P", "Gravity of a US gallon of wort that holds the extract of one pound: 1.037 SG.", {
        low: 0,
        high: 13,
      }),
    ],
    result: { unit: "%" },
    source: MASS_BALANCE,
    range:
      "Sucrose, all extract, gives 46.2 points. As good as the figure of the malt, which is dry or as is, fine or coarse, as its analysis says.",
    published: [{ argument: "potential", low: 4, high: 11.6 }],
    arithmetic: taking<Numbers<"potential">>(
      (given) => (given.potential * sucroseDensity(given.potential, 20)) / POUND_PER_US_GALLON,
    ),
  },
  {
    name: "grist_extract",
    stage: "mash",
    says: "Extract as is of a whole grist, weighted by the mass of each malt.",
    searchWords: ["malt bill", "grain bill", "weighted mean"],
    since: 1,
    arguments: [
      argument("mass", "kg", "The malts of the bill.", { low: 0, column: "whole" }),
      argument("extract_as_is", "%", "Extract of each, as it comes.", { low: 0, high: 100, column: "whole" }),
    ],
    result: { unit: "%" },
    source: "Mass balance",
    range: "Exact for the figures typed.",
    arithmetic: taking<{ mass: Value; extract_as_is: Value }>((given) => {
      let total = 0;
      let extract = 0;
      const rows = rowsOf(given.mass, given.extract_as_is);
      for (const [mass, share] of rows) {
        total += mass;
        extract += mass * share;
      }
      if (total !== 0) return extract / total;
      return (rows.length === 0 ? tooFew : noValue)("The malt bill is empty: there is nothing to weigh.");
    }),
  },
  {
    name: "first_wort_gravity",
    stage: "mash",
    says: "The strongest wort a mash can give: what runs off first.",
    searchWords: ["first wort", "first runnings", "mash conversion"],
    since: 1,
    arguments: [
      grain,
      argument("water", "L", "Water in the mash, measured at `water_metered_at`.", { low: 0 }),
      extractAsIs,
      share("moisture", "Moisture of the malt, which dilutes as well.", { default: "4 %", high: 15 }),
      share("conversion", "Share of the extract that the mash has dissolved.", { default: "100 %" }),
      meteredAt,
    ],
    result: { unit: "°P" },
    source: "Mass balance: 100 e / (r + e)",
    range: "Complete mixing, no losses; a reading below it tells how far the mash has converted.",
    arithmetic: taking<Numbers<"grain" | "water" | "extract_as_is" | "moisture" | "conversion" | "water_metered_at">>(
      (given) => {
        const extract = given.grain * given.extract_as_is * given.conversion;
        const water = given.water * waterDensity(given.water_metered_at) + given.grain * given.moisture;
        return extract + water === 0
          ? noValue("There is neither malt nor water: type what goes into the tun.")
          : extract / (extract + water);
      },
    ),
  },
  {
    name: "extract_mass",
    stage: "mash",
    says: "Mass of extract in a volume of wort.",
    searchWords: ["extract", "pounds of extract", "kilograms of extract", "yield"],
    since: 1,
    arguments: [
      argument("volume", "L", "Wort, measured at `volume_temp`.", { low: 0 }),
      argument("gravity", "°P", "Its gravity, corrected to 20 °C.", { low: -2, high: 60 }),
      volumeTemp("Temperature at which the volume was measured."),
    ],
    result: { unit: "kg" },
    source: MASS_BALANCE,
    range: "Within 0.1 % of the tables weighed in air, to 30 °P and 100 °C.",
    published: [{ argument: "gravity", low: -2, high: 30 }],
    arithmetic: taking<Numbers<"volume" | "gravity" | "volume_temp">>(
      (given) => given.volume * sucroseDensity(given.gravity, given.volume_temp) * given.gravity,
    ),
  },
  {
    name: "gravity_from_extract",
    stage: "mash",
    says: "Gravity of wort that holds a mass of extract in a volume.",
    searchWords: ["potential", "points per pound", "litre-degrees", "original gravity", "OG"],
    since: 1,
    arguments: [
      argument("extract", "kg", "Extract dissolved.", { low: 0 }),
      argument("volume", "L", "Wort made up with it, measured at `volume_temp`.", { low: 0 }),
      volumeTemp("Temperature at which the volume is measured."),
    ],
    result: { unit: "°P" },
    source: MASS_BALANCE,
    range: "To 30 °P and 100 °C; a pound of sucrose in a US gallon gives 46.2 points.",
    arithmetic: taking<Numbers<"extract" | "volume" | "volume_temp">>((given) => {
      if (given.volume === 0) return noValue("The volume is zero: type the volume of wort.");
      const gravity = extractFromConcentration(given.extract / given.volume, given.volume_temp);
      return Number.isNaN(gravity) ? noValue("So much extract does not dissolve in so little wort.") : gravity;
    }),
  },
  {
    name: "malt_needed",
    stage: "mash",
    says: "Malt that gives a volume of wort of the wanted gravity.",
    searchWords: ["grain bill", "how much malt", "grist"],
    since: 1,
    arguments: [
      argument("volume", "L", "Wort wanted, measured at `volume_temp`, at the point for which `yield` holds.", {
        low: 0,
      }),
      wort("Gravity wanted."),
      extractAsIs,
      share("yield", "Brewhouse yield, a figure of the plant: see brewhouse_yield.", { default: "85 %" }),
      volumeTemp("Temperature at which the volume is measured."),
    ],
    result: { unit: "kg" },
    source: MASS_BALANCE,
    range: "As good as the yield typed; 75 to 95 % by plant and gravity (common practice).",
    published: [
      { argument: "gravity", high: 30 },
      { argument: "yield", low: 50 },
    ],
    arithmetic: taking<Numbers<"volume" | "gravity" | "extract_as_is" | "yield" | "volume_temp">>((given) => {
      const gained = given.extract_as_is * given.yield;
      if (gained === 0) return noValue("Malt of no extract, or a yield of nothing, gives no wort.");
      return (given.volume * sucroseDensity(given.gravity, given.volume_temp) * given.gravity) / gained;
    }),
  },
  {
    name: "wort_volume",
    stage: "mash",
    says: "Volume of wort of a wanted gravity that a weight of malt gives.",
    searchWords: ["how much wort", "batch size"],
    since: 1,
    arguments: [
      grain,
      extractAsIs,
      wort("Gravity of the wort."),
      share("yield", "Brewhouse yield, a figure of the plant: see brewhouse_yield.", { default: "85 %" }),
      volumeTemp("Temperature at which the volume is measured."),
    ],
    result: { unit: "L" },
    source: MASS_BALANCE,
    range: "As good as the yield typed.",
    published: [
      { argument: "gravity", high: 30 },
      { argument: "yield", low: 50 },
    ],
    arithmetic: taking<Numbers<"grain" | "extract_as_is" | "gravity" | "yield" | "volume_temp">>((given) => {
      if (given.gravity === 0) return noValue("Wort of no extract is water: type a gravity above 0 °P.");
      return (
        (given.grain * given.extract_as_is * given.yield) /
        (sucroseDensity(given.gravity, given.volume_temp) * given.gravity)
      );
    }),
  },
  {
    name: "brewhouse_yield",
    stage: "mash",
    says: "Share of the extract of the malt that was found in the wort.",
    searchWords: ["efficiency", "brewhouse efficiency", "mash efficiency", "extract yield"],
    since: 1,
    arguments: [
      argument("volume", "L", "Wort, measured at `volume_temp` at the point that `measured_at` names.", { low: 0 }),
      argument("gravity", "°P", "Its gravity, corrected to 20 °C.", { low: 0, high: 60 }),
      grain,
      extractAsIs,
      argument(
        "volume_temp",
        "°C",
        "Temperature of the wort when its volume was read: boiling wort fills 4 % more than cold.",
        { low: 0, high: 100 },
      ),
      choice(
        "measured_at",
        ["kettle", "fermenter"],
        "Where the volume was read; kettle trub and hops lie between the two.",
        { default: '"kettle"' },
      ),
    ],
    result: { unit: "%" },
    source: MASS_BALANCE,
    range:
      "As good as the volume: 1 % of it is 1 % of yield. The extract of the malt as is, coarse grind, is the base.",
    published: [{ argument: "gravity", high: 30 }],
    arithmetic: taking<
      Numbers<"volume" | "gravity" | "grain" | "extract_as_is" | "volume_temp"> & { readonly measured_at: string }
    >((given) => {
      const offered = given.grain * given.extract_as_is;
      if (offered === 0) return noValue("The malt holds no extract: type its weight and its extract as is.");
      if (given.measured_at.toLowerCase() === "fermenter" && given.volume_temp > WARMEST_FERMENTER)
        return noValue(
          "Wort in a fermenter is not so hot: name the kettle, or type the temperature at which the fermenter was read.",
        );
      const found = given.volume * sucroseDensity(given.gravity, given.volume_temp) * given.gravity;
      if (found > MOST_YIELD * offered)
        return noValue(
          "The wort holds more extract than the malt: look again at volume, gravity, temperature and malt weight.",
        );
      return found / offered;
    }),
  },
];
