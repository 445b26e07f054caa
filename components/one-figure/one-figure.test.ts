import { expect, test } from "vitest";
import { page } from "vitest/browser";
import { barriers, drawn, inside, mount, smallBook } from "../../tests/support/mount.ts";
import "./one-figure.ts";

const set = async (dialog: Element, id: string, typed: string): Promise<void> => {
  const field = inside<HTMLInputElement>(dialog, id);
  field.value = typed;
  field.dispatchEvent(new InputEvent("input"));
  await drawn(dialog);
};

test("meets no barrier, in the list and at a figure", async () => {
  const dialog = await mount("gyle-one-figure", { session: smallBook(), sheet: "mash" });
  expect(await barriers(dialog)).toEqual([]);
  await set(dialog, ".search input", "strike");
  inside(dialog, "li button").click();
  await drawn(dialog);
  expect(await barriers(dialog)).toEqual([]);
});

test("a figure is found by a word of the trade, worked out from plain figures, and kept as a line", async () => {
  const session = smallBook();
  const dialog = await mount("gyle-one-figure", { session, sheet: "mash" });
  await set(dialog, ".search input", "alcohol by volume");
  inside(dialog, "li button").click();
  await drawn(dialog);
  const wanted = [...(dialog.shadowRoot?.querySelectorAll<HTMLInputElement>(".reading input") ?? [])].slice(0, 2);
  expect(wanted.every(({ placeholder }) => placeholder === "")).toBe(true);
  await set(dialog, `#${wanted[0]?.id}`, "12");
  expect(inside(dialog, "output").textContent).toContain("Still wanted");
  await set(dialog, `#${wanted[1]?.id}`, "2,5");
  expect(inside(dialog, "output").textContent).toContain("% vol");
  const buttons = [...(dialog.shadowRoot?.querySelectorAll<HTMLButtonElement>("footer button") ?? [])];
  buttons[0]?.click();
  expect(session.cell("mash.alcohol_by_volume")?.state).toBe("ready");
});

test("a figure that may be two things is asked before anything is worked out", async () => {
  const dialog = await mount("gyle-one-figure", { session: smallBook(), sheet: "mash" });
  await set(dialog, ".search input", "alcohol by volume");
  inside(dialog, "li button").click();
  await drawn(dialog);
  const [first, second] = [...(dialog.shadowRoot?.querySelectorAll<HTMLInputElement>(".reading input") ?? [])];
  await set(dialog, `#${first?.id}`, "48");
  await set(dialog, `#${second?.id}`, "2,5");
  expect(inside(dialog, "output").textContent).toContain("Say first which figure is meant.");
  const reads = inside(dialog, `#${first?.id}-reads`);
  expect([...reads.querySelectorAll("button")].map(({ textContent }) => textContent)).toEqual([
    "1.048 SG (11.91 °P)",
    "48 °P",
  ]);
  expect(await barriers(dialog)).toEqual([]);
  reads.querySelector("button")?.click();
  await drawn(dialog);
  expect(first?.value).toBe("1.048 SG");
  expect(inside(dialog, "output").textContent).toContain("% vol");
});

test("what is no figure is told at its field while other figures are still wanted", async () => {
  const dialog = await mount("gyle-one-figure", { session: smallBook(), sheet: "mash" });
  await set(dialog, ".search input", "alcohol by volume");
  inside(dialog, "li button").click();
  await drawn(dialog);
  const [first] = [...(dialog.shadowRoot?.querySelectorAll<HTMLInputElement>(".reading input") ?? [])];
  await set(dialog, `#${first?.id}`, "abc");
  expect(inside(dialog, `#${first?.id}-reads`).textContent).toContain('"abc" is no figure. This takes a gravity');
  await set(dialog, `#${first?.id}`, "12");
  expect(inside(dialog, `#${first?.id}-reads`).hidden).toBe(true);
});

test("a sentence that names another function leads to it, and what was typed is found again", async () => {
  const dialog = await mount("gyle-one-figure", { session: smallBook(), sheet: "mash" });
  const heading = (): string => inside(dialog, "#heading").textContent ?? "";
  await set(dialog, ".search input", "priming");
  const [priming] = [...(dialog.shadowRoot?.querySelectorAll<HTMLElement>("li button") ?? [])].filter((each) =>
    each.querySelector("b")?.textContent?.startsWith("Priming sugar"),
  );
  priming?.click();
  await drawn(dialog);
  const first = heading();
  await set(dialog, ".reading input", "1000");
  const [way] = [...(dialog.shadowRoot?.querySelectorAll<HTMLElement>("button.link") ?? [])].filter(
    ({ textContent }) => textContent === "Residual carbonation",
  );
  way?.click();
  await drawn(dialog);
  expect(heading()).toBe("Residual carbonation");
  expect(await barriers(dialog)).toEqual([]);
  inside(dialog, '[aria-label="Back to the list"]').click();
  await drawn(dialog);
  [...(dialog.shadowRoot?.querySelectorAll<HTMLElement>("li button") ?? [])]
    .find((each) => each.querySelector("b")?.textContent === first)
    ?.click();
  await drawn(dialog);
  expect(inside<HTMLInputElement>(dialog, ".reading input").value).toBe("1000");
});

test("what is dangerous stands beside the figure, in view wherever the readings are scrolled to", async () => {
  for (const [width, height] of [
    [1280, 800],
    [390, 844],
  ] as const) {
    await page.viewport(width, height);
    const dialog = await mount("gyle-one-figure", { session: smallBook(), sheet: "mash" });
    await set(dialog, ".search input", "priming sugar");
    inside(dialog, "li button").click();
    await drawn(dialog);
    const inView = (selector: string): boolean => {
      const { left, top, right, bottom } = inside(dialog, selector).getBoundingClientRect();
      const seen = (x: number, y: number) =>
        inside(dialog, selector).contains(dialog.shadowRoot?.elementFromPoint(x, y) ?? null);
      return seen(left + 1, top + 1) && seen((left + right) / 2, bottom - 4) && bottom <= height;
    };
    expect(inside(dialog, ".caution").textContent).toContain("burst above their rating");
    for (const to of [0, 10_000]) {
      inside(dialog, ".body").scrollTo(0, to);
      expect([inView(".caution"), inView("output")]).toEqual([true, true]);
    }
    dialog.remove();
  }
});
