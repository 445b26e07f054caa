import { expect, test } from "vitest";
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
