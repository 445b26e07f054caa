import { describe, expect, test } from "vitest";
import { existingRows } from "../../engine/readings/existing.ts";
import type { Question } from "../../engine/readings/question.ts";
import { type ReadInto, readInto } from "../../engine/readings/read-into.ts";
import { sourceOf } from "../../engine/readings/source.ts";
import { linesOf, look, readProposed, readUnit, target } from "./support.ts";

const CELLAR = target("taken: instant, gravity: °P");
/** In a book that says where it is. */
const ZONED = target("taken: instant, gravity: °P", "Europe/Vienna");
const VIENNA = { "brewery-clock": "Europe/Vienna" };

const csvOf = (header: string, entry = "2026-07-02 08:00"): string => `${header},Gravity (°P)\n${entry},12\n`;
const asked = async (csv: string): Promise<readonly Question[]> => (await look(csv, CELLAR, VIENNA)).proposed.questions;
const read = async (csv: string, zone?: string): Promise<string[]> =>
  linesOf((await readProposed(csv, CELLAR, { ...VIENNA, ...(zone === undefined ? {} : { zone }) })).pages);

describe("a zone in the header of the times", () => {
  // Vienna is two hours ahead of UTC in July (IANA time zone database, rule EU).
  test.each([
    ["Time (UTC)", "2026-07-02T10:00"],
    ["time_utc", "2026-07-02T10:00"],
    ["Time [Z]", "2026-07-02T10:00"],
    ["Time (UTC+1)", "2026-07-02T09:00"],
    ["Time (+02:00)", "2026-07-02T08:00"],
    ['"Date Time, GMT-0500"', "2026-07-02T15:00"],
    ["Time [Europe/Vienna]", "2026-07-02T08:00"],
    ["Time (America/New_York)", "2026-07-02T14:00"],
    ["Date/Time", "2026-07-02T08:00"],
  ])("that can be read holds: %s", async (header, taken) => {
    expect(await read(csvOf(header))).toEqual([`${taken},12`]);
  });

  test.each([
    ["Time (EST)", "EST", ["-05:00", "+10:00"]],
    ["Time CST", "CST", ["-06:00", "+08:00"]],
    ["Zeit (MEZ)", "MEZ", ["+01:00"]],
    ["Time (AKDT)", "AKDT", []],
  ])("that is an abbreviation is asked for: %s", async (header, name, offsets) => {
    const [one] = await asked(csvOf(header));
    expect([one?.about, one?.choices.map(({ value }) => value)]).toEqual(["zone", [...offsets, "(clock)"]]);
    expect(one?.why).toContain(`"${name}" may be one of several zones, or a clock that is changed in summer.`);
    expect(await read(csvOf(header), "-05:00")).toEqual(["2026-07-02T15:00,12"]);
    expect(await read(csvOf(header), "(clock)")).toEqual(["2026-07-02T08:00,12"]);
  });

  test("is settled where it can be seen and changed, and asked for again where the answer is none", async () => {
    const { settled } = (await look(csvOf("Time (UTC+1)"), CELLAR, VIENNA)).proposed;
    expect(settled.find(({ question }) => question.about === "zone")?.value).toBe("UTC+1");
    expect(await read(csvOf("Time (UTC+1)"), "(clock)")).toEqual(["2026-07-02T08:00,12"]);
    const { proposed } = await look(csvOf("Time (UTC+1)"), CELLAR, { ...VIENNA, zone: "Vienna" });
    expect(proposed.questions.map(({ about }) => about)).toEqual(["zone"]);
    expect(proposed.notes.join()).toContain('"Vienna" is no time zone');
  });

  test("asks what the brewery's clock shows where the book does not say it", async () => {
    const { proposed } = await look(csvOf("Time (UTC+1)"), CELLAR);
    expect(proposed.questions.map(({ about }) => about)).toEqual(["brewery-clock"]);
    expect(linesOf((await readProposed(csvOf("Time (UTC+1)"), ZONED)).pages)).toEqual(["2026-07-02T09:00,12"]);
  });

  test.each(["START", "Time (h)", "Time (hh:mm)", "Date (LOT)", "TIME WEST TANK", "Time"])(
    "is none: %s",
    async (header) => {
      expect(await read(csvOf(header))).toEqual(["2026-07-02T08:00,12"]);
    },
  );

  test("changes no time that has a zone of its own, and no date alone", async () => {
    expect(await read(csvOf("Time (EST)", "2026-07-02T08:00Z"))).toEqual(["2026-07-02T10:00,12"]);
    expect(await read(csvOf("Date (UTC)", "2026-07-02"))).toEqual(["2026-07-02T00:00,12"]);
  });
});

