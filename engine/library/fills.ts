import { meanOf, sampleDeviation, studentQuantile } from "../base/statistics.ts";
import type { NumberColumn, Value } from "../values/value.ts";
import { argument, asColumn, type Numbers, taking } from "./arguments.ts";
import { NOT_A_FILL_APPROVAL } from "./cautions.ts";
import { type LibraryFunction, type NoValue, noValue, tooFew } from "./declaration.ts";

const DIRECTIVE = "Directive 76/211/EEC, annexes I (2.4) and II";
const SINGLE_SAMPLING = "single sampling plan of the UK Packaged Goods Regulations 2006, schedule 2";
const ROUNDING_FROM_MEMORY = "the 1.5 % above 1 L and the rounding up are from memory";

/** Density of air and of the weights that balances are set by, kg/m³: the conventional values of OIML D 28. */
const AIR_DENSITY = 1.2;
const WEIGHT_DENSITY = 8000;

const MILLILITRE = 1e-6;

/** The bands of the table of tolerable negative errors, in mL: up to a nominal volume, a share of it or a fixed error. */
const BANDS = [
  { upTo: 50, share: 0.09 },
  { upTo: 100, fixed: 4.5 },
  { upTo: 200, share: 0.045 },
  { upTo: 300, fixed: 9 },
  { upTo: 500, share: 0.03 },
  { upTo: 1000, fixed: 15 },
  { upTo: 10_000, share: 0.015 },
] as const;

/** Volumes are compared to a millionth of a millilitre: below it lies only the arithmetic. */
const SAME_MILLILITRES = 1e-6;

/** Tolerable negative error, mL, of a nominal volume of 5 to 10 000 mL. A share is rounded up to a tenth of a millilitre. */
function tolerableError(nominal: number): number {
  const band = BANDS.find(({ upTo }) => nominal <= upTo + SAME_MILLILITRES);
  if (band === undefined) return Number.NaN;
  return "fixed" in band ? band.fixed : Math.ceil(band.share * nominal * 10 - SAME_MILLILITRES) / 10;
}

/** How many short packages a sample of at least so many may hold. */
const ALLOWED_SHORT = [
  { sample: 125, short: 7 },
  { sample: 80, short: 5 },
  { sample: 50, short: 3 },
  { sample: 20, short: 1 },
] as const;

/** The share of a large sample that may be short. */
const SHORT_SHARE = 0.025;
/** Below this many packages neither plan of the law applies; the law then asks for all of them. */
const SMALLEST_SAMPLE = 20;

function allowedShort(count: number): number {
  const plan = ALLOWED_SHORT.find(({ sample }) => count >= sample);
  return Math.max(plan?.short ?? 0, Math.floor(SHORT_SHARE * count));
}

/** The level at which the mean is tested, one-sided. */
const CONFIDENCE = 0.995;

const lowestMeanOf = (nominal: number, deviation: number, count: number): number =>
  nominal - (studentQuantile(CONFIDENCE, count - 1) * deviation) / Math.sqrt(count);

/** Net volumes in mL of which none is missing. */
const volumesOf = (given: Value): NumberColumn =>
  asColumn(given)
    .filter((volume) => !Number.isNaN(volume))
    .map((volume) => volume / MILLILITRE);

const below = (volumes: NumberColumn, limit: number): number =>
  volumes.reduce((count, volume) => (volume < limit - SAME_MILLILITRES ? count + 1 : count), 0);

const figure = (millilitres: number): string => `${millilitres.toFixed(1)} mL`;

/** Why there is none of `what` yet, or null where enough packages are weighed. */
const tooSmall = (what: string, count: number): NoValue | null =>
  count < SMALLEST_SAMPLE
    ? tooFew(`${what} needs at least ${SMALLEST_SAMPLE} packages; ${count} ${count === 1 ? "is" : "are"} weighed.`)
    : null;

