import { readFileSync } from "node:fs";
import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";
import type { BrowserContextOptions, Page } from "playwright";
import { expect } from "vitest";
import { finger, type Hands, keyboard, mouse } from "../support/hands.ts";
import { test } from "../support/page.ts";

/** The line that is called so, with its figure and what stands beside it. */
const line = (page: Page, label: string) =>
  page
    .locator("gyle-entry, gyle-result")
    .filter({ has: page.locator(".label", { hasText: new RegExp(`^\\s*${label}\\s*$`) }) });
const figure = (page: Page, label: string) => line(page, label).locator("output");
const unit = (page: Page, label: string) => line(page, label).locator(".unit");
const field = (page: Page, label: string) => page.getByRole("textbox", { name: label, exact: true });
const dialog = (page: Page) => page.getByRole("dialog");

const textOf = async (pdf: Uint8Array): Promise<string> => {
  const document = await getDocument({ data: new Uint8Array(pdf), verbosity: 0 }).promise;
  const texts: string[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const { items } = await (await document.getPage(number)).getTextContent();
    texts.push(...items.map((item) => ("str" in item ? item.str : "")));
  }
  await document.destroy();
  return texts.join(" ").replace(/\s+/g, " ");
};

const DEVICES: readonly {
  readonly name: string;
  readonly options: BrowserContextOptions;
  readonly hands: (page: Page) => Hands;
}[] = [
  { name: "with a mouse at 1280 × 800", options: { viewport: { width: 1280, height: 800 } }, hands: mouse },
  {
    name: "with the keyboard alone at 1280 × 800",
    options: { viewport: { width: 1280, height: 800 } },
    hands: keyboard,
  },
  {
    name: "with a finger at 390 × 844",
    options: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true },
    hands: finger,
  },
];

