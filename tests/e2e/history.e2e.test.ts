import type { Page } from "playwright";
import { expect } from "vitest";
import { makeLink } from "../../components/storage/link.ts";
import { test } from "../support/page.ts";

const heading = (page: Page) => page.getByRole("main").getByRole("heading", { level: 2 }).first();
const sheetIs = async (page: Page, name: string): Promise<void> => {
  await expect.poll(() => heading(page).textContent()).toContain(name);
};
const goToSheet = (page: Page, name: string) => page.locator("gyle-path").getByRole("button", { name }).click();
const field = (page: Page, name: string) => page.getByRole("textbox", { name, exact: true });
const focused = (page: Page): Promise<string | null> =>
  page.evaluate(() => {
    let active = document.activeElement;
    while (active?.shadowRoot?.activeElement) active = active.shadowRoot.activeElement;
    const root = active?.getRootNode();
    return root instanceof ShadowRoot ? ((root.host as Element & { name?: string }).name ?? null) : null;
  });

test("Back and Forward lead along sheets, lines and views, and do not leave the page", async ({ page }) => {
  await sheetIs(page, "Our plant");
  await goToSheet(page, "Knock-out and yields");
  await sheetIs(page, "Knock-out");
  const gap = page.locator("gyle-result").filter({ hasText: "The ticket differs by" });
  await field(page, "Fermenter reads").focus();
  await goToSheet(page, "Malt and targets");
  await sheetIs(page, "Malt and targets");
  await page.getByRole("button", { name: "Brewing view" }).click();
  await page.getByRole("button", { name: "Desk" }).waitFor();
  await page.goBack();
  // Brewing begins where readings are: one step from the malt, and one from there.
  await page.getByRole("button", { name: "Desk" }).waitFor();
  await page.goBack();
  await sheetIs(page, "Malt and targets");
  await page.goBack();
  await sheetIs(page, "Knock-out");
  await expect.poll(() => focused(page)).toBe("cast.fermenter_read");
  await gap.waitFor();
  await page.goForward();
  await sheetIs(page, "Malt and targets");
  await page.goBack();
  await page.goBack();
  await sheetIs(page, "Our plant");
});

test("a page that is loaded anew finds the sheet and the lens again, before the first change and after it", async ({
  page,
}) => {
  await sheetIs(page, "Our plant");
  await goToSheet(page, "Mash and run-off");
  await page.getByLabel("Units").selectOption("US");
  await page.reload();
  await sheetIs(page, "Mash and run-off");
  expect(await page.getByLabel("Units").inputValue()).toBe("US");
  await field(page, "Rest wanted").fill("67");
  await field(page, "Rest wanted").press("Enter");
  await page.getByText("Kept on this device.").first().waitFor({ state: "attached" });
  await goToSheet(page, "Boil and hops");
  await page.reload();
  await sheetIs(page, "Boil and hops");
  await page.goBack();
  await sheetIs(page, "Mash and run-off");
  await expect.poll(() => field(page, "Rest wanted").inputValue()).toBe("67");
});

test("another tab opens a book where it was last open on this device, in its lens", async ({ device }) => {
  const { open } = await device();
  const page = await open();
  await sheetIs(page, "Our plant");
  await field(page, "Altitude of the brewery").fill("321");
  await field(page, "Altitude of the brewery").press("Enter");
  await page.getByText("Kept on this device.").first().waitFor({ state: "attached" });
  await page.getByLabel("Units").selectOption("imperial");
  await goToSheet(page, "Boil and hops");
  await sheetIs(page, "Boil and hops");
  await page.close();
  const other = await open();
  await sheetIs(other, "Boil and hops");
  expect(await other.getByLabel("Units").inputValue()).toBe("imperial");
});

test("Back leads to the book before, and Forward to the one after it", async ({ page }) => {
  await sheetIs(page, "Our plant");
  await field(page, "Altitude of the brewery").fill("321");
  await field(page, "Altitude of the brewery").press("Enter");
  await page.getByText("Kept on this device.").first().waitFor({ state: "attached" });
  await page.getByRole("button", { name: "More", exact: true }).click();
  await page.getByRole("menuitem", { name: "New gyle from this one" }).click();
  await page.getByRole("button", { name: "Begin the new gyle" }).click();
  const title = page.getByRole("textbox", { name: "Title of the book" });
  await expect.poll(() => title.inputValue()).toBe("Amber ale, batch 215");
  await expect.poll(() => focused(page)).toBe("batch_date");
  // The readings of the gyle before belong to its own book: nothing can bring them into this one.
  expect(await page.getByRole("button", { name: "Undo", exact: true }).isDisabled()).toBe(true);
  await page.goBack();
  await sheetIs(page, "Our plant");
  await page.goBack();
  await expect.poll(() => title.inputValue()).toBe("Amber ale, batch 214");
  await page.goForward();
  await expect.poll(() => title.inputValue()).toBe("Amber ale, batch 215");
});

test("the way back never brings a link's old text over newer work", async ({ device }) => {
  const { open } = await device();
  const page = await open();
  await sheetIs(page, "Our plant");
  const text = 'gylebook 1\ntitle "Sent"\nsheet one "First"\nmalt "Malt in" = 200 kg\nsheet two "Second"\nb = 1 kg\n';
  const link = await makeLink(text, page.url());
  if (link.is !== "link") throw new Error(link.says);
  await page.goto(link.url);
  await sheetIs(page, "First");
  // A step is taken while the address still carries the book, which is changed after it.
  await goToSheet(page, "Second");
  await sheetIs(page, "Second");
  expect(page.url()).toContain("#");
  await field(page, "B").fill("2");
  await field(page, "B").press("Enter");
  await expect.poll(() => page.url()).not.toContain("#");
  await page.goBack();
  await sheetIs(page, "First");
  expect(page.url()).not.toContain("#");
  await page.reload();
  await goToSheet(page, "Second");
  await expect.poll(() => field(page, "B").inputValue()).toBe("2");
});

test("a link that is not kept is opened again by the way back", async ({ device }) => {
  const { open } = await device();
  const page = await open("#vessels");
  await sheetIs(page, "Hot liquor tank");
  await page.keyboard.press("Control+o");
  await page
    .getByLabel("Which book")
    .selectOption({ label: "Comes with Gylebook: Cleaning (concentrates and rinses)" });
  await page.getByRole("dialog").getByRole("button", { name: "Open", exact: true }).click();
  const title = page.getByRole("textbox", { name: "Title of the book" });
  await expect.poll(() => title.inputValue()).toContain("lean");
  expect(page.url()).not.toContain("#");
  await page.goBack();
  await sheetIs(page, "Hot liquor tank");
  expect(page.url()).toContain("#vessels");
});