/** How many packages of a sample lie below a volume in mL; nothing is said of none. */
const countBelow = (volumes: NumberColumn, limit: number): number | NoValue =>
  volumes.length === 0 ? tooFew("No package is weighed yet.") : below(volumes, limit);

/** The verdict on a sample, beginning with `passes` or `fails`, with every figure that it rests on. */
function verdictOn(volumes: NumberColumn, nominal: number): string | NoValue {
  const count = volumes.length;
  const small = tooSmall("A verdict", count);
  if (small !== null) return small;
  const mean = meanOf(volumes).value;
  const lowest = lowestMeanOf(nominal, sampleDeviation(volumes).value, count);
  const error = tolerableError(nominal);
  const [short, tooShort, allowed] = [
    below(volumes, nominal - error),
    below(volumes, nominal - 2 * error),
    allowedShort(count),
  ];
  const passes = mean >= lowest - SAME_MILLILITRES && short <= allowed && tooShort === 0;
  return [
    `${passes ? "passes" : "fails"}: ${count} packages`,
    `mean ${figure(mean)}, ${mean >= lowest - SAME_MILLILITRES ? "not below" : "below"} ${figure(lowest)}`,
    `${short} short of ${figure(nominal - error)}, at most ${allowed} may be`,
    `${tooShort} below ${figure(nominal - 2 * error)}, none may be`,
  ].join("; ");
}

const nominal = argument("nominal", "mL", "Volume stated on the package, at 20 °C.", { low: 5, high: 10_000 });
const volumes = argument("volumes", "mL", "Net volumes at 20 °C of the packages weighed: a column.", {
  column: "whole",
  low: 0,
});

type Sample = Numbers<"nominal"> & { readonly volumes: Value };

