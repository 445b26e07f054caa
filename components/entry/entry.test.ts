import { expect, test, vi } from "vitest";
import { createSession } from "../../engine/index.ts";
import { barriers, drawn, inside, mount, press, smallBook, type } from "../../tests/support/mount.ts";
import "./entry.ts";

const field = (line: Element): HTMLInputElement => inside<HTMLInputElement>(line, "#field");

test("meets no barrier, blank, filled or as a choice", async () => {
  const session = smallBook();
  for (const name of ["mash.grain", "mash.rest_measured", "mash.tun", "batch_date"]) {
    const line = await mount("gyle-entry", { session, name });
    expect(await barriers(line), name).toEqual([]);
  }
});

test("shows what is written: figure in the field, unit beside it, note", async () => {
  const line = await mount("gyle-entry", { session: smallBook(), name: "mash.grain" });
  expect(field(line).value).toBe("8.5");
  expect(inside(line, ".unit").textContent).toBe("sack");
  expect(inside(line, ".aside").textContent).toContain("eight full, one half");
});

test("says what is understood before it is kept, and Enter keeps it as written", async () => {
  const session = smallBook();
  const line = await mount("gyle-entry", { session, name: "mash.rest_measured" });
  await type(field(line), "152F");
  expect(inside(line, ".echo").textContent).toContain("152 °F");
  expect(session.cell("mash.rest_measured")?.state).toBe("waiting");
  press(field(line), "Enter");
  await drawn(line);
  expect(session.cell("mash.rest_measured")?.formula).toMatch(
    /^\? 152 °F within 65 to 68 °C\s+# read after ten minutes$/,
  );
  expect(session.cell("mash.warmer")?.state).toBe("ready");
});

test("what is understood comes into view at the edge of the page", async () => {
  const line = await mount("gyle-entry", { session: smallBook(), name: "mash.rest_measured" });
  const page = line.parentElement ?? line;
  line.style.marginBlockStart = "250px";
  Object.assign(page.style, { overflow: "auto", blockSize: "300px" });
  await type(field(line), "65-68 °C");
  const [echo, edge] = [inside(line, ".echo"), page].map((each) => each.getBoundingClientRect());
  expect(echo?.height).toBeGreaterThan(0);
  // Scrolling goes by whole pixels.
  expect(Math.floor(echo?.bottom ?? 0)).toBeLessThanOrEqual(Math.ceil(edge?.bottom ?? 0));
});

test("under a lens an empty field asks in the lens's unit, and a bare figure is kept in it", async () => {
  const session = smallBook();
  session.setLens("US");
  const line = await mount("gyle-entry", { session, name: "mash.rest_measured" });
  expect(inside(line, ".unit").textContent).toBe("°F");
  await type(field(line), "152");
  press(field(line), "Enter");
  await drawn(line);
  expect(session.cell("mash.rest_measured")?.formula).toMatch(/^\? 152 °F within/);
  expect(inside(line, ".unit").textContent).toBe("°F");
  session.setLens("metric");
  await drawn(line);
  expect(field(line).value).toBe("152");
  expect(inside(line, ".unit").textContent).toBe("°F");
});

test("Escape puts back what stood there", async () => {
  const session = smallBook();
  const line = await mount("gyle-entry", { session, name: "mash.grain" });
  await type(field(line), "9");
  press(field(line), "Escape");
  await drawn(line);
  expect(field(line).value).toBe("8.5");
  expect(session.canUndo).toBe(false);
});

test("what is not understood is told under the line with what still counts; leaving puts that back and says so", async () => {
  const session = smallBook();
  const line = await mount("gyle-entry", { session, name: "mash.strike_water" });
  const next = await mount("gyle-entry", { session, name: "mash.grain" });
  const said = vi.fn();
  line.addEventListener("gyle-say", (event) => said(event.detail.says));
  field(line).focus();
  await type(field(line), "a few buckets");
  press(field(line), "Enter");
  await drawn(line);
  expect(field(line).value).toBe("a few buckets");
  const echo = inside(line, ".echo");
  expect(echo.classList.contains("refused")).toBe(true);
  expect(echo.textContent).toContain("Not kept: 640 L still counts.");
  const [below, box] = [echo, field(line)].map((each) => each.getBoundingClientRect());
  expect(below?.top).toBeGreaterThanOrEqual(box?.bottom ?? 0);
  expect(line.getBoundingClientRect().bottom).toBeGreaterThanOrEqual(below?.bottom ?? 0);
  expect(below?.width).toBeGreaterThan(300);
  expect(said).not.toHaveBeenCalled();
  field(next).focus();
  await drawn(line);
  expect(field(line).value).toBe("640");
  expect(field(line).ariaInvalid).toBeNull();
  expect(said).toHaveBeenCalledWith('Strike water: "a few buckets" is not kept: 640 L still counts.');
  expect(echo.textContent).toContain("Not kept: 640 L still counts.");
  // What stands below stays where it is pressed.
  expect(echo.getBoundingClientRect().height).toBe(below?.height);
  expect(await barriers(line)).toEqual([]);
  expect(session.cell("mash.strike_water")?.formula).toBe("640 L");
  field(line).focus();
  await drawn(line);
  expect(echo.hidden).toBe(true);
});

