import Papa from "papaparse";
import { isoOf } from "../../engine/readings/clock.ts";
import { type Detection, detect } from "../../engine/readings/detect.ts";
import type { Mapping } from "../../engine/readings/mapping.ts";
import { proposeMapping } from "../../engine/readings/propose.ts";
import { type Reading, readCsv } from "../../engine/readings/read.ts";
import { type Source, sourceOf } from "../../engine/readings/source.ts";
import { knowsUnit, readUnit, target } from "../readings/support.ts";
import { counted } from "./books.ts";
import { timingOf } from "./race.ts";
import { printTimings } from "./table.ts";

/*
 * npm run bench:readings    a CSV into typed columns, beside Papa Parse alone into strings: time, what stays in memory, and
 * a million rows within the heap that Node takes by itself; prints a table and writes no file.
 */

const ROWS = 100_000;
const MANY_ROWS = 1_000_000;
/**
 * Contenders take turns, so that what else the machine does, clearing memory away included, falls on all of them; the first
 * turns warm the code up. To clear memory by force between turns would throw machine code away: V8 drops what was compiled
 * for a class once no object of it is left, and the readers would be compiled again in every turn.
 */
const TURNS = 15;
const WARM_UP = 3;
const MOST_OVER_PAPA = 2;
const MOST_BYTES = 200;
/** Rows in one piece of a file that is not in memory as a whole. */
const PIECE = 2_000;

const TABLE = target("taken: instant, tank: text, gravity: °P, temp: °C, setpoint: °C, pressure: bar");
const HEAD = "Taken,Tank,Gravity (°P),Temp (°F),Setpoint (°F),Pressure (psi)\n";

const line = (row: number): string => {
  const figures = [12.1 - (row % 1000) * 0.01, 64 + (row % 70) / 10, 64.4, 11 + (row % 30) / 10];
  return `${isoOf(1_772_323_200 + row * 60)},FV${1 + (row % 3)},${figures.map((figure) => figure.toFixed(2)).join(",")}\n`;
};

/** A logger's file that is made as it is read. */
const logger = (rows: number): Source => ({
  length: null,
  *chunks() {
    yield HEAD;
    for (let row = 0; row < rows; row += PIECE)
      yield counted(Math.min(PIECE, rows - row))
        .map((at) => line(row + at))
        .join("");
  },
});

/** Reads every vessel's rows; throws where a row is lost. */
async function readAll(source: Source, mapping: Mapping, rows: number): Promise<Reading> {
  const read = await readCsv(source, mapping, TABLE, readUnit);
  if ("problem" in read) throw new Error(read.problem);
  if (read.rows !== rows) throw new Error(`${read.rows} of ${rows} rows were read`);
  return read;
}

const mappingOf = (detection: Detection): Mapping =>
  proposeMapping(detection, TABLE, readUnit, { "rows:Tank": "(all)" }).mapping;

async function timed(samples: number[], work: () => unknown): Promise<void> {
  const start = performance.now();
  await work();
  samples.push(performance.now() - start);
}

/** Bytes in use once all that can be cleared away is: what one clearing finalizes, the next one frees. */
function inUse(): number {
  globalThis.gc?.();
  globalThis.gc?.();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}

const csv = [...(logger(ROWS).chunks() as Iterable<string>)].join("");
const mapping = mappingOf(await detect(sourceOf(csv), knowsUnit));
const [papa, typed, looked]: [number[], number[], number[]] = [[], [], []];
for (const turn of counted(TURNS + WARM_UP)) {
  if (turn === WARM_UP) for (const samples of [papa, typed, looked]) samples.length = 0;
  await timed(papa, () => Papa.parse(csv));
  await timed(typed, () => readAll(sourceOf(csv), mapping, ROWS));
  await timed(looked, () => detect(sourceOf(csv), knowsUnit));
}
const timings = new Map([
  ["Papa Parse alone, into strings", timingOf(papa)],
  ["into typed columns and rows", timingOf(typed)],
  ["looking the whole file through", timingOf(looked)],
]);
const limit = { of: "into typed columns and rows", over: "Papa Parse alone, into strings", most: MOST_OVER_PAPA };
console.log(printTimings(`${ROWS} rows × 6 columns`, timings, [limit]).text);

const held = (what: string, bytes: number, rows: number): string => {
  const each = bytes / rows;
  return `  ${what.padEnd(36)}${each.toFixed(0).padStart(9)} B a row   at most ${MOST_BYTES}   ${each <= MOST_BYTES ? "holds" : "MISSED"}`;
};
const before = inUse();
const reading = await readAll(logger(ROWS), mapping, ROWS);
const { columns } = reading;
const [withRows, rowTexts] = [inUse() - before, reading.pages.reduce((sum, { text }) => sum + text.length, 0)];
console.log(held("in memory after, typed columns", withRows - rowTexts, ROWS));
console.log(held("in memory after, rows as text too", withRows, ROWS));
if (columns.length !== TABLE.columns.length) throw new Error("a column is missing");

const start = performance.now();
const many = await readAll(logger(MANY_ROWS), mappingOf(await detect(logger(MANY_ROWS), knowsUnit)), MANY_ROWS);
console.log(
  `  ${many.rows} rows looked through and read in ${((performance.now() - start) / 1000).toFixed(1)} s, ${(process.memoryUsage().heapUsed / 1e6).toFixed(0)} MB of heap in use after, within Node's own limit`,
);
