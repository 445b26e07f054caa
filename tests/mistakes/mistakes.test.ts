import { afterAll, describe, expect, test } from "vitest";
import { openShipped, shippedFiles } from "../workbooks/shipped.ts";
import { MISTAKES } from "./mistakes.ts";
import { OUTCOMES, type Tried, tryMistakes } from "./outcomes.ts";

const books = shippedFiles()
  .filter((file) => file.endsWith(".gyle"))
  .map((file) => file.replace(/\.gyle$/, ""));

const tried: readonly Tried[] = books.flatMap((book) => tryMistakes(openShipped(book)));

const count = (mistake: string, outcome: string): number =>
  tried.filter((one) => one.mistake === mistake && one.outcome === outcome).length;

/** Each mistake with what becomes of it, as DEVELOPERS.md has it. */
const table = (): string =>
  [
    `| mistake | ${OUTCOMES.join(" | ")} |`,
    `| --- |${" ---: |".repeat(OUTCOMES.length)}`,
    ...MISTAKES.map((mistake) => `| ${mistake} | ${OUTCOMES.map((outcome) => count(mistake, outcome)).join(" | ")} |`),
    `| all | ${OUTCOMES.map((outcome) => tried.filter((one) => one.outcome === outcome).length).join(" | ")} |`,
  ].join("\n");

describe("a mistake that people make, in any line of the shipped books", () => {
  afterAll(() => {
    process.stdout.write(`\n${table()}\n`);
  });

  test("was tried often, of every sort", () => {
    expect(tried.length).toBeGreaterThan(1000);
    for (const mistake of MISTAKES)
      expect(tried.filter((one) => one.mistake === mistake).length, mistake).toBeGreaterThan(0);
  });

  test("that changes a dimension or a scale never passes silently where the result's unit or range is stated", () => {
    const silent = tried.filter(({ outcome, otherKind, guarded }) => outcome === "silent" && otherKind && guarded);
    expect(silent.map(({ line, was, is }) => `${line}: ${was} → ${is}`)).toEqual([]);
  });

  test("with a gallon of no country, or a unit of another dimension, is never silent at all", () => {
    for (const mistake of ["gallon without its country", "a unit of another dimension"])
      expect(count(mistake, "silent"), mistake).toBe(0);
  });
});
