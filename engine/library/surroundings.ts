import { argument, type Numbers } from "./arguments.ts";
import { pressureAtAltitude } from "./physics/atmosphere.ts";
import { saturationPressure } from "./physics/saturation.ts";

/** The air about the brewery: arguments that turn a gauge pressure to an absolute one. */
export const altitude = argument("altitude", "m", "Height of the brewery above sea level.", {
  default: "0 m",
  low: -500,
  high: 6000,
});
export const barometer = argument(
  "barometer",
  "mbara",
  "Barometer reduced to sea level, as weather reports give it; for a barometer read on the spot leave altitude at 0.",
  { default: "1 atma", low: 500, high: 1100 },
);

export type Air = Numbers<"altitude" | "barometer">;

/** Pressure of the air at the brewery, Pa absolute. */
export const airPressure = ({ altitude, barometer }: Air): number => pressureAtAltitude(altitude, barometer);

/** Vapour pressure of water, Pa; below freezing that of 0 °C, a difference too small to matter over beer. */
export const vapourPressure = (celsius: number): number => saturationPressure(Math.max(celsius, 0));

/** What ordinary bottles, cans and kegs are carbonated to at the most, volumes: above it a container built for more is needed. */
export const ORDINARY_PACKAGES_TO = 4.5;

/** How carbonation is counted, said wherever it matters. */
export const CONVENTION =
  "One volume is 1.9635 g/L (ideal gas, 0 °C, 1 atm); by the real gas it would be 1.977, 0.7 % more.";
