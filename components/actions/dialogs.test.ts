import { afterEach, expect, test } from "vitest";
import type { Session } from "../../engine/index.ts";
import { barriers, drawn, inside, smallBook, type } from "../../tests/support/mount.ts";
import type { GyleForm } from "../form/form.ts";
import { sheetLabel } from "../text/book.ts";
import { newLine, rename } from "./lines.ts";
import { newColumn, newTable } from "./tables.ts";

afterEach(() => document.querySelector("gyle-form")?.remove());

/** The dialog that an action opened. */
const opened = async (action: Promise<void>): Promise<GyleForm> => {
  void action;
  const form = document.querySelector("gyle-form");
  if (form === null) throw new Error("no dialog was opened");
  await drawn(form);
  return form;
};

const fill = (form: GyleForm, name: string, typed: string): Promise<void> =>
  type(inside<HTMLInputElement>(form, `#${name}`), typed);

const choose = async (form: GyleForm, name: string, value: string): Promise<void> => {
  const field = inside<HTMLSelectElement>(form, `#${name}`);
  field.value = value;
  field.dispatchEvent(new Event("change"));
  await drawn(form);
};

const submit = async (form: GyleForm): Promise<void> => {
  inside(form, ".firm").click();
  await drawn(form);
};

const reads = (form: GyleForm, name: string): string => inside(form, `#${name}-reads`).textContent ?? "";
const refused = (form: GyleForm, name: string): string => inside(form, `#${name}-refused`).textContent ?? "";
const offered = (form: GyleForm): string[] =>
  [...(form.shadowRoot?.querySelectorAll(".offered button") ?? [])].map(({ textContent }) => textContent ?? "");
const isOpen = (): boolean => document.querySelector("gyle-form") !== null;

/** The line a new one is kept as, by the text of its formula. */
const kept = (session: Session, name: string): string | undefined => session.cell(`mash.${name}`)?.formula;

test("a new line takes a figure as a field does, and says so before it is kept", async () => {
  const session = smallBook();
  for (const [typed, says, formula] of [
    ["152F", "It is 152 °F.", "152 °F"],
    ["? 66,7 C", "It is 66.7 °C.", "? 66.7 °C"],
    ["1,5", "It is 1.5.", "1.5"],
    ["36 1/8 inch", "It is 36.125 inch.", "36.125 inch"],
    ["? kg", "It is a reading to be taken: mass.", "? kg"],
    ["strike_water / grain as L/kg", "It is 3.01 L/kg.", "strike_water / grain as L/kg"],
  ] as const) {
    const form = await opened(newLine(document.body, session, "mash", null));
    await fill(form, "label", "Fresh");
    await fill(form, "formula", typed);
    expect(reads(form, "formula")).toBe(says);
    await submit(form);
    expect(kept(session, "fresh")).toBe(formula);
    session.undo();
  }
});

test("a new line asks which of two figures is meant, and waits for the answer", async () => {
  const session = smallBook();
  const form = await opened(newLine(document.body, session, "mash", null));
  await fill(form, "label", "Sparge water");
  await fill(form, "formula", "1,5 gal");
  await submit(form);
  expect(refused(form, "formula")).toBe('"1,5 gal" can be read in two ways. Which is meant?');
  expect(offered(form)).toEqual(["1.5 US gal", "1.5 imp gal"]);
  expect(await barriers(form)).toEqual([]);
  inside(form, ".offered button").click();
  await drawn(form);
  await submit(form);
  expect(kept(session, "sparge_water")).toBe("1.5 US gal");
});

