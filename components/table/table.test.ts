import { beforeEach, expect, test } from "vitest";
import { createSession, type Session } from "../../engine/index.ts";
import { appears, barriers, drawn, inside, mount, press, SMALL_BOOK, smallBook } from "../../tests/support/mount.ts";
import type { GyleTable } from "./table.ts";
import { ROW_HEIGHT } from "./table-styles.ts";
import "./table.ts";

let session: Session;
let table: GyleTable;

const itemOf = (from: Session) => {
  const item = from.workbook.sheets
    .at(-1)
    ?.pages.flat()
    .find((each) => each.is === "table");
  return item?.is === "table" ? item : null;
};
const open = async (from: Session): Promise<GyleTable> => {
  const element = await mount("gyle-table", { session: from, name: "cellar.readings", item: itemOf(from) });
  await drawn(element);
  return element;
};
const entry = (row: number, column: number): HTMLElement =>
  inside(table, `[data-row="${row}"][data-column="${column}"]`);
const edit = async (text: string): Promise<void> => {
  const input = inside<HTMLInputElement>(table, ".entry input");
  input.value = text;
  input.dispatchEvent(new InputEvent("input", { bubbles: true }));
  await drawn(table);
};

beforeEach(async () => {
  session = smallBook();
  table = await open(session);
});

test("meets no barrier", async () => {
  expect(await barriers(table)).toEqual([]);
});

test("shows name, unit and formula of each column, and every entry", () => {
  const headers = [...(table.shadowRoot?.querySelectorAll('[role="columnheader"]') ?? [])].map((each) =>
    each.textContent?.replace(/\s+/g, " ").trim(),
  );
  expect(headers).toEqual([
    "Row",
    "Taken",
    "Gravity°P",
    "Temp°C",
    "Gone% share(original - gravity, original)",
    "What can be done with the row",
  ]);
  expect(entry(0, 1).textContent?.trim()).toContain("12.1");
  expect(entry(1, 1).textContent?.trim()).toContain("1.0415 SG");
});

test("under another lens an entry opens with its own unit, and leaving it so changes nothing", async () => {
  session.setLens("US");
  await drawn(table);
  table.at = { row: 0, column: 2 };
  entry(0, 2).focus();
  press(entry(0, 2), "Enter");
  await drawn(table);
  const input = inside<HTMLInputElement>(table, ".entry input");
  expect(input.value).toBe("17.8 °C");
  press(input, "Enter");
  await drawn(table);
  expect(session.canUndo).toBe(false);
  table.at = { row: 0, column: 2 };
  await drawn(table);
  press(entry(0, 2), "6");
  await drawn(table);
  await edit("64.4");
  press(inside(table, ".entry input"), "Enter");
  await drawn(table);
  expect(session.entry("cellar.readings", 0, "temp").text).toBe("64.4 °F");
});

test("an entry is edited in place: a typed character opens it, Enter keeps and goes down", async () => {
  entry(0, 2).focus();
  table.at = { row: 0, column: 2 };
  press(entry(0, 2), "1");
  await drawn(table);
  await edit("19.5");
  press(inside(table, ".entry input"), "Enter");
  await drawn(table);
  expect(session.entry("cellar.readings", 0, "temp").text).toBe("19.5");
  expect(table.at).toEqual({ row: 1, column: 2 });
});

test("Escape leaves an entry as it was", async () => {
  table.at = { row: 0, column: 2 };
  await drawn(table);
  press(entry(0, 2), "F2");
  await drawn(table);
  await edit("99");
  press(inside(table, ".entry input"), "Escape");
  await drawn(table);
  expect(session.entry("cellar.readings", 0, "temp").text).toBe("17.8");
  expect(session.canUndo).toBe(false);
});

test("a worked column cannot be typed into", async () => {
  table.at = { row: 0, column: 3 };
  await drawn(table);
  press(entry(0, 3), "5");
  await drawn(table);
  expect(table.draft).toBeNull();
});

