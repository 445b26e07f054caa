/** Abridged standard atomic weights, g/mol: T. Prohaska et al., "Standard atomic weights of the elements 2021", Pure Appl. Chem. 94 (2022) 573. */
const ATOMIC_WEIGHTS = {
  H: 1.008,
  C: 12.011,
  O: 15.999,
  Na: 22.99,
  Mg: 24.305,
  P: 30.974,
  S: 32.06,
  Cl: 35.45,
  K: 39.098,
  Ca: 40.078,
  N: 14.007,
} as const;

/** How many atoms of each element: `{ H: 2, O: 1 }`. */
export type Composition = Partial<Record<keyof typeof ATOMIC_WEIGHTS, number>>;

/** Molar mass in kg/mol. */
export const molarMass = (composition: Composition): number =>
  Object.entries(composition).reduce(
    (sum, [element, atoms]) => sum + ATOMIC_WEIGHTS[element as keyof typeof ATOMIC_WEIGHTS] * atoms,
    0,
  ) / 1000;

/** An ion of the water report: its name and composition, and how many charges it carries, negative for an anion. */
export interface Ion {
  readonly name: string;
  readonly composition: Composition;
  readonly charge: number;
}

export const CALCIUM: Ion = { name: "calcium", composition: { Ca: 1 }, charge: 2 };
export const MAGNESIUM: Ion = { name: "magnesium", composition: { Mg: 1 }, charge: 2 };
export const SODIUM: Ion = { name: "sodium", composition: { Na: 1 }, charge: 1 };
export const POTASSIUM: Ion = { name: "potassium", composition: { K: 1 }, charge: 1 };
export const SULPHATE: Ion = { name: "sulphate", composition: { S: 1, O: 4 }, charge: -2 };
export const CHLORIDE: Ion = { name: "chloride", composition: { Cl: 1 }, charge: -1 };
export const BICARBONATE: Ion = { name: "bicarbonate", composition: { H: 1, C: 1, O: 3 }, charge: -1 };
export const NITRATE: Ion = { name: "nitrate", composition: { N: 1, O: 3 }, charge: -1 };

/** The ions that brewing salts bring. */
export const SALT_IONS: readonly Ion[] = [CALCIUM, MAGNESIUM, SODIUM, POTASSIUM, SULPHATE, CHLORIDE, BICARBONATE];

/** Equivalents in one kilogram of an ion, without sign. */
export const equivalentsPerKilogram = (ion: Ion): number => Math.abs(ion.charge) / molarMass(ion.composition);

/** A brewing salt, named so that the hydrate is beyond doubt, with the moles of each ion that one mole brings. */
export interface Salt {
  readonly name: string;
  readonly composition: Composition;
  readonly brings: readonly (readonly [Ion, number])[];
}

/** Chalk and lime count as the bicarbonate that they become with carbon dioxide: an upper limit in the mash. */
export const SALTS: readonly Salt[] = [
  {
    name: "gypsum",
    composition: { Ca: 1, S: 1, O: 6, H: 4 },
    brings: [
      [CALCIUM, 1],
      [SULPHATE, 1],
    ],
  },
  {
    name: "calcium sulphate anhydrous",
    composition: { Ca: 1, S: 1, O: 4 },
    brings: [
      [CALCIUM, 1],
      [SULPHATE, 1],
    ],
  },
  {
    name: "calcium chloride dihydrate",
    composition: { Ca: 1, Cl: 2, O: 2, H: 4 },
    brings: [
      [CALCIUM, 1],
      [CHLORIDE, 2],
    ],
  },
  {
    name: "calcium chloride anhydrous",
    composition: { Ca: 1, Cl: 2 },
    brings: [
      [CALCIUM, 1],
      [CHLORIDE, 2],
    ],
  },
  {
    name: "Epsom salt",
    composition: { Mg: 1, S: 1, O: 11, H: 14 },
    brings: [
      [MAGNESIUM, 1],
      [SULPHATE, 1],
    ],
  },
  {
    name: "magnesium sulphate anhydrous",
    composition: { Mg: 1, S: 1, O: 4 },
    brings: [
      [MAGNESIUM, 1],
      [SULPHATE, 1],
    ],
  },
  {
    name: "magnesium chloride hexahydrate",
    composition: { Mg: 1, Cl: 2, O: 6, H: 12 },
    brings: [
      [MAGNESIUM, 1],
      [CHLORIDE, 2],
    ],
  },
  {
    name: "common salt",
    composition: { Na: 1, Cl: 1 },
    brings: [
      [SODIUM, 1],
      [CHLORIDE, 1],
    ],
  },
  {
    name: "potassium chloride",
    composition: { K: 1, Cl: 1 },
    brings: [
      [POTASSIUM, 1],
      [CHLORIDE, 1],
    ],
  },
  {
    name: "sodium sulphate anhydrous",
    composition: { Na: 2, S: 1, O: 4 },
    brings: [
      [SODIUM, 2],
      [SULPHATE, 1],
    ],
  },
  {
    name: "sodium bicarbonate",
    composition: { Na: 1, H: 1, C: 1, O: 3 },
    brings: [
      [SODIUM, 1],
      [BICARBONATE, 1],
    ],
  },
  {
    name: "chalk",
    composition: { Ca: 1, C: 1, O: 3 },
    brings: [
      [CALCIUM, 1],
      [BICARBONATE, 2],
    ],
  },
  {
    name: "slaked lime",
    composition: { Ca: 1, O: 2, H: 2 },
    brings: [
      [CALCIUM, 1],
      [BICARBONATE, 2],
    ],
  },
];

/** Share by mass of an ion in a salt; 0 where the salt brings none of it. More than 1 in all for chalk and lime, which take up carbon dioxide. */
export function ionShare(salt: Salt, ion: Ion): number {
  const moles = salt.brings.find(([brought]) => brought === ion)?.[1] ?? 0;
  return (moles * molarMass(ion.composition)) / molarMass(salt.composition);
}

/** An acid that a brewer doses, with the pK of each proton at 25 °C; a strong one has none to speak of. */
export interface Acid {
  readonly name: string;
  readonly composition: Composition;
  readonly pK: readonly number[];
}

/** A proton that is always given up in beer and water. */
const STRONG = -3;

/** pK values: CRC Handbook of Chemistry and Physics, dissociation constants of acids (from memory). */
export const ACIDS: readonly Acid[] = [
  { name: "lactic", composition: { C: 3, H: 6, O: 3 }, pK: [3.86] },
  { name: "phosphoric", composition: { H: 3, P: 1, O: 4 }, pK: [2.15, 7.2, 12.35] },
  { name: "hydrochloric", composition: { H: 1, Cl: 1 }, pK: [STRONG] },
  { name: "sulphuric", composition: { H: 2, S: 1, O: 4 }, pK: [STRONG, 1.99] },
];

/** Protons that one mole of an acid has given up at a pH: 0.97 for lactic acid at 5.4. */
export function protonsGiven(acid: Acid, ph: number): number {
  let weight = 1;
  let total = 1;
  let given = 0;
  acid.pK.forEach((pK, index) => {
    weight *= 10 ** (ph - pK);
    total += weight;
    given += (index + 1) * weight;
  });
  return given / total;
}
