import { expect } from "vitest";
import { test } from "../support/page.ts";

test("the page opens with no network after the first visit", async ({ device }) => {
  const { open, context } = await device();
  const first = await open();
  await first.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
  await context.setOffline(true);
  const second = await open();
  await expect.poll(() => second.locator("main").count()).toBe(1);
  expect(await second.title()).toMatch(/Gylebook$/);
});

test("the page can be installed", async ({ page }) => {
  const session = await page.context().newCDPSession(page);
  const { installabilityErrors } = await session.send("Page.getInstallabilityErrors");
  expect(installabilityErrors.filter((fault) => fault.errorId !== "in-incognito")).toEqual([]);
});
