import { describe, expect, test } from "vitest";
import { detect } from "../../engine/readings/detect.ts";
import type { Answers } from "../../engine/readings/question.ts";
import { readCsv } from "../../engine/readings/read.ts";
import { type Rechecked, recheckMapping } from "../../engine/readings/recheck.ts";
import { sourceOf } from "../../engine/readings/source.ts";
import { knowsUnit, linesOf, readProposed, readUnit, target } from "./support.ts";

const LOG = target("taken: instant, gravity: SG, temp: °C");

/** An hourly log from midnight on. */
const csv = (header: string, figures: readonly number[], first = 0): string =>
  [
    `Taken,${header}`,
    ...figures.map((figure, at) => {
      const hour = first + at;
      const day = String(5 + Math.floor(hour / 24)).padStart(2, "0");
      return `2026-03-${day} ${String(hour % 24).padStart(2, "0")}:00,${figure}`;
    }),
  ].join("\n");

const run = (figure: number, count: number): number[] => Array.from({ length: count }, () => figure);
const fall = (): number[] => Array.from({ length: 12 }, (_, at) => Number((1.0485 - at * 0.003).toFixed(4)));

async function again(kept: string, answered: Answers, now: string, answers: Answers = {}): Promise<Rechecked> {
  const { mapping } = await readProposed(kept, LOG, answered);
  return recheckMapping(mapping, await detect(sourceOf(now), knowsUnit), LOG, readUnit, answers);
}
const asks = ({ proposed, against }: Rechecked): readonly string[] => [
  ...against,
  ...proposed.questions.map(({ about }) => about),
];

describe("a kept mapping asks again", () => {
  const switched = csv("Temp", [...run(18.2, 12), ...run(64.8, 12)]);
  const answered = { "unit:Temp": "°C", "unit-change:Temp": "yes" };

  test("where the unit changes once more, and not while it stays", async () => {
    expect(asks(await again(switched, answered, csv("Temp", [...run(18.2, 12), ...run(64.8, 36)])))).toEqual([]);
    const back = csv("Temp", [...run(18.2, 12), ...run(64.8, 12), ...run(18.2, 12)]);
    expect(asks(await again(switched, answered, back))).toEqual(["unit-change:Temp"]);
  });

  test("and reads each stretch in its unit, also where the export begins after the first change", async () => {
    const back = csv("Temp", [...run(64.8, 6), ...run(18.2, 6)], 18);
    const { proposed, against } = await again(switched, answered, back, { "unit-change:Temp": "yes" });
    expect([against, proposed.questions]).toEqual([[], []]);
    const read = await readCsv(sourceOf(back), proposed.mapping, LOG, readUnit);
    if ("problem" in read) throw new Error(read.problem);
    expect([linesOf(read.pages)[0], linesOf(read.pages).at(-1)]).toEqual([
      "2026-03-05T18:00,,64.8 °F",
      "2026-03-06T05:00,,18.2",
    ]);
  });

  test("where a third batch follows, and not while the second goes on", async () => {
    const two = csv("SG", [...fall(), ...fall()]);
    const cut = { "batch:SG": "2026-03-05T12:00/" };
    expect(asks(await again(two, cut, two))).toEqual([]);
    const three = csv("SG", [...fall(), ...fall(), ...fall()]);
    const open = await again(two, cut, three);
    expect(asks(open)).toEqual(["batch:SG"]);
    expect(open.proposed.questions[0]?.choices.map(({ value }) => value)).toContain(
      "2026-03-05T12:00/2026-03-06T00:00",
    );
    const { proposed } = await again(two, cut, three, { "batch:SG": "2026-03-06T00:00/" });
    const read = await readCsv(sourceOf(three), proposed.mapping, LOG, readUnit);
    expect("rows" in read && [read.rows, read.leftOut.filtered]).toEqual([12, 24]);
  });
});
