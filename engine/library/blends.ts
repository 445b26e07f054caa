import { argument, type Numbers, taking } from "./arguments.ts";
import { type LibraryFunction, type NoValue, noValue } from "./declaration.ts";

/** What both beers have and the blend has in proportion to volume. */
interface Blended {
  readonly name: string;
  readonly unit: string;
  readonly what: string;
  readonly of: string;
  readonly range: string;
  readonly searchWords: readonly string[];
}

const BLENDED: readonly Blended[] = [
  {
    name: "blended_alcohol",
    unit: "% vol",
    what: "alcohol by volume",
    of: "Alcohol by volume",
    range: "Within 0.02 % vol: alcohol and water contract a little when mixed.",
    searchWords: ["blend", "ABV", "dilution", "high gravity brewing"],
  },
  {
    name: "blended_bitterness",
    unit: "IBU",
    what: "bitterness",
    of: "Bitterness",
    range: "Within the error of the bitterness figures.",
    searchWords: ["blend", "IBU", "dilution"],
  },
  {
    name: "blended_carbonation",
    unit: "vol",
    what: "carbonation",
    of: "Carbonation",
    range: "If no gas is lost in the blending.",
    searchWords: ["blend", "CO2", "dilution"],
  },
  {
    name: "blended_colour",
    unit: "SRM",
    what: "colour",
    of: "Colour",
    range: "Clear beers; colour is in proportion to what absorbs.",
    searchWords: ["blend", "color", "EBC", "dilution"],
  },
];

const first = argument("first", "L", "Volume of the first beer, both at the same temperature.", { low: 0 });
const second = argument("second", "L", "Volume of the second beer or of water.", { low: 0 });

type Two = Numbers<"first" | "of_first" | "second" | "of_second">;

const byVolume = ({ first, of_first, second, of_second }: Two): number | NoValue =>
  first + second === 0
    ? noValue("There is nothing to blend: both volumes are 0.")
    : (first * of_first + second * of_second) / (first + second);

const blendOf = ({ name, unit, what, of, range, searchWords }: Blended): LibraryFunction => ({
  name,
  stage: "packaging",
  says: `The ${what} of a blend of two beers, by their volumes.`,
  searchWords,
  since: 1,
  arguments: [
    first,
    argument("of_first", unit, `${of} of the first beer.`, { low: 0 }),
    second,
    argument("of_second", unit, `${of} of the second beer; 0 for water.`, { low: 0 }),
  ],
  result: { unit },
  source: "balance by volume",
  range,
  arithmetic: taking<Two>(byVolume),
});

/** Blending and diluting; gravity has blended_gravity. */
export const BLENDS: readonly LibraryFunction[] = [
  ...BLENDED.map(blendOf),
  {
    name: "dilution_for_alcohol",
    stage: "packaging",
    says: "Water to add to beer to bring it down to an alcohol content.",
    searchWords: ["dilution liquor", "high gravity brewing", "deaerated water", "cut to strength", "liquoring down"],
    since: 1,
    arguments: [
      argument("volume", "L", "Beer before dilution, at the water's temperature.", { low: 0 }),
      argument("strength", "% vol", "Its alcohol by volume.", { low: 0, high: 30 }),
      argument("target", "% vol", "Alcohol by volume wanted.", { low: 0.01, high: 30 }),
    ],
    result: { unit: "L" },
    source: "balance by volume",
    range:
      "Within 0.3 % of the volume. Use deaerated, carbonated water; bitterness, colour and carbonation fall in the same measure.",
    arithmetic: taking<Numbers<"volume" | "strength" | "target">>(({ volume, strength, target }) =>
      target > strength
        ? noValue("Water cannot raise the strength: the target lies above the beer's own.")
        : volume * (strength / target - 1),
    ),
  },
];
