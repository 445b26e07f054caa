import { afterAll, describe, expect, test } from "vitest";
import { run } from "../../engine/cli/program.ts";
import { call, Folder, lines, refused } from "./in-process.ts";
import { SAMPLE } from "./sample.ts";
import { holdCalcJson } from "./schema.ts";

const folder = new Folder();
afterAll(() => folder.end());

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

  test("what a log that has begun has too few entries for is told behind what is waited for", async () => {
    const file = folder.file(
      "few.gyle",
      "gylebook 1\nlibrary 1\nsheet a\ntable log\n  column taken : instant\n  column gravity : °P\n  rows\n    2026-03-02T08:15, 12.1\n  end\nscatter = spread(log.gravity)\n",
    );
    const { status, out } = await call("calc", file);
    expect(status).toBe(0);
    expect(out).toContain("waiting for a.log: a spread needs at least two entries\n");
    const json = holdCalcJson((await call("calc", file, "--json")).out);
    expect(json.cells).toMatchObject([
      { state: "waiting", waitingFor: ["a.log"], tooFew: "A spread needs at least two entries.", faults: [] },
    ]);
    expect(await call("check", file)).toMatchObject({ status: 0, out: "" });
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
