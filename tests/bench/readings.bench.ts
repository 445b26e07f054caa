import Papa from "papaparse";
import { bench, describe } from "vitest";
import { isoOf } from "../../engine/readings/clock.ts";
import { detect } from "../../engine/readings/detect.ts";
import { proposeMapping } from "../../engine/readings/propose.ts";
import { readCsv } from "../../engine/readings/read.ts";
import { sourceOf } from "../../engine/readings/source.ts";
import { knowsUnit, readUnit, target } from "../readings/support.ts";

const ROWS = 100_000;
const table = target("taken: instant, tank: text, gravity: °P, temp: °C, setpoint: °C, pressure: bar");

function loggerCsv(rows: number): string {
  const lines = ["Taken,Tank,Gravity (°P),Temp (°F),Setpoint (°F),Pressure (psi)"];
  for (let row = 0; row < rows; row += 1) {
    const figures = [12.1 - (row % 1000) * 0.01, 64 + (row % 70) / 10, 64.4, 11 + (row % 30) / 10];
    lines.push(
      `${isoOf(1_772_323_200 + row * 60)},FV${1 + (row % 3)},${figures.map((figure) => figure.toFixed(2)).join(",")}`,
    );
  }
  return `${lines.join("\n")}\n`;
}

const csv = loggerCsv(ROWS);
const detection = await detect(sourceOf(csv), knowsUnit);
const { mapping } = proposeMapping(detection, table, readUnit);

describe(`${ROWS} rows × 6 columns`, () => {
  bench("Papa Parse alone, into strings", () => {
    Papa.parse(csv);
  });
  bench("into typed columns and a workbook's rows", async () => {
    await readCsv(sourceOf(csv), mapping, table, readUnit);
  });
  bench("looking the whole file through", async () => {
    await detect(sourceOf(csv), knowsUnit);
  });
});
