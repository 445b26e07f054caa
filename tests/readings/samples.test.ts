import { readdirSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { proposeColumns } from "../../engine/readings/new-table.ts";
import type { Answers } from "../../engine/readings/question.ts";
import { linesOf, look, readProposed, readUnit, sample, target } from "./support.ts";

/** A sample with what it must ask, the answers, and the first and last row that must come of it. All figures are invented. */
interface Case {
  readonly file: string;
  readonly table: string;
  readonly asks: readonly string[];
  readonly answers: Answers;
  readonly rows: number;
  readonly first: string;
  readonly last: string;
  readonly rejected?: readonly number[];
  readonly notes?: readonly RegExp[];
  readonly leftOut?: number;
}

const CELLAR = "taken: instant, gravity: °P, temp: °C";

const CASES: readonly Case[] = [
  {
    file: "tank-logger.csv",
    table: `${CELLAR}, pressure: bar`,
    ...{ asks: [], answers: {}, rows: 96 },
    first: "2026-03-02T08:00:00,11.99,64.8 °F,11.0 psi",
    last: "2026-03-04T07:30:00,5.76,64.6 °F,11.3 psi",
  },
  {
    file: "keller-windows-1252.csv",
    table: CELLAR,
    ...{ asks: ["date-order:Datum"], answers: { "date-order:Datum": "day-first" }, rows: 40 },
    first: "2026-03-02T08:00,11.99,18.2",
    last: "2026-03-03T23:00,7.80,19.3",
  },
  {
    file: "laboratory.csv",
    table: "sample: text, drawn: instant, gravity: °P, ph: pH, cells: cells/mL, remark: text",
    ...{ asks: [], answers: {}, rows: 8 },
    first: "L-101,2026-03-02T00:00,11.99,5.30,1200000,clear",
    last: 'L-108,2026-03-09T00:00,3.00,4.58,2307439,"said ""sweet"""',
  },
  {
    file: "month-first-12-hour.csv",
    table: `${CELLAR}, pressure: bar`,
    ...{ asks: [], answers: {}, rows: 60 },
    first: "2026-03-02T08:00,1.0484 SG,64.8 °F,12.0 psi",
    last: "2026-03-17T02:00,1.0117 SG,66.7 °F,12.1 psi",
  },
  {
    file: "checkweigher.csv",
    table: "no: number, taken: instant, product: text, net: g, result: text",
    asks: ["date-order:Date", "rows:Product", "rows:Result"],
    answers: { "date-order:Date": "day-first", "rows:Product": "Amber 355", "rows:Result": "OK" },
    rows: 45,
    first: "2,2026-03-02T08:00,Amber 355,358.3,OK",
    last: "50,2026-03-02T08:00:15,Amber 355,356.1,OK",
    rejected: [65, 66],
    leftOut: 15,
    notes: [
      /preset \(14\.2/,
      /jumps 2 times \(first on line 31\).*mean is flattered/,
      /Only packages marked "OK".*flatters the mean/,
    ],
  },
  {
    file: "keg-scale-implied.csv",
    table: "taken: instant, weight: kg",
    asks: ["implied-decimals:weight", "gross-or-net:weight"],
    answers: { "implied-decimals:weight": "2", "gross-or-net:weight": "gross" },
    rows: 24,
    first: "2026-03-02T08:00:00,30.20",
    last: "2026-03-02T08:00:07,66.02 lb",
    notes: [/three in one second are three/, /gross: subtract the tare/, /does not say whether rejected packages/],
  },
  {
    file: "floating-hydrometer.csv",
    table: CELLAR,
    asks: ["brewery-clock", "temperature-corrected:gravity"],
    answers: { "brewery-clock": "Europe/Vienna", "temperature-corrected:gravity": "no" },
    rows: 80,
    first: "2026-03-02T09:00,1.048 SG,64.8 °F",
    last: "2026-03-03T04:45,1.012 SG,64.6 °F",
    notes: [/not corrected for temperature/, /hand sample/],
  },
  {
    file: "floating-hydrometer-ms.csv",
    table: CELLAR,
    ...{ asks: ["brewery-clock"], answers: { "brewery-clock": "UTC" }, rows: 50 },
    first: "2026-03-02T08:00,1.0484 SG,18.20",
    last: "2026-03-02T20:15,1.0215 SG,17.80",
    notes: [/corrected for temperature already: it must not be corrected again/],
  },
  {
    file: "wide-utf-16.csv",
    table: "taken: instant, temp: °C",
    ...{ asks: ["column:temp"], answers: { "column:temp": "FV2 Temp (°C)" }, rows: 48 },
    first: "2026-03-02T08:00,12.2",
    last: "2026-03-02T19:45,13.0",
  },
  {
    file: "long-units-below.csv",
    table: `${CELLAR}, vessel: text`,
    ...{ asks: ["rows:Vessel"], answers: { "rows:Vessel": "FV2" }, rows: 30, leftOut: 60 },
    first: "2026-03-02T08:00,11.9,19.2,FV2",
    last: "2026-03-12T00:00,3.0,18.9,FV2",
  },
  {
    file: "repeated-hour.csv",
    table: "taken: instant, temp: °C",
    ...{ asks: [], answers: {}, rows: 32 },
    first: "2026-10-25T00:00,18.2",
    last: "2026-10-25T06:45,19.3",
  },
  {
    file: "utc-suffixed.csv",
    table: CELLAR,
    ...{ asks: ["brewery-clock"], answers: { "brewery-clock": "Europe/Vienna" }, rows: 30 },
    first: "2026-10-25T00:00,11.21,18.2",
    last: "2026-10-25T06:15,10.32,19.3",
  },
  {
    file: "header-again.csv",
    table: "taken: instant, temp: °C, pressure: bar",
    ...{ asks: [], answers: {}, rows: 20 },
    first: "2026-03-02T08:00,18.2,0.80",
    last: "2026-03-03T03:00,63.5 °F,0.99",
    notes: [/header stands again on line 14/, /From line 14 on "Temp \(°C\)" is in °F/],
  },
  {
    file: "unit-switched-silently.csv",
    table: "taken: instant, temp: °C",
    ...{ asks: ["unit-change:Temp (°C)"], answers: { "unit-change:Temp (°C)": "yes" }, rows: 20 },
    first: "2026-03-02T08:00,18.2",
    last: "2026-03-03T03:00,63.5 °F",
  },
  {
    file: "two-batches.csv",
    table: CELLAR,
    ...{ asks: ["batch:Gravity (°P)"], answers: { "batch:Gravity (°P)": "2026-03-09T20:00/" }, rows: 30, leftOut: 30 },
    first: "2026-03-09T20:00,11.99,17.9",
    last: "2026-03-17T02:00,3.00,17.4",
  },
  {
    file: "undecided-dates.csv",
    table: CELLAR,
    ...{ asks: ["date-order:Date"], answers: { "date-order:Date": "month-first" }, rows: 9 },
    first: "2026-03-04T00:00,1.048 SG,18.2",
    last: "2026-11-04T00:00,1.012 SG,19.3",
  },
  {
    file: "undecided-figures.csv",
    table: "taken: instant, gravity: °P, volume: L",
    asks: ["decimal", "gravity:Gravity"],
    answers: { decimal: "comma", "gravity:Gravity": "GU" },
    rows: 10,
    first: "2026-03-02T00:00,12 GU,1250",
    last: "2026-03-11T00:00,3 GU,1250",
  },
  {
    file: "month-day-first.csv",
    table: CELLAR,
    ...{ asks: [], answers: {}, rows: 124 },
    first: "2026-03-02T08:00,11.99,18.2",
    last: "2026-04-02T02:00,3.00,17.6",
  },
  {
    file: "month-month-first.csv",
    table: CELLAR,
    ...{ asks: [], answers: {}, rows: 124 },
    first: "2026-03-02T08:00,11.99,18.2",
    last: "2026-04-02T02:00,3.00,17.6",
  },
];

describe("a sample", () => {
  test.each(CASES)("$file asks what it leaves open and is read as it was answered", async (one) => {
    const table = target(one.table);
    const { proposed } = await look(sample(one.file), table);
    expect(proposed.questions.map(({ about }) => about)).toEqual(one.asks);
    const read = await readProposed(sample(one.file), table, one.answers);
    const lines = linesOf(read.pages);
    expect([read.rows, lines.length, lines[0], lines.at(-1)]).toEqual([one.rows, one.rows, one.first, one.last]);
    expect(read.rejects.map(({ line }) => line)).toEqual(one.rejected ?? []);
    expect(read.leftOut.filtered).toBe(one.leftOut ?? 0);
    for (const note of one.notes ?? []) expect(read.notes.join("\n")).toMatch(note);
  });

  test("stands in the table above, whichever it is", () => {
    const folder = readdirSync(new URL("csv/", import.meta.url));
    expect(CASES.map(({ file }) => file).sort()).toEqual(folder.sort());
  });

  test("in day-first and in month-first dates gives one and the same table", async () => {
    const table = target(CELLAR);
    const [dayFirst, monthFirst] = [
      await readProposed(sample("month-day-first.csv"), table),
      await readProposed(sample("month-month-first.csv"), table),
    ];
    expect(dayFirst.columns).toEqual(monthFirst.columns);
  });

  test("makes the columns of a new table, its units taken from the header", async () => {
    const columnsOf = async (file: string): Promise<string[]> => {
      const { detection } = await look(sample(file), target("taken: instant"));
      return proposeColumns(detection, readUnit).map(({ name, label, asks }) => `${name} "${label}" : ${asks}`);
    };
    expect(await columnsOf("keller-windows-1252.csv")).toEqual([
      'taken "Taken" : instant',
      'temp "Temp" : °C',
      'extrakt "Extrakt" : °P',
    ]);
    expect(await columnsOf("checkweigher.csv")).toEqual([
      'no "No" : number',
      'taken "Taken" : instant',
      'product "Product" : text',
      'gross "Gross" : g',
      'tare "Tare" : g',
      'net "Net" : g',
      'result "Result" : text',
    ]);
    expect(await columnsOf("wide-utf-16.csv")).toContain('fv2_setpoint "FV2 Setpoint" : °C');
  });

  test("keeps every column of dates in a new table, and a time of day that has no date as text", async () => {
    const columnsOf = async (csv: string): Promise<string[]> => {
      const { detection } = await look(csv, target("taken: instant"));
      return proposeColumns(detection, readUnit).map(({ name, asks }) => `${name}: ${asks}`);
    };
    expect(await columnsOf("Sample,Received,Reported\nA,2026-03-02,2026-03-04\n")).toEqual([
      "sample: text",
      "received: instant",
      "reported: instant",
    ]);
    expect(await columnsOf("Time,pH\n08:15,4.4\n")).toEqual(["time: text", "ph: pH"]);
  });
});
