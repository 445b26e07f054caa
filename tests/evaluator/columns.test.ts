import { expect, test } from "vitest";
import { wordFault } from "../../engine/diagnostics/wording.ts";
import { Session } from "../../engine/session.ts";
import { language } from "../support/language.ts";

const TABLE = `gylebook 1
library 1
function bigger(x, y) = if x > y then x else y
function said(x) = if x > 1.5 kg then "heavy" else "light"
sheet s
later = ? truth
late = ? kg
late_two = ? kg
three = 3 kg
word = "ash"
table t1
  column fits : truth
  column tight : truth
  column mass : kg
  column name : text
  column strength : °P
  column temp : °C
  rows
    yes, yes, 1, Ash, 12, 20
    yes, no, 2, , 13, 20
    yes, , 0, Rowan, 14, 20
    no, yes, , ash, 15, 20
    no, no, 4, Elm, , 20
    no, , 5, Elm, 16,
    , yes, 6, Elm, 17, 20
    , no, 7, Elm, 18, 20
    , , 8, Elm, 19, 20
  end
`;

/** What a line with this formula shows, or in what state it is. */
function shown(formula: string): string {
  const cell = new Session(`${TABLE}it = ${formula}\n`, null, language).cell("s.it");
  if (cell === null) return "not there";
  if (cell.state === "waiting") return `waiting ${cell.waitingFor.join(", ")}`;
  return cell.state === "ready" ? cell.shown : cell.faults.map(({ code }) => code).join(", ");
}

/** The faults and cautions of a line with this formula, in words. */
function said(formula: string): { faults: string[]; cautions: string[] } {
  const cell = new Session(`${TABLE}it = ${formula}\n`, null, language).cell("s.it");
  return {
    faults: (cell?.faults ?? []).map((fault) => wordFault(fault).split(". ")[0] ?? ""),
    cautions: (cell?.cautions ?? []).map(({ code }) => code),
  };
}

test.each([
  // A missing left side leaves the row missing; a right one only where the left does not decide.
  ["t1.fits and t1.tight", "yes, no, –, no, no, no, –, –, –"],
  ["t1.fits or t1.tight", "yes, yes, yes, yes, no, –, –, –, –"],
  ["not t1.fits", "no, no, no, yes, yes, yes, –, –, –"],
  ["t1.fits and t1.tight and t1.mass > 1.5 kg", "no, no, –, no, no, no, –, –, –"],
  ["t1.fits or t1.tight or t1.mass > 4.5 kg", "yes, yes, yes, yes, no, –, –, –, –"],
  ["1 > 2 and t1.fits", "no"],
  ["1 < 2 and t1.fits", "yes, yes, yes, no, no, no, –, –, –"],
  ["later and t1.fits", "waiting s.later"],
  ["1 > 2 and later", "no"],
  // The right side is not looked at where the left one decides: no row divides by zero.
  ["t1.mass > 0 kg and 1 kg / t1.mass > 0.4", "yes, yes, no, –, no, no, no, no, no"],
])("%s gives %s", (formula, wanted) => {
  expect(shown(formula)).toBe(wanted);
});

test.each([
  ['t1.name is "ash"', "yes, –, no, yes, no, no, no, no, no"],
  ['t1.name is not "ash"', "no, –, yes, no, yes, yes, yes, yes, yes"],
  ["t1.name is t1.name", "yes, –, yes, yes, yes, yes, yes, yes, yes"],
  ["t1.name is word", "yes, –, no, yes, no, no, no, no, no"],
  ["t1.name is missing", "no, yes, no, no, no, no, no, no, no"],
  ["t1.name is not missing", "yes, no, yes, yes, yes, yes, yes, yes, yes"],
  ["t1.mass is missing", "no, no, no, yes, no, no, no, no, no"],
  ["late is missing", "yes"],
  ["late is not missing", "no"],
  ["three is missing", "no"],
  ["word is missing", "no"],
])("%s gives %s", (formula, wanted) => {
  expect(shown(formula)).toBe(wanted);
});

test.each([
  ['if t1.mass > 3 kg then t1.name else "few"', "few, few, few, –, Elm, Elm, Elm, Elm, Elm"],
  ["if t1.mass > 3 kg then t1.mass else 0 kg", "0, 0, 0, –, 4, 5, 6, 7, 8 kg"],
  ["if t1.mass > 6 kg then 1 else if t1.mass > 3 kg then 2 else 3", "3, 3, 3, –, 2, 2, 2, 1, 1"],
  // A branch is worked out for the rows that take it.
  ["if t1.mass > 0 kg then 4 kg / t1.mass else 0", "4, 2, 0, –, 1, 0.8, 0.6667, 0.5714, 0.5"],
  ["if t1.mass > 0 kg then 1 else 4 kg / t1.mass", "no-value"],
  ["if t1.mass > 100 kg then late else 1 kg", "1, 1, 1, –, 1, 1, 1, 1, 1 kg"],
  ["if t1.mass > 3 kg then late else 1 kg", "waiting s.late"],
  ["if three > 2 kg then t1.mass else late", "1, 2, 0, –, 4, 5, 6, 7, 8 kg"],
  ["if late > 2 kg then t1.mass else three", "waiting s.late"],
])("%s gives %s", (formula, wanted) => {
  expect(shown(formula)).toBe(wanted);
});

