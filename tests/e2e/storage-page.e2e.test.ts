import { readFileSync } from "node:fs";
import type { Page } from "playwright";
import { describe, expect } from "vitest";
import { makeLink } from "../../components/storage/link.ts";
import { test } from "../support/page.ts";

/** The first field of the book that the page opens with. */
const altitude = (page: Page) => page.getByRole("textbox", { name: "Altitude of the brewery", exact: true });

const LINKED = 'gylebook 1\ntitle "Sent"\nsheet first "Sent to us"\nmalt "Malt in" = 200 kg\n';

const ready = (page: Page): Promise<void> => altitude(page).waitFor();

/** Types an altitude as a person would, and waits until the page says that it is kept. */
const typeAltitude = async (page: Page, figure: string): Promise<void> => {
  await altitude(page).fill(figure);
  await altitude(page).press("Enter");
  await page.getByText("Kept on this device.").first().waitFor({ state: "attached" });
};

describe("what is typed on the page", () => {
  test("is there after the page is loaded anew, with and without a network", async ({ device }) => {
    const { open, context } = await device();
    const page = await open();
    await ready(page);
    await typeAltitude(page, "321");
    await page.reload();
    await expect.poll(() => altitude(page).inputValue()).toBe("321");
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await context.setOffline(true);
    await page.reload();
    await expect.poll(() => altitude(page).inputValue()).toBe("321");
    await typeAltitude(page, "322");
    await page.close();
    const other = await open();
    await expect.poll(() => altitude(other).inputValue()).toBe("322");
  });

  test("is not lost when a second tab opens the same book", async ({ device }) => {
    const { open } = await device();
    const first = await open();
    await ready(first);
    await typeAltitude(first, "321");
    const second = await open();
    await second.getByRole("heading", { name: "Open in another tab" }).waitFor();
    await second.getByRole("button", { name: "Go on", exact: true }).click();
    await expect.poll(() => altitude(second).inputValue()).toBe("321");
    await first.getByText("Another tab has taken this book over").first().waitFor({ state: "attached" });
    await typeAltitude(second, "333");
    await altitude(first).fill("444");
    await altitude(first).press("Enter");
    await first.getByText("as a copy of its own").first().waitFor({ state: "attached" });
    expect(await altitude(second).inputValue()).toBe("333");
    expect(await altitude(first).inputValue()).toBe("444");
    await second.keyboard.press("Control+o");
    const books = second.getByRole("option", { name: /^Kept on this device/ });
    await expect
      .poll(async () => (await books.allTextContents()).map((name) => name.trim().replace(/\d/g, "0")).sort())
      .toEqual(
        ["Amber ale, batch 000 (copy)", "Amber ale, batch 000"].map(
          (title) => `Kept on this device: ${title}, changed 0000-00-00 00:00`,
        ),
      );
  });

  test("goes into a file, and comes back from it", async ({ device }) => {
    const { open } = await device();
    const page = await open();
    await ready(page);
    await typeAltitude(page, "321");
    const download = page.waitForEvent("download");
    await page.keyboard.press("Control+s");
    const path = await (await download).path();
    expect((await download).suggestedFilename()).toBe("Amber ale, batch 214.gyle");
    await typeAltitude(page, "9");
    const chooser = page.waitForEvent("filechooser");
    await page.keyboard.press("Control+o");
    await page.getByRole("dialog").getByRole("button", { name: "Open", exact: true }).click();
    await (await chooser).setFiles(path);
    await expect.poll(() => altitude(page).inputValue()).toBe("321");
  });
});

describe("a book of this device", () => {
  test("is removed on demand, and can be taken back right after", async ({ device }) => {
    const { open } = await device();
    const page = await open();
    await ready(page);
    await typeAltitude(page, "321");
    const more = page.getByRole("button", { name: "More", exact: true });
    const remove = async (): Promise<void> => {
      await more.click();
      await page.getByRole("menuitem", { name: "Remove a book" }).click();
      await page.getByRole("button", { name: "Remove it" }).click();
    };
    await remove();
    await page.getByText("is in hand. Open another book first.").waitFor();
    await page.goto(new URL("#vessels", page.url()).href);
    await page.getByRole("heading", { name: "Hot liquor tank" }).waitFor();
    await remove();
    await page.getByText("is removed from this device.").waitFor();
    await page.getByRole("button", { name: "Take it back" }).click();
    await page.getByText("is on this device again.").waitFor();
    await page.reload();
    await page.goto(page.url().replace(/#.*/, ""));
    await expect.poll(() => altitude(page).inputValue()).toBe("321");
  });

  test("that the device refuses is offered as a file", async ({ device }) => {
    const { open, context } = await device();
    await context.addInitScript(() => Reflect.deleteProperty(window, "indexedDB"));
    const page = await open();
    await ready(page);
    await altitude(page).fill("321");
    await altitude(page).press("Enter");
    const download = page.waitForEvent("download");
    await page.getByRole("button", { name: "Save a file" }).click();
    const path = await (await download).path();
    expect(readFileSync(path, "utf8")).toContain('altitude "Altitude of the brewery" = 321 m');
  });
});

test("a file that the system asks an installed Gylebook to open is opened", async ({ device }) => {
  const { open, context } = await device();
  // The system's part: a queue that hands a file over as soon as somebody takes from it.
  await context.addInitScript(() => {
    const setConsumer = async (consume: (launch: { files: FileSystemFileHandle[] }) => void): Promise<void> => {
      const folder = await navigator.storage.getDirectory();
      const handle = await folder.getFileHandle("launched.gyle", { create: true });
      const stream = await handle.createWritable();
      await stream.write('gylebook 1\ntitle "Launched"\nsheet first "Sheet of the file"\na = 1 kg\n');
      await stream.close();
      consume({ files: [handle] });
    };
    Object.defineProperty(window, "launchQueue", { value: { setConsumer } });
  });
  const page = await open();
  await page.getByRole("heading", { name: "Sheet of the file" }).waitFor();
  const manifest = await page.evaluate(async () => {
    const link = document.querySelector<HTMLLinkElement>('link[rel="manifest"]');
    return (await (await fetch(link?.href ?? "")).json()) as { file_handlers?: unknown };
  });
  expect(manifest.file_handlers).toEqual([{ action: "./", accept: { "text/plain": [".gyle"] } }]);
});

describe("a link", () => {
  test("keeps its book through a reload, before the first change and after it", async ({ device }) => {
    const { open } = await device();
    const page = await open();
    await ready(page);
    const link = await makeLink(LINKED, page.url());
    if (link.is !== "link") throw new Error(link.says);
    const linked = page.getByRole("textbox", { name: "Malt in", exact: true });
    // In the page that is open, then anew.
    await page.goto(link.url);
    await expect.poll(() => linked.inputValue()).toBe("200");
    await page.reload();
    await expect.poll(() => linked.inputValue()).toBe("200");
    expect(page.url()).toContain("#");
    await linked.fill("210");
    await linked.press("Enter");
    await expect.poll(() => page.url()).not.toContain("#");
    await page.reload();
    await expect.poll(() => linked.inputValue()).toBe("210");
  });

  test("that is broken is told of, and the page opens as it would without", async ({ device }) => {
    const { open } = await device();
    const page = await open("#book.1.AAAA");
    await page.getByText("This link is damaged").first().waitFor({ state: "attached" });
    await ready(page);
  });
});
