import { gzipSync } from "node:zlib";
import type { Browser, Page } from "playwright";
import { TEST_LOCALE } from "../../support/chromium.ts";
import { counted, numbersFrom } from "../books.ts";
import { entryLabel, largeBook, longSheet, longTable, resultLabel, sheetLabel } from "./books.ts";
import { type Response, type Shift, watchScreen } from "./watch.ts";

/** Pages are opened on devices of their own: with nothing stored and nothing cached. */
export interface Place {
  readonly browser: Browser;
  /** Where the built page is served. */
  readonly url: string;
}

const DESK = { width: 1280, height: 800 };
/** A quick typist's time from key to key; what a keystroke leaves undone then falls upon the next. */
const KEY_PAUSE_MS = 80;
/** After this long what an edit sets off has come to rest, keeping the book included. */
const REST_MS = 400;
/** The first keystrokes and edits, on code that the browser has not yet made fast, are left out. */
const WARM_UP = 20;

async function opened({ browser, url }: Place): Promise<Page> {
  const context = await browser.newContext({ locale: TEST_LOCALE, viewport: DESK });
  await context.addInitScript(watchScreen);
  const page = await context.newPage();
  await page.goto(url);
  await page.waitForFunction(() => screenWatch.firstResult !== null);
  return page;
}

async function openedOn(place: Place, book: string): Promise<Page> {
  const page = await opened(place);
  await page.evaluate((text) => {
    const dataTransfer = new DataTransfer();
    dataTransfer.items.add(new File([text], "large.gyle"));
    window.dispatchEvent(new DragEvent("drop", { dataTransfer, bubbles: true, cancelable: true }));
  }, book);
  await page.waitForFunction(() => !document.title.startsWith("Amber"));
  return page;
}

const goToSheet = async (page: Page, label: string): Promise<void> => {
  await page.locator("gyle-path").getByRole("button", { name: label, exact: true }).click();
  await page.getByRole("heading", { name: label, exact: true }).waitFor();
  await page.waitForTimeout(REST_MS);
};

/** A response, and the time on the processor that all of it took, what follows within the pause included. */
export interface Step extends Response {
  readonly scripts: number;
  readonly all: number;
}

/** The page's thread by its own clock: what else the machine does is not in it. In milliseconds. */
async function spending(page: Page): Promise<() => Promise<{ readonly scripts: number; readonly all: number }>> {
  const session = await page.context().newCDPSession(page);
  await session.send("Performance.enable", { timeDomain: "threadTicks" });
  return async () => {
    const { metrics } = await session.send("Performance.getMetrics");
    const of = (name: string): number => 1_000 * (metrics.find((each) => each.name === name)?.value ?? Number.NaN);
    return { scripts: of("ScriptDuration"), all: of("TaskDuration") };
  };
}

/**
 * Measures steps. The first ones, on code that the browser has not yet made fast, are left out, and show that the frame
 * which is timed is the one with the result.
 */
async function stepper(page: Page, first: string, last: string) {
  const spent = await spending(page);
  await page.evaluate(([begin, end]) => screenWatch.follow(begin, end), [first, last] as const);
  const found: Step[] = [];
  let taken = 0;
  const step = async (key: string, pause: number): Promise<void> => {
    const proves = taken < WARM_UP;
    if (taken === WARM_UP)
      await page.evaluate(() => {
        screenWatch.reads = false;
      });
    taken += 1;
    const before = await spent();
    await page.keyboard.press(key);
    await page.waitForTimeout(pause);
    const after = await spent();
    const responses = await page.evaluate(() => screenWatch.responses());
    const [only] = responses;
    if (only === undefined || responses.length > 1) throw new Error(`${responses.length} responses to one step`);
    if (!proves) found.push({ ...only, scripts: after.scripts - before.scripts, all: after.all - before.all });
    else if (only.shown !== (await page.evaluate(() => screenWatch.shown())))
      throw new Error("the result was drawn later than in the frame that was timed");
  };
  return { step, found };
}