describe("a zone above the table", () => {
  const above = (line: string): string =>
    `Logger 7\n${line}\nTime,Gravity (°P),n\n2026-07-02 08:00,12,1\n2026-07-03 08:00,11,2\n`;

  test.each(["Time zone: UTC+1", "# Timezone = +01:00", "TZ,UTC+1", "Zeitzone: UTC+01:00"])(
    "that can be read holds: %s",
    async (line) => {
      expect(await read(above(line))).toEqual(["2026-07-02T09:00,12", "2026-07-03T09:00,11"]);
    },
  );

  test("that cannot is asked for, and the clock of the place is none", async () => {
    const [one] = await asked(above("Time zone: Eastern Standard Time"));
    expect([one?.about, one?.why]).toEqual([
      "zone",
      expect.stringContaining('Above the table stands "Time zone: Eastern Standard Time"'),
    ]);
    expect(await read(above("Time zone: local"))).toEqual(["2026-07-02T08:00,12", "2026-07-03T08:00,11"]);
  });

  test("that is another than in the kept mapping is told, and nothing is read", async () => {
    const into = (csv: string, kept?: Extract<ReadInto, { is: "read" }>): Promise<ReadInto> =>
      readInto(sourceOf(csv), ZONED, existingRows([], ZONED, readUnit), readUnit, kept && { kept: kept.mapping });
    const winter = await into(above("Time zone: UTC+1"));
    if (winter.is !== "read") throw new Error("nothing is asked");
    expect((await into(above("Time zone: UTC+1"), winter)).is).toBe("read");
    const summer = await into(above("Time zone: UTC+2"), winter);
    expect(summer.is === "asks" && summer.against).toEqual([
      'The times were in UTC+1; above the table stands "Time zone: UTC+2" now.',
    ]);
  });
});

describe("a zone behind each time", () => {
  const rows = (zones: readonly string[]): string =>
    `Time,Gravity (°P)\n${zones.map((zone, at) => `2026-10-25 02:30 ${zone},${12 - at}\n`).join("")}`;

  test("that means one offset tells the two passes through the repeated hour apart", async () => {
    const csv = rows(["CEST", "CET"]);
    expect((await look(csv, CELLAR)).proposed.questions.map(({ about }) => about)).toEqual(["brewery-clock"]);
    // Half past two in summer time is 00:30 UTC, in winter time 01:30 UTC (IANA time zone database, rule EU).
    expect(linesOf((await readProposed(csv, CELLAR, { "brewery-clock": "UTC" })).pages)).toEqual([
      "2026-10-25T00:30,12",
      "2026-10-25T01:30,11",
    ]);
  });

  test.each(["EST", "Europe/Vienna", "AKDT"])("that is not read is named, with what to do: %s", async (zone) => {
    const says = `Line 2 has "${zone}" behind its time under "Time", which is not read there: write its offset in its place, such as +02:00, or take it out and write it into the header, Time (${zone}).`;
    const { proposed } = await look(rows([zone]), CELLAR);
    expect(proposed.questions.map(({ about }) => about)).toEqual(["column:taken"]);
    expect(proposed.notes).toContain(says);
    // A new table has a column of texts for it.
    expect((await look(rows([zone]), target("time: text, gravity: °P"))).proposed.notes).toContain(says);
  });

  test("is none in a remark", async () => {
    const { proposed } = await look("Time,Remark\n2026-10-25 02:30,10:00 OK\n", target("taken: instant, remark: text"));
    expect(proposed.notes).toEqual([]);
  });
});
