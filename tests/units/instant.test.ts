import fc from "fast-check";
import { Temporal } from "temporal-polyfill";
import { describe, expect, it } from "vitest";
import { dateOf, daysOf } from "../../engine/units/calendar.ts";
import { formatInstant } from "../../engine/units/instant.ts";
import { createZone } from "../../engine/units/zone.ts";
import { SEED } from "./support.ts";

const seconds = (text: string): number => Date.parse(`${text}Z`) / 1000;

describe("an instant", () => {
  it.each([
    ["2026-03-02T08:15:00", "2026-03-02T08:15"],
    ["2026-03-02T08:15:07", "2026-03-02T08:15:07"],
    ["2026-03-02T08:15:07.250", "2026-03-02T08:15:07.250"],
    ["2024-02-29T23:59:00", "2024-02-29T23:59"],
    ["1969-12-31T23:59:59", "1969-12-31T23:59:59"],
    ["0000-03-01T00:00:00", "0000-03-01T00:00"],
  ])("%s is written %s", (text, wanted) => {
    expect(formatInstant(seconds(text), null)).toBe(wanted);
  });

  it("is a date alone where only a date is asked", () => {
    expect(formatInstant(seconds("2026-03-01T00:00:00"), null, true)).toBe("2026-03-01");
  });

  it("has no text when it is missing or beyond the calendar", () => {
    expect([Number.NaN, 1e300, Number.NEGATIVE_INFINITY].map((value) => formatInstant(value, null))).toEqual([
      "",
      "",
      "",
    ]);
  });

  it("has the calendar of the platform", () => {
    fc.assert(
      fc.property(fc.integer({ min: -100_000_000, max: 100_000_000 }), (days) => {
        const date = new Date(days * 86_400_000);
        const wanted = { year: date.getUTCFullYear(), month: date.getUTCMonth() + 1, day: date.getUTCDate() };
        expect(dateOf(days)).toEqual(wanted);
        expect(daysOf(wanted)).toBe(days);
      }),
      { seed: SEED, numRuns: 3000 },
    );
  });
});

describe("a zone", () => {
  const NAMES = ["Europe/Berlin", "America/Toronto", "Asia/Kolkata", "Australia/Lord_Howe", "Pacific/Apia", "UTC"];

  it.each(NAMES)("%s keeps the wall clock that a general-purpose calendar library gives", (name) => {
    const zone = createZone(name);
    expect(zone.known).toBe(true);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2_500_000_000 }), (at) => {
        const there = Temporal.Instant.fromEpochMilliseconds(at * 1000).toZonedDateTimeISO(name);
        expect(zone.toWall(at)).toBe(at + there.offsetNanoseconds / 1e9);
        const wall = Temporal.PlainDateTime.from({ year: 1970, month: 1, day: 1 }).add({ seconds: at });
        expect(zone.toUtc(at)).toBe(
          wall.toZonedDateTime(name, { disambiguation: "compatible" }).epochMilliseconds / 1000,
        );
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  it("reads the hour that comes twice as the first, and the one that is skipped as if it were not", () => {
    const berlin = createZone("Europe/Berlin");
    expect(formatInstant(berlin.toUtc(seconds("2026-10-25T02:30:00")), berlin)).toBe("2026-10-25T02:30+02:00");
    expect(formatInstant(berlin.toUtc(seconds("2026-03-29T02:30:00")), berlin)).toBe("2026-03-29T03:30+02:00");
    expect(formatInstant(seconds("2026-01-05T08:00:00"), createZone("UTC"))).toBe("2026-01-05T08:00Z");
  });

  it("of an unknown name is reported, not thrown", () => {
    for (const name of ["Mars/Olympus", "", "\u0000"]) {
      const zone = createZone(name);
      expect([zone.known, zone.toWall(5), zone.toUtc(5)]).toEqual([false, 5, 5]);
    }
  });
});
