import { ZERO_CELSIUS } from "./saturation.ts";

/*
 * Heat content of water and steam on the saturation line: IAPWS SR1-86(1992), "Revised supplementary release on saturation properties
 * of ordinary water substance", equations 1 to 6; W. Wagner and A. Pruß, J. Phys. Chem. Ref. Data 22 (1993) 783. 0.01 to 373.9 °C.
 */

const CRITICAL_KELVIN = 647.096;
const CRITICAL_PASCAL = 22.064e6;
const CRITICAL_DENSITY = 322;

/** Coefficient and exponent of each term. */
type Terms = readonly (readonly [number, number])[];
const PRESSURE: Terms = [
  [-7.85951783, 1],
  [1.84408259, 1.5],
  [-11.7866497, 3],
  [22.6807411, 3.5],
  [-15.9618719, 4],
  [1.80122502, 7.5],
];
const LIQUID: Terms = [
  [1.99274064, 1 / 3],
  [1.09965342, 2 / 3],
  [-0.510839303, 5 / 3],
  [-1.75493479, 16 / 3],
  [-45.5170352, 43 / 3],
  [-6.7469445e5, 110 / 3],
];
const STEAM: Terms = [
  [-2.0315024, 2 / 6],
  [-2.6830294, 4 / 6],
  [-5.38626492, 8 / 6],
  [-17.2991605, 18 / 6],
  [-44.7586581, 37 / 6],
  [-63.9201063, 71 / 6],
];
const ALPHA: Terms = [
  [-1135.905627715, 0],
  [-5.65134998e-8, -19],
  [2690.66631, 1],
  [127.287297, 4.5],
  [-135.003439, 5],
  [0.981825814, 54.5],
];

const sum = (terms: Terms, x: number): number =>
  terms.reduce((total, [factor, power]) => total + factor * x ** power, 0);
const slope = (terms: Terms, x: number): number =>
  terms.reduce((total, [factor, power]) => total + factor * power * x ** (power - 1), 0);

/** T dp/dT on the saturation line, Pa. */
function heatPressure(kelvin: number): number {
  const tau = 1 - kelvin / CRITICAL_KELVIN;
  const exponent = (CRITICAL_KELVIN / kelvin) * sum(PRESSURE, tau);
  return -CRITICAL_PASCAL * Math.exp(exponent) * (exponent + slope(PRESSURE, tau));
}

/** Heat content of water at its saturation pressure, J/kg above water at the triple point. */
export function waterEnthalpy(celsius: number): number {
  const kelvin = celsius + ZERO_CELSIUS;
  const density = CRITICAL_DENSITY * (1 + sum(LIQUID, 1 - kelvin / CRITICAL_KELVIN));
  return 1000 * sum(ALPHA, kelvin / CRITICAL_KELVIN) + heatPressure(kelvin) / density;
}

/** Heat content of saturated steam, J/kg above water at the triple point. */
export function steamEnthalpy(celsius: number): number {
  const kelvin = celsius + ZERO_CELSIUS;
  const density = CRITICAL_DENSITY * Math.exp(sum(STEAM, 1 - kelvin / CRITICAL_KELVIN));
  return 1000 * sum(ALPHA, kelvin / CRITICAL_KELVIN) + heatPressure(kelvin) / density;
}

/** Heat that turns water into steam at this temperature, J/kg. */
export const heatOfEvaporation = (celsius: number): number => steamEnthalpy(celsius) - waterEnthalpy(celsius);

/** Specific heat of water, J/(kg K): the rise of its heat content over one kelvin about this temperature, °C. */
export const specificHeatOfWater = (celsius: number): number =>
  waterEnthalpy(celsius + 0.5) - waterEnthalpy(celsius - 0.5);
