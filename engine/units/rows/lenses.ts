import { type Dimension, dimension, divideDimensions } from "../dimension.ts";
import type { ScaleFamily } from "../unit.ts";
import {
  COLOUR,
  CONCENTRATION,
  ENERGY,
  EXTRACT,
  FOOT,
  FORCE,
  LENGTH,
  MASS,
  POUND_MASS,
  POWER,
  PRESSURE,
  TEMPERATURE,
  TIME,
  VOLUME,
} from "./row.ts";

/**
 * Coherent sizes up to (and without) `below` are shown in `unit`, rounded to `step`; the last size of a list has no bound.
 * A step is written as it rounds: `0.01`.
 */
export type LensSize = readonly [below: number, unit: string, step: string];

/** How one kind is shown through each lens. */
export interface LensRow {
  readonly of: Dimension | ScaleFamily;
  readonly metric: readonly LensSize[];
  readonly US: readonly LensSize[];
  readonly imperial: readonly LensSize[];
}

const MORE = Number.POSITIVE_INFINITY;

const OUNCE = POUND_MASS / 16;
const US_GALLON = 3.785411784e-3;
const IMPERIAL_GALLON = 4.54609e-3;
const US_BARREL = 31 * US_GALLON;
const UK_BARREL = 36 * IMPERIAL_GALLON;

const SMALL_MASSES: readonly LensSize[] = [
  [1e-3, "mg", "1"],
  [OUNCE, "g", "0.01"],
];
const POUNDS: readonly LensSize[] = [
  ...SMALL_MASSES,
  [POUND_MASS, "oz", "0.01"],
  [100 * POUND_MASS, "lb", "0.01"],
  [10_000 * POUND_MASS, "lb", "0.1"],
  [MORE, "lb", "1"],
];

/** Dip sticks and sight glasses are marked in inches, whatever their length. */
const STICK = 10 * FOOT;

const FEET: readonly LensSize[] = [
  [1e-4, "µm", "1"],
  [STICK, "inch", "0.01"],
  [MORE, "ft", "0.1"],
];

/** Above this a mass per volume is the density of a liquid, not a dose (kg/m³). */
const DENSE = 300;

const always = (unit: string, step: string): readonly LensSize[] => [[MORE, unit, step]];

/** The same in the US and the imperial lens. */
const customary = (of: LensRow["of"], metric: readonly LensSize[], both: readonly LensSize[]): LensRow => ({
  of,
  metric,
  US: both,
  imperial: both,
});

/**
 * The one lens table. Kinds that are not here stay as written: counts, IBU, equivalents, % vol, CO2 vol, pH, times, cells.
 * Gravity is °P in the metric and the US lens, as commercial breweries there keep their books (EBC, ASBC), and SG in the
 * imperial one, as gravity is declared in the United Kingdom. Differences of gravity are Δ°P everywhere: SG has none.
 */
