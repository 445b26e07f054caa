import { expect, test } from "vitest";
import type { Session } from "../../engine/session.ts";
import { isLog } from "../../engine/workbook/document.ts";
import { openShipped, shippedFiles } from "./shipped.ts";

const BOOKS = shippedFiles().flatMap((file) => (file.endsWith(".gyle") ? [file.slice(0, -".gyle".length)] : []));

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

/** Nothing is faulty, and each line that waits names what is still to fill, or says why what is in a log is too little. */
function standsWhileFilled(session: Session): void {
  const { faults, blanks } = session.problems();
  expect(faults.map(({ name, message }) => `${name}: ${message}`)).toEqual([]);
  for (const { pages, name: sheet } of session.workbook.sheets)
    for (const item of pages.flat()) {
      const cell = item.is === "cell" ? session.cell(`${sheet}.${item.name}`) : null;
      if (cell?.state !== "waiting") continue;
      expect(cell.waitingFor.length).toBeGreaterThan(0);
      const open = (name: string): boolean => blanks.some((each) => name === each || name.startsWith(`${each}.`));
      if (cell.tooFew === null) expect(cell.waitingFor.filter((name) => !open(name))).toEqual([]);
    }
}

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
