import { expect, test } from "vitest";
import type { Session } from "../../engine/session.ts";
import { isLog } from "../../engine/workbook/document.ts";
import { openShipped, shippedFiles } from "./shipped.ts";

const BOOKS = shippedFiles().flatMap((file) => (file.endsWith(".gyle") ? [file.slice(0, -".gyle".length)] : []));

/** What stays with the house: measured columns of plant, recipe, prices and empties, by the table that holds them. */
const STAYS = [
  "plant.kettle",
  "malt.bill",
  "boil.hops",
  "liquor.tank",
  "kettle.stick",
  "fermenter.rim",
  "bright.glass",
  "salts.ions",
  "fills.empties",
  "cost.goods",
  "cost.charges",
  "cost.each",
];

test.each(BOOKS)("a new gyle of %s keeps no row but those of plant, recipe, prices and empties", (book) => {
  const session = openShipped(book);
  session.dispatch({ edit: "empty-blanks" });
  for (const { name: sheet, pages } of session.workbook.sheets)
    for (const item of pages.flat())
      if (item.is === "table" && item.rows.length > 0) expect(STAYS).toContain(`${sheet}.${item.name}`);
});

/** What tells of the last batch alone: with its readings out, each of these waits. */
const OF_THE_BATCH = [
  ["packaging", "fills.density fills.mean_fill fills.least_mean fills.short fills.too_short fills.verdict"],
  [
    "packaging",
    "gas.cask_beer gas.sugar gas.residual run.in_kegs run.keg_mean run.in_bottles run.balance run.expected",
  ],
  ["cellar-log", "out.entered out.samples out.casks out.lost finish.beer_mass finish.done finish.final_attenuation"],
  ["cellar-log", "hand.present hand.attenuation log.gap log.against_hand"],
  ["yeast", "count.slurry_count count.slurry_alive count.chance pitch.cells_needed pitch.slurry_needed pitch.rate_got"],
  ["yeast", "air.run_time air.zinc_salt"],
  ["vessels", "bright.keg_mark bright.holds kettle.holds liquor.stop_at fermenter.holds"],
  ["cleaning", "log.water_share caustic.spent log.hottest log.caustic_time"],
  ["batch-account", "losses.balance losses.lost_volume losses.malt_to_store losses.gas_made losses.rdf"],
  ["batch-account", "duty.from_sugar duty.given_away duty.estimate"],
] as const;

test.each(OF_THE_BATCH)("a new gyle of %s has none of the last batch's %s", (book, lines) => {
  const session = openShipped(book);
  session.dispatch({ edit: "empty-blanks" });
  for (const name of lines.split(" ")) expect([name, session.cell(name)?.state]).toEqual([name, "waiting"]);
});

test.each(BOOKS)("a new gyle of %s has nothing faulty, and all that waits is waited for by name", (book) => {
  const session = openShipped(book);
  session.dispatch({ edit: "empty-blanks" });
  const { faults, blanks, fileFaults } = session.problems();
  expect([faults, fileFaults]).toEqual([[], []]);
  for (const { name: sheet, pages } of session.workbook.sheets)
    for (const item of pages.flat()) {
      const name = "name" in item ? `${sheet}.${item.name}` : "";
      const found = [session.cell(name) ?? [], session.table(name)?.columns ?? []].flat();
      for (const { state, waitingFor } of found) {
        expect({ name, state }).not.toEqual({ name, state: "faulty" });
        expect(waitingFor.filter((each) => !blanks.includes(each))).toEqual([]);
      }
    }
});

