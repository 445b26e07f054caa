import { chain, fan, gridCorner, gridFarCorner } from "./propagation.ts";
import { race, type Workload } from "./race.ts";
import { printTimings } from "./table.ts";

const WORKLOADS: readonly (() => Workload)[] = [chain, fan, gridCorner, gridFarCorner];

const [wanted = ""] = process.argv.slice(2);
for (const make of WORKLOADS) {
  if (!make.name.includes(wanted)) continue;
  const workload = make();
  console.log(printTimings(workload.title, race(workload), workload.limits).text);
}
