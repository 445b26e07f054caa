import { createSession } from "../../engine/session.ts";
import { Model } from "../../engine/workbook/model.ts";
import { type Opened, openWorkbook } from "../../engine/workbook/open.ts";
import { bookOf, counted, language } from "./books.ts";
import { type Timing, timingOf } from "./race.ts";
import { printRatio, printTimings } from "./table.ts";

/*
 * Opening a file: time against the sum of its phases, small against large, and what stays in memory afterwards.
 */

const SMALL = 2_000;
const LARGE = 100_000;
/** Opening twice as long as this share of the exact proportion is still called linear: the small file fits a cache. */
const LINEAR_WITHIN = 1.5;
const MOST_OVER_PHASES = 1.2;
const MOST_BYTES = 400;

const linesOf = (count: number): string[] =>
  counted(count).map((at) =>
    at % 5 === 0 ? `c${at} = ${1 + (at % 50) / 10} kg` : `c${at} = c${at - 1} * 1.25 + ${at % 5} kg`,
  );

function timed(samples: number[], work: () => void): void {
  const start = performance.now();
  work();
  samples.push(performance.now() - start);
}

/** Milliseconds for opening and for its phases, in turns. */
function timingsOf(count: number, runs: number): Map<string, Timing> {
  const text = bookOf(linesOf(count));
  const whole: number[] = [];
  const reading: number[] = [];
  const compiling: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    let opened: Opened | null = null;
    timed(whole, () => createSession(text));
    timed(reading, () => {
      opened = openWorkbook(text, language);
    });
    timed(compiling, () => {
      if (opened?.ok) new Model(opened.workbook, language);
    });
  }
  return new Map([
    [`${count} lines`, timingOf(whole)],
    ["  reading the statements", timingOf(reading)],
    ["  compiling and working out", timingOf(compiling)],
  ]);
}

export function opening(): string {
  // The first rounds warm the code up.
  timingsOf(SMALL, 20);
  const [small, large] = [timingsOf(SMALL, 20), timingsOf(LARGE, 5)];
  const middle = (timings: Map<string, Timing>, name: string): number => timings.get(name)?.median ?? Number.NaN;
  const [perSmall, perLarge] = [middle(small, `${SMALL} lines`) / SMALL, middle(large, `${LARGE} lines`) / LARGE];
  const phases = (timings: Map<string, Timing>): number =>
    middle(timings, "  reading the statements") + middle(timings, "  compiling and working out");
  return [
    printTimings("opening a file to all results ready", small, []).text,
    printTimings("", large, []).text.trimStart(),
    printRatio("a line of the large ÷ a line of the small", perLarge / perSmall, LINEAR_WITHIN),
    printRatio("small ÷ sum of its phases", middle(small, `${SMALL} lines`) / phases(small), MOST_OVER_PHASES),
    printRatio("large ÷ sum of its phases", middle(large, `${LARGE} lines`) / phases(large), MOST_OVER_PHASES),
  ].join("\n");
}

/** Bytes in use after a full collection; needs node --expose-gc. */
function bytesInUse(): number {
  for (let pass = 0; pass < 4; pass += 1) globalThis.gc?.();
  const { heapUsed, external } = process.memoryUsage();
  return heapUsed + external;
}

/** Bytes that the document and what is compiled from it add. */
function bytesOf(text: string): { readonly document: number; readonly compiled: number } {
  const before = bytesInUse();
  const opened = openWorkbook(text, language);
  if (!opened.ok) throw new Error(opened.says);
  const read = bytesInUse();
  const model = new Model(opened.workbook, language);
  const after = bytesInUse();
  if (model.origins.length !== LARGE) throw new Error("a line is missing");
  return { document: read - before, compiled: after - read };
}

export function memory(): string {
  const text = bookOf(linesOf(LARGE));
  // The first time, what is made once for all books and left over from making the text would be counted too.
  bytesOf(text);
  const { document, compiled } = bytesOf(text);
  const each = (bytes: number): number => Math.round(bytes / LARGE);
  return [
    `memory after opening ${LARGE} lines, bytes a line`,
    `  text of the file                    ${each(text.length)}`,
    `  document, over the text             ${each(document)}`,
    printRatio("results and plan", each(compiled), MOST_BYTES),
  ].join("\n");
}