/** What is typed into the logs of a book and into its blanks as it is shipped. */
const typedOf = (session: Session) => {
  const items = session.workbook.sheets.flatMap((sheet) => sheet.pages.flat().map((item) => ({ sheet, item })));
  return {
    logs: items.flatMap(({ sheet, item }) => {
      const table = item.is === "table" && isLog(item) ? session.table(`${sheet.name}.${item.name}`) : null;
      if (table === null) return [];
      const columns = table.columns.filter(({ measured }) => measured);
      const rows = Array.from({ length: table.rowCount }, (_, row) =>
        columns.map((column) => session.entry(table.name, row, column.name).text),
      );
      return [{ name: table.name, rows }];
    }),
    blanks: items.flatMap(({ sheet, item }) => {
      const cell = item.is === "cell" ? session.cell(`${sheet.name}.${item.name}`) : null;
      return cell?.blank?.filled ? [{ name: cell.name, formula: cell.formula }] : [];
    }),
  };
};

/** What does not balance while the rows that it adds up are typed after everything else. */
const UNTOLD = ["losses.balance", "losses.extract_balance", "run.balance"];

/** Nothing is faulty or out of its range, and each line that waits names what is still to fill, or says why what is in a log is too little. */
function standsWhileFilled(session: Session): void {
  const { faults, blanks } = session.problems();
  expect(faults.map(({ name, message }) => `${name}: ${message}`)).toEqual([]);
  for (const { pages, name: sheet } of session.workbook.sheets)
    for (const item of pages.flat()) {
      const cell = item.is === "cell" ? session.cell(`${sheet}.${item.name}`) : null;
      if (!UNTOLD.includes(cell?.name ?? ""))
        expect(cell?.cautions.filter(({ code }) => code === "outside-within") ?? []).toEqual([]);
      if (cell?.state !== "waiting") continue;
      expect(cell.waitingFor.length).toBeGreaterThan(0);
      const open = (name: string): boolean => blanks.some((each) => name === each || name.startsWith(`${each}.`));
      if (cell.tooFew === null) expect(cell.waitingFor.filter((name) => !open(name))).toEqual([]);
    }
}

test("no morning of the cellar log is out of its range: hand and logger are read as they come", () => {
  const session = openShipped("cellar-log");
  const { logs } = typedOf(session);
  for (const { name } of logs) {
    const rowCount = session.table(name)?.rowCount ?? 0;
    session.dispatch({ edit: "remove-rows", table: name, at: 0, count: rowCount });
  }
  const [hand, tank] = [logs.find(({ name }) => name === "hand.daily"), logs.find(({ name }) => name === "log.tank")];
  let read = 0;
  for (const row of hand?.rows ?? []) {
    session.dispatch({ edit: "add-rows", table: "hand.daily", at: null, rows: [row] });
    standsWhileFilled(session);
    const hours = tank?.rows.findIndex(([taken]) => (taken ?? "") > (row[0] ?? "")) ?? -1;
    const to = hours < 0 ? (tank?.rows.length ?? 0) : hours + 1;
    session.dispatch({ edit: "add-rows", table: "log.tank", at: null, rows: tank?.rows.slice(read, to) ?? [] });
    read = to;
    standsWhileFilled(session);
  }
  expect(session.cell("finish.done")?.shown).toBe("done");
});

const STAGES = BOOKS.flatMap((book) => [[book, "before"] as const, [book, "after"] as const]);

test.each(STAGES)("no stage of a gyle of %s is faulty, its blanks filled %s its logs", (book, when) => {
  const session = openShipped(book);
  const { logs, blanks } = typedOf(session);
  const fillBlanks = (): void => {
    for (const { name, formula } of blanks)
      expect(session.dispatch({ edit: "set-formula", cell: name, formula })).toMatchObject({ ok: true });
    standsWhileFilled(session);
  };
  session.dispatch({ edit: "empty-blanks" });
  if (when === "before") fillBlanks();
  const most = Math.max(0, ...logs.map(({ rows }) => rows.length));
  for (let row = 0; row < most; row += 1) {
    for (const { name, rows } of logs) {
      const next = rows.slice(row, row + 1);
      if (next.length > 0) session.dispatch({ edit: "add-rows", table: name, at: null, rows: next });
    }
    standsWhileFilled(session);
  }
  if (when === "after") fillBlanks();
});
