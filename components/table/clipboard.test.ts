import { describe, expect, test } from "vitest";
import { clipboardFromRows, rowsFromClipboard } from "./clipboard.ts";

describe("rows from the clipboard", () => {
  test.each([
    [
      "tabs part entries",
      "12.1\t17.8\n10.4\t18.2\n",
      [
        ["12.1", "17.8"],
        ["10.4", "18.2"],
      ],
    ],
    [
      "commas part entries where there is no tab",
      "12.1, 17.8\r\n10.4, 18.2",
      [
        ["12.1", "17.8"],
        ["10.4", "18.2"],
      ],
    ],
    [
      "semicolons leave decimal commas alone",
      "12,1;17,8\n10,4;18,2",
      [
        ["12,1", "17,8"],
        ["10,4", "18,2"],
      ],
    ],
    ["one figure with a decimal comma is one entry", "12,1", [["12,1"]]],
    [
      "quotes hold separators, line ends and doubled quotes",
      '"a\tb"\t"say ""no"""\n"two\nlines"\tc',
      [
        ["a\tb", 'say "no"'],
        ["two\nlines", "c"],
      ],
    ],
    ["an empty entry is kept", "a\t\tb", [["a", "", "b"]]],
    ["one entry is one row", "66.2", [["66.2"]]],
  ])("%s", (_, text, rows) => {
    expect(rowsFromClipboard(text)).toEqual(rows);
  });

  test("come back as they were copied", () => {
    const rows = [
      ["a\tb", 'he said "x"'],
      ["", "12,5"],
      ["two\nlines", "°C"],
    ];
    expect(rowsFromClipboard(clipboardFromRows(rows))).toEqual(rows);
  });
});
