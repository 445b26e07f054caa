import { expect, test } from "vitest";
import { barriers, drawn, inside, mount, smallBook } from "../../tests/support/mount.ts";
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

test("a fault fills a banner in words", async () => {
  const view = await mount("gyle-brewing-view", { session: smallBook(), here: "mash" });
  expect(inside(view, ".banner").textContent).toContain("cannot be added");
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