test("a new line whose name is taken, or is a unit, stays in hand with all that was typed", async () => {
  const session = smallBook();
  const form = await opened(newLine(document.body, session, "mash", null));
  await fill(form, "label", "Grain");
  await fill(form, "formula", "12 lb 4 oz");
  await submit(form);
  expect(refused(form, "label")).toBe('"grain" is already a name here.');
  await fill(form, "label", "kg");
  await submit(form);
  expect(refused(form, "label")).toContain('"kg" cannot be a name');
  expect(inside<HTMLInputElement>(form, "#formula").value).toBe("12 lb 4 oz");
  expect(session.canUndo).toBe(false);
  await fill(form, "label", "More grain");
  await submit(form);
  expect(kept(session, "more_grain")).toBe("12 lb 4 oz");
});

test("a new line may be faulty: it is kept, and a mend is offered before", async () => {
  const session = smallBook();
  const form = await opened(newLine(document.body, session, "mash", null));
  await fill(form, "label", "Twice");
  await fill(form, "formula", "2 * grian");
  expect(reads(form, "formula")).toBe('There is no "grian" here. Did you mean grain?');
  expect(offered(form)).toEqual(["Write grain"]);
  await submit(form);
  expect(kept(session, "twice")).toBe("2 * grian");
});

test("a new line with all in its first field is told where each part belongs", async () => {
  const session = smallBook();
  const form = await opened(newLine(document.body, session, "mash", null));
  await fill(form, "label", "Total water = 585 L + 200 L");
  await submit(form);
  expect(refused(form, "label")).toBe("“Total water” is what it is called; “585 L + 200 L” goes into What it holds.");
  await fill(form, "label", "Total water");
  await fill(form, "formula", "585 L + 200 L");
  await submit(form);
  expect(session.cell("mash.total_water")?.formula).toBe("585 L + 200 L");
});

test("a name that is changed in formulas leaves the labels on the screen as they are", async () => {
  const session = smallBook();
  const to = async (of: string, what: string, name: string): Promise<void> => {
    const form = await opened(rename(document.body, session, of, what));
    await fill(form, "name", name);
    await submit(form);
  };
  const label = session.cell("mash.strike_water")?.label;
  const before = session.text();
  await to("mash.strike_water", "line", "sw");
  expect(session.cell("mash.sw")?.label).toBe(label);
  expect(session.text()).toContain("sw / grain");
  session.undo();
  expect(session.text()).toBe(before);
  const column = session.table("cellar.readings")?.columns.find(({ name }) => name === "gravity")?.label;
  await to("cellar.readings.gravity", "column", "grav");
  expect(session.table("cellar.readings")?.columns.find(({ name }) => name === "grav")?.label).toBe(column);
  const sheet = sheetLabel(session, "mash");
  await to("mash", "sheet", "tun");
  expect(sheetLabel(session, "tun")).toBe(sheet);
});

test("a new column takes a unit or a figure as a field does", async () => {
  const session = smallBook();
  const text = (): string => session.text();
  const unit = await opened(newColumn(document.body, session, "cellar.readings", null));
  await fill(unit, "label", "Jacket");
  await fill(unit, "rest", "F by 0.5");
  expect(reads(unit, "rest")).toBe("It is read in °F.");
  await submit(unit);
  expect(text()).toContain("column jacket : °F by 0.5\n");
  const worked = await opened(newColumn(document.body, session, "cellar.readings", null));
  await fill(worked, "label", "Fixed");
  await choose(worked, "kind", "worked");
  await fill(worked, "rest", "1,5");
  expect(reads(worked, "rest")).toBe("It is 1.5.");
  await submit(worked);
  expect(text()).toContain("column fixed = 1.5\n");
});

test("a new column that is faulty stays in hand with the reason at its field", async () => {
  const session = smallBook();
  const form = await opened(newColumn(document.body, session, "cellar.readings", null));
  await fill(form, "label", "Drawn off");
  await fill(form, "rest", "gal");
  expect([reads(form, "rest"), offered(form)]).toEqual(["US gal or imp gal: which is meant?", ["US gal", "imp gal"]]);
  await submit(form);
  expect(refused(form, "rest")).toContain("Write US gal or imp gal.");
  await fill(form, "rest", "buckets");
  await submit(form);
  expect(refused(form, "rest")).toContain('"buckets" is not a unit that is known here.');
  await fill(form, "label", "Temp");
  await fill(form, "rest", "L");
  await submit(form);
  expect(refused(form, "label")).toContain("already a column of this table");
  expect(session.canUndo).toBe(false);
});