/** What is in the package, and whether it is enough. */
export const FILLS: readonly LibraryFunction[] = [
  {
    name: "net_volume",
    stage: "packaging",
    says: "Volume of beer in a package, from its weight full and empty and the density of the beer.",
    searchWords: ["fill", "weighing packages", "contents", "net contents"],
    since: 1,
    arguments: [
      argument("gross", "g", "Weight of the full package, on a balance in air.", { low: 0 }),
      argument("tare", "g", "Weight of the same package empty and dry, with its closure: it varies, so weigh it.", {
        low: 0,
      }),
      argument("density", "kg/m³", "True density of the beer at 20 °C: see wort_density.", { low: 950, high: 1300 }),
    ],
    result: { unit: "mL" },
    source: "mass balance with the buoyancy of air of 1.2 kg/m³ (OIML D 28)",
    range:
      "At 20 °C, within 0.03 %; without the buoyancy it would read 0.105 % low. Gas that escapes on opening weighs 1 to 2 g a litre.",
    caution: NOT_A_FILL_APPROVAL,
    arithmetic: taking<Numbers<"gross" | "tare" | "density">>(({ gross, tare, density }) =>
      tare > gross
        ? noValue(
            "The empty package weighs more than the full one. Give the full weight as gross, the empty one as tare.",
          )
        : ((gross - tare) * (1 - AIR_DENSITY / WEIGHT_DENSITY)) / (density - AIR_DENSITY),
    ),
  },
  {
    name: "tolerable_negative_error",
    stage: "packaging",
    says: "How far below its nominal volume a package may lie before it counts as short, by European law.",
    searchWords: ["TNE", "76/211", "e-mark", "prepackages", "average system"],
    since: 1,
    arguments: [nominal],
    result: { unit: "mL" },
    source: `${DIRECTIVE}; ${ROUNDING_FROM_MEMORY}`,
    range: "5 mL to 10 L. Other countries have other tables.",
    caution: NOT_A_FILL_APPROVAL,
    arithmetic: taking<Numbers<"nominal">>(({ nominal }) => tolerableError(nominal / MILLILITRE) * MILLILITRE),
  },
  {
    name: "too_short_below",
    stage: "packaging",
    says: "Volume below which no package with the e-mark may lie: nominal less twice the tolerable negative error.",
    searchWords: ["TNE", "T2", "absolute limit", "76/211"],
    since: 1,
    arguments: [nominal],
    result: { unit: "mL" },
    source: `${DIRECTIVE}; ${ROUNDING_FROM_MEMORY}`,
    range: "5 mL to 10 L.",
    caution: NOT_A_FILL_APPROVAL,
    arithmetic: taking<Numbers<"nominal">>(
      ({ nominal }) => nominal - 2 * tolerableError(nominal / MILLILITRE) * MILLILITRE,
    ),
  },
  {
    name: "lowest_mean",
    stage: "packaging",
    says: "Lowest mean volume of a sample that still passes, from the sample's spread and size.",
    searchWords: ["t-test", "average fill", "76/211", "mean check"],
    since: 1,
    arguments: [
      argument("nominal", "mL", "Volume stated on the package, at 20 °C.", { low: 0 }),
      argument("spread", "mL", "Sample standard deviation of the net volumes.", { low: 0 }),
      argument("count", "1", "How many packages were weighed.", { low: 2, high: 1e6 }),
    ],
    result: { unit: "mL" },
    source: `${DIRECTIVE}, 2.3: nominal − t(0.995) × spread / √count`,
    range: `From ${SMALLEST_SAMPLE} packages on, as fill_verdict. Student's t for the sample's size: 0.640 × spread for 20 packages, 0.503 for 30, 0.379 for 50.`,
    caution: NOT_A_FILL_APPROVAL,
    arithmetic: taking<Numbers<"nominal" | "spread" | "count">>(
      ({ nominal, spread, count }) =>
        tooSmall("A least mean", Math.round(count)) ?? lowestMeanOf(nominal, spread, Math.round(count)),
    ),
  },
  {
    name: "count_short",
    stage: "packaging",
    says: "How many packages of a column lie below nominal by more than the tolerable negative error.",
    searchWords: ["TNE", "T1", "defective", "underfill"],
    since: 1,
    arguments: [volumes, nominal],
    result: { unit: "1" },
    source: DIRECTIVE,
    range: "See fill_verdict for how many may be.",
    caution: NOT_A_FILL_APPROVAL,
    arithmetic: taking<Sample>(({ volumes, nominal }) => {
      const millilitres = nominal / MILLILITRE;
      return countBelow(volumesOf(volumes), millilitres - tolerableError(millilitres));
    }),
  },
  {
    name: "count_too_short",
    stage: "packaging",
    says: "How many packages of a column lie below nominal by more than twice the tolerable negative error: none may.",
    searchWords: ["TNE", "T2", "inadequate", "underfill"],
    since: 1,
    arguments: [volumes, nominal],
    result: { unit: "1" },
    source: DIRECTIVE,
    range: "One is too many for the e-mark.",
    caution: NOT_A_FILL_APPROVAL,
    arithmetic: taking<Sample>(({ volumes, nominal }) => {
      const millilitres = nominal / MILLILITRE;
      return countBelow(volumesOf(volumes), millilitres - 2 * tolerableError(millilitres));
    }),
  },
  {
    name: "fill_verdict",
    stage: "packaging",
    says: "Verdict on a column of net volumes: whether mean, short packages and worst packages pass, with the figures.",
    searchWords: ["fill check", "76/211", "average system", "e-mark", "reference test", "net contents"],
    since: 1,
    arguments: [volumes, nominal],
    result: { text: true },
    source: `${DIRECTIVE}; how many may be short: 1 of 20, then ${SINGLE_SAMPLING} (3 of 50, 5 of 80, 7 of 125), 2.5 % of more`,
    range: `From ${SMALLEST_SAMPLE} packages on. See also count_short, count_too_short and lowest_mean.`,
    caution: NOT_A_FILL_APPROVAL,
    arithmetic: taking<Sample>(({ volumes, nominal }) => verdictOn(volumesOf(volumes), nominal / MILLILITRE)),
  },
];
