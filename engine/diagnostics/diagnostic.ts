import type { Span } from "../base/span.ts";

/** A mend that can be applied as it stands: replacements in the text that the diagnostic points into, in order, not overlapping. */
export interface Mend {
  /** What the button says: `Write US gal`. */
  readonly label: string;
  readonly replace: readonly { readonly span: Span; readonly text: string }[];
}

/**
 * What each fault says of itself. Nouns are ready-made descriptions from `describe` (`Mass (kg)`), everything else is a
 * spelling as typed. The list of codes is closed and printed in the reference.
 */
export interface FaultData {
  "unlike-units": {
    /** `entered`: the right into a column of the left. */
    did: "added" | "subtracted" | "compared" | "combined" | "entered";
    left: string;
    right: string;
    hint: string | null;
  };
  "ambiguous-unit": { word: string; choices: readonly { symbol: string; size: string }[] };
  "sum-of-readings": { family: string; hint: string };
  /** `what` is a `temperature reading`, a `gravity difference`. */
  "scaled-reading": { what: string; did: "multiplied" | "divided" | "raised" | "negated"; hint: string };
  /** `labels`: the lines, or `columns`, that the screen calls so. */
  "unknown-name": { name: string; near: string | null; hint?: string; labels?: readonly string[]; columns?: boolean };
  /** `near`: what may have been meant, best first. */
  "unknown-unit": { spelling: string; near: readonly string[] };
  "unknown-function": { name: string; near: readonly string[]; hint?: string };
  /** `beside`: the line that is told, where the circle shown does not lead through it. */
  circular: { path: readonly string[]; beside?: string };
  /** `argument` in words; empty: the whole call is meant. */
  "wrong-argument": { function: string; argument: string; says: string; takes: string };
  "missing-argument": { function: string; argument: string; takes: string };
  "not-a-unit-for": { unit: string; of: string; hint: string | null };
  "bad-number": { text: string; says: string };
  syntax: { says: string };
  "duplicate-name": { name: string; elsewhere: string };
  "reserved-name": { name: string; says: string };
  "no-value": { says: string };
  "unlike-branches": { left: string; right: string };
  "column-lengths": { says: string };
  "not-a-choice": { text: string; choices: readonly string[] };
  /** The whole file is refused: a later format, not text, too large. */
  "unreadable-file": { says: string };
}

/** What each caution says of itself. Beside a line that waits stand only those of its formula: safety, estimate and changed figures. */
export interface CautionData {
  "outside-within": { shown: string; low: string; high: string };
  "outside-published-range": { function: string; says: string; source: string };
  skipped: { count: number; of: number };
  safety: { says: string };
  estimate: { says: string };
  "gravity-range": { shown: string };
  "figures-changed": { function: string; from: number; to: number };
}

export type FaultCode = keyof FaultData;
export type CautionCode = keyof CautionData;

interface Pointed {
  /** In the text of the formula, cell, statement or file that was read; whoever holds the larger text shifts it. */
  readonly span: Span;
  readonly mends: readonly Mend[];
}

export type Fault = {
  readonly [C in FaultCode]: Pointed & { readonly code: C; readonly data: FaultData[C] };
}[FaultCode];
export type Caution = { readonly [C in CautionCode]: { readonly code: C; readonly data: CautionData[C] } }[CautionCode];

/** Makes a fault of one code; the only constructor, so that code and data always agree. */
export const fault = <C extends FaultCode>(
  code: C,
  span: Span,
  data: FaultData[C],
  mends: readonly Mend[] = [],
): Fault => ({ code, span, data, mends }) as Fault;

export const caution = <C extends CautionCode>(code: C, data: CautionData[C]): Caution => ({ code, data }) as Caution;

/** A mend that replaces one stretch. */
export const mend = (label: string, span: Span, text: string): Mend => ({ label, replace: [{ span, text }] });

/** The text with a mend's replacements made. */
export const applyMend = (text: string, { replace }: Mend): string =>
  replace
    .toReversed()
    .reduce((sofar, { span, text: put }) => sofar.slice(0, span.start) + put + sofar.slice(span.end), text);