test.for(DEVICES)("a brew day is done $name", async ({ options, hands: handsOf }, { device }) => {
  const { open, context } = await device(options);
  await context.addInitScript(() => {
    window.print = () => document.documentElement.setAttribute("data-printing", "");
  });
  const page = await open();
  const hands = handsOf(page);
  await page.getByRole("heading", { name: "Our plant" }).waitFor();
  // How the book is kept can be read whole, however narrow the head is.
  const kept = page.locator("gyle-head .kept");
  expect(await kept.evaluate(({ scrollWidth, clientWidth }) => scrollWidth - clientWidth)).toBeLessThanOrEqual(0);

  // The next gyle from the sample: plant and recipe stay, every reading is to be taken.
  await hands.choose("More", "New gyle from this one");
  await dialog(page).waitFor();
  await hands.press("Begin the new gyle");
  await field(page, "Batch date").waitFor();
  await hands.type("Batch date", "2026-03-09");
  await page.getByText("Kept on this device.").first().waitFor({ state: "attached" });
  expect(await kept.evaluate(({ scrollWidth, clientWidth }) => scrollWidth - clientWidth)).toBeLessThanOrEqual(0);
  await hands.sheet("Mash and run-off");
  await line(page, "Off the mark by").getByText("waits for").waitFor();
  await line(page, "Heat strike water to").getByText("waits for").waitFor();
  await hands.type("Malt temperature", "59F");
  await hands.type("Tun temperature", "55");
  await expect.poll(() => figure(page, "Heat strike water to").textContent()).toMatch(/^1\d\d$/);
  await hands.type("Rest measured", "66,7");
  await expect.poll(() => figure(page, "Off the mark by").textContent()).toBe("0.2");

  // A unit that may be two is asked where it is typed; in a formula it is mended with one press.
  await hands.type("Strike water", "150 gal");
  await line(page, "Strike water").getByText("Which is meant?").waitFor();
  await hands.press(/^150 US gal/);
  await expect.poll(() => figure(page, "Liquor to malt").textContent()).toMatch(/^2\.9/);
  await hands.choose("What can be done with Liquor to malt", "Change the formula");
  const editor = page.getByRole("textbox", { name: "Formula of Liquor to malt" });
  await expect
    .poll(() =>
      editor.evaluate(
        (box) => box.getRootNode() instanceof ShadowRoot && (box.getRootNode() as ShadowRoot).activeElement === box,
      ),
    )
    .toBe(true);
  await page.keyboard.press("ControlOrMeta+a");
  await page.keyboard.press("Backspace");
  await page.keyboard.insertText("strike_water / (6 gal)");
  await page.keyboard.press("Enter");
  await line(page, "Liquor to malt").getByText("3.785 L in the US").waitFor();
  await hands.press("Write US gal");
  await expect.poll(() => figure(page, "Liquor to malt").textContent()).toBe("25");
  await hands.press(/^Undo/);
  await hands.press(/^Undo/);
  await expect.poll(() => figure(page, "Liquor to malt").textContent()).toMatch(/^2\.9/);

  // A line, a table with a row, a plot of it.
  await hands.choose("Add to this sheet", "A line");
  await dialog(page).waitFor();
  await hands.write("What it is called", "Half of it");
  await hands.type("What it holds", "strike_water / 2 as L");
  await expect.poll(() => figure(page, "Half of it").textContent()).toMatch(/^283\.9/);
  await hands.choose("Add to this sheet", "A table");
  await dialog(page).waitFor();
  await hands.write("What it is called", "Cooling");
  await hands.write("Columns, one a line", "Taken : instant\nWort : °C");
  await hands.press("Add the table");
  const table = page.locator("gyle-table").filter({ hasText: "Cooling" });
  await table.waitFor();
  await hands.press("Add a row");
  for (const typed of ["2026-03-09 12:00", "60.5"]) {
    await page.keyboard.type(typed);
    await page.keyboard.press("Tab");
  }
  await table.getByText("60.5").waitFor();
  await hands.choose("Add to this sheet", "A plot");
  await page.getByLabel("Which table does it draw?").waitFor();
  await hands.pick("Which table does it draw?", "Cooling");
  await hands.press("Go on");
  await page.getByRole("checkbox", { name: "Wort" }).waitFor();
  await hands.write("What it is called", "Cooling curve");
  await hands.tick("Wort");
  await hands.press("Add the plot");
  await page.getByRole("heading", { name: "Cooling curve" }).waitFor();

  // Another reader's units, and back.
  expect(await unit(page, "Heat strike water to").textContent()).toBe("°F");
  await hands.units("metric");
  await expect.poll(() => unit(page, "Heat strike water to").textContent()).toBe("°C");
  expect(await field(page, "Rest measured").inputValue()).toBe("66.7");

  // Saved as a file, shared as a link that carries all of it.
  const [saved] = await Promise.all([page.waitForEvent("download"), hands.command("Save")]);
  expect(saved.suggestedFilename()).toBe("Amber ale, batch 215.gyle");
  const file = readFileSync(await saved.path(), "utf8");
  for (const part of [
    "? 66.7 °C",
    "150 US gal",
    "half_of_it = strike_water / 2 as L",
    "2026-03-09T12:00, 60.5",
    "Cooling curve",
  ])
    expect(file).toContain(part);
  await hands.command("Share");
  const link = await page.getByRole("textbox", { name: "Link" }).inputValue();
  // Served on this machine alone, the page says so, and offers the file first.
  await dialog(page).getByText("no other device can reach").waitFor();
  expect(await page.getByLabel("What now?").inputValue()).toBe("file");
  await hands.press("Leave it");
  const other = await (await device(options)).open(link.slice(link.indexOf("#")));
  await handsOf(other).sheet("Mash and run-off");
  await expect.poll(() => field(other, "Rest measured").inputValue()).toBe("66.7");

  // Loaded anew, with a network and without one, it stands where it was.
  await page.reload();
  await expect.poll(() => field(page, "Rest measured").inputValue()).toBe("66.7");
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await context.setOffline(true);
  await page.reload();
  await expect.poll(() => field(page, "Rest measured").inputValue()).toBe("66.7");
  await expect.poll(() => unit(page, "Heat strike water to").textContent()).toBe("°C");

  // Printed without a network: what is taken stands as it was typed, the rest is ruled to be filled.
  await hands.command("Print");
  await page.locator("[data-printing]").waitFor();
  const paper = await textOf(await page.pdf({ format: "A4" }));
  for (const told of ["Amber ale, batch 215", "Mash and run-off", "66.7", "Half of it", "Cooling curve", "Mash pH"])
    expect(paper).toContain(told);
});
