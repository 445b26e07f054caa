import { describe, expect, test } from "vitest";
import { linesOf, look, readProposed, target } from "./support.ts";

const CELLAR = target("taken: instant, temp: °C, gravity: SG");
const WEIGHTS = target("taken: instant, gross: g, verdict: text");
const TWO = target("taken: instant, temp: °C");

const ROWS = "2026-03-05 10:00;18,1;1,048\n2026-03-05 11:00;18,3;1,047\n";

/** The header's line that is proposed, and the lines that are offered where it is asked for. */
async function headerOf(csv: string): Promise<{ line: number; offered: readonly string[] | null }> {
  const { detection, proposed } = await look(csv, CELLAR);
  const asked = proposed.questions.find(({ about }) => about === "header");
  return { line: detection.shape.header.value, offered: asked?.choices.map(({ value }) => value) ?? null };
}

describe("the header of a table below lines of a key and a value", () => {
  test.each([
    ["one line", "Tank;FV 2\nTime;Temp (°C);SG\n", 2],
    ["a title and a line", "Logger 2\nTank;FV 2\nTime;Temp (°C);SG\n", 3],
    ["lines of words and of figures", "Tank;FV 2\nBatch;142\nTime;Temp (°C);SG\n", 3],
    ["lines as wide as the table", "Tank;FV 2;\nBatch;142;\nTime;Temp (°C);SG\n", 3],
    ["a row of units below it", "Tank;FV 2\nTime;Temp;SG\nhh:mm;°C;SG\n", 2],
    ["an empty line", "Tank;FV 2\n\nTime;Temp (°C);SG\n", 3],
  ])("is the line that names the columns of the rows: %s", async (_, above, line) => {
    expect(await headerOf(above + ROWS)).toEqual({ line, offered: null });
    const read = await readProposed(above + ROWS, CELLAR);
    expect(linesOf(read.pages)).toEqual(["2026-03-05T10:00,18.1,1.048", "2026-03-05T11:00,18.3,1.047"]);
    expect(read.rejects).toEqual([]);
  });

  test.each([
    ["Tank;FV 2\nTime zone;UTC+1\nTime;Temp (°C);SG\n", { line: 3, offered: null }],
    ["Tank;FV 2\nBatch;142\nTime;Temp (°C);SG\n", { line: 3, offered: null }],
    ["Tank;FV 2\nCellar;B\nBeer;Pale\nTime;Temp (°C);SG\n", { line: 4, offered: ["4", "1", "2", "3"] }],
    ["Device;T 7\nBatch;142\nTime;Temp (°C)\n", { line: 3, offered: ["3", "1"] }],
  ])("is found above a single row too: %j", async (above, found) => {
    const [row = ""] = ROWS.split("\n");
    const columns = above.trim().split("\n").at(-1)?.split(";").length;
    expect(await headerOf(`${above}${row.split(";").slice(0, columns).join(";")}\n`)).toEqual(found);
  });

  test("is found in a checkweigher's export, where a column holds words", async () => {
    const rows = Array.from({ length: 40 }, (_, at) => `2026-03-05 10:00:${at + 10};861,${at % 10};OK`);
    const csv = `Checkweigher 2\nProduct;Pale 330\nTime;Gross [g];Verdict\n${rows.join("\n")}\n`;
    const read = await readProposed(csv, WEIGHTS);
    expect([read.rows, read.rejects, read.leftOut.preamble]).toEqual([40, [], 2]);
  });

  test("is asked for where such a line has a name for each column too, with the line next to the rows first", async () => {
    const csv = "Tank;FV 2\nTime;Temp (°C)\n2026-03-05 10:00;18,1\n2026-03-05 11:00;18,3\n";
    expect(await headerOf(csv)).toEqual({ line: 2, offered: ["2", "1"] });
    const read = await readProposed(csv, TWO, { header: "2" });
    expect(linesOf(read.pages)).toEqual(["2026-03-05T10:00,18.1", "2026-03-05T11:00,18.3"]);
  });

  test("is asked for where the line next to the rows leaves a column without a name", async () => {
    expect(await headerOf(`Tank;FV 2;cellar\n;Temp (°C);SG\n${ROWS}`)).toEqual({ line: 1, offered: ["1", "2"] });
    // A sample without its figures is none.
    const samples = "Sample;Name;Oe (°P)\nB1;Pale;\nB2;Stout;16,1\nB3;Mild;9,2\n";
    expect((await look(samples, target("sample: text, name: text, oe: °P"))).proposed.questions).toEqual([]);
  });

  test("is settled where it is sure, and another line can still be chosen, above and below it", async () => {
    const { proposed } = await look(`Tank;FV 2\nTime;Temp (°C);SG\n${ROWS}`, CELLAR);
    const header = proposed.settled.find(({ question }) => question.about === "header");
    expect([header?.value, header?.question.choices.map(({ value }) => value).slice(0, 5)]).toEqual([
      "2",
      ["0", "1", "2", "3", "4"],
    ]);
  });

  test("stays where it was when the first row says that nothing was measured", async () => {
    const csv = `Time;Temp (°C);SG;Remark\n--;--;--;start\n2026-03-05 10:00;18,1;1,048;\n2026-03-05 11:00;18,3;1,047;\n`;
    expect(await headerOf(csv)).toEqual({ line: 1, offered: null });
  });
});

