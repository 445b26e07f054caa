import { afterEach, beforeAll, expect, test, vi } from "vitest";
import { page } from "vitest/browser";
import { loadFaces } from "../../tests/support/faces.ts";
import { appears, barriers, drawn, inside, mount, smallBook } from "../../tests/support/mount.ts";
import "./head.ts";

beforeAll(loadFaces);

const { innerWidth, innerHeight } = window;
afterEach(() => page.viewport(innerWidth, innerHeight));

test("meets no barrier", async () => {
  const head = await mount("gyle-head", { session: smallBook(), kept: "kept on this device" });
  expect(await barriers(head)).toEqual([]);
});

test("counts faults and blanks, each a button that goes to the next one and round again", async () => {
  const head = await mount("gyle-head", { session: smallBook() });
  const went: string[] = [];
  head.addEventListener("gyle-go", (event) => went.push(event.detail.name));
  expect(inside(head, ".faults").textContent).toContain("1");
  expect(inside(head, ".blanks").textContent).toContain("1");
  inside(head, ".faults").click();
  inside(head, ".blanks").click();
  expect(went).toEqual(["mash.bad", "mash.rest_measured"]);
});

test("a log that is still to be begun is one to fill, which what is in hand within it follows", async () => {
  const session = smallBook();
  session.dispatch({ edit: "empty-blanks" });
  const head = await mount("gyle-head", { session });
  const went: string[] = [];
  head.addEventListener("gyle-go", (event) => went.push(event.detail.name));
  expect(inside(head, ".blanks").textContent).toContain("4");
  for (const selected of [null, "mash.tun", "cellar.readings", "cellar.readings.gravity"]) {
    head.selected = selected;
    await drawn(head);
    inside(head, ".blanks").click();
  }
  expect(went).toEqual(["batch_date", "cellar.readings", "batch_date", "batch_date"]);
  head.selected = "mash.rest_measured";
  await drawn(head);
  inside(head, ".blanks").click();
  expect(went.at(-1)).toBe("mash.tun");
});

test("the title is edited in place and can be undone", async () => {
  const session = smallBook();
  const head = await mount("gyle-head", { session });
  const title = inside<HTMLInputElement>(head, "input");
  title.value = 'Stout "214"';
  title.dispatchEvent(new Event("change"));
  await drawn(head);
  expect(session.text()).toContain('title "Stout ""214"""');
  inside(head, 'button[title^="Undo"]').click();
  await drawn(head);
  expect(inside<HTMLInputElement>(head, "input").value).toBe("Amber ale, batch 214");
});

test("the frame of the title ends above what is said beneath it", async () => {
  const head = await mount("gyle-head", { session: smallBook(), kept: "Kept on this device" });
  inside(head, ".title input").focus();
  const frame = getComputedStyle(inside(head, ".title"), "::before");
  const bottom =
    inside(head, ".title").getBoundingClientRect().top + Number.parseFloat(frame.top) + Number.parseFloat(frame.height);
  const said = document.createRange();
  said.selectNodeContents(inside(head, ".kept"));
  expect(frame.outlineWidth).toBe("3px");
  // The letters begin some pixels within their line.
  expect(bottom + 3).toBeLessThan(said.getBoundingClientRect().top + 4);
});

test("asks for what it cannot do itself", async () => {
  const head = await mount("gyle-head", { session: smallBook() });
  const asked = vi.fn();
  head.addEventListener("gyle-command", (event) => asked(event.detail.command));
  inside(head, ".brew").click();
  expect(asked).toHaveBeenCalledWith("brew");
});

test("on a phone nothing of it is cut, and its menu moves nothing", async () => {
  await page.viewport(360, 640);
  const session = smallBook();
  session.dispatch({ edit: "set-title", title: "Cleaning fermenter 2 after 214" });
  const head = await mount("gyle-head", { session, kept: "Kept here from your first change on." });
  for (const part of [inside(head, ".kept"), inside(head, "input")])
    expect(part.scrollWidth).toBeLessThanOrEqual(part.clientWidth);
  const places = (): DOMRect[] =>
    [...inside(head, "header").querySelectorAll("button")].map((each) => each.getBoundingClientRect());
  const before = places();
  inside(head, "[aria-haspopup]").click();
  await appears(head, "gyle-menu");
  expect(places()).toEqual(before);
  expect(before.every(({ left, right }) => left >= 0 && right <= 360)).toBe(true);
});

test.each([
  [1000, false, true],
  [1280, true, false],
])("at %i pixels the title is whole, and every command is there", async (width, beside, inMenu) => {
  await page.viewport(width, 800);
  const session = smallBook();
  session.dispatch({ edit: "set-title", title: "Amber ale, batch 214: account" });
  const head = await mount("gyle-head", { session, kept: "Kept here from your first change on." });
  const title = inside(head, "input");
  expect(title.scrollWidth).toBeLessThanOrEqual(title.clientWidth);
  const saves = (root: ShadowRoot | null): boolean =>
    [...(root?.querySelectorAll("button") ?? [])].some((each) => each.textContent?.trim().startsWith("Save"));
  expect(saves(head.shadowRoot)).toBe(beside);
  inside(head, "header > [aria-haspopup]").click();
  expect(saves((await appears(head, "gyle-menu")).shadowRoot)).toBe(inMenu);
});
