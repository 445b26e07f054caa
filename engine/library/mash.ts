import { argument, type Numbers, taking } from "./arguments.ts";
import { SCALDS } from "./cautions.ts";
import { type LibraryFunction, noValue } from "./declaration.ts";
import { waterDensity } from "./physics/water.ts";

/** Specific heat of water over mashing temperatures, J/(kg K); malt and tun are reckoned against it. */
const WATER_HEAT = 4184;

/** Malt table of moisture (share), specific heat relative to water, and slaking rise in K; printed in a maltster's ingredient catalogue. */
const MALT_TABLE = [
  { moisture: 0, heat: 0.38, slaking: 3.1 },
  { moisture: 0.04, heat: 0.4, slaking: 1.7 },
  { moisture: 0.06, heat: 0.41, slaking: 1.3 },
  { moisture: 0.08, heat: 0.42, slaking: 1.1 },
] as const;

/** Straight-line reading of the malt table; its ends are held. */
function fromMaltTable(moisture: number, column: "heat" | "slaking"): number {
  let below: (typeof MALT_TABLE)[number] = MALT_TABLE[0];
  for (const row of MALT_TABLE) {
    if (moisture <= row.moisture) {
      const way = row.moisture === below.moisture ? 0 : (moisture - below.moisture) / (row.moisture - below.moisture);
      return below[column] + way * (row[column] - below[column]);
    }
    below = row;
  }
  return below[column];
}

const HEAT_BALANCE = "Heat balance of malt, water and tun in coherent units";
const COMMON_PRACTICE = "common practice, no source";
const MALT_SOURCE =
  "Malt table of specific heat and slaking rise printed, without its origin, in the ATP Group ingredient catalogue 2021-22, p. 106";

const grain = argument("grain", "kg", "Malt mashed in, as weighed.", { low: 0 });
const grainTemp = argument("grain_temp", "°C", "Temperature of the malt before mashing in.", { low: -20, high: 60 });
const meteredAt = argument(
  "water_metered_at",
  "°C",
  "Temperature at which the water volume is measured: 20 °C for a meter on the cold main, the liquor's own for a hot liquor tank.",
  { default: "20 °C", low: 0, high: 100 },
);
const maltHeat = argument(
  "malt_specific_heat",
  "1",
  "Specific heat of the malt relative to water: 0.38 dry to 0.42 at 8 % moisture.",
  { default: "0.41", low: 0.3, high: 0.6 },
);
const slaking = argument(
  "slaking",
  "Δ°C",
  "Rise of the mash by the heat that malt gives when wetted; left out by default, for it and the tun's loss are of like size and opposite.",
  { default: "0 Δ°C", low: 0, high: 5 },
);
const tunHeat = argument(
  "tun_heat",
  "kJ/K",
  "Heat that warms the empty mash tun by one degree, a figure of the plant (steel: 0.5 kJ/K a kg); left out by default.",
  { default: "0 kJ/K", low: 0 },
);
const tunTemp = argument("tun_temp", "°C", "Temperature of the tun before mashing in.", {
  default: "20 °C",
  low: -20,
  high: 100,
});
const moisture = argument("moisture", "%", "Moisture of the malt analysis.", { low: 0, high: 15 });

/** What meets in the tun besides what the function asks first. */
const meeting = [
  grain,
  argument("water", "L", "Strike water, measured at `water_metered_at`.", { low: 0 }),
  grainTemp,
  meteredAt,
  tunHeat,
  tunTemp,
  slaking,
  maltHeat,
];

type MashIn = Numbers<
  "grain" | "water" | "grain_temp" | "water_metered_at" | "malt_specific_heat" | "slaking" | "tun_heat" | "tun_temp"
>;

/** Heat capacities in J/K. */
const capacities = (given: MashIn) => ({
  malt: given.grain * given.malt_specific_heat * WATER_HEAT,
  water: given.water * waterDensity(given.water_metered_at) * WATER_HEAT,
});

