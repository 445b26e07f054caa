import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { workbookJson } from "../../engine/cli/json.ts";
import { Session } from "../../engine/session.ts";
import { createLanguage } from "../../engine/workbook/language.ts";
import { tidyText } from "../../engine/workbook/tidy.ts";

const language = createLanguage();

/** Written untidily, so that whatever is tidied changes. */
const formula = fc.constantFrom(
  "3   kg",
  "3 kg+2   kg",
  "5   litres",
  "?   °C",
  "1/0",
  "3 kg+2   L",
  "6   gal",
  "5   grms",
  "nothing+1",
  "152F",
  "2   x 3",
  "readings.temp",
  "(3   kg",
  "66,7   °C",
);
const entry = fc.constantFrom(
  "12",
  "12.1",
  "12,5",
  "",
  "  3 °P",
  "64.9 °F",
  "5 kg",
  "02/03/2026",
  '"12"',
  "2026-03-02",
  "x",
);
const row = fc.array(entry, { minLength: 1, maxLength: 4 }).map((entries) => `  ${entries.join(" ,")}`);
const column = fc.constantFrom(
  "column gravity:°P by 0.1",
  "column temp:  °C",
  "column taken:instant",
  "column gone=1/0",
  "column share =gravity  /gravity",
  "column wrong:grms",
);
const line = fc.oneof(
  fc.tuple(fc.constantFrom("a", "b", "c"), formula).map(([name, of]) => `${name}=${of}`),
  fc.constantFrom(">   prose", 'section   "s"', "unread   line", "", "  # note", "unit sack=25   kg"),
  fc
    .tuple(fc.uniqueArray(column, { minLength: 1, maxLength: 3 }), fc.array(row, { maxLength: 3 }))
    .map(([columns, rows]) => ["table readings", ...columns, "rows", ...rows, "end"].join("\n")),
);
const book = fc
  .array(line, { maxLength: 8 })
  .map((lines) => `gylebook 1\nfunction f(x)=x+1   kg\nsheet here\n${lines.join("\n")}\n`);

/** The lines of a text on which a fault is told, in order. */
function faultyLines(text: string): readonly string[] {
  const json = workbookJson(new Session(text, null, language));
  const faults = [
    ...json.faults,
    ...json.cells.flatMap((cell) => cell.faults),
    ...json.tables.flatMap((table) => table.columns.flatMap((each) => each.faults)),
  ];
  const lines = text.split("\n");
  const numbers = [...new Set(faults.map((fault) => fault.line))].sort((a, b) => a - b);
  return numbers.map((at) => lines[at - 1] ?? "");
}

describe("tidying", () => {
  test("leaves every line that has a fault as it is, to the character", () => {
    fc.assert(
      fc.property(book, (text) => {
        const tidied = tidyText(text, language);
        const lines = tidied.split("\n");
        let at = 0;
        for (const faulty of faultyLines(text)) {
          at = lines.indexOf(faulty, at) + 1;
          expect(at, `"${faulty}" in ${JSON.stringify(tidied)}`).toBeGreaterThan(0);
        }
        expect(tidyText(tidied, language)).toBe(tidied);
        expect(faultyLines(tidied)).toEqual(faultyLines(text));
      }),
      { seed: 20260301, numRuns: 400 },
    );
  });

  test("keeps a row with a decimal comma, and tidies the rows round it", () => {
    const rows = (entries: readonly string[]): string =>
      `gylebook 1\nsheet here\ntable readings\n  column taken : instant\n  column gravity : °P\n  rows\n${entries.join("\n")}\n  end\n`;
    expect(tidyText(rows(["2026-03-01,12", "2026-03-02,12,5", " 2026-03-03 , 11"]), language)).toBe(
      rows(["    2026-03-01, 12", "2026-03-02,12,5", "    2026-03-03, 11"]),
    );
  });
});
