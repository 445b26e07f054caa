import { specificGravity } from "../../units/gravity.ts";
import { ETHANOL_GRAVITY } from "./ethanol.ts";

/*
 * Relations between original extract, extract left and alcohol. Extracts are mass shares (12 °P is 0.12), apparent where a hydrometer
 * reads them in beer, real where the alcohol was taken out; alcohol is a share by mass, or by volume at 20 °C where the name says so.
 */

/** Grams of extract that become one gram of alcohol, with 0.9565 g of carbon dioxide and 0.11 g of yeast: Balling, 1865. */
const EXTRACT_FOR_ALCOHOL = 2.0665;
/** Carbon dioxide for each gram of extract fermented (Balling). */
export const CARBON_DIOXIDE_OF_EXTRACT = 0.9565 / EXTRACT_FOR_ALCOHOL;

export interface Fermented {
  readonly alcohol: number;
  readonly realExtract: number;
}

/** Alcohol from original and real extract: Balling's balance solved for it. */
export const ballingAlcohol = (original: number, real: number): number =>
  (original - real) / (EXTRACT_FOR_ALCOHOL - (EXTRACT_FOR_ALCOHOL - 1) * original);

/** Original extract from alcohol and real extract: Balling. */
export const ballingOriginal = (alcohol: number, real: number): number =>
  (EXTRACT_FOR_ALCOHOL * alcohol + real) / (1 + (EXTRACT_FOR_ALCOHOL - 1) * alcohol);

/** Real extract from original extract and alcohol: Balling. */
const ballingReal = (original: number, alcohol: number): number =>
  original * (1 + (EXTRACT_FOR_ALCOHOL - 1) * alcohol) - EXTRACT_FOR_ALCOHOL * alcohol;

/** Share of the extract that apparent readings still count when they are turned to real ones: De Clerck's 0.8192 and 0.1808 (from memory). */
export const REAL_FOR_APPARENT = 0.8192;

/** Real extract by De Clerck's rule (from memory), alcohol from it by Balling. */
export function ballingFermented(original: number, apparent: number): Fermented {
  const realExtract = (1 - REAL_FOR_APPARENT) * original + REAL_FOR_APPARENT * apparent;
  return { alcohol: ballingAlcohol(original, realExtract), realExtract };
}

/**
 * Alcohol by A. J. Cutaia, A.-J. Reid, R. A. Speers, "Examination of the relationships between original, real and apparent extracts, and
 * alcohol in pilot plant and commercially produced beers", J. Inst. Brew. 115 (2009) 318, table VI: 532 brews of 9.4 to 18.0 °P. The real
 * extract closes Balling's balance with it and lies within 0.15 °P of the means of table III. (Table VI gives 0.814 + 0.000862 × °P too, the
 * ratio of the degrees of fermentation by mass; taken for the fall of real over that of apparent extract it is up to 0.33 °P off those means.)
 */
export function cutaiaFermented(original: number, apparent: number): Fermented {
  const alcohol = (0.372 + 0.357 * original) * (original - apparent);
  return { alcohol, realExtract: ballingReal(original, alcohol) };
}

/** Share of the extract that was fermented, by mass of extract. */
export const realDegree = ({ alcohol, realExtract }: Fermented): number =>
  (EXTRACT_FOR_ALCOHOL * alcohol) / (EXTRACT_FOR_ALCOHOL * alcohol + realExtract);

/** Share by volume of a share by mass in beer of an apparent extract. */
export const byVolumeInBeer = (alcohol: number, apparent: number): number =>
  (alcohol * specificGravity(apparent)) / ETHANOL_GRAVITY;

/** Share by mass of a share by volume in beer of an apparent extract. */
export const byMassInBeer = (alcohol: number, apparent: number): number =>
  (alcohol * ETHANOL_GRAVITY) / specificGravity(apparent);

/** Upper end, in degrees of gravity lost, of each band of the official table, and the factor in it. */
const DUTY_BANDS = [
  [6.9, 0.125],
  [10.4, 0.126],
  [17.2, 0.127],
  [26.1, 0.128],
  [36.0, 0.129],
  [46.5, 0.13],
  [57.1, 0.131],
  [67.9, 0.132],
  [78.8, 0.133],
  [89.7, 0.134],
  [100.7, 0.135],
] as const;

export const DUTY_TABLE_TO = 100.7;

/**
 * Alcohol by volume from the degrees of gravity lost, to a tenth of a degree: HMRC Notice 226, section 30.3, table of the Laboratory of the
 * Government Chemist. NaN beyond its end.
 */
export function dutyTableByVolume(original: number, apparent: number): number {
  const degrees = Math.round(10_000 * (specificGravity(original) - specificGravity(apparent))) / 10;
  const factor = DUTY_BANDS.find(([upTo]) => degrees <= upTo)?.[1] ?? Number.NaN;
  return (degrees * factor) / 100;
}

/** M. L. Hall, Zymurgy 18 (1995) no. 2. Above an original gravity of 1.080 it overshoots the official table by 0.5 to 0.9 % vol. */
export function hallByVolume(original: number, apparent: number): number {
  const [og, fg] = [specificGravity(original), specificGravity(apparent)];
  return ((76.08 * (og - fg)) / (1.775 - og)) * (fg / 0.794) * 0.01;
}

/** Gravity lost times 131.25: common practice, no source. */
export const simpleByVolume = (original: number, apparent: number): number =>
  1.3125 * (specificGravity(original) - specificGravity(apparent));
