/**
 * Density of air-free liquid water at one atmosphere, kg/m³, at a temperature in °C from 0 to 150.
 * G. S. Kell, "Density, thermal expansivity, and compressibility of liquid water from 0 to 150 °C", J. Chem. Eng. Data 20 (1975) 97,
 * equation 16. The denominator is 16.879850e-3; copies that print 16.897850e-3 have two digits swapped.
 */
export function waterDensity(celsius: number): number {
  const t = celsius;
  const numerator =
    999.83952 + t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 + t * -280.54253e-12))));
  return numerator / (1 + 16.87985e-3 * t);
}

/** What a volume of water measured at one temperature, °C, fills at another: the mass stays. */
export const volumeAt = (volume: number, measuredAt: number, wantedAt: number): number =>
  (volume * waterDensity(measuredAt)) / waterDensity(wantedAt);
