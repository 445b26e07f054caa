import { expect, test, vi } from "vitest";
import { createSession } from "../../engine/index.ts";
import { barriers, drawn, inside, mount, SMALL_BOOK, smallBook } from "../../tests/support/mount.ts";
import "./brewing-view.ts";

const key = async (view: Element, ...keys: string[]): Promise<void> => {
  for (const each of keys) inside(inside(view, "gyle-keypad"), `[aria-label="${each}"]`).click();
  await drawn(view);
};

test("meets no barrier", async () => {
  expect(await barriers(await mount("gyle-brewing-view", { session: smallBook(), here: "mash" }))).toEqual([]);
});

test("begins with the first blank, says what is understood, keeps it and goes on with one button", async () => {
  const session = smallBook();
  const view = await mount("gyle-brewing-view", { session, here: "mash" });
  expect(view.active).toBe("mash.rest_measured");
  await key(view, "6", "6", "Point", "2");
  expect(inside(view, ".said").textContent).toContain("66.2 °C");
  expect(session.cell("mash.rest_measured")?.state).toBe("waiting");
  inside(view, ".next").click();
  await drawn(view);
  expect(session.cell("mash.rest_measured")?.shown).toBe("66.2 °C");
  expect(inside(view, ".said").textContent).toContain("Every reading of this sheet is taken");
});

test("a reading is corrected by taking it in hand and typing again, and can be undone", async () => {
  const session = smallBook();
  session.dispatch({ edit: "set-formula", cell: "mash.rest_measured", formula: "? 76.2 °C" });
  const view = await mount("gyle-brewing-view", { session, here: "mash" });
  view.active = "mash.rest_measured";
  await drawn(view);
  expect(inside<HTMLInputElement>(view, "input").placeholder).toContain("76.2 °C");
  await key(view, "1", "5", "2", "°F");
  inside(view, ".keep").click();
  await drawn(view);
  expect(session.cell("mash.rest_measured")?.shown).toBe("152 °F");
  inside(view, '[aria-label^="Undo"]').click();
  await drawn(view);
  expect(session.cell("mash.rest_measured")?.shown).toBe("76.2 °C");
});

test("what is not understood is not kept, and the line stays in hand", async () => {
  const session = smallBook();
  const view = await mount("gyle-brewing-view", { session, here: "mash" });
  await key(view, "6", "Minus", "6");
  inside(view, ".next").click();
  await drawn(view);
  expect(view.active).toBe("mash.rest_measured");
  expect(session.canUndo).toBe(false);
});

test("a fault fills a banner in words that names its sheet and leads to the line", async () => {
  const session = smallBook();
  const view = await mount("gyle-brewing-view", { session, here: "cellar" });
  expect(inside(view, ".banner").textContent).toContain("1 line is faulty. Mash: Total. ");
  expect(inside(view, ".banner").textContent).toContain("cannot be added");
  const went = vi.fn();
  view.addEventListener("gyle-go", (event) => {
    went(event.detail.name);
    view.here = event.detail.name;
  });
  inside(view, ".banner").click();
  await drawn(view);
  expect(went.mock.calls).toEqual([["mash"]]);
  expect(view.active).toBe("mash.bad");
});

test("an entry of a log that is faulty is named with its table, and its row is taken in hand", async () => {
  const session = createSession(
    SMALL_BOOK.replace('bad "Total" = strike_water + grain', "bad = 1").replace("7.4, 18.6", "7.4, warm"),
  );
  const view = await mount("gyle-brewing-view", { session, here: "cellar" });
  expect(inside(view, ".banner").textContent).toContain("Cellar: Daily readings, Temp. ");
  inside(view, ".banner").click();
  await drawn(view);
  expect(inside(view, ".name").textContent).toBe("Daily readings, row 3: Taken");
  expect(inside(view, "main .faulty .label").textContent).toBe("Daily readings");
});

test("what is faulty in a table that stays at the desk is said to be mended there", async () => {
  const text = 'gylebook 1\nsheet s\ntable stick "Dip stick"\n  column dip : cm\n  rows\n    wet\n  end\n';
  const view = await mount("gyle-brewing-view", { session: createSession(text), here: "s" });
  inside(view, ".banner").click();
  await drawn(view);
  expect(said(view)).toBe("S: Dip stick, Dip: to be mended at the desk.");
});

