import type { Page } from "playwright";
import { TEST_LOCALE } from "../../support/chromium.ts";
import { type LongestTask, longestTask } from "../../support/main-thread.ts";
import type { Place } from "./measures.ts";

/** What the page's main thread did from one act of the reader's until all that follows had come to rest. */
export interface Phase {
  readonly name: string;
  readonly longest: LongestTask;
}

const DESK = { width: 1280, height: 800 };
/** The shipped book with a logger's table and the plots that draw it, all on one sheet. */
const BOOK = "#cellar-log";
const SHEET = "Tank log";
const TABLE = "log.tank";
/** As long as a busy machine may take for one phase. */
const PATIENCE_MS = 120_000;
/** After this long what an act sets off has come to rest: the plots drawn, the book kept. */
const REST_MS = 1_000;

/** Makes a logger's export of so many minutes in the page, `warmer` by so many tenths of a degree: a file to be chosen. */
const makeFile = (page: Page, rows: number, warmer: number): Promise<void> =>
  page.evaluate(
    ([table, count, tenths]) => {
      const lines = Array.from({ length: count }, (_, row) => {
        const time = new Date(Date.UTC(2026, 0, 1) + row * 60_000).toISOString().slice(0, 16);
        const temp = (65 + ((row % 40) + tenths) / 10).toFixed(1);
        return `${time},${temp},65.0,${(1.05 - row / 1e7).toFixed(4)},${((row % 90) / 10).toFixed(1)},a\n`;
      });
      const head = "Time,Tank temp (°F),Set point (°F),Gravity (SG),Head pressure (psi),Remark\n";
      Object.assign(window, { handed: new File([head, ...lines], "long.csv"), handedInto: table });
    },
    [TABLE, rows, warmer] as const,
  );

const counts = async (page: Page, wanted: string): Promise<void> => {
  await page.waitForFunction(
    (text) => {
      const book = document.querySelector("gyle-workbook");
      const readings = book?.shadowRoot?.querySelector("gyle-readings");
      const found = [...(readings?.shadowRoot?.querySelectorAll(".counts dd") ?? [])].map((each) => each.textContent);
      return found.join(" ") === text && readings?.shadowRoot?.querySelector(".body")?.ariaBusy === "false";
    },
    wanted,
    { timeout: PATIENCE_MS },
  );
};

const lookAt = async (page: Page, wanted: string): Promise<void> => {
  await page.evaluate(() => {
    const { handed, handedInto } = window as unknown as { handed: File; handedInto: string };
    return document.querySelector("gyle-workbook")?.readCsv(handedInto, handed);
  });
  await counts(page, wanted);
};

const kept = (page: Page): Promise<void> =>
  page.locator("gyle-head .kept").getByText("Kept on this device").waitFor({ timeout: PATIENCE_MS });

const readIn = async (page: Page): Promise<void> => {
  const dialog = page.getByRole("dialog", { name: "Readings from a CSV" });
  await dialog.getByRole("button", { name: "Read in", exact: true }).click();
  await dialog.waitFor({ state: "detached", timeout: PATIENCE_MS });
  await kept(page);
};

const press = async (page: Page, button: RegExp): Promise<void> => {
  await page.locator("gyle-head").getByRole("button", { name: button }).click();
  await page.waitForTimeout(REST_MS);
  await kept(page);
};

/**
 * Reads a long CSV into the cellar log, a table with plots on the screen, then one that corrects every row, and takes both
 * back; what follows each step is in it: drawing, and keeping the book on the device.
 */
export async function readingIn({ browser, url }: Place, rows: number): Promise<readonly Phase[]> {
  const context = await browser.newContext({ locale: TEST_LOCALE, viewport: DESK });
  const page = await context.newPage();
  await page.goto(url + BOOK);
  await page.locator("gyle-path").getByRole("button", { name: SHEET }).click();
  await page.evaluate((table) => {
    const session = document.querySelector("gyle-workbook")?.session;
    const count = session?.table(table)?.rowCount ?? 0;
    session?.dispatch({ edit: "remove-rows", table, at: 0, count });
  }, TABLE);
  await page.waitForTimeout(REST_MS);
  const inWords = rows.toLocaleString("en");
  const found: Phase[] = [];
  const add = async (name: string, act: () => Promise<void>): Promise<void> => {
    found.push({ name, longest: await longestTask(page, act, REST_MS) });
  };
  await makeFile(page, rows, 0);
  await add("looked through", () => lookAt(page, `${inWords} ${inWords} 0 0 0`));
  await add("read in, drawn and kept", () => readIn(page));
  await makeFile(page, rows, 1);
  await add("corrections looked through", () => lookAt(page, `${inWords} 0 ${inWords} 0 0`));
  await add("corrections read in, drawn and kept", () => readIn(page));
  await add("corrections taken back", () => press(page, /^Undo/));
  await add("all taken back", () => press(page, /^Undo/));
  await add("done again", () => press(page, /^Redo/));
  await context.close();
  return found;
}
