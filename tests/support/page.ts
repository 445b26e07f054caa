import { type BrowserContext, type BrowserContextOptions, chromium, type Page } from "playwright";
import { test as base, expect, inject } from "vitest";
import { CHROMIUM_FLAGS, CHROMIUM_VARIABLE, TEST_LOCALE } from "./chromium.ts";

/** A device of its own: storage, permissions and screen are shared by its pages and by nothing else. */
export interface Device {
  /** Opens the built page, or a place within it such as `#brew-day`, and waits until it has loaded. */
  open(place?: string): Promise<Page>;
  readonly context: BrowserContext;
}

/** Headless Chromium aborts its file pickers; without them a page falls back to an input and a download. */
const withoutFilePickers = (): void => {
  Reflect.deleteProperty(window, "showOpenFilePicker");
  Reflect.deleteProperty(window, "showSaveFilePicker");
};

/**
 * Tests that drive the built page in Chromium. `device` makes devices (`await device()`, `await device({ viewport })`),
 * `page` is the page opened on a desk-sized one. A test fails when a page throws, logs an error or a warning.
 */
export const test = base
  .extend("browser", { scope: "file" }, async ({}, { onCleanup }) => {
    const browser = await chromium.launch({
      executablePath: process.env[CHROMIUM_VARIABLE],
      args: CHROMIUM_FLAGS,
    });
    onCleanup(() => browser.close());
    return browser;
  })
  .extend("device", async ({ browser }, { onCleanup }) => {
    const problems: string[] = [];
    const contexts: BrowserContext[] = [];
    onCleanup(async () => {
      await Promise.all(contexts.map((context) => context.close()));
      expect(problems, "what the page threw or logged").toEqual([]);
    });
    return async (options: BrowserContextOptions = {}): Promise<Device> => {
      const context = await browser.newContext({ locale: TEST_LOCALE, ...options });
      contexts.push(context);
      await context.addInitScript(withoutFilePickers);
      context.on("weberror", (fault) => problems.push(String(fault.error())));
      context.on("console", (message) => {
        if (message.type() === "error" || message.type() === "warning") problems.push(message.text());
      });
      const open = async (place = ""): Promise<Page> => {
        const page = await context.newPage();
        await page.goto(inject("appUrl") + place);
        return page;
      };
      return { open, context };
    };
  })
  .extend("page", async ({ device }) => (await device()).open());
