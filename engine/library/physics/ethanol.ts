/**
 * Density of ethanol and water at 20 °C, kg/m³, coefficients of rising powers of the mass share of ethanol.
 * OIML R 22 (1973), International alcoholometric tables, general formula; the same as Directive 76/766/EEC.
 */
const COEFFICIENTS = [
  998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388, 306287.4042, -613838.1234, 747017.2998,
  -547846.1354, 223446.0334, -39032.85426,
];

/** Density at 20 °C, kg/m³, of ethanol and water with a mass share of ethanol from 0 to 1. */
export const ethanolWaterDensity = (byMass: number): number =>
  COEFFICIENTS.reduceRight((sum, coefficient) => sum * byMass + coefficient, 0);

export const PURE_ETHANOL_DENSITY = ethanolWaterDensity(1);

/** Specific gravity 20/20 °C of pure ethanol, 0.79066. */
export const ETHANOL_GRAVITY = PURE_ETHANOL_DENSITY / ethanolWaterDensity(0);

/** Share by volume at 20 °C of a mixture of ethanol and water with a share by mass from 0 to 1. */
export const byVolumeOf = (byMass: number): number => (byMass * ethanolWaterDensity(byMass)) / PURE_ETHANOL_DENSITY;

/** Narrower than any figure shown. */
const CLOSE_ENOUGH = 1e-13;

/** The mass share, 0 to 1, at which a function that rises with it reaches `wanted`. */
function massShareWhere(rising: (byMass: number) => number, wanted: number): number {
  let [low, high] = [0, 1];
  while (high - low > CLOSE_ENOUGH) {
    const middle = (low + high) / 2;
    if (rising(middle) < wanted) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Share by mass of a mixture of ethanol and water with a share by volume at 20 °C from 0 to 1. */
export const byMassOf = (byVolume: number): number => massShareWhere(byVolumeOf, byVolume);

/** Share by mass of a mixture of a density at 20 °C between that of water and that of ethanol, kg/m³. */
export const byMassAtDensity = (density: number): number =>
  massShareWhere((byMass) => -ethanolWaterDensity(byMass), -density);
