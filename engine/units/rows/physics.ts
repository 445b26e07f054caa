import { dimension } from "../dimension.ts";
import type { LinearUnit } from "../unit.ts";
import {
  ENERGY,
  FOOT,
  FORCE,
  INCH,
  POUND_MASS,
  POWER,
  PRESSURE,
  row,
  SI,
  SP811,
  STANDARD_GRAVITY,
  TEMPERATURE,
  TIME,
  VISCOSITY,
} from "./row.ts";

export const TIMES: readonly LinearUnit[] = [
  row("s", ["sec", "secs", "second", "seconds"], TIME, 1, 1, SI),
  row("min", ["mins", "minute", "minutes"], TIME, 60, 1, SI),
  row("h", ["hr", "hrs", "hour", "hours"], TIME, 3600, 2, SI),
  row("day", ["days"], TIME, 86400, 2, SI),
  row("week", ["wk", "weeks"], TIME, 604800, 2, "seven days"),
  row("rpm", ["rev/min"], dimension({ time: -1 }), 1 / 60, 1, SP811),
];

/** Differences of temperature, freely multiplied; the readings are scales. */
export const DELTA_C = row("Δ°C", ["delta degC", "delta °C", "ΔdegC", "Δ℃"], TEMPERATURE, 1, 1, SI);
export const DELTA_K = row("ΔK", ["delta K"], TEMPERATURE, 1, 1, SI);
export const DELTA_F = row("Δ°F", ["delta degF", "delta °F", "ΔdegF", "Δ℉"], TEMPERATURE, 5 / 9, 1, SP811);
export const TEMPERATURE_DIFFERENCES: readonly LinearUnit[] = [DELTA_C, DELTA_K, DELTA_F];

/** Conventional columns of liquid: mercury of 13 595.1 kg/m³ and water of 1000 kg/m³ under standard gravity. */
const MERCURY_MILLIMETRE = 133.322387415;
const WATER_MILLIMETRE = STANDARD_GRAVITY;

export const PSI = row("psi", ["psig"], PRESSURE, (POUND_MASS * STANDARD_GRAVITY) / (INCH * INCH), 1, SP811);
export const BAR = row("bar", ["bars", "barg"], PRESSURE, 1e5, 2, SP811);
export const KILOPASCAL = row("kPa", ["kilopascal", "kilopascals"], PRESSURE, 1000, 1, SI);
export const MILLIBAR = row("mbar", ["millibar", "millibars", "mbarg"], PRESSURE, 100, 0, SP811);
export const ATMOSPHERE = row("atm", ["atmosphere", "atmospheres"], PRESSURE, 101325, 3, SP811);
export const INCH_OF_MERCURY = row("inHg", ["in Hg"], PRESSURE, 3386.388640341, 2, `${SP811} (conventional)`);
export const MILLIMETRE_OF_MERCURY = row("mmHg", ["mm Hg"], PRESSURE, MERCURY_MILLIMETRE, 0, `${SP811} (conventional)`);

/** Differences from the ambient pressure (gauge), in Pa; absolute pressures are scales. */
export const PRESSURES: readonly LinearUnit[] = [
  row("Pa", ["pascal", "pascals"], PRESSURE, 1, 0, SI),
  row("mPa", ["millipascal", "millipascals"], PRESSURE, 1e-3, 1, SI),
  row("hPa", ["hectopascal", "hectopascals"], PRESSURE, 100, 0, SI),
  KILOPASCAL,
  row("MPa", ["megapascal", "megapascals"], PRESSURE, 1e6, 3, SI),
  MILLIBAR,
  BAR,
  PSI,
  ATMOSPHERE,
  INCH_OF_MERCURY,
  MILLIMETRE_OF_MERCURY,
  row("inH2O", ["inH₂O", "in H2O", "inWC"], PRESSURE, 25.4 * WATER_MILLIMETRE, 1, `${SP811} (conventional)`),
];

export const ENERGIES: readonly LinearUnit[] = [
  row("J", ["joule", "joules"], ENERGY, 1, 1, SI),
  row("kJ", ["kilojoule", "kilojoules"], ENERGY, 1000, 1, SI),
  row("MJ", ["megajoule", "megajoules"], ENERGY, 1e6, 1, SI),
  row("GJ", ["gigajoule", "gigajoules"], ENERGY, 1e9, 2, SI),
  row("Wh", ["watt hour", "watt hours"], ENERGY, 3600, 0, SP811),
  row("kWh", ["kilowatt hour", "kilowatt hours"], ENERGY, 3.6e6, 1, SP811),
  row("MWh", ["megawatt hour", "megawatt hours"], ENERGY, 3.6e9, 2, SP811),
  row("kcal", ["kilocalorie", "kilocalories"], ENERGY, 4184, 1, `${SP811} (thermochemical)`),
  row("Btu", ["BTU", "Btus", "BTUs"], ENERGY, 1055.05585262, 0, `${SP811} (International Table)`),
];

export const POWERS: readonly LinearUnit[] = [
  row("W", ["watt", "watts"], POWER, 1, 0, SI),
  row("kW", ["kilowatt", "kilowatts"], POWER, 1000, 1, SI),
  row("MW", ["megawatt", "megawatts"], POWER, 1e6, 2, SI),
  row(
    "hp",
    ["horsepower"],
    POWER,
    550 * FOOT * POUND_MASS * STANDARD_GRAVITY,
    2,
    `${SP811} (550 foot pounds-force per second)`,
  ),
];

export const FORCES_AND_FLOW: readonly LinearUnit[] = [
  row("N", ["newton", "newtons"], FORCE, 1, 1, SI),
  row("kN", ["kilonewton", "kilonewtons"], FORCE, 1000, 2, SI),
  row("lbf", [], FORCE, POUND_MASS * STANDARD_GRAVITY, 1, SP811),
  row("cP", ["centipoise"], VISCOSITY, 1e-3, 2, SP811),
];
