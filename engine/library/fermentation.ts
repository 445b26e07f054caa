import { ATTENUATION } from "./attenuation.ts";
import type { LibraryFunction } from "./declaration.ts";
import { TREND } from "./trend.ts";
import { YEAST } from "./yeast.ts";

/** From pitching to the end of fermentation. */
export const FERMENTATION: readonly LibraryFunction[] = [...YEAST, ...ATTENUATION, ...TREND];
