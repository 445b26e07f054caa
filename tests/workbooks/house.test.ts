import { describe, expect, test } from "vitest";
import { invariant } from "../../engine/base/invariant.ts";
import type { Session } from "../../engine/session.ts";
import { columnOf, figureOf, lineOf, openShipped, shippedFiles } from "./shipped.ts";

const BOOKS = [
  "batch-account",
  "brew-day",
  "cellar-log",
  "cleaning",
  "packaging",
  "vessels",
  "water",
  "yeast",
] as const;

describe("the eight books are one house's and one batch's", () => {
  const books = new Map<string, Session>(BOOKS.map((book) => [book, openShipped(book)]));
  const book = (name: (typeof BOOKS)[number]): Session => {
    const found = books.get(name);
    invariant(found, `there is no book ${name}`);
    return found;
  };
  /** A line's figure: `brew-day mash.grain`. */
  const figure = (line: string): number => {
    const [name, path] = line.split(" ") as [(typeof BOOKS)[number], string];
    return figureOf(book(name), path);
  };

  test("are all there, with their readings beside them", () => {
    expect(shippedFiles()).toEqual([...BOOKS.map((name) => `${name}.gyle`), "cellar-log.csv", "packaging.csv"].sort());
  });

  // A figure that one book works out and another takes over as it is shown there: half of the last digit apart at most.
  test.each([
    ["yeast pitch.wort", "brew-day cast.fermenter_volume", 0.5],
    ["yeast pitch.original", "brew-day cast.original", 0.005],
    ["yeast pitch.pitch_temp", "brew-day cast.wort_temp", 1e-9],
    ["cellar-log hand.original", "brew-day cast.original", 0.005],
    ["cellar-log out.entered", "brew-day cast.fermenter_volume", 0.5],
    ["packaging fills.present", "cellar-log hand.present", 0.005],
    ["packaging gas.warmest", "cellar-log log.warmest", 0.05],
    ["packaging gas.cask_beer", "cellar-log out.casks", 1e-9],
    ["packaging run.bright", "cellar-log out.bright", 1e-9],
    ["packaging gas.altitude", "brew-day plant.altitude", 1e-9],
    ["batch-account losses.original", "brew-day cast.original", 0.005],
    ["batch-account losses.present", "cellar-log hand.present", 0.005],
    ["batch-account losses.malt_extract", "brew-day malt.extract_in", 0.05],
    ["vessels kettle.holds", "brew-day boil.full_hot", 1e-9],
    ["vessels kettle.holds_cold", "brew-day boil.full_cold", 1e-9],
    ["vessels kettle.wanted_cold", "brew-day mash.kettle_full", 0.5],
    ["vessels kettle.end_cold", "brew-day malt.at_kettle", 1e-9],
    ["vessels fermenter.holds", "brew-day cast.fermenter_read", 1e-9],
    ["vessels bright.holds_warm", "cellar-log out.bright", 0.5],
    ["vessels liquor.draw", "brew-day mash.strike_water", 1e-9],
    ["water salts.mash_ph", "brew-day mash.mash_ph", 1e-9],
  ])("%s is %s", (taken, worked, within) => {
    expect(Math.abs(figure(taken) - figure(worked))).toBeLessThanOrEqual(within);
  });

  test("the liquor of the water book is what the brew used", () => {
    expect(figure("water salts.liquor")).toBeCloseTo(
      figure("brew-day mash.strike_water") + figure("brew-day mash.sparge_used"),
      6,
    );
  });

  test("the kettle has one dip stick", () => {
    for (const column of ["dip", "volume"])
      expect(columnOf(book("vessels"), "kettle.stick", column)).toEqual(
        columnOf(book("brew-day"), "plant.kettle", column),
      );
  });

  test("yeast is pitched, and the log begins, once the fermenter is full", () => {
    const pitched = lineOf(book("yeast"), "pitch.pitched_at").shown;
    expect(lineOf(book("cellar-log"), "hand.pitched").shown).toBe(pitched);
    expect(pitched > lineOf(book("brew-day"), "cast.filled").shown).toBe(true);
  });

  test("the account takes its volumes from the books before it, stage by stage", () => {
    const casks = figure("cellar-log out.casks");
    const stages = [
      figure("brew-day boil.end_cold"),
      figure("brew-day cast.fermenter_volume"),
      casks + figure("cellar-log out.bright"),
      casks + figure("packaging run.in_kegs") + figure("packaging run.in_bottles"),
      casks + figure("packaging run.packed"),
    ];
    const ledger = columnOf(book("batch-account"), "losses.ledger", "volume");
    expect(ledger).toHaveLength(stages.length);
    ledger.forEach((volume, stage) => {
      expect(Math.abs(volume - (stages[stage] ?? 0))).toBeLessThan(0.5);
    });
  });

  test("the account's losses are those that the books before it tell, one by one", () => {
    const told = [
      figure("brew-day cast.left_behind"),
      figure("cellar-log out.cropped"),
      figure("cellar-log out.samples"),
      figure("cellar-log out.bottoms"),
      figure("packaging run.tank_left"),
      figure("packaging run.hoses"),
      figure("packaging run.foam_volume"),
      ((figure("packaging run.bottles") - figure("packaging run.good")) * figure("packaging fills.mean_fill")) / 1000,
    ];
    columnOf(book("batch-account"), "losses.parts", "volume").forEach((volume, at) => {
      expect(Math.abs(volume - (told[at] ?? 0))).toBeLessThan(0.06);
    });
  });

  test("from the extract in the malt to that in the store nothing goes missing", () => {
    const lost =
      figure("brew-day cast.extract_grains") +
      figure("brew-day cast.extract_unfound") +
      columnOf(book("batch-account"), "losses.parts", "extract").reduce((sum, each) => sum + each, 0);
    // Two hydrometer readings of a thousand litres, each good to 0.02 °P: 0.3 kg.
    expect(
      Math.abs(figure("brew-day malt.extract_in") - lost - figure("batch-account losses.stored_extract")),
    ).toBeLessThan(0.3);
  });
});