test("pasted rows fill the measured columns from the entry in hand, add rows, and are one step", async () => {
  table.at = { row: 2, column: 1 };
  await drawn(table);
  const data = new DataTransfer();
  data.setData("text/plain", "6.1\t18.9\n5.2\t19,1\n");
  entry(2, 1).dispatchEvent(
    new ClipboardEvent("paste", { clipboardData: data, bubbles: true, composed: true, cancelable: true }),
  );
  await drawn(table);
  expect(session.table("cellar.readings")?.rowCount).toBe(4);
  expect(session.entry("cellar.readings", 2, "gravity").text).toBe("6.1");
  expect(session.entry("cellar.readings", 3, "temp").text).toMatch(/^19\.1/);
  session.undo();
  expect(session.table("cellar.readings")?.rowCount).toBe(3);
  expect(session.entry("cellar.readings", 2, "gravity").text).toBe("7.4");
});

test("a chosen stretch is copied as rows and columns", async () => {
  table.at = { row: 0, column: 1 };
  table.anchor = { row: 1, column: 2 };
  await drawn(table);
  const data = new DataTransfer();
  entry(0, 1).dispatchEvent(
    new ClipboardEvent("copy", { clipboardData: data, bubbles: true, composed: true, cancelable: true }),
  );
  const rows = data
    .getData("text/plain")
    .split("\n")
    .map((row) => row.split("\t"));
  expect(rows).toHaveLength(2);
  expect(rows[0]?.[1]).toContain("17.8");
});

test("a row is added with its button and opened at its first reading", async () => {
  inside(table, ".add").click();
  await drawn(table);
  await drawn(table);
  expect(session.table("cellar.readings")?.rowCount).toBe(4);
  expect(table.at).toEqual({ row: 3, column: 0 });
});

test("100,000 rows draw only what is in view, and reach the last with one key", async () => {
  const rows = Array.from(
    { length: 100_000 },
    (_, row) => `    2026-03-02T08:15, ${(12 - row / 20_000).toFixed(2)}, 18`,
  ).join("\n");
  const [before = "", after = ""] = SMALL_BOOK.split(/ {4}2026[\s\S]*08:20, 7\.4, 18\.6\n/);
  session = createSession(`${before}${rows}\n${after}`);
  table = await open(session);
  const count = (): number => table.shadowRoot?.querySelectorAll(".body .row").length ?? 0;
  expect(session.table("cellar.readings")?.rowCount).toBe(100_000);
  expect(count()).toBeGreaterThan(5);
  expect(count()).toBeLessThan(60);
  table.at = { row: 0, column: 1 };
  await drawn(table);
  press(entry(0, 1), "ArrowDown", { ctrlKey: true });
  await drawn(table);
  await drawn(table);
  expect(entry(99_999, 1).textContent).toContain("7");
  expect(count()).toBeLessThan(60);
});

/** A table of 1,000 rows whose second column counts them. */
const openLong = async (): Promise<void> => {
  const rows = Array.from({ length: 1_000 }, (_, row) => `    2026-03-02T08:15, ${row % 20}, ${row}`).join("\n");
  const [before = "", after = ""] = SMALL_BOOK.split(/ {4}2026[\s\S]*08:20, 7\.4, 18\.6\n/);
  session = createSession(`${before}${rows}\n${after}`);
  table = await open(session);
};
const scrollTo = async (row: number): Promise<void> => {
  inside(table, ".grid").scrollTop = row * ROW_HEIGHT;
  await drawn(table);
  await drawn(table);
};
const drawnRows = (): HTMLElement[] => [...(table.shadowRoot?.querySelectorAll<HTMLElement>(".body .row") ?? [])];

