import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { buildSync } from "esbuild";
import { afterAll, describe, expect, test } from "vitest";
import { createSession } from "../../engine/index.ts";
import { shippedText } from "../workbooks/shipped.ts";
import { numbersBook } from "./formulas.ts";
import { reckon } from "./reckon.ts";

/** Numbers in [0, 1), the same on every run (mulberry32, public domain). */
function numbersFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

describe("sums of long columns", () => {
  /** Figures are hundredths, so that a sum in whole hundredths (BigInt) is exact. */
  const columnOf = (hundredths: readonly bigint[]): string =>
    `gylebook 1\nsheet s\ntable long\n  column x : number\n  rows\n${hundredths.map((each) => `    ${each < 0n ? "-" : ""}${(each < 0n ? -each : each) / 100n}.${String((each < 0n ? -each : each) % 100n).padStart(2, "0")}`).join("\n")}\n  end\ntotal = sum(long.x)\naverage = mean(long.x)\nran = last(running_sum(long.x))\n`;
  const next = numbersFrom(7);
  const draw = (size: number): bigint => BigInt(Math.floor((next() - 0.3) * size));

  test.each([
    ["like figures", Array.from({ length: 100_000 }, () => draw(1e6))],
    [
      "large figures that cancel",
      Array.from({ length: 50_000 }, () => draw(1e14)).flatMap((each) => [each, 1n - each]),
    ],
    ["one large among small", [10n ** 16n, ...Array.from({ length: 100_000 }, () => 1n), -(10n ** 16n)]],
  ])("of %s are those of exact whole numbers", (_, hundredths) => {
    const exact = Number(hundredths.reduce((sum, each) => sum + each, 0n)) / 100;
    const session = createSession(columnOf(hundredths));
    const figure = (name: string): number => session.cell(`s.${name}`)?.value as number;
    // What the figures lose when they become float64: each at most 2^-53 of itself.
    const size = hundredths.reduce((sum, each) => sum + (each < 0n ? -each : each), 0n);
    const within = Number(size) / 100 / 2 ** 53 + Math.abs(exact) * 1e-15;
    expect(Math.abs(figure("total") - exact)).toBeLessThanOrEqual(within);
    expect(Math.abs(figure("average") - exact / hundredths.length)).toBeLessThanOrEqual(within);
    expect(Math.abs(figure("ran") - exact)).toBeLessThanOrEqual(within);
  });
});

describe("rounding", () => {
  test.each([
    ["2.675 by 0.01", "2.68"],
    ["-2.675 by 0.01", "-2.68"],
    ["0.5 by 1", "1"],
    ["1.5 by 1", "2"],
    ["2.5 by 1", "3"],
    ["-2.5 by 1", "-3"],
    ["1.005 by 0.01", "1.01"],
    ["0.125 by 0.25", "0.25"],
    ["-0.4 by 1", "0"],
    ["round(2.5, 1)", "3"],
    ["round(-2.5, 1)", "-3"],
    ["round(2.675, 0.01) by 0.001", "2.680"],
  ])("is half away from zero: %s is %s", (formula, shown) => {
    expect(createSession(`gylebook 1\nsheet s\na = ${formula}\n`).cell("s.a")?.shown).toBe(shown);
  });
});

describe("the machine's language, place and clock", () => {
  const folder = mkdtempSync(join(tmpdir(), "gylebook-numbers-"));
  const outfile = join(folder, "reckon.cjs");
  buildSync({
    stdin: {
      contents: `import { reckon } from "./tests/numbers/reckon.ts"; import { readFileSync } from "node:fs"; process.stdout.write(JSON.stringify(reckon(readFileSync(0, "utf8"))));`,
      resolveDir: process.cwd(),
    },
    bundle: true,
    platform: "node",
    format: "cjs",
    logLevel: "warning",
    outfile,
  });
  afterAll(() => {
    rmSync(folder, { recursive: true });
  });

  test.each([
    ["de_DE.UTF-8", "Europe/Berlin"],
    ["tr_TR.UTF-8", "Asia/Kathmandu"],
    ["ar_EG.UTF-8", "America/St_Johns"],
    ["C", "Pacific/Apia"],
  ])("change no figure: %s in %s", (LANG, TZ) => {
    for (const text of [numbersBook(), shippedText("brew-day.gyle")]) {
      const there = execFileSync(process.execPath, [outfile], {
        input: text,
        encoding: "utf8",
        env: { ...process.env, LANG, LC_ALL: LANG, LANGUAGE: LANG, TZ },
      });
      expect(JSON.parse(there)).toEqual(reckon(text));
    }
  });
});
