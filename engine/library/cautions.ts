import type { LibraryFunction } from "./declaration.ts";

type Caution = NonNullable<LibraryFunction["caution"]>;

const safety = (says: string): Caution => ({ is: "safety", says });
const estimate = (says: string): Caution => ({ is: "estimate", says });

export const CARBON_DIOXIDE = safety(
  "Carbon dioxide suffocates without warning and gathers in cellars, pits, tanks and over open fermenters: ventilate, measure before anyone enters, never enter a vessel alone.",
);

export const PRESSURE = safety(
  "Never go above the rating of the weakest part: vessel, keg, hose or fitting. Every pressure vessel needs a working relief valve, every gas supply a regulator; carbon dioxide suffocates, so ventilate.",
);

export const BURSTING_PACKAGES = safety(
  "Bottles and cans burst above their rating, above all when beer still had extract to ferment or was warmed: fill only beer that has finished, stay within the maker's limit, wear eye protection.",
);

export const OXYGEN = safety(
  "Pure oxygen makes everything burn fiercely: no oil or grease on fittings, no flame, open the valve slowly. Too much harms the yeast.",
);

export const ACID_AND_CAUSTIC = safety(
  "Acid and caustic burn skin and blind eyes: wear goggles and gloves, pour the concentrate into water and never water into it. Never let acid meet hypochlorite: it gives off chlorine. Follow the maker's sheet.",
);

export const HOT_PACKAGES = safety(
  "Packages under pressure burst when heated and hot water scalds: stay within the package maker's limits and keep the covers closed.",
);

export const ALCOHOL_FROM_DENSITIES = estimate(
  "An estimate from densities. Figures for a label or a duty return need the method that your authority approves; defer to local code and licensed practice.",
);

export const NOT_A_DUTY_RULING = estimate(
  "An estimate, not a fiscal approval: rates, bands and rounding are the authority's. Defer to local code and licensed practice.",
);

export const NOT_A_FILL_APPROVAL = estimate(
  "An estimate for your own line, not a metrological approval: the reference test is the authority's. Defer to local code and licensed practice.",
);

export const NOT_A_LABEL_ANALYSIS = estimate(
  "An estimate: nutrition figures on a label need an analysis or the method of your authority. Defer to local code and licensed practice.",
);

export const SCALDS = safety(
  "Hot liquor, mash, wort and steam scald: close valves before uncoupling a hose, and keep clear of a vessel that fills.",
);

export const BOIL_OVER = safety(
  "Boiling wort and steam burn, and a kettle boils over as it comes up: stand clear, leave the vent open and never heat a closed vessel that has no relief valve.",
);