/** Types a formula again and again on the middle sheet of the large book. */
export async function keystrokes(place: Place, rounds: number): Promise<readonly Step[]> {
  const page = await openedOn(place, largeBook());
  await goToSheet(page, sheetLabel(10));
  await page.getByRole("button", { name: `What can be done with ${resultLabel(2, 3)}`, exact: true }).click();
  await page.getByRole("menuitem", { name: "Change the formula" }).click();
  const field = page.locator("gyle-formula-editor .cm-content");
  await field.waitFor();
  const { step, found } = await stepper(page, "keydown", "input");
  for (const round of counted(rounds)) {
    await field.press("ControlOrMeta+a");
    await field.press("Backspace");
    await page.waitForTimeout(REST_MS);
    await page.evaluate(() => screenWatch.responses());
    for (const key of `r1_${1 + (round % 9)} * 1.25 + s9.r3_7 / 2 - e4 as kg`) await step(key, KEY_PAUSE_MS);
    const says = await page.locator("gyle-formula-editor .gives").textContent();
    if (!/gives [\d.]+ kg/.test(says ?? "")) throw new Error(`the formula typed gives: ${says}`);
  }
  await page.context().close();
  return found;
}

/** Changes entries of a sheet of the large book, each by typing and Enter, and waits for all that hangs on them. */
export async function entryEdits(place: Place, sheet: number, edits: number): Promise<readonly Step[]> {
  const page = await openedOn(place, largeBook());
  await goToSheet(page, sheetLabel(sheet));
  const { step, found } = await stepper(page, "keydown", "keydown");
  let shown = await page.evaluate(() => screenWatch.shown());
  for (const edit of counted(edits + WARM_UP)) {
    const field = page.getByRole("textbox", { name: entryLabel(1 + (edit % 5)), exact: true });
    await field.fill(`${(20 + edit / 10).toFixed(1)}`);
    await page.waitForTimeout(KEY_PAUSE_MS);
    await step("Enter", REST_MS);
    const next = await page.evaluate(() => screenWatch.shown());
    if (next === shown) throw new Error("the edit changed nothing");
    shown = next;
  }
  await page.context().close();
  return found;
}

export interface Opened {
  /** From the wish to open it until its first lines were drawn, by the clock. */
  readonly drawn: number;
  /** Time on the processor until then, and until all has come to rest. */
  readonly work: number;
  readonly all: number;
}

/** Opens a sheet of so many lines again and again, from a short one. */
export async function openings(place: Place, lines: number, rounds: number): Promise<readonly Opened[]> {
  const page = await openedOn(place, longSheet(lines));
  const spent = await spending(page);
  const found: Opened[] = [];
  for (const _ of counted(rounds)) {
    await goToSheet(page, "Short");
    const before = await spent();
    const drawn = await page.evaluate(async () => {
      const book = document.querySelector("gyle-workbook");
      const begun = performance.now();
      void book?.goTo("long");
      const figure = (): string =>
        book?.shadowRoot
          ?.querySelector("gyle-sheet")
          ?.shadowRoot?.querySelector("gyle-result")
          ?.shadowRoot?.querySelector("output")?.textContent ?? "";
      const isOpen = (): boolean =>
        book?.shadowRoot?.querySelector("gyle-sheet")?.name === "long" && /\d/.test(figure());
      do await new Promise((next) => requestAnimationFrame(() => setTimeout(next)));
      while (!isOpen());
      return performance.now() - begun;
    });
    const open = await spent();
    await page
      .locator("gyle-result")
      .last()
      .getByText(`Result ${lines - 1}`)
      .waitFor({ state: "attached" });
    await page.waitForTimeout(REST_MS);
    found.push({ drawn, work: open.all - before.all, all: (await spent()).all - before.all });
  }
  await page.context().close();
  return found;
}

export interface Load {
  /** From the start of the navigation until the first worked-out figure is drawn. */
  readonly firstResult: number;
  /** Bytes of all scripts asked for until then, each gzipped by itself. */
  readonly script: number;
  /** What moved while the page came up, as CLS. */
  readonly shift: number;
}

