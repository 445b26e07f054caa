/** 0 °C in kelvin. */
export const ZERO_CELSIUS = 273.15;

/** Coefficients n1 to n10 of the saturation line, IAPWS-IF97 region 4, table 34. */
const N = [
  1167.0521452767, -724213.16703206, -17.073846940092, 12020.82470247, -3232555.0322333, 14.91510861353,
  -4823.2657361591, 405113.40542057, -0.23855557567849, 650.17534844798,
] as const;

/**
 * Pressure of saturated steam, Pa absolute, at a temperature in °C from 0 to 373.946.
 * IAPWS R7-97(2012), Industrial Formulation 1997, equation 30.
 */
export function saturationPressure(celsius: number): number {
  const kelvin = celsius + ZERO_CELSIUS;
  const theta = kelvin + N[8] / (kelvin - N[9]);
  const a = theta * theta + N[0] * theta + N[1];
  const b = N[2] * theta * theta + N[3] * theta + N[4];
  const c = N[5] * theta * theta + N[6] * theta + N[7];
  return 1e6 * ((2 * c) / (-b + Math.sqrt(b * b - 4 * a * c))) ** 4;
}

/**
 * Temperature at which water boils, °C, under a pressure in Pa absolute from 611.213 Pa to 22.064 MPa.
 * IAPWS R7-97(2012), Industrial Formulation 1997, equation 31.
 */
export function boilingTemperature(pressure: number): number {
  const beta = (pressure / 1e6) ** 0.25;
  const e = beta * beta + N[2] * beta + N[5];
  const f = N[0] * beta * beta + N[3] * beta + N[6];
  const g = N[1] * beta * beta + N[4] * beta + N[7];
  const d = (2 * g) / (-f - Math.sqrt(f * f - 4 * e * g));
  return (N[9] + d - Math.sqrt((N[9] + d) ** 2 - 4 * (N[8] + N[9] * d))) / 2 - ZERO_CELSIUS;
}