test("the sheets are listed with what is faulty on them, in words", async () => {
  const view = await mount("gyle-brewing-view", { session: smallBook(), here: "cellar" });
  const next = (): DOMRect => inside(view, ".next").getBoundingClientRect();
  const before = next();
  inside(view, ".sheets").click();
  await drawn(view);
  expect(next()).toEqual(before);
  const listed = [...(view.shadowRoot?.querySelectorAll("main .line") ?? [])];
  expect(listed.map((each) => each.querySelector(".value")?.textContent)).toEqual([
    "0 to fill",
    "1 faulty · 1 to fill",
    "0 to fill",
  ]);
  expect(listed.map(({ classList }) => classList.contains("faulty"))).toEqual([false, true, false]);
});

test("nothing in it is smaller than a gloved finger", async () => {
  const view = await mount("gyle-brewing-view", { session: smallBook(), here: "mash" });
  const small = [...(view.shadowRoot?.querySelectorAll("button") ?? [])].filter(
    (each) => each.getBoundingClientRect().height < 72,
  );
  expect(small.map((each) => each.textContent)).toEqual([]);
});

test("formulas are locked: a worked line offers no field", async () => {
  const view = await mount("gyle-brewing-view", { session: smallBook(), here: "mash" });
  view.active = "mash.mash_ratio";
  await drawn(view);
  expect(view.shadowRoot?.querySelector(".dock input")).toBeNull();
  expect(inside(view, ".dock").textContent).toContain("3.01 L/kg");
});

const said = (view: Element): string => (inside(view, ".said").textContent ?? "").trim();

test("what was said of one sheet does not stand under the next one", async () => {
  const view = await mount("gyle-brewing-view", { session: smallBook(), here: "mash" });
  await key(view, "6", "6");
  inside(view, ".keep").click();
  await drawn(view);
  expect(said(view)).toBe("Rest measured: 66 °C is kept.");
  view.here = "cellar";
  await drawn(view);
  expect(said(view)).toBe("");
});

test("a reading outside its range is kept, and told in two sentences and a step to undo", async () => {
  const session = smallBook();
  const view = await mount("gyle-brewing-view", { session, here: "mash" });
  await key(view, "7", "2");
  inside(view, ".keep").click();
  await drawn(view);
  expect(said(view)).toBe("Rest measured: 72 °C is kept. 72 °C is outside 65 °C to 68 °C.");
  expect(session.undoLabel).toBe("Rest measured 72 °C");
});

test("a blank is offered in the units of the reader's lens, a reading stays as it was written", async () => {
  const session = createSession(SMALL_BOOK, { lens: "US" });
  const view = await mount("gyle-brewing-view", { session, here: "mash" });
  const unit = (): string => inside(view, ".field .unit").textContent ?? "";
  expect(unit()).toBe("°F");
  await key(view, "1", "5", "2");
  inside(view, ".keep").click();
  await drawn(view);
  expect(session.cell("mash.rest_measured")?.formula).toContain("? 152 °F within");
  session.dispatch({ edit: "set-formula", cell: "mash.rest_measured", formula: "? 66.2 °C" });
  await drawn(view);
  expect([unit(), inside<HTMLInputElement>(view, "input").placeholder]).toEqual(["°C", "was 66.2 °C"]);
});

test("the front page is a sheet like others, and its date is taken with one key", async () => {
  const session = smallBook();
  const view = await mount("gyle-brewing-view", { session, here: "" });
  expect(view.active).toBe("batch_date");
  await key(view, "today");
  inside(view, ".keep").click();
  await drawn(view);
  const now = new Date();
  expect(session.cell("batch_date")?.formula).toMatch(new RegExp(`^\\? ${now.getFullYear()}-\\d\\d-\\d\\d$`));
  inside(view, ".sheets").click();
  await drawn(view);
  const sheets = [...(view.shadowRoot?.querySelectorAll("main .label") ?? [])].map(({ textContent }) => textContent);
  expect(sheets).toEqual(["Front page", "Mash", "Cellar"]);
});

test("whoever begins on a sheet without readings is brought to the first that is to be taken", async () => {
  const session = createSession(SMALL_BOOK.replace("sheet mash", "sheet plant\nheat = 3 kJ/K\nsheet mash"));
  const went = vi.fn();
  const view = document.createElement("gyle-brewing-view");
  view.addEventListener("gyle-go", (event) => went(event.detail.name));
  Object.assign(view, { session, here: "plant" });
  document.body.append(view);
  await drawn(view);
  expect(went.mock.calls).toEqual([["mash"]]);
  view.remove();
});

