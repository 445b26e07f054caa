import { createSession } from "../../engine/session.ts";
import { createLanguage } from "../../engine/workbook/language.ts";
import { Model } from "../../engine/workbook/model.ts";
import { openWorkbook } from "../../engine/workbook/open.ts";
import { bookOf, language, linesInFives } from "./books.ts";
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

function timed<T>(samples: number[], work: () => T): T {
  const start = performance.now();
  const made = work();
  samples.push(performance.now() - start);
  return made;
}

const PHASES = ["  making the reader of formulas", "  reading the statements", "  compiling and working out"] as const;

/** Milliseconds for opening and for its phases, in turns. Each opening has a reader of its own, which is not warm yet: so have the phases. */
function timingsOf(count: number, runs: number): Map<string, Timing> {
  const text = bookOf(linesInFives(count));
  const whole: number[] = [];
  const phases = PHASES.map((): number[] => []);
  const [making = [], reading = [], compiling = []] = phases;
  for (let run = 0; run < runs; run += 1) {
    timed(whole, () => createSession(text));
    const own = timed(making, createLanguage);
    const opened = timed(reading, () => openWorkbook(text, own));
    if (opened.ok) timed(compiling, () => new Model(opened.workbook, own));
  }
  return new Map([
    [`${count} lines`, timingOf(whole)],
    ...PHASES.map((phase, at): [string, Timing] => [phase, timingOf(phases[at] ?? [])]),
  ]);
}

export function opening(): string {
  // The first rounds warm the code up.
  timingsOf(SMALL, 20);
  const [small, large] = [timingsOf(SMALL, 20), timingsOf(LARGE, 5)];
  const middle = (timings: Map<string, Timing>, name: string): number => timings.get(name)?.median ?? Number.NaN;
  const [perSmall, perLarge] = [middle(small, `${SMALL} lines`) / SMALL, middle(large, `${LARGE} lines`) / LARGE];
  const phases = (timings: Map<string, Timing>): number =>
    PHASES.reduce((sum, phase) => sum + middle(timings, phase), 0);
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
  const text = bookOf(linesInFives(LARGE));
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
