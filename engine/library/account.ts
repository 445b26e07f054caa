import { equalTexts } from "../operations/comparison.ts";
import { makeCompound } from "../units/compound.ts";
import { specificGravity } from "../units/gravity.ts";
import { quantity, type Type, UNKNOWN } from "../values/kind.ts";
import { argument, choice, type Numbers, taking } from "./arguments.ts";
import { NOT_A_DUTY_RULING } from "./cautions.ts";
import { type Argument, type LibraryFunction, noValue } from "./declaration.ts";

const US_BARREL = 0.117347765304;

/** Rounding down or up, a figure that misses a step by less than this share of one stands on it: the arithmetic's last digits. */
const ON_THE_STEP = 1e-6;

/** Each way of rounding to a whole number of steps, as the authority asks for it. */
const ROUNDINGS: Readonly<Record<string, (steps: number) => number>> = {
  down: (steps) => Math.floor(steps + ON_THE_STEP),
  nearest: (steps) => Math.floor(steps + 0.5 + ON_THE_STEP),
  up: (steps) => Math.ceil(steps - ON_THE_STEP),
  none: (steps) => steps,
};

const roundedTo = (amount: number, step: number, rounding: string): number =>
  (ROUNDINGS[rounding.toLowerCase()]?.(amount / step) ?? Number.NaN) * step;

/** Five decimals of a barrel: 27 CFR 25.156 and 25.158. */
const barrelsToFiveDecimals = (volume: number): number => roundedTo(volume / US_BARREL, 1e-5, "nearest") * US_BARREL;

/** A keg that holds more than this over its rating is taxed on what it holds. */
const OVERFILL = 1.02;

/** The amount of money in a type of money or of money per something: its currency alone. */
function currencyOf(money: Type | undefined): Type {
  if (money?.kind.is !== "quantity" || money.unit?.is !== "compound") return { kind: UNKNOWN, unit: null, rows: null };
  const unit = makeCompound(
    money.unit.terms.filter((term) => term.unit.dimension.powers.some(([base]) => base.startsWith("currency:"))),
  );
  return { kind: quantity(unit.dimension), unit, rows: null };
}

const rounding = choice("rounding", Object.keys(ROUNDINGS), "How the authority rounds the sum, at the end only.");
const step = argument(
  "step",
  "1",
  "To what it is rounded, in the currency: 0.01 for a cent or penny, 1 for whole ones.",
  {
    default: "0.01",
    low: 1e-6,
  },
);
const volumeBefore = argument("before", "L", "Volume before the step, at 20 °C.", { low: 0 });
const volumeAfter = argument(
  "after",
  "L",
  "Volume after it, at 20 °C; two volumes at different temperatures do not compare.",
  { low: 0 },
);
const gravityOf = (name: string, says: string): Argument => argument(name, "°P", says, { low: 0, high: 40 });

type Rounding = Numbers<"volume" | "rate" | "step"> & { readonly rounding: string };

const extractIn = (volume: number, gravity: number): number => volume * specificGravity(gravity) * gravity;

