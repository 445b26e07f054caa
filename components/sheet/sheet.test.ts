import { expect, test } from "vitest";
import { createSession } from "../../engine/index.ts";
import { appears, barriers, drawn, inside, mount, press, smallBook, soon } from "../../tests/support/mount.ts";
import "./sheet.ts";

test("meets no barrier", async () => {
  const sheet = await mount("gyle-sheet", { session: smallBook(), name: "mash", formulas: true });
  expect(await barriers(sheet)).toEqual([]);
});

test("reads from top to bottom as the file does", async () => {
  const sheet = await mount("gyle-sheet", { session: smallBook(), name: "mash" });
  const order = [...(sheet.shadowRoot?.children ?? [])].map((each) =>
    "name" in each ? String(each.name) : each.className || each.localName,
  );
  expect(order).toEqual([
    "header",
    "prose",
    "section",
    "mash.grain",
    "mash.strike_water",
    "mash.mash_ratio",
    "mash.rest_measured",
    "mash.warmer",
    "mash.tun",
    "mash.bad",
    "mash.worse",
    "screen-only",
  ]);
});

const LONG = createSession(
  `gylebook 1\nsheet long\n${Array.from({ length: 500 }, (_, line) => `r${line} = ${line} kg * 2`).join("\n")}\n`,
);
const namesOn = (sheet: Element): (string | undefined)[] =>
  [...(sheet.shadowRoot?.querySelectorAll("gyle-result") ?? [])].map(({ name }) => name);
const all = LONG.workbook.sheets[0]?.pages.flat().flatMap((item) => (item.is === "cell" ? [`long.${item.name}`] : []));

test("a long sheet draws its first lines at once, keeps room for the others, and draws them all in order", async () => {
  const sheet = await mount("gyle-sheet", { session: LONG, name: "long" });
  const first = namesOn(sheet);
  expect(first.length).toBeLessThan(200);
  expect(first).toEqual(all?.slice(0, first.length));
  const height = sheet.getBoundingClientRect().height;
  expect(height).toBeGreaterThan(500 * 44);
  await soon(() => expect(namesOn(sheet)).toEqual(all));
  // The browser's own find sees what stands in the page, drawn or not yet scrolled to.
  const last = [...(sheet.shadowRoot?.querySelectorAll("gyle-result") ?? [])].at(-1);
  await soon(() => expect(last?.shadowRoot?.querySelector(".label")?.textContent).toBe("R499"));
  expect(await barriers(sheet)).toEqual([]);
});

test("a far line of a long sheet is gone to before its turn", async () => {
  const sheet = await mount("gyle-sheet", { session: LONG, name: "long" });
  expect(await sheet.goTo("long.r480")).toBe(true);
  const line = inside(sheet, "gyle-result:focus-within");
  expect(line.shadowRoot?.activeElement?.textContent).toBe("R480");
});

const LOG = `gylebook 1
sheet s
latest = last(log.gravity)
acid = last(log.ph)
low = first(log.taken where gravity < 4 °P)
table log "Daily readings"
  column taken : instant
  column gravity : °P
  column ph "pH" : pH
  rows
  end
`;

test("what waits for a log leads to its button for a row, and what waits for a column to an entry of it", async () => {
  const session = createSession(LOG);
  const sheet = await mount("gyle-sheet", { session, name: "s" });
  const link = (line: string): HTMLElement => {
    const found = [...(sheet.shadowRoot?.querySelectorAll("gyle-result") ?? [])].find(({ name }) => name === line);
    return inside(found as Element, ".link");
  };
  sheet.addEventListener("gyle-go", (event) => void sheet.goTo(event.detail.name, event.detail.more));
  const table = await appears(sheet, "gyle-table");
  const inTable = (): HTMLElement | null => (table.shadowRoot?.activeElement as HTMLElement | null) ?? null;
  expect(link("s.acid").textContent).toBe("Daily readings");
  link("s.acid").click();
  await soon(() => expect(inTable()?.className).toContain("add"));
  session.dispatch({
    edit: "add-rows",
    table: "s.log",
    at: null,
    rows: [
      ["2026-03-02", "12.1", ""],
      ["2026-03-03", "11.4", ""],
    ],
  });
  await soon(() => expect(link("s.acid").textContent).toBe("pH"));
  link("s.acid").click();
  await soon(() => expect([inTable()?.dataset.row, inTable()?.dataset.column]).toEqual(["0", "2"]));
  expect(link("s.low").parentElement?.textContent?.replace(/\s+/g, " ")).toBe(
    "waits for Daily readings: there is no entry to take",
  );
  link("s.low").click();
  await soon(() => expect(inTable()?.className).toContain("add"));
});

test("shows and hides the formulas of the whole sheet", async () => {
  const sheet = await mount("gyle-sheet", { session: smallBook(), name: "mash" });
  const formula = () => inside(sheet, "gyle-result").shadowRoot?.querySelector(".formula");
  expect(formula()).toBeNull();
  inside(sheet, ".toggle").click();
  await drawn(sheet);
  expect(formula()?.textContent).toContain("strike_water / grain");
});

