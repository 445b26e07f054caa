import { beforeEach, expect, test } from "vitest";
import type { Session } from "../../engine/index.ts";
import { barriers, drawn, inside, mount, press, smallBook, type } from "../../tests/support/mount.ts";
import type { GyleTable } from "./table.ts";
import "./table.ts";

let session: Session;
let table: GyleTable;
let said: string[];

const GRAVITY = 1;
const text = (row = 0): string => session.entry("cellar.readings", row, "gravity").text;
const entry = (row: number, column: number): HTMLElement =>
  inside(table, `[data-row="${row}"][data-column="${column}"]`);
const input = (): HTMLInputElement | null => table.shadowRoot?.querySelector(".entry input") ?? null;
const answers = (): HTMLElement[] => [...(table.shadowRoot?.querySelectorAll<HTMLElement>(".answers button") ?? [])];
const open = async (): Promise<GyleTable> => {
  const element = await mount("gyle-table", { session, name: "cellar.readings" });
  await drawn(element);
  element.addEventListener("gyle-say", ({ detail }) => said.push(detail.says));
  return element;
};
/** Types 1.045 over 12.1 °P: it may be SG, and it may be degrees. */
const typeDoubtful = async (): Promise<HTMLInputElement> => {
  table.at = { row: 0, column: GRAVITY };
  await drawn(table);
  press(entry(0, GRAVITY), "1");
  await drawn(table);
  const field = inside<HTMLInputElement>(table, ".entry input");
  await type(field, "1.045");
  return field;
};
const pressPointer = (on: HTMLElement): boolean =>
  on.dispatchEvent(new MouseEvent("mousedown", { bubbles: true, composed: true, cancelable: true }));

beforeEach(async () => {
  session = smallBook();
  said = [];
  table = await open();
});

for (const key of ["Enter", "Tab"])
  test(`${key} does not keep what can be read in two ways: the entry stays open, and what is meant is a button away`, async () => {
    press(await typeDoubtful(), key);
    await drawn(table);
    expect(text()).toBe("12.1");
    expect(input()?.value).toBe("1.045");
    expect(table.at).toEqual({ row: 0, column: GRAVITY });
    expect(inside(table, ".status").textContent).toContain("12.1 still stands.");
    expect(table.shadowRoot?.activeElement).toBe(key === "Tab" ? answers()[0] : input());
    expect(await barriers(table)).toEqual([]);
    answers()[0]?.click();
    await drawn(table);
    expect(text()).toBe("1.045 SG");
    expect(input()).toBeNull();
    expect(table.at).toEqual({ row: 1, column: GRAVITY });
    expect(said).toEqual([]);
  });

test("the other answer is kept as it is meant, too", async () => {
  await typeDoubtful();
  answers()[1]?.click();
  await drawn(table);
  expect(text()).toBe("1.045");
  expect(session.table("cellar.readings")?.columns[GRAVITY]?.value).toHaveProperty("0", 0.01045);
});

test("Escape, in the field or at an answer, and the last button leave the entry as it was", async () => {
  const leave = [
    (): unknown => press(input() as HTMLElement, "Escape"),
    (): unknown => press(answers()[0] as HTMLElement, "Escape"),
    (): unknown => answers().at(-1)?.click(),
  ];
  for (const each of leave) {
    press(await typeDoubtful(), "Enter");
    each();
    await drawn(table);
    expect(input()).toBeNull();
    expect(table.shadowRoot?.activeElement).toBe(entry(0, GRAVITY));
    expect(session.canUndo).toBe(false);
  }
});

test("another entry, another row's menu and a new row wait until it is answered", async () => {
  await typeDoubtful();
  pressPointer(entry(2, 2));
  [...(table.shadowRoot?.querySelectorAll<HTMLElement>(".tools button") ?? [])][1]?.click();
  inside(table, ".add").click();
  table.goToRow(2, "temp");
  await drawn(table);
  expect(input()?.value).toBe("1.045");
  expect(table.shadowRoot?.activeElement).toBe(input());
  expect(table.at).toEqual({ row: 0, column: GRAVITY });
  expect(session.canUndo).toBe(false);
});

test("left for another place on the page it stays open, and that it is not kept is told once", async () => {
  const field = await typeDoubtful();
  answers()[0]?.focus();
  expect(said).toEqual([]);
  field.focus();
  field.blur();
  await drawn(table);
  expect(said).toEqual(['Daily readings, row 1, Gravity: "1.045" is not kept yet. Say which is meant.']);
  expect(input()?.value).toBe("1.045");
  expect(session.canUndo).toBe(false);
});

test("it is open again when the table comes back, in another element or in this one after another table", async () => {
  await typeDoubtful();
  table.remove();
  table = await open();
  expect(input()?.value).toBe("1.045");
  expect(answers()).toHaveLength(3);
  table.name = "cellar.none";
  await drawn(table);
  expect(table.draft).toBeNull();
  table.name = "cellar.readings";
  await drawn(table);
  answers()[0]?.click();
  await drawn(table);
  expect(text()).toBe("1.045 SG");
});

test("rows that came meanwhile do not let it slip into another entry", async () => {
  await typeDoubtful();
  session.dispatch({ edit: "add-rows", table: "cellar.readings", at: 0, rows: [["2026-03-01T08:00", "12.3", "17"]] });
  await drawn(table);
  expect(input()).toBeNull();
  expect(said).toEqual(['"1.045" is not kept: the rows of Daily readings have changed.']);
  expect([text(0), text(1)]).toEqual(["12.3", "12.1"]);
});

test("what stands there already is not asked about when it is opened and left; a faulty entry is", async () => {
  const set = (written: string): void =>
    void session.dispatch({ edit: "set-entry", table: "cellar.readings", row: 0, column: "gravity", entry: written });
  for (const [written, asks] of [
    ["1.045", false],
    ["1,250 SG", true],
  ] as const) {
    set(written);
    table.at = { row: 0, column: GRAVITY };
    await drawn(table);
    press(entry(0, GRAVITY), "F2");
    await drawn(table);
    expect(answers().length > 0).toBe(asks);
    press(input() as HTMLElement, "Enter");
    await drawn(table);
    expect(input()).toBeNull();
    expect(text()).toBe(written);
  }
});
