import { describe, expect, test } from "vitest";
import { LONGEST_RECORD, RecordReader } from "../../engine/readings/records.ts";

interface Found {
  readonly entries: readonly string[];
  readonly line: number;
  readonly problem: string | null;
}

function split(text: string, separator = ",", piece = text.length || 1): Found[] {
  const found: Found[] = [];
  const reader = new RecordReader(separator, (entries, line, problem) => found.push({ entries, line, problem }));
  for (let at = 0; at < text.length; at += piece) reader.push(text.slice(at, at + piece));
  reader.end();
  return found;
}

const entriesOf = (text: string, separator = ",", piece?: number): (readonly string[])[] =>
  split(text, separator, piece).map(({ entries }) => entries);

describe("RFC 4180", () => {
  test("2.1: each record is on a line of its own, which CRLF ends", () => {
    expect(entriesOf("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")).toEqual([
      ["aaa", "bbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ]);
  });
  test("2.2: the last record may have no line end", () => {
    expect(entriesOf("aaa,bbb,ccc\r\nzzz,yyy,xxx")).toEqual([
      ["aaa", "bbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ]);
  });
  test("2.4: blanks are part of an entry, and the last entry has no comma behind it", () => {
    expect(entriesOf("aaa, bbb ,ccc")).toEqual([["aaa", " bbb ", "ccc"]]);
  });
  test("2.5: an entry may be quoted or not", () => {
    expect(entriesOf('"aaa","bbb","ccc"\r\nzzz,yyy,xxx')).toEqual([
      ["aaa", "bbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ]);
  });
  test("2.6: an entry with a line break, quote or comma is quoted", () => {
    expect(entriesOf('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx')).toEqual([
      ["aaa", "b\r\nbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ]);
    expect(entriesOf('"a,b",c')).toEqual([["a,b", "c"]]);
  });
  test("2.7: a quote within a quoted entry is doubled", () => {
    expect(entriesOf('"aaa","b""bb","ccc"')).toEqual([["aaa", 'b"bb', "ccc"]]);
  });
});

describe("records", () => {
  test("are numbered by the line on which they begin, breaks within quotes counted", () => {
    const lines = split('a,b\n"1\n2\n3",x\n\nc,d\n').map(({ line }) => line);
    expect(lines).toEqual([1, 2, 5, 6]);
  });

  test.each(["\n", "\r\n", "\r"])("end with %j, and a mixture of LF and CRLF is understood", (end) => {
    expect(entriesOf(["a,b", "1,2", "3,4"].join(end) + end)).toEqual([
      ["a", "b"],
      ["1", "2"],
      ["3", "4"],
    ]);
    expect(entriesOf("a,b\r\n1,2\n3,4\r\n")).toEqual([
      ["a", "b"],
      ["1", "2"],
      ["3", "4"],
    ]);
  });

  test("are the same however the text is cut into pieces", () => {
    const text = 'a;"b;""x""\r\nsecond";c\r\n1;2;3\r\n"";;"end"\r\nlast;"one";here';
    const whole = split(text, ";");
    for (let piece = 1; piece < text.length; piece += 1) expect(split(text, ";", piece)).toEqual(whole);
  });

  test("lose one line to a quote that is never closed, and no more", () => {
    const found = split('a,b\n1,"2\n3,4\n5,6\n');
    expect(found.map(({ entries, line }) => [line, ...entries])).toEqual([
      [1, "a", "b"],
      [2, '1,"2'],
      [3, "3", "4"],
      [4, "5", "6"],
    ]);
    expect(found.map(({ problem }) => problem === null)).toEqual([true, false, true, true]);
  });

  test("lose one line each to many broken quotes, in time proportional to the text", () => {
    const rows = 20_000;
    const text = Array.from({ length: rows }, (_, row) => (row % 2 === 0 ? `${row},"x"y` : `${row},z`)).join("\n");
    const found = split(text);
    expect(found).toHaveLength(rows);
    expect(found.filter(({ problem }) => problem !== null)).toHaveLength(rows / 2);
    expect(found.map(({ line }) => line)).toEqual(Array.from({ length: rows }, (_, row) => row + 1));
  });

  test("may be one megabyte long, quoted or not", () => {
    const long = "x".repeat(1_000_000);
    expect(entriesOf(`a,b\n${long},1\n"${long}",2\n`).map(([first = ""]) => first.length)).toEqual([
      1, 1_000_000, 1_000_000,
    ]);
  });

  test("longer than any table's are refused whole, and what follows is read", () => {
    const text = `a,b\n${"x".repeat(LONGEST_RECORD + 100_000)},1\n3,4\n`;
    const found = split(text, ",", 1 << 16);
    expect(found.map(({ line, problem }) => [line, problem === null])).toEqual([
      [1, true],
      [2, false],
      [3, true],
    ]);
    expect(found[1]?.entries[0]).toHaveLength(LONGEST_RECORD + 100_002);
    expect(found[1]?.problem).toContain("longer than 2,000,000 characters");
  });

  test("without an end come back whole when a quote opens them", () => {
    const text = `a,b\n"${"x,1\n".repeat(600_000)}`;
    const found = split(text);
    expect(found).toHaveLength(600_001);
    expect(found.filter(({ problem }) => problem !== null)).toHaveLength(1);
  });
});
