import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { daysFromDate, isoOf, utcFromWall, zoneOf } from "../../engine/readings/clock.ts";
import { type DateOrder, DateReader, daysIn } from "../../engine/readings/dates.ts";
import { InstantReader, laterPass } from "../../engine/readings/instants.ts";

/** The ISO form of an entry, or null when it is no date in that order. */
function read(text: string, order: DateOrder): string | null {
  const reader = new DateReader();
  if (!reader.scan(text) || !reader.parts.hasDate) return null;
  const days = daysIn(reader.parts, order);
  return Number.isNaN(days) ? null : isoOf(days * 86_400 + reader.parts.seconds);
}

describe("a date", () => {
  test.each([
    ["2026-03-02T08:15", "iso", "2026-03-02T08:15"],
    ["2026-03-02 08:15:30.5", "iso", "2026-03-02T08:15:30.500"],
    ["2026/3/2 8:05", "iso", "2026-03-02T08:05"],
    ["02.03.2026 08.15", "day-first", "2026-03-02T08:15"],
    ["3/4/26 8:15 PM", "month-first", "2026-03-04T20:15"],
    ["3/4/26 8:15 PM", "day-first", "2026-04-03T20:15"],
    ["26-03-04", "year-first", "2026-03-04T00:00"],
    ["3/4/2026 12:05 a.m.", "day-first", "2026-04-03T00:05"],
    ["3/4/2026 12:05 p.m.", "day-first", "2026-04-03T12:05"],
    ["2-Mar-2026", "day-first", "2026-03-02T00:00"],
    ["Mar 2, 2026 8:15", "month-first", "2026-03-02T08:15"],
    ["2. März 2026", "day-first", "2026-03-02T00:00"],
    ["2026-03-02T24:00", "iso", "2026-03-03T00:00"],
    ["29/02/2024", "day-first", "2024-02-29T00:00"],
    // The basic format of ISO 8601:2019, 5.2.2 and 5.3.
    ["20260302", "iso", "2026-03-02T00:00"],
    ["20260302T081530", "iso", "2026-03-02T08:15:30"],
    ["20260302T0815Z", "iso", "2026-03-02T08:15"],
    ["20260302 08:15", "iso", "2026-03-02T08:15"],
    ["20260302081530", "iso", "2026-03-02T08:15:30"],
    ["2026-03-02 0815", "iso", "2026-03-02T08:15"],
    ["Mon 02/03/2026 08:15", "day-first", "2026-03-02T08:15"],
    ["Monday, March 2, 2026 8:15 AM", "month-first", "2026-03-02T08:15"],
    ["Mo., 02.03.2026", "day-first", "2026-03-02T00:00"],
    ["Sonntag 1. März 2026", "day-first", "2026-03-01T00:00"],
    ["Thu 1 Jan 1970", "day-first", "1970-01-01T00:00"],
    ["Wed 31 Dec 1969", "day-first", "1969-12-31T00:00"],
  ] as [string, DateOrder, string][])("%s, %s, is %s", (text, order, iso) => {
    expect(read(text, order)).toBe(iso);
  });

  test.each([
    ["2026-10-25 02:30 CEST", 2],
    ["2026-10-25 02:30 CET", 1],
    ["25.10.2026 02:30 MEZ", 1],
    ["2026-10-25 02:30 GMT", 0],
    ["2026-10-25 02:30 UTC-3", -3],
    ["2026-10-25T02:30+02:00[Europe/Vienna]", 2],
  ])("%s is so many hours ahead of UTC: %d (IANA time zone database, rule EU; RFC 9557)", (text, hours) => {
    const reader = new DateReader();
    expect(reader.scan(text)).toBe(true);
    expect(reader.parts.offset).toBe(hours * 3600);
  });

  test.each([
    ["2026-10-25 02:30 EST", "iso"],
    ["2026-10-25 02:30 CET+1", "iso"],
    ["2026-10-25 02:30 Europe/Vienna", "iso"],
    ["2026-10-25 08:15 wet", "iso"],
    ["2026-10-25 08:15 constructor", "iso"],
    ["13/13/2026", "day-first"],
    ["13/04/2026", "month-first"],
    ["29/02/2026", "day-first"],
    ["2026-03-02 25:00", "iso"],
    ["2026-03-02 08:61", "iso"],
    ["2026-03-02 13:00 pm", "iso"],
    ["12.1", "day-first"],
    ["FV1", "iso"],
    ["2026-03-02T08:15 and more", "iso"],
    ["20261302", "iso"],
    ["02032026", "iso"],
    ["2026030", "iso"],
    ["202603021", "iso"],
    ["20260302 081", "iso"],
    ["20260302 0861", "iso"],
    ["Tue 02/03/2026", "day-first"],
    ["Mon 02/03/2026", "month-first"],
    ["Mon", "iso"],
    ["Moon 2 Mar 2026", "day-first"],
    ["", "iso"],
  ] as [string, DateOrder][])("%j is none, %s", (text, order) => {
    expect(read(text, order)).toBeNull();
  });

  test("counts days as the language's own calendar does (ECMA-262, proleptic Gregorian)", () => {
    fc.assert(
      fc.property(
        fc.date({ min: new Date("1600-01-01"), max: new Date("2399-12-31"), noInvalidDate: true }),
        (date) => {
          const [year, month, day] = [date.getUTCFullYear(), date.getUTCMonth() + 1, date.getUTCDate()];
          const days = daysFromDate(year, month, day);
          expect(days * 86_400_000).toBe(Date.UTC(year, month - 1, day));
          expect(isoOf(days * 86_400)).toBe(`${date.toISOString().slice(0, 11)}00:00`);
        },
      ),
      { seed: 5, numRuns: 1000 },
    );
  });
});

