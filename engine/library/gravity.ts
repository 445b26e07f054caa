import { specificGravity } from "../units/gravity.ts";
import { argument, type Numbers, taking } from "./arguments.ts";
import { type Argument, type LibraryFunction, noValue } from "./declaration.ts";
import { extractFromDensity, sucroseDensity } from "./physics/sucrose.ts";
import { waterDensity } from "./physics/water.ts";

const ROSENBRUCH = "K. Rosenbruch's density equation for sucrose solutions (ICUMSA SPS-4, PTB)";
const MASS_BALANCE = `Mass balance of extract; wort density by ${ROSENBRUCH}`;
const OIV = "OIV-MA-AS2-02 (Oeno 21/2004), Table I";

/** Gravity is extract at this temperature, °C, and a refractometer scale is right there. */
const REFERENCE = 20;

const volume = (name: string, says: string): Argument => argument(name, "L", says, { low: 0 });
const gravity = (name: string, says: string, more: Partial<Argument> = {}): Argument =>
  argument(name, "°P", says, { low: -2, high: 60, ...more });
const temperature = (name: string, says: string, more: Partial<Argument> = {}): Argument =>
  argument(name, "°C", says, { low: 0, high: 100, ...more });

/**
 * What a refractometer scale of sucrose shows wrong at a temperature, as mass share to be added: a curve fitted to OIV-MA-AS2-02,
 * Table I (5 to 17 °C, 10 to 30 % by mass) for the least squares; its greatest error there is 0.017 %.
 */
function refractometerCorrection(reading: number, celsius: number): number {
  const warmer = celsius - REFERENCE;
  return (warmer * (0.0615 + 0.051 * reading) + 0.00072 * warmer * warmer) / 100;
}

