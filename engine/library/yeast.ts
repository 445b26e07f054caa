import { equalTexts } from "../operations/comparison.ts";
import { argument, choice, type Numbers, taking } from "./arguments.ts";
import { OXYGEN } from "./cautions.ts";
import { type LibraryFunction, noValue } from "./declaration.ts";
import { STANDARD_ATMOSPHERE } from "./physics/atmosphere.ts";
import { OXYGEN_OVER_AIR, oxygenDensity, oxygenUnderAir } from "./physics/gases.ts";
import { type Air, airPressure, altitude, barometer } from "./surroundings.ts";

const COMMON = "common practice, no source";

/** Oxygen flow meters are read as gas at 20 °C and 1 atm. */
const FLOW_METER_TEMPERATURE = 20;

const wort = argument("wort", "L", "Wort in the fermenter, at pitching temperature.", { low: 0 });
const gravity = argument("gravity", "°P", "Gravity of that wort before pitching.", { low: 0.5, high: 40 });

/** Yeast and oxygen: from the count to the pitch. */
export const YEAST: readonly LibraryFunction[] = [
  {
    name: "yeast_to_pitch",
    stage: "fermentation",
    says: "Living yeast cells to pitch, from the wort's volume and gravity.",
    searchWords: ["pitch rate", "pitching", "cells", "inoculum"],
    since: 1,
    arguments: [
      wort,
      gravity,
      argument("rate", "cells/mL/°P", "Living cells for each mL and °P: 0.75e6 to 1e6 for ale, 1.5e6 for lager.", {
        default: "1e6 cells/mL/°P",
        low: 0,
      }),
    ],
    result: { unit: "cells" },
    source: COMMON,
    range:
      "A rule of thumb; texts say 0.75, 1.0 or 1.1 million for ale, 1.5 million for lager. Strong wort and repitched yeast may want more.",
    published: [{ argument: "rate", low: 0.35e6, high: 2.5e6 }],
    arithmetic: taking<Numbers<"wort" | "gravity" | "rate">>(({ wort, gravity, rate }) => wort * gravity * rate),
  },
  {
    name: "pitching_rate",
    stage: "fermentation",
    says: "Pitching rate that so many living cells gave.",
    searchWords: ["pitch rate", "cells per mL per degree Plato"],
    since: 1,
    arguments: [argument("cells", "cells", "Living cells pitched.", { low: 0 }), wort, gravity],
    result: { unit: "Mcells/mL/°P" },
    source: "mass balance",
    range: "As good as the count.",
    arithmetic: taking<Numbers<"cells" | "wort" | "gravity">>(({ cells, wort, gravity }) =>
      wort === 0 ? noValue("There is no wort to divide the cells by: wort is 0.") : cells / (wort * gravity),
    ),
  },
  {
    name: "slurry_to_pitch",
    stage: "fermentation",
    says: "Volume of yeast slurry that holds so many living cells.",
    searchWords: ["barm", "repitch", "crop", "yeast slurry"],
    since: 1,
    arguments: [
      argument("cells", "cells", "Living cells to pitch.", { low: 0 }),
      argument("count", "cells/mL", "Cells in each mL of the slurry, all of them, stirred well before counting.", {
        low: 0,
      }),
      argument("viability", "%", "Share of them that is alive.", { low: 0, high: 100 }),
    ],
    result: { unit: "L" },
    source: "mass balance; 80 % viability and more by common practice",
    range: "As good as the count, some 10 %: see count_error.",
    published: [{ argument: "viability", low: 80 }],
    arithmetic: taking<Numbers<"cells" | "count" | "viability">>(({ cells, count, viability }) =>
      count * viability === 0
        ? noValue("This slurry holds no living cells: count or viability is 0.")
        : cells / (count * viability),
    ),
  },
  {
    name: "dry_yeast_to_pitch",
    stage: "fermentation",
    says: "Mass of dried yeast that holds so many living cells.",
    searchWords: ["dried yeast", "sachet", "active dry yeast"],
    since: 1,
    arguments: [
      argument("cells", "cells", "Living cells to pitch.", { low: 0 }),
      argument("living", "cells/g", "Living cells in each gram, by the maker's sheet.", {
        default: "1e10 cells/g",
        low: 1,
      }),
    ],
    result: { unit: "g" },
    source: COMMON,
    range: "Makers guarantee 5e9 to 2e10 living cells in a gram and often advise by mass instead.",
    published: [{ argument: "living", low: 4e9, high: 3e10 }],
    arithmetic: taking<Numbers<"cells" | "living">>(({ cells, living }) => cells / living),
  },
  {
    name: "yeast_count",
    stage: "fermentation",
    says: "Cells in each mL of the undiluted sample, from a count in a counting chamber.",
    searchWords: ["haemocytometer", "hemocytometer", "counting chamber", "cell count"],
    since: 1,
    arguments: [
      argument("counted", "1", "Cells counted in all squares together.", { low: 0 }),
      argument("squares", "1", "Squares counted.", { low: 1 }),
      argument(
        "square_area",
        "mm²",
        "Area of one such square: 0.04 mm² for a medium one of the centre, 1 mm² for a large one.",
        {
          default: "0.04 mm²",
          low: 1e-6,
        },
      ),
      argument("depth", "mm", "Depth of the chamber.", { default: "0.1 mm", low: 1e-4 }),
      argument("dilution", "1", "Volume after dilution over volume before: 100 for 1 in 100.", {
        default: "1",
        low: 1,
      }),
    ],
    result: { unit: "cells/mL" },
    source: "geometry of the chamber (improved Neubauer: 0.1 mm deep, squares of 1 mm²); 200 cells by common practice",
    range: "The count alone scatters by 1/√(cells counted): count 200 or more.",
    published: [{ argument: "counted", low: 200 }],
    arithmetic: taking<Numbers<"counted" | "squares" | "square_area" | "depth" | "dilution">>(
      ({ counted, squares, square_area, depth, dilution }) => (counted * dilution) / (squares * square_area * depth),
    ),
  },
  {
    name: "count_error",
    stage: "fermentation",
    says: "Relative standard deviation that a count of cells has by chance alone.",
    searchWords: ["counting error", "Poisson", "haemocytometer"],
    since: 1,
    arguments: [argument("counted", "1", "Cells counted.", { low: 1 })],
    result: { unit: "%" },
    source: "Poisson statistics",
    range: "A lower limit: sampling, dilution and clumps come on top.",
    arithmetic: taking<Numbers<"counted">>(({ counted }) => 1 / Math.sqrt(counted)),
  },
  {
    name: "viability",
    stage: "fermentation",
    says: "Share of the cells that is alive, by staining.",
    searchWords: ["methylene blue", "methylene violet", "vital stain", "dead cells"],
    since: 1,
    arguments: [
      argument("unstained", "1", "Living cells: those that stayed without stain.", { low: 0 }),
      argument("counted", "1", "All cells counted, stained ones too.", { low: 1 }),
    ],
    result: { unit: "%" },
    source: COMMON,
    range: "Methylene blue misreports below about 80 to 90 % viability.",
    published: [{ argument: "counted", low: 200 }],
    arithmetic: taking<Numbers<"unstained" | "counted">>(({ unstained, counted }) =>
      unstained > counted
        ? noValue("More cells are unstained than were counted in all. Give all cells, stained ones too, as counted.")
        : unstained / counted,
    ),
  },
  {
    name: "oxygen_saturation",
    stage: "fermentation",
    says: "Dissolved oxygen that water holds when saturated with air, or with pure oxygen.",
    searchWords: ["dissolved oxygen", "DO", "aeration", "air stone"],
    since: 1,
    arguments: [
      argument("temp", "°C", "Temperature of the wort.", { low: 0, high: 40 }),
      altitude,
      barometer,
      choice("gas", ["air", "oxygen"], "What is bubbled through.", { default: '"air"' }),
      argument(
        "share_of_water",
        "%",
        "What this wort holds of what water would: 80 to 90 % at 12 °P (common practice, uncertain).",
        {
          default: "100 %",
          low: 0,
          high: 100,
        },
      ),
    ],
    result: { unit: "mg/L" },
    source:
      "Benson, Krause, Limnol. Oceanogr. 29 (1984) 620, as in Standard Methods for the Examination of Water and Wastewater (APHA, 1985)",
    range:
      "Pure water, 0 to 40 °C, within 0.1 mg/L. Wort holds less: some 10 to 20 % at 12 °P. Pure oxygen gives 4.8 times what air gives.",
    caution: OXYGEN,
    arithmetic: taking<Numbers<"temp" | "share_of_water"> & Air & { readonly gas: string }>(
      ({ temp, gas, share_of_water, ...air }) =>
        oxygenUnderAir(temp, airPressure(air)) * (equalTexts(gas, "oxygen") ? OXYGEN_OVER_AIR : 1) * share_of_water,
    ),
  },
  {
    name: "oxygen_run_time",
    stage: "fermentation",
    says: "How long to run oxygen into wort to bring it to a wanted level.",
    searchWords: ["oxygen dosing", "oxygenation", "in-line oxygen", "flow meter"],
    since: 1,
    arguments: [
      wort,
      argument(
        "target",
        "mg/L",
        "Dissolved oxygen wanted: 8 to 12 mg/L for ale, 10 to 15 for lager (instrument makers' advice).",
        { low: 0 },
      ),
      argument("flow", "L/min", "Oxygen flow, read as gas at 20 °C and 1 atm.", { low: 1e-6 }),
      argument("taken_up", "%", "Share of the gas that dissolves: depends on stone, depth and flow; measure it once.", {
        default: "30 %",
        low: 1,
        high: 100,
      }),
      argument("start", "mg/L", "Dissolved oxygen already there.", { default: "0 mg/L", low: 0 }),
    ],
    result: { unit: "min" },
    source: COMMON,
    range: "As good as the share that dissolves, which is the plant's: 15 to 90 %.",
    published: [{ argument: "target", low: 5, high: 20 }],
    caution: OXYGEN,
    arithmetic: taking<Numbers<"wort" | "target" | "flow" | "taken_up" | "start">>(
      ({ wort, target, flow, taken_up, start }) =>
        (wort * Math.max(0, target - start)) /
        (flow * oxygenDensity(STANDARD_ATMOSPHERE, FLOW_METER_TEMPERATURE) * taken_up),
    ),
  },
  {
    name: "dose",
    stage: "fermentation",
    says: "Mass of a product to add so that a volume holds a wanted concentration of what counts in it.",
    searchWords: ["nutrient", "zinc", "addition", "antifoam", "finings", "dosing"],
    since: 1,
    arguments: [
      argument("target", "mg/L", "Concentration to add.", { low: 0 }),
      argument("volume", "L", "Volume to treat, at its own temperature.", { low: 0 }),
      argument(
        "share",
        "%",
        "What counts, as share of the product by mass: 22.7 % zinc in zinc sulphate heptahydrate.",
        {
          default: "100 %",
          low: 1e-4,
          high: 100,
        },
      ),
    ],
    result: { unit: "g" },
    source: "mass balance",
    range: "Exact; stay within the maker's advice and food law.",
    arithmetic: taking<Numbers<"target" | "volume" | "share">>(
      ({ target, volume, share }) => (target * volume) / share,
    ),
  },
];
