import { expect, test } from "vitest";
import { drawn, inside, soon } from "../../tests/support/mount.ts";

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
  await soon(() => expect(inside(good, "canvas, svg")).toBeDefined());

  const troubles = stands.filter(({ localName }) => localName === "gyle-trouble");
  await soon(() => expect(troubles[1]?.shadowRoot?.textContent).toMatch(/failed probe 1/));
  expect(document.activeElement).toBe(document.body);
});
