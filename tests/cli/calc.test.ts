import { afterAll, describe, expect, test } from "vitest";
import { Bench } from "./calls.ts";
import { SAMPLE } from "./sample.ts";
import { holdCalcJson } from "./schema.ts";

const bench = new Bench();
afterAll(() => bench.end());
const sample = bench.file("sample.gyle", SAMPLE);

interface CellJson {
  readonly name: string;
  readonly value?: number | string | boolean | null;
  readonly values?: readonly unknown[] | null;
  readonly unit: string | null;
  readonly kind: string;
  readonly shown: string;
  readonly state: string;
  readonly waitingFor: readonly string[];
  readonly because: string | null;
  readonly faults: readonly {
    readonly code: string;
    readonly line: number;
    readonly column: number;
    readonly length: number;
  }[];
}

function calc(...parameters: readonly string[]): {
  status: number | null;
  cells: Map<string, CellJson>;
  all: Record<string, unknown>;
} {
  const { status, out } = bench.call("calc", "--json", ...parameters);
  const all = holdCalcJson(out);
  return { status, all, cells: new Map((all.cells as CellJson[]).map((cell) => [cell.name, cell])) };
}

/** One line on standard error, nothing on standard output, exit status 2, never a stack. */
function refused(...parameters: readonly string[]): string {
  const { status, out, error } = bench.call(...parameters);
  expect({ status, out, lines: error.split("\n").length - 1 }).toEqual({ status: 2, out: "", lines: 1 });
  expect(error).not.toMatch(/^\s+at |node:internal|\.ts:\d/m);
  return error;
}

describe("the file that the language reference begins with", () => {
  const { status, cells, all } = calc(sample);

  test("is calculated: waiting cells are no fault", () => {
    expect(status).toBe(0);
    expect(all.title).toBe("Amber ale, batch 214");
    expect(all.lens).toBe("as-written");
    expect(all.faults).toEqual([]);
  });

  test.each([
    ["batch_date", "2026-03-01", null],
    ["mash.grain", 8.5, "sack"],
    ["mash.strike_water", 640, "L"],
    ["mash.grain_temp", 61, "°F"],
    ["mash.rest_target", 66.5, "°C"],
    // 640 L / (8.5 × 25 kg) = 640 / 212.5
    ["mash.mash_ratio", 3.011764705882353, "L/kg"],
    ["mash.rest_measured", null, "°C"],
    ["cellar.original", 12.1, "°P"],
    ["cellar.latest", 7.4, "°P"],
    // The changes are x − 12.1 and 7.4 − x: their mean is (7.4 − 12.1) / 2 whatever x is.
    ["cellar.mean_change", -2.35, "Δ°P"],
  ])("has %s = %s %s", (name, value, unit) => {
    const cell = cells.get(name);
    expect(cell?.unit).toBe(unit);
    if (typeof value === "number") expect(cell?.value).toBeCloseTo(value, 10);
    else expect(cell?.value).toBe(value);
  });

  test("has the strike temperature of the heat balance", () => {
    // Heat of the malt taken up by the water: grain at 61 °F = 16.11 °C, 212.5 kg at about 0.38 of water's heat, 640 L:
    // 66.5 + 212.5 × 0.38 × (66.5 − 16.11) / 640 ≈ 72.9 °C ≈ 163 °F; slaking heat and the density of hot water move it by a degree.
    const strike = cells.get("mash.strike_temp");
    expect(strike?.unit).toBe("°F");
    expect(Math.abs((strike?.value as number) - 163)).toBeLessThan(2);
    expect(strike?.shown).toMatch(/^16\d °F$/);
  });

  test("has the readings in the units of their columns", () => {
    const [table] = all.tables as {
      name: string;
      rows: number;
      columns: { name: string; unit: string | null; values: (number | string)[] }[];
    }[];
    expect(table?.name).toBe("cellar.readings");
    const [taken, gravity, temp, gone] = table?.columns ?? [];
    expect(taken?.values).toEqual(["2026-03-02T08:15", "2026-03-03T08:05", "2026-03-04T08:20"]);
    // SG 1.0415 lies between 10 °P (1.04003) and 12 °P (1.04837) of NBS Circular C440, Table 114: 10.35 °P.
    expect(gravity?.values[0]).toBeCloseTo(12.1, 10);
    expect(Math.abs((gravity?.values[1] as number) - 10.35)).toBeLessThan(0.01);
    expect(gravity?.values[2]).toBeCloseTo(7.4, 10);
    // 64.9 °F = (64.9 − 32) / 1.8 °C
    expect(temp?.values[1]).toBeCloseTo(18.27777777777778, 10);
    // (12.1 − 7.4) / 12.1 = 38.84 %
    expect(gone?.unit).toBe("%");
    expect(gone?.values[2]).toBeCloseTo(38.84297520661157, 10);
  });

  test("waits for what is not filled, by full name", () => {
    expect(cells.get("mash.rest_measured")).toMatchObject({
      state: "waiting",
      waitingFor: ["mash.rest_measured"],
      shown: "",
    });
  });

  test("is printed sheet by sheet", () => {
    const { status: exit, out } = bench.call("calc", sample);
    expect(exit).toBe(0);
    expect(out).toContain("Amber ale, batch 214");
    expect(out).toMatch(/Mash ratio +3\.01 L\/kg/);
    expect(out).toMatch(/Rest measured +still to be filled in/);
  });

  test("has no fault to check", () => {
    const { status: exit, out } = bench.call("check", sample);
    expect(exit).toBe(0);
    expect(out).toMatch(/^.*sample\.gyle:18:1 safety mash\.strike_temp: /);
  });
});