describe("a line among the rows that says what stands above the table", () => {
  const rows = (from: number): string =>
    Array.from({ length: 4 }, (_, at) => `2026-03-05 10:00:${from + at};861,${at};OK\n`).join("");

  test("and says it otherwise is rejected with that reason, and the rows below it are told of", async () => {
    const above = "Checkweigher 2\nProduct;Pale 330\nTime;Gross [g];Verdict\n";
    const csv = `${above}${rows(10)}Product;Stout 500\n${rows(20)}`;
    const read = await readProposed(csv, WEIGHTS);
    expect([read.rows, read.rejects.map(({ line, row }) => [line, row])]).toEqual([8, [[8, "Product;Stout 500"]]]);
    expect(read.rejects[0]?.reason).toBe(
      'This line says "Product: Stout 500" where it was "Pale 330" until here; it is no reading, and the rows below it may be of another.',
    );
    expect(read.notes).toContain(
      'Line 8 says "Product: Stout 500" where it was "Pale 330" until there: the rows below it may be of another. All are read; to keep them apart, cut the file there.',
    );
  });

  test("is known with a colon too, and in a table of two columns", async () => {
    const log = (from: number): string => `2026-03-05 1${from}:00,18.1\n2026-03-05 1${from}:30,18.3\n`;
    const csv = `# Tank: FV 2\nTime,Temp (°C)\n${log(0)}# Tank: FV 3\n${log(1)}`;
    const read = await readProposed(csv, TWO);
    expect([read.rows, read.rejects[0]?.reason]).toEqual([4, expect.stringContaining('"Tank: FV 3"')]);
    expect(read.notes.join()).toContain('Line 5 says "Tank: FV 3" where it was "FV 2" until there');
    const pair = csv.replace("# Tank: FV 2", "Tank,FV 2").replace("# Tank: FV 3", "Tank,FV 3");
    const two = await readProposed(pair, TWO, { header: "2" });
    expect([two.rows, two.rejects[0]?.reason]).toEqual([4, expect.stringContaining('"Tank: FV 3"')]);
    expect(two.notes.join()).toContain('Line 5 says "Tank: FV 3"');
  });

  test("and says the same is no change", async () => {
    const above = "Tank;FV 2\nTime;Temp (°C);SG\n";
    const read = await readProposed(above + ROWS + above + ROWS.replaceAll("03-05", "03-06"), CELLAR);
    expect([read.rows, read.rejects.map(({ line, reason }) => [line, reason])]).toEqual([
      4,
      [[5, 'This line says "Tank: FV 2", as the lines above the table do; it is no reading.']],
    ]);
    expect(read.notes.join()).not.toContain("may be of another");
  });
});
