import { COLUMN_FUNCTIONS } from "./columns.ts";
import { FIGURE_FUNCTIONS } from "./figures.ts";
import { LOOKUPS } from "./lookup.ts";
import type { GeneralFunction } from "./operand.ts";
import { SUMMARIES } from "./summaries.ts";

/** Every general function, in the order in which the reference lists them. */
export const GENERAL_FUNCTIONS: readonly GeneralFunction[] = [
  ...SUMMARIES,
  ...FIGURE_FUNCTIONS,
  ...COLUMN_FUNCTIONS,
  ...LOOKUPS,
];
