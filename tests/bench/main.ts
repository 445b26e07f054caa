import { table } from "./columns.ts";
import { compilation } from "./compile.ts";
import { editsWithHistory, randomEdits, textChange } from "./edits.ts";
import { conversions, mixedUnits } from "./mixed-units.ts";
import { memory, opening } from "./opening.ts";
import { chain, fan, gridCorner, gridFarCorner } from "./propagation.ts";
import { race, type Workload } from "./race.ts";
import { printTimings } from "./table.ts";

/*
 * npm run bench [-- WORD]    all workloads, or those whose name has the word; prints a table and writes no file.
 */

const timed = (make: () => Workload) => (): string => {
  const workload = make();
  return printTimings(workload.title, race(workload), workload.limits).text;
};

const WORKLOADS: Readonly<Record<string, () => string>> = {
  memory,
  chain: timed(chain),
  fan: timed(fan),
  grid: timed(gridCorner),
  "grid-corner": timed(gridFarCorner),
  units: timed(mixedUnits),
  table: timed(table),
  conversions: timed(conversions),
  edits: timed(randomEdits),
  session: timed(editsWithHistory),
  compile: timed(compilation),
  opening,
  text: timed(textChange),
};

const [wanted = ""] = process.argv.slice(2);
for (const [name, run] of Object.entries(WORKLOADS)) {
  if (!name.includes(wanted)) continue;
  // What the workload before left behind is not this one's to clear away.
  globalThis.gc?.();
  console.log(`${run()}\n`);
}