/** Opens the page with the sample book on a new device. */
export async function coldLoad(place: Place): Promise<Load> {
  const page = await opened(place);
  const { firstResult, scripts } = await page.evaluate(() => {
    const at = screenWatch.firstResult ?? Number.NaN;
    const before = performance.getEntriesByType("resource").filter(({ startTime }) => startTime < at);
    return { firstResult: at, scripts: before.map(({ name }) => name).filter((name) => name.endsWith(".js")) };
  });
  await page.waitForTimeout(REST_MS);
  const shifts = await page.evaluate(() => screenWatch.shifts());
  await page.context().close();
  const sizes = scripts.map(async (script) => gzipSync(await (await fetch(script)).arrayBuffer()).length);
  return {
    firstResult,
    script: (await Promise.all(sizes)).reduce((sum, size) => sum + size, 0),
    shift: shifts.reduce((sum, { score }) => sum + score, 0),
  };
}

export interface Moved {
  readonly sheet: string;
  /** As CLS. */
  readonly shift: number;
  /** What moved, as tag and class. */
  readonly moved: readonly string[];
}

/** Empties every reading of the sample book and fills them again one by one, with each sheet open in turn. */
export async function shiftsOfResults(place: Place): Promise<readonly Moved[]> {
  const page = await opened(place);
  const found: Moved[] = [];
  const sheets = page.locator("gyle-path .stop").filter({ hasNotText: "Front page" });
  for (const at of counted(await sheets.count())) {
    await sheets.nth(at).click();
    await page.waitForTimeout(2 * REST_MS);
    const shifts = await page.evaluate(fillEveryReading);
    await page.evaluate(() => {
      const session = document.querySelector("gyle-workbook")?.session;
      while (session?.undo());
    });
    found.push({
      sheet: (await page.locator("gyle-sheet h2").textContent()) ?? "",
      shift: shifts.reduce((sum, { score }) => sum + score, 0),
      moved: [...new Set(shifts.flatMap(({ moved }) => moved))],
    });
  }
  await page.context().close();
  return found;
}

/** Runs in the page by itself: it may use nothing from outside. */
async function fillEveryReading(): Promise<readonly Shift[]> {
  const session = document.querySelector("gyle-workbook")?.session;
  if (session === undefined) throw new Error("the page has no book");
  const drawn = () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
  const lines = session.workbook.sheets.flatMap(({ name, pages }) =>
    pages.flat().flatMap((item) => (item.is === "cell" ? (session.cell(`${name}.${item.name}`) ?? []) : [])),
  );
  session.dispatch({ edit: "empty-blanks" });
  await drawn();
  screenWatch.shifts();
  const shifts: Shift[] = [];
  for (const { name, formula, blank } of lines) {
    if (blank?.filled !== true) continue;
    const outcome = session.dispatch({ edit: "set-formula", cell: name, formula });
    if (!outcome.ok) throw new Error(outcome.says);
    await drawn();
    shifts.push(...screenWatch.shifts());
  }
  return shifts;
}

export interface Scrolled {
  /** Lengths of all frames. */
  readonly frames: readonly number[];
  /** The most rows that were in the page at once. */
  readonly rows: number;
}

/** Scrolls a long table with the wheel, then by dragging its bar up and down. */
export async function scrolling(
  place: Place,
  rows: number,
  steps: number,
): Promise<{ readonly wheel: Scrolled; readonly bar: Scrolled }> {
  const page = await openedOn(place, longTable(rows));
  const grid = page.locator("gyle-table .grid");
  await grid.locator("[aria-rowindex='2']").first().waitFor();
  await page.waitForTimeout(REST_MS);
  const drawnRows = () => grid.locator(".row").count();
  const box = await grid.boundingBox();
  if (box === null) throw new Error("the table is not on the screen");
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);

  const random = numbersFrom(3);
  let most = 0;
  await page.evaluate(() => screenWatch.frames());
  for (const step of counted(steps)) {
    await page.mouse.wheel(0, 100 + Math.round(random() * 1_400));
    if (step % 10 === 0) most = Math.max(most, await drawnRows());
  }
  const wheel = { frames: await page.evaluate(() => screenWatch.frames()), rows: most };

  const places = counted(steps).map(() => random());
  const bar = await grid.evaluate(async (element, wanted) => {
    screenWatch.frames();
    let rowsMost = 0;
    for (const place of wanted) {
      element.scrollTop = place * element.scrollHeight;
      await new Promise(requestAnimationFrame);
      rowsMost = Math.max(rowsMost, element.querySelectorAll(".row").length);
    }
    return { frames: screenWatch.frames(), rows: rowsMost };
  }, places);
  await page.context().close();
  return { wheel, bar };
}
