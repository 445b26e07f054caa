import { expect, test } from "vitest";
import { barriers, inside, mount } from "../../tests/support/mount.ts";
import "./keypad.ts";

test("meets no barrier", async () => {
  expect(await barriers(await mount("gyle-keypad", { extra: ["kg", "lb", "oz"] }))).toEqual([]);
});

test("its keys are 72 px at the least and 16 px apart on the narrowest screen", async () => {
  const pad = await mount("gyle-keypad", { extra: ["°C", "°F"] });
  pad.style.inlineSize = "336px";
  const [first, second] = [...(pad.shadowRoot?.querySelectorAll("button") ?? [])].map((key) =>
    key.getBoundingClientRect(),
  );
  if (first === undefined || second === undefined) throw new Error("no keys");
  expect(first.height).toBeGreaterThanOrEqual(72);
  expect(first.width).toBeGreaterThanOrEqual(72);
  expect(second.left - first.right).toBeGreaterThanOrEqual(16);
});

test("tells which key was pressed", async () => {
  const pad = await mount("gyle-keypad", { extra: ["°F"] });
  const keys: string[] = [];
  pad.addEventListener("gyle-key", (event) => keys.push(event.detail.key));
  for (const label of ["1", "5", "2", "°F", "Erase", "Minus", "Point"]) inside(pad, `[aria-label="${label}"]`).click();
  expect(keys).toEqual(["1", "5", "2", "°F", "erase", "-", "."]);
});

test("a fourth key stands in place of minus, and a space has its name", async () => {
  const pad = await mount("gyle-keypad", { extra: ["inch", "cm", " ", "/"] });
  const keys: string[] = [];
  pad.addEventListener("gyle-key", (event) => keys.push(event.detail.key));
  for (const label of ["Space", "Fraction stroke"]) inside(pad, `[aria-label="${label}"]`).click();
  expect(keys).toEqual([" ", "/"]);
  expect(pad.shadowRoot?.querySelector('[aria-label="Minus"]')).toBeNull();
  expect(await barriers(pad)).toEqual([]);
});
