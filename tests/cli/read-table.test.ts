import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, test } from "vitest";
import { createSession } from "../../engine/session.ts";
import { call, Folder } from "./in-process.ts";

const folder = new Folder();
afterAll(() => folder.end());

const shipped = (name: string): string => fileURLToPath(new URL(`../../workbooks/${name}`, import.meta.url));
const sample = (name: string): string => fileURLToPath(new URL(`../readings/csv/${name}`, import.meta.url));

const BOOK = `gylebook 1
library 1
sheet cellar
table log
  column taken : instant
  column gravity : °P
  column temp : °C
  rows
  end
sheet second
table log
  column taken : instant
  column remark : text
  rows
    2026-03-02T08:15, "hazy, a bit"
    2026-03-03T08:05,
  end
`;

/** Every table of the shipped books that has measured columns and rows. */
const TABLES = readdirSync(shipped("."))
  .filter((name) => name.endsWith(".gyle"))
  .flatMap((name) => {
    const session = createSession(readFileSync(shipped(name), "utf-8"));
    return session.workbook.sheets.flatMap((sheet) =>
      sheet.pages.flat().flatMap((item): [string, string][] => {
        const table = item.is === "table" ? session.table(`${sheet.name}.${item.name}`) : null;
        const holds = table !== null && table.rowCount > 0 && table.columns.some(({ measured }) => measured);
        return holds ? [[table.name, name]] : [];
      }),
    );
  });

/** A book with the rows of a table left out. */
function emptied(text: string, table: string): string {
  const [sheet, name] = table.split(".");
  const lines = text.split("\n");
  const from = lines.findIndex(
    (line, at) =>
      new RegExp(`^table ${name}( |$)`).test(line) &&
      lines.findLast((one, before) => before < at && one.startsWith("sheet "))?.split(" ")[1] === sheet,
  );
  const rows = lines.indexOf("  rows", from);
  return [...lines.slice(0, rows + 1), ...lines.slice(lines.indexOf("  end", rows))].join("\n");
}

const COUNTS = /^(\d+) read: (\d+) added, (\d+) changed, (\d+) same, (\d+) rejected$/m;

/** The counts that a reading tells; fails where they do not add up. */
const countsIn = (out: string): number[] => {
  const [read = -1, ...parts] = (COUNTS.exec(out) ?? []).slice(1).map(Number);
  expect(
    parts.reduce((sum, part) => sum + part, 0),
    out,
  ).toBe(read);
  return [read, ...parts];
};

const mappingIn = (out: string): string => /^mapping: (.*)$/m.exec(out)?.[1] ?? "";

const refused = async (...parameters: string[]): Promise<string> => {
  const { status, out, error } = await call(...parameters);
  expect({ status, out, lines: error.split("\n").length - 1 }).toEqual({ status: 2, out: "", lines: 1 });
  return error;
};

