import { argument, type Numbers, taking } from "./arguments.ts";
import { BOIL_OVER } from "./cautions.ts";
import { type Argument, type LibraryFunction, noValue } from "./declaration.ts";
import { pressureAtAltitude } from "./physics/atmosphere.ts";
import { boilingTemperature } from "./physics/saturation.ts";
import { extractFromConcentration, sucroseDensity } from "./physics/sucrose.ts";
import { volumeAt } from "./physics/water.ts";

const KELL = "G. S. Kell, J. Chem. Eng. Data 20 (1975) 97, equation 16";
const MASS_BALANCE = "Mass balance of extract; wort density by K. Rosenbruch's equation for sucrose (ICUMSA SPS-4)";
const ATMOSPHERE = "U.S. Standard Atmosphere, 1976 (NOAA, NASA, USAF), constants from memory";

/** Volumes of one wort are compared at one temperature; which one does not matter, for all shrink alike. */
const REFERENCE = 20;

/** Extract in a cubic metre of wort at 20 °C, kg. */
const concentration = (gravity: number): number => gravity * sucroseDensity(gravity, REFERENCE);

const volume = (name: string, says: string): Argument => argument(name, "L", says, { low: 0 });
const wort = (name: string, says: string, more: Partial<Argument> = {}): Argument =>
  argument(name, "°P", says, { low: 0, high: 60, ...more });
const temperature = (name: string, says: string, more: Partial<Argument> = {}): Argument =>
  argument(name, "°C", says, { low: 0, high: 110, ...more });
const altitude = argument("altitude", "m", "Height of the brewery above the sea.", {
  default: "0 m",
  low: -500,
  high: 6000,
});
const seaLevel = (says: string): Argument =>
  argument("pressure", "kPaa", says, { default: "101.325 kPaa", low: 5, high: 2000 });