export const LENS_ROWS: readonly LensRow[] = [
  customary(
    MASS,
    [...SMALL_MASSES.slice(0, 1), [1, "g", "0.1"], [100, "kg", "0.01"], [10_000, "kg", "0.1"], [MORE, "t", "0.01"]],
    POUNDS,
  ),
  {
    of: VOLUME,
    metric: [
      [1e-6, "µL", "1"],
      [1e-3, "mL", "1"],
      [1, "L", "0.1"],
      [MORE, "hL", "0.01"],
    ],
    US: [
      [2.95735295625e-5, "mL", "0.1"],
      [US_GALLON, "US fl oz", "0.01"],
      [US_BARREL, "US gal", "0.01"],
      [MORE, "US bbl", "0.01"],
    ],
    imperial: [
      [2.84130625e-5, "mL", "0.1"],
      [IMPERIAL_GALLON / 8, "imp fl oz", "0.01"],
      [IMPERIAL_GALLON, "imp pt", "0.01"],
      [UK_BARREL, "imp gal", "0.01"],
      [MORE, "UK bbl", "0.01"],
    ],
  },
  customary("temperature", always("°C", "0.1"), always("°F", "0.1")),
  customary(TEMPERATURE, always("Δ°C", "0.1"), always("Δ°F", "0.1")),
  { of: "gravity", metric: always("°P", "0.01"), US: always("°P", "0.01"), imperial: always("SG", "0.0001") },
  customary(EXTRACT, always("Δ°P", "0.01"), always("Δ°P", "0.01")),
  customary(
    PRESSURE,
    [
      [5000, "mbar", "1"],
      [MORE, "bar", "0.01"],
    ],
    always("psi", "0.1"),
  ),
  customary("absolute pressure", always("bara", "0.001"), always("psia", "0.01")),
  {
    of: divideDimensions(VOLUME, MASS),
    metric: always("L/kg", "0.01"),
    US: always("US qt/lb", "0.01"),
    imperial: always("imp qt/lb", "0.01"),
  },
  {
    of: CONCENTRATION,
    metric: [
      [10, "g/hL", "0.1"],
      [DENSE, "kg/hL", "0.01"],
      [MORE, "kg/m³", "0.1"],
    ],
    US: [
      [POUND_MASS / US_BARREL, "oz/US bbl", "0.01"],
      [DENSE, "lb/US bbl", "0.01"],
      [MORE, "lb/US gal", "0.001"],
    ],
    imperial: [
      [POUND_MASS / UK_BARREL, "oz/UK bbl", "0.01"],
      [DENSE, "lb/UK bbl", "0.01"],
      [MORE, "lb/imp gal", "0.001"],
    ],
  },
  customary(
    LENGTH,
    [
      [1e-4, "µm", "1"],
      [0.1, "mm", "0.1"],
      [1, "cm", "0.1"],
      [MORE, "m", "0.01"],
    ],
    FEET,
  ),
  customary(dimension({ length: 2 }), always("m²", "0.01"), always("ft²", "0.1")),
  customary(dimension({ length: 1, time: -1 }), always("m/s", "0.01"), always("ft/s", "0.01")),
  customary(FORCE, always("N", "0.1"), always("lbf", "0.1")),
  customary(
    ENERGY,
    [
      [1e6, "kJ", "0.1"],
      [1e9, "MJ", "0.1"],
      [MORE, "GJ", "0.01"],
    ],
    always("Btu", "1"),
  ),
  customary(
    POWER,
    [
      [1e3, "W", "1"],
      [1e6, "kW", "0.1"],
      [MORE, "MW", "0.01"],
    ],
    always("Btu/h", "1"),
  ),
  {
    of: divideDimensions(VOLUME, TIME),
    metric: [
      [1e-3 / 60, "mL/min", "1"],
      [1 / 60, "L/min", "0.1"],
      [MORE, "hL/h", "0.1"],
    ],
    US: [
      [US_GALLON / 60, "US fl oz/min", "0.1"],
      [MORE, "US gal/min", "0.01"],
    ],
    imperial: [
      [IMPERIAL_GALLON / 60, "imp fl oz/min", "0.1"],
      [MORE, "imp gal/min", "0.01"],
    ],
  },
  customary(divideDimensions(MASS, TIME), always("kg/h", "0.1"), always("lb/h", "0.1")),
  customary(divideDimensions(TEMPERATURE, TIME), always("°C/min", "0.01"), always("°F/min", "0.01")),
  customary(divideDimensions(ENERGY, MASS), always("kJ/kg", "0.1"), always("Btu/lb", "0.1")),
  customary(
    dimension({ length: 2, time: -2, temperature: -1 }),
    always("kJ/kg/K", "0.001"),
    always("Btu/lb/°F", "0.001"),
  ),
  customary(dimension({ mass: 1, time: -3, temperature: -1 }), always("W/m²/K", "1"), always("Btu/h/ft²/°F", "0.1")),
  { of: COLOUR, metric: always("EBC", "0.1"), US: always("SRM", "0.1"), imperial: always("EBC", "0.1") },
];

/** Money per mass or volume: the unit and step of what stands under the currency, whichever that is. */
export const MONEY_PER: readonly LensRow[] = [
  customary(MASS, always("kg", "0.01"), always("lb", "0.01")),
  { of: VOLUME, metric: always("hL", "0.01"), US: always("US bbl", "0.01"), imperial: always("UK bbl", "0.01") },
  customary(ENERGY, always("kWh", "0.001"), always("kWh", "0.001")),
];
