import fc from "fast-check";
import type { Edit } from "../../engine/workbook/edit.ts";

const sheets = ["mash", "cellar", "boil", "nowhere"];
const names = ["grain", "water", "ratio", "gap", "known", "toString", "valueOf", "kegs", "readings", "fresh", "kg"];
const cells = ["mash.grain", "mash.water", "mash.ratio", "mash.gap", "mash.known", "mash.measured", "mash.constructor"];
const others = [
  "cellar.original",
  "cellar.latest",
  "cellar.kegs",
  "mash.fresh",
  "boil.fresh",
  "batch_date",
  "no.where",
];
const tables = ["cellar.readings", "cellar.dips", "mash.readings"];
const columns = ["taken", "gravity", "temp", "gone", "fresh"];

const formulas = [
  "3 kg",
  "grain * 2",
  "mash.grain + 25 kg",
  "water + grain",
  "640 L as hL by 0.1",
  "? kg",
  "? 12 kg # weighed",
  "gap + grain",
  "kegs",
  "ratio * grain",
  "1 / (grain - grain)",
  "twice(water)",
  "twice(fresh)",
  "grian",
  "(3 kg",
  "6 gal",
  "sum(cellar.readings.temp)",
  "mean(cellar.readings.temp)",
  "cellar.readings.gravity where temp > 18 °C",
  "count(cellar.dips.depth)",
  "if gap is missing then grain else gap",
  "constructor + toString",
  'if vessel is "kettle" then 1 else 2',
  "cellar.latest",
  "3 sack",
  "",
];
const entries = ["12", "1.040 SG", "", "3 kg", "abc", "2026-03-05", '"1,5"', "64 °F", "# 3", "end"];
const texts = [
  '> Prose with "quotes" and = signs',
  'section "Later"',
  "table dips\n  column depth : cm\n  column volume : L\n  rows\n    1, 2\n    3, 4\n  end",
  "table readings\n  column taken : instant\n  rows\n  end",
  "what is this",
  "# a note",
  'plot "Again"\n  line readings.temp',
  "fresh = 4 kg",
];
const heads = [
  "unit sack = 20 kg",
  "unit skip = 3 sack",
  "gal means imp gal",
  "function twice(x) = 3 * x",
  "function twice(x) = x + gap",
  "zone America/Toronto",
  "batch_date = ? 2026-04-01",
  "nonsense",
];
const columnTexts = [
  "fresh : kg",
  "fresh = temp + 1 Δ°C",
  "gravity : SG by 0.001",
  "temp : °F",
  "gone = temp",
  "kg : kg",
  "fresh",
];

const from = <T>(list: readonly T[]): fc.Arbitrary<T> => fc.constantFrom(...list);
const cell = from([...cells, ...others]);
const place = fc.integer({ min: -1, max: 14 });
const row = fc.integer({ min: -1, max: 5 });
const somewhere = fc.option(place);
const table = from(tables);

/** Any edit, also such as must be refused. */
export const anyEdit: fc.Arbitrary<Edit> = fc.oneof(
  { weight: 5, arbitrary: fc.record({ edit: fc.constant("set-formula"), cell, formula: from(formulas) }) },
  {
    weight: 2,
    arbitrary: fc.record({
      edit: fc.constant("add-cell"),
      sheet: from(sheets),
      at: somewhere,
      name: from(names),
      label: fc.option(from(["A label", ""])),
      formula: from(formulas),
    }),
  },
  { weight: 2, arbitrary: fc.record({ edit: fc.constant("remove-item"), sheet: from(sheets), at: place }) },
  {
    weight: 3,
    arbitrary: fc.record({ edit: fc.constant("set-entry"), table, row, column: from(columns), entry: from(entries) }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      edit: fc.constant("rename"),
      of: fc.oneof(cell, table, from([...sheets, "sack", "twice", "cellar.readings.gravity", "cellar.readings.gone"])),
      name: from(names),
    }),
  },
  fc.record({
    edit: fc.constant("set-label"),
    of: fc.oneof(cell, table, from(sheets)),
    label: fc.option(from(["A label", ""])),
  }),
  fc.record({ edit: fc.constant("add-text"), sheet: from(sheets), at: somewhere, text: from(texts) }),
  fc.record({ edit: fc.constant("set-text"), sheet: from(sheets), at: place, text: from(texts) }),
  fc.record({ edit: fc.constant("move-item"), sheet: from(sheets), at: place, to: place }),
  fc.record({
    edit: fc.constant("add-sheet"),
    at: somewhere,
    name: from(["boil", "mash", "extra"]),
    label: fc.constant(null),
  }),
  fc.record({ edit: fc.constant("remove-sheet"), sheet: from(sheets) }),
  fc.record({ edit: fc.constant("move-sheet"), sheet: from(sheets), to: row }),
  fc.record({
    edit: fc.constant("add-rows"),
    table,
    at: fc.option(row),
    rows: fc.array(fc.array(from(entries), { minLength: 1, maxLength: 4 }), { maxLength: 3 }),
  }),
  fc.record({ edit: fc.constant("remove-rows"), table, at: row, count: row }),
  fc.record({ edit: fc.constant("move-row"), table, at: row, to: row }),
  fc.record({
    edit: fc.constant("read-rows"),
    table,
    changed: fc.array(fc.record({ row, entries: fc.array(from(entries), { minLength: 3, maxLength: 3 }) }), {
      maxLength: 2,
    }),
    pages: from([[], [{ text: "    2026-03-05,6,18\n    2026-03-06,5,19\n", count: 2 }]]),
    places: fc.array(fc.record({ before: row, count: row }), { maxLength: 2 }),
    mapping: fc.constant(null),
  }),
  fc.record({ edit: fc.constant("add-column"), table, at: fc.option(row), text: from(columnTexts) }),
  fc.record({ edit: fc.constant("set-column"), table, column: from(columns), text: from(columnTexts) }),
  fc.record({ edit: fc.constant("remove-column"), table, column: from(columns) }),
  fc.record({ edit: fc.constant("set-title"), title: from(["Another", 'Said "so"', ""]) }),
  fc.record({ edit: fc.constant("set-lens"), lens: from(["US", "metric", "wrong"]) }),
  fc.record({ edit: fc.constant("set-head"), text: from(heads) }),
  fc.record({ edit: fc.constant("remove-head"), of: from(["sack", "twice", "gal", "batch_date", "zone"]) }),
  fc.constant({ edit: "empty-blanks" }),
  fc.constant({ edit: "accept-library" }),
) as fc.Arbitrary<Edit>;
