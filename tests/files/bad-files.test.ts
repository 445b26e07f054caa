import { describe, expect, test } from "vitest";
import { Session } from "../../engine/session.ts";
import { createLanguage } from "../../engine/workbook/language.ts";
import { LARGEST_FILE } from "../../engine/workbook/open.ts";
import { tidyText } from "../../engine/workbook/tidy.ts";
import { START } from "../laws/books.ts";

const language = createLanguage();
const open = (text: string): Session => new Session(text, null, language);
const codes = (session: Session): string[] => [
  ...session.problems().fileFaults.map(({ code }) => code),
  ...session.problems().faults.map(({ fault }) => fault.code),
];

describe("a file", () => {
  test.each([
    ["that is empty", ""],
    ["of one line end", "\n"],
    ["with a byte-order mark", `\uFEFF${START}`],
    ["with CR LF line ends", START.replaceAll("\n", "\r\n")],
    ["with CR line ends", START.replaceAll("\n", "\r")],
    ["with both kinds of line ends", START.replace("\n", "\r\n")],
    ["without a last line end", START.trimEnd()],
    ["with blanks at line ends", START.replaceAll("\n", "  \n")],
    ["with lines that cannot be read", START.replace("sheet cellar", "??? what\nsheet cellar")],
    ["with names that are there twice", `${START}kegs = 4\n${START.slice(START.indexOf("sheet mash"))}`],
  ])("%s comes back to the character", (_name, text) => {
    const session = open(text);
    expect(session.refusal).toBe(null);
    expect(session.text()).toBe(text);
  });

  test.each([
    ["in a later format", "gylebook 2\nsheet mash\nx = 3\n", /format 2/],
    ["that is binary", "gylebook 1\n\0\x01\x02", /not a text file/],
    ["that is too large", "#".repeat(LARGEST_FILE + 1), /larger than/],
  ])("%s is refused in a sentence and leaves an empty workbook", (_name, text, says) => {
    const session = open(text);
    expect(session.refusal).toMatch(says);
    expect(session.refusal).toMatch(/\.$/);
    expect(session.workbook.sheets).toEqual([]);
  });

  test("of fifty megabytes is read", () => {
    const row = "    2026-03-02T08:15, 12.1, 17.8\n";
    const head =
      "gylebook 1\nsheet cellar\ntable readings\n  column taken : instant\n  column gravity : °P\n  column temp : °C\n  rows\n";
    const text = `${head}${row.repeat(Math.ceil((50 * 1024 * 1024) / row.length))}  end\nn = count(readings.temp)\n`;
    const session = open(text);
    expect(session.cell("cellar.n")?.value).toBe(Math.ceil((50 * 1024 * 1024) / row.length));
    expect(session.text() === text).toBe(true);
  }, 120_000);

  test("cut off anywhere keeps what stands before the cut", () => {
    for (let at = 0; at <= START.length; at += 7) {
      const text = START.slice(0, at);
      const session = open(text);
      expect(session.text()).toBe(text);
      if (START.lastIndexOf("\n", at) > START.indexOf("water = 640 L") + 13)
        expect(session.cell("mash.water")?.shown).toBe("640 L");
    }
  });

  test("changes in the lines that are edited and in no other", () => {
    const text = START.replace("water = 640 L", "  water   =  640   L   # metered ").replace(
      "section",
      "?? unread ??\nsection",
    );
    const session = open(text);
    const lines = text.split("\n");
    session.dispatch({ edit: "set-formula", cell: "mash.grain", formula: "9 sack # nine" });
    session.dispatch({ edit: "set-entry", table: "cellar.readings", row: 1, column: "temp", entry: "18.1" });
    const now = session.text().split("\n");
    expect(now.length).toBe(lines.length);
    const changed = now.filter((line, at) => line !== lines[at]);
    expect(changed).toEqual(['grain "Malt in" = 9 sack # nine', "    2026-03-03T08:05, 1.0415 SG, 18.1"]);
  });

  test("that is tidied twice is as when tidied once, and gives the same figures", () => {
    const untidy = START.replace("640 L", "640   litres").replace("8.5 sack", "8.5sack").replace("66.5", "66.50");
    const once = tidyText(untidy, language);
    expect(tidyText(once, language)).toBe(once);
    expect(open(once).cell("mash.ratio")?.value).toBe(open(untidy).cell("mash.ratio")?.value);
  });
});

describe("a formula", () => {
  const faultsOf = (formula: string): string[] =>
    open(`gylebook 1\nsheet here\nit = ${formula}\nafter = 3\n`)
      .cell("here.it")
      ?.faults.map(({ code }) => code) ?? [];

  test("of ten thousand parentheses is told to be nested too deep, open ones as well", () => {
    expect(faultsOf(`${"(".repeat(10_000)}1${")".repeat(10_000)}`)).toContain("syntax");
    expect(faultsOf("(".repeat(10_000))).toContain("syntax");
    expect(faultsOf(`${"-".repeat(10_001)}1`).length).toBeLessThan(2);
    expect(faultsOf("if yes then ".repeat(10_000))).toContain("syntax");
    expect(faultsOf("abs(".repeat(10_000))).toContain("syntax");
  }, 60_000);

  test("of a hundred thousand characters is calculated, or refused in a sentence", () => {
    const session = open(`gylebook 1\nsheet here\nit = 1${" + 1".repeat(25_000)}\nafter = it\n`);
    const cell = session.cell("here.it");
    expect(cell?.state === "ready" ? cell.value : cell?.faults.length).toBe(cell?.state === "ready" ? 25_001 : 1);
    expect(session.problems().fileFaults).toEqual([]);
  }, 60_000);

  test("in a circle of a thousand lines is faulty with the path, and what stands beside it is not", () => {
    const circle = Array.from({ length: 1_000 }, (_, at) => `x${at} = x${(at + 1) % 1_000} + 1`).join("\n");
    const session = open(`gylebook 1\nsheet here\n${circle}\nbeside = 3\nafter = x7 * 2\n`);
    expect(new Set(codes(session))).toEqual(new Set(["circular"]));
    expect(session.cell("here.beside")?.shown).toBe("3");
    expect(session.cell("here.after")?.because).toMatch(/^here\.x\d+$/);
    session.dispatch({ edit: "set-formula", cell: "here.x0", formula: "1" });
    expect(codes(session)).toEqual([]);
    expect(session.cell("here.x1")?.value).toBe(1_000);
  }, 60_000);

  test("that doubles through a hundred functions and lines ends in a figure or a fault", () => {
    const functions = Array.from({ length: 40 }, (_, at) => `function f${at + 1}(x) = f${at}(x) + f${at}(x)`).join(
      "\n",
    );
    const session = open(`gylebook 1\nfunction f0(x) = x\n${functions}\nsheet here\nit = f40(1)\nshort = f10(1)\n`);
    expect(session.cell("here.it")?.state).not.toBe("waiting");
    expect(session.cell("here.short")?.value).toBe(1024);
  }, 20_000);
});
