import type { Page } from "playwright";
import { expect } from "vitest";
import { test } from "../support/page.ts";

/** The line whose field or label is called so. */
const line = (page: Page, label: string) =>
  page
    .locator("gyle-entry, gyle-result")
    .filter({ has: page.locator(".label", { hasText: new RegExp(`^\\s*${label}\\s*$`) }) });
const field = (page: Page, label: string) => line(page, label).locator("#field");
const figure = (page: Page, label: string) => line(page, label).locator("output");
const goToSheet = (page: Page, name: string) => page.locator("gyle-path").getByRole("button", { name }).click();
const undo = (page: Page) => page.locator("gyle-head").getByRole("button", { name: /^Undo/ }).click();
const menu = async (page: Page, of: string, item: string): Promise<void> => {
  await page.getByRole("button", { name: `What can be done with ${of}`, exact: true }).click();
  await page.getByRole("menuitem", { name: item }).click();
};
const text = (page: Page): Promise<string> =>
  page.locator("gyle-workbook").evaluate((book) => (book as HTMLElementTagNameMap["gyle-workbook"]).text);

test("the sample brew day opens worked out, with no fault, and four ways on", async ({ page }) => {
  await page.getByRole("heading", { name: "Our plant" }).waitFor();
  expect(await page.locator("gyle-head .faults").textContent()).toContain("0");
  for (const way of ["Work out one figure", "Brew this sample day", "Set up our plant", "Open a book"])
    expect(await page.getByRole("button", { name: way }).isVisible()).toBe(true);
});

test("a figure is changed in place, what hangs on it follows, undo brings it back, and it survives a reload", async ({
  page,
}) => {
  await goToSheet(page, "Mash and run-off");
  const before = await figure(page, "Heat strike water to").textContent();
  await field(page, "Rest wanted").fill("68");
  await expect.poll(() => line(page, "Rest wanted").locator(".echo").textContent()).toContain("68 °C");
  await field(page, "Rest wanted").press("Enter");
  await expect.poll(() => figure(page, "Heat strike water to").textContent()).not.toBe(before);
  await undo(page);
  await expect.poll(() => figure(page, "Heat strike water to").textContent()).toBe(before);
  await field(page, "Rest wanted").fill("152F");
  await field(page, "Rest wanted").press("Enter");
  await expect.poll(() => page.locator("gyle-head .kept").textContent()).toContain("Kept on this device");
  await page.reload();
  await goToSheet(page, "Mash and run-off");
  await expect.poll(() => field(page, "Rest wanted").inputValue()).toBe("152");
  expect(await line(page, "Rest wanted").locator(".unit").textContent()).toBe("°F");
});

test("a new gyle has blanks, what waits for them says so and leads there, and turns ready when they are filled", async ({
  page,
}) => {
  await page.getByRole("button", { name: "More", exact: true }).click();
  await page.getByRole("menuitem", { name: "New gyle from this one" }).click();
  await page.getByRole("button", { name: "Begin the new gyle" }).click();
  await expect.poll(() => page.locator("gyle-head .title input").inputValue()).toBe("Amber ale, batch 215");
  await goToSheet(page, "Mash and run-off");
  const missed = line(page, "Off the mark by");
  await missed.getByText("waits for").waitFor();
  await missed.getByRole("button", { name: "Rest measured" }).click();
  await expect.poll(() => page.evaluate(() => document.activeElement?.localName)).toBe("gyle-workbook");
  await page.keyboard.type("66,7");
  await page.keyboard.press("Enter");
  await expect.poll(() => figure(page, "Off the mark by").textContent()).toBe("0.2");
});

test("a mistyped unit is told in words and mended with one press", async ({ page }) => {
  await goToSheet(page, "Mash and run-off");
  const editor = page.locator("gyle-formula-editor .cm-content");
  await menu(page, "Liquor to malt", "Change the formula");
  await editor.press("ControlOrMeta+a");
  await editor.press("Backspace");
  await page.keyboard.insertText("strike_water / (6 gal)");
  await page.keyboard.press("Enter");
  const ratio = line(page, "Liquor to malt");
  await ratio.getByText("3.785 L in the US").waitFor();
  await ratio.getByRole("button", { name: "Write US gal" }).click();
  await expect.poll(() => figure(page, "Liquor to malt").textContent()).toMatch(/^25\.7/);
  expect(await text(page)).toContain('mash_ratio "Liquor to malt" = strike_water / (6 US gal)');
});

