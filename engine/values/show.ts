import { visible } from "../base/deceptive.ts";
import { PLAIN, printUnit } from "../units/compound.ts";
import { formatFigure, type Step } from "../units/format.ts";
import { formatInstant } from "../units/instant.ts";
import type { ShownUnit } from "../units/unit.ts";
import { createZone, type Zone } from "../units/zone.ts";
import { isInstant, type Kind } from "./kind.ts";

/** A value as it is shown: the figure and its unit apart, and together. */
export interface Shown {
  readonly figure: string;
  readonly unitText: string;
  readonly text: string;
}

const NOTHING: Shown = { figure: "", unitText: "", text: "" };

const put = (figure: string, unitText: string): Shown => ({
  figure,
  unitText,
  text: unitText === "" ? figure : `${figure} ${unitText}`,
});

const DAY = 86_400;

/** Whether an instant is midnight on the clock it is shown by. */
export const isMidnight = (seconds: number, kind: Kind, zone: Zone | null): boolean =>
  (kind.is === "reading" && kind.family === "zoned instant" && zone !== null ? zone.toWall(seconds) : seconds) % DAY ===
  0;

/** ISO 8601 text on the brewery's wall clock where there is one, else UTC for what has a zone; midnight is the date alone, but with `clock`. */
export function isoInstant(seconds: number, kind: Kind, zone: Zone | null, clock = false): string {
  const zoned = kind.is === "reading" && kind.family === "zoned instant";
  const wall = zoned && zone !== null ? zone.toWall(seconds) : seconds;
  if (zoned && zone === null) return formatInstant(seconds, createZone("UTC"));
  return formatInstant(wall, null, !clock && wall % DAY === 0);
}

/** Shows one coherent value; a missing one is empty. `zone` is the wall clock of zoned instants; with `clock` midnight keeps its time of day. A moment reads `2026-03-02 08:15`. */
export function showValue(
  value: number | string | null,
  kind: Kind,
  unit: ShownUnit | null,
  step: Step | null,
  zone: Zone | null,
  clock = false,
): Shown {
  if (value === null || Number.isNaN(value)) return NOTHING;
  if (typeof value === "string") return put(visible(value), "");
  if (kind.is === "truth") return put(value === 0 ? "no" : "yes", "");
  if (isInstant(kind)) return put(isoInstant(value, kind, zone, clock).replace("T", " "), "");
  const shownIn = unit ?? PLAIN;
  return put(formatFigure(value, shownIn, step), printUnit(shownIn));
}