export const MASH: readonly LibraryFunction[] = [
  {
    name: "strike_temperature",
    stage: "mash",
    says: "How hot the strike water must be for the mash to settle at the rest temperature.",
    searchWords: ["strike water", "mash in", "dough in", "hot liquor", "infusion"],
    since: 1,
    arguments: [argument("rest", "°C", "Temperature at which the mash shall rest.", { low: 20, high: 85 }), ...meeting],
    result: { unit: "°C" },
    source: HEAT_BALANCE,
    range:
      "Exact for the heats typed; slaking and the tun each move it by 1 to 2 °C, in opposite ways. Measure the rest and correct the tun's figure once.",
    published: [{ argument: "rest", low: 35, high: 78 }],
    caution: SCALDS,
    arithmetic: taking<MashIn & Numbers<"rest">>((given) => {
      const heat = capacities(given);
      if (heat.water === 0) return noValue("There is no strike water: type its volume.");
      const mixed = given.rest - given.slaking;
      const strike =
        mixed + (heat.malt * (mixed - given.grain_temp) + given.tun_heat * (mixed - given.tun_temp)) / heat.water;
      if (strike > 100)
        return noValue(
          "The strike water would have to be hotter than boiling: take more water, or rest lower and raise the mash later.",
        );
      if (strike < 0) return noValue("The strike water would have to be ice: the malt alone is warmer than the rest.");
      return strike;
    }),
  },
  {
    name: "rest_temperature",
    stage: "mash",
    says: "The temperature at which a mash settles when malt and strike water meet.",
    searchWords: ["mash temperature", "mash in", "strike"],
    since: 1,
    arguments: [
      argument("strike", "°C", "Temperature of the strike water as it meets the malt.", { low: 0, high: 100 }),
      ...meeting,
    ],
    result: { unit: "°C" },
    source: HEAT_BALANCE,
    range: "Exact for the heats typed; slaking and the tun each move it by 1 to 2 °C, in opposite ways.",
    caution: SCALDS,
    arithmetic: taking<MashIn & Numbers<"strike">>((given) => {
      const heat = capacities(given);
      const all = heat.malt + heat.water + given.tun_heat;
      if (heat.malt + heat.water === 0) return noValue("There is neither malt nor water: type what goes into the tun.");
      return (
        (heat.water * given.strike + heat.malt * given.grain_temp + given.tun_heat * given.tun_temp) / all +
        given.slaking
      );
    }),
  },
  {
    name: "infusion_volume",
    stage: "mash",
    says: "How much hot liquor raises a mash from one rest to the next.",
    searchWords: ["step mash", "step infusion", "raise mash", "underlet"],
    since: 1,
    arguments: [
      argument("temp", "°C", "Temperature of the mash now.", { low: 0, high: 100 }),
      argument("wanted", "°C", "Temperature of the next rest.", { low: 0, high: 100 }),
      grain,
      argument("water", "L", "Water in the mash so far, measured at `water_metered_at`.", { low: 0 }),
      argument("liquor_temp", "°C", "Temperature of the liquor run in; boiling water is below 100 °C at altitude.", {
        low: 0,
        high: 100,
      }),
      meteredAt,
      tunHeat,
      maltHeat,
    ],
    result: { unit: "L" },
    source: HEAT_BALANCE,
    range:
      "Exact for the heats typed, the tun as warm as the mash; loses its meaning when the liquor is hardly hotter than the rest. The answer too is a volume at `water_metered_at`.",
    published: [{ argument: "liquor_temp", low: 70 }],
    caution: SCALDS,
    arithmetic: taking<
      Numbers<
        "temp" | "wanted" | "grain" | "water" | "liquor_temp" | "water_metered_at" | "tun_heat" | "malt_specific_heat"
      >
    >((given) => {
      if (given.wanted < given.temp)
        return noValue("The next rest is cooler than the mash: hot liquor cannot cool it.");
      if (given.liquor_temp <= given.wanted)
        return noValue(
          "The liquor is no hotter than the next rest: it never gets there. Use hotter liquor or a decoction.",
        );
      const density = waterDensity(given.water_metered_at);
      const warmed = given.grain * given.malt_specific_heat + given.water * density + given.tun_heat / WATER_HEAT;
      return (warmed * (given.wanted - given.temp)) / (given.liquor_temp - given.wanted) / density;
    }),
  },
  {
    name: "decoction_share",
    stage: "mash",
    says: "The share of the mash to draw off, boil and return to raise the mash to the next rest.",
    searchWords: ["decoction", "step mash", "boiled mash"],
    since: 1,
    arguments: [
      argument("temp", "°C", "Temperature of the mash that stays behind.", { low: 0, high: 100 }),
      argument("wanted", "°C", "Temperature of the next rest.", { low: 0, high: 100 }),
      argument("returns_at", "°C", "Temperature of the boiled mash as it comes back.", {
        default: "99 °C",
        low: 0,
        high: 105,
      }),
    ],
    result: { unit: "%" },
    source: HEAT_BALANCE,
    range:
      "Like mash on both sides and no losses; a thick decoction holds less heat, and the pan and the tun lose some: brewers draw a tenth more (common practice).",
    caution: SCALDS,
    arithmetic: taking<Numbers<"temp" | "wanted" | "returns_at">>((given) => {
      if (given.wanted < given.temp)
        return noValue("The next rest is cooler than the mash: a decoction cannot cool it.");
      if (given.returns_at <= given.wanted)
        return noValue("The boiled mash comes back no hotter than the next rest: it never gets there.");
      return (given.wanted - given.temp) / (given.returns_at - given.temp);
    }),
  },
  {
    name: "malt_specific_heat",
    stage: "mash",
    says: "Specific heat of malt, relative to water, from its moisture.",
    searchWords: ["grain heat", "strike"],
    since: 1,
    arguments: [moisture],
    result: { unit: "1" },
    source: MALT_SOURCE,
    range: "0 to 8 % moisture, read along straight lines; held at its ends.",
    published: [{ argument: "moisture", low: 0, high: 8 }],
    arithmetic: taking<Numbers<"moisture">>((given) => fromMaltTable(given.moisture, "heat")),
  },
  {
    name: "slaking_rise",
    stage: "mash",
    says: "How much the mash warms by the heat that malt gives when it is wetted.",
    searchWords: ["slaking heat", "heat of hydration", "strike"],
    since: 1,
    arguments: [moisture],
    result: { unit: "Δ°C" },
    source: MALT_SOURCE,
    range: "0 to 8 % moisture, read along straight lines; held at its ends. The table names no mash thickness.",
    published: [{ argument: "moisture", low: 0, high: 8 }],
    arithmetic: taking<Numbers<"moisture">>((given) => fromMaltTable(given.moisture, "slaking")),
  },
  {
    name: "mash_volume",
    stage: "mash",
    says: "Room that malt and water take in the mash tun.",
    searchWords: ["tun capacity", "mash tun", "will it fit"],
    since: 1,
    arguments: [
      grain,
      argument("water", "L", "Water in the mash, measured at mash temperature.", { low: 0 }),
      argument("displacement", "L/kg", "Room that a kilogram of malt takes in the mash.", {
        default: "0.67 L/kg",
        low: 0.3,
        high: 1,
      }),
    ],
    result: { unit: "L" },
    source: COMMON_PRACTICE,
    range: "0.65 to 0.7 L/kg of malt; leave headroom for stirring.",
    arithmetic: taking<Numbers<"grain" | "water" | "displacement">>(
      (given) => given.water + given.grain * given.displacement,
    ),
  },
  {
    name: "grain_absorption",
    stage: "mash",
    says: "Water that stays in the spent grains.",
    searchWords: ["absorption", "spent grain", "lautering loss"],
    since: 1,
    arguments: [
      grain,
      argument(
        "absorption",
        "L/kg",
        "Water held by a kilogram of malt, a figure of the plant and its way of lautering.",
        { default: "1.0 L/kg", low: 0, high: 2 },
      ),
    ],
    result: { unit: "L" },
    source: COMMON_PRACTICE,
    range: "0.8 to 1.1 L/kg by way of lautering, cold volume.",
    published: [{ argument: "absorption", low: 0.8, high: 1.1 }],
    arithmetic: taking<Numbers<"grain" | "absorption">>((given) => given.grain * given.absorption),
  },
  {
    name: "first_runnings",
    stage: "mash",
    says: "Wort that runs off before sparging.",
    searchWords: ["first wort volume", "runoff", "drain"],
    since: 1,
    arguments: [
      grain,
      argument("water", "L", "Water in the mash, measured cold (20 °C).", { low: 0 }),
      argument("absorption", "L/kg", "Water held by a kilogram of malt, a figure of the plant.", {
        default: "1.0 L/kg",
        low: 0,
        high: 2,
      }),
      argument("dead_space", "L", "Wort that the tun keeps under its plates, a figure of the plant.", {
        default: "0 L",
        low: 0,
      }),
    ],
    result: { unit: "L" },
    source: "Mass balance",
    range: "Cold volume; the extract dissolved in it adds 5 to 8 % that is left out here.",
    published: [{ argument: "absorption", low: 0.8, high: 1.1 }],
    arithmetic: taking<Numbers<"grain" | "water" | "absorption" | "dead_space">>((given) => {
      const runs = given.water - given.grain * given.absorption - given.dead_space;
      return runs < 0 ? noValue("The malt and the tun hold more than the water in the mash: nothing runs off.") : runs;
    }),
  },
  {
    name: "sparge_volume",
    stage: "mash",
    says: "Sparge water that fills the kettle to the wanted volume.",
    searchWords: ["sparge", "lauter", "batch sparge", "fly sparge"],
    since: 1,
    arguments: [
      grain,
      argument("water", "L", "Water in the mash, measured cold (20 °C).", { low: 0 }),
      argument(
        "kettle_volume",
        "L",
        "Wort wanted in the kettle before the boil, as cold volume (20 °C): see cold_volume.",
        { low: 0 },
      ),
      argument("absorption", "L/kg", "Water held by a kilogram of malt, a figure of the plant.", {
        default: "1.0 L/kg",
        low: 0,
        high: 2,
      }),
      argument("dead_space", "L", "Wort that tun, pipes and pump keep, a figure of the plant.", {
        default: "0 L",
        low: 0,
      }),
    ],
    result: { unit: "L" },
    source: "Mass balance",
    range: "Cold volume throughout; 76 °C water fills 2.5 % more.",
    published: [{ argument: "absorption", low: 0.8, high: 1.1 }],
    caution: SCALDS,
    arithmetic: taking<Numbers<"grain" | "water" | "kettle_volume" | "absorption" | "dead_space">>((given) => {
      const sparge = given.kettle_volume - given.water + given.grain * given.absorption + given.dead_space;
      return sparge < 0
        ? noValue("The mash alone gives more wort than the kettle shall hold: no sparge water is needed.")
        : sparge;
    }),
  },
];
