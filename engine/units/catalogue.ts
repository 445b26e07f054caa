import { CURRENCIES } from "./rows/currencies.ts";
import { MASSES } from "./rows/mass.ts";
import { ENERGIES, FORCES_AND_FLOW, POWERS, PRESSURES, TEMPERATURE_DIFFERENCES, TIMES } from "./rows/physics.ts";
import { SCALES } from "./rows/scales.ts";
import { AMOUNTS, BITTERNESS_AND_COLOUR, CONCENTRATIONS, FERMENTATION, HARDNESSES, SHARES } from "./rows/trade.ts";
import { LENGTHS, VOLUMES } from "./rows/volume.ts";
import type { LinearUnit, Unit } from "./unit.ts";

/** Every linear unit, in the order of the reference. A new unit is a row in one of these tables. */
export const LINEAR_UNITS: readonly LinearUnit[] = [
  ...MASSES,
  ...VOLUMES,
  ...LENGTHS,
  ...TIMES,
  ...TEMPERATURE_DIFFERENCES,
  ...PRESSURES,
  ...ENERGIES,
  ...POWERS,
  ...FORCES_AND_FLOW,
  ...SHARES,
  ...CONCENTRATIONS,
  ...AMOUNTS,
  ...HARDNESSES,
  ...BITTERNESS_AND_COLOUR,
  ...FERMENTATION,
  ...CURRENCIES,
];

/** The whole catalogue: linear units and scales. Every spelling in it is unique. */
export const CATALOGUE: readonly Unit[] = [...LINEAR_UNITS, ...SCALES];
