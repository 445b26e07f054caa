import type { Page } from "playwright";
import { describe, expect } from "vitest";
import { test } from "../support/page.ts";

const SIZES = [
  { width: 360, height: 740 },
  { width: 390, height: 844 },
  { width: 1280, height: 800 },
] as const;

const next = (page: Page) => page.getByRole("button", { name: "Next reading" });
const keys = async (page: Page, ...names: string[]): Promise<void> => {
  for (const name of names) await page.getByRole("button", { name, exact: true }).click();
};
const said = (page: Page) => page.locator("gyle-brewing-view .said");

/** A new gyle from the sample, in the view for wet hands. */
const brewing = async (page: Page): Promise<void> => {
  await page.getByRole("heading", { name: "Our plant" }).waitFor();
  await page.getByRole("button", { name: "More", exact: true }).click();
  await page.getByRole("menuitem", { name: "New gyle from this one" }).click();
  await page.getByRole("button", { name: "Begin the new gyle" }).click();
  await page.getByText("A new gyle is begun.").waitFor();
  await page.getByRole("button", { name: "Brewing view" }).click();
  await next(page).waitFor();
};

for (const viewport of SIZES)
  describe(`the brewing view at ${viewport.width} × ${viewport.height}`, () => {
    test("begins with the first reading and leads from one to the next by one button that nothing covers", async ({
      device,
    }) => {
      const page = await (await device({ viewport })).open();
      await brewing(page);
      // What was said of the new gyle still stands there, and not over the button.
      await page.getByText("A new gyle is begun.").waitFor();
      const place = await next(page).boundingBox();
      const top = await next(page).evaluate((button) => {
        const { x, y, width, height } = button.getBoundingClientRect();
        const at = (share: number): boolean =>
          document
            .elementsFromPoint(x + width * share, y + height / 2)
            .some((each) => each.localName === "gyle-slip") === false;
        const slip = document.querySelector("gyle-workbook")?.shadowRoot?.querySelector("gyle-slip");
        const paper = slip?.shadowRoot?.querySelector(".slip")?.getBoundingClientRect();
        return at(0.05) && at(0.5) && at(0.95) && paper !== undefined && (paper.bottom <= y || paper.right <= x);
      });
      expect(top).toBe(true);
      expect(await page.getByLabel("Batch date").isVisible()).toBe(true);
      // The whole pad is in view.
      const hand = page.locator("gyle-brewing-view .hand");
      expect(await hand.evaluate(({ scrollHeight, clientHeight }) => scrollHeight - clientHeight)).toBe(0);
      // So are its keys, however narrow: 72 px and 16 px between them.
      const [first, second] = await page
        .locator("gyle-keypad button")
        .evaluateAll((all) =>
          all.map((each) => each.getBoundingClientRect().toJSON() as { left: number; right: number; height: number }),
        );
      expect((first?.right ?? 0) - (first?.left ?? 0)).toBeGreaterThanOrEqual(72);
      expect((second?.left ?? 0) - (first?.right ?? 0)).toBeGreaterThanOrEqual(16);
      await keys(page, "today");
      await next(page).click();
      await expect.poll(() => said(page).textContent()).toContain("press once more");
      await next(page).click();
      await page.getByLabel("Malt temperature").waitFor();
      await keys(page, "5", "9");
      await next(page).click();
      await page.getByLabel("Tun temperature").waitFor();
      // Out of the ordinary it is kept, and told in sentences.
      await keys(page, "2", "0", "0");
      await page.getByRole("button", { name: "Keep", exact: true }).click();
      await expect
        .poll(() => said(page).textContent())
        .toBe("Tun temperature: 200 °C is kept. 200 °C is outside 10 °C to 80 °C.");
      await page.getByRole("button", { name: "Undo Tun temperature 200 °C", exact: true }).click();
      await keys(page, "5", "5");
      await next(page).click();
      await page.getByLabel("Mashed in").waitFor();
      await keys(page, "now");
      await next(page).click();
      await page.getByLabel("Rest measured").waitFor();
      // The button never moved.
      expect(await next(page).boundingBox()).toEqual(place);
      // Another sheet: nothing that was said of this one stands there.
      await page.locator("gyle-brewing-view .sheets").click();
      await page.getByRole("button", { name: /^Boil and hops/ }).click();
      await page.getByLabel("Dip, kettle full").waitFor();
      expect((await said(page).textContent())?.trim()).toBe("");
      // The stick is marked in inches and eighths.
      await keys(page, "3", "6", "Space", "1", "Fraction stroke", "8");
      await expect.poll(() => said(page).textContent()).toBe("reads 36.125 inch");
      expect(await hand.evaluate(({ scrollHeight, clientHeight }) => scrollHeight - clientHeight)).toBe(0);
      expect(await next(page).boundingBox()).toEqual(place);
    });

    test("takes a row into the log of the run-off with the keypad", async ({ device }) => {
      const page = await (await device({ viewport })).open();
      await brewing(page);
      await page.locator("gyle-brewing-view .sheets").click();
      await page.getByRole("button", { name: /^Mash and run-off/ }).click();
      await page.getByRole("button", { name: "Run-off 0 rows" }).click();
      await page.getByLabel("Run-off, row 1: Time").waitFor();
      await keys(page, "now");
      await next(page).click();
      await page.getByLabel("Run-off, row 1: Kettle dip").waitFor();
      await keys(page, "6", "Point", "5");
      await next(page).click();
      await page.getByLabel("Run-off, row 1: Runnings").waitFor();
      await keys(page, "1", "0", "7", "5");
      await expect.poll(() => said(page).textContent()).toContain("1.075 SG");
      await next(page).click();
      await page.getByLabel("Run-off, row 2: Time").waitFor();
      await page.getByRole("button", { name: /^1 \d\d:\d\d · 6\.5 inch · 1\.075 SG$/ }).waitFor();
      await page.getByRole("button", { name: "Desk" }).click();
      await page.locator("gyle-table").filter({ hasText: "1.075 SG" }).getByText("1.075 SG").waitFor();
    });
  });
