import { argument, type Numbers, taking } from "./arguments.ts";
import { BLENDS } from "./blends.ts";
import { BURSTING_PACKAGES, HOT_PACKAGES } from "./cautions.ts";
import type { LibraryFunction } from "./declaration.ts";
import { FILLS } from "./fills.ts";
import { STANDARD_ATMOSPHERE } from "./physics/atmosphere.ts";
import { oxygenDensity } from "./physics/gases.ts";
import { volumeAt } from "./physics/water.ts";

/** Counting whole packages, a result that misses a whole number by less than this is that number: the arithmetic's last digits. */
const WHOLE = 1e-9;

/** Oxygen in dry air, by volume. */
const AIR = 0.20946;

const PU_SOURCE =
  "Del Vecchio et al., ASBC Proceedings 1951 (from memory): 1.393 for each °C above 60 °C, z of 6.95 °C";
const z = argument("z", "Δ°C", "Rise of temperature that kills ten times as fast.", {
  default: "6.95 Δ°C",
  low: 1,
  high: 30,
});
const puTemp = argument("temp", "°C", "Temperature at the coldest point of the package.", { low: 0, high: 100 });

/** From tank to pallet. */
const PACKAGES: readonly LibraryFunction[] = [
  {
    name: "packages_expected",
    stage: "packaging",
    says: "Whole packages that a volume of beer fills.",
    searchWords: ["cans", "bottles", "kegs", "yield", "how many"],
    since: 1,
    arguments: [
      argument("volume", "L", "Beer in the tank, at 20 °C or at filling temperature as the package's size is.", {
        low: 0,
      }),
      argument("package", "mL", "What one package is filled with.", { low: 1 }),
      argument("loss", "%", "Beer lost in tank, lines and rejects: the plant's own figure.", {
        default: "3 %",
        low: 0,
        high: 100,
      }),
    ],
    result: { unit: "1" },
    source: "mass balance, rounded down",
    range: "As good as the loss: 1 to 5 % on a small line (common practice).",
    arithmetic: taking<Numbers<"volume" | "package" | "loss">>((given) =>
      Math.floor(((given.volume * (1 - given.loss)) / given.package) * (1 + WHOLE)),
    ),
  },
  {
    name: "volume_at",
    stage: "packaging",
    says: "Volume of beer at one temperature from its volume at another.",
    searchWords: ["dip", "shrinkage", "contraction", "volume at 20 °C", "temperature correction", "bright tank"],
    since: 1,
    arguments: [
      argument("volume", "L", "Volume read in tank or by dip, at `temp`.", { low: 0 }),
      argument("temp", "°C", "Temperature of the beer when it was read.", { low: -3, high: 105 }),
      argument("reference", "°C", "Temperature to state it at: 20 °C for packages and duty.", {
        default: "20 °C",
        low: -3,
        high: 105,
      }),
    ],
    result: { unit: "L" },
    source: "Kell, J. Chem. Eng. Data 20 (1975) 97, density of water",
    range:
      "Within 0.1 % for beer from 0 to 25 °C (from memory, uncertain): alcohol makes it expand a little more than water. The vessel's own expansion is left out.",
    published: [{ argument: "temp", low: 0 }],
    error: "±0.1 %",
    arithmetic: taking<Numbers<"volume" | "temp" | "reference">>(({ volume, temp, reference }) =>
      volumeAt(volume, temp, reference),
    ),
  },
  {
    name: "pasteurisation_units",
    stage: "packaging",
    says: "Pasteurisation units that a time at a temperature gives.",
    searchWords: ["PU", "pasteurization", "tunnel pasteuriser", "flash pasteuriser"],
    since: 1,
    arguments: [puTemp, argument("time", "min", "Time at that temperature.", { low: 0 }), z],
    result: { unit: "PU" },
    source: PU_SOURCE,
    range:
      "Sum it over a record of temperatures. A degree at the coldest point is 40 %; heat below 50 °C does not count in practice.",
    published: [{ argument: "temp", low: 50, high: 75 }],
    caution: HOT_PACKAGES,
    arithmetic: taking<Numbers<"temp" | "time" | "z">>(({ temp, time, z }) => (time / 60) * 10 ** ((temp - 60) / z)),
  },
  {
    name: "pasteurisation_time",
    stage: "packaging",
    says: "Time at a temperature that gives so many pasteurisation units.",
    searchWords: ["PU", "pasteurization", "holding time"],
    since: 1,
    arguments: [argument("units", "PU", "Pasteurisation units wanted.", { low: 0 }), puTemp, z],
    result: { unit: "min" },
    source: PU_SOURCE,
    range: "The coldest point counts, once it is at temperature.",
    published: [{ argument: "temp", low: 50, high: 75 }],
    caution: HOT_PACKAGES,
    arithmetic: taking<Numbers<"units" | "temp" | "z">>(({ units, temp, z }) => (60 * units) / 10 ** ((temp - 60) / z)),
  },
  {
    name: "package_oxygen",
    stage: "packaging",
    says: "All oxygen in a package, dissolved and in the headspace, for each litre of beer.",
    searchWords: ["TPO", "total package oxygen", "headspace", "dissolved oxygen", "fobbing"],
    since: 1,
    arguments: [
      argument("dissolved", "µg/L", "Dissolved oxygen of the beer just filled.", { low: 0 }),
      argument("headspace", "mL", "Volume of the headspace.", { low: 0 }),
      argument("air", "%", "Share of the headspace that is air, by an instrument or by shaking over caustic.", {
        low: 0,
        high: 100,
      }),
      argument("contents", "mL", "Beer in the package.", { low: 1 }),
      argument("temp", "°C", "Temperature of the headspace when it was closed.", {
        default: "5 °C",
        low: -4,
        high: 90,
      }),
    ],
    result: { unit: "µg/L" },
    source: "ideal gas law at 1 atm, air with 20.946 % oxygen",
    range: "As good as the share of air.",
    caution: BURSTING_PACKAGES,
    arithmetic: taking<Numbers<"dissolved" | "headspace" | "air" | "contents" | "temp">>(
      ({ dissolved, headspace, air, contents, temp }) =>
        dissolved + (headspace * air * AIR * oxygenDensity(STANDARD_ATMOSPHERE, temp)) / contents,
    ),
  },
];

/** Packaging: what goes in, what the law asks, what is blended before. */
export const PACKAGING: readonly LibraryFunction[] = [...PACKAGES, ...FILLS, ...BLENDS];
