import { Bench } from "tinybench";

/** One way of doing a workload's work. */
export interface Contender {
  readonly name: string;
  /** Does the work once. `turn` counts up, so that no two runs in a row have the same input. */
  readonly run: (turn: number) => void;
  /** What the work gave, for comparing; contenders without it are not compared. */
  readonly read?: () => ArrayLike<number>;
}

/** The most that one contender may take, as a multiple of another's median or of its 99th percentile. */
export interface Limit {
  readonly of: string;
  readonly over: string;
  readonly most: number;
  readonly at?: "median" | "p99";
}

export interface Workload {
  readonly title: string;
  readonly contenders: readonly Contender[];
  readonly limits: readonly Limit[];
  /** How often the work is done within one sample, where once is too short for the clock. */
  readonly repeat?: number;
  /** Time for each contender in each round, in milliseconds. */
  readonly time?: number;
  /** How often the contenders take turns: often where fresh memory now comes fast and now slowly. */
  readonly rounds?: number;
}

/** Milliseconds for doing the work once. */
export interface Timing {
  readonly median: number;
  readonly low: number;
  readonly high: number;
  readonly p99: number;
}

/** Contenders take turns in rounds, so that what else the machine does falls on all of them. */
const ROUNDS = 5;
const USUAL_TIME = 100;
/** A contender is measured at least so often in a round, however slow it is. */
const FEWEST_SAMPLES = 3;
/** Results may differ by this share: other orders of adding round otherwise. */
const SAME_WITHIN = 1e-9;
const COMPARED_TURNS = [1, 2];

/** Throws unless all contenders give the same results. */
function mustAgree({ title, contenders }: Workload): void {
  const compared = contenders.filter(({ read }) => read !== undefined);
  for (const turn of COMPARED_TURNS) {
    const results = compared.map(({ run, read }) => {
      run(turn);
      return read?.() ?? [];
    });
    const [first = []] = results;
    for (const [at, result] of results.entries()) {
      if (result.length !== first.length)
        throw new Error(`${title}: ${compared[at]?.name} gives ${result.length} results, not ${first.length}`);
      for (let place = 0; place < first.length; place += 1) {
        const [a, b] = [first[place] as number, result[place] as number];
        const same = Math.abs(a - b) <= SAME_WITHIN * Math.max(Math.abs(a), Math.abs(b));
        if (!same) throw new Error(`${title}: ${compared[at]?.name} gives ${b} at ${place}, not ${a}`);
      }
    }
  }
}

/** Compares the contenders' results, then times them. */
export function race(workload: Workload): Map<string, Timing> {
  mustAgree(workload);
  const { contenders, repeat = 1, time = USUAL_TIME, rounds = ROUNDS } = workload;
  const samples = new Map<string, number[]>(contenders.map(({ name }) => [name, []]));
  let turn = 0;
  for (let round = 0; round < rounds; round += 1) {
    const bench = new Bench({
      time,
      iterations: FEWEST_SAMPLES,
      warmup: round === 0,
      warmupTime: time / 2,
      warmupIterations: FEWEST_SAMPLES,
      retainSamples: true,
      throws: true,
    });
    for (const { name, run } of contenders)
      bench.add(name, () => {
        for (let again = 0; again < repeat; again += 1) {
          turn += 1;
          run(turn);
        }
      });
    bench.runSync();
    for (const { name, result } of bench.tasks)
      if ("latency" in result) samples.get(name)?.push(...(result.latency.samples ?? []).map((each) => each / repeat));
  }
  return new Map([...samples].map(([name, taken]) => [name, timingOf(taken)]));
}

export function timingOf(samples: readonly number[]): Timing {
  const sorted = samples.toSorted((a, b) => a - b);
  const at = (share: number): number =>
    sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
  return { median: at(0.5), low: at(0), high: at(1), p99: at(0.99) };
}
