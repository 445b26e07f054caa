import { describe, expect, test } from "vitest";
import { existingRows } from "../../engine/readings/existing.ts";
import type { Mapping } from "../../engine/readings/mapping.ts";
import type { Answers } from "../../engine/readings/question.ts";
import { type ReadInto, readInto } from "../../engine/readings/read-into.ts";
import { type Source, sourceOf } from "../../engine/readings/source.ts";
import { readUnit, target } from "./support.ts";

const TABLE = target("taken: instant, temp: °C, remark: text");

const HEADER = "Time,Temp (°C),Remark\n";
const rows = (count: number): string =>
  Array.from({ length: count }, (_, at) => `2026-03-05 10:${10 + (at % 50)}:${10 + Math.floor(at / 50)},18.1,\n`).join(
    "",
  );
const WRONG = "2026-03-05 12:00,18.3,K\xfchlung\n";

/** A file of UTF-8 with one line in Windows-1252. */
const mixed = (before: string): Uint8Array =>
  new Uint8Array(Buffer.concat([Buffer.from(before, "utf8"), Buffer.from(WRONG, "latin1")]));

const into = (bytes: Uint8Array, answers: Answers = {}, kept?: Mapping): Promise<ReadInto> =>
  readInto(sourceOf(bytes), TABLE, existingRows([], TABLE, readUnit), readUnit, { answers, ...(kept && { kept }) });

const lastRow = (came: ReadInto): string | undefined =>
  came.is === "read" ? came.merge.pages.at(-1)?.text.trimEnd().split("\n").at(-1) : undefined;

describe("a file of UTF-8 with a line that is none", () => {
  test.each([
    ["near its beginning", 2, 4],
    ["far down", 2500, 2502],
  ])("%s is asked about, with the line and both readings", async (_, count, line) => {
    const came = await into(mixed(HEADER + rows(count)));
    if (came.is !== "asks") throw new Error("nothing is asked");
    const [one, another] = came.proposed.questions;
    expect([one?.about, one?.choices.map(({ value }) => value), another]).toEqual([
      "encoding",
      ["utf-8", "windows-1252"],
      undefined,
    ]);
    expect(one?.why).toBe(`Line ${line} is not UTF-8 and line 1 is, as when two exports were put together.`);
    expect(one?.examples).toEqual([
      "line 1 as UTF-8: Time,Temp (°C),Remark",
      "line 1 as Windows-1252: Time,Temp (Â°C),Remark",
      `line ${line} as UTF-8: 2026-03-05 12:00,18.3,K\ufffdhlung`,
      `line ${line} as Windows-1252: 2026-03-05 12:00,18.3,Kühlung`,
    ]);
  });

  test("is read as it is answered", async () => {
    const bytes = mixed(HEADER + rows(2));
    const utf = await into(bytes, { encoding: "utf-8" });
    expect(lastRow(utf)).toBe("2026-03-05T12:00,18.3,K\ufffdhlung");
    const windows = await into(bytes, {
      encoding: "windows-1252",
      "column:temp": "Temp (Â°C)",
      "unit:Temp (Â°C)": "°C",
    });
    expect(lastRow(windows)).toBe("2026-03-05T12:00,18.3,Kühlung");
  });

  test("is asked about with a kept mapping too, and only once", async () => {
    const clean = await into(new Uint8Array(Buffer.from(HEADER + rows(2), "utf8")));
    if (clean.is !== "read") throw new Error("nothing is asked");
    const came = await into(mixed(HEADER + rows(2)), {}, clean.mapping);
    expect(came.is === "asks" && came.proposed.questions.map(({ about }) => about)).toEqual(["encoding"]);
    const answered = await into(mixed(HEADER + rows(2)), { encoding: "utf-8" }, clean.mapping);
    if (answered.is !== "read") throw new Error("it is answered");
    expect((await into(mixed(HEADER + rows(3)), {}, answered.mapping)).is).toBe("read");
  });

  test("stays UTF-8 where its byte-order mark says so, and tells the line", async () => {
    const came = await into(mixed(`\ufeffTime,Temp,Remark\n${rows(2)}`), { "unit:Temp": "°C" });
    if (came.is !== "read") throw new Error("nothing else is asked");
    expect(came.mapping.headers).toEqual(["Time", "Temp", "Remark"]);
    expect(lastRow(came)).toBe("2026-03-05T12:00,18.3,K\ufffdhlung");
    expect(came.detection.encodingEvidence).toBe("a UTF-8 byte-order mark, though line 4 is not UTF-8");
    expect(came.merge.notes.join()).toContain("could not be decoded");
  });

  test("is known however its bytes come", async () => {
    const bytes = mixed(HEADER + rows(2));
    const byByte: Source = { length: bytes.length, chunks: () => Array.from(bytes, (byte) => Uint8Array.of(byte)) };
    const came = await readInto(byByte, TABLE, existingRows([], TABLE, readUnit), readUnit);
    expect(came.is === "asks" && came.proposed.questions[0]?.examples[3]).toContain("Kühlung");
  });
});
