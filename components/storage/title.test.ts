import { describe, expect, test } from "vitest";
import { fileNameOf, nextTitle, retitled, titleOf } from "./title.ts";

describe("the title of a file", () => {
  test.each([
    ['gylebook 1\ntitle "Amber ale, batch 214"\n', "Amber ale, batch 214"],
    ['gylebook 1\r\n  title "The ""Old"" ale"  # note\r\n', 'The "Old" ale'],
    ['gylebook 1\ntitle "kettle\\\\no. 2"\n', "kettle\\no. 2"],
    ['gylebook 1\ntitle = 3\nsheet mash\ntitle "Not this"\n', null],
    ['title "  "\n', null],
    ["", null],
  ])("is read from its head: %j", (text, title) => {
    expect(titleOf(text)).toBe(title);
  });

  test.each([
    ['gylebook 1\ntitle "A"\nsheet s\n', 'gylebook 1\ntitle "B ""2"" $&"\nsheet s\n'],
    ["gylebook 1\r\nlibrary 1\r\n\r\nsheet s\r\n", 'gylebook 1\r\nlibrary 1\r\ntitle "B ""2"" $&"\r\n\r\nsheet s\r\n'],
    ["gylebook 1", 'gylebook 1\ntitle "B ""2"" $&"\n'],
    ['sheet s\ntitle "C"', 'title "B ""2"" $&"\nsheet s\ntitle "C"'],
  ])("is changed, and nothing else: %j", (text, after) => {
    const changed = retitled(text, 'B "2" $&');
    expect(changed).toBe(after);
    expect(titleOf(changed)).toBe('B "2" $&');
  });

  test.each(["back\\slash\\n", "plain", 'quote " and \\', "Märzen 麦酒 🍺"])(
    "comes back as it was given: %s",
    (title) => {
      expect(titleOf(retitled("gylebook 1\n", title))).toBe(title);
    },
  );
});

describe("the next gyle", () => {
  test.each([
    ["Amber ale, batch 214", [], "Amber ale, batch 215"],
    ["Gyle 099", [], "Gyle 100"],
    ["Gyle 9 (spring)", ["gyle 10 (spring)"], "Gyle 11 (spring)"],
    ["Amber ale", [], "Amber ale 2"],
    ["Amber ale", ["Amber ale 2"], "Amber ale 3"],
    ["", [], "2"],
  ])("of %j, beside %j, is %j", (title, taken, next) => {
    expect(nextTitle(title, taken)).toBe(next);
  });
});

describe("a file name", () => {
  test.each([
    ["Amber ale, batch 214", "Amber ale, batch 214.gyle"],
    ["../../etc/passwd", "etc passwd.gyle"],
    ['a<b>:"c"|?*\u0000\n', "a b c.gyle"],
    [null, "brew book.gyle"],
    ["...", "brew book.gyle"],
  ])("for %j is %j", (title, name) => {
    expect(fileNameOf(title)).toBe(name);
  });
});
