import { Chance } from "./chance.ts";
import {
  damageLine,
  keepFormula,
  linesOf,
  open,
  shownBy,
  tryCsv,
  tryEdits,
  tryFile,
  tryFormula,
  tryLink,
} from "./laws.ts";
import { csv, edit, file, formula } from "./make.ts";
import { BOOK, SCRAPS } from "./words.ts";

export type Field = "formula" | "file" | "line" | "edits" | "csv" | "link";

export interface Find {
  readonly field: Field;
  /** What broke a law, as JSON. */
  readonly input: string;
  readonly says: string;
}

export interface Run {
  readonly tried: Record<Field, number>;
  readonly finds: readonly Find[];
  /** The longest that one input took, in milliseconds. */
  readonly slowest: { readonly ms: number; readonly field: Field; readonly input: string };
}

export interface RunOptions {
  readonly seed: number;
  /** Goes on until this is so; asked after each round. */
  readonly until: (tried: Run["tried"]) => boolean;
  /** Shipped books, small ones, whose lines are damaged. */
  readonly shipped: readonly string[];
  readonly clock: () => number;
  /** How many finds end the run. */
  readonly most?: number;
}

/** How often each field is tried in a round: formulas are quick, edits and damaged lines open whole books. */
const ROUND: readonly (readonly [Field, number])[] = [
  ["formula", 1000],
  ["file", 100],
  ["line", 1],
  ["edits", 2],
  ["csv", 3],
  ["link", 3],
];

/** Every so many formulas one is kept in its line and taken back. */
const KEPT = 40;
/** Every so many files one is tidied too. */
const TIDIED = 5;

/** Tries inputs of every field, round after round. */
export async function run({ seed, until, shipped, clock, most = 20 }: RunOptions): Promise<Run> {
  const chance = new Chance(seed);
  const tried: Record<Field, number> = { formula: 0, file: 0, line: 0, edits: 0, csv: 0, link: 0 };
  const finds: Find[] = [];
  let slowest: Run["slowest"] = { ms: 0, field: "formula", input: "" };
  let book = open(BOOK);
  const books = shipped.map((text) => {
    const session = open(text);
    return { text, session, shown: shownBy(session), lines: linesOf(session) };
  });
  const tries: Record<Field, () => { readonly input: unknown; readonly go: () => void | Promise<void> }> = {
    formula: () => {
      const text = formula(chance);
      const keep = chance.once(KEPT);
      return { input: text, go: () => (keep ? keepFormula : tryFormula)(book, text) };
    },
    file: () => {
      const text = file(chance, [BOOK]);
      const tidied = chance.once(TIDIED);
      return { input: text, go: () => tryFile(text, tidied) };
    },
    line: () => {
      const of = chance.pick(books);
      const [name, junk] = [chance.pick(of.lines), chance.some(SCRAPS, 8).replace(/\0/g, "")];
      return { input: { name, junk }, go: () => damageLine(of.text, of.session, of.shown, name, junk) };
    },
    edits: () => {
      const edits = Array.from({ length: 1 + chance.below(6) }, () => edit(chance));
      return { input: edits, go: () => tryEdits(BOOK, edits) };
    },
    csv: () => {
      const made = csv(chance);
      return { input: typeof made === "string" ? made : [...made], go: () => tryCsv(made) };
    },
    link: () => {
      const [text, at, put] = [file(chance, [BOOK]), chance.next(), chance.pick(["A", "z", "-", "%", "", "#"])];
      return { input: { text, at, put }, go: () => tryLink(text, at, put) };
    },
  };
  while (!until(tried) && finds.length < most)
    for (const [field, times] of ROUND)
      for (let time = 0; time < times; time += 1) {
        const { input, go } = tries[field]();
        const start = clock();
        try {
          await go();
        } catch (error) {
          const says = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
          if (!finds.some((find) => find.says === says)) finds.push({ field, input: JSON.stringify(input), says });
          // A session that broke a law may be broken itself.
          if (field === "formula") book = open(BOOK);
        }
        const ms = clock() - start;
        if (ms > slowest.ms) slowest = { ms, field, input: JSON.stringify(input) };
        tried[field] += 1;
      }
  return { tried, finds, slowest };
}
