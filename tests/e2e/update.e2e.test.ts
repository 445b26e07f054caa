import type { Page } from "playwright";
import { expect, inject } from "vitest";
import { test } from "../support/page.ts";
import { serveAnew } from "../support/served-anew.ts";

const altitude = (page: Page) => page.getByRole("textbox", { name: "Altitude of the brewery", exact: true });

/** A worker is looked for as a browser does it by itself at each visit and once a day. */
const lookForUpdate = (page: Page): Promise<void> =>
  page.evaluate(async () => {
    await (await navigator.serviceWorker.ready).update();
  });

const waiting = (page: Page): Promise<boolean> =>
  page.evaluate(async () => (await navigator.serviceWorker.ready).waiting !== null);

test("a newer program is offered, waits until it is let in, and takes nothing of the work away", async ({
  device,
  onTestFinished,
}) => {
  const server = await serveAnew(inject("appUrl"));
  onTestFinished(() => server.close());
  const { context } = await device();
  const page = await context.newPage();
  await page.goto(server.url);
  await altitude(page).waitFor();
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  const offer = page.getByRole("heading", { name: "A newer Gylebook is ready" });
  await lookForUpdate(page);
  expect(await offer.count()).toBe(0);

  server.release();
  await lookForUpdate(page);
  await offer.waitFor();
  // Left for now, the older program goes on, and the newer one still waits.
  await page.getByRole("button", { name: "Leave it" }).click();
  await altitude(page).fill("321");
  await altitude(page).press("Enter");
  await page.getByText("Kept on this device.").first().waitFor({ state: "attached" });
  expect(await waiting(page)).toBe(true);

  // The next visit offers it again; what was just typed is kept before the page is loaded anew.
  await page.reload();
  await offer.waitFor();
  await altitude(page).evaluate((field) => {
    (field as HTMLInputElement).value = "322";
    field.dispatchEvent(new InputEvent("input", { bubbles: true, composed: true }));
    field.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true, composed: true }));
  });
  const loaded = page.waitForEvent("load");
  await page.getByRole("button", { name: "Load it" }).click();
  await loaded;
  await expect.poll(() => altitude(page).inputValue()).toBe("322");
  expect(await waiting(page)).toBe(false);
  await lookForUpdate(page);
  expect(await offer.count()).toBe(0);
});