test("after a jump the rows are told, shown and ordered as what they are, in the elements that were there", async () => {
  await openLong();
  const before = new Set(drawnRows());
  await scrollTo(500);
  const rows = drawnRows();
  expect(rows.filter((row) => before.has(row)).length).toBeGreaterThan(10);
  const numbers = rows.map((row) => Number(row.ariaRowIndex) - 2);
  expect(numbers).toContain(500);
  expect(numbers).toEqual([...numbers].sort((a, b) => a - b));
  for (const [at, row] of rows.entries()) {
    const number = numbers[at] ?? Number.NaN;
    expect(row.querySelector(".number")?.textContent).toBe(String(number + 1));
    expect(row.querySelector('[data-column="2"]')?.textContent?.trim()).toBe(String(number));
    expect(row.querySelector<HTMLElement>("[data-row]")?.dataset.row).toBe(String(number));
    expect(row.querySelectorAll(".chosen")).toHaveLength(number === table.at.row ? 1 : 0);
  }
});

test("what is being typed stays with its row and keeps the focus, wherever the table is scrolled", async () => {
  await openLong();
  await scrollTo(400);
  table.at = { row: 405, column: 2 };
  table.anchor = table.at;
  await drawn(table);
  entry(405, 2).focus();
  press(entry(405, 2), "F2");
  await drawn(table);
  await edit("17.25");
  const input = inside<HTMLInputElement>(table, ".entry input");
  for (const row of [900, 10, 402, 600]) {
    await scrollTo(row);
    expect(table.shadowRoot?.activeElement).toBe(input);
    expect(input.value).toBe("17.25");
    expect(input.closest<HTMLElement>("[data-row]")?.dataset.row).toBe("405");
    expect(session.canUndo).toBe(false);
  }
  press(input, "Enter");
  await drawn(table);
  expect(session.entry("cellar.readings", 405, "temp").text).toBe("17.25");
});

test("a row's own button opens what can be done with that row", async () => {
  await openLong();
  await scrollTo(500);
  const row = drawnRows().find((each) => each.ariaRowIndex === "502");
  row?.querySelector<HTMLElement>(".tools button")?.click();
  const menu = await appears(table, "gyle-menu");
  [...(menu.shadowRoot?.querySelectorAll("button") ?? [])]
    .find((each) => each.textContent?.includes("Delete"))
    ?.click();
  await drawn(table);
  expect(session.entry("cellar.readings", 500, "temp").text).toBe("501");
  expect(table.at.row).toBe(500);
});

test("a time alone is on the day of the row above while there is no batch date, and said before it is kept", async () => {
  const undated = createSession(SMALL_BOOK.replace("batch_date = ? 2026-03-01", "batch_date = ? instant"));
  table = await open(undated);
  table.at = { row: 2, column: 0 };
  await drawn(table);
  entry(2, 0).focus();
  press(entry(2, 0), "Enter");
  await drawn(table);
  await edit("15:00");
  expect(inside(table, ".status").textContent).toContain("2026-03-03 15:00");
  press(inside(table, ".entry input"), "Enter");
  await drawn(table);
  expect(undated.entry("cellar.readings", 2, "taken")).toMatchObject({ text: "2026-03-03T15:00", fault: null });
  table.at = { row: 2, column: 0 };
  await drawn(table);
  press(entry(2, 0), "Enter");
  await drawn(table);
  await edit("3/4 8:10");
  expect([...(table.shadowRoot?.querySelectorAll(".answers button") ?? [])].map((each) => each.textContent)).toEqual([
    "2026-04-03 08:10",
    "2026-03-04 08:10",
    "Leave it as it was",
  ]);
});

test("through every lens a moment and what is in the lens's unit already stand as they were typed", async () => {
  for (const [lens, temp] of [
    ["metric", "17.8"],
    ["US", "64.9"],
    ["imperial", "64.9"],
  ] as const) {
    session.setLens(lens);
    await drawn(table);
    expect(entry(0, 0).textContent?.trim()).toBe("2026-03-02 08:15");
    expect(entry(lens === "metric" ? 0 : 1, 2).textContent?.trim()).toBe(temp);
  }
});
