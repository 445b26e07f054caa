import { afterAll, describe, expect, test } from "vitest";
import { Bench } from "./calls.ts";
import { SAMPLE } from "./sample.ts";

const bench = new Bench();
afterAll(() => bench.end());

const refusedWith2 = (...parameters: readonly string[]): string => {
  const { status, out, error } = bench.call(...parameters);
  expect({ status, out, lines: error.split("\n").length - 1 }).toEqual({ status: 2, out: "", lines: 1 });
  return error;
};

describe("check", () => {
  test("prints faults as file:line:column code message, in the order of the file", () => {
    const path = bench.file("faulty.gyle", "gylebook 1\nsheet a\nx1 = 3 kg + 4 L\nx2 = x1 * 2\nx3 = 6 gal\nx4 = x3\n");
    const { status, out } = bench.call("check", path);
    expect(status).toBe(1);
    expect(out.trimEnd().split("\n")).toEqual([
      `${path}:3:6 unlike-units Mass (kg) and volume (L) cannot be added. To turn volume into mass, multiply by a density.`,
      `${path}:5:8 ambiguous-unit "gal" is 3.785 L in the US and 4.546 L in imperial measure. Write US gal or imp gal.`,
    ]);
  });

  test("tells a row with too many entries once, and which comma is the suspect", () => {
    const path = bench.file(
      "ragged.gyle",
      "gylebook 1\nsheet a\ntable logs\n  column taken : instant\n  column gravity : °P\n  column temp : °C\n  rows\n    2026-03-02,12,5,20.1\n  end\n",
    );
    expect(bench.call("check", path).out).toBe(
      `${path}:8:5 column-lengths Row 1: This row has 4 entries; the table takes 3, one for each measured column. A comma separates entries: if 12,5 is one figure, write 12.5.\n`,
    );
    expect(bench.call("tidy", path).out).toBe(bench.read(path));
  });

  test("takes several files and refuses one that is not there", () => {
    const path = bench.file("fine.gyle", "gylebook 1\nsheet a\nx1 = 3 kg\n");
    expect(bench.call("check", path, path)).toMatchObject({ status: 0, out: "", error: "" });
    expect(refusedWith2("check", "nowhere.gyle")).toContain("nowhere.gyle");
    refusedWith2("check");
  });
});

describe("tidy", () => {
  const untidy = SAMPLE.replace("= 640 L", "=   640   litres");

  test("prints the tidy form and leaves the file as it is", () => {
    const path = bench.file("untidy.gyle", untidy);
    const { status, out } = bench.call("tidy", path);
    expect(status).toBe(0);
    expect(out).toContain("strike_water = 640 L\n");
    expect(bench.read(path)).toBe(untidy);
  });

  test("--write writes it back; once more changes nothing", () => {
    const path = bench.file("written.gyle", untidy);
    expect(bench.call("tidy", path, "--write")).toMatchObject({ status: 0, out: "" });
    const once = bench.read(path);
    expect(once).toContain("strike_water = 640 L\n");
    bench.call("tidy", path, "--write");
    expect(bench.read(path)).toBe(once);
    refusedWith2("tidy", "nowhere.gyle");
  });
});

const STAGES = [
  "general",
  "water",
  "mash",
  "boil",
  "gravity",
  "fermentation",
  "carbonation",
  "packaging",
  "heat",
  "cleaning",
  "account",
];

describe("functions and units", () => {
  test("functions --json has the keys of the language reference for every function", () => {
    const { status, out } = bench.call("functions", "--json");
    expect(status).toBe(0);
    const all = JSON.parse(out) as Record<string, unknown>[];
    expect(all.length).toBeGreaterThan(50);
    for (const of of all) {
      expect(Object.keys(of)).toEqual(["name", "stage", "says", "arguments", "result", "source", "range", "caution"]);
      expect(STAGES).toContain(of.stage);
      expect(Object.keys(of.result as object)).toEqual(["kind", "unit"]);
      for (const argument of of.arguments as object[])
        expect(Object.keys(argument)).toEqual(["name", "kind", "unit", "default", "low", "high", "column"]);
    }
    const names = all.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
  });

  test("units --json has the keys of the language reference for every unit", () => {
    const { status, out } = bench.call("units", "--json");
    expect(status).toBe(0);
    for (const unit of JSON.parse(out) as Record<string, unknown>[]) {
      const held = "factor" in unit ? "factor" : "scale";
      expect(Object.keys(unit)).toEqual(["symbol", "names", "kind", held, "source"]);
      expect(unit.source).not.toBe("");
    }
  });

  test("one of them is told by its name, an unknown one refused with the nearest", () => {
    expect(bench.call("functions", "strike_temperature").out).toContain("Source:");
    expect(bench.call("units", "hL").out).toContain("source:");
    expect(JSON.parse(bench.call("units", "gal", "--json").out)).toMatchObject([
      { symbol: "US gal" },
      { symbol: "imp gal" },
    ]);
    expect(refusedWith2("functions", "strike_temprature")).toContain("strike_temperature");
    expect(refusedWith2("units", "litters")).toContain("liters");
  });

  test("help is no fault, no command is one", () => {
    expect(bench.call("--help")).toMatchObject({ status: 0, error: "" });
    refusedWith2();
  });
});