test("a line, a table and a plot are added from the keyboard and the menus", async ({ page }) => {
  await goToSheet(page, "Knock-out and yields");
  await page.keyboard.press("Alt+n");
  await page.getByRole("textbox", { name: "What it is called" }).fill("Half of it");
  await page.getByRole("textbox", { name: "What it holds" }).fill("fermenter_volume / 2");
  await page.getByRole("textbox", { name: "What it holds" }).press("Enter");
  await expect.poll(() => figure(page, "Half of it").textContent()).toMatch(/^50/);
  await page.getByRole("button", { name: "Add to this sheet" }).click();
  await page.getByRole("menuitem", { name: "A table" }).click();
  await page.getByRole("textbox", { name: "What it is called" }).fill("Cooling");
  await page.getByRole("textbox", { name: "Columns, one a line" }).fill("Taken : instant\nWort : °C");
  await page.getByRole("button", { name: "Add the table" }).click();
  const table = page.locator("gyle-table").filter({ hasText: "Cooling" });
  await table.getByRole("button", { name: "Add a row" }).click();
  await page.keyboard.type("2026-03-02 12:00");
  await page.keyboard.press("Tab");
  await page.keyboard.type("60.5");
  await page.keyboard.press("Enter");
  await expect.poll(() => text(page)).toContain("2026-03-02T12:00, 60.5");
  await page.getByRole("button", { name: "Add to this sheet" }).click();
  await page.getByRole("menuitem", { name: "A plot" }).click();
  await page.getByRole("textbox", { name: "What it is called" }).fill("Cooling curve");
  await page.getByRole("checkbox", { name: "Wort" }).check();
  await page.getByRole("button", { name: "Add the plot" }).click();
  await page.locator("gyle-plot canvas").first().waitFor();
});

test("the lens changes what is shown and never the file", async ({ page }) => {
  await goToSheet(page, "Mash and run-off");
  const before = await text(page);
  await page.getByLabel("Units").selectOption("metric");
  await expect.poll(() => line(page, "Heat strike water to").locator(".unit").textContent()).toBe("°C");
  expect(await text(page)).toBe(before);
});

test("the book is saved as a file, and opens from it again", async ({ page }) => {
  await page.locator("gyle-head .title input").fill("Saved ale");
  await page.locator("gyle-head .title input").press("Enter");
  const [saved] = await Promise.all([page.waitForEvent("download"), page.keyboard.press("ControlOrMeta+s")]);
  expect(saved.suggestedFilename()).toBe("Saved ale.gyle");
  const path = await saved.path();
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.keyboard
      .press("ControlOrMeta+o")
      .then(() => page.getByRole("dialog").getByRole("button", { name: "Open", exact: true }).click()),
  ]);
  await chooser.setFiles(path);
  await expect.poll(() => page.locator("gyle-slip p").textContent()).toContain("is open");
  expect(await page.locator("gyle-head .title input").inputValue()).toBe("Saved ale");
});

test("a link carries the whole book to another device", async ({ page, device }) => {
  await goToSheet(page, "Mash and run-off");
  await field(page, "Strike water").fill("600 L");
  await field(page, "Strike water").press("Enter");
  await page.locator("gyle-head").getByRole("button", { name: "Share" }).click();
  const url = await page.getByRole("textbox", { name: "Link" }).inputValue();
  const other = await (await device()).open(url.slice(url.indexOf("#")));
  await goToSheet(other, "Mash and run-off");
  await expect.poll(() => field(other, "Strike water").inputValue()).toBe("600");
  // The link stays in the address until its book is kept on the device: a reload before that loses nothing.
  await other.reload();
  await goToSheet(other, "Mash and run-off");
  await expect.poll(() => field(other, "Strike water").inputValue()).toBe("600");
});

test("a damaged link is told in words, and the sample opens", async ({ device }) => {
  const page = await (await device()).open("#book.1.AAAAxyz");
  await expect.poll(() => page.locator("gyle-slip p").textContent()).toContain("damaged");
  await page.getByRole("heading", { name: "Our plant" }).waitFor();
});

test("one figure is worked out with no formula read or written", async ({ page }) => {
  await page.getByRole("button", { name: "Work out one figure" }).click();
  await page.getByLabel("What do you want to know?").fill("priming");
  await page.getByRole("button", { name: /^Priming sugar/ }).click();
  const fields = page.locator("gyle-one-figure .reading input");
  for (let at = 0; at < (await fields.count()); at += 1) {
    const each = fields.nth(at);
    if ((await each.getAttribute("placeholder")) !== "") continue;
    const unit = await each.locator("xpath=following-sibling::span[1]").textContent();
    await each.fill(unit === "°C" ? "20" : unit === "L" ? "1000" : "2.5");
  }
  await expect.poll(() => page.locator("gyle-one-figure output").textContent()).toMatch(/\d.*k?g/);
});

test("text in labels and notes that looks like a page is shown as text", async ({ page }) => {
  await goToSheet(page, "Mash and run-off");
  await menu(page, "Strike water", "Change the label");
  await page.getByRole("textbox", { name: "What the screen calls it" }).fill("<img src=x onerror=alert(1)>");
  await page.getByRole("button", { name: "Change it" }).click();
  await page.getByText("<img src=x onerror=alert(1)>").first().waitFor();
  expect(await page.locator("gyle-sheet img").count()).toBe(0);
});

test("a binary file that is dropped is refused in a sentence, and the book stays", async ({ page }) => {
  await page.getByRole("heading", { name: "Our plant" }).waitFor();
  const before = await text(page);
  await page.evaluate(() => {
    const data = new DataTransfer();
    data.items.add(new File([new Uint8Array([0, 255, 254, 1, 200])], "photo.gyle"));
    window.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
  });
  await expect.poll(() => page.locator("gyle-slip p").textContent()).toContain("photo.gyle");
  expect(await text(page)).toBe(before);
});
