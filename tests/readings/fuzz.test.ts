import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { detect } from "../../engine/readings/detect.ts";
import { existingRows } from "../../engine/readings/existing.ts";
import { parseMapping, printMapping } from "../../engine/readings/mapping-text.ts";
import { mergeReading } from "../../engine/readings/merge.ts";
import { proposeMapping } from "../../engine/readings/propose.ts";
import { readCsv } from "../../engine/readings/read.ts";
import { recheckMapping } from "../../engine/readings/recheck.ts";
import { type Chunk, type Source, sourceOf } from "../../engine/readings/source.ts";
import { addsUp, knowsUnit, readUnit, sample, target } from "./support.ts";

const TABLE = target("taken: instant, gravity: °P, temp: °C, remark: text");
const SEED = 20_260_302;

/** Looks at, maps, reads and merges anything; returns the lines accounted for, or the sentence that refused it. */
async function swallow(csv: Chunk): Promise<number | string> {
  const detection = await detect(sourceOf(csv), knowsUnit);
  if (detection.problem !== null) return detection.problem;
  const { mapping, questions } = proposeMapping(detection, TABLE, readUnit);
  for (const asked of questions) expect(asked.choices.length).toBeGreaterThan(0);
  const read = await readCsv(sourceOf(csv), mapping, TABLE, readUnit);
  if ("problem" in read) return read.problem;
  const merge = mergeReading(read, existingRows([], TABLE, readUnit), mapping, TABLE);
  expect(addsUp(merge)).toBe(true);
  expect(read.rows).toBe(read.lines.length);
  expect(read.pages.reduce((sum, { count }) => sum + count, 0)).toBe(read.rows);
  const { preamble, blank, headers, filtered } = read.leftOut;
  return merge.read + preamble + blank + headers + filtered;
}

const piecesOf = (text: string, size: number): Source => ({
  length: text.length,
  *chunks() {
    for (let at = 0; at < text.length; at += size) yield text.slice(at, at + size);
  },
});