export const GRAVITY: readonly LibraryFunction[] = [
  {
    name: "corrected_gravity",
    stage: "gravity",
    says: "Gravity at 20 °C from a hydrometer read in a sample at another temperature.",
    searchWords: ["hydrometer", "saccharometer", "temperature correction", "sample temperature"],
    since: 1,
    arguments: [
      gravity("reading", "What the hydrometer shows."),
      temperature("sample_temp", "Temperature of the sample when it was read."),
      temperature(
        "calibration",
        "Temperature for which the hydrometer was made: 20 °C, 15 °C or 60 °F, as its scale says.",
        { default: "20 °C", low: 4, high: 30 },
      ),
      argument("glass_expansion", "%/K", "How much the hydrometer's glass grows by a degree: soda glass 0.0025 %.", {
        default: "0.0025 %/K",
        low: 0,
        high: 0.1,
      }),
    ],
    result: { unit: "°P" },
    source: `Float of a glass hydrometer in wort: ${ROSENBRUCH}; soda glass 25e-6/K (handbook value from memory)`,
    range:
      "0 to 40 °C for figures worth keeping; at 60 °C the correction is 16 points and a thermometer wrong by 1 °C costs half a point. In beer it is a little too small below 20 °C and too large above.",
    published: [
      { argument: "sample_temp", low: 0, high: 40 },
      { argument: "reading", low: -2, high: 30 },
    ],
    caution: { is: "safety", says: "Degas and cool the sample: hot wort scalds and a hydrometer's glass breaks." },
    arithmetic: taking<Numbers<"reading" | "sample_temp" | "calibration" | "glass_expansion">>((given) => {
      const atCalibration =
        (sucroseDensity(given.reading, REFERENCE) / waterDensity(REFERENCE)) * waterDensity(given.calibration);
      const density = atCalibration / (1 + given.glass_expansion * (given.sample_temp - given.calibration));
      const extract = extractFromDensity(density, given.sample_temp);
      return Number.isNaN(extract)
        ? noValue("No wort floats a hydrometer like this: look at the reading and the temperature.")
        : extract;
    }),
  },
  {
    name: "points",
    stage: "gravity",
    says: "Gravity points: thousandths of specific gravity above water.",
    searchWords: ["gravity units", "GU", "degrees", "excess gravity"],
    since: 1,
    arguments: [gravity("gravity", "The gravity; a difference is the difference of two points.")],
    result: { unit: "1" },
    source: "Definition; specific gravity 20/20 °C by NBS Circular C440 (1942), Table 114",
    range: "-2 to 30 °P.",
    published: [{ argument: "gravity", low: -2, high: 30 }],
    arithmetic: taking<Numbers<"gravity">>((given) => 1000 * (specificGravity(given.gravity) - 1)),
  },
  {
    name: "wort_density",
    stage: "gravity",
    says: "Density of wort at a temperature.",
    searchWords: ["specific mass", "kg per litre"],
    since: 1,
    arguments: [
      gravity("gravity", "Its gravity, corrected to 20 °C."),
      temperature("temp", "Its temperature.", { default: "20 °C" }),
    ],
    result: { unit: "kg/L" },
    source: ROSENBRUCH,
    range:
      "0.05 kg/m³ at 20 °C; measured to 80 °C and carried to 100 °C. True density: weighing in air reads 0.105 % low.",
    published: [{ argument: "gravity", low: -2, high: 30 }],
    arithmetic: taking<Numbers<"gravity" | "temp">>((given) => sucroseDensity(given.gravity, given.temp)),
  },
  {
    name: "wort_mass",
    stage: "gravity",
    says: "Mass of a volume of wort.",
    searchWords: ["weight", "kilograms of wort"],
    since: 1,
    arguments: [
      volume("volume", "Wort, measured at `temp`."),
      gravity("gravity", "Its gravity, corrected to 20 °C."),
      temperature("temp", "Temperature at which the volume was measured.", { default: "20 °C" }),
    ],
    result: { unit: "kg" },
    source: ROSENBRUCH,
    range: "0.01 % at 20 °C; measured to 80 °C and carried to 100 °C.",
    published: [{ argument: "gravity", low: -2, high: 30 }],
    arithmetic: taking<Numbers<"volume" | "gravity" | "temp">>(
      (given) => given.volume * sucroseDensity(given.gravity, given.temp),
    ),
  },
  {
    name: "blended_gravity",
    stage: "gravity",
    says: "Gravity of two worts or beers run together, or of wort and water.",
    searchWords: ["blend", "mix", "dilution", "high gravity brewing", "parti-gyle"],
    since: 1,
    arguments: [
      volume("first_volume", "The first wort, measured cold (20 °C)."),
      gravity("first_gravity", "Its gravity."),
      volume("second_volume", "The second wort or water, measured cold (20 °C)."),
      gravity("second_gravity", "Its gravity; water is 0 °P.", { default: "0 °P" }),
    ],
    result: { unit: "°P" },
    source: MASS_BALANCE,
    range: "Exact for wort and water; for beer it blends apparent extract.",
    published: [
      { argument: "first_gravity", low: -2, high: 30 },
      { argument: "second_gravity", low: -2, high: 30 },
    ],
    arithmetic: taking<Numbers<"first_volume" | "first_gravity" | "second_volume" | "second_gravity">>((given) => {
      const first = given.first_volume * sucroseDensity(given.first_gravity, REFERENCE);
      const second = given.second_volume * sucroseDensity(given.second_gravity, REFERENCE);
      if (first + second === 0) return noValue("Both volumes are zero: there is nothing to blend.");
      return (first * given.first_gravity + second * given.second_gravity) / (first + second);
    }),
  },
  {
    name: "liquor_back",
    stage: "gravity",
    says: "Water that brings wort down to a wanted gravity.",
    searchWords: ["dilute", "let down", "water back", "breaking down", "high gravity brewing"],
    since: 1,
    arguments: [
      volume("volume", "Wort, measured cold (20 °C)."),
      gravity("gravity", "Its gravity."),
      gravity("wanted", "Gravity wanted."),
      temperature("water_temp", "Temperature at which the water is measured.", { default: "20 °C" }),
    ],
    result: { unit: "L" },
    source: MASS_BALANCE,
    range:
      "Exact for wort; bitterness and colour are let down alike. Use boiled or treated, deaerated water after the boil.",
    published: [{ argument: "gravity", high: 30 }],
    arithmetic: taking<Numbers<"volume" | "gravity" | "wanted" | "water_temp">>((given) => {
      if (given.wanted > given.gravity)
        return noValue("The wort is already weaker than wanted: boil it down, see boil_longer.");
      if (given.wanted <= 0)
        return noValue("No water brings wort down to water itself: type a wanted gravity above 0 °P.");
      const mass = given.volume * sucroseDensity(given.gravity, REFERENCE);
      return (mass * (given.gravity / given.wanted - 1)) / waterDensity(given.water_temp);
    }),
  },
  {
    name: "refractometer_gravity",
    stage: "gravity",
    says: "Gravity of unfermented wort from a refractometer reading.",
    searchWords: ["Brix", "refractometer", "wort correction"],
    since: 1,
    arguments: [
      argument("reading", "°Bx", "What the refractometer shows.", { low: 0, high: 40 }),
      argument(
        "wort_correction",
        "1",
        "What to divide by for wort, a figure of the instrument: 1.02 to 1.06 (common practice); 1 for sugar solution.",
        { default: "1.04", low: 0.9, high: 1.2 },
      ),
      argument(
        "sample_temp",
        "°C",
        "Temperature of the prism; leave it at 20 °C for an instrument that corrects by itself.",
        { default: "20 °C", low: 5, high: 40 },
      ),
      {
        name: "pitched",
        says: "Whether yeast is in: alcohol bends light, and the reading then means something else.",
        takes: { truth: true },
        default: "no",
      },
    ],
    result: { unit: "°P" },
    source: `${OIV}, as a fitted curve; wort correction: common practice, no source`,
    range:
      "Temperature correction within 0.02 °Bx from 5 to 20 °C, carried on to 30 °C with some 0.04 °Bx. Fit the wort correction to a hydrometer once. Never after pitching.",
    published: [
      { argument: "sample_temp", high: 30 },
      { argument: "wort_correction", low: 1, high: 1.06 },
    ],
    arithmetic: taking<Numbers<"reading" | "wort_correction" | "sample_temp" | "pitched">>((given) =>
      given.pitched
        ? noValue(
            "After pitching a refractometer does not read gravity: alcohol bends light too. Use a hydrometer in degassed beer.",
          )
        : (given.reading + refractometerCorrection(given.reading, given.sample_temp)) / given.wort_correction,
    ),
  },
];
