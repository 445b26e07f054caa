import { describe, expect, test } from "vitest";
import { existingRows } from "../../engine/readings/existing.ts";
import { parseMapping, printMapping } from "../../engine/readings/mapping-text.ts";
import { readInto } from "../../engine/readings/read-into.ts";
import { sourceOf } from "../../engine/readings/source.ts";
import { asksOf, targetOf } from "../../engine/readings/target.ts";
import { readUnit, sample, target } from "./support.ts";

const CELLAR = target("taken: instant, gravity: °P, temp: °C");
const NO_ROWS = existingRows([], CELLAR, readUnit);

describe("reading a CSV into a table", () => {
  test("asks, is answered, reads, and the next morning neither asks nor adds anything twice", async () => {
    const monday = sourceOf(sample("keller-windows-1252.csv"));
    const first = await readInto(monday, CELLAR, NO_ROWS, readUnit);
    expect(first.is === "asks" && first.proposed.questions.map(({ about }) => about)).toEqual(["date-order:Datum"]);
    const answered = await readInto(monday, CELLAR, NO_ROWS, readUnit, {
      answers: { "date-order:Datum": "day-first" },
    });
    if (answered.is !== "read") throw new Error(answered.is);
    expect([answered.merge.added, answered.merge.same]).toEqual([40, 0]);
    const kept = parseMapping(printMapping(answered.mapping));
    if ("problem" in kept) throw new Error(kept.problem);
    const again = await readInto(monday, CELLAR, existingRows(answered.merge.pages, CELLAR, readUnit), readUnit, {
      kept,
    });
    if (again.is !== "read") throw new Error(again.is);
    expect([again.merge.added, again.merge.changed.length, again.merge.same]).toEqual([0, 0, 40]);
  });

  test("asks anew, with the reason, when the kept mapping no longer fits", async () => {
    const source = sourceOf(sample("month-day-first.csv"));
    const first = await readInto(source, CELLAR, NO_ROWS, readUnit);
    if (first.is !== "read") throw new Error(first.is);
    const other = await readInto(sourceOf(sample("month-month-first.csv")), CELLAR, NO_ROWS, readUnit, {
      kept: first.mapping,
    });
    expect(other.is === "asks" && other.against[0]).toContain("The dates were day-first; on line");
  });

  describe("of another kind than the kept mapping's", () => {
    const LOGGER = "Time,Tank temp (°F),Gravity (SG)\n2026-03-02 08:00,68.0,1.0480\n2026-03-02 09:00,68.9,1.0470\n";
    const OTHER = "Timestamp;Beer °C;Plato\n2026-03-02 09:00;20,5;11,7\n2026-03-02 10:00;21,0;11,5\n";
    const readBefore = async (answers = {}, csv = LOGGER) => {
      const read = await readInto(sourceOf(csv), CELLAR, NO_ROWS, readUnit, { answers });
      if (read.is !== "read") throw new Error(read.is);
      return { kept: read.mapping, there: existingRows(read.merge.pages, CELLAR, readUnit) };
    };

    test("is read afresh, says so, converts once and knows the rows that are there", async () => {
      const { kept, there } = await readBefore();
      const read = await readInto(sourceOf(OTHER), CELLAR, there, readUnit, { kept });
      if (read.is !== "read") throw new Error(read.is);
      expect([read.putAside, read.merge.notes[0]]).toEqual([
        true,
        "This file is not laid out like the one before; it is read afresh.",
      ]);
      // 68.9 °F = (68.9 − 32) / 1.8 = 20.5 °C: of the row at nine only the gravity differs.
      expect(read.merge.changed.map(({ row, differences }) => [row, differences.map(({ column }) => column)])).toEqual([
        [1, ["gravity"]],
      ]);
      expect([read.merge.added, read.merge.pages[0]?.text]).toEqual([1, "2026-03-02T10:00,11.5,21.0\n"]);
      // The mapping that takes the place of the kept one reads the next such file, and then says nothing.
      const next = await readInto(sourceOf(OTHER), CELLAR, there, readUnit, { kept: read.mapping });
      expect(next.is === "read" && [next.putAside, next.merge.notes]).toEqual([false, []]);
    });

    test("asks what it leaves open, whatever was answered of the other file", async () => {
      const { kept } = await readBefore(
        { "date-order:Time": "day-first", header: "1" },
        LOGGER.replaceAll("2026-03-02", "03/02/2026"),
      );
      expect(kept.answers).toEqual({ "date-order:Time": "day-first", header: "1" });
      const csv = "Export of a meter\n\nTime,Beer °C,Extract (°P)\n04/05/2026 08:00,20.5,11.7\n";
      const asks = async (answers = {}) => readInto(sourceOf(csv), CELLAR, NO_ROWS, readUnit, { kept, answers });
      const open = await asks();
      expect(open.is === "asks" && [open.against, open.proposed.questions.map(({ about }) => about)]).toEqual([
        [],
        ["date-order:Time"],
      ]);
      const read = await asks({ "date-order:Time": "month-first" });
      expect(read.is === "read" && read.merge.pages[0]?.text).toBe("2026-04-05T08:00,11.7,20.5\n");
    });

    test("tells of an offset that is no longer added", async () => {
      const { kept } = await readBefore();
      const columns = kept.columns.map((one) => (one.to === "temp" ? { ...one, offset: 1.5 } : one));
      const read = await readInto(sourceOf(OTHER), CELLAR, NO_ROWS, readUnit, { kept: { ...kept, columns } });
      expect(read.is === "read" && read.merge.notes[1]).toBe(
        'Until now 1.5 was added to "Tank temp (°F)"; looked at afresh, it is not.',
      );
    });

    test("tells where only some rows were read and now all are, unless it asks which", async () => {
      const tanks = "Time,Tank,Gravity (SG)\n2026-03-02 08:00,FV1,1.0480\n2026-03-02 09:00,FV2,1.0410\n";
      const { kept } = await readBefore({ "rows:Tank": "FV1" }, tanks);
      const notes = async (vessels: readonly string[]) => {
        const rows = vessels.map((vessel, at) => `2026-03-0${at + 3} 09:00;${vessel};11,7\n`).join("");
        const read = await readInto(sourceOf(`Stamp;Vessel;Plato\n${rows}`), CELLAR, NO_ROWS, readUnit, { kept });
        return [read.is, ...(read.is === "asks" || read.is === "read" ? read.proposed.notes.slice(1) : [])];
      };
      expect(await notes(["FV2"])).toEqual([
        "read",
        'Until now only rows with "FV1" under "Tank" were read; looked at afresh, all are.',
      ]);
      expect(await notes(["FV1", "FV2"])).toEqual(["asks"]);
    });

    const THREE = "Time,Tank temp (°F),Gravity (SG)\n2026-03-02 08:00,68.0,1.0480\n";
    const TWO = "Time,Gravity (SG)\n2026-03-02 08:00,1.0480\n";
    test.each([
      ["one header has another name", THREE, THREE.replace("Tank temp", "Beer")],
      ["every unit is another", THREE, THREE.replace("°F", "°C").replace("SG", "°P")],
      ["one header of two has another name", TWO, TWO.replace("Gravity", "Extract")],
    ])("is none where %s: that is told, and nothing read", async (_, was, is) => {
      const { kept } = await readBefore({}, was);
      const read = await readInto(sourceOf(is), CELLAR, NO_ROWS, readUnit, { kept });
      expect(read.is === "asks" && read.against[0]).toContain("is no longer in the file.");
    });
  });

  test("takes the separator that was answered", async () => {
    const table = target("a: text, b: text");
    const answers = { separator: ";" };
    const read = await readInto(sourceOf("a;b,c\nd;e,f\ng;h,i\n"), table, existingRows([], table, readUnit), readUnit, {
      answers,
    });
    expect(read.is === "read" && read.merge.pages[0]?.text).toBe('d,"e,f"\ng,"h,i"\n');
  });

  test("finds a byte that is not UTF-8 far down in the file", async () => {
    const table = target("n: number, remark: text");
    const rows = Array.from({ length: 30_000 }, (_, row) => `${row},${row === 29_000 ? "trüb" : "klar"}`);
    const bytes = new Uint8Array(Buffer.from(`n,remark\n${rows.join("\n")}\n`, "latin1"));
    const read = await readInto(sourceOf(bytes), table, existingRows([], table, readUnit), readUnit);
    if (read.is !== "read") throw new Error(read.is);
    expect([read.mapping.encoding, read.reading.columns[1]?.[29_000], read.merge.notes]).toEqual([
      "windows-1252",
      "trüb",
      [],
    ]);
  });

  test("refuses what is no table, and stops when it is told to", async () => {
    expect(await readInto(sourceOf(""), CELLAR, NO_ROWS, readUnit)).toEqual({
      is: "refused",
      says: "The file is empty.",
    });
    const source = sourceOf(sample("month-day-first.csv"));
    expect(await readInto(source, CELLAR, NO_ROWS, readUnit, { stop: { stopped: true } })).toEqual({ is: "stopped" });
  });

  test("knows its table from plain data, as a worker is handed it", () => {
    const table = target("taken: instant, gravity: °P, weight: kg, share: %, n: number, ok: truth, note: text");
    expect(targetOf(table.columns.map(asksOf), null, readUnit)).toEqual(table);
    expect(targetOf([{ name: "a", label: "A", asks: "smoot" }], null, readUnit)).toBeNull();
  });
});
