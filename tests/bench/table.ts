import type { Limit, Timing } from "./race.ts";

const digits = (figure: number): string => figure.toPrecision(3);

function milliseconds({ median, low, high }: Timing): string {
  const middle = `${digits(median)} ms`;
  return `${middle.padStart(12)}  (${digits(low)} – ${digits(high)})`;
}

/** A workload's timings and ratios as lines of text; also whether every limit holds. */
export function printTimings(
  title: string,
  timings: ReadonlyMap<string, Timing>,
  limits: readonly Limit[],
): { readonly text: string; readonly holds: boolean } {
  const lines = [title];
  for (const [name, timing] of timings)
    lines.push(
      `  ${name.padEnd(36)}${milliseconds(timing)}${limits.some(({ at }) => at === "p99") ? `  p99 ${digits(timing.p99)}` : ""}`,
    );
  let holds = true;
  for (const { of, over, most, at = "median" } of limits) {
    const ratio = (timings.get(of)?.[at] ?? Number.NaN) / (timings.get(over)?.[at] ?? Number.NaN);
    holds &&= ratio <= most;
    lines.push(printRatio(`${of} ÷ ${over}${at === "p99" ? ", p99" : ""}`, ratio, most));
  }
  return { text: lines.join("\n"), holds };
}

export const printRatio = (what: string, ratio: number, most: number): string =>
  `  → ${what.padEnd(52)} ${ratio.toFixed(2).padStart(7)}   at most ${most}   ${ratio <= most ? "holds" : "MISSED"}`;
