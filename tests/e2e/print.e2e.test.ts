import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";
import type { Page } from "playwright";
import { describe, expect } from "vitest";
import { SHIPPED_BOOKS } from "../../components/app/books.ts";
import { type Device, test } from "../support/page.ts";

const FORMATS = ["A4", "Letter"] as const;

/** The most pages that a shipped book may come to. */
const MOST_PAGES = 3;

/** Figures and labels of each book that must be legible on its paper: as a reader would look for them. */
const TOLD: Readonly<Record<string, readonly string[]>> = {
  "brew-day": ["Heat strike water to", "2026-03-02 06:40", "Pale ale malt", "Fill in where a rule is whole", "SG"],
  water: ["Residual alkalinity", "Calcium chloride dihydrate", "6 oz", "mg/L CaCO3"],
  yeast: ["Living cells needed", "0.85", "Mcells/mL", "20 lb 12 oz"],
  "cellar-log": ["… and 664 more rows; the whole table is in the book.", "diacetyl gone", "Real extract", "4.71"],
  packaging: ["Set the head pressure to", "10.2", "Empty bottles with crowns", "12.45 oz"],
  "batch-account": ["Good packages", "926.3", "Yeast cropped"],
  vessels: ["Dip stick, centimetres", "112.5", "Liquor temperature"],
  cleaning: ["Lye to measure", "3.20", "Peracetic acid wanted"],
};

/** The text of each page of a PDF, blanks between its pieces. */
const pagesOf = async (pdf: Uint8Array): Promise<string[]> => {
  const document = await getDocument({ data: new Uint8Array(pdf), verbosity: 0 }).promise;
  const pages: string[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const { items } = await (await document.getPage(number)).getTextContent();
    pages.push(items.map((item) => ("str" in item ? item.str : "")).join(" "));
  }
  await document.destroy();
  return pages.map((text) => text.replace(/\s+/g, " "));
};

/** A page in which `print()` leaves the paper standing, as a printer's dialog does, until a PDF is made of it. */
const opened = async ({ open, context }: Device, book: string): Promise<Page> => {
  await context.addInitScript(() => {
    window.print = () => document.documentElement.setAttribute("data-printing", "");
  });
  const page = await open(`#${book}`);
  await page.getByRole("main").getByRole("heading").first().waitFor();
  return page;
};

const printed = async (page: Page, format: (typeof FORMATS)[number]): Promise<string[]> => {
  await page.locator("[data-printing]").waitFor();
  const pages = await pagesOf(await page.pdf({ format }));
  await page.evaluate(() => document.documentElement.removeAttribute("data-printing"));
  return pages;
};

describe("every shipped book is printed whole", () => {
  for (const { name } of SHIPPED_BOOKS)
    test(`${name}, on A4 and on Letter`, async ({ device }) => {
      const page = await opened(await device(), name);
      for (const format of FORMATS) {
        await page.getByRole("button", { name: "What can be done with this sheet" }).click();
        await page.getByRole("menuitem", { name: "Print every sheet" }).click();
        const pages = await printed(page, format);
        expect(pages.length, format).toBeLessThanOrEqual(MOST_PAGES);
        for (const [at, text] of pages.entries()) expect(text).toContain(`${at + 1} / ${pages.length}`);
        for (const told of TOLD[name] ?? []) expect(pages.join(" ")).toContain(told);
      }
    });
});

test("a brew day that is emptied for the next gyle is printed to fill in by hand, on as few pages", async ({
  device,
}) => {
  const page = await opened(await device(), "brew-day");
  await page.getByRole("button", { name: "More", exact: true }).click();
  await page.getByRole("menuitem", { name: "New gyle from this one" }).click();
  await page.getByRole("button", { name: "Begin the new gyle" }).click();
  await page.getByText("A new gyle is begun.").waitFor();
  await page.locator("gyle-path").getByRole("button", { name: "Mash and run-off" }).click();
  for (const format of FORMATS) {
    await page.getByRole("button", { name: "What can be done with this sheet" }).click();
    await page.getByRole("menuitem", { name: "Print every sheet" }).click();
    const pages = await printed(page, format);
    expect(pages.length, format).toBeLessThanOrEqual(MOST_PAGES);
    for (const told of [
      "Fill in where a rule is whole",
      "Rest measured",
      "within 65 to 68",
      "Kettle dip",
      "Wet grains, weighed",
    ])
      expect(pages.join(" ")).toContain(told);
  }
});

test("the browser's own menu prints the same paper as the page's", async ({ device }) => {
  const page = await opened(await device(), "brew-day");
  await page.keyboard.press("Control+p");
  const asked = await printed(page, "A4");
  expect(asked.join(" ")).toContain("Our plant");
  // The paper was taken away after that print.
  await expect.poll(() => page.locator("gyle-paper").count()).toBe(0);
  // What the menu prints is loaded once the page has come to rest.
  await expect.poll(async () => pagesOf(await page.pdf({ format: "A4" })), { timeout: 30_000 }).toEqual(asked);
  expect(await page.locator("gyle-paper").count()).toBe(0);
});
