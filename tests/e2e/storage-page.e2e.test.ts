import type { Page } from "playwright";
import { describe, expect } from "vitest";
import { test } from "../support/page.ts";

/** The first field of the book that the page opens with. */
const altitude = (page: Page) => page.getByRole("textbox", { name: "Altitude of the brewery", exact: true });

const ready = (page: Page): Promise<void> => altitude(page).waitFor();

/** Types an altitude as a person would, and waits until the page says that it is kept. */
const typeAltitude = async (page: Page, figure: string): Promise<void> => {
  await altitude(page).fill(figure);
  await altitude(page).press("Enter");
  await page.getByText("Kept on this device.").first().waitFor({ state: "attached" });
};

describe("what is typed on the page", () => {
  test("is there after the page is loaded anew, with and without a network", async ({ device }) => {
    const { open, context } = await device();
    const page = await open();
    await ready(page);
    await typeAltitude(page, "321");
    await page.reload();
    await expect.poll(() => altitude(page).inputValue()).toBe("321");
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await context.setOffline(true);
    await page.reload();
    await expect.poll(() => altitude(page).inputValue()).toBe("321");
    await typeAltitude(page, "322");
    await page.close();
    const other = await open();
    await expect.poll(() => altitude(other).inputValue()).toBe("322");
  });

  test("is not lost when a second tab opens the same book", async ({ device }) => {
    const { open } = await device();
    const first = await open();
    await ready(first);
    await typeAltitude(first, "321");
    const second = await open();
    await second.getByRole("heading", { name: "Open in another tab" }).waitFor();
    await second.getByRole("button", { name: "Go on", exact: true }).click();
    await expect.poll(() => altitude(second).inputValue()).toBe("321");
    await first.getByText("Another tab has taken this book over").first().waitFor({ state: "attached" });
    await typeAltitude(second, "333");
    await altitude(first).fill("444");
    await altitude(first).press("Enter");
    await first.getByText("as a copy of its own").first().waitFor({ state: "attached" });
    expect(await altitude(second).inputValue()).toBe("333");
    expect(await altitude(first).inputValue()).toBe("444");
    await second.keyboard.press("Control+o");
    const books = second.getByRole("option", { name: /^On this device/ });
    await expect
      .poll(async () => (await books.allTextContents()).map((name) => name.trim()).sort())
      .toEqual(["On this device: Amber ale, batch 214", "On this device: Amber ale, batch 214 (copy)"]);
  });

  test("goes into a file, and comes back from it", async ({ device }) => {
    const { open } = await device();
    const page = await open();
    await ready(page);
    await typeAltitude(page, "321");
    const download = page.waitForEvent("download");
    await page.keyboard.press("Control+s");
    const path = await (await download).path();
    expect((await download).suggestedFilename()).toBe("Amber ale, batch 214.gyle");
    await typeAltitude(page, "9");
    const chooser = page.waitForEvent("filechooser");
    await page.keyboard.press("Control+o");
    await page.getByRole("dialog").getByRole("button", { name: "Open", exact: true }).click();
    await (await chooser).setFiles(path);
    await expect.poll(() => altitude(page).inputValue()).toBe("321");
  });
});

describe("a link", () => {
  test("that is broken is told of, and the page opens as it would without", async ({ device }) => {
    const { open } = await device();
    const page = await open("#book.1.AAAA");
    await page.getByText("This link is damaged").first().waitFor({ state: "attached" });
    await ready(page);
  });
});