test.each([
  ["bigger(t1.mass, three)", "3, 3, 3, –, 4, 5, 6, 7, 8 kg"],
  ["bigger(three, t1.mass)", "3, 3, 3, –, 4, 5, 6, 7, 8 kg"],
  ["said(t1.mass)", "light, heavy, light, –, heavy, heavy, heavy, heavy, heavy"],
  ["bigger(t1.mass, late)", "waiting s.late"],
  ["first_known(t1.mass, three)", "1, 2, 0, 3, 4, 5, 6, 7, 8 kg"],
  ["first_known(late, three)", "3 kg"],
  ["first_known(late, late)", "waiting s.late"],
  ["first_known(three, late)", "3 kg"],
  ["first_known(t1.mass, late)", "1, 2, 0, –, 4, 5, 6, 7, 8 kg"],
])("%s gives %s", (formula, wanted) => {
  expect(shown(formula)).toBe(wanted);
});

test.each([
  ["t1.mass + late + late_two", "waiting s.late, s.late_two"],
  ["wort_mass(volume: late / 1 kg * 1 L, gravity: 12 °P) + late_two", "waiting s.late, s.late_two"],
  ["sum(late, late_two)", "waiting s.late, s.late_two"],
])("%s waits for all that it lacks: %s", (formula, wanted) => {
  expect(shown(formula)).toBe(wanted);
});

test.each([
  ["1 / (2 - 2)", "This divides by zero."],
  ["0 ^ (0 - 1)", "This divides by zero."],
  ["(0 - 2) ^ 0.5", "The root of a negative figure has no value."],
  ["0 ^ 0.5", ""],
  ["(1e200 + 0) * 1e200", "The result is too large to be held."],
  ["(0 - 1e200) * 1e200", "The result is too large to be held."],
  ["(1e200 + 0) ^ 2", "The result is too large to be held."],
])("%s says %s", (formula, wanted) => {
  expect(said(formula).faults.join(" ")).toBe(wanted);
});

test.each([
  ["sum(t1.mass where t1.mass > 5 kg)", "21 kg"],
  ["count(t1.name where t1.mass > 5 kg)", "3"],
  ["last(t1.name where t1.mass < 1 kg)", "Rowan"],
  ["count(t1.mass where three > 2 kg)", "8"],
  ["count(t1.mass where three > 4 kg)", "0"],
  ["sum(t1.mass where late > 4 kg)", "waiting s.late"],
])("%s gives %s", (formula, wanted) => {
  expect(shown(formula)).toBe(wanted);
});

test("a function of the library is worked out for each row; a row with a missing argument is missing", () => {
  const rows = shown("wort_density(gravity: t1.strength, temp: t1.temp)").split(", ");
  const single = (gravity: number): string | undefined =>
    shown(`wort_density(gravity: ${gravity} °P, temp: 20 °C)`).split(" ")[0];
  expect(rows).toEqual([single(12), single(13), single(14), single(15), "–", "–", single(17), single(18), rows[8]]);
  expect(rows[8]).toMatch(new RegExp(`^${single(19)} `));
});

test.each([
  [
    "wort_density(gravity: t1.strength, temp: t1.temp + number(t1.mass as kg) * 12 Δ°C)",
    "wort_density: temp (its temperature) in row 8 cannot be 104 °C",
  ],
  ["steam_pressure(t1.temp - 30 Δ°C)", "steam_pressure: temp (temperature of the steam) in row 1 cannot be -10 °C"],
  [
    "alcohol_by_volume(original: 12 °P, present: 3 °P, method: t1.name)",
    '"Ash" is not one of "Cutaia", "Balling", "HMRC", "Hall" or "simple".',
  ],
  ["t1.mass - 1 kg / number(t1.mass as kg)", "Row 3: This divides by zero."],
])("%s is faulty: %s", (formula, wanted) => {
  expect(said(formula).faults).toEqual([wanted]);
});

test("a published range is told once for all rows that leave it, and not at its ends", () => {
  expect(said("wort_density(gravity: t1.strength, temp: 20 °C)").cautions).toEqual([]);
  expect(said("wort_density(gravity: t1.strength + 15 Δ°P, temp: 20 °C)").cautions).toEqual([
    "outside-published-range",
  ]);
  expect(said("wort_density(gravity: t1.strength - 15 Δ°P, temp: 20 °C)").faults).toEqual([
    "wort_density: gravity (its gravity) in row 1 cannot be -3 °P",
  ]);
  for (const end of ["-2", "30"]) expect(said(`wort_density(gravity: ${end} °P, temp: 20 °C)`).cautions).toEqual([]);
});

test("an accepted range takes its ends", () => {
  for (const end of ["0", "100"]) expect(said(`wort_density(gravity: 12 °P, temp: ${end} °C)`).faults).toEqual([]);
  for (const past of ["-0.1", "100.1"])
    expect(said(`wort_density(gravity: 12 °P, temp: ${past} °C)`).faults).toHaveLength(1);
});

test("a text of several choices is taken whatever its case, by row too", () => {
  const by = (method: string): string => shown(`alcohol_by_volume(original: 12 °P, present: 3 °P, method: ${method})`);
  expect(by('"BALLING"')).toBe(by('"Balling"'));
  expect(by('if t1.mass > 3 kg then "balling" else "Cutaia"')).toMatch(/^4\.78, 4\.78, 4\.78, –, 4\.87, /);
});
