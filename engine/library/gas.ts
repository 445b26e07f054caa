import { argument, type Numbers, taking } from "./arguments.ts";
import { CARBON_DIOXIDE, PRESSURE } from "./cautions.ts";
import type { LibraryFunction } from "./declaration.ts";
import { CARBON_DIOXIDE_OF_EXTRACT } from "./physics/alcohol.ts";
import { carbonDioxideDensity, carbonDioxideInWater } from "./physics/gases.ts";
import { type Air, airPressure, altitude, barometer, CONVENTION } from "./surroundings.ts";

const temp = argument("temp", "°C", "Temperature of the gas or the liquid.", { low: -4, high: 60 });
const perVolume = argument(
  "per_volume",
  "g/L",
  "What one volume weighs: 1.9635 g/L by the trade's ideal gas, 1.977 by the real one.",
  {
    default: "1.9635 g/L",
    low: 1.9,
    high: 2,
  },
);

/** Carbon dioxide by mass: dissolved, evolved, used. */
export const GAS: readonly LibraryFunction[] = [
  {
    name: "co2_mass",
    stage: "carbonation",
    says: "Mass of carbon dioxide dissolved in beer.",
    searchWords: ["carbon dioxide", "g/L CO2", "dissolved CO2"],
    since: 1,
    arguments: [
      argument("volume", "L", "Beer, at its own temperature.", { low: 0 }),
      argument("carbonation", "vol", "Carbonation.", { low: 0, high: 10 }),
      perVolume,
    ],
    result: { unit: "g" },
    source: "molar mass and molar volume of carbon dioxide at 0 °C and 1 atm",
    range: CONVENTION,
    caution: CARBON_DIOXIDE,
    arithmetic: taking<Numbers<"volume" | "carbonation" | "per_volume">>(
      ({ volume, carbonation, per_volume }) => volume * carbonation * per_volume,
    ),
  },
  {
    name: "carbonation_from_mass",
    stage: "carbonation",
    says: "Carbonation in volumes from carbon dioxide in g/L.",
    searchWords: ["g/L CO2", "volumes of CO2"],
    since: 1,
    arguments: [argument("co2", "g/L", "Dissolved carbon dioxide.", { low: 0 }), perVolume],
    result: { unit: "vol" },
    source: "molar mass and molar volume of carbon dioxide at 0 °C and 1 atm",
    range: CONVENTION,
    arithmetic: taking<Numbers<"co2" | "per_volume">>(({ co2, per_volume }) => co2 / per_volume),
  },
  {
    name: "co2_in_water",
    stage: "carbonation",
    says: "Carbon dioxide that water holds under the gas at a partial pressure.",
    searchWords: ["Henry", "solubility", "carbonated water", "seltzer"],
    since: 1,
    arguments: [
      temp,
      argument("pressure", "bara", "Absolute pressure of the carbon dioxide alone.", { low: 0, high: 11 }),
    ],
    result: { unit: "g/L" },
    source: "Carroll, Slupsky, Mather, J. Phys. Chem. Ref. Data 20 (1991) 1201",
    range:
      "0 to 60 °C, to 1 MPa; 2 % above the measurements of Murray and Riley (1971) at 20 °C. Beer holds some 5 % less.",
    published: [{ argument: "temp", low: 0 }],
    arithmetic: taking<Numbers<"temp" | "pressure">>(({ temp, pressure }) => carbonDioxideInWater(temp, pressure)),
  },
  {
    name: "co2_evolved",
    stage: "carbonation",
    says: "Mass of carbon dioxide that fermenting extract gives off.",
    searchWords: ["fermentation gas", "CO2 recovery", "ventilation"],
    since: 1,
    arguments: [argument("extract", "kg", "Extract fermented: real, not apparent.", { low: 0 })],
    result: { unit: "kg" },
    source: "Balling's relation (1865): 0.9565 g carbon dioxide for 2.0665 g extract",
    range: "Within 3 %. A kilogram is some 0.55 m³ of gas: enough to make the air of a closed room deadly.",
    caution: CARBON_DIOXIDE,
    arithmetic: taking<Numbers<"extract">>(({ extract }) => extract * CARBON_DIOXIDE_OF_EXTRACT),
  },
  {
    name: "co2_to_push",
    stage: "carbonation",
    says: "Mass of carbon dioxide gas that fills the space above beer as it leaves a tank.",
    searchWords: ["top pressure", "counterpressure", "purge", "blanketing", "gas use"],
    since: 1,
    arguments: [
      argument("volume", "L", "Space to fill: the beer that leaves, or the empty tank.", { low: 0 }),
      argument("pressure", "bar", "Gauge pressure that is held.", { low: 0, high: 10 }),
      temp,
      altitude,
      barometer,
    ],
    result: { unit: "kg" },
    source: "ideal gas law",
    range: "0.5 to 2.5 % low, as carbon dioxide is no ideal gas; leaks and purging come on top.",
    error: "−0.5 to −2.5 %",
    caution: PRESSURE,
    arithmetic: taking<Numbers<"volume" | "pressure" | "temp"> & Air>(
      (given) => given.volume * carbonDioxideDensity(airPressure(given) + given.pressure, given.temp),
    ),
  },
  {
    name: "air_left",
    stage: "carbonation",
    says: "Share of the air that is left in a vessel after it was put under gas pressure and let off, several times.",
    searchWords: ["purging", "oxygen", "keg purge", "inerting"],
    since: 1,
    arguments: [
      argument("pressure", "bar", "Gauge pressure that it was brought to each time.", { low: 0, high: 10 }),
      argument("times", "1", "How often.", { low: 0, high: 1000 }),
      altitude,
      barometer,
    ],
    result: { unit: "%" },
    source: "ideal gas law, full mixing each time",
    range: "The least that can be hoped for: dead corners keep more.",
    caution: PRESSURE,
    arithmetic: taking<Numbers<"pressure" | "times"> & Air>((given) => {
      const air = airPressure(given);
      return (air / (air + given.pressure)) ** given.times;
    }),
  },
];
