import { readFileSync } from "node:fs";
import { join } from "node:path";
import { run } from "./run.ts";

/*
 * npm run fuzz -- --seconds N [--seed S] [--formulas N] [--files N]
 * Tries formulas, files, damaged lines, edits, CSVs and links, for so many seconds or until so many were tried; prints
 * what was tried and every input that broke a law. Exit status 1 when there is one: it then belongs into corpus/finds.json.
 */

const option = (name: string, otherwise: number): number => {
  const at = process.argv.indexOf(`--${name}`);
  const value = at < 0 ? otherwise : Number(process.argv[at + 1]);
  if (!Number.isFinite(value)) throw new Error(`--${name} takes a number`);
  return value;
};

// Making a stack for each slip that the parser mends would take half of the time.
Error.stackTraceLimit = 3;

const SHIPPED = ["yeast", "water", "vessels", "cleaning"];
const seconds = option("seconds", 20);
const [formulas, files] = [option("formulas", Number.MAX_SAFE_INTEGER), option("files", Number.MAX_SAFE_INTEGER)];
const seed = option("seed", Date.now() % 1_000_000_000);
const end = performance.now() + seconds * 1000;

const { tried, finds, slowest } = await run({
  seed,
  until: ({ formula, file }) => performance.now() > end || (formula >= formulas && file >= files),
  shipped: SHIPPED.map((name) => readFileSync(join("workbooks", `${name}.gyle`), "utf8")),
  clock: () => performance.now(),
});
console.log(`seed ${seed}`);
for (const [field, count] of Object.entries(tried)) console.log(`${field.padEnd(8)} ${count.toLocaleString("en")}`);
console.log(`slowest  ${slowest.ms.toFixed(0)} ms: ${slowest.field} ${slowest.input.slice(0, 300)}`);
for (const { field, input, says } of finds) console.log(`\n${field}: ${says}\n${input}`);
console.log(`\n${finds.length} found`);
process.exitCode = finds.length === 0 ? 0 : 1;
