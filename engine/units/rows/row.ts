import type { Dimension } from "../dimension.ts";
import { dimension } from "../dimension.ts";
import type { LinearUnit } from "../unit.ts";

/** The library version that brought the first catalogue. */
export const FIRST = 1;

/** Sources that stand beside more than one row. */
export const SI = "SI Brochure (BIPM, 9th edition)";
export const POUND = "International yard and pound agreement 1959";
export const UK_MEASURES = "UK Weights and Measures Act 1985, schedule 1";
export const US_GALLON = "27 CFR 7.10 (US gallon of 231 cubic inches)";
export const SP811 = "NIST SP 811 (2008), appendix B";
export const TRADE = "common practice, no source";

/** One row of the catalogue: symbol, other spellings, dimension, exact factor to the coherent unit, decimals shown, source. */
export const row = (
  symbol: string,
  names: readonly string[],
  of: Dimension,
  factor: number,
  decimals: number,
  source: string,
): LinearUnit => ({ is: "linear", symbol, names, dimension: of, factor, decimals, source, since: FIRST });

export const MASS = dimension({ mass: 1 });
export const LENGTH = dimension({ length: 1 });
export const VOLUME = dimension({ length: 3 });
export const TIME = dimension({ time: 1 });
export const TEMPERATURE = dimension({ temperature: 1 });
export const FORCE = dimension({ mass: 1, length: 1, time: -2 });
export const PRESSURE = dimension({ mass: 1, length: -1, time: -2 });
export const ENERGY = dimension({ mass: 1, length: 2, time: -2 });
export const POWER = dimension({ mass: 1, length: 2, time: -3 });
export const VISCOSITY = dimension({ mass: 1, length: -1, time: -1 });
export const CONCENTRATION = dimension({ mass: 1, length: -3 });
export const HARDNESS = dimension({ equivalent: 1, length: -3 });
export const COLOUR = dimension({ colour: 1 });
export const EXTRACT = dimension({ extract: 1 });
export const DIASTATIC_POWER = dimension({ "diastatic power": 1 });

/** Metres to an inch, kilograms to an avoirdupois pound: exact by the 1959 agreement. */
export const INCH = 0.0254;
export const FOOT = 0.3048;
export const POUND_MASS = 0.45359237;
/** Standard acceleration of gravity, m/s²: exact by definition (3rd CGPM, 1901). */
export const STANDARD_GRAVITY = 9.80665;