test("the one button leads from a sheet that is done to the next that is not", async () => {
  const text = SMALL_BOOK.replace("original = 12.1 °P", "original = ? °P").replace('? "tun one"', '"tun one"');
  const view = await mount("gyle-brewing-view", { session: createSession(text), here: "mash" });
  const went = vi.fn();
  view.addEventListener("gyle-go", (event) => went(event.detail.name));
  await key(view, "6", "6");
  inside(view, ".next").click();
  await drawn(view);
  expect(said(view)).toBe(
    "Rest measured: 66 °C is kept. Every reading of this sheet is taken. The next is on Cellar: press once more.",
  );
  expect(went).not.toHaveBeenCalled();
  inside(view, ".next").click();
  expect(went.mock.calls).toEqual([["cellar"]]);
});

test("a log takes a row entry by entry with the one button, the time with one key", async () => {
  const session = smallBook();
  const view = await mount("gyle-brewing-view", { session, here: "cellar" });
  inside(view, "main li:nth-child(2) .line").click();
  await drawn(view);
  const name = (): string => inside(view, ".name").textContent ?? "";
  expect(name()).toBe("Daily readings, row 4: Taken");
  await key(view, "now");
  inside(view, ".next").click();
  await drawn(view);
  expect(name()).toBe("Daily readings, row 4: Gravity");
  await key(view, "7", "Point", "1");
  inside(view, ".next").click();
  await drawn(view);
  await key(view, "6", "4", "°F");
  inside(view, ".next").click();
  await drawn(view);
  expect(name()).toBe("Daily readings, row 5: Taken");
  expect(session.text()).toMatch(/\n {4}\d{4}-\d\d-\d\dT\d\d:\d\d, 7\.1, 64 °F\n {2}end/);
  expect(session.undoLabel).toBe("Daily readings, row 4: Temp 64 °F (17.8 °C)");
});

test("a row of a log is corrected by taking it in hand, and passed over entry by entry", async () => {
  const session = smallBook();
  const view = await mount("gyle-brewing-view", { session, here: "cellar" });
  view.active = "cellar.readings";
  await drawn(view);
  const rows = [...(view.shadowRoot?.querySelectorAll(".row") ?? [])].map(({ textContent }) => textContent);
  expect(rows).toEqual([
    "1 08:15 · 12.1 °P · 17.8 °C",
    "2 08:05 · 1.0415 SG · 64.9 °F",
    "3 08:20 · 7.4 °P · 18.6 °C",
    "4 new row",
  ]);
  inside(view, ".row:nth-of-type(4) button").click();
  await drawn(view);
  expect(inside(view, ".name").textContent).toBe("Daily readings, row 2: Taken");
  expect(inside<HTMLInputElement>(view, "input").placeholder).toBe("was 2026-03-03 08:05");
  inside(view, ".next").click();
  await drawn(view);
  expect(inside<HTMLInputElement>(view, "input").placeholder).toBe("was 1.0415 SG");
  await key(view, "1", "0", "Point", "4");
  inside(view, ".next").click();
  await drawn(view);
  expect(session.entry("cellar.readings", 1, "gravity").text).toBe("10.4");
  inside(view, '[aria-label^="Undo"]').click();
  await drawn(view);
  expect(session.entry("cellar.readings", 1, "gravity").text).toBe("1.0415 SG");
});

test("a log that is still to be begun counts as one to fill, and what waits for it is no fault", async () => {
  const text = SMALL_BOOK.replace('bad "Total" = strike_water + grain\nworse = bad * 2\n', "");
  const session = createSession(text);
  session.dispatch({ edit: "empty-blanks" });
  const view = await mount("gyle-brewing-view", { session, here: "cellar" });
  expect(inside(view, '[role="alert"]').hidden).toBe(true);
  expect(inside(view, ".sheets").textContent).toContain("1 to fill");
  expect(view.active).toBe("cellar.readings");
  expect(inside(view, 'main .line[aria-current="true"]').className).toContain("blank");
  inside(view, ".next").click();
  await drawn(view);
  expect(said(view)).toBe("This is the only reading left. The next is on Front page: press once more.");
  view.active = "cellar.latest";
  await drawn(view);
  expect(inside(view, ".dock output").textContent).toBe("waits for Daily readings");
  view.active = "cellar.readings";
  await drawn(view);
  await key(view, "now");
  inside(view, ".next").click();
  await drawn(view);
  // The row is begun, but what is waited for is not in it yet.
  expect(inside(view, ".sheets").textContent).toContain("1 to fill");
  await key(view, "7", "Point", "1");
  inside(view, ".next").click();
  await drawn(view);
  expect(inside(view, ".sheets").textContent).toContain("0 to fill");
  expect(session.cell("cellar.latest")?.shown).toBe("7.1 °P");
});

