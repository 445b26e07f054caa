import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { Edit } from "../../engine/index.ts";
import { shippedText } from "../workbooks/shipped.ts";
import { keepFormula, open, tryEdits, tryFile } from "./laws.ts";
import { run } from "./run.ts";
import { BOOK } from "./words.ts";

const SEED = 20_260_302;
/** Rounds of a bounded run: some thousands of formulas and hundreds of files, a few seconds on a quiet machine. */
const FORMULAS = 4_000;

interface Kept {
  readonly field: "formula" | "file" | "edits";
  readonly input: string;
  /** What was wrong once; the law that it broke holds now. */
  readonly mended: string;
}

const corpus = JSON.parse(readFileSync(new URL("corpus/finds.json", import.meta.url), "utf8")) as Kept[];

describe("whatever is typed, opened or read in", () => {
  test("breaks no law of the engine", async () => {
    const { tried, finds } = await run({
      seed: SEED,
      until: ({ formula }) => formula >= FORMULAS,
      shipped: [shippedText("yeast.gyle"), shippedText("water.gyle")],
      clock: () => 0,
    });
    expect(finds, `seed ${SEED}`).toEqual([]);
    expect(tried.formula).toBeGreaterThanOrEqual(FORMULAS);
    expect(Math.min(...Object.values(tried))).toBeGreaterThan(0);
  });

  test.each(corpus)("and was found once: $input", ({ field, input }) => {
    if (field === "formula") keepFormula(open(BOOK), input);
    else if (field === "file") tryFile(input, true);
    else tryEdits(BOOK, JSON.parse(input) as Edit[]);
  });
});