describe("whatever the file is", () => {
  test("random bytes end in a sentence or in counts that add up", async () => {
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ maxLength: 400 }), async (bytes) => {
        expect(await swallow(bytes)).toBeDefined();
      }),
      { seed: SEED, numRuns: 500 },
    );
  });

  test("random text of the characters that matter does too", async () => {
    const characters = fc.constantFrom(..."0123456789.,;:\t|\"'-/ \n\r%°CFPSGATZnaeé");
    const text = fc.string({ unit: characters, maxLength: 300 });
    await fc.assert(
      fc.asyncProperty(text, async (csv) => {
        expect(await swallow(csv)).toBeDefined();
      }),
      { seed: SEED, numRuns: 1500 },
    );
  });

  test("no line of a text without quotes is lost: each is a row, a reject, a header or blank", async () => {
    const entry = fc.constantFrom("2026-03-02 08:00", "12.1", "17,8", "", "n/a", "hazy", "64.9 °F", "Total", "x");
    const line = fc.array(entry, { minLength: 1, maxLength: 6 }).map((entries) => entries.join(","));
    await fc.assert(
      fc.asyncProperty(fc.array(line, { maxLength: 12 }), async (lines) => {
        const csv = ["Taken,Gravity (°P),Temp (°C),Remark", "2026-03-01 08:00,12.1,17.8,first", ...lines].join("\n");
        const counted = await swallow(`${csv}\n`);
        expect([lines.length + 2, "No column of the file is matched to a column of the table."]).toContain(counted);
      }),
      { seed: SEED, numRuns: 400 },
    );
  });

  test("whatever is answered, what was read in once adds and changes nothing when it is read in again", async () => {
    const header = fc.constantFrom(
      "Taken",
      "Time (UTC)",
      "Gravity",
      "SG",
      "Temp (°F)",
      "temp",
      "Tank",
      "Product",
      "No",
      "epoch",
      "Remark",
      "",
    );
    const entry = fc.constantFrom(
      ...[
        "2026-03-02 08:00",
        "02/03/2026",
        "3/4/26 8:15 PM",
        "2026-03-29T02:30",
        "2026-03-02T08:00Z",
        "1772438400",
        "1e400",
      ],
      ...[
        "12.1",
        "17,8",
        "1,250",
        "1.048",
        "1048",
        "-127",
        "000123",
        "64.9 °F",
        "12 lb 4 oz",
        "",
        "--",
        "Total",
        "FV1",
        "FV2",
      ],
      ...['"a;b\nc"', '"x"y', '"', '"""', "__proto__", "\ufffd", "é"],
    );
    const row = (cell: fc.Arbitrary<string>): fc.Arbitrary<string> =>
      fc.array(cell, { minLength: 1, maxLength: 5 }).map((cells) => cells.join(";"));
    const file = fc
      .tuple(row(header), fc.array(row(entry), { maxLength: 12 }))
      .map(([first, rest]) => [first, ...rest].join("\n"));
    await fc.assert(
      fc.asyncProperty(file, fc.nat(), async (csv, turn) => {
        const detection = await detect(sourceOf(csv), knowsUnit);
        if (detection.problem !== null) return;
        const answers: Record<string, string> = {};
        let proposed = proposeMapping(detection, TABLE, readUnit, answers);
        // Each answer may bring the next question; there are fewer kinds of them than this.
        for (let round = 0; round < 12 && proposed.questions.length > 0; round += 1) {
          for (const { about, choices } of proposed.questions)
            answers[about] = choices[turn % choices.length]?.value ?? "";
          proposed = proposeMapping(detection, TABLE, readUnit, answers);
        }
        const { mapping } = proposed;
        expect(proposed.questions).toEqual([]);
        expect(parseMapping(printMapping(mapping))).toEqual(mapping);
        const read = await readCsv(sourceOf(csv), mapping, TABLE, readUnit);
        if ("problem" in read) return;
        // A mapping that was kept has nothing against the file that it was made from, and asks nothing again.
        const kept = recheckMapping(mapping, detection, TABLE, readUnit);
        // A scale on which none of its gravities can be is doubted for good.
        const against = kept.against.filter((says) => !says.includes("; figures such as "));
        expect([against, kept.proposed.questions]).toEqual([[], []]);
        if (kept.against.length === 0) expect(kept.proposed.mapping).toEqual(mapping);
        const first = mergeReading(read, existingRows([], TABLE, readUnit), mapping, TABLE);
        const again = mergeReading(read, existingRows(first.pages, TABLE, readUnit), mapping, TABLE);
        expect([addsUp(first), addsUp(again), again.added, again.changed]).toEqual([true, true, 0, []]);
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  test("a file cut anywhere loses at most the row it is cut in, and says so", async () => {
    const csv = new TextDecoder().decode(sample("month-first-12-hour.csv"));
    const whole = await swallow(csv);
    expect(whole).toBe(61);
    const { mapping } = proposeMapping(await detect(sourceOf(csv), knowsUnit), TABLE, readUnit);
    for (let cut = csv.indexOf("\n") + 40; cut < csv.length; cut += 7) {
      const read = await readCsv(sourceOf(csv.slice(0, cut)), mapping, TABLE, readUnit);
      if ("problem" in read) throw new Error(read.problem);
      const lines = csv.slice(0, cut).trimEnd().split("\n").length;
      expect(read.rows + read.rejects.length + read.leftOut.headers).toBe(lines);
    }
  });

  test("a cut into pieces anywhere gives the same reading", async () => {
    const csv =
      'Taken;Gravity (°P);Temp (°C);Remark\r\n"2026-03-02 08:00";"12,1";17,8;"a ""b""\r\nc"\r\n2026-03-03 08:00;11,0;x;\r\n';
    const { mapping } = proposeMapping(await detect(sourceOf(csv), knowsUnit), TABLE, readUnit);
    const whole = await readCsv(sourceOf(csv), mapping, TABLE, readUnit);
    for (let size = 1; size < 40; size += 1)
      expect(await readCsv(piecesOf(csv, size), mapping, TABLE, readUnit)).toEqual(whole);
  });

  test("entries of a megabyte are read or refused, and the rows around them stay", async () => {
    const long = "x".repeat(1_000_000);
    const head = "Taken,Gravity (°P),Temp (°C),Remark\n2026-03-02 08:00,12.1,17.8,a\n";
    expect(
      await swallow(
        `${head}2026-03-03 08:00,12.0,17.8,${long}\n2026-03-04 08:00,12.0,${long},b\n2026-03-05 08:00,11.0,17.8,"${long}"\n`,
      ),
    ).toBe(5);
    expect(await swallow(`${long}\n1,2\n`)).toBeDefined();
    expect(await swallow(" ".repeat(1_000_000))).toBe("The file is empty.");
    expect(await swallow(`${head}${'"'.repeat(300_001)}\n`)).toBeDefined();
    expect(await swallow(`${"a_".repeat(500_000)},b\n1,2\n`)).toBeDefined();
  });

  test("a million columns are refused with a sentence", async () => {
    expect(await swallow(`${"a,".repeat(1_000_000)}b\n`)).toMatch(/a table of readings has at most 1000/);
    const { mapping } = proposeMapping(
      await detect(sourceOf("Taken,Gravity (°P)\n2026-03-02,12.1\n"), knowsUnit),
      TABLE,
      readUnit,
    );
    const read = await readCsv(
      sourceOf(`Taken,Gravity (°P)\n2026-03-02,12.1${",1".repeat(1_000_000)}\n`),
      mapping,
      TABLE,
      readUnit,
    );
    expect("rejects" in read && read.rejects[0]?.reason).toBe("The row has 1000002 entries; the header has 2.");
  });

  test("headers and texts named after the language's own properties are only names", async () => {
    expect(
      await swallow(
        "Taken,__proto__,constructor,Remark\n2026-03-02 08:00,1,2,__proto__\n2026-03-03 08:00,1,2,constructor\n",
      ),
    ).toBe(3);
  });

  test("a reading that is stopped gives nothing to use", async () => {
    const rows = Array.from({ length: 20_000 }, (_, row) => `2026-03-02 08:00,${row % 12},17.8,a`).join("\n");
    const csv = `Taken,Gravity (°P),Temp (°C),Remark\n${rows}\n`;
    const { mapping } = proposeMapping(await detect(sourceOf(csv), knowsUnit), TABLE, readUnit);
    const stop = { stopped: false };
    const seen: number[] = [];
    const onProgress = ({ done, of }: { done: number; of: number | null }): void => {
      seen.push(done);
      expect(of).toBe(csv.length);
      if (seen.length === 2) stop.stopped = true;
    };
    const read = await readCsv(sourceOf(csv), mapping, TABLE, readUnit, { stop, onProgress });
    expect("stopped" in read && read.stopped).toBe(true);
    expect(seen).toHaveLength(2);
  });
});
