import { equalTexts } from "../operations/comparison.ts";
import { argument, choice, type Numbers, taking } from "./arguments.ts";
import { PRESSURE } from "./cautions.ts";
import { type LibraryFunction, noValue } from "./declaration.ts";
import { GAS } from "./gas.ts";
import { STANDARD_ATMOSPHERE } from "./physics/atmosphere.ts";
import {
  BUNSEN_FROM,
  BUNSEN_TO,
  bunsenCoefficient,
  carbonDioxideInWater,
  MASS_OF_A_BUNSEN_VOLUME,
  pressureOverWater,
  VOLUME_OF_CARBON_DIOXIDE,
} from "./physics/gases.ts";
import { PRIMING } from "./priming.ts";
import {
  type Air,
  airPressure,
  altitude,
  barometer,
  CONVENTION,
  ORDINARY_PACKAGES_TO,
  vapourPressure,
} from "./surroundings.ts";

const CARROLL = "Carroll, Slupsky, Mather, J. Phys. Chem. Ref. Data 20 (1991) 1201, water";
const MURRAY = "Murray, Riley, Deep-Sea Research 18 (1971) 533, measured in water";
const BEER_SHARE_SOURCE = "the trade's chart of pressures stands at 0.945 of it for beer";

const beerShare = argument(
  "beer_share",
  "%",
  "What beer holds of what water would; alcohol and extract change it a little.",
  {
    default: "94.5 %",
    low: 50,
    high: 110,
  },
);
const temp = argument("temp", "°C", "Temperature of the beer, the same all through.", { low: -4, high: 60 });

/** Pressure of the gas over beer that holds so many volumes, Pa absolute: carbon dioxide and water vapour. */
const pressureOverBeer = (celsius: number, volumes: number, share: number): number =>
  pressureOverWater(celsius, (volumes * VOLUME_OF_CARBON_DIOXIDE) / share) + vapourPressure(celsius);

const PASCAL_OF_PSI = 6894.757293168;

/**
 * Gauge pressure at sea level, Pa, of the trade's chart of equilibrium pressures, by its unattributed quadratic fit in °F, volumes and psi.
 */
function chartPressure(celsius: number, volumes: number): number {
  const f = 1.8 * celsius + 32;
  const psi =
    -16.6999 -
    0.0101059 * f +
    0.00116512 * f * f +
    0.173354 * f * volumes +
    4.24267 * volumes -
    0.0684226 * volumes ** 2;
  return psi * PASCAL_OF_PSI;
}

/** The chart was fitted from 32 to 60 °F and 2 to 3 volumes; the ends are widened by what rounding °F to °C leaves. */
const CHART = { from: 0, to: (60 - 32) / 1.8, least: 2, most: 3, slack: 0.01 } as const;
const onChart = (celsius: number, volumes: number): boolean =>
  celsius >= CHART.from - CHART.slack &&
  celsius <= CHART.to + CHART.slack &&
  volumes >= CHART.least - CHART.slack &&
  volumes <= CHART.most + CHART.slack;

