import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { existingRows } from "../../engine/readings/existing.ts";
import { readInto } from "../../engine/readings/read-into.ts";
import { sourceOf } from "../../engine/readings/source.ts";
import { look, readProposed, readUnit, sample, target } from "./support.ts";

const TABLE = target("taken: instant, temp: °C, gravity: °P, note: text");

const notes = async (csv: string | Uint8Array): Promise<string> => (await look(csv, TABLE)).proposed.notes.join("\n");
const day = (rows: readonly string[], headers = "Date,Temp (°C),Note"): string =>
  `${headers}\n${rows.map((row, at) => `2026-03-0${at + 1} 08:15,${row}`).join("\n")}\n`;

describe("a decimal comma in a file that commas part", () => {
  test("is told of where it gives rows more entries than the header, and those rows are rejected", async () => {
    const csv = day(["12,5,hazy", "12,clear"]);
    expect(await notes(csv)).toContain("Line 2 has more entries than the header, as when figures have a decimal comma");
    const { rejects } = await readProposed(csv, TABLE);
    expect(rejects.map(({ line, reason }) => [line, reason])).toEqual([
      [2, "The row has 4 entries; the header has 3."],
    ]);
  });

  test("is cautioned of where a row may fit by chance", async () => {
    const may = '"1" under "Note" on line 3 may be the decimals of the figure before it';
    expect(await notes(day(["12,hazy", "12,1", "12,5,clear"]))).toContain(may);
    // No row has too many: the words beside it alone show that a figure is odd there.
    expect(await notes(day(["12,hazy", "12,1", "12,clear"]))).toContain(may);
    const figures = day(["12,1,11,4", "12,3,11,2", "12,11"], "Date,Temp (°C),Gravity (°P)");
    expect(await notes(figures)).toContain('"11" under "Gravity (°P)" on line 4 may be the decimals');
  });

  test.each([
    ["figures with a decimal point", day(["12.1,hazy", "12,1"])],
    ["decimal commas in quotes", day(['"12,1",hazy', '"12,0",1'])],
    [
      "semicolons",
      day(["12,1;hazy", "12,0;1"]).replaceAll("08:15,", "08:15;").replace("Date,Temp (°C),", "Date;Temp (°C);"),
    ],
    ["whole figures in two columns", day(["12,11", "13,10"], "Date,Temp (°C),Gravity (°P)")],
    ["a column of counts beside words", day(["hazy,1", "clear,2"], "Date,Note,Samples")],
    ["remarks of figures alone", day(["12,1", "13,2"])],
    ["long figures among the remarks", day(["12,hazy", "12,2026"])],
    ["a row with too many words", day(["12,hazy,a", "12,clear"])],
  ])("is not seen in a file with %s", async (_, csv) => {
    expect(await notes(csv)).not.toMatch(/decimal comma/);
  });

  test("is seen in none of the samples and none of the shipped CSVs", async () => {
    const shipped = new URL("../../workbooks/", import.meta.url);
    for (const name of readdirSync(new URL("csv/", import.meta.url)))
      expect(await notes(sample(name)), name).not.toMatch(/decimal comma/);
    for (const name of readdirSync(shipped).filter((one) => one.endsWith(".csv")))
      expect(await notes(new Uint8Array(readFileSync(new URL(name, shipped)))), name).not.toMatch(/decimal comma/);
  });
});

describe("a header with fewer entries than the rows", () => {
  const csv = day(["12,1,11,4", "12,3,11,2", "12,5,11,0"], "Date,Temp (°C),Gravity (°P)");

  test("is asked about, and never taken for a row or passed over", async () => {
    const { proposed } = await look(csv, TABLE);
    const [asked] = proposed.questions;
    expect([asked?.about, asked?.choices.map(({ value, label }) => [value, label])]).toEqual([
      "header",
      [
        ["1", "line 1"],
        ["0", "none"],
      ],
    ]);
    expect(asked?.why).toContain("line 1 has 3 entries, the line below it 5");
  });

  test("that is confirmed rejects what does not fit it, line by line", async () => {
    const read = await readInto(sourceOf(csv), TABLE, existingRows([], TABLE, readUnit), readUnit, {
      answers: { header: "1" },
    });
    if (read.is !== "read") throw new Error(read.is);
    expect([read.merge.added, read.merge.rejected.map(({ line }) => line)]).toEqual([0, [2, 3, 4]]);
  });

  test("is the header where some rows do fit it", async () => {
    const { detection } = await look(day(["12,1,11,4", "12,3,11,2", "12,11"], "Date,Temp (°C),Gravity (°P)"), TABLE);
    expect([detection.shape.header.value, detection.shape.header.certain]).toEqual([1, true]);
  });
});

test("a file of a header alone asks nothing", async () => {
  const { proposed } = await look("Date,Temp (°C)\n", TABLE);
  expect([proposed.questions, proposed.notes]).toEqual([[], []]);
});
