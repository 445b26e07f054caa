import { expect, test } from "vitest";
import { appears, barriers, drawn, inside, mount, smallBook } from "../../tests/support/mount.ts";
import "./front.ts";

test("meets no barrier", async () => {
  expect(await barriers(await mount("gyle-front", { session: smallBook() }))).toEqual([]);
});

test("shows the book's date, units and functions, and adds a unit", async () => {
  const session = smallBook();
  const front = await mount("gyle-front", { session });
  const text = (): string => front.shadowRoot?.textContent ?? "";
  expect(text()).toContain("unit sack = 25 kg");
  expect(text()).toContain("function share(part, whole)");
  expect(inside(front, "gyle-entry").shadowRoot?.textContent).toContain("Batch date");
  inside(front, '[aria-label="Add to: Units of this book"]').click();
  await drawn(front);
  const form = await appears(front, "gyle-form");
  for (const [name, typed] of [
    ["name", "tote"],
    ["is", "1 t"],
  ] as const) {
    const field = inside<HTMLInputElement>(form, `#${name}`);
    field.value = typed;
    field.dispatchEvent(new InputEvent("input"));
  }
  await drawn(form);
  inside(form, ".firm").click();
  await drawn(front);
  expect(session.text()).toContain("unit tote = 1 t");
  expect(text()).toContain("unit tote = 1 t");
});
