import { beforeAll, describe, expect, test } from "vitest";
import { createSession } from "../../engine/index.ts";
import { loadFaces } from "../../tests/support/faces.ts";
import { drawn, inside, mount, press } from "../../tests/support/mount.ts";
import type { GyleTable } from "./table.ts";
import "./table.ts";

beforeAll(loadFaces);

const COLUMNS = [
  'malt "Malt" : text',
  'weight "Weight" : kg by 0.1',
  'fine "Extract, fine dry" : %',
  'shell "Glass, crown, label, wash" : CAD by 0.01',
  'brings "Brings" = weight * 2 as kg by 0.1',
];
const book = (rows: readonly string[]): string =>
  ["gylebook 1", "sheet malt", "table bill", ...COLUMNS.map((column) => `  column ${column}`), "  rows"]
    .concat(
      rows.map((row) => `    ${row}`),
      "  end",
      "",
    )
    .join("\n");
const PALE = "Pale ale malt, 12 lb 4 oz, 81.0, 4.50";

const open = async (rows: readonly string[], width: number): Promise<GyleTable> => {
  const session = createSession(book(rows));
  const item = session.workbook.sheets[0]?.pages.flat()[0] ?? null;
  const table = await mount("gyle-table", { session, name: "malt.bill", item: item?.is === "table" ? item : null });
  table.style.inlineSize = `${width}px`;
  await drawn(table);
  await drawn(table);
  return table;
};
/** Parts whose text does not fit: it would be cut, or a word broken. */
const cut = (table: GyleTable, selector: string): (string | null)[] =>
  [...(table.shadowRoot?.querySelectorAll<HTMLElement>(selector) ?? [])]
    .filter(({ scrollWidth, clientWidth }) => scrollWidth > clientWidth)
    .map(({ textContent }) => textContent);
const more = (table: GyleTable): string | undefined => inside(table, ".frame").dataset.more;

describe("the columns of a table", () => {
  test("are as narrow as their entries and the words of their headers let them be", async () => {
    const table = await open([PALE, "Munich malt, 1, 80.2, 0.39"], 640);
    expect(more(table)).toBe("");
    expect(cut(table, ".entry, .header b, .header .unit")).toEqual([]);
    for (const label of table.shadowRoot?.querySelectorAll(".header b") ?? [])
      expect(label.getBoundingClientRect().height).toBeLessThan(2.5 * 16 * 1.2);
  });

  test("show a moment whole where there is no room to spare", async () => {
    const session = createSession(
      "gylebook 1\nsheet log\ntable tank\n  column taken : instant\n  column temp : °C\n  rows\n    2026-03-02T13:00, 18.5\n  end\n",
    );
    const item = session.workbook.sheets[0]?.pages.flat()[0] ?? null;
    const table = await mount("gyle-table", { session, name: "log.tank", item: item?.is === "table" ? item : null });
    table.style.inlineSize = "200px";
    await drawn(table);
    expect(inside(table, ".entry").textContent?.trim()).toBe("2026-03-02 13:00");
    expect(cut(table, ".entry")).toEqual([]);
  });

  test("have room for a result longer than results mostly are", async () => {
    const table = await open(["Pale ale malt, 1234567.5, 81.0, 4.50"], 400);
    expect(inside(table, '[data-column="4"]').textContent?.trim()).toBe("2469135.0");
    expect(cut(table, ".entry")).toEqual([]);
  });

  test("do not move while results come in", async () => {
    const session = createSession(book(["Pale ale malt, , 81.0, 4.50"]));
    const item = session.workbook.sheets[0]?.pages.flat()[0] ?? null;
    const table = await mount("gyle-table", { session, name: "malt.bill", item: item?.is === "table" ? item : null });
    const places = () =>
      [...(table.shadowRoot?.querySelectorAll(".header") ?? [])].map((each) => each.getBoundingClientRect().x);
    const before = places();
    session.dispatch({ edit: "set-entry", table: "malt.bill", row: 0, column: "weight", entry: "150" });
    await drawn(table);
    expect(inside(table, '[data-column="4"]').textContent?.trim()).toBe("300.0");
    expect(places()).toEqual(before);
  });
});

describe("a table wider than its place", () => {
  test("shows on which side there is more", async () => {
    const table = await open([PALE], 330);
    expect(more(table)).toBe("after");
    const grid = inside(table, ".grid");
    grid.scrollLeft = 60;
    await drawn(table);
    await drawn(table);
    expect(more(table)).toBe("before after");
    grid.scrollLeft = grid.scrollWidth;
    await drawn(table);
    await drawn(table);
    expect(more(table)).toBe("before");
  });

  test("follows the entry in hand sideways", async () => {
    const table = await open([PALE], 330);
    const entry = (): HTMLElement => inside(table, '[role="gridcell"][tabindex="0"]');
    const inView = (): boolean => {
      const [seen, place] = [inside(table, ".grid").getBoundingClientRect(), entry().getBoundingClientRect()];
      return place.left >= seen.left && place.right <= seen.right;
    };
    entry().focus();
    for (const key of ["ArrowRight", "ArrowRight", "ArrowRight", "ArrowRight", "Home", "End"]) {
      press(entry(), key);
      await drawn(table);
      expect(inView(), key).toBe(true);
    }
  });
});
