import { describe, expect, test } from "vitest";
import { working } from "../../engine/assist/working.ts";
import { createSession } from "../../engine/session.ts";
import type { Lens } from "../../engine/units/lens.ts";

const BOOK = `gylebook 1
library 1
sheet log
table readings
  column taken : instant
  column gravity : °P by 0.1
  column temp : °C
  column dip : inch
  column sugar : kg
  column trend : °C
  column empties
  rows
    2026-11-29T08:05, 12.1, 17.8, 1.375, 600 g, -1.25 °C, 3
    2026-11-30, 1.0415 SG, 64.90 °F, 27.125, 2 lb 1 oz, 31 °F, 1e3
    2026-12-01T07:30, 7.45, 18, 3 cm, 1 lb, 0.5, 12.50
  end
last_taken = last(readings.taken)
next_due = last_taken + 1 day
`;

const shownIn = (lens: Lens, column: string): string[] => {
  const session = createSession(BOOK, { lens });
  return [0, 1, 2].map((row) => session.entry("log.readings", row, column).shown);
};

// Converted by hand: 1 lb = 0.45359237 kg, 1 inch = 2.54 cm, °F = 1.8 °C + 32, all exact (NIST SP 811, appendix B.8).
describe("an entry through a lens", () => {
  test("that is in the lens's unit already stands as it was typed", () => {
    expect(shownIn("US", "dip").slice(0, 2)).toEqual(["1.375", "27.125"]);
    expect(shownIn("US", "temp")[1]).toBe("64.90");
    expect(shownIn("imperial", "gravity")[1]).toBe("1.0415");
    expect(shownIn("metric", "gravity")[2]).toBe("7.45");
    expect(shownIn("metric", "trend")[0]).toBe("-1.25");
    for (const lens of ["metric", "US", "imperial"] as const)
      expect(shownIn(lens, "empties")).toEqual(["3", "1e3", "12.50"]);
  });

  test("that is converted is shown no more coarsely than its last digit", () => {
    expect(shownIn("imperial", "sugar")).toEqual(["1.323", "2.06", "1"]);
    expect(shownIn("metric", "sugar")).toEqual(["600", "935.5", "453.6"]);
    expect(shownIn("US", "temp")).toEqual(["64.0", "64.90", "64.4"]);
    expect(shownIn("metric", "dip")[1]).toBe("68.898");
    expect(shownIn("US", "trend")[0]).toBe("29.75");
  });

  test("says the same figure as the file, to half of its last digit", () => {
    const [typed = Number.NaN] = shownIn("imperial", "sugar").map((shown) => Number(shown) * 453.59237);
    expect(Math.abs(typed - 600)).toBeLessThan(0.5);
    const [, dip = Number.NaN] = shownIn("metric", "dip").map((shown) => Number(shown) / 2.54);
    expect(Math.abs(dip - 27.125)).toBeLessThan(0.0005);
  });
});

test.for<Lens>(["as-written", "metric", "US", "imperial"])(
  "a moment reads the same in a table, in a line and in a working, %s",
  (lens) => {
    expect(shownIn(lens, "taken")).toEqual(["2026-11-29 08:05", "2026-11-30", "2026-12-01 07:30"]);
    const session = createSession(BOOK, { lens });
    expect(session.cell("log.last_taken")?.shown).toBe("2026-12-01 07:30");
    expect(working(session.model, lens, "log.next_due")).toMatchObject({
      withFigures: "2026-12-01 07:30 + 1 day",
      shown: "2026-12-02 07:30",
    });
  },
);

test("a moment with an offset is shown by the brewery's clock", () => {
  const session = createSession(
    "gylebook 1\nlibrary 1\nzone Europe/London\nsheet log\ntable tank_log\n  column taken : instant\n  rows\n    2026-07-01T08:00Z\n    2026-07-01T10:00\n  end\n",
  );
  expect([0, 1].map((row) => session.entry("log.tank_log", row, "taken").shown)).toEqual([
    "2026-07-01 09:00",
    "2026-07-01 10:00",
  ]);
});
