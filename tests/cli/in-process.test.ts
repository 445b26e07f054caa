import { afterAll, describe, expect, test } from "vitest";
import { run } from "../../engine/cli/program.ts";
import { call, Folder } from "./in-process.ts";
import { SAMPLE } from "./sample.ts";
import { holdCalcJson } from "./schema.ts";

const folder = new Folder();
afterAll(() => folder.end());

/** Refused in one line on standard error, nothing on standard output; gives the line without the program's name. */
async function refused(...parameters: readonly string[]): Promise<string> {
  const { status, out, error } = await call(...parameters);
  expect({ status, out }).toEqual({ status: 2, out: "" });
  expect(error).toMatch(/^gylebook: [^\n]+\n$/);
  return error.slice("gylebook: ".length, -1);
}

const lines = (text: string): string[] => text.trimEnd().split(/\r?\n/);

describe("calc as text", () => {
  const book = folder.file(
    "words.gyle",
    `gylebook 1
library 1
batch_date = ? 2026-03-01
sheet a "Mash"
section "Malt"
grain "Malt in" = 8 kg
wrong = grain + 3 L
after = wrong * 2
drawn = ? °C
drawn_later = drawn + 1 Δ°C
strike_one = strike_temperature(rest: 66 °C, grain: 1 kg, water: 3 L, grain_temp: 20 °C)
strike_two = strike_temperature(rest: 67 °C, grain: 1 kg, water: 3 L, grain_temp: 20 °C)
what is this
sheet b
grain = 1 kg
table weighed "Weighed"
  column mass : kg by 0.1
  column twice = mass * 2
  column bad = mass + 1 L
  rows
    1.5
  end
table long
  column at : number
  rows
${Array.from({ length: 43 }, (_, at) => `    ${at}`).join("\n")}
  end
`,
  );

  test("tells beside each label its value, what it waits for, or why it has none", async () => {
    const { status, out } = await call("calc", book);
    expect(status).toBe(1);
    const printed = out.split("\n");
    expect(printed[0]).toMatch(/^line 13, column 1: syntax: /);
    for (const line of [
      /^ {2}Batch date +2026-03-01$/,
      /^ {2}Malt$/,
      /^ {2}Malt in +8 kg$/,
      /^ {2}Wrong +faulty: Mass \(kg\) and volume \(L\) cannot be added/,
      /^ {2}After +faulty because of a\.wrong$/,
      /^ {2}Drawn +still to be filled in$/,
      /^ {2}Drawn later +waiting for a\.drawn$/,
    ])
      expect(printed.filter((one) => line.test(one))).toHaveLength(1);
  });

  test("what waits for a table without a row, or for a column without an entry, is told so and is no fault", async () => {
    const log = (...rows: readonly string[]): string =>
      `gylebook 1\nlibrary 1\nsheet a\ntable log "Daily readings"\n  column taken : instant\n  column gravity : °P\n  rows\n${rows.map((row) => `    ${row}\n`).join("")}  end\nnow = last(log.gravity)\n`;
    const empty = folder.file("empty.gyle", log());
    const begun = folder.file("begun.gyle", log("2026-03-02T08:15,"));
    for (const [file, wanted] of [
      [empty, "a.log"],
      [begun, "a.log.gravity"],
    ] as const) {
      const { status, out } = await call("calc", file);
      expect([
        status,
        out
          .split("\n")
          .find((line) => line.startsWith("  Now"))
          ?.trim(),
      ]).toEqual([0, `Now           waiting for ${wanted}`]);
      const json = holdCalcJson((await call("calc", file, "--json")).out);
      expect(json.cells).toMatchObject([{ name: "a.now", state: "waiting", waitingFor: [wanted], because: null }]);
      expect(await call("check", file)).toMatchObject({ status: 0, out: "" });
    }
  });

  test("tells what to heed once on a sheet", async () => {
    const { out } = await call("calc", book);
    expect(out.match(/caution: .*scald/g)).toHaveLength(1);
  });

  test("prints a table's rows in columns, counts one row as one, and counts those past the fortieth", async () => {
    const printed = lines((await call("calc", book)).out);
    const at = printed.indexOf("  Weighed (1 row)");
    expect(printed.slice(at + 1, at + 3)).toEqual(["    Mass (kg)  Twice (kg)  Bad", "    1.5        3           –"]);
    expect(printed[at + 3]).toMatch(/^ {4}Bad: faulty: Mass \(kg\) and volume \(L\)/);
    const long = printed.indexOf("  Long (43 rows)");
    expect(printed.slice(long + 2, long + 42).map(Number)).toEqual(Array.from({ length: 40 }, (_, row) => row));
    expect(printed[long + 42]).toBe("    … and 3 more rows");
  });

  test("--set finds a line by its short name, refuses one of two sheets, none, and a formula that cannot stand", async () => {
    expect((await call("calc", book, "--set", "drawn=20 °C")).out).toMatch(/^ {2}Drawn later +21 °C$/m);
    expect((await call("calc", book, "--set", "a.grain=9 kg")).out).toMatch(/^ {2}Malt in +9 kg$/m);
    expect(await refused("calc", book, "--set", "grain=9 kg")).toBe(
      '"grain" is on more than one sheet: write a.grain or b.grain.',
    );
    expect(await refused("calc", book, "--set", "nowhere=1")).toBe('There is no line "nowhere" to set.');
    expect(await refused("calc", book, "--set", "drawn")).toBe('--set takes NAME=FORMULA, not "drawn".');
    expect(await refused("calc", book, "--set", "a.after=1 \u0000")).not.toBe("");
  });

  test("a reading that --set fills keeps its mark, written or not", async () => {
    for (const given of ["drawn=20 °C", "drawn=? 20 °C"]) {
      const { out } = await call("calc", book, "--json", "--set", given);
      const cells = (JSON.parse(out) as { cells: { name: string; shown: string; state: string }[] }).cells;
      expect(cells.find(({ name }) => name === "a.drawn")).toMatchObject({ shown: "20 °C", state: "ready" });
    }
  });

  test("formulas with -e are printed under their own names, in the lens that is asked for", async () => {
    const { status, out } = await call("calc", "-e", "? °C", "-e", "e1 + 1 Δ°C", "-e", "66 °C", "--lens", "us");
    expect(status).toBe(0);
    expect(lines(out).map((line) => line.trim().split(/ {2,}/))).toEqual([
      ["E1", "still to be filled in"],
      ["E2", "waiting for e1"],
      ["E3", "150.8 °F"],
    ]);
    const { status: faulty, out: json } = await call("calc", "-e", "1 kg + 1 L", "-e", "e1 * 2", "--json");
    expect(faulty).toBe(1);
    expect(JSON.parse(json)).toMatchObject({ cells: [{ name: "e1" }, { name: "e2", because: "e1" }] });
    expect(await refused("calc", "-e", "1", "--lens", "parsec")).toContain("as-written, metric, US, imperial");
    expect(await refused("calc", "-e", "1", "--set", "e1=2")).toContain("does not go with -e");
    expect(await refused("calc", book, "-e", "1")).toContain("not both");
    expect(await refused("calc")).toBe("Give a file, or a formula with -e.");
  });

  test("a file that is none is refused by what is wrong with it", async () => {
    expect(await refused("calc", folder.path("nowhere.gyle"))).toMatch(/nowhere\.gyle: there is no such file\.$/);
    expect(await refused("calc", folder.path("."))).toMatch(/: this is a folder\.$/);
    expect(await refused("calc", `${book}/under.gyle`)).toMatch(/: it cannot be read\.$/);
    expect(await refused("calc", folder.file("later.gyle", "gylebook 99\n"))).toContain("format 99");
  });
});

