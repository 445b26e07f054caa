import { expect, test, vi } from "vitest";
import { barriers, drawn, inside, mount, smallBook } from "../../tests/support/mount.ts";
import "./path.ts";

const stops = (path: Element): string[] =>
  [...(path.shadowRoot?.querySelectorAll(".stop") ?? [])].map(
    (each) => each.textContent?.replace(/\s+/g, " ").trim() ?? "",
  );

test("meets no barrier", async () => {
  expect(await barriers(await mount("gyle-path", { session: smallBook(), here: "mash" }))).toEqual([]);
});

test("lists the sheets in order with their blanks and faults in figures", async () => {
  const session = smallBook();
  const path = await mount("gyle-path", { session, here: "mash" });
  expect(stops(path)).toEqual(["Front page", "Mash ○ 1 to fill ◆ 1 faulty", "Cellar"]);
  session.dispatch({ edit: "set-formula", cell: "mash.rest_measured", formula: "? 66 °C" });
  await drawn(path);
  expect(stops(path)[1]).toBe("Mash ◆ 1 faulty");
});

test("goes to a sheet", async () => {
  const path = await mount("gyle-path", { session: smallBook(), here: "mash" });
  const went = vi.fn();
  path.addEventListener("gyle-go", (event) => went(event.detail.name));
  inside(path, "li:last-child .stop").click();
  expect(went).toHaveBeenCalledWith("cellar");
  expect(inside(path, "[aria-current]").textContent).toContain("Mash");
});
