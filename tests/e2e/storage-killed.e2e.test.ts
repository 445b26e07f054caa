import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type CDPSession, chromium, type Page } from "playwright";
import { afterAll, beforeAll, expect } from "vitest";
import { CHROMIUM_FLAGS, CHROMIUM_VARIABLE, TEST_LOCALE } from "../support/chromium.ts";
import { test } from "../support/page.ts";
import { serveStorage, type Taken } from "../support/storage-harness.ts";

/** How often a tab is killed while it writes. */
const KILLS = 200;

/** How often the whole browser is, which takes longer. */
const BROWSER_KILLS = 4;

/** A tab is killed at some moment of this long after it began to type, in milliseconds. */
const WITHIN_MS = 50;

/** Texts have up to this many characters: a small book, and one that takes several pieces to write. */
const SIZES = [2_000, 400_000];

/** Sets the moments of death. Another may be given, to repeat a run or to try new moments. */
const SEED = Number(process.env.GYLEBOOK_SEED ?? 20260301);

/** Chance that can be repeated: a multiplicative congruential generator (Park, Miller and Stockmeyer 1993: 48271 modulo 2^31 − 1). Figures from 0 to 1. */
const chance = (seed: number) => {
  const modulus = 2_147_483_647;
  let state = seed % modulus || 1;
  return (): number => {
    state = (state * 48_271) % modulus;
    return state / modulus;
  };
};

const after = (time: number): Promise<void> => new Promise((later) => setTimeout(later, time));

const kill = (id: number): void => {
  try {
    process.kill(id, "SIGKILL");
  } catch {
    // It ended by itself since it was listed.
  }
};

/** A tab that can be killed and loaded anew, which a driven page cannot. It types into one book and knows what was told to be kept. */
class Typist {
  readonly #tab: CDPSession;
  readonly #url: string;
  id: string | null = null;
  kept = 0;

  private constructor(tab: CDPSession, url: string) {
    this.#tab = tab;
    this.#url = url;
  }

  static async at(page: Page, url: string): Promise<Typist> {
    const tab = await page.context().newCDPSession(page);
    const typist = new Typist(tab, url);
    tab.on("Runtime.bindingCalled", ({ payload }) => {
      typist.kept = Math.max(typist.kept, Number(payload));
    });
    await tab.send("Page.enable");
    await tab.send("Runtime.enable");
    await tab.send("Runtime.addBinding", { name: "report" });
    return typist;
  }

  async #call(expression: string): Promise<unknown> {
    const { result, exceptionDetails } = await this.#tab.send("Runtime.evaluate", {
      expression,
      awaitPromise: true,
      returnByValue: true,
    });
    expect(exceptionDetails?.exception?.description, `seed ${SEED}`).toBeUndefined();
    return result.value;
  }

  /** Opens the book, which must be whole and have all that was kept. */
  async check(): Promise<void> {
    const loaded = new Promise((done) => this.#tab.once("Page.loadEventFired", done));
    await this.#tab.send("Page.navigate", { url: this.#url });
    await loaded;
    const taken = (await this.#call(`storagePage.take(${JSON.stringify(this.id)})`)) as Taken;
    const [first, last] = (await this.#call(`storagePage.figures(${JSON.stringify(taken.text)})`)) as number[];
    expect(taken.keeping.is).toBe("kept");
    expect(first, `the text is torn (seed ${SEED})`).toBe(last);
    expect(first, `a figure that was kept is missing (seed ${SEED})`).toBeGreaterThanOrEqual(this.kept);
    this.id = taken.id;
  }

  async type(most: number, milliseconds: number): Promise<void> {
    await this.#call(`storagePage.type((kept) => report(String(kept)), ${most})`);
    await after(milliseconds);
  }

  crashed(): Promise<unknown> {
    return new Promise((done) => this.#tab.once("Inspector.targetCrashed", done));
  }
}

let server: Awaited<ReturnType<typeof serveStorage>>;

beforeAll(async () => {
  server = await serveStorage();
});

afterAll(() => server.close());

test(`what was kept is there after each of ${KILLS} kills of the tab in mid-write`, { timeout: 300_000 }, async ({
  browser,
  device,
}) => {
  const { context } = await device();
  const processes = await browser.newBrowserCDPSession();
  const typist = await Typist.at(await context.newPage(), server.url);
  const random = chance(SEED);
  for (let count = 0; count < KILLS; count++) {
    await typist.check();
    await typist.type(SIZES[count % SIZES.length] ?? 0, random() * WITHIN_MS);
    const crashed = typist.crashed();
    const { processInfo } = await processes.send("SystemInfo.getProcessInfo");
    for (const { type, id } of processInfo) if (type === "renderer") kill(id);
    await crashed;
  }
  await typist.check();
  // It did write between the kills, and was not only killed before it could.
  expect(typist.kept).toBeGreaterThan(KILLS);
});

test(`what was kept is there after each of ${BROWSER_KILLS} kills of the whole browser`, {
  timeout: 120_000,
}, async () => {
  const folder = mkdtempSync(join(tmpdir(), "gylebook-killed-"));
  const random = chance(SEED + 1);
  const start = () =>
    chromium.launchPersistentContext(folder, {
      executablePath: process.env[CHROMIUM_VARIABLE],
      args: CHROMIUM_FLAGS,
      locale: TEST_LOCALE,
    });
  // A browser in use has its folders: one that dies while it sets itself up for the first time may lose them all.
  const first = await start();
  await (await Typist.at(await first.newPage(), server.url)).check();
  await first.close();
  let before: Typist | null = null;
  for (let count = 0; count <= BROWSER_KILLS; count++) {
    const context = await start();
    const page = await context.newPage();
    const typist = await Typist.at(page, server.url);
    typist.id = before?.id ?? null;
    typist.kept = before?.kept ?? 0;
    before = typist;
    await typist.check();
    await typist.type(SIZES[count % SIZES.length] ?? 0, random() * WITHIN_MS * 10);
    const closed = context.waitForEvent("close");
    const control = await context.newCDPSession(page);
    if (count < BROWSER_KILLS) control.send("Browser.crash").catch(() => undefined);
    else await context.close();
    await closed;
  }
  expect(before?.kept).toBeGreaterThan(BROWSER_KILLS);
  rmSync(folder, { recursive: true, force: true });
});
