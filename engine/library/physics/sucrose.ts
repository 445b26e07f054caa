import { waterDensity } from "./water.ts";

/**
 * Coefficients of ρ(w, t) = ρ_water(t) + Σ_k T^k Σ_i a_ki w^i with T = (t − 20 °C)/100 K, in kg/m³: K. Rosenbruch's density equation
 * for sucrose solutions, adopted by ICUMSA (Specification and Standard SPS-4) and PTB.
 */
const COEFFICIENTS: readonly (readonly number[])[] = [
  [385.1761, 135.3705, 40.9299, -3.9646, 13.4853, -17.289],
  [-46.272, -7.172, 1.1597, 5.1126, 17.5254],
  [59.7712, 7.2491, 12.363, -35.4791],
  [-47.2207, -21.6977, 27.6301],
  [18.3184, 12.3081],
];

/** The strongest solution that the equation is asked about, mass share: nearly saturated syrup. */
const STRONGEST = 0.85;
/** The weakest: fermented beer reads below water, as if it held a little less than no extract. */
const WEAKEST = -0.1;
/** Narrower than any figure shown: a ten-millionth of a degree Plato. */
const CLOSE_ENOUGH = 1e-12;

/**
 * True density of a sucrose solution (wort of the same extract), kg/m³: extract as mass share, temperature in °C.
 * Fitted from 0 to 80 °C and to a share of 0.85; used to 100 °C, where 10 to 20 °P shrink like water within 0.01 %.
 */
export function sucroseDensity(extract: number, celsius: number): number {
  const warmth = (celsius - 20) / 100;
  let density = waterDensity(celsius);
  let power = 1;
  for (const row of COEFFICIENTS) {
    let sum = 0;
    for (let i = row.length - 1; i >= 0; i--) sum = (sum + (row[i] ?? 0)) * extract;
    density += sum * power;
    power *= warmth;
  }
  return density;
}

/** Finds the mass share of extract, from -0.1 to 0.85, at which a rising function reaches what is wanted; NaN where it never does. */
function extractWhere(rising: (extract: number) => number, wanted: number): number {
  let low = WEAKEST;
  let high = STRONGEST;
  if (!(rising(low) <= wanted && wanted <= rising(high))) return Number.NaN;
  while (high - low > CLOSE_ENOUGH) {
    const middle = (low + high) / 2;
    if (rising(middle) < wanted) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Mass share of extract in a solution of this density, kg/m³, at this temperature, °C; NaN outside -10 to 85 %. */
export const extractFromDensity = (density: number, celsius: number): number =>
  extractWhere((extract) => sucroseDensity(extract, celsius), density);

/** Mass share of extract in a solution that holds this mass of extract in a volume, kg/m³, at this temperature, °C; NaN outside -10 to 85 %. */
export const extractFromConcentration = (concentration: number, celsius: number): number =>
  extractWhere((extract) => extract * sucroseDensity(extract, celsius), concentration);