/** Pressure and carbonation. */
const EQUILIBRIUM: readonly LibraryFunction[] = [
  {
    name: "carbonation",
    stage: "carbonation",
    says: "Carbonation that beer has when it is in equilibrium with a gauge pressure.",
    searchWords: ["CO2", "volumes", "head pressure", "top pressure", "carbon dioxide"],
    since: 1,
    arguments: [
      temp,
      argument("pressure", "bar", "Gauge pressure over the beer.", { low: -1, high: 10 }),
      altitude,
      barometer,
      beerShare,
    ],
    result: { unit: "vol" },
    source: `${CARROLL}; ${BEER_SHARE_SOURCE}`,
    range: `Pure carbon dioxide at rest, time enough to reach equilibrium. ${CONVENTION}`,
    published: [{ argument: "temp", low: 0, high: 40 }],
    error: "±0.05 vol",
    caution: PRESSURE,
    arithmetic: taking<Numbers<"temp" | "pressure" | "beer_share"> & Air>((given) => {
      const gas = airPressure(given) + given.pressure - vapourPressure(given.temp);
      return gas < 0
        ? noValue("The absolute pressure would be below that of water vapour: the gauge pressure is too low.")
        : (carbonDioxideInWater(given.temp, gas) * given.beer_share) / VOLUME_OF_CARBON_DIOXIDE;
    }),
  },
  {
    name: "equilibrium_pressure",
    stage: "carbonation",
    says: "Gauge pressure that holds beer at a carbonation.",
    searchWords: [
      "head pressure",
      "top pressure",
      "CO2 pressure",
      "force carbonation",
      "bright tank",
      "BBT",
      "draught",
    ],
    since: 1,
    arguments: [
      temp,
      argument("carbonation", "vol", "Carbonation to hold.", { low: 0, high: 10 }),
      altitude,
      barometer,
      beerShare,
      choice(
        "method",
        ["solubility", "chart"],
        "From solubility, or by the fit of the trade's chart: 0 to 15.5 °C, 2 to 3 vol.",
        {
          default: '"solubility"',
        },
      ),
    ],
    result: { unit: "bar" },
    source: `${CARROLL}; ${BEER_SHARE_SOURCE}; "chart": unattributed quadratic fit of that chart; ordinary packages to 4.5 vol by common practice`,
    range:
      "Within 0.3 psi of the chart for 2.5 vol from 0 to 10 °C. The gauge must read 1.7 psi (0.12 bar) more for each 1000 m of altitude.",
    published: [
      { argument: "temp", low: 0, high: 40 },
      { argument: "carbonation", high: ORDINARY_PACKAGES_TO },
    ],
    error: "±0.5 psi to 10 °C, ±1.3 psi at 15 °C and 3 vol",
    caution: PRESSURE,
    arithmetic: taking<Numbers<"temp" | "carbonation" | "beer_share"> & Air & { readonly method: string }>((given) => {
      if (equalTexts(given.method, "chart"))
        return onChart(given.temp, given.carbonation)
          ? chartPressure(given.temp, given.carbonation) + STANDARD_ATMOSPHERE - airPressure(given)
          : noValue('The chart holds from 0 to 15.5 °C (32 to 60 °F) and 2 to 3 vol. Leave method at "solubility".');
      return pressureOverBeer(given.temp, given.carbonation, given.beer_share) - airPressure(given);
    }),
  },
  {
    name: "residual_carbonation",
    stage: "carbonation",
    says: "Carbonation left in beer that fermented at the pressure of the air.",
    searchWords: ["residual CO2", "dissolved CO2", "before priming"],
    since: 1,
    arguments: [
      argument("warmest", "°C", "Highest temperature since fermentation ended: gas once lost does not come back.", {
        low: -4,
        high: 45,
      }),
      altitude,
      barometer,
      argument(
        "beer_share",
        "%",
        "What the beer keeps of what water would: it holds 5 % less but stays a little over-saturated.",
        {
          default: "100 %",
          low: 50,
          high: 130,
        },
      ),
    ],
    result: { unit: "vol" },
    source: MURRAY,
    range: `Beer vented to the air, not under pressure. Never from a pressure chart: at 20 °C it gives 13 % too little. ${CONVENTION}`,
    published: [{ argument: "warmest", low: BUNSEN_FROM, high: BUNSEN_TO }],
    error: "±0.1 vol",
    arithmetic: taking<Numbers<"warmest" | "beer_share"> & Air>((given) => {
      const gas = airPressure(given) - vapourPressure(given.warmest);
      return (
        bunsenCoefficient(given.warmest) *
        (gas / STANDARD_ATMOSPHERE) *
        (MASS_OF_A_BUNSEN_VOLUME / VOLUME_OF_CARBON_DIOXIDE) *
        given.beer_share
      );
    }),
  },
];

/** Carbonation, from the tank's pressure to the sugar in the bottle. */
export const CARBONATION: readonly LibraryFunction[] = [...EQUILIBRIUM, ...PRIMING, ...GAS];
