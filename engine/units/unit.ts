import type { Rational } from "../base/rational.ts";
import type { Dimension } from "./dimension.ts";

/**
 * The families of readings. A reading has an origin or a curve, so its arithmetic is restricted.
 * Coherent values: temperature in °C; gravity as mass share of extract (12.1 °P is 0.121); absolute pressure in Pa;
 * instant in seconds from 1970-01-01T00:00 (wall clock, or UTC when zoned); pH as it is.
 */
export type ScaleFamily = "temperature" | "gravity" | "absolute pressure" | "instant" | "zoned instant" | "pH";

interface Named {
  /** The one spelling that is written back: `US gal`. */
  readonly symbol: string;
  /** Other spellings that are understood and tidied to the symbol, plural and spelled-out words included. */
  readonly names: readonly string[];
  /** The published source of the factor or curve. */
  readonly source: string;
  /** How many decimals a result in this unit shows at the least when no step is given. */
  readonly decimals: number;
  /** The library version that brought the unit: a name used by an older file is never captured by it. */
  readonly since: number;
}

/** A linear unit: coherent value = value × factor, in kg, m, s, K, mol, Eq and the trade's own base units. */
export interface LinearUnit extends Named {
  readonly is: "linear";
  readonly dimension: Dimension;
  readonly factor: number;
}

/** A straight scale: coherent value = (figure − origin) × size ÷ per. */
export interface ReadingLine {
  readonly origin: number;
  readonly size: number;
  readonly per: number;
}

/** A unit whose figures have an origin or a curve. `reads` a scale family, or, converted on use, a linear dimension (°L reads colour). */
export interface ScaleUnit extends Named {
  readonly is: "scale";
  readonly reads: ScaleFamily | Dimension;
  /** Coherent value of a figure on this scale, and back; exact inverses to 1e-9. */
  readonly toCoherent: (figure: number) => number;
  readonly fromCoherent: (value: number) => number;
  /** The same as a line, so that columns convert in a plain loop; null for a curve. */
  readonly line: ReadingLine | null;
  /** What the symbol means inside a compound (`kJ/kg/°C`), and what a difference of two readings is shown in; null: none (SG). */
  readonly difference: LinearUnit | null;
  /** For help and `units --json`: `°F = 9/5 °C + 32`. */
  readonly says: string;
}

export type Unit = LinearUnit | ScaleUnit;

/** One factor of a compound: `kg^-1`. */
export interface UnitTerm {
  readonly unit: LinearUnit;
  readonly power: Rational;
}

/** A product of linear units, in writing order: `g/hL`, `US gal`; no term at all is a plain number. */
export interface CompoundUnit {
  readonly is: "compound";
  readonly terms: readonly UnitTerm[];
  readonly dimension: Dimension;
  /** Coherent value = value × factor. */
  readonly factor: number;
  /** How it is written: `L/kg`. Empty for a plain number. */
  readonly text: string;
}

/** What a figure is written or shown in: a product of linear units, or one scale. */
export type ShownUnit = CompoundUnit | ScaleUnit;
