import { specificGravity } from "../units/gravity.ts";
import { argument, choice, type Numbers, taking } from "./arguments.ts";
import { SCALDS } from "./cautions.ts";
import { type Argument, type LibraryFunction, noValue } from "./declaration.ts";
import { ZERO_CELSIUS } from "./physics/saturation.ts";

/** One mg/L of isomerised alpha acid is one IBU: in coherent units, kg/m³ to bitterness. */
const IBU_PER_CONCENTRATION = 1000;
const SECONDS_A_MINUTE = 60;

const METHODS = ["Tinseth", "Rager"] as const;
const TINSETH = "G. Tinseth, Glenn's hop utilization numbers (1995-97)";
const RAGER =
  "J. Rager, Zymurgy 13(4), 1990, special issue on hops (curve from memory, gravity correction read as quoted)";
const MALOWICKI =
  "M. G. Malowicki and T. H. Shellhammer, J. Agric. Food Chem. 53 (2005) 4434 (rate equations from memory)";
const CALCULATED =
  "Calculated IBU, not measured (ASBC Beer-23); methods differ from each other and from analysis by 30 %";

const hops = argument("hops", "g", "Hops of one addition, as weighed.", { low: 0 });
const alpha = argument("alpha", "%", "Alpha acid by weight, from the label or corrected for age.", {
  low: 0,
  high: 100,
});
const beer = argument("volume", "L", "Finished wort or beer that carries the bitterness, measured cold (20 °C).", {
  low: 0,
});
const utilisation = argument(
  "utilisation",
  "%",
  "Share of the alpha acid that ends as bitterness in the beer, a figure of the plant: see hop_utilisation.",
  { low: 0, high: 100 },
);
const time = (says: string): Argument => argument("time", "min", says, { low: 0, high: 600 });
const gravity = argument("gravity", "°P", "Mean gravity of the wort during the boil.", { low: 0, high: 40 });
const method = choice("method", METHODS, 'Which curve: "Tinseth" or "Rager"; Rager gives a third more at an hour.', {
  default: '"Tinseth"',
});
const kettleConstant = argument(
  "kettle_constant",
  "1",
  "Tinseth's figure for the kettle, to be fitted to the plant by analysis: a smaller one means more bitterness. Rager has none.",
  { default: "4.15", low: 1, high: 10 },
);
const BOIL_RANGE = [
  { argument: "time", low: 0, high: 120 },
  { argument: "gravity", low: 7.5, high: 30.3 },
] as const;

type Boil = Numbers<"time" | "gravity" | "kettle_constant"> & { readonly method: string };

/** Share of the alpha acid of a boil addition that ends as bitterness. */
function boilUtilisation(given: Boil): number {
  const minutes = given.time / SECONDS_A_MINUTE;
  const strength = specificGravity(given.gravity);
  if (given.method.toLowerCase() === "rager") {
    const atLowGravity = (18.11 + 13.86 * Math.tanh((minutes - 31.32) / 18.27)) / 100;
    return atLowGravity / (1 + Math.max(0, (strength - 1.05) / 0.2));
  }
  return (1.65 * 0.000125 ** (strength - 1) * (1 - Math.exp(-0.04 * minutes))) / given.kettle_constant;
}

/** Rates per minute at a temperature in °C: alpha acid to bitter iso-alpha acid, and that to what is no longer bitter. */
export const isomerisationRate = (celsius: number): number => 7.9e11 * Math.exp(-11858 / (celsius + ZERO_CELSIUS));
export const degradationRate = (celsius: number): number => 4.1e12 * Math.exp(-12994 / (celsius + ZERO_CELSIUS));

/** Share of alpha acid that stands as iso-alpha acid after a time in s at a temperature in °C: two reactions, one after the other. */
function isomerised(seconds: number, celsius: number): number {
  const minutes = seconds / SECONDS_A_MINUTE;
  const gain = isomerisationRate(celsius);
  const loss = degradationRate(celsius);
  return (gain / (gain - loss)) * (Math.exp(-loss * minutes) - Math.exp(-gain * minutes));
}

const NO_VOLUME = noValue("The volume is zero: type how much wort the hops go into.");

