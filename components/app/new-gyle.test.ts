import { expect, test } from "vitest";
import { createSession } from "../../engine/index.ts";
import { newGyleOf, notesOfReadings } from "./new-gyle.ts";

const BOOK = `gylebook 1
library 1
batch_date = ? 2026-03-02 # a cold Monday
sheet mash
grain "Malt in" = 212 kg # one bag is damp
rest "Rest measured" = ? 66.2 °C within 65 to 68 °C # after ten minutes, stirred
tun_temp = ? 55 °C # rinsed twice
vessel = ? "kettle" within "kettle", "the # two" # as always
run_off = ? 640 L
`;

test("the notes beside readings are told with their lines, those of the recipe are not", () => {
  expect(notesOfReadings(createSession(BOOK)).map(({ line, label, note }) => `${line} | ${label} | ${note}`)).toEqual([
    "batch_date | Batch date | a cold Monday",
    "mash.rest | Rest measured | after ten minutes, stirred",
    "mash.tun_temp | Tun temp | rinsed twice",
    "mash.vessel | Vessel | as always",
  ]);
});

test("a new gyle has its readings emptied, and is without the notes that were of the day alone", () => {
  expect(newGyleOf(BOOK, new Set(["batch_date", "mash.tun_temp", "mash.grain"]))).toBe(`gylebook 1
library 1
batch_date = ? instant
sheet mash
grain "Malt in" = 212 kg # one bag is damp
rest "Rest measured" = ? °C within 65 to 68 °C # after ten minutes, stirred
tun_temp = ? °C
vessel = ? text within "kettle", "the # two" # as always
run_off = ? L
`);
});