test("keeps what could not be read, and shows it as text", async () => {
  const session = createSession('gylebook 1\nsheet one "One"\nthis is <b>no</b> line\na = 1\n');
  const sheet = await mount("gyle-sheet", { session, name: "one" });
  expect(inside(sheet, "pre").textContent).toBe("this is <b>no</b> line");
  expect(inside(sheet, "pre").querySelector("b")).toBeNull();
});

test("says a safety caution once, however many lines it belongs to", async () => {
  const call = "strike_temperature(rest: 66 °C, grain: 200 kg, water: 600 L, grain_temp: 15 °C)";
  const session = createSession(`gylebook 1\nsheet mash\na = ${call}\nb = ${call}\n`);
  const sheet = await mount("gyle-sheet", { session, name: "mash" });
  expect(sheet.shadowRoot?.querySelectorAll(".warnings li")).toHaveLength(1);
});

test("a line is added, moved and taken away with its menu", async () => {
  const session = smallBook();
  const sheet = await mount("gyle-sheet", { session, name: "mash" });
  const grain = inside(sheet, "gyle-entry");
  const menu = async (label: string): Promise<void> => {
    inside(grain, ".menu").click();
    const items = [...((await appears(grain, "gyle-menu")).shadowRoot?.querySelectorAll("button") ?? [])];
    items.find((each) => each.textContent?.includes(label))?.click();
    await drawn(sheet);
  };
  await menu("Duplicate");
  expect(session.cell("mash.grain_2")?.formula).toContain("8.5 sack");
  await menu("Move down");
  expect(session.text().indexOf("grain_2")).toBeLessThan(session.text().indexOf('grain "Malt in"'));
  await menu("Delete");
  expect(session.cell("mash.grain")).not.toBeNull();
  const form = await appears(grain, "gyle-form");
  expect(form.shadowRoot?.textContent).toContain("Mash ratio");
  inside(form, ".grave").click();
  await drawn(sheet);
  expect(session.cell("mash.grain")).toBeNull();
  expect(session.undo()).toBe(true);
  expect(session.cell("mash.grain")).not.toBeNull();
});

test("renames a line in every formula", async () => {
  const session = smallBook();
  const sheet = await mount("gyle-sheet", { session, name: "mash" });
  const grain = inside(sheet, "gyle-entry");
  inside(grain, ".menu").click();
  [...((await appears(grain, "gyle-menu")).shadowRoot?.querySelectorAll("button") ?? [])]
    .find((each) => each.textContent?.includes("Rename"))
    ?.click();
  await drawn(grain);
  const form = await appears(grain, "gyle-form");
  const field = inside<HTMLInputElement>(form, "input");
  field.value = "malt";
  field.dispatchEvent(new InputEvent("input"));
  await drawn(form);
  inside(form, ".firm").click();
  await drawn(sheet);
  expect(session.cell("mash.mash_ratio")?.formula).toBe("strike_water / malt as L/kg");
});

test("Escape closes a menu and gives the focus back", async () => {
  const sheet = await mount("gyle-sheet", { session: smallBook(), name: "mash" });
  const button = inside(sheet, ".section .menu");
  button.focus();
  button.click();
  await drawn(sheet);
  const menu = await appears(sheet, "gyle-menu");
  press(menu, "ArrowDown");
  menu.hidePopover();
  await drawn(sheet);
  expect(sheet.shadowRoot?.querySelector("gyle-menu")).toBeNull();
  expect(sheet.shadowRoot?.activeElement).toBe(button);
});

const HAZARDS = `gylebook 1
library 1
sheet s
liquor = ? kg
ready = heat_to_warm(100 kg, 20 °C, 70 °C)
waits = heat_to_boil_off(liquor)
refused = gone
sugar = priming_sugar(refused, 2.4 vol
hung = heat_to_boil_off(refused)
table log
  column taken : instant
  column oxygen = oxygen_run_time(
  rows
  end
`;

test("what is dangerous about a sheet is said in whatever state its lines are, each once, and of worked columns too", async () => {
  const session = createSession(HAZARDS);
  const sheet = await mount("gyle-sheet", { session, name: "s" });
  const said = (): (string | undefined)[] =>
    [...(sheet.shadowRoot?.querySelectorAll(".warnings li") ?? [])].map(
      ({ textContent }) => /scald|burst|oxygen/.exec(textContent ?? "")?.[0],
    );
  expect(session.cell("s.sugar")?.state).toBe("faulty");
  expect(said()).toEqual(["scald", "burst", "oxygen"]);
  // The last line that names them is faulty through another line.
  session.dispatch([
    { edit: "remove-item", sheet: "s", at: 2 },
    { edit: "remove-item", sheet: "s", at: 1 },
  ]);
  await drawn(sheet);
  expect(session.cell("s.ready") ?? session.cell("s.waits")).toBeNull();
  expect(session.cell("s.hung")?.because).toBe("s.refused");
  expect(said()).toEqual(["burst", "scald", "oxygen"]);
});

test("the keyboard comes to a table's first entry", async () => {
  const sheet = await mount("gyle-sheet", { session: smallBook(), name: "cellar" });
  const table = await appears(sheet, "gyle-table");
  const first = await appears(table, '[role="gridcell"][tabindex="0"]');
  expect([first.dataset.row, first.dataset.column]).toEqual(["0", "0"]);
  expect(table.shadowRoot?.querySelectorAll('[role="gridcell"][tabindex="0"]')).toHaveLength(1);
});