export const BOIL: readonly LibraryFunction[] = [
  {
    name: "cold_volume",
    stage: "boil",
    says: "What hot wort or water fills when it is cold.",
    searchWords: ["shrinkage", "contraction", "knock-out", "cast-out", "hot volume"],
    since: 1,
    arguments: [
      volume("volume", "Wort or water, measured hot at `temp`."),
      temperature("temp", "Temperature at which it was measured."),
      temperature("cold_at", "The cold temperature.", { default: "20 °C" }),
    ],
    result: { unit: "L" },
    source: KELL,
    range:
      "Water from 0 to 110 °C; worts of 10 to 20 °P shrink alike, within 0.1 %. The kettle's own expansion, about 0.4 %, is left out.",
    published: [{ argument: "temp", high: 100 }],
    arithmetic: taking<Numbers<"volume" | "temp" | "cold_at">>((given) =>
      volumeAt(given.volume, given.temp, given.cold_at),
    ),
  },
  {
    name: "hot_volume",
    stage: "boil",
    says: "What cold wort or water fills when it is hot.",
    searchWords: ["expansion", "kettle volume", "dip stick"],
    since: 1,
    arguments: [
      volume("volume", "Wort or water, measured cold at `cold_at`."),
      temperature("temp", "The hot temperature."),
      temperature("cold_at", "Temperature at which it was measured.", { default: "20 °C" }),
    ],
    result: { unit: "L" },
    source: KELL,
    range:
      "Water from 0 to 110 °C; worts of 10 to 20 °P expand alike, within 0.1 %. The kettle's own expansion, about 0.4 %, is left out.",
    published: [{ argument: "temp", high: 100 }],
    arithmetic: taking<Numbers<"volume" | "temp" | "cold_at">>((given) =>
      volumeAt(given.volume, given.cold_at, given.temp),
    ),
  },
  {
    name: "gravity_after_boil",
    stage: "boil",
    says: "Gravity of the wort when it has boiled down to a volume.",
    searchWords: ["concentration", "post-boil gravity", "original gravity", "evaporation"],
    since: 1,
    arguments: [
      volume("volume", "Wort before the boil."),
      wort("gravity", "Its gravity, corrected to 20 °C."),
      volume("volume_after", "Wort after the boil, measured at the same temperature as `volume`."),
    ],
    result: { unit: "°P" },
    source: MASS_BALANCE,
    range: "Exact while no sugar is added and no wort is lost; both volumes at one temperature.",
    published: [{ argument: "gravity", high: 30 }],
    arithmetic: taking<Numbers<"volume" | "gravity" | "volume_after">>((given) => {
      if (given.volume_after === 0) return noValue("No wort is left: the volume after the boil is zero.");
      const gravity = extractFromConcentration(
        (concentration(given.gravity) * given.volume) / given.volume_after,
        REFERENCE,
      );
      return Number.isNaN(gravity)
        ? noValue("Boiled down so far the wort would be thicker than syrup: look at the two volumes.")
        : gravity;
    }),
  },
  {
    name: "volume_after_boil",
    stage: "boil",
    says: "Wort left in the kettle after boiling for a time.",
    searchWords: ["evaporation", "boil-off", "kettle", "copper"],
    since: 1,
    arguments: [
      volume("volume", "Wort at the start of the boil; the answer is at the same temperature."),
      argument("time", "min", "How long it boils.", { low: 0 }),
      argument(
        "evaporation",
        "L/h",
        "What boils away, as volume at the temperature of `volume`: a figure of the plant.",
        { default: "0 L/h", low: 0 },
      ),
      argument(
        "evaporation_share",
        "%/h",
        "What boils away, as a share of the starting volume: a figure of the plant. Give this or `evaporation`; given both, both count.",
        { default: "0 %/h", low: 0, high: 100 },
      ),
    ],
    result: { unit: "L" },
    source: "Mass balance",
    range: "As good as the rate typed; 4 to 12 % of the starting volume an hour is usual (common practice).",
    published: [{ argument: "evaporation_share", high: 12 }],
    caution: BOIL_OVER,
    arithmetic: taking<Numbers<"volume" | "time" | "evaporation" | "evaporation_share">>((given) => {
      const left = given.volume - given.time * (given.evaporation + given.evaporation_share * given.volume);
      return left < 0 ? noValue("The kettle boils dry before that: look at the time and the evaporation.") : left;
    }),
  },
  {
    name: "boil_longer",
    stage: "boil",
    says: "How much longer to boil for the wort to reach a wanted gravity.",
    searchWords: ["extend boil", "missed gravity", "evaporation"],
    since: 1,
    arguments: [
      volume("volume", "Wort in the kettle now."),
      wort("gravity", "Its gravity now, corrected to 20 °C."),
      wort("wanted", "Gravity wanted."),
      argument(
        "evaporation",
        "L/h",
        "What boils away, as volume at the temperature of `volume`: a figure of the plant.",
        { low: 0 },
      ),
    ],
    result: { unit: "min" },
    source: MASS_BALANCE,
    range: "As good as the rate typed; hops that boil longer turn bitterer and the wort darker.",
    published: [{ argument: "wanted", high: 30 }],
    caution: BOIL_OVER,
    arithmetic: taking<Numbers<"volume" | "gravity" | "wanted" | "evaporation">>((given) => {
      if (given.wanted < given.gravity)
        return noValue("The wort is already stronger than wanted: dilute it, see liquor_back.");
      if (given.gravity === 0) return noValue("Wort of no extract never grows stronger: type its gravity.");
      if (given.evaporation === 0)
        return noValue("Nothing boils away at this evaporation: type the rate of the kettle.");
      return (given.volume * (1 - concentration(given.gravity) / concentration(given.wanted))) / given.evaporation;
    }),
  },
  {
    name: "boiling_point",
    stage: "boil",
    says: "Temperature at which water boils, at an altitude or under a pressure.",
    searchWords: ["altitude", "boil temperature", "elevation", "steam temperature"],
    since: 1,
    arguments: [
      altitude,
      seaLevel(
        "Absolute pressure at sea level, as weather reports give it. For a pressure measured on the spot, or in a closed vessel, leave the altitude at 0 m; a gauge reads from the air: write 1 atma + 15 psi.",
      ),
      argument("wort_rise", "Δ°C", "How far above water the wort boils: 0.2 to 0.5 Δ°C (uncertain).", {
        default: "0 Δ°C",
        low: 0,
        high: 3,
      }),
    ],
    result: { unit: "°C" },
    source: `IAPWS R7-97(2012), Industrial Formulation 1997, equation 31; ${ATMOSPHERE}`,
    range:
      "0.1 °C for the pressure; weather moves it by 0.8 °C. At one atmosphere water boils at 99.97 °C on the scale of 1990.",
    published: [{ argument: "altitude", high: 3000 }],
    arithmetic: taking<Numbers<"altitude" | "pressure" | "wort_rise">>(
      (given) => boilingTemperature(pressureAtAltitude(given.altitude, given.pressure)) + given.wort_rise,
    ),
  },
  {
    name: "air_pressure",
    stage: "boil",
    says: "Absolute pressure of the air at an altitude.",
    searchWords: ["altitude", "barometer", "ambient pressure", "atmosphere"],
    since: 1,
    arguments: [altitude, seaLevel("Absolute pressure at sea level, as weather reports give it.")],
    result: { unit: "kPaa" },
    source: ATMOSPHERE,
    range: "Within 0.02 kPa of the standard atmosphere to 3000 m; weather moves it by 3 %.",
    published: [{ argument: "altitude", high: 3000 }],
    arithmetic: taking<Numbers<"altitude" | "pressure">>((given) => pressureAtAltitude(given.altitude, given.pressure)),
  },
];
