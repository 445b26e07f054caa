import { describe, expect, test } from "vitest";
import { entryText, quoteEntry, readRows } from "../../engine/parser/csv.ts";
import { readStatements } from "../../engine/parser/file.ts";
import { scanUnitNames } from "../../engine/parser/lines.ts";
import { createParser } from "../../engine/parser/parser.ts";
import { printCellLine } from "../../engine/parser/print.ts";
import { tidyStatement } from "../../engine/parser/tidy.ts";
import type { Statement } from "../../engine/parser/tree.ts";
import { show, speller } from "./show.ts";

const parser = createParser(speller);
const read = (text: string): readonly Statement[] => {
  const statements = readStatements(text, parser);
  expect(statements.map(({ source }) => source).join("")).toBe(text);
  return statements;
};
const kinds = (text: string): string[] => read(text).map(({ is, faults }) => (faults.length > 0 ? `${is}!` : is));
const tidy = (text: string): string =>
  read(text)
    .map((each) => tidyStatement(each, parser, (spelling) => (spelling === "degC" ? "°C" : spelling)))
    .join("");

describe("a file", () => {
  test("is read statement by statement", () => {
    const text =
      'gylebook 1\nlibrary 2\ntitle "Amber"\nlens as-written\nzone +01:00\ngal means US gal\nunit sack = 25 kg\nfunction share(a, b) = a / b\n\nsheet mash "Mash"\n> Scalds.\nsection "Heat"\ngrain "Malt in" = 8 sack # full\n';
    expect(kinds(text)).toEqual(
      "format library title lens zone means unit function gap sheet prose section cell".split(" "),
    );
    expect(read(text)[12]).toMatchObject({ name: "grain", label: "Malt in", formula: " 8 sack # full" });
    expect(read(text)[7]).toMatchObject({ name: "share", parameters: ["a", "b"], formula: " a / b" });
    expect(scanUnitNames(text)).toEqual({ names: ["sack"], means: [{ word: "gal", unit: "US gal" }] });
  });

  test("takes structural words as names where an = follows", () => {
    expect(kinds('sheet = 1\ntable "T" = 2\nend = 3\nrows = 4\nunit = 5\ntitle "x" = 6\n')).toEqual(
      Array(6).fill("cell"),
    );
  });

  test("continues a statement inside open parentheses only, and loses one cell to an unclosed one", () => {
    const text = 'a = f(1, # note (\n  "(", 2)\nb = f(1,\n  2\nc = 3\nd = (4\nsheet s\n';
    expect(kinds(text)).toEqual(["cell", "cell", "cell", "cell", "sheet"]);
    expect(read(text)[1]).toMatchObject({ formula: " f(1,\n  2" });
  });

  test("keeps what it cannot read, with a fault", () => {
    expect(kinds("grain 8.5 kg\n???\nSheet mash\nend\ncolumn x : kg\nsheet\n\0\x01\n1 = 2\n")).toEqual(
      Array(8).fill("unread!"),
    );
  });

  test("is given back exactly whatever its line ends, byte-order mark and last line", () => {
    for (const end of ["\n", "\r\n", "\r"]) {
      const text = `\ufeffgylebook 1${end}sheet s${end}${end}a = 1${end}table t${end}column c : kg${end}rows${end}1${end}end${end}b = 2`;
      expect(kinds(text)).toEqual(["format", "sheet", "gap", "cell", "table", "cell"]);
    }
    expect(kinds("")).toEqual([]);
  });

  test("ends a plot before the first line that is not its own", () => {
    const [plot, gap, cell] = read('plot "P"\n  across t.taken\n\n  line t.temp\n  line t.gravity\n\nline = 5\n');
    expect(plot).toMatchObject({ is: "plot", label: "P", across: { parts: [{ text: "t" }, { text: "taken" }] } });
    expect(plot?.is === "plot" && plot.lines.map(show)).toEqual(["t.temp", "t.gravity"]);
    expect([gap?.is, cell?.is]).toEqual(["gap", "cell"]);
  });
});

describe("a table", () => {
  const TABLE =
    'table readings "Daily"\n  column taken : instant\n  column gravity "SG" : °P by 0.1 within -1 to 20\n  column gone = share(a - gravity,\n    a) as %\n  rows\n    2026-03-02, 12.1\n  end\n';
  test("holds its columns and rows", () => {
    const [table] = read(TABLE);
    expect(table?.faults).toEqual([]);
    if (table?.is !== "table") throw new Error("no table");
    expect(table.columns.map(({ name, label }) => [name, label])).toEqual([
      ["taken", null],
      ["gravity", "SG"],
      ["gone", null],
    ]);
    expect(table.columns[1]?.measured).toMatchObject({
      asks: { is: "unit" },
      by: { text: "0.1" },
      within: { is: "range" },
    });
    expect(table.columns[2]?.formula?.expression.node).toBe("as");
    expect(table.rows).toBe("    2026-03-02, 12.1\n");
    expect(table.source.slice(table.rowsStart)).toMatch(/^ {4}2026/);
    for (const each of table.columns)
      expect(table.source.slice(each.nameSpan.start, each.nameSpan.end)).toBe(each.name);
  });

  test("without its end is read up to the next statement, and told", () => {
    expect(kinds("table t\n  column c : kg\nsheet s\n")).toEqual(["table!", "sheet"]);
    expect(kinds("table t\n  rows\n 1\na = 2\nb = 3\n")).toEqual(["table!", "cell", "cell"]);
    expect(kinds("table t\n rows\n 1\nsheet s\ntable u\n column c : kg\n rows\n 2\n end\nb = 3\n")).toEqual([
      "table!",
      "sheet",
      "table",
      "cell",
    ]);
    expect(kinds("table t\n rows\n 1\n 2")).toEqual(["table!"]);
  });

  test("takes rows that look like statements as data when its end follows", () => {
    expect(kinds("table t\n column c : text\n rows\n table salt\n a = 1\n end\nb = 2\n")).toEqual(["table", "cell"]);
  });

  test("tells of lines and columns that it cannot read, and reads on", () => {
    const [table] = read("table t\n  column a\n  nonsense here\n  column b : °C\n  rows\n  end\n");
    expect(table?.faults.map(({ code }) => code)).toEqual(["syntax", "syntax"]);
    expect(table?.is === "table" && table.columns.map(({ name }) => name)).toEqual(["a", "b"]);
  });
});

