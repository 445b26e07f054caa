import { expect, test, vi } from "vitest";
import { drawn, inside } from "../../tests/support/mount.ts";

test("shows every component, none in an empty frame, and lets the reader begin at the top", async () => {
  document.body.innerHTML = "<main></main>";
  await import("./showcase.ts");
  const stands = [...document.querySelectorAll(".stand > *")];
  await Promise.all(stands.map(drawn));
  expect(stands.filter((each) => each.getBoundingClientRect().height === 0)).toEqual([]);
  expect(stands.filter(({ localName }) => localName.includes("-") && !customElements.get(localName))).toEqual([]);

  const [faulty, good] = stands.filter(({ localName }) => localName === "gyle-plot");
  if (faulty === undefined || good === undefined) throw new Error("There are two plots.");
  expect(faulty.shadowRoot?.textContent).toContain("faulty");
  await vi.waitFor(() => expect(inside(good, "canvas, svg")).toBeDefined());

  const troubles = stands.filter(({ localName }) => localName === "gyle-trouble");
  await vi.waitFor(() => expect(troubles[1]?.shadowRoot?.textContent).toMatch(/failed probe 1/), 10_000);
  expect(document.activeElement).toBe(document.body);
});
