import { CHROMIUM_VARIABLE, findChromium } from "./chromium.ts";

/** Finds the browser once for the whole run, and only when a test needs one; workers inherit the variable. */
export const setup = async (): Promise<void> => {
  process.env[CHROMIUM_VARIABLE] = await findChromium();
};