export const HOPS: readonly LibraryFunction[] = [
  {
    name: "hop_utilisation",
    stage: "boil",
    says: "Share of the alpha acid of a boil addition that ends as bitterness in the beer.",
    searchWords: ["utilization", "bitterness", "IBU", "isomerisation"],
    since: 1,
    arguments: [time("How long the hops boil."), gravity, method, kettleConstant],
    result: { unit: "%" },
    source: `${TINSETH}; ${RAGER}`,
    range: "Tinseth: small kettles, whole cones, SG 1.030 to 1.130, 0 to 120 min. Rager gives a third more at 60 min.",
    published: BOIL_RANGE,
    error: CALCULATED,
    arithmetic: taking<Boil>(boilUtilisation),
  },
  {
    name: "hop_bitterness",
    stage: "boil",
    says: "Bitterness that one boil addition of hops gives.",
    searchWords: ["IBU", "bittering", "Tinseth", "Rager", "hop addition"],
    since: 1,
    arguments: [hops, alpha, time("How long the hops boil."), beer, gravity, method, kettleConstant],
    result: { unit: "IBU" },
    source: `${TINSETH}; ${RAGER}`,
    range:
      "Tinseth: small kettles, whole cones, SG 1.030 to 1.130, 0 to 120 min; saturation above some 60 IBU and dry hops are outside it. Show one decimal at most.",
    published: BOIL_RANGE,
    error: CALCULATED,
    arithmetic: taking<Boil & Numbers<"hops" | "alpha" | "volume">>((given) =>
      given.volume === 0
        ? NO_VOLUME
        : (IBU_PER_CONCENTRATION * given.hops * given.alpha * boilUtilisation(given)) / given.volume,
    ),
  },
  {
    name: "bitterness_from_utilisation",
    stage: "boil",
    says: "Bitterness that hops give at a utilisation known from the plant.",
    searchWords: ["IBU", "alpha acid units", "AAU"],
    since: 1,
    arguments: [hops, alpha, utilisation, beer],
    result: { unit: "IBU" },
    source: "Mass balance of alpha acid: one mg/L of it in the beer, isomerised, counts as one IBU",
    range: "As good as the utilisation typed.",
    error: CALCULATED,
    arithmetic: taking<Numbers<"hops" | "alpha" | "utilisation" | "volume">>((given) =>
      given.volume === 0
        ? NO_VOLUME
        : (IBU_PER_CONCENTRATION * given.hops * given.alpha * given.utilisation) / given.volume,
    ),
  },
  {
    name: "hops_for_bitterness",
    stage: "boil",
    says: "Hops that give a wanted bitterness.",
    searchWords: ["IBU", "hop addition", "how much hops"],
    since: 1,
    arguments: [
      argument("bitterness", "IBU", "Bitterness wanted of this addition.", { low: 0, high: 1000 }),
      alpha,
      utilisation,
      beer,
    ],
    result: { unit: "g" },
    source: "Mass balance of alpha acid: one mg/L of it in the beer, isomerised, counts as one IBU",
    range: "As good as the utilisation typed; above some 60 IBU beer takes up less and less.",
    published: [{ argument: "bitterness", high: 60 }],
    error: CALCULATED,
    arithmetic: taking<Numbers<"bitterness" | "alpha" | "utilisation" | "volume">>((given) => {
      const gained = given.alpha * given.utilisation * IBU_PER_CONCENTRATION;
      return gained === 0
        ? noValue("Hops without alpha acid, or a utilisation of nothing, give no bitterness.")
        : (given.bitterness * given.volume) / gained;
    }),
  },
  {
    name: "isomerised_share",
    stage: "boil",
    says: "Share of alpha acid that stands isomerised after a time at a temperature, before any losses.",
    searchWords: ["isomerisation", "whirlpool", "hop stand"],
    since: 1,
    arguments: [
      time("How long the hops are in hot wort."),
      argument("temp", "°C", "Temperature of the wort, held.", { low: 0, high: 130 }),
    ],
    result: { unit: "%" },
    source: MALOWICKI,
    range:
      "Buffer at pH 5.2, 90 to 130 °C; carried below 90 °C by the same law. Losses of trub, yeast and foam come after.",
    published: [{ argument: "temp", low: 90, high: 130 }],
    arithmetic: taking<Numbers<"time" | "temp">>((given) => isomerised(given.time, given.temp)),
  },
  {
    name: "whirlpool_bitterness",
    stage: "boil",
    says: "Bitterness that hops give in the whirlpool, by time and temperature below boiling.",
    searchWords: ["hop stand", "steep", "flame-out", "knock-out hops", "aroma hops", "IBU"],
    since: 1,
    arguments: [
      hops,
      alpha,
      time("How long the hops stand in the hot wort."),
      argument("temp", "°C", "Mean temperature of the wort over that time.", { low: 40, high: 101 }),
      beer,
      argument(
        "recovery",
        "%",
        "Share of the isomerised acid that reaches the beer past trub, yeast and foam: a figure of the plant (common practice, no source).",
        { default: "50 %", low: 0, high: 100 },
      ),
    ],
    result: { unit: "IBU" },
    source: MALOWICKI,
    range:
      "Rates measured in buffer at 90 to 130 °C and carried below by the same law; the recovery is a guess until the plant has analysed its beer.",
    published: [{ argument: "temp", low: 80, high: 101 }],
    error: CALCULATED,
    caution: SCALDS,
    arithmetic: taking<Numbers<"hops" | "alpha" | "time" | "temp" | "volume" | "recovery">>((given) =>
      given.volume === 0
        ? NO_VOLUME
        : (IBU_PER_CONCENTRATION * given.hops * given.alpha * isomerised(given.time, given.temp) * given.recovery) /
          given.volume,
    ),
  },
];