describe("check", () => {
  test("gives faults and cautions in the order of the file, each with its place, safety once on a sheet", async () => {
    const path = folder.file(
      "check.gyle",
      `gylebook 1
sheet a
one = strike_temperature(rest: 66 °C, grain: 1 kg, water: 3 L, grain_temp: 20 °C)
two = strike_temperature(rest: 67 °C, grain: 1 kg, water: 3 L, grain_temp: 20 °C)
ph = ? 9 pH within 5 to 6 pH
what is this
table weighed
  column x : kg
  column y = x + 1 L
  rows
    3 L
  end
`,
    );
    const { status, out } = await call("check", path);
    expect(status).toBe(1);
    expect(lines(out).map((line) => line.slice(path.length + 1).replace(/^(\S+ \S+).*$/, "$1"))).toEqual([
      "3:1 safety",
      "5:1 outside-within",
      "6:1 syntax",
      "9:14 unlike-units",
      "11:5 unlike-units",
    ]);
  });

  test("a book with cautions alone is no fault", async () => {
    const { status, out } = await call("check", folder.file("sample.gyle", SAMPLE));
    expect(status).toBe(0);
    expect(out).toContain("safety mash.strike_temp");
  });
});

describe("tidy", () => {
  test("--write writes what differs and refuses a file that cannot be used", async () => {
    const path = folder.file("untidy.gyle", "gylebook 1\nsheet a\nx1   =   3   kilograms\n");
    expect(await call("tidy", path)).toEqual({ status: 0, out: "gylebook 1\nsheet a\nx1 = 3 kg\n", error: "" });
    expect(await call("tidy", path, "--write")).toEqual({ status: 0, out: "", error: "" });
    expect(folder.read("untidy.gyle")).toBe("gylebook 1\nsheet a\nx1 = 3 kg\n");
    const later = folder.file("tidy-later.gyle", "gylebook 99\n");
    await refused("tidy", later, "--write");
    expect(folder.read("tidy-later.gyle")).toBe("gylebook 99\n");
  });
});

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
    expect(await refused("read", two, "nothing", csv)).toBe('There is no table "nothing".');
    expect(await refused("read", two, "readings", csv)).toBe(
      '"readings" is on more than one sheet: write log.readings or cellar.readings.',
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

describe("functions and units", () => {
  test("are listed by stage, each with what it says", async () => {
    const { out } = await call("functions");
    const printed = lines(out);
    expect(printed[0]).toBe("general");
    expect(printed).toContain("mash");
    const at = printed.findIndex((line) => line.startsWith("  strike_temperature("));
    expect(printed.lastIndexOf("mash", at)).toBeGreaterThan(printed.lastIndexOf("water", at));
    expect(printed[at + 1]).toMatch(/^ {6}[A-Z].*\.$/);
    expect(lines((await call("units")).out).length).toBeGreaterThan(250);
  });

  test("one is told with its arguments, their units, ranges and defaults, its source and its caution", async () => {
    const { out } = await call("functions", "strike_temperature");
    expect(out).toMatch(/^strike_temperature\(rest, grain, water, grain_temp.*\) {2}\[mash\]\n/);
    expect(out).toMatch(/^ {4}rest: temperature, in °C, \d+ to \d+ °C$/m);
    expect(out).toMatch(/^ {2}Gives temperature, in °C\.$/m);
    expect(out).toMatch(/^ {2}Source: ./m);
    expect(out).toMatch(/^ {2}Caution: Hot liquor/m);
    expect((await call("functions", "round")).out).toContain("halves away from zero");
  });

  test("an unknown one is refused with what was meant: by what it is searched by, else by the nearest spelling", async () => {
    expect(await refused("functions", "abw")).toContain("alcohol_by_weight");
    expect(await refused("functions", "strike_temprature")).toContain("Did you mean strike_temperature?");
    expect(await refused("functions", "qqqqq")).toBe('There is no function "qqqqq".');
    expect(await refused("units", "litters")).toContain("Did you mean liters?");
    expect(await refused("units", "qqqqq")).toBe('There is no unit "qqqqq".');
  });

  test("a unit is told with its kind and factor or scale; a name of two countries gives both", async () => {
    expect((await call("units", "hL")).out).toMatch(/^hL {2}volume {2}0\.1\n {2}also written: .*hectolitre/);
    expect((await call("units", "°F")).out).toMatch(/^°F {2}temperature {2}\S/);
    expect(JSON.parse((await call("units", "gal", "--json")).out)).toMatchObject([
      { symbol: "US gal" },
      { symbol: "imp gal" },
    ]);
  });
});

describe("a call", () => {
  test("that asks for help gets it; one without a command, or with an unknown one, is told so", async () => {
    const { status, out, error } = await call("--help");
    expect({ status, error }).toEqual({ status: 0, error: "" });
    expect(out).toContain("calc");
    expect(await refused()).toBe("give a command; gylebook --help lists them");
    expect(await refused("frobnicate")).toContain("frobnicate");
    expect(await refused("calc", "--frobnicate")).toContain("--frobnicate");
  });

  test("whose output cannot be written ends with one line and status 2", async () => {
    let error = "";
    const status = await run(["calc", "-e", "1"], {
      out: () => {
        throw new Error("no space left");
      },
      error: (text) => {
        error += text;
      },
    });
    expect({ status, error }).toEqual({ status: 2, error: "gylebook: a fault of the program itself: no space left\n" });
  });
});