/** RFC 4180, section 2: the numbers are its rules. */
describe("rows", () => {
  const entries = (text: string): string[][] => {
    const rows = readRows(text);
    return Array.from({ length: rows.count }, (_, row) =>
      Array.from({ length: (rows.firsts[row + 1] ?? 0) - (rows.firsts[row] ?? 0) }, (_, i) =>
        entryText(text, rows, (rows.firsts[row] ?? 0) + i),
      ),
    );
  };
  test.each([
    [
      "1: records end with CRLF",
      "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
      [
        ["aaa", "bbb", "ccc"],
        ["zzz", "yyy", "xxx"],
      ],
    ],
    [
      "2: the last may lack it",
      "aaa,bbb\r\nzzz,yyy",
      [
        ["aaa", "bbb"],
        ["zzz", "yyy"],
      ],
    ],
    [
      "5: entries may be quoted",
      '"aaa","bbb"\nzzz,"yyy"\n',
      [
        ["aaa", "bbb"],
        ["zzz", "yyy"],
      ],
    ],
    [
      "6: quoted entries hold line ends and commas",
      '"aaa","b\r\nbb","c,c"\nzzz,yyy,xxx',
      [
        ["aaa", "b\r\nbb", "c,c"],
        ["zzz", "yyy", "xxx"],
      ],
    ],
    ["7: a quote inside is doubled", '"aaa","b""bb","ccc"', [["aaa", 'b"bb', "ccc"]]],
    [
      "empty entries stay",
      "a,,c\n,\n",
      [
        ["a", "", "c"],
        ["", ""],
      ],
    ],
    ["blanks round entries go, unless quoted", '  a ,\t b  , " c "  \n', [["a", "b", " c "]]],
    ["ragged rows stay ragged", "1\n1,2,3\n", [["1"], ["1", "2", "3"]]],
    ["an unclosed quote ends with its line", '"a\nb,c\n', [['"a'], ["b", "c"]]],
    ["# is data", "1 # 2, 3\n", [["1 # 2", "3"]]],
  ])("follow rule %s", (_, text, expected) => {
    expect(entries(text)).toEqual(expected);
  });

  test("are quoted so that they read as they were", () => {
    for (const entry of ["a", "a,b", 'a"b', " a", "a ", "", "end", "end # x", "a\nb", "\u00a0x", '"'] as const) {
      const quoted = quoteEntry(entry);
      expect(entries(`${quoted},x\n`)[0]).toEqual([entry, "x"]);
      expect(kinds(`table t\n rows\n ${quoted}\n end\n`)).toEqual(["table"]);
    }
  });
});

describe("tidying", () => {
  test("writes one blank between words, typed variants in their one form, and keeps notes", () => {
    expect(tidy('  grain   "Malt in"=8.5kg×2     #  eight full \n')).toBe(
      'grain "Malt in" = 8.5 kg * 2 # eight full\n',
    );
    expect(tidy("t = ?66degC\r\n")).toBe("t = ? 66 °C\r\n");
    expect(tidy("x=((a+b))*c")).toBe("x = ((a + b)) * c");
    expect(tidy("function  f( a,b )=a/b\n")).toBe("function f(a, b) = a / b\n");
    expect(tidy('sheet   mash    "Mash  tun"   #note\n>prose\n>\n')).toBe(
      'sheet mash "Mash  tun" # note\n> prose\n>\n',
    );
    expect(tidy("table t\n column a:number\n column b : number  within 1 to 3\n rows\n end\n")).toBe(
      "table t\n  column a : number\n  column b : number within 1 to 3\n  rows\n  end\n",
    );
    expect(tidy('table t\ncolumn a:degC by 0.1\ncolumn b=a+1 Δ°C\nrows\n1 ,"a, b"\n\n2,\nend\n')).toBe(
      'table t\n  column a : °C by 0.1\n  column b = a + 1 Δ°C\n  rows\n    1, "a, b"\n    2,\n  end\n',
    );
  });

  test("leaves what is faulty, and formulas over several lines, as they are", () => {
    expect(tidy("a  =  1 +\nb = f(1,\n    2)\n??  ?\n")).toBe("a = 1 +\nb = f(1,\n    2)\n??  ?\n");
  });

  test("has a line for a cell from its parts", () => {
    expect(printCellLine({ name: "a", label: 'the "a"', formula: " 1 kg" })).toBe('a "the ""a""" = 1 kg');
  });
});