describe("a zone", () => {
  const vienna = zoneOf("Europe/Vienna");

  test("turns wall-clock times into UTC on both sides of a change and within it", () => {
    if (vienna === null) throw new Error("the zone is known");
    const wall = (iso: string): number => Date.parse(`${iso}Z`) / 1000;
    expect(isoOf(utcFromWall(vienna, wall("2026-07-01T12:00"), false))).toBe("2026-07-01T10:00");
    expect(isoOf(utcFromWall(vienna, wall("2026-12-01T12:00"), false))).toBe("2026-12-01T11:00");
    expect(isoOf(utcFromWall(vienna, wall("2026-10-25T02:30"), false))).toBe("2026-10-25T00:30");
    expect(isoOf(utcFromWall(vienna, wall("2026-10-25T02:30"), true))).toBe("2026-10-25T01:30");
    expect(utcFromWall(vienna, wall("2026-03-29T02:30"), false)).toBeNaN();
  });

  test("has no offset at what is no time or lies beyond the calendar", () => {
    for (const wall of [Number.NaN, Number.POSITIVE_INFINITY, 1e20])
      expect(utcFromWall(vienna ?? (() => 0), wall, false)).toBeNaN();
  });

  test.each(["UTC", "Z", "+02:00", "-0330", "UTC+1", "America/St_Johns"])("is known as %s", (name) => {
    expect(zoneOf(name)).not.toBeNull();
  });

  test.each(["", "CET?", "+25:00", "Mars/Olympus", "local"])("is not known as %j", (name) => {
    expect(zoneOf(name)).toBeNull();
  });
});

describe("an instant", () => {
  test("from an epoch is turned into the brewery's wall clock", () => {
    const reader = new InstantReader({ order: "epoch-seconds", zone: "UTC", clock: "Europe/Vienna" });
    expect(reader.read("1772438400", null)).toBe(true);
    expect(reader.text()).toBe("2026-03-02T09:00");
  });

  test("in a repeated hour is told from its twin by what came before", () => {
    const reader = new InstantReader({ order: "iso", zone: "Europe/Vienna", clock: "UTC" });
    const texts = [
      "2026-10-25T02:15",
      "2026-10-25T02:45",
      "2026-10-25T02:15",
      "2026-10-25T02:45",
      "2026-10-25T03:15",
    ].map((time) => {
      reader.read(time, null);
      return reader.text();
    });
    expect(texts).toEqual([
      "2026-10-25T00:15",
      "2026-10-25T00:45",
      "2026-10-25T01:15",
      "2026-10-25T01:45",
      "2026-10-25T02:15",
    ]);
  });

  test("of a later pass through the hour is found in wall-clock times", () => {
    const minutes = [120, 135, 150, 165, 120, 135, 150, 165, 180, 195];
    expect([...(laterPass(Float64Array.from(minutes, (minute) => minute * 60)) ?? [])]).toEqual([
      0, 0, 0, 0, 1, 1, 1, 1, 0, 0,
    ]);
    expect(laterPass(Float64Array.from([0, 900, 1800, 900, 2700], (second) => second + 40_000))).toBeNull();
  });
});
