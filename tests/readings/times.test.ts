import { describe, expect, test } from "vitest";
import { detect } from "../../engine/readings/detect.ts";
import type { Question } from "../../engine/readings/question.ts";
import { recheckMapping } from "../../engine/readings/recheck.ts";
import { sourceOf } from "../../engine/readings/source.ts";
import { knowsUnit, linesOf, look, readProposed, readUnit, target } from "./support.ts";

const CELLAR = target("taken: instant, gravity: °P, temp: °C");

const asked = async (csv: string): Promise<readonly Question[]> => (await look(csv, CELLAR)).proposed.questions;

const names = (questions: readonly Question[]): string[] => questions.map(({ about }) => about);

describe("the person who reads a file's times in", () => {
  test("is asked about dates of which some are day-first and others month-first", async () => {
    const [one] = await asked("Taken,Gravity (°P)\n13/04/2026,12\n04/14/2026,11\n");
    expect([one?.about, one?.choices.map(({ value }) => value)]).toEqual([
      "date-order:Taken",
      ["day-first", "month-first"],
    ]);
  });

  test("is not asked about 03/04 where the weekday before it tells the order", async () => {
    // 2026-04-03 is a Friday, 2026-03-04 a Wednesday.
    for (const [weekday, iso] of [
      ["Fri", "2026-04-03"],
      ["Mi.", "2026-03-04"],
    ]) {
      const csv = `Taken,Gravity (°P)\n${weekday} 03/04/2026 08:15,12\n`;
      expect(names(await asked(csv))).toEqual([]);
      expect(linesOf((await readProposed(csv, CELLAR)).pages)).toEqual([`${iso}T08:15,12,`]);
    }
  });

  test("is not asked about dates in digits alone under a header of times; elsewhere they are figures", async () => {
    const apart = "Date,Time,Gravity (°P)\n20260302,08:15,12\n20260303,08:15,11.5\n";
    expect(names(await asked(apart))).toEqual([]);
    expect(linesOf((await readProposed(apart, CELLAR)).pages)).toEqual([
      "2026-03-02T08:15,12,",
      "2026-03-03T08:15,11.5,",
    ]);
    const together = "Taken,Gravity (°P)\n20260302081500,12\n20260303081500,11.5\n";
    expect(linesOf((await readProposed(together, CELLAR)).pages)).toEqual([
      "2026-03-02T08:15,12,",
      "2026-03-03T08:15,11.5,",
    ]);
    const serial = "Taken,Serial,Net (g)\n2026-03-02T08:15,20260302,355\n";
    const table = target("taken: instant, serial: number, net: g");
    expect(linesOf((await readProposed(serial, table)).pages)).toEqual(["2026-03-02T08:15,20260302,355"]);
  });

  test("is asked about a clock that never passes one o'clock", async () => {
    const rows = ["11:30", "12:00", "12:30", "1:00", "1:30"].map((time, at) => `2026-03-02 ${time},${12 - at}`);
    const csv = `Taken,Gravity (°P)\n${rows.join("\n")}\n`;
    expect(names(await asked(csv))).toEqual(["clock:Taken"]);
    expect((await readProposed(csv, CELLAR, { "clock:Taken": "24-hour" })).rows).toBe(5);
    const { proposed } = await look(csv, CELLAR, { "clock:Taken": "12-hour" });
    expect(names(proposed.questions)).toEqual(["clock:Taken"]);
    expect(proposed.notes.join()).toContain("Export them with a 24-hour clock, or with a.m. and p.m. behind them.");
  });

  test("is asked about rows with and without a zone, and about two columns of times", async () => {
    const mixed = "Taken,Gravity (°P)\n2026-03-02T08:00Z,12\n2026-03-02T09:00,11.5\n";
    expect(names(await asked(mixed))).toEqual(["zone", "brewery-clock"]);
    const zoned = target("taken: instant, gravity: °P", "Europe/Vienna");
    const read = await readProposed(mixed, zoned, { zone: "Europe/Vienna" });
    expect(linesOf(read.pages)).toEqual(["2026-03-02T09:00,12", "2026-03-02T09:00,11.5"]);
    const two = "Local time,UTC time,Gravity (°P)\n2026-03-02 09:00,2026-03-02 08:00,12\n";
    expect(names(await asked(two))).toEqual(["time"]);
  });

  test("stays open when its answer is no zone", async () => {
    const csv = "Taken,Gravity (°P)\n2026-03-02T08:00Z,12\n";
    const { proposed } = await look(csv, CELLAR, { "brewery-clock": "Vienna" });
    expect(names(proposed.questions)).toEqual(["brewery-clock"]);
    expect(proposed.notes.join()).toContain('"Vienna" is no time zone');
  });
});

describe("a date without its time of day", () => {
  const rows = (...times: readonly string[]): string =>
    `Date,Time,Temp (°C)\n${times.map((time, at) => `2026-03-0${at + 2},${time},18.${at}\n`).join("")}`;

  test("is rejected among rows that have one, and is midnight where none has", async () => {
    const read = await readProposed(rows("08:15", "", "08:20"), CELLAR);
    expect(linesOf(read.pages)).toEqual(["2026-03-02T08:15,,18.0", "2026-03-04T08:20,,18.2"]);
    expect(read.rejects).toEqual([
      { line: 3, row: "2026-03-03,,18.1", reason: 'There is no time of day under "Time".' },
    ]);
    expect(linesOf((await readProposed(rows("", ""), CELLAR)).pages)).toEqual([
      "2026-03-02T00:00,,18.0",
      "2026-03-03T00:00,,18.1",
    ]);
  });

  test("is no date at all where its date is none, and is whole where the time stands with the date", async () => {
    const read = await readProposed(
      "Date,Time,Temp (°C)\n2026-03-02,08:15,18.0\n2026-03-32,,18.1\n2026-03-04 09:30,,18.2\n,,18.3\n",
      CELLAR,
    );
    expect(read.rejects.map(({ reason }) => reason)).toEqual([
      '"2026-03-32 " under "Date and Time" is no date and time (year-month-day).',
      'There is no time under "Date and Time".',
    ]);
    expect(linesOf(read.pages)[1]).toBe("2026-03-04T09:30,,18.2");
  });

  test("is told of, and nothing read, where a kept mapping has a time of day and the file has none", async () => {
    const { mapping } = await readProposed(rows("08:15", "08:20"), CELLAR);
    const recheck = async (csv: string): Promise<readonly string[]> =>
      recheckMapping(mapping, await detect(sourceOf(csv), knowsUnit), CELLAR, readUnit).against;
    expect(await recheck(rows("", ""))).toEqual(['There is no time of day under "Time" any more.']);
    expect(await recheck(rows("08:30", ""))).toEqual([]);
    expect(await recheck(rows())).toEqual([]);
  });
});
