import { ACCOUNT } from "./account.ts";
import { BOIL } from "./boil.ts";
import { CARBONATION } from "./carbonation.ts";
import { CLEANING } from "./cleaning.ts";
import { COLOUR } from "./colour.ts";
import type { LibraryFunction } from "./declaration.ts";
import { FERMENTATION } from "./fermentation.ts";
import { GRAVITY } from "./gravity.ts";
import { HEAT } from "./heat.ts";
import { HOPS } from "./hops.ts";
import { MALT } from "./malt.ts";
import { MASH } from "./mash.ts";
import { PACKAGING } from "./packaging.ts";
import { WATER } from "./water.ts";

/** Raised when a function comes or its figures change; a file says which library gave its figures. */
export const LIBRARY_VERSION = 1;

/** Every brewing function, in the order of the work. */
export const LIBRARY_FUNCTIONS: readonly LibraryFunction[] = [
  ...WATER,
  ...MASH,
  ...MALT,
  ...BOIL,
  ...HOPS,
  ...COLOUR,
  ...GRAVITY,
  ...FERMENTATION,
  ...CARBONATION,
  ...PACKAGING,
  ...HEAT,
  ...CLEANING,
  ...ACCOUNT,
];
