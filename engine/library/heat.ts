import { argument, type Numbers, taking } from "./arguments.ts";
import { SCALDS } from "./cautions.ts";
import { type Argument, type LibraryFunction, noValue } from "./declaration.ts";
import { heatOfEvaporation, specificHeatOfWater } from "./physics/enthalpy.ts";
import { saturationPressure } from "./physics/saturation.ts";
import { waterDensity } from "./physics/water.ts";

const HEAT_BALANCE = "Heat balance, Q = m c ΔT; specific heat of water from IAPWS SR1-86(1992)";
const SATURATION =
  "IAPWS SR1-86(1992), Revised supplementary release on saturation properties of ordinary water substance";

/** Specific heat of water between 15 and 80 °C, J/(kg K). */
const WATER_HEAT = 4184;
/** 0.01 °C, the triple point, below which there is no liquid line. */
const TRIPLE_POINT = 0.01;

const mass = (says: string, name = "mass"): Argument => argument(name, "kg", says, { low: 0 });
const temperature = (name: string, says: string, more: Partial<Argument> = {}): Argument =>
  argument(name, "°C", says, { low: -20, high: 150, ...more });
const specificHeat = (name: string, says: string, standard: string): Argument =>
  argument(name, "kJ/kg/K", says, { default: standard, low: 0.1, high: 6 });
const OF_WATER =
  "Specific heat of what is heated: 4.184 for water; wort of 12 °P some 3.8 to 4.0 (uncertain), malt 1.7, stainless steel 0.5.";
const OF_WORT = "Specific heat of the wort or beer: 3.8 to 4.0 at 12 °P by different rules (uncertain).";