test("a new table with bad columns stays open, tells which and why, and loses nothing", async () => {
  const session = smallBook();
  const before = session.text();
  const form = await opened(newTable(document.body, session, "mash", null));
  const columns = "Taken : instant\nDrawn off : gal\nDip\nHeat : C\nLeft = 2 * heap\nNote : text within 1 to";
  await fill(form, "columns", columns);
  await submit(form);
  expect(refused(form, "columns").split("\n")).toEqual([
    'Drawn off: "gal" is 3.785 L in the US and 4.546 L in imperial measure. Write US gal or imp gal.',
    expect.stringMatching(/^Left: There is no "heap" here\./),
    "Note: The highest accepted figure follows to.",
  ]);
  expect(inside<HTMLTextAreaElement>(form, "#columns").value).toBe(columns);
  expect(await barriers(form)).toEqual([]);
  expect([session.text(), session.canUndo, session.canRedo]).toEqual([before, false, false]);
  await fill(form, "columns", "Taken : instant\nDrawn off : US gal\nHeat : C\nCount");
  expect(reads(form, "columns")).toBe("Heat is read in °C.");
  await submit(form);
  expect(isOpen()).toBe(false);
  expect(session.table("mash.readings")?.columns.map(({ name, unitText }) => [name, unitText])).toEqual([
    ["taken", ""],
    ["drawn_off", "US gal"],
    ["heat", "°C"],
    ["count", ""],
  ]);
});

test("a new table whose name is taken is told so at its name", async () => {
  const session = smallBook();
  const form = await opened(newTable(document.body, session, "cellar", null));
  await submit(form);
  expect(refused(form, "label")).toContain('"readings" is already the name of a line or table on this sheet.');
  expect(isOpen()).toBe(true);
});

test("a column of dates, of words, of yes or no is mended to the word that the language has", async () => {
  const session = smallBook();
  const form = await opened(newTable(document.body, session, "mash", null));
  await fill(form, "label", "Casks");
  await fill(form, "columns", "Filled at : date\nCask : words\nOK : yes/no");
  for (const says of [
    "Filled at: A date or time is written instant.",
    "Cask: Words are written text.",
    "OK: Yes or no is written truth.",
  ]) {
    expect(reads(form, "columns")).toBe(says);
    inside(form, ".offered button").click();
    await drawn(form);
  }
  expect(inside<HTMLTextAreaElement>(form, "#columns").value).toBe("Filled at : instant\nCask : text\nOK : truth");
  await submit(form);
  expect(session.table("mash.casks")?.columns.map(({ type: { kind } }) => kind.is)).toEqual([
    "reading",
    "text",
    "truth",
  ]);
});

test("a new column of dates that is typed as a unit is mended, and yes or no can be chosen", async () => {
  const session = smallBook();
  const table = session.workbook.sheets.flatMap(({ name, pages }) =>
    pages.flatMap((page) => page.flatMap((item) => (item.is === "table" ? [`${name}.${item.name}`] : []))),
  )[0];
  if (table === undefined) throw new Error("the book has no table");
  const form = await opened(newColumn(document.body, session, table, null));
  await fill(form, "label", "Filled");
  await fill(form, "rest", "date");
  expect(reads(form, "rest")).toBe("A date or time is written instant.");
  inside(form, ".offered button").click();
  await drawn(form);
  expect(inside<HTMLInputElement>(form, "#rest").value).toBe("instant");
  await fill(form, "rest", "");
  await choose(form, "kind", "truth");
  await submit(form);
  expect(session.table(table)?.columns.at(-1)?.type.kind.is).toBe("truth");
});