describe("a printed sheet", () => {
  const { out } = bench.call(
    "calc",
    bench.file(
      "printed.gyle",
      'gylebook 1\nsheet a\nshort = 3 kg\nlong "A label that is longer than the forty characters of a line" = 4 kg\ntable logs "Log"\n  column gravity : °P\n  column temp : °C\n  rows\n    12,5,20.1\n    12 kg, 20\n    11, 5 L\n  end\n',
    ),
  );

  test("puts a long label on a line of its own, and the values in one column", () => {
    expect(out).toMatch(
      /^ {2}Short {37}3 kg\n {2}A label that is longer than the forty characters of a line\n {44}4 kg$/m,
    );
  });

  test("tells of each bad entry its row, of a row with too many the comma, and of both once", () => {
    expect(out.split("\n").filter((line) => line.includes("faulty"))).toEqual([
      "    Gravity: faulty: Row 1: This row has 3 entries; the table takes 2, one for each measured column. A comma separates entries: if 12,5 is one figure, write 12.5.",
      "             faulty: Row 2: Mass (kg) does not fit a column of gravity (°P).",
      "    Temp: faulty: Row 3: Volume (L) does not fit a column of temperature (°C).",
    ]);
  });
});

describe("calc", () => {
  test("--set gives a line another formula, with or without its sheet", () => {
    expect(calc(sample, "--set", "mash.grain=10 sack").cells.get("mash.mash_ratio")?.value).toBeCloseTo(2.56, 12);
    const { cells } = calc(sample, "--set", "strike_water=500 L", "--set", "rest_measured=66.2 °C");
    expect(cells.get("mash.mash_ratio")?.value).toBeCloseTo(500 / 212.5, 12);
    expect(cells.get("mash.rest_measured")?.shown).toBe("66.2 °C");
  });

  test("--set of a faulty formula is a fault of that line, exit status 1", () => {
    const { status, cells } = calc(sample, "--set", "grain=8.5 L");
    expect(status).toBe(1);
    expect(cells.get("mash.strike_temp")?.faults.map(({ code }) => code)).toEqual(["wrong-argument"]);
  });

  test("--set of a name that is not there, or no assignment, is refused", () => {
    expect(refused("calc", sample, "--set", "nothing=3")).toBe('gylebook: There is no line "nothing" to set.\n');
    expect(refused("calc", sample, "--set", "strike_watr=3")).toContain("Did you mean strike_water?");
    expect(refused("calc", sample, "--set", "mash.gain=3")).toContain("Did you mean mash.grain?");
    expect(refused("calc", sample, "--set", "grain")).toContain("NAME=FORMULA");
  });

  test("-e calculates formulas with no file, named e1, e2, …", () => {
    const { status, cells } = calc(
      "-e",
      "640 L / 212.5 kg",
      "-e",
      "e1 * 2",
      "-e",
      "3 kg + 4 L",
      "-e",
      "e3 * 2",
      "-e",
      "? °C",
    );
    expect(status).toBe(1);
    expect([...cells.keys()]).toEqual(["e1", "e2", "e3", "e4", "e5"]);
    expect(cells.get("e1")).toMatchObject({ unit: "L/kg", kind: "volume per mass" });
    expect(cells.get("e2")?.value).toBeCloseTo(6.023529411764706, 12);
    expect(cells.get("e3")?.faults).toMatchObject([{ code: "unlike-units", length: 10 }]);
    expect(cells.get("e4")).toMatchObject({ state: "faulty", because: "e3" });
    expect(cells.get("e5")).toMatchObject({ state: "waiting", waitingFor: ["e5"] });
    expect(bench.call("calc", "-e", "2 + 3").out).toMatch(/5/);
  });

  test("gives truths as booleans, instants as ISO text, columns as values and nothing that JSON cannot hold", () => {
    const { cells } = calc(
      bench.file(
        "kinds.gyle",
        'gylebook 1\nsheet a\nyes_cell = 3 > 2\nday_cell = 2026-03-02\ntext_cell = "kettle"\ncolumn_cell = t1.x\nbig = 1e308 * 10\ntable t1\n  column x : kg\n  rows\n    1\n\n    2 lb\n  end\n',
      ),
    );
    expect(cells.get("a.yes_cell")?.value).toBe(true);
    expect(cells.get("a.day_cell")?.value).toBe("2026-03-02");
    expect(cells.get("a.text_cell")?.value).toBe("kettle");
    expect(cells.get("a.column_cell")?.values?.[0]).toBe(1);
    expect(cells.get("a.big")).toMatchObject({ value: null, state: "faulty" });
  });

  test("counts lines and columns from 1 in code points", () => {
    const { cells } = calc(bench.file("places.gyle", 'gylebook 1\nsheet a\nx1 "🍺🍺" = 3 kg + 4 L\n'));
    expect(cells.get("a.x1")?.faults).toMatchObject([{ line: 3, column: 11, length: 10 }]);
  });

  test("--lens shows in other units and changes no figure of the file", () => {
    const { cells, all } = calc(sample, "--lens", "US");
    expect(all.lens).toBe("US");
    expect(cells.get("mash.rest_target")).toMatchObject({ unit: "°F", shown: "151.7 °F" });
    expect(cells.get("mash.rest_target")?.value).toBeCloseTo(151.7, 10);
    expect(refused("calc", sample, "--lens", "parsec")).toContain("as-written");
  });

  test.each([
    ["no file and no formula", []],
    ["a file and a formula", [sample, "-e", "3"]],
    ["--set with formulas", ["-e", "3", "--set", "x=3"]],
    ["a file that is not there", ["nowhere.gyle"]],
    ["a folder", ["."]],
    ["an unknown option", [sample, "--nonsense"]],
  ])("refuses %s in one line", (_name, parameters) => {
    refused("calc", ...parameters);
  });

  test("refuses a file that is binary, no UTF-8 or of a later format", () => {
    refused("calc", bench.file("binary.gyle", new Uint8Array([0x67, 0, 1, 2])));
    refused("calc", bench.file("latin.gyle", new Uint8Array([0x67, 0xe9, 0x0a])));
    expect(refused("calc", bench.file("later.gyle", "gylebook 2\n"))).toContain("format 2");
    expect(refused("frobnicate")).toContain("frobnicate");
  });

  test("reads what can be read of a file with bad lines, exit status 1", () => {
    const { status, cells, all } = calc(bench.file("bad.gyle", "gylebook 1\nsheet a\n??? what\nx1 = 3 kg\n"));
    expect(status).toBe(1);
    expect(cells.get("a.x1")?.shown).toBe("3 kg");
    expect(all.faults).toMatchObject([{ code: "syntax", line: 3, column: 1 }]);
  });
});