/** The account of a batch: losses, cost, alcohol and duty. */
export const ACCOUNT: readonly LibraryFunction[] = [
  {
    name: "pure_alcohol",
    stage: "account",
    says: "Volume of pure alcohol in a volume of beer.",
    searchWords: ["LPA", "hLPA", "litres of pure alcohol", "duty", "excise"],
    since: 1,
    arguments: [
      argument("volume", "L", "Beer at 20 °C.", { low: 0 }),
      argument("strength", "% vol", "Alcohol by volume that counts for duty: see duty_strength.", {
        low: 0,
        high: 100,
      }),
    ],
    result: { unit: "L" },
    source: "definition of alcoholic strength by volume (OIML R 22)",
    range: "Exact; round only at the end, by the authority's rule.",
    caution: NOT_A_DUTY_RULING,
    arithmetic: taking<Numbers<"volume" | "strength">>(({ volume, strength }) => volume * strength),
  },
  {
    name: "duty_strength",
    stage: "account",
    says: "Strength that counts for British duty: cut to a tenth of a per cent, never rounded up.",
    searchWords: ["ABV", "truncate", "HMRC", "excise"],
    since: 1,
    arguments: [
      argument(
        "strength",
        "% vol",
        "Alcohol by volume at 20 °C; for beer that goes on fermenting, what it will reach.",
        { low: 0, high: 100 },
      ),
    ],
    result: { unit: "% vol" },
    source: "GOV.UK, Alcoholic products technical guide, section 11",
    range: "7.59 % vol counts as 7.5. Other countries round otherwise. A stronger figure on the label counts instead.",
    caution: NOT_A_DUTY_RULING,
    arithmetic: taking<Numbers<"strength">>(({ strength }) => roundedTo(strength, 0.001, "down")),
  },
  {
    name: "duty",
    stage: "account",
    says: "Duty on a volume of pure alcohol, or of beer, at a rate per volume of it.",
    searchWords: ["excise", "beer tax", "duty return"],
    since: 1,
    arguments: [
      argument(
        "volume",
        "L",
        "Pure alcohol where the rate is per volume of that, beer where it is per volume of beer.",
        { low: 0 },
      ),
      argument("rate", "", "Rate of duty, with its currency, as the authority gives it.", {
        takes: { money: "per", unit: "L" },
      }),
      rounding,
      step,
    ],
    result: { rule: ({ rate }) => currencyOf(rate) },
    source: "product of volume and rate",
    range: "Exact; the rate, reliefs and rounding are the authority's.",
    caution: NOT_A_DUTY_RULING,
    arithmetic: taking<Rounding>(({ volume, rate, rounding, step }) => roundedTo(volume * rate, step, rounding)),
  },
  {
    name: "duty_by_plato",
    stage: "account",
    says: "Duty on beer at a rate per hectolitre and degree Plato of the original gravity.",
    searchWords: ["excise", "beer tax", "Plato duty"],
    since: 1,
    arguments: [
      argument("volume", "L", "Beer at 20 °C.", { low: 0 }),
      gravityOf("original", "Original gravity of the beer."),
      argument("rate", "", "Rate of duty, with its currency, for each hectolitre and degree Plato.", {
        takes: { money: "per", unit: "hL·°P" },
      }),
      rounding,
      step,
      choice(
        "degrees",
        ["whole", "as read"],
        "Whether decimals of a degree are left out, as most countries do (from memory).",
        {
          default: '"whole"',
        },
      ),
    ],
    result: { rule: ({ rate }) => currencyOf(rate) },
    source: "Directive 92/83/EEC, article 3 (from memory)",
    range: "Exact; the rate, classes of gravity, reliefs and rounding are the authority's.",
    caution: NOT_A_DUTY_RULING,
    arithmetic: taking<Rounding & Numbers<"original"> & { readonly degrees: string }>(
      ({ volume, original, rate, rounding, step, degrees }) => {
        const counted = equalTexts(degrees, "whole") ? roundedTo(original, 0.01, "down") : original;
        return roundedTo(volume * counted * rate, step, rounding);
      },
    ),
  },
  {
    name: "tax_barrels",
    stage: "account",
    says: "Taxable volume of so many like packages in US barrels, each case or keg taken to five decimals.",
    searchWords: ["TTB", "barrel equivalent", "case", "keg", "excise"],
    since: 1,
    arguments: [
      argument("package", "L", "Stated contents of one case or keg: 24 × 12 US fl oz for a case.", { low: 1e-6 }),
      argument("count", "1", "How many cases or kegs.", { default: "1", low: 0 }),
    ],
    result: { unit: "US bbl" },
    source: "27 CFR 25.156 and 25.158",
    range: "A US barrel is 31 US gallons. For a keg filled over its rating see keg_tax_barrels.",
    caution: NOT_A_DUTY_RULING,
    arithmetic: taking<Numbers<"package" | "count">>((given) => barrelsToFiveDecimals(given.package) * given.count),
  },
  {
    name: "keg_tax_barrels",
    stage: "account",
    says: "Taxable volume of a keg in US barrels: its rating, or what it holds where that is more than 2 % above.",
    searchWords: ["TTB", "barrel equivalent", "overfill", "excise"],
    since: 1,
    arguments: [
      argument("rated", "L", "Rated capacity.", { low: 1e-6 }),
      argument("contents", "L", "What it holds.", { low: 0 }),
    ],
    result: { unit: "US bbl" },
    source: "27 CFR 25.156",
    range: "A US barrel is 31 US gallons.",
    caution: NOT_A_DUTY_RULING,
    arithmetic: taking<Numbers<"rated" | "contents">>(({ rated, contents }) =>
      barrelsToFiveDecimals(contents > rated * OVERFILL * (1 + ON_THE_STEP) ? contents : rated),
    ),
  },
  {
    name: "within_label",
    stage: "account",
    says: "Whether a measured strength lies within the tolerance of the one on the label.",
    searchWords: ["label tolerance", "ABV label", "label claim"],
    since: 1,
    arguments: [
      argument("measured", "% vol", "Alcohol by volume found by the approved method.", { low: 0, high: 100 }),
      argument("stated", "% vol", "Alcohol by volume on the label.", { low: 0, high: 100 }),
      argument(
        "tolerance",
        "% vol",
        "How far they may lie apart by law: 0.3 % vol in the US; 0.5 in the EU up to 5.5 % vol (both from memory).",
        {
          default: "0.3 % vol",
          low: 0,
          high: 2,
        },
      ),
    ],
    result: { truth: true },
    source: "27 CFR 7.65 (from memory)",
    range: "The tolerance is the law's of the place.",
    caution: NOT_A_DUTY_RULING,
    arithmetic: taking<Numbers<"measured" | "stated" | "tolerance">>(({ measured, stated, tolerance }) =>
      Math.abs(measured - stated) <= tolerance * (1 + ON_THE_STEP) ? 1 : 0,
    ),
  },
  {
    name: "volume_loss",
    stage: "account",
    says: "Share of the volume that a step lost.",
    searchWords: ["losses", "shrinkage", "wastage", "yield"],
    since: 1,
    arguments: [volumeBefore, volumeAfter],
    result: { unit: "%" },
    source: "definition: (before − after) / before",
    range:
      "Both volumes at the same temperature; negative where the volume grew. Evaporation and dilution count too: see extract_loss.",
    arithmetic: taking<Numbers<"before" | "after">>(({ before, after }) =>
      before === 0 ? noValue("There was no volume before the step: before is 0.") : (before - after) / before,
    ),
  },
  {
    name: "extract_loss",
    stage: "account",
    says: "Share of the extract that a step lost, from volume and gravity before and after.",
    searchWords: ["losses", "yield", "trub loss", "hop loss"],
    since: 1,
    arguments: [
      volumeBefore,
      gravityOf("gravity_before", "Gravity before the step."),
      volumeAfter,
      gravityOf("gravity_after", "Gravity after it; of beer the original gravity, not what a hydrometer reads in it."),
    ],
    result: { unit: "%" },
    source: "mass balance of extract: volume × specific gravity × gravity",
    range: "Unmoved by evaporation and dilution. An error of 0.1 °P is 1 % of a 10 °P wort.",
    arithmetic: taking<Numbers<"before" | "gravity_before" | "after" | "gravity_after">>((given) => {
      const had = extractIn(given.before, given.gravity_before);
      return had === 0
        ? noValue("There was no extract before the step: volume or gravity is 0.")
        : (had - extractIn(given.after, given.gravity_after)) / had;
    }),
  },
  {
    name: "unit_cost",
    stage: "account",
    says: "Cost of each package from the cost of the batch.",
    searchWords: ["cost per can", "cost per keg", "price", "unit price"],
    since: 1,
    arguments: [
      argument("cost", "", "What the batch cost, with its currency.", { takes: { money: "amount" } }),
      argument("packages", "1", "Good packages that it gave.", { low: 0 }),
    ],
    result: { rule: ({ cost }) => currencyOf(cost) },
    source: "division",
    range: "As good as the cost; losses are borne by the packages that are sold.",
    arithmetic: taking<Numbers<"cost" | "packages">>(({ cost, packages }) =>
      packages === 0 ? noValue("There are no packages to bear the cost: packages is 0.") : cost / packages,
    ),
  },
];
