import type { Value } from "../values/value.ts";
import { argument, type Numbers, rowsOf, taking } from "./arguments.ts";
import { type LibraryFunction, noValue } from "./declaration.ts";

/** SRM = 1.3546 L − 0.76: a malt's colour reaches us as linear colour, and the malt colour units want degrees Lovibond. */
const SRM_PER_LOVIBOND = 1.3546;
const SRM_AT_NO_LOVIBOND = -0.76;
/** One pound in one US gallon, kg/m³. */
const POUND_PER_US_GALLON = 0.45359237 / 0.003785411784;
/** A bright sample absorbs less than this share of its 430 nm figure at 700 nm. */
const BRIGHT_SHARE = 0.039;

const MOREY = "D. Morey, letter in Brewing Techniques, 1995: SRM = 1.4922 MCU^0.6859";

/** Malt colour units: sum of pounds times degrees Lovibond in a US gallon. */
function maltColourUnits(mass: Value, colour: Value, volume: number): number {
  let sum = 0;
  for (const [kilograms, srm] of rowsOf(mass, colour))
    sum += kilograms * Math.max(0, (srm - SRM_AT_NO_LOVIBOND) / SRM_PER_LOVIBOND);
  return sum / volume / POUND_PER_US_GALLON;
}

const morey = (units: number): number => 1.4922 * units ** 0.6859;

const NO_VOLUME = noValue("The volume is zero: type how much wort the malts colour.");
const bill = [
  argument("mass", "kg", "The malts of the bill.", { low: 0, column: "whole" as const }),
  argument("colour", "°L", "Colour of each malt, in °L, SRM or EBC as its analysis gives it.", {
    low: 0,
    high: 1000,
    column: "whole" as const,
  }),
  argument("volume", "L", "Finished wort, measured cold (20 °C).", { low: 0 }),
];
type Bill = { mass: Value; colour: Value; volume: number };

export const COLOUR: readonly LibraryFunction[] = [
  {
    name: "beer_colour",
    stage: "boil",
    says: "Colour of the beer that a malt bill gives.",
    searchWords: ["SRM", "EBC", "Lovibond", "Morey", "MCU"],
    since: 1,
    arguments: bill,
    result: { unit: "SRM" },
    source: MOREY,
    range:
      "To 50 SRM, beyond which it only guesses; fitted to two earlier fits, not to beer. It leaves out darkening in the boil and, in very pale beer, gives less than it should.",
    error: "Some 20 % either way (common practice)",
    arithmetic: taking<Bill>((given) => {
      if (given.volume === 0) return NO_VOLUME;
      return morey(maltColourUnits(given.mass, given.colour, given.volume));
    }),
  },
  {
    name: "malt_colour_units",
    stage: "boil",
    says: "Malt colour units of a malt bill: pounds times degrees Lovibond in a US gallon.",
    searchWords: ["MCU", "Lovibond"],
    since: 1,
    arguments: bill,
    result: { unit: "1" },
    source: "Definition; degrees Lovibond from SRM = 1.3546 L − 0.76 (ASBC)",
    range: "Exact for the figures typed; a measure of malt, not of beer.",
    arithmetic: taking<Bill>((given) =>
      given.volume === 0 ? NO_VOLUME : maltColourUnits(given.mass, given.colour, given.volume),
    ),
  },
  {
    name: "colour_from_malt_units",
    stage: "boil",
    says: "Colour of the beer from its malt colour units.",
    searchWords: ["MCU", "SRM", "Morey"],
    since: 1,
    arguments: [argument("units", "1", "Malt colour units.", { low: 0, high: 1000 })],
    result: { unit: "SRM" },
    source: MOREY,
    range: "To 50 SRM, which is 167 units.",
    published: [{ argument: "units", high: 167 }],
    arithmetic: taking<Numbers<"units">>((given) => morey(given.units)),
  },
  {
    name: "colour_from_absorbance",
    stage: "boil",
    says: "Colour of beer or wort from its absorbance at 430 nm.",
    searchWords: ["spectrophotometer", "photometer", "SRM", "EBC", "A430"],
    since: 1,
    arguments: [
      argument("absorbance", "1", "Absorbance at 430 nm in a cell of 1 cm.", { low: 0, high: 4 }),
      argument("dilution", "1", "How many times the sample was diluted: 2 for one part and one part of water.", {
        default: "1",
        low: 1,
        high: 1000,
      }),
      argument("absorbance_700", "1", "Absorbance at 700 nm of the same sample, where it was read.", {
        default: "0",
        low: 0,
        high: 4,
      }),
    ],
    result: { unit: "SRM" },
    source: "ASBC Beer-10 and EBC 9.6, as described in The Oxford Companion to Beer (2012)",
    range:
      "SRM is 12.7 times the absorbance, EBC 25 times, of a sample that is bright: at 700 nm less than 0.039 of the figure at 430 nm.",
    published: [{ argument: "absorbance", high: 2 }],
    arithmetic: taking<Numbers<"absorbance" | "dilution" | "absorbance_700">>((given) =>
      given.absorbance_700 > BRIGHT_SHARE * given.absorbance
        ? noValue("The sample is not bright: filter or spin it and read it again.")
        : 12.7 * given.absorbance * given.dilution,
    ),
  },
];
