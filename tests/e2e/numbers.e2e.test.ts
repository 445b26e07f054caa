import { buildSync } from "esbuild";
import { describe, expect } from "vitest";
import { numbersBook } from "../numbers/formulas.ts";
import { type Reckoned, reckon } from "../numbers/reckon.ts";
import { test } from "../support/page.ts";
import { shippedFiles, shippedText } from "../workbooks/shipped.ts";

/** Browser and Node may differ by what their power and root functions round: far less than any gauge tells. */
const SAME_WITHIN = 1e-12;

const same = (a: number | string | null | undefined, b: number | string | null | undefined): boolean =>
  typeof a === "number" && typeof b === "number"
    ? Math.abs(a - b) <= SAME_WITHIN * Math.max(Math.abs(a), Math.abs(b))
    : a === b;

/** The engine as a plain script that leaves `reckon` behind. */
const script = (): string =>
  buildSync({
    entryPoints: ["tests/numbers/reckon.ts"],
    bundle: true,
    platform: "browser",
    format: "iife",
    globalName: "numbers",
    write: false,
    logLevel: "warning",
  }).outputFiles[0]?.text ?? "";

describe("the formulas of every kind and the shipped books", () => {
  test("come to the same in Node and in Chromium, whatever its language and place", async ({ browser }) => {
    const books = [
      numbersBook(),
      ...shippedFiles()
        .filter((file) => file.endsWith(".gyle"))
        .map(shippedText),
    ];
    const here = books.map((text) => reckon(text));
    for (const [locale, timezoneId] of [
      ["de-DE", "Europe/Berlin"],
      ["ar-EG", "Asia/Kathmandu"],
    ] as const) {
      const context = await browser.newContext({ locale, timezoneId });
      const page = await context.newPage();
      await page.addScriptTag({ content: script() });
      const there = await page.evaluate((texts) => {
        const { numbers } = globalThis as unknown as { numbers: { reckon: (text: string) => Reckoned[] } };
        return texts.map((text) => numbers.reckon(text));
      }, books);
      await context.close();
      const shown = (all: readonly (readonly Reckoned[])[]): string[] =>
        all.flatMap((book) => book.map((line) => `${line.name}: ${line.shown}`));
      expect(shown(there)).toEqual(shown(here));
      const lines = here.flat();
      const differs = there
        .flat()
        .filter(({ values }, at) => !values.every((value, row) => same(value, lines[at]?.values[row])));
      expect(differs.map(({ name }) => name)).toEqual([]);
      expect(lines.length).toBeGreaterThan(300);
    }
  });
});