test("what a log that has begun has too few rows for waits for it, and nothing is left to fill", async () => {
  const text = `gylebook 1
sheet s
table fills "Fills"
  column taken : instant
  column volume : mL
  rows
    2026-03-09T10:00, 501
  end
verdict = fill_verdict(fills.volume, 500 mL)
`;
  const view = await mount("gyle-brewing-view", { session: createSession(text), here: "s" });
  expect(inside(view, '[role="alert"]').hidden).toBe(true);
  expect(inside(view, ".sheets").textContent).toContain("0 to fill");
  view.active = "s.verdict";
  await drawn(view);
  expect(inside(view, ".dock output").textContent).toBe(
    "waits for Fills: a verdict needs at least 20 packages; 1 is weighed",
  );
});

test("a table without times that lines wait for is left to the desk", async () => {
  const text =
    'gylebook 1\nsheet s\na = ? kg\ntable stick "Dip stick"\n  column dip : cm\n  rows\n  end\nfull = max(stick.dip)\n';
  const view = await mount("gyle-brewing-view", { session: createSession(text), here: "s" });
  expect(inside(view, ".sheets").textContent).toContain("2 to fill");
  await key(view, "5");
  inside(view, ".next").click();
  await drawn(view);
  expect(said(view)).toBe("A: 5 kg is kept. Dip stick: to be filled at the desk.");
});

test("a table that takes no times is no log and stays at the desk", async () => {
  const text = 'gylebook 1\nsheet s\na = ? kg\ntable stick "Dip stick"\n  column dip : cm\n  rows\n    1\n  end\n';
  const view = await mount("gyle-brewing-view", { session: createSession(text), here: "s" });
  expect(inside(view, "main").textContent).not.toContain("Dip stick");
});

test("a figure that is two things on the way is typed on; what it can be is offered at once, and the pad stays", async () => {
  const session = createSession(SMALL_BOOK.replace("original = 12.1 °P", "original = ? °P"));
  const view = await mount("gyle-brewing-view", { session, here: "cellar" });
  const pad = (): number => inside(view, "gyle-keypad").getBoundingClientRect().top;
  await key(view, "1", "0");
  const before = pad();
  await key(view, "4");
  expect(said(view)).toContain("Which is meant?");
  expect(pad()).toBe(before);
  await key(view, "8");
  expect(said(view)).toBe("reads 1.048 SG (11.91 °P)");
  await key(view, "Erase", "Erase", "Erase", "Erase", "4", "8");
  inside(view, ".next").click();
  await drawn(view);
  // Nothing is kept unasked.
  expect(session.cell("cellar.original")?.state).toBe("waiting");
  const choices = [...(view.shadowRoot?.querySelectorAll<HTMLElement>(".choices button") ?? [])];
  expect(choices.map(({ textContent }) => textContent)).toEqual(["1.048 SG (11.91 °P)", "48 °P"]);
  expect(choices.every((each) => each.getBoundingClientRect().height >= 72)).toBe(true);
  choices[0]?.click();
  await drawn(view);
  expect(session.cell("cellar.original")?.formula).toBe("? 1.048 SG");
});

test("a dip in inches is typed with its fraction, on the same pad", async () => {
  const session = createSession(SMALL_BOOK.replace('? "tun one" within "tun one", "tun two"', "? inch"));
  const view = await mount("gyle-brewing-view", { session, here: "mash" });
  const next = (): number => inside(view, ".next").getBoundingClientRect().top;
  const before = next();
  view.active = "mash.tun";
  await drawn(view);
  await key(view, "3", "6", "Space", "1");
  expect(said(view)).toContain("A fraction is typed such as 36 1/8.");
  await key(view, "Fraction stroke", "8");
  expect(said(view)).toBe("reads 36.125 inch");
  expect(next()).toBe(before);
  inside(view, ".keep").click();
  await drawn(view);
  expect(session.cell("mash.tun")?.formula).toBe("? 36.125 inch");
});
