/** Pressure of the standard atmosphere at sea level, Pa. */
export const STANDARD_ATMOSPHERE = 101325;

/** Lapse over sea-level temperature, 1/m, and the exponent g M / (R L) of the U.S. Standard Atmosphere. */
const LAPSE = 2.25577e-5;
const EXPONENT = 5.25588;

/**
 * Air pressure, Pa, at an altitude in m above (or, negative, below) sea level where the pressure is `atSeaLevel`.
 * U.S. Standard Atmosphere, 1976 (NOAA, NASA, USAF), constants from memory; within 20 Pa to 3000 m. Weather moves it by some 3 %.
 */
export const pressureAtAltitude = (altitude: number, atSeaLevel = STANDARD_ATMOSPHERE): number =>
  atSeaLevel * (1 - LAPSE * altitude) ** EXPONENT;
