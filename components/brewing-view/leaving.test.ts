import { expect, test, vi } from "vitest";
import { page } from "vitest/browser";
import { createSession, type Session } from "../../engine/index.ts";
import { barriers, drawn, inside, mount, SMALL_BOOK, smallBook } from "../../tests/support/mount.ts";
import "./brewing-view.ts";

const key = async (view: Element, ...keys: string[]): Promise<void> => {
  for (const each of keys) inside(inside(view, "gyle-keypad"), `[aria-label="${each}"]`).click();
  await drawn(view);
};
const said = (view: Element): string => (inside(view, ".said").textContent ?? "").trim();
const press = async (view: Element, words: string): Promise<void> => {
  const buttons = [...(view.shadowRoot?.querySelectorAll("button") ?? [])];
  const found = buttons.find(({ textContent }) => textContent?.replaceAll(/\s+/g, " ").includes(words));
  if (found === undefined) throw new Error(`no button says ${words}`);
  found.click();
  await drawn(view);
};
const inLog = async (session: Session, ...columns: string[][]) => {
  const view = await mount("gyle-brewing-view", { session, here: "cellar" });
  view.active = "cellar.readings";
  view.spot = { row: 2, column: 1 };
  await drawn(view);
  for (const typed of columns) await key(view, ...typed);
  return view;
};
const gravity = (session: Session): string => session.entry("cellar.readings", 2, "gravity").text;

test("what is typed is kept when the desk, another row, another line or another sheet is gone to", async () => {
  const typed = ["2", "Point", "4"];
  {
    const session = smallBook();
    const view = await inLog(session, typed);
    const left = vi.fn();
    view.addEventListener("gyle-command", ({ detail }) => left(detail.command, gravity(session)));
    await press(view, "Desk");
    expect(left.mock.calls).toEqual([["desk", "2.4"]]);
  }
  {
    const session = smallBook();
    const view = await inLog(session, typed);
    await press(view, "1 08:15");
    expect([gravity(session), view.spot, view.draft]).toEqual(["2.4", { row: 0, column: 0 }, ""]);
    expect(said(view)).toContain("2.4 °P is kept.");
  }
  {
    const session = smallBook();
    const view = await inLog(session, typed);
    await press(view, "Original");
    expect([gravity(session), view.active]).toEqual(["2.4", "cellar.original"]);
    expect(said(view)).toContain("2.4 °P is kept.");
  }
  {
    const session = smallBook();
    const view = await inLog(session, typed);
    await press(view, "Cellar");
    const went = vi.fn();
    view.addEventListener("gyle-go", ({ detail }) => went(detail.name, gravity(session)));
    await press(view, "Mash");
    expect(went.mock.calls).toEqual([["mash", "2.4"]]);
  }
});

test("the row that a reading begins is gone on with when it is pressed as the new one", async () => {
  const session = smallBook();
  const view = await inLog(session);
  view.spot = { row: 3, column: 0 };
  await drawn(view);
  await key(view, "now");
  await press(view, "new row");
  expect([session.table("cellar.readings")?.rowCount, view.spot]).toEqual([4, { row: 3, column: 1 }]);
});

test("what is typed is kept when the page leads elsewhere, or takes the view away", async () => {
  for (const leave of [
    (view: { here: string }) => Object.assign(view, { here: "mash" }),
    (view: Element) => view.remove(),
  ]) {
    const session = smallBook();
    const view = await inLog(session, ["2", "Point", "4"]);
    leave(view);
    await drawn(view);
    expect(gravity(session)).toBe("2.4");
  }
});

test("what may be two things, or is no reading, holds the view at it and says so", async () => {
  for (const [typed, says] of [
    [["1", "Point", "0", "4", "5"], "Not kept yet: say which is meant, or erase it."],
    [["Minus"], "Not kept yet: mend it, or erase it."],
  ] as const)
    for (const way of ["Desk", "1 08:15", "Original", "1 line is faulty"]) {
      const session = smallBook();
      const before = session.text();
      const view = await inLog(session, [...typed]);
      const left = vi.fn();
      for (const event of ["gyle-command", "gyle-go"] as const) view.addEventListener(event, left);
      const { draft } = view;
      await press(view, way);
      expect([view.active, view.spot, view.draft]).toEqual(["cellar.readings", { row: 2, column: 1 }, draft]);
      expect(said(view)).toContain(says);
      expect(left).not.toHaveBeenCalled();
      expect(session.text()).toBe(before);
      // Erased, it holds nobody.
      await key(view, ...draft.split("").map(() => "Erase"));
      await press(view, "Desk");
      expect(left).toHaveBeenCalledOnce();
    }
});

