import type { Page } from "playwright";

/** The longest single task of a page's main thread, in milliseconds. */
export interface LongestTask {
  /** On the processor: what else the machine does is not in it. */
  readonly processor: number;
  readonly clock: number;
}

interface TraceEvent {
  readonly ph: string;
  readonly name: string;
  readonly pid: number;
  readonly tid: number;
  /** Microseconds: by the clock, and on the processor. */
  readonly dur?: number;
  readonly tdur?: number;
  readonly args?: { readonly name?: string };
}

/** The browser's own record of its tasks, and of the names of its threads. */
const CATEGORIES = ["toplevel", "__metadata"];

/** Records every task of the page's main thread while `act` runs, and for `restMs` after it. */
export async function longestTask(page: Page, act: () => Promise<void>, restMs: number): Promise<LongestTask> {
  const browser = page.context().browser();
  if (browser === null) throw new Error("the page has no browser");
  await browser.startTracing(page, { categories: CATEGORIES });
  await act();
  await page.waitForTimeout(restMs);
  const trace = (await browser.stopTracing()).toString();
  const { traceEvents } = JSON.parse(trace) as { readonly traceEvents: readonly TraceEvent[] };
  const threadOf = ({ pid, tid }: TraceEvent): string => `${pid}:${tid}`;
  const main = new Set(
    traceEvents.filter(({ name, args }) => name === "thread_name" && args?.name === "CrRendererMain").map(threadOf),
  );
  const tasks = traceEvents.filter(
    (each) => each.ph === "X" && each.name.endsWith("RunTask") && main.has(threadOf(each)),
  );
  if (tasks.length === 0) throw new Error("the trace shows no task");
  const longest = (of: (task: TraceEvent) => number | undefined): number =>
    Math.max(...tasks.map((task) => (of(task) ?? Number.NaN) / 1_000));
  // Where the browser did not take a task's time on the processor, it was no longer than by the clock.
  return { processor: longest(({ dur, tdur }) => tdur ?? dur), clock: longest(({ dur }) => dur) };
}
