import { chromium } from "playwright";
import { serveBuiltPage } from "../support/built-page.ts";
import { CHROMIUM_FLAGS, findChromium } from "../support/chromium.ts";
import { counted } from "./books.ts";
import { timingOf } from "./race.ts";
import {
  coldLoad,
  entryEdits,
  keystrokes,
  openings,
  type Place,
  type Step,
  scrolling,
  shiftsOfResults,
} from "./screen/measures.ts";
import { type Phase, readingIn } from "./screen/reading.ts";

/*
 * npm run bench:screen [-- WORD]    the built page in Chromium: all measures, or those whose name has the word; prints
 * a table with the targets beside it and writes no file.
 */

/** Repetitions: enough of them that one in a hundred is some. */
const TYPED_FORMULAS = 9;
const EDITS = 150;
const LOADS = 15;
const TABLE_ROWS = 100_000;
const READINGS = 3;
const SCROLL_STEPS = 200;
const LONG_SHEET = 2_000;
const OPENINGS = 9;

/** A frame of a screen that shows sixty a second, and how much of a quick typist's patience one step in a hundred may take. */
const FRAME_MS = 16;
const P99_MS = 50;
const LOAD_MS = 1_000;
/** After a tenth of a second a page seems stuck. */
const TASK_MS = 100;
const SCRIPT_BYTES = 200_000;

type Figure = readonly [what: string, figure: number, unit: string, most?: number];

const printed = ([what, figure, unit, most]: Figure): string => {
  const shown = `${figure.toFixed(figure < 10 && !Number.isInteger(figure) ? (unit === "" ? 4 : 1) : 0)} ${unit}`;
  const target =
    most === undefined ? "" : `at most ${most} ${unit}`.trim().padEnd(20) + (figure <= most ? "holds" : "MISSED");
  return `  ${what.padEnd(52)}${shown.padStart(12)}   ${target}`.trimEnd();
};

function ofSteps(steps: readonly Step[]): readonly Figure[] {
  const of = (figure: (step: Step) => number) => timingOf(steps.map(figure));
  const scripts = of((step) => step.scripts);
  const work = of((step) => step.work);
  const latency = of((step) => step.latency);
  return [
    ["scripts, on the processor, median", scripts.median, "ms", FRAME_MS],
    ["scripts, on the processor, p99", scripts.p99, "ms", P99_MS],
    ["all the page did, on the processor, median", of((step) => step.all).median, "ms"],
    ["work until it is drawn, by the clock, median", work.median, "ms", FRAME_MS],
    ["work until it is drawn, by the clock, p99", work.p99, "ms", P99_MS],
    ["from the key until it is drawn, median", latency.median, "ms"],
    ["from the key until it is drawn, p99", latency.p99, "ms", P99_MS],
  ];
}

async function ofLoads(place: Place): Promise<readonly Figure[]> {
  const loads = [];
  for (const _ of counted(LOADS)) loads.push(await coldLoad(place));
  const times = timingOf(loads.map(({ firstResult }) => firstResult));
  return [
    ["first result drawn, median", times.median, "ms", LOAD_MS],
    ["first result drawn, slowest", times.high, "ms"],
    ["JavaScript until then, gzip", Math.max(...loads.map(({ script }) => script)) / 1_000, "kB", SCRIPT_BYTES / 1_000],
    ["layout shift", Math.max(...loads.map(({ shift }) => shift)), "", 0],
  ];
}

async function ofOpenings(place: Place): Promise<readonly Figure[]> {
  const found = await openings(place, LONG_SHEET, OPENINGS);
  return [
    ["first lines drawn, median", timingOf(found.map(({ drawn }) => drawn)).median, "ms"],
    ["work until then, on the processor, median", timingOf(found.map(({ work }) => work)).median, "ms"],
    ["work until all is at rest, median", timingOf(found.map(({ all }) => all)).median, "ms"],
  ];
}

async function ofScrolling(place: Place): Promise<readonly Figure[]> {
  const { wheel, bar } = await scrolling(place, TABLE_ROWS, SCROLL_STEPS);
  return [
    ["by the wheel: worst frame", timingOf(wheel.frames).high, "ms", P99_MS],
    ["by the wheel: median frame", timingOf(wheel.frames).median, "ms"],
    ["by the wheel: rows in the page", wheel.rows, ""],
    ["to any place: worst frame", timingOf(bar.frames).high, "ms", P99_MS],
    ["to any place: median frame", timingOf(bar.frames).median, "ms"],
    ["to any place: rows in the page", bar.rows, ""],
  ];
}

/** The longest task of the slowest of some readings, on the processor, which a busy machine stretches too, and by the clock. */
async function ofReading(place: Place): Promise<readonly Figure[]> {
  const readings: (readonly Phase[])[] = [];
  for (const _ of counted(READINGS)) readings.push(await readingIn(place, TABLE_ROWS));
  return (readings[0] ?? []).flatMap(({ name }, at): Figure[] => {
    const most = (of: "processor" | "clock") =>
      Math.max(...readings.map((phases) => phases[at]?.longest[of] ?? Number.NaN));
    return [
      [`${name}, on the processor`, most("processor"), "ms", TASK_MS],
      [`${name}, by the clock`, most("clock"), "ms", TASK_MS],
    ];
  });
}

const ofShifts = async (place: Place): Promise<readonly Figure[]> =>
  (await shiftsOfResults(place)).map(({ sheet, shift, moved }): Figure => [[sheet, ...moved].join(" "), shift, "", 0]);

const MEASURES: Readonly<Record<string, (place: Place) => Promise<readonly Figure[]>>> = {
  "load of the sample book on a new device": ofLoads,
  "keystroke in a formula, 2,000 lines": async (place) => ofSteps(await keystrokes(place, TYPED_FORMULAS)),
  "edit of an entry, 2,000 lines, all that follow drawn": async (place) => ofSteps(await entryEdits(place, 10, EDITS)),
  "edit of a first entry, nearly all lines follow": async (place) => ofSteps(await entryEdits(place, 1, EDITS)),
  "opening a sheet of 2,000 lines": ofOpenings,
  "scrolling a table of 100,000 rows": ofScrolling,
  "longest task while a CSV of 100,000 rows and 6 columns is read in": ofReading,
  "layout shift while results arrive in the sample book": ofShifts,
};

const [wanted = ""] = process.argv.slice(2);
const page = await serveBuiltPage();
const browser = await chromium.launch({ executablePath: await findChromium(), args: CHROMIUM_FLAGS });
try {
  for (const [name, measure] of Object.entries(MEASURES))
    if (name.includes(wanted))
      console.log([name, ...(await measure({ browser, url: page.url })).map(printed), ""].join("\n"));
} finally {
  await browser.close();
  await page.close();
}