describe("read", () => {
  test("brings a month of the cellar log once, and nothing the second time", async () => {
    const text = readFileSync(shipped("cellar-log.gyle"), "utf-8");
    const rows = /\n {4}2026-03-02T13:00, 65\.2[\s\S]*?(?=\n {2}end)/.exec(text)?.[0] ?? "";
    const book = folder.file("month.gyle", text.replace(rows, ""));
    const csv = shipped("cellar-log.csv");
    const first = await call("read", book, "tank", csv, "--write");
    const [read = 0, added] = countsIn(first.out);
    expect([first.status, added]).toEqual([0, read]);
    expect(read).toBeGreaterThan(600);
    const once = folder.read("month.gyle");
    const second = await call("read", book, "tank", csv, "--write");
    expect([second.status, ...countsIn(second.out)]).toEqual([0, read, 0, 0, read, 0]);
    expect(folder.read("month.gyle")).toBe(once);
  });

  test("reads by the mapping that is given, and says what is wrong with one that is none", async () => {
    const csv = folder.file(
      "two.csv",
      "When;Temp top;Temp bottom;SG\n2026-03-02 08:00;18,2;2,1;1,048\n2026-03-03 08:00;18,6;2,0;1,040\n",
    );
    const book = folder.file("as.gyle", BOOK);
    const asked = await call("read", book, "cellar.log", csv);
    expect([asked.status, asked.out.includes("Nothing was read.")]).toEqual([1, true]);
    const mapping =
      'csv utf-8 semicolon; headers "When" "Temp top" "Temp bottom" "SG"; decimal comma; column taken from "When" iso; column gravity from "SG" in "SG"; column temp from "Temp bottom" in "°C"; key taken';
    const given = await call("read", book, "cellar.log", csv, "--as", mapping, "--write");
    expect([given.status, ...countsIn(given.out)]).toEqual([0, 2, 2, 0, 0, 0]);
    expect(folder.read("as.gyle")).toContain("    2026-03-02T08:00,1.048 SG,2.1\n");
    // The mapping that is printed is the one to give again, and the one that the table keeps.
    const again = await call("read", book, "cellar.log", csv, "--as", mappingIn(given.out));
    expect(countsIn(again.out)).toEqual([2, 0, 0, 2, 0]);
    expect(countsIn((await call("read", book, "cellar.log", csv)).out)).toEqual([2, 0, 0, 2, 0]);
    expect(await refused("read", book, "cellar.log", csv, "--as", "csv utf-8 semicolons")).toContain("--as: ");
  });

  test("changes no file without --write, whatever it finds", async () => {
    const book = folder.file("dry.gyle", BOOK);
    for (const name of ["tank-logger.csv", "month-day-first.csv", "undecided-dates.csv", "checkweigher.csv"])
      await call("read", book, "cellar.log", sample(name));
    expect(folder.read("dry.gyle")).toBe(BOOK);
  });

  test("puts readings that arrive late in order of time and says so", async () => {
    const book = folder.file("late.gyle", BOOK);
    const csv = (name: string, days: readonly number[]): string =>
      folder.file(
        name,
        `Taken,Gravity (°P)\n${days.map((day) => `2026-03-${String(day).padStart(2, "0")} 08:00,${12 - day / 10}`).join("\n")}\n`,
      );
    await call("read", book, "cellar.log", csv("new.csv", [5, 6, 7]), "--write");
    const { out } = await call("read", book, "cellar.log", csv("late.csv", [2, 3, 4, 8]), "--write");
    expect(out).toContain("3 rows are older than the last one there, put in order of time.\n");
    const days = [...folder.read("late.gyle").matchAll(/2026-03-0(\d)T08:00,/g)].map(([, day]) => Number(day));
    expect(days.slice(0, 7)).toEqual([2, 3, 4, 5, 6, 7, 8]);
  });

  test.each<[what: string, parameters: string[], says: string | RegExp]>([
    ["a book that is not there", ["nowhere.gyle", "log", "month-day-first.csv"], "nowhere.gyle"],
    ["a CSV that is not there", ["BOOK", "cellar.log", "nowhere.csv"], "nowhere.csv: there is no such file."],
    ["a table that is not there", ["BOOK", "logs", "month-day-first.csv"], 'There is no table "logs".'],
    ["a name that two sheets have", ["BOOK", "log", "month-day-first.csv"], "write cellar.log or second.log."],
    ["an answer to nothing", ["BOOK", "cellar.log", "month-day-first.csv", "--answer", "yes"], /QUESTION=ANSWER/],
  ])("refuses %s with status 2 and one line", async (_, [book = "", ...rest], says) => {
    const path = folder.file("refused.gyle", BOOK);
    const parameters = rest.map((one) => (one.startsWith("month-") ? sample(one) : one));
    expect(await refused("read", book === "BOOK" ? path : book, ...parameters)).toMatch(says);
    expect(folder.read("refused.gyle")).toBe(BOOK);
  });

  test("refuses what is no table in a sentence", async () => {
    const book = folder.file("photo.gyle", BOOK);
    expect(await refused("read", book, "cellar.log", folder.file("photo.csv", "\0".repeat(600)))).toContain(
      "zero bytes",
    );
    expect(await refused("read", book, "cellar.log", folder.file("empty.csv", ""))).toContain("The file is empty.");
  });
});

describe("table", () => {
  test.each(TABLES)("writes %s of %s so that it reads back unchanged, nothing asked", async (table, name) => {
    const book = folder.file(name, readFileSync(shipped(name), "utf-8"));
    const written = await call("table", book, table);
    expect([written.status, written.error]).toEqual([0, ""]);
    const back = await call("read", book, table, folder.file("back.csv", written.out), "--anew");
    const [read, added, changed, same, rejected] = countsIn(back.out);
    expect([back.status, added, changed, same, rejected], back.out).toEqual([0, 0, 0, read, 0]);
  });

  test.each(TABLES)("writes %s of %s so that it reads back unchanged into the emptied table", async (table, name) => {
    const text = readFileSync(shipped(name), "utf-8");
    const full = folder.file(name, text);
    const written = folder.file("whole.csv", (await call("table", full, table)).out);
    const empty = folder.file(`empty-${name}`, emptied(text, table));
    expect((await call("table", empty, table)).out.trimEnd().split("\r\n")).toHaveLength(1);
    const back = await call("read", empty, table, written, "--anew", "--write");
    const [read, added, ...rest] = countsIn(back.out);
    expect([back.status, added, ...rest], back.out).toEqual([0, read, 0, 0, 0]);
    expect((await call("table", empty, table)).out).toBe((await call("table", full, table)).out);
  });

  test("has its units in the header, quotes what needs it, and is refused with status 2 for a table that is not there", async () => {
    const book = folder.file("texts.gyle", BOOK);
    expect((await call("table", book, "second.log")).out).toBe(
      'Taken,Remark\r\n2026-03-02T08:15,"hazy, a bit"\r\n2026-03-03T08:05,\r\n',
    );
    expect((await call("table", book, "cellar.log")).out).toBe("Taken,Gravity (°P),Temp (°C)\r\n");
    expect(await refused("table", book, "cellar.logs")).toContain('There is no table "cellar.logs".');
    expect(await refused("table", "nowhere.gyle", "log")).toContain("nowhere.gyle");
  });
});
