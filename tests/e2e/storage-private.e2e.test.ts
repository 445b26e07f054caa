import { readFileSync } from "node:fs";
import type { Page } from "playwright";
import { describe, expect, inject } from "vitest";
import { test } from "../support/page.ts";
import { serveAnew } from "../support/served-anew.ts";

const altitude = (page: Page) => page.getByRole("textbox", { name: "Altitude of the brewery", exact: true });

const typeAltitude = async (page: Page, figure: string): Promise<void> => {
  await altitude(page).fill(figure);
  await altitude(page).press("Enter");
};

describe("a private window", () => {
  test("forgets all when it is closed, and the brewer is told so with the first change, once", async ({ device }) => {
    const { open, context } = await device();
    const page = await open();
    await altitude(page).waitFor();
    const warning = page.getByText("in a private window, when that is closed");
    expect(await warning.count()).toBe(0);
    await typeAltitude(page, "321");
    await warning.waitFor();
    const download = page.waitForEvent("download");
    await page.keyboard.press("Control+s");
    const path = await (await download).path();
    expect(readFileSync(path, "utf8")).toContain("= 321 m");
    await page.reload();
    await expect.poll(() => altitude(page).inputValue()).toBe("321");
    await typeAltitude(page, "322");
    await page.getByText("Kept on this device.").first().waitFor({ state: "attached" });
    // As long again as it took the first time.
    await page.waitForTimeout(9_000);
    expect(await warning.count()).toBe(0);
    await context.close();
    // The same browser, another private window: nothing of it is there.
    const other = await (await device()).open();
    await expect.poll(() => altitude(other).inputValue()).toBe("310");
  });
});

describe("a browser that refuses all storage", () => {
  test("is told of with the first change, the work goes on, and a file takes it", async ({
    browser,
    onTestFinished,
  }) => {
    const server = await serveAnew(inject("appUrl"), { sandboxed: true });
    onTestFinished(() => server.close());
    const context = await browser.newContext({ locale: "en-GB" });
    onTestFinished(() => context.close());
    await context.addInitScript(() => {
      Reflect.deleteProperty(window, "showOpenFilePicker");
      Reflect.deleteProperty(window, "showSaveFilePicker");
    });
    const page = await context.newPage();
    const thrown: string[] = [];
    // The one line that registers the worker is refused too; it comes with the package that makes the worker.
    page.on("pageerror", (error) => {
      if (!(error.stack ?? "").includes("registerSW.js")) thrown.push(String(error.stack));
    });
    await page.goto(server.url);
    await altitude(page).waitFor();
    // Chromium itself refuses here, as it does where a person has switched storage off.
    const refusal = await page.evaluate(() => {
      try {
        indexedDB.open("any");
        return "none";
      } catch (error) {
        return (error as DOMException).name;
      }
    });
    expect(refusal).toBe("SecurityError");
    await typeAltitude(page, "321");
    await page.getByText("refuses to store anything").first().waitFor();
    await expect.poll(() => page.locator("gyle-head .kept").textContent()).toContain("Only in this tab");
    const download = page.waitForEvent("download");
    await page.getByRole("button", { name: "Save a file" }).click();
    expect(readFileSync(await (await download).path(), "utf8")).toContain("= 321 m");
    // It goes on: the sheets, the units, undo.
    await page.getByRole("button", { name: /^Undo/ }).click();
    await expect.poll(() => altitude(page).inputValue()).toBe("310");
    expect(thrown).toEqual([]);
  });
});