export const HEAT: readonly LibraryFunction[] = [
  {
    name: "heat_to_warm",
    stage: "heat",
    says: "Heat that brings a mass from one temperature to another.",
    searchWords: ["energy", "hot liquor", "kWh", "BTU"],
    since: 1,
    arguments: [
      mass("What is warmed; a volume becomes a mass by water_mass or wort_mass."),
      temperature("temp", "Its temperature now."),
      temperature("wanted", "Temperature wanted."),
      specificHeat("specific_heat", OF_WATER, "4.184 kJ/kg/K"),
    ],
    result: { unit: "kWh" },
    source: HEAT_BALANCE,
    range: "Within 0.3 % for water from 10 to 90 °C; vessel and losses come on top.",
    published: [{ argument: "wanted", high: 100 }],
    caution: SCALDS,
    arithmetic: taking<Numbers<"mass" | "temp" | "wanted" | "specific_heat">>((given) =>
      given.wanted < given.temp
        ? noValue("It is to be cooler than it is: that is cooling, see cooling_load.")
        : given.mass * given.specific_heat * (given.wanted - given.temp),
    ),
  },
  {
    name: "heat_to_boil_off",
    stage: "heat",
    says: "Heat that turns boiling water into steam.",
    searchWords: ["evaporation", "latent heat", "energy of the boil"],
    since: 1,
    arguments: [
      mass("Water that boils away; a cold volume becomes a mass by water_mass."),
      temperature("temp", "Temperature of the boil: below 100 °C at altitude, see boiling_point.", {
        default: "100 °C",
        low: TRIPLE_POINT,
        high: 200,
      }),
    ],
    result: { unit: "kWh" },
    source: SATURATION,
    range: "0.05 %: 2257 kJ/kg at 100 °C; bringing the wort to the boil and losses come on top.",
    caution: SCALDS,
    arithmetic: taking<Numbers<"mass" | "temp">>((given) => given.mass * heatOfEvaporation(given.temp)),
  },
  {
    name: "time_to_heat",
    stage: "heat",
    says: "How long a heater takes to bring a mass from one temperature to another.",
    searchWords: ["heating time", "element", "burner", "power"],
    since: 1,
    arguments: [
      mass("What is warmed; a volume becomes a mass by water_mass or wort_mass."),
      temperature("temp", "Its temperature now."),
      temperature("wanted", "Temperature wanted."),
      argument("power", "kW", "Power of the heater.", { low: 0 }),
      argument(
        "efficiency",
        "%",
        "Share of it that reaches what is warmed: a figure of the plant; elements some 90 %, gas burners 30 to 60 % (common practice).",
        { default: "90 %", low: 1, high: 100 },
      ),
      specificHeat("specific_heat", OF_WATER, "4.184 kJ/kg/K"),
    ],
    result: { unit: "min" },
    source: HEAT_BALANCE,
    range: "As good as the efficiency typed.",
    published: [{ argument: "wanted", high: 100 }],
    caution: SCALDS,
    arithmetic: taking<Numbers<"mass" | "temp" | "wanted" | "power" | "efficiency" | "specific_heat">>((given) => {
      if (given.wanted < given.temp) return noValue("It is to be cooler than it is: a heater cannot do that.");
      if (given.power === 0) return noValue("A heater of no power never gets there: type its power.");
      return (given.mass * given.specific_heat * (given.wanted - given.temp)) / (given.power * given.efficiency);
    }),
  },
  {
    name: "blend_temperature",
    stage: "heat",
    says: "Temperature at which two masses settle when they are mixed.",
    searchWords: ["mix hot and cold", "hot liquor", "knock-out blending"],
    since: 1,
    arguments: [
      mass("The first.", "first_mass"),
      temperature("first_temp", "Its temperature."),
      mass("The second.", "second_mass"),
      temperature("second_temp", "Its temperature."),
      specificHeat("first_specific_heat", OF_WATER, "4.184 kJ/kg/K"),
      specificHeat("second_specific_heat", OF_WATER, "4.184 kJ/kg/K"),
    ],
    result: { unit: "°C" },
    source: HEAT_BALANCE,
    range: "No losses, nothing melts or boils.",
    published: [
      { argument: "first_temp", low: 0, high: 100 },
      { argument: "second_temp", low: 0, high: 100 },
    ],
    arithmetic: taking<
      Numbers<
        "first_mass" | "first_temp" | "second_mass" | "second_temp" | "first_specific_heat" | "second_specific_heat"
      >
    >((given) => {
      const first = given.first_mass * given.first_specific_heat;
      const second = given.second_mass * given.second_specific_heat;
      return first + second === 0
        ? noValue("Both masses are zero: there is nothing to mix.")
        : (first * given.first_temp + second * given.second_temp) / (first + second);
    }),
  },
  {
    name: "cooling_load",
    stage: "heat",
    says: "Cooling power that brings wort or beer down in a time.",
    searchWords: ["glycol", "chiller", "crash cool", "refrigeration", "kW"],
    since: 1,
    arguments: [
      mass("What is cooled; a volume becomes a mass by wort_mass."),
      temperature("temp", "Its temperature now."),
      temperature("wanted", "Temperature wanted."),
      argument("time", "h", "Time in which it shall be there.", { low: 0 }),
      specificHeat("specific_heat", OF_WORT, "4.0 kJ/kg/K"),
    ],
    result: { unit: "kW" },
    source: "Heat balance, Q = m c ΔT",
    range: "The specific heat is uncertain by 3 %; heat of fermentation, pumps and room come on top.",
    published: [{ argument: "wanted", low: -2 }],
    arithmetic: taking<Numbers<"mass" | "temp" | "wanted" | "time" | "specific_heat">>((given) => {
      if (given.wanted > given.temp)
        return noValue("It is to be warmer than it is: that is heating, see heat_to_warm.");
      if (given.time === 0) return noValue("In no time at all nothing cools: type the time.");
      return (given.mass * given.specific_heat * (given.temp - given.wanted)) / given.time;
    }),
  },
  {
    name: "cooling_water",
    stage: "heat",
    says: "Cold water that a heat exchanger needs to cool the wort.",
    searchWords: ["plate cooler", "wort chiller", "heat exchanger", "knock-out"],
    since: 1,
    arguments: [
      mass("Wort that is cooled; a volume becomes a mass by wort_mass."),
      temperature("temp", "Temperature of the hot wort."),
      temperature("wanted", "Temperature of the cooled wort."),
      temperature("water_in", "Temperature of the water that comes.", { low: 0, high: 100 }),
      temperature("water_out", "Temperature of the water that leaves.", { low: 0, high: 100 }),
      specificHeat("specific_heat", OF_WORT, "4.0 kJ/kg/K"),
    ],
    result: { unit: "L" },
    source: HEAT_BALANCE,
    range: "Counter-flow without losses; the volume is that of the cold water as it comes.",
    caution: SCALDS,
    arithmetic: taking<Numbers<"mass" | "temp" | "wanted" | "water_in" | "water_out" | "specific_heat">>((given) => {
      if (given.wanted > given.temp) return noValue("The wort is to be warmer than it is: that is not cooling.");
      if (given.water_out <= given.water_in)
        return noValue("Water that leaves no warmer than it came takes no heat: look at the two temperatures.");
      if (given.water_out > given.temp) return noValue("The water cannot leave hotter than the wort that warms it.");
      if (given.wanted < given.water_in)
        return noValue("Water cannot cool the wort below its own temperature: a chiller must do the rest.");
      const heat = given.mass * given.specific_heat * (given.temp - given.wanted);
      return heat / (WATER_HEAT * (given.water_out - given.water_in)) / waterDensity(given.water_in);
    }),
  },
  {
    name: "specific_heat_of_water",
    stage: "heat",
    says: "Specific heat of water at a temperature.",
    searchWords: ["heat capacity", "cp"],
    since: 1,
    arguments: [temperature("temp", "Temperature of the water.", { low: 1, high: 150 })],
    result: { unit: "kJ/kg/K" },
    source: SATURATION,
    range: "Within 0.1 % to 100 °C.",
    arithmetic: taking<Numbers<"temp">>((given) => specificHeatOfWater(given.temp)),
  },
  {
    name: "heat_of_evaporation",
    stage: "heat",
    says: "Heat that turns a kilogram of boiling water into steam.",
    searchWords: ["latent heat", "enthalpy of vaporisation"],
    since: 1,
    arguments: [
      temperature("temp", "Temperature at which it boils.", { default: "100 °C", low: TRIPLE_POINT, high: 200 }),
    ],
    result: { unit: "kJ/kg" },
    source: SATURATION,
    range: "0.05 %, 0.01 to 200 °C; it falls by 2.5 kJ/kg a degree near 100 °C.",
    arithmetic: taking<Numbers<"temp">>((given) => heatOfEvaporation(given.temp)),
  },
  {
    name: "steam_pressure",
    stage: "heat",
    says: "Absolute pressure of saturated steam at a temperature: the vapour pressure of water.",
    searchWords: ["vapour pressure", "steam table", "boiler"],
    since: 1,
    arguments: [temperature("temp", "Temperature of the steam.", { low: TRIPLE_POINT, high: 200 })],
    result: { unit: "kPaa" },
    source: "IAPWS R7-97(2012), Industrial Formulation 1997, equation 30",
    range: "0.02 %. A gauge reads less by the pressure of the air: see air_pressure.",
    caution: SCALDS,
    arithmetic: taking<Numbers<"temp">>((given) => saturationPressure(given.temp)),
  },
  {
    name: "steam_flow",
    stage: "heat",
    says: "Steam that a heat load condenses.",
    searchWords: ["boiler", "jacket", "steam consumption"],
    since: 1,
    arguments: [
      argument("power", "kW", "Heat load.", { low: 0 }),
      temperature("temp", "Temperature of the steam, from its pressure: see boiling_point.", {
        default: "100 °C",
        low: TRIPLE_POINT,
        high: 200,
      }),
    ],
    result: { unit: "kg/h" },
    source: SATURATION,
    range: "Latent heat alone; condensate that leaves cooler gives a little more, wet steam less.",
    caution: SCALDS,
    arithmetic: taking<Numbers<"power" | "temp">>((given) => given.power / heatOfEvaporation(given.temp)),
  },
];