test("what the page takes away before it is understood, and what undo clears, is said not to be kept", async () => {
  const session = smallBook();
  const view = await inLog(session, ["1", "Point", "0", "4", "5"]);
  view.here = "mash";
  await drawn(view);
  expect(said(view)).toBe('"1.045" is not kept.');
  await key(view, "6", "6");
  inside(view, ".keep").click();
  await drawn(view);
  await key(view, "5");
  inside(view, '[aria-label^="Undo"]').click();
  await drawn(view);
  expect(said(view)).toBe('Undone: Rest measured 66 °C. "5" is not kept.');
});

const CARE = SMALL_BOOK.replace(
  'bad "Total" = strike_water + grain',
  "heat = heat_to_warm(100 kg, 20 °C, 70 °C)\nsugar = priming_sugar(gone, 2.4 vol",
).replace("worse = bad * 2\n", "");

test("what is dangerous about a sheet stands in its brewing view, opens, and covers neither field nor button", async () => {
  for (const [width, height] of [
    [360, 740],
    [390, 844],
    [1280, 800],
  ] as const)
    for (const text of [CARE, CARE.replace("sugar = priming_sugar(gone, 2.4 vol", "sugar = 1 g")]) {
      await page.viewport(width, height);
      const view = await mount("gyle-brewing-view", { session: createSession(text), here: "mash" });
      await drawn(view);
      const care = inside(view, ".care");
      expect(care.textContent).toContain("steam scald");
      expect(care.textContent?.includes("burst above their rating")).toBe(text === CARE);
      const seen = (selector: string): boolean => {
        const { left, right, top, bottom } = inside(view, selector).getBoundingClientRect();
        return inside(view, selector).contains(
          view.shadowRoot?.elementFromPoint((left + right) / 2, (top + bottom) / 2) ?? null,
        );
      };
      expect([".care", ".shown input", ".next"].map(seen)).toEqual([true, true, true]);
      expect(care.getBoundingClientRect().height).toBeGreaterThanOrEqual(72);
      expect(care.getBoundingClientRect().height).toBeLessThan(90);
      expect(await barriers(view)).toEqual([]);
      const place = inside(view, ".next").getBoundingClientRect();
      care.click();
      await drawn(view);
      const all = inside(view, ".care .clamped");
      expect(care.ariaExpanded).toBe("true");
      expect(all.scrollHeight).toBeLessThanOrEqual(all.clientHeight);
      expect(inside(view, ".next").getBoundingClientRect()).toEqual(place);
      // The next press brings back what it lies over, and keeps nothing unseen.
      inside(view, ".next").click();
      await drawn(view);
      expect([view.active, care.ariaExpanded]).toEqual(["mash.rest_measured", "false"]);
      view.here = "cellar";
      await drawn(view);
      expect(view.shadowRoot?.querySelector(".care")).toBeNull();
      view.remove();
    }
});

test("on a phone, with a fault, a question leaves field, choices and Keep in view", async () => {
  for (const [width, height] of [
    [360, 740],
    [390, 844],
  ] as const) {
    await page.viewport(width, height);
    const view = await inLog(smallBook(), ["1", "Point", "0", "4", "5"]);
    await drawn(view);
    expect(inside(view, ".banner").textContent).toContain("1 line is faulty");
    const whole = (selector: string): boolean => {
      const { left, right, top, bottom } = inside(view, selector).getBoundingClientRect();
      const dock = inside(view, ".hand").getBoundingClientRect();
      const found = [top + 2, bottom - 2].every((y) =>
        inside(view, selector).contains(view.shadowRoot?.elementFromPoint((left + right) / 2, y) ?? null),
      );
      return found && top >= dock.top && bottom <= height;
    };
    for (const selector of [
      ".field .shown",
      ".keep",
      ".choices button",
      ".choices button + button",
      "gyle-keypad",
      ".next",
    ])
      expect([selector, whole(selector)]).toEqual([selector, true]);
    view.remove();
  }
});

test("the band of a fault takes two lines on a phone, and all of it once it is pressed", async () => {
  await page.viewport(390, 844);
  const view = await mount("gyle-brewing-view", {
    session: createSession(
      SMALL_BOOK.replace("strike_water + grain", "strike_water + grain * alcohol_of_nothing_that_there_is(4)"),
    ),
    here: "mash",
  });
  await drawn(view);
  const height = (): number => inside(view, ".banner").getBoundingClientRect().height;
  expect(height()).toBe(72);
  inside(view, ".banner").click();
  await drawn(view);
  const words = inside(view, ".banner .clamped");
  expect(words.scrollHeight).toBeLessThanOrEqual(words.clientHeight);
  expect(height()).toBeGreaterThan(72);
});
