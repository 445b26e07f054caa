import { afterAll, describe, expect, test } from "vitest";
import { call, Folder, lines, refused } from "./in-process.ts";

const folder = new Folder();
afterAll(() => folder.end());

const LOG = `gylebook 1
library 1
sheet log "Log"
table readings "Readings"
  column taken "Date" : instant
  column gravity : SG by 0.001
  column temp : °C
  rows
  end
`;
const HEAD = "Date,SG,Temp (°C)\n";

describe("read", () => {
  test("tells what would come and changes nothing, until it is told to write", async () => {
    const book = folder.file("log.gyle", LOG);
    const csv = folder.file("first.csv", `${HEAD}2026-03-01,1.048,18.2\n2026-03-02,1.045,hot\n2026-03-03,1.030,18.6\n`);
    const rejects = folder.path("rejects.csv");
    const dry = await call("read", book, "readings", csv);
    expect(dry.status).toBe(1);
    const [rejected, counts, mapping] = lines(dry.out);
    expect(rejected).toBe('line 3 rejected: "hot" under "Temp (°C)" is no figure.');
    expect(counts).toBe("3 read: 2 added, 0 changed, 0 same, 1 rejected");
    expect(mapping).toMatch(/^mapping: csv /);
    expect(folder.read("log.gyle")).toBe(LOG);

    const { out } = await call("read", book, "log.readings", csv, "--write", "--rejects", rejects);
    expect(out).toBe(dry.out);
    expect(folder.read("log.gyle")).toContain(
      "    2026-03-01T00:00,1.048,18.2\n    2026-03-03T00:00,1.030,18.6\n  end",
    );
    expect(lines(folder.read("rejects.csv"))).toHaveLength(2);
    expect(folder.read("rejects.csv")).toContain('3,"2026-03-02,1.045,hot"');

    // Once more brings nothing; a later export corrects one row.
    expect((await call("read", book, "readings", csv)).out).toContain("3 read: 0 added, 0 changed, 2 same, 1 rejected");
    const later = folder.file("later.csv", `${HEAD}2026-03-01,1.047,18.2\n2026-03-03,1.030,18.6\n`);
    const { status, out: corrected } = await call("read", book, "readings", later);
    expect(status).toBe(0);
    expect(corrected).toContain("line 2 corrects row 1: gravity 1.048 → 1.047\n");
    expect(corrected).toContain("2 read: 0 added, 1 changed, 1 same, 0 rejected");
  });

  test("lists what does not look like a reading among the rows that come, once, and removes nothing", async () => {
    const book = folder.file("trouble.gyle", LOG);
    const hours = [0, 1, 2, 3, 9, 10, 11, 12];
    const row = (hour: number, day = 1): string =>
      `2026-03-0${day} ${String(hour).padStart(2, "0")}:00,1.0${48 - hour},${hour === 10 ? 85 : 18.2 + hour / 10}`;
    const csv = folder.file("trouble.csv", `${HEAD}${hours.map((hour) => row(hour)).join("\n")}\n`);
    const looks = (out: string): string[] => lines(out).filter((line) => line.startsWith("look at"));
    const { out } = await call("read", book, "readings", csv, "--write");
    expect(looks(out)).toEqual([
      "look at row 5, 2026-03-01 09:00: No reading for 6 h; they usually come every 60 min.",
      expect.stringMatching(/^look at row 6, 2026-03-01 10:00, temp: .*85/),
    ]);
    expect(folder.read("trouble.gyle")).toContain("2026-03-01T10:00,1.038,85\n");
    const longer = folder.file("longer.csv", `${HEAD}${[...hours.map((hour) => row(hour)), row(13)].join("\n")}\n`);
    const later = await call("read", book, "readings", longer);
    expect(later.out).toContain("9 read: 1 added, 0 changed, 8 same, 0 rejected");
    expect(looks(later.out)).toEqual([]);
  });

  test("lists trouble in rows without a time where the table had the like before", async () => {
    const book = folder.file(
      "timeless.gyle",
      "gylebook 1\nsheet log\ntable samples\n  column sample : text\n  column temp : °C\n  rows\n    a, 18.1\n    b, 999\n    c, 18.3\n  end\n",
    );
    const csv = folder.file("timeless.csv", "Sample,Temp (°C)\nd,18.2\ne,999\nf,18.4\n");
    const { out } = await call("read", book, "samples", csv);
    expect(lines(out).filter((line) => line.startsWith("look at"))).toEqual([
      expect.stringMatching(/^look at row 5, temp: .*999/),
    ]);
  });

  test("asks what the data cannot decide, shows how to answer, and reads once it is answered", async () => {
    const book = folder.file("asked.gyle", LOG);
    const csv = folder.file("undecided.csv", `${HEAD}03/04/2026,1.048,18.2\n04/04/2026,1.045,18.4\n`);
    const { status, out } = await call("read", book, "readings", csv, "--write");
    expect(status).toBe(1);
    expect(out).toContain('  --answer "date-order:Date=day-first"   day first: 03/04 is 3 April\n');
    expect(out).toContain("Nothing was read. Answer with --answer, as shown.");
    expect(folder.read("asked.gyle")).toBe(LOG);
    const answer = (order: string) =>
      call("read", book, "readings", csv, "--write", "--answer", `date-order:Date=${order}`);
    expect((await answer("day-first")).status).toBe(0);
    expect(folder.read("asked.gyle")).toContain("2026-04-03T00:00,1.048");
    folder.file("asked.gyle", LOG);
    expect((await answer("month-first")).status).toBe(0);
    expect(folder.read("asked.gyle")).toContain("2026-03-04T00:00,1.048");
  });

  test("notices that the file is not as the kept mapping has it, and looks afresh with --anew", async () => {
    const book = folder.file("kept.gyle", LOG);
    const csv = folder.file("kept.csv", `${HEAD}2026-03-01,1.048,18.2\n`);
    expect((await call("read", book, "readings", csv, "--write")).status).toBe(0);
    const other = folder.file("other.csv", "Date,SG,Temp (°F)\n2026-03-02,1.045,50\n");
    const { status, out } = await call("read", book, "readings", other);
    expect(status).toBe(1);
    expect(out).toContain('The column "Temp (°C)" is no longer in the file.');
    expect(out).toContain("with --anew it is looked at afresh");
    expect((await call("read", book, "readings", other, "--anew", "--write")).status).toBe(0);
    // 50 °F = (50 − 32) / 1.8 = 10 °C
    const { out: json } = await call("calc", book, "--json");
    expect(JSON.parse(json)).toMatchObject({ tables: [{ columns: [{}, {}, { values: [18.2, 10] }] }] });
  });

  test("shows answers that read the changed file as they are printed", async () => {
    const book = folder.file("printed.gyle", LOG);
    const csv = folder.file("printed.csv", `${HEAD}2026-03-01,1.048,18.2\n`);
    expect((await call("read", book, "readings", csv, "--write")).status).toBe(0);
    const changed = folder.file("printed-2.csv", "Date,SG,Beer temp\n03/04/2026,1.0120,50\n");
    const { out } = await call("read", book, "readings", changed);
    expect(out).toContain('The column "Temp (°C)" is no longer in the file.');
    expect(out).toContain('  --anew --answer "unit:Beer temp=°C"   likelier\n');
    const printed = [...out.matchAll(/^ {2}(--anew) (--answer) "(.+=(?:day-first|°F))"/gm)];
    expect(printed.map(([, , , answer]) => answer)).toEqual(["date-order:Date=day-first", "unit:Beer temp=°F"]);
    const read = await call("read", book, "readings", changed, "--write", ...printed.flatMap(([, ...parts]) => parts));
    expect([read.status, lines(read.out)[0]]).toEqual([0, "1 read: 1 added, 0 changed, 0 same, 0 rejected"]);
  });

  test("reads a file of another kind afresh and says so, its questions answered as they are printed", async () => {
    const book = folder.file("kind.gyle", LOG);
    const csv = folder.file("kind.csv", `${HEAD}2026-03-01,1.048,18.2\n`);
    expect((await call("read", book, "readings", csv, "--write")).status).toBe(0);
    const other = folder.file(
      "kind-2.csv",
      "When,Extract,Beer temp °F\n2026-03-01,1.0480,64.76\n2026-03-02,1.0479,50\n",
    );
    const says = "This file is not laid out like the one before; it is read afresh.";
    const asked = await call("read", book, "readings", other, "--write");
    expect([asked.status, lines(asked.out)[0]]).toEqual([1, says]);
    expect(asked.out).not.toContain("no longer in the file");
    const [, answer = ""] = /^ {2}--answer "(.+=SG)" {3}.* {3}likelier$/m.exec(asked.out) ?? [];
    const read = await call("read", book, "readings", other, "--write", "--answer", answer);
    expect([read.status, lines(read.out).slice(0, 2)]).toEqual([
      0,
      [says, "2 read: 1 added, 0 changed, 1 same, 0 rejected"],
    ]);
    expect((await call("read", book, "readings", other)).out).not.toContain(says);
  });

  test("notices that the file is not as a mapping that is given has it, and reads nothing", async () => {
    const book = folder.file("given-changed.gyle", LOG);
    const csv = folder.file("given-changed.csv", `${HEAD}2026-03-01,1.048,18.2\n`);
    const given = lines((await call("read", book, "readings", csv)).out)[1]?.replace("mapping: ", "") ?? "";
    const other = folder.file("given-other.csv", "Date,SG,Tank temp (°C)\n2026-03-02,1.045,18.4\n");
    const { status, out } = await call("read", book, "readings", other, "--as", given, "--write");
    expect(status).toBe(1);
    expect(out).toContain('The column "Temp (°C)" is no longer in the file.');
    expect(out).toContain("with --anew in place of --as it is looked at afresh");
    const otherKind = folder.file("given-kind.csv", "When,Plato,Beer temp °C\n2026-03-02,11.2,18.4\n");
    expect(await refused("read", book, "readings", otherKind, "--as", given, "--write")).toContain(
      "laid out otherwise",
    );
    expect(folder.read("given-changed.gyle")).toBe(LOG);
    // A column that it does not draw on stops nothing, and is told of.
    const more = folder.file("given-more.csv", "Date,SG,Temp (°C),pH\n2026-03-02,1.045,18.4,4.4\n");
    const read = await call("read", book, "readings", more, "--as", given);
    expect(lines(read.out).slice(0, 3)).toEqual([
      'The column "pH" is new.',
      "1 read: 1 added, 0 changed, 0 same, 0 rejected",
      'not read: "pH"',
    ]);
  });

  test("names every column that goes nowhere, those of the table that stay empty, and rows left out", async () => {
    const book = folder.file("left.gyle", LOG);
    const csv = folder.file(
      "left.csv",
      "Reading made,Exported on,Tank,SG,Remark\n2026-03-01 08:00,2026-03-09,FV1,1.048,a\n2026-03-01 08:00,2026-03-09,FV2,1.040,b\n",
    );
    const { status, out } = await call("read", book, "readings", csv, "--answer", "rows:Tank=FV1", "--write");
    expect(status).toBe(0);
    expect(lines(out).slice(0, 4)).toEqual([
      "1 read: 1 added, 0 changed, 0 same, 0 rejected",
      "left out by the mapping: 1 row",
      'not read: "Exported on", "Remark"',
      "left empty: temp",
    ]);
    expect(folder.read("left.gyle")).toContain("    2026-03-01T08:00,1.048,\n");
  });

  test("asks rather than reads rows without their time", async () => {
    const book = folder.file("timeless.gyle", LOG);
    const csv = folder.file("timeless.csv", "When,SG\n46083.34,1.048\n46084.5,1.040\n");
    const { status, out } = await call("read", book, "readings", csv, "--write");
    expect([status, out]).toEqual([1, expect.stringContaining('"When" holds no dates that can be read: 46083.34.')]);
    expect(folder.read("timeless.gyle")).toBe(LOG);
    const answered = await call("read", book, "readings", csv, "--answer", "column:taken=(none)");
    expect([answered.status, answered.out]).toEqual([0, expect.stringContaining('not read: "When"')]);
  });

  test("keeps no mapping from a file that holds no row to read", async () => {
    const book = folder.file("bare.gyle", LOG);
    for (const rows of ["", "2026-03-01,1.048\n"]) {
      const { out } = await call("read", book, "readings", folder.file("bare.csv", HEAD + rows), "--write");
      expect(out).toContain("The file holds no row that can be read.");
      expect(folder.read("bare.gyle")).toBe(LOG);
    }
  });

  test("lists twenty corrections and rejects and says how many more there are", async () => {
    const book = folder.file("many.gyle", LOG);
    const csv = (name: string, gravity: string): string => {
      const day = (at: number): string => `2026-03-${String(at + 1).padStart(2, "0")}`;
      const rows = Array.from({ length: 25 }, (_, at) => `${day(at)},${gravity},18.2\n${day(at)} 12:00,foam,18.2\n`);
      return folder.file(name, HEAD + rows.join(""));
    };
    await call("read", book, "readings", csv("many-1.csv", "1.048"), "--write");
    const told = lines((await call("read", book, "readings", csv("many-2.csv", "1.047"))).out);
    expect(told.filter((line) => line.includes(" corrects row "))).toHaveLength(20);
    expect(told.filter((line) => line.includes(" rejected: "))).toHaveLength(20);
    expect(told).toContain("and 5 more corrections");
    expect(told).toContain("and 5 more rejected; --rejects FILE writes all of them");
  });

  test("refuses an answer that comes to nothing, with what is asked and what answers it", async () => {
    const book = folder.file("idle.gyle", LOG);
    const csv = folder.file("idle.csv", `${HEAD}03/04/2026,1.048,18.2\n04/04/2026,1.045,18.4\n`);
    const answer = (...answers: string[]) =>
      refused("read", book, "readings", csv, "--write", ...answers.flatMap((one) => ["--answer", one]));
    expect(await answer("date-order:Date=dayfirst")).toBe(
      '--answer: "date-order:Date" takes "day-first" or "month-first", not "dayfirst".',
    );
    expect(await answer("date-order:Datum=day-first")).toMatch(
      /^--answer: the file does not ask "date-order:Datum"\. It asks "date-order:Date" \("day-first" or "month-first"\)\. .*"unit:Temp \(°C\)"/,
    );
    expect(await answer("date-order:Date=day-first", "tank=FV1")).toContain('"tank". It leaves nothing open.');
    expect(folder.read("idle.gyle")).toBe(LOG);
    // What the kept mapping was answered already may be said again on a day that does not ask it.
    const day = ["--answer", "date-order:Date=day-first", "--write"];
    expect((await call("read", book, "readings", csv, ...day)).status).toBe(0);
    const iso = folder.file("idle-iso.csv", `${HEAD}25/04/2026,1.040,18.2\n`);
    expect((await call("read", book, "readings", iso, ...day)).status).toBe(0);
  });

  test("takes an answer beside the kept mapping, and asks again where it is no answer", async () => {
    const book = folder.file("beside.gyle", LOG);
    const head = "Date,Tank,SG,Temp (°C)\n";
    const monday = folder.file("beside-1.csv", `${head}2026-03-01,FV1,1.048,18.2\n`);
    const tuesday = folder.file("beside-2.csv", `${head}2026-03-02,FV1,1.044,18.2\n2026-03-03,FV2,1.020,18.2\n`);
    await call("read", book, "readings", monday, "--write");
    expect((await call("read", book, "readings", tuesday, "--write")).out).toContain('--answer "rows:Tank=FV1"');
    expect(await refused("read", book, "readings", tuesday, "--answer", "rows:Tank=FV3")).toContain('"FV1" or "FV2"');
    await call("read", book, "readings", tuesday, "--answer", "rows:Tank=FV1", "--write");
    expect(folder.read("beside.gyle")).toContain(
      "    2026-03-01T00:00,1.048,18.2\n    2026-03-02T00:00,1.044,18.2\n  end",
    );
    const unit = await call("read", book, "readings", tuesday, "--answer", "unit:Temp (°C)=kg");
    expect([unit.status, lines(unit.out)[0]]).toEqual([1, '"kg" is no unit for "Temp".']);
  });

  test("tells line, entry, column and choices of a text that is none of them", async () => {
    const book = folder.file(
      "choices.gyle",
      'gylebook 1\nlibrary 1\nsheet lab\ntable samples\n  column sample : text\n  column verdict : text within "OK", "LOW", "HIGH"\n  rows\n  end\n',
    );
    const csv = folder.file("choices.csv", "Sample,Verdict\nA,OK\nB,okay\nC,low\nD,-\n");
    const { status, out } = await call("read", book, "samples", csv, "--answer", "rows:Verdict=(all)", "--write");
    expect([status, lines(out)[0]]).toEqual([
      1,
      'line 3 rejected: "okay" under "Verdict" is not one of "OK", "LOW" or "HIGH".',
    ]);
    expect(folder.read("choices.gyle")).toContain("    A,OK\n    C,low\n    D,\n  end");
    expect((await call("check", book)).out).toBe("");
  });

  test("knows the rows that are there by their keys, though one among them cannot be read", async () => {
    const rows = "    2026-03-01, 1.048, 18.2\n    yesterday, 1.046, 18.2\n    2026-03-02, 1.045, warm\n";
    const book = folder.file("unreadable.gyle", LOG.replace("  end", `${rows}  end`));
    const csv = folder.file("unreadable.csv", `${HEAD}2026-03-01,1.048,18.2\n2026-03-02,1.045,18.4\n`);
    const { out } = await call("read", book, "readings", csv);
    expect(lines(out).slice(0, 2)).toEqual([
      "line 3 corrects row 3: temp warm → 18.4",
      "2 read: 0 added, 1 changed, 1 same, 0 rejected",
    ]);
  });

  test("takes a table's label where only one has it, and names the tables there are, the nearest first", async () => {
    const log = LOG.replace('table readings "Readings"', 'table tank "FV 2, hourly"');
    const daily = log
      .replace("gylebook 1\nlibrary 1\nsheet log", "sheet day")
      .replace('tank "FV 2, hourly"', 'daily "FV 2, daily"');
    const book = folder.file("labels.gyle", `${log}${daily}${log.replace(/^[\s\S]*?sheet log/, "sheet other")}`);
    const csv = folder.file("labels.csv", `${HEAD}2026-03-01,1.048,18.2\n`);
    const added = "1 read: 1 added, 0 changed, 0 same, 0 rejected";
    expect(lines((await call("read", book, "fv 2,  Daily", csv)).out)[0]).toBe(added);
    expect(lines((await call("table", book, "FV 2, daily")).out)[0]).toBe("Date,Gravity (SG),Temp (°C)");
    expect(await refused("read", book, "FV 2, hourly", csv)).toBe(
      'More than one table is called "FV 2, hourly": write log.tank or other.tank.',
    );
    expect(await refused("read", book, "daly", csv)).toBe(
      'There is no table "daly". The book has day.daily ("FV 2, daily"), log.tank ("FV 2, hourly"), other.tank ("FV 2, hourly").',
    );
    // A name goes before a label that reads alike.
    const named = folder.file("named.gyle", `${log}${daily.replace("FV 2, daily", "tank")}`);
    expect((await call("read", named, "TANK", csv, "--write")).status).toBe(0);
    expect(folder.read("named.gyle").indexOf("2026-03-01T00:00")).toBeLessThan(
      folder.read("named.gyle").indexOf("sheet day"),
    );
    const bare = folder.file("bare-book.gyle", "gylebook 1\nlibrary 1\nsheet a\nb = 1\n");
    expect(await refused("read", bare, "log", csv)).toBe('There is no table "log". The book has no table.');
  });

  test("a mapping that is given is used in place of the kept one", async () => {
    const book = folder.file("given.gyle", LOG);
    const csv = folder.file("given.csv", `${HEAD}2026-03-01,1.048,18.2\n`);
    const [, mapping = ""] = lines((await call("read", book, "readings", csv)).out);
    const given = mapping.replace("mapping: ", "");
    const { out } = await call("read", book, "readings", csv, "--as", given);
    expect(lines(out)).toEqual(["1 read: 1 added, 0 changed, 0 same, 0 rejected", mapping]);
    expect(await refused("read", book, "readings", csv, "--as", "nonsense")).toMatch(/^--as: .*nonsense/);
  });

  test("refuses an unknown table, an answer of another form, and what it cannot read or write", async () => {
    const two = folder.file("two.gyle", `${LOG}${LOG.replace(/^[\s\S]*?sheet log/, "sheet cellar")}`);
    const csv = folder.file("some.csv", `${HEAD}2026-03-01,1.048,18.2\n2026-03-02,hot,18\n`);
    expect(await refused("read", two, "nothing", csv)).toBe(
      'There is no table "nothing". The book has log.readings ("Readings"), cellar.readings ("Readings").',
    );
    expect(await refused("read", two, "readings", csv)).toBe(
      'More than one table is called "readings": write log.readings or cellar.readings.',
    );
    expect(await refused("read", two, "log.readings", csv, "--answer", "yes")).toContain("QUESTION=ANSWER");
    expect(await refused("read", two, "log.readings", folder.path("none.csv"))).toMatch(/there is no such file\.$/);
    expect(await refused("read", two, "log.readings", folder.path("."))).toMatch(/it cannot be read\.$/);
    expect(await refused("read", two, "log.readings", folder.file("empty.csv", ""))).toContain("empty.csv: ");
    const { status, error } = await call(
      "read",
      two,
      "log.readings",
      csv,
      "--rejects",
      folder.path("no/such/place.csv"),
    );
    expect({ status, error }).toEqual({
      status: 2,
      error: `gylebook: ${folder.path("no/such/place.csv")}: it cannot be written.\n`,
    });
  });
});

describe("table", () => {
  test("writes a table that reads back unchanged", async () => {
    const book = folder.file(
      "table.gyle",
      LOG.replace("  end", "    2026-03-01, 1.048, 64 °F\n    2026-03-02, , 18\n  end"),
    );
    const { status, out } = await call("table", book, "readings");
    expect(status).toBe(0);
    expect(lines(out)[0]).toBe("Date,Gravity (SG),Temp (°C)");
    const { out: again } = await call("read", book, "readings", folder.file("table.csv", out));
    expect(again).toContain("2 read: 0 added, 0 changed, 2 same, 0 rejected");
    await refused("table", book, "nothing");
  });
});
