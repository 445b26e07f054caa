import AxeBuilder from "@axe-core/playwright";
import type { Page } from "playwright";
import { expect } from "vitest";
import { SHIPPED_BOOKS } from "../../components/app/books.ts";
import { test } from "../support/page.ts";

const LOOKS = [
  { width: 1280, height: 800, colorScheme: "light" },
  { width: 1280, height: 800, colorScheme: "dark" },
  { width: 390, height: 844, colorScheme: "light" },
  { width: 390, height: 844, colorScheme: "dark" },
] as const;

/** The front page, then sheets with entries and results, a table, tables and plots. */
const SHEETS = ["", "malt", "mash"];

const barriers = async (page: Page): Promise<string[]> => {
  const { violations } = await new AxeBuilder({ page }).analyze();
  return violations.flatMap(({ id, help, nodes }) =>
    nodes.map(({ target }) => `${id}: ${help} at ${target.flat().join(" ")}`),
  );
};

const goTo = async (page: Page, name: string): Promise<void> => {
  await page
    .locator("gyle-workbook")
    .evaluate((book, to) => (book as HTMLElementTagNameMap["gyle-workbook"]).goTo(to), name);
  await page.locator("gyle-sheet, gyle-front").first().waitFor();
};

/** Parts of the page that stand out of the window sideways, apart from what scrolls by itself. */
const wide = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

test.for(LOOKS)(
  "no view meets a barrier at $width × $height, $colorScheme",
  { timeout: 240_000 },
  async ({ width, height, colorScheme }, { device }) => {
    const { open } = await device({ viewport: { width, height }, colorScheme, reducedMotion: "reduce" });
    const page = await open("#brew-day");
    await page.getByRole("heading", { name: "Our plant" }).waitFor();
    for (const sheet of SHEETS) {
      await goTo(page, sheet);
      expect(await barriers(page), sheet || "front page").toEqual([]);
    }
    await page.getByRole("button", { name: "Brewing view" }).click();
    await page.locator("gyle-keypad").waitFor();
    expect(await barriers(page), "brewing view").toEqual([]);
  },
);

test.for([
  { width: 360, height: 640 },
  // 1280 pixels at 200 % zoom.
  { width: 640, height: 400 },
])("nothing stands out of a window $width wide", async (viewport, { device }) => {
  const page = await (await device({ viewport })).open("#brew-day");
  for (const sheet of ["", "plant", "malt", "mash", "boil", "cast"]) {
    await goTo(page, sheet);
    expect(await wide(page), sheet || "front page").toBeLessThanOrEqual(0);
  }
  await page.getByRole("button", { name: "Brewing view" }).click();
  await page.locator("gyle-keypad").waitFor();
  expect(await wide(page), "brewing view").toBeLessThanOrEqual(0);
});

test.for(SHIPPED_BOOKS)("every table of the book $name is whole at 1280 pixels", async ({ name }, { device }) => {
  const page = await (await device({ viewport: { width: 1280, height: 800 } })).open(`#${name}`);
  await page.locator("gyle-sheet").waitFor();
  const sheets = await page.locator("gyle-workbook").evaluate((book) => {
    const { workbook } = (book as HTMLElementTagNameMap["gyle-workbook"]).session;
    const tables = (items: readonly { readonly is: string }[]): number =>
      items.filter(({ is }) => is === "table").length;
    return workbook.sheets.map((sheet) => ({ sheet: sheet.name, tables: tables(sheet.pages.flat()) }));
  });
  for (const { sheet, tables } of sheets) {
    await goTo(page, sheet);
    const frames = page.locator("gyle-table .frame");
    await expect.poll(() => frames.count()).toBe(tables);
    await expect.poll(() => page.locator("gyle-table .frame[data-more]").count()).toBe(tables);
    expect(await frames.evaluateAll((all) => all.map((frame) => (frame as HTMLElement).dataset.more))).toEqual(
      Array(tables).fill(""),
    );
  }
});

test("a line of the first sheet and its neighbours can be worked with the keyboard alone", async ({ page }) => {
  await page.getByRole("heading", { name: "Our plant" }).waitFor();
  await page.keyboard.press("Alt+PageDown");
  await page.keyboard.press("Alt+PageDown");
  await page.getByRole("heading", { name: "Mash and run-off" }).waitFor();
  const reached = async (): Promise<string> =>
    page.evaluate(() => {
      let active: Element | null = document.activeElement;
      while (active?.shadowRoot?.activeElement) active = active.shadowRoot.activeElement;
      const root = active?.getRootNode();
      return root instanceof ShadowRoot && "name" in root.host ? String(root.host.name) : "";
    });
  for (let presses = 0; presses < 60 && (await reached()) !== "mash.strike_water"; presses += 1)
    await page.keyboard.press("Tab");
  expect(await reached()).toBe("mash.strike_water");
  await page.keyboard.type("600");
  await page.keyboard.press("Enter");
  await page.keyboard.press("ControlOrMeta+z");
  await expect
    .poll(() => page.locator("gyle-entry").filter({ hasText: "Strike water" }).first().locator("#field").inputValue())
    .toBe("585");
});

test("nothing moves while the first sheet comes in", async ({ device }) => {
  const { open, context } = await device({ viewport: { width: 1280, height: 800 } });
  await context.addInitScript(() => {
    const state = window as unknown as { shift: number };
    state.shift = 0;
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) state.shift += (entry as PerformanceEntry & { value: number }).value;
    }).observe({ type: "layout-shift", buffered: true });
  });
  const page = await open("#brew-day");
  await page.locator("gyle-table [role=gridcell]").first().waitFor();
  await page.waitForTimeout(300);
  // Under 0.1 is what the measure's authors call good.
  expect(await page.evaluate(() => (window as unknown as { shift: number }).shift)).toBeLessThan(0.05);
});

test("a sheet prints with its figures, and blanks as ruled lines to fill by hand", async ({ page }) => {
  await page.getByRole("heading", { name: "Our plant" }).waitFor();
  await goTo(page, "mash");
  await page.emulateMedia({ media: "print" });
  expect(await page.locator("gyle-path").isVisible()).toBe(false);
  expect(await page.getByRole("button", { name: "Add to this sheet" }).isVisible()).toBe(false);
  expect(await page.getByText("Heat strike water to").isVisible()).toBe(true);
  for (const format of ["A4", "Letter"]) {
    const pdf = await page.pdf({ format });
    expect(pdf.subarray(0, 5).toString()).toBe("%PDF-");
    expect(pdf.length).toBeGreaterThan(10_000);
  }
});