test("Escape puts back what still counts and says so of what is not understood; an empty line is still to fill", async () => {
  const session = smallBook();
  const line = await mount("gyle-entry", { session, name: "mash.rest_measured" });
  const said = vi.fn();
  line.addEventListener("gyle-say", (event) => said(event.detail.says));
  await type(field(line), "hot");
  press(field(line), "Escape");
  await drawn(line);
  expect(field(line).value).toBe("");
  expect(said.mock.calls).toEqual([[expect.stringContaining('"hot" is not kept: it is still to fill.')]]);
  expect(inside(line, ".echo").hidden).toBe(true);
});

test("what is understood lies over the next line and can be pressed through", async () => {
  const session = smallBook();
  const line = await mount("gyle-entry", { session, name: "mash.grain" });
  const next = await mount("gyle-entry", { session, name: "mash.strike_water" });
  field(line).focus();
  await type(field(line), "9");
  for (const part of [0.25, 0.5, 0.75]) {
    const { left, width, top, height } = field(next).getBoundingClientRect();
    expect(document.elementFromPoint(left + part * width, top + part * height)).toBe(next);
  }
});

test("a question that is left is asked on, and its choices are still kept", async () => {
  const session = smallBook();
  const line = await mount("gyle-entry", { session, name: "cellar.original" });
  const next = await mount("gyle-entry", { session, name: "mash.grain" });
  field(line).focus();
  await type(field(line), "48");
  inside<HTMLButtonElement>(line, ".echo button").focus();
  await drawn(line);
  expect(field(line).value).toBe("48");
  field(next).focus();
  await drawn(line);
  expect(field(line).value).toBe("12.1");
  inside<HTMLButtonElement>(line, ".echo button").click();
  await drawn(line);
  expect(session.cell("cellar.original")?.formula).not.toBe("12.1 °P");
  expect(inside(line, ".echo").hidden).toBe(true);
});

test("a figure that could be two things is asked, and the answer is kept", async () => {
  const session = smallBook();
  const line = await mount("gyle-entry", { session, name: "cellar.original" });
  await type(field(line), "48");
  const choices = [...(line.shadowRoot?.querySelectorAll<HTMLButtonElement>(".echo button") ?? [])];
  expect(choices.length).toBeGreaterThan(1);
  choices[0]?.click();
  await drawn(line);
  expect(session.cell("cellar.original")?.formula).not.toBe("12.1 °P");
  expect(session.undo()).toBe(true);
  expect(session.cell("cellar.original")?.formula).toBe("12.1 °P");
});

test("a choice offers its texts and keeps the one that is chosen", async () => {
  const session = smallBook();
  const line = await mount("gyle-entry", { session, name: "mash.tun" });
  const select = inside<HTMLSelectElement>(line, "select");
  expect([...select.options].map(({ value }) => value)).toEqual(["", "tun one", "tun two"]);
  select.value = "tun two";
  select.dispatchEvent(new Event("change"));
  await drawn(line);
  expect(session.cell("mash.tun")?.shown).toBe("tun two");
});

test("tells which line is in hand", async () => {
  const line = await mount("gyle-entry", { session: smallBook(), name: "mash.grain" });
  const chosen = vi.fn();
  line.addEventListener("gyle-select", (event) => chosen(event.detail.name));
  field(line).focus();
  expect(chosen).toHaveBeenCalledWith("mash.grain");
});

test("takes another label at once", async () => {
  const session = smallBook();
  const line = await mount("gyle-entry", { session, name: "mash.grain" });
  session.dispatch({ edit: "set-label", of: "mash.grain", label: "<b>Grist</b>" });
  await drawn(line);
  expect(inside(line, ".label").textContent).toBe("<b>Grist</b>");
});

test("a figure without unit stands under the others; a text or a moment has the unit's place too", async () => {
  const session = createSession(`gylebook 1
library 1
sheet count
diluted = 100
squares = ? number
kept = 37 °F
crop = "batch 211, second crop"
taken = 2026-03-02T08:15
`);
  const width = async (name: string): Promise<number> => {
    const line = await mount("gyle-entry", { session, name: `count.${name}` });
    return inside(line, ".box").getBoundingClientRect().width;
  };
  const figure = await width("kept");
  expect(await width("diluted")).toBeCloseTo(figure, 1);
  expect(await width("squares")).toBeCloseTo(figure, 1);
  expect(await width("crop")).toBeGreaterThan(figure);
  expect(await width("taken")).toBeGreaterThan(figure);
});

test("a unit goes on in the next line rather than under the menu", async () => {
  const session = createSession("gylebook 1\nlibrary 1\nsheet pitch\nrate = 0.85 Mcells/mL/°P\n");
  const line = await mount("gyle-entry", { session, name: "pitch.rate" });
  expect(inside(line, ".unit").textContent).toBe("Mcells/mL/°P");
  expect(inside(line, ".unit").querySelectorAll("wbr")).toHaveLength(2);
});
