import type { Marks } from "./figures.ts";
import { readFigure } from "./figures.ts";
import type { Role } from "./headers.ts";
import { FAILED_READINGS } from "./trouble.ts";

/** Two figures of a column, one row after the other, that do not belong to one unit or to one batch. */
export interface Jump {
  readonly is: "unit" | "batch";
  readonly line: number;
  readonly from: number;
  readonly to: number;
  /** The unit that the later figures look like; null for a batch. */
  readonly unit: string | null;
  /** The later row as it stands. */
  readonly entries: readonly string[];
}

/** A temperature read in °F beside the same one in °C agrees this well; a tank does not move further between two readings. */
const SAME_TEMPERATURE = 2;
/** °C and °F differ by at least this much in any cellar. */
const UNITS_APART = 15;
/** Wort is never above this specific gravity, and a figure above it is °P or GU. */
const HIGHEST_SG = 1.2;
const LOWEST_SG = 0.97;
/** A rise by this share of all that the column spans is a new filling, where the figure before stood low. */
const NEW_FILLING = 0.5;
const JUMPS_KEPT = 4;
/** The reading after a reading differs from it by no more than this share. */
const NEAR = 0.1;
/** A batch that has been followed for fewer readings than this cannot be told from a slip. */
const FEWEST_READINGS = 8;

/** Watches one column of temperatures or gravities, row by row, for a change of unit and for a second batch. */
export class JumpWatch {
  readonly #role: Role;
  readonly #units: Jump[] = [];
  readonly #rises: Jump[] = [];
  #last = Number.NaN;
  #readings = 0;
  /** A figure that a failed probe reports, until the next one tells whether it was a reading after all. */
  #doubted: { value: number; line: number; entries: readonly string[] } | null = null;

  constructor(role: Role) {
    this.#role = role;
  }

  note(entry: string, line: number, entries: readonly string[], marks: Marks): void {
    const value = readFigure(entry, marks);
    if (Number.isNaN(value)) return;
    const doubted = this.#doubted;
    if (FAILED_READINGS.has(value)) {
      if (doubted?.value !== value) this.#doubted = { value, line, entries: [...entries] };
      return;
    }
    this.#doubted = null;
    // 85 gravity units may be a new filling: the reading after it is near to it then.
    if (doubted !== null && Math.abs(value - doubted.value) <= Math.abs(doubted.value) * NEAR)
      this.#take(doubted.value, doubted.line, doubted.entries);
    this.#take(value, line, entries);
  }

  #take(value: number, line: number, entries: readonly string[]): void {
    const last = this.#last;
    this.#readings += 1;
    this.#last = value;
    if (Number.isNaN(last)) return;
    const unit = this.#role === "gravity" ? gravityUnit(last, value) : temperatureUnit(last, value);
    if (unit !== null) {
      if (this.#units.length < JUMPS_KEPT)
        this.#units.push({ is: "unit", line, from: last, to: value, unit, entries: [...entries] });
    } else if (this.#role === "gravity" && value > last && this.#readings > FEWEST_READINGS) {
      const smallest = this.#rises.at(-1);
      if (this.#rises.length < JUMPS_KEPT || (smallest !== undefined && value - last > smallest.to - smallest.from)) {
        this.#rises.push({ is: "batch", line, from: last, to: value, unit: null, entries: [...entries] });
        this.#rises.sort((a, b) => b.to - b.from - (a.to - a.from));
        this.#rises.length = Math.min(this.#rises.length, JUMPS_KEPT);
      }
    }
  }

  /** The unit may change here without a word: a header says so. */
  begin(): void {
    this.#last = Number.NaN;
    this.#doubted = null;
  }

  /** The jumps found, in the order of their lines; `low` and `high` span the column. */
  jumps(low: number, high: number): Jump[] {
    const span = high - low;
    const rises =
      this.#units.length > 0
        ? []
        : this.#rises.filter(({ from, to }) => to - from >= NEW_FILLING * span && from - low <= span / 4);
    return [...this.#units, ...rises].sort((a, b) => a.line - b.line);
  }
}

function temperatureUnit(from: number, to: number): string | null {
  if (Math.abs(to - from) < UNITS_APART) return null;
  if (Math.abs(to - (from * 1.8 + 32)) <= SAME_TEMPERATURE * 1.8) return "°F";
  if (Math.abs(to - (from - 32) / 1.8) <= SAME_TEMPERATURE) return "°C";
  return null;
}

function gravityUnit(from: number, to: number): string | null {
  const isSg = (figure: number): boolean => figure >= LOWEST_SG && figure <= HIGHEST_SG;
  if (isSg(from) === isSg(to)) return null;
  // The same wort in the other unit: °P is about a quarter of the gravity units.
  const [sg, other] = isSg(from) ? [from, to] : [to, from];
  const points = (sg - 1) * 1000;
  if (Math.abs(other - points / 4) <= Math.max(1, points / 16)) return isSg(from) ? "°P" : "SG";
  if (Math.abs(other - points) <= Math.max(2, points / 8)) return isSg(from) ? "GU" : "SG";
  return null;
}
