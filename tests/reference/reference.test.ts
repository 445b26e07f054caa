import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { referencePage } from "../../engine/cli/reference-page.ts";
import { createSession } from "../../engine/session.ts";

const read = (name: string): string => readFileSync(new URL(`../../engine/reference/${name}`, import.meta.url), "utf8");

/** The fenced blocks of a Markdown page that are marked with `language`. */
const blocks = (page: string, language: string): string[] =>
  [...page.matchAll(new RegExp(`^\`\`\`${language}\\n([\\s\\S]*?)^\`\`\``, "gm"))].map(([, body]) => body ?? "");

/** `formula   = shown` or `formula   ! fault-code`, two or more blanks before the mark. */
const EXAMPLE = /^(.*?\S)\s{2,}([=!]) (.*)$/;

const language = read("language.md");

describe("the language reference", () => {
  const examples = blocks(language, "formulas").flatMap((block) => block.trim().split("\n"));

  test.each(examples)("says what comes of %s", (line) => {
    const [, formula = "", mark, wanted] = EXAMPLE.exec(line) ?? [];
    expect(mark, `an example that can be read: ${line}`).toBeDefined();
    const session = createSession(`gylebook 1\nsheet s\nx = ${formula}\n`);
    const cell = session.cell("s.x");
    if (mark === "=")
      expect({ shown: cell?.shown, faults: cell?.faults.map(({ code }) => code) }).toEqual({
        shown: wanted,
        faults: [],
      });
    else expect(cell?.faults.map(({ code }) => code)).toEqual([wanted]);
  });

  test.each(blocks(language, "gyle"))("opens its file without a fault", (file) => {
    const session = createSession(file);
    const { faults, fileFaults } = session.problems();
    expect([...faults, ...fileFaults]).toEqual([]);
    expect(session.text()).toBe(file);
    expect(session.cell("mash.mash_ratio")?.shown).toBe("3.01 L/kg");
  });
});

describe("the reference of functions and units", () => {
  test("is what the declarations say now (npm run reference writes it)", () => {
    expect(read("library.md")).toBe(referencePage());
  });
});

describe("the README", () => {
  test("shows a book that opens without a fault and calculates", () => {
    const [book = ""] = blocks(readFileSync(new URL("../../README.md", import.meta.url), "utf8"), "gyle");
    const session = createSession(book);
    const { faults, fileFaults, blanks } = session.problems();
    expect([...faults, ...fileFaults]).toEqual([]);
    expect(blanks).toEqual(["mash.rest_measured"]);
    expect(session.cell("mash.strike_temp")?.state).toBe("ready");
  });
});
