import { STANDARD_ATMOSPHERE } from "./atmosphere.ts";
import { molarMass } from "./chemistry.ts";
import { saturationPressure, ZERO_CELSIUS } from "./saturation.ts";
import { waterDensity } from "./water.ts";

/** Gas constant, J/(mol K): exact since 2019. */
export const GAS_CONSTANT = 8.31446261815324;

export const CARBON_DIOXIDE_MOLAR_MASS = molarMass({ C: 1, O: 2 });
const OXYGEN_MOLAR_MASS = molarMass({ O: 2 });
const WATER_MOLAR_MASS = molarMass({ H: 2, O: 1 });

/**
 * Mass of carbon dioxide, kg, that one volume stands for in a cubic metre of beer: an ideal gas at 0 °C and 1 atm, 22.414 L/mol, the
 * trade's 1.96 g/L. The real gas takes 22.2605 L/mol and weighs 1.977 g/L: a difference of convention, 0.7 %.
 */
export const VOLUME_OF_CARBON_DIOXIDE = 1.9635;
const REAL_MOLAR_VOLUME = 22.2605e-3;

/**
 * Henry's constant of carbon dioxide in water, Pa per mole fraction, at a temperature in °C from 0 to 160; to 1 MPa.
 * J. J. Carroll, J. D. Slupsky, A. E. Mather, "The solubility of carbon dioxide in water at low pressure", J. Phys. Chem. Ref. Data 20
 * (1991) 1201. Some 2 % more soluble at 20 °C than Murray and Riley measured, see {@link bunsenCoefficient}.
 */
export function henryConstant(celsius: number): number {
  const kelvin = celsius + ZERO_CELSIUS;
  return 1e6 * Math.exp(-6.8346 + 1.2817e4 / kelvin - 3.7668e6 / kelvin ** 2 + 2.997e8 / kelvin ** 3);
}

/** Moles of water in a cubic metre. */
const molesOfWater = (celsius: number): number => waterDensity(celsius) / WATER_MOLAR_MASS;

/** Carbon dioxide, kg/m³, that water at a temperature in °C holds under the gas at a partial pressure in Pa. */
export function carbonDioxideInWater(celsius: number, partialPressure: number): number {
  const share = partialPressure / henryConstant(celsius);
  return (share / (1 - share)) * molesOfWater(celsius) * CARBON_DIOXIDE_MOLAR_MASS;
}

/** Partial pressure, Pa, under which water at a temperature in °C holds so much carbon dioxide, kg/m³: the inverse of {@link carbonDioxideInWater}. */
export function pressureOverWater(celsius: number, held: number): number {
  const moles = held / CARBON_DIOXIDE_MOLAR_MASS;
  return (moles / (moles + molesOfWater(celsius))) * henryConstant(celsius);
}

/**
 * Measured Bunsen coefficients of carbon dioxide in water: litres of gas (0 °C, 1 atm) in a litre under 1 atm of the gas, by °C.
 * C. N. Murray, J. P. Riley, Deep-Sea Research 18 (1971) 533, as given in the IUPAC-NIST Solubility Database, 62_54.
 */
const MEASURED = [
  [1.04, 1.6471],
  [5, 1.4199],
  [10, 1.1926],
  [15, 1.01],
  [20, 0.8652],
  [25, 0.7519],
  [32, 0.6336],
  [35, 0.5905],
] as const;

/** The measurements reach so far, °C; a few degrees beyond, the last stretch is carried on. */
export const BUNSEN_FROM = MEASURED[0][0];
export const BUNSEN_TO = MEASURED[MEASURED.length - 1]?.[0] ?? 0;

/** Bunsen coefficient of carbon dioxide in water near atmospheric pressure: the measurements, their logarithm interpolated over temperature in °C. */
export function bunsenCoefficient(celsius: number): number {
  const above = MEASURED.findIndex(([temperature]) => temperature > celsius);
  const index = above < 0 ? MEASURED.length - 1 : Math.max(above, 1);
  const [t0, alpha0] = MEASURED[index - 1] ?? MEASURED[0];
  const [t1, alpha1] = MEASURED[index] ?? MEASURED[0];
  return alpha0 * (alpha1 / alpha0) ** ((celsius - t0) / (t1 - t0));
}

/** Kilograms of carbon dioxide in a cubic metre for a Bunsen coefficient of one: the real gas. */
export const MASS_OF_A_BUNSEN_VOLUME = CARBON_DIOXIDE_MOLAR_MASS / REAL_MOLAR_VOLUME;

/** Share of oxygen in dry air. */
const OXYGEN_IN_AIR = 0.20946;
/** Pure oxygen gives so many times what air gives. */
export const OXYGEN_OVER_AIR = 1 / OXYGEN_IN_AIR;

/**
 * Oxygen, kg/m³, in pure water saturated with moist air: temperature in °C from 0 to 40, pressure of the air in Pa.
 * B. B. Benson, D. Krause, Limnol. Oceanogr. 29 (1984) 620, in the form of Standard Methods for the Examination of Water and Wastewater
 * (APHA, 1985); in proportion to the pressure of the dry air away from 1 atm.
 */
export function oxygenUnderAir(celsius: number, pressure: number): number {
  const kelvin = celsius + ZERO_CELSIUS;
  const milligrams = Math.exp(
    -139.34411 + 1.575701e5 / kelvin - 6.642308e7 / kelvin ** 2 + 1.2438e10 / kelvin ** 3 - 8.621949e11 / kelvin ** 4,
  );
  const vapour = saturationPressure(celsius);
  return (milligrams / 1000) * ((pressure - vapour) / (STANDARD_ATMOSPHERE - vapour));
}

/** Density of an ideal gas, kg/m³: molar mass in kg/mol, absolute pressure in Pa, temperature in °C. */
const gasDensity = (mass: number, pressure: number, celsius: number): number =>
  (mass * pressure) / (GAS_CONSTANT * (celsius + ZERO_CELSIUS));

/** Density of carbon dioxide taken as an ideal gas: 0.5 % low at 1 atm, 2 % low at 4 bar. */
export const carbonDioxideDensity = (pressure: number, celsius: number): number =>
  gasDensity(CARBON_DIOXIDE_MOLAR_MASS, pressure, celsius);

export const oxygenDensity = (pressure: number, celsius: number): number =>
  gasDensity(OXYGEN_MOLAR_MASS, pressure, celsius);
