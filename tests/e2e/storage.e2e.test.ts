import type { Page } from "playwright";
import { afterAll, beforeAll, describe, expect } from "vitest";
import { test } from "../support/page.ts";
import { alsoPlain, PLAIN, REFUSED, serveStorage } from "../support/storage-harness.ts";

const book = (n: number, length = 0): string => `gylebook 1\ntitle "Tried"\nn = ${n}\n# ${"x".repeat(length)}\n`;

/** The lengths of all books on the device, by title. */
const lengths = async (page: Page): Promise<Record<string, number>> =>
  Object.fromEntries((await page.evaluate(() => storagePage.list())).map(({ title, length }) => [title, length]));

/** Longer than a tab waits for another to let a book go, in milliseconds. */
const BUSY_MS = 4_000;

let server: Awaited<ReturnType<typeof serveStorage>>;

beforeAll(async () => {
  server = await serveStorage();
});

afterAll(() => server.close());

/** Leaves this page's origin little room; gives what lifts that again. */
const narrow = async (page: Page): Promise<() => Promise<void>> => {
  const control = await page.context().newCDPSession(page);
  const origin = server.url.slice(0, -1);
  await control.send("Storage.overrideQuotaForOrigin", { origin, quotaSize: 100_000 });
  return async () => {
    await control.send("Storage.overrideQuotaForOrigin", { origin });
  };
};

describe("a device", () => {
  test("that is full is told of, keeps what it had, and takes the rest once there is room", async ({ device }) => {
    const { context } = await device();
    const page = await context.newPage();
    await page.goto(server.url);
    const makeRoom = await narrow(page);
    const taken = await page.evaluate((text) => storagePage.take(null, text), book(1));
    expect(taken.keeping.is).toBe("kept");
    const full = await page.evaluate((text) => storagePage.keep(text), book(2, 3_000_000));
    expect(full.keeping).toMatchObject({ is: "memory", why: "full", says: expect.stringContaining("no room") });
    expect(full.trouble).toBe(full.keeping.says);
    // Another tab still finds what was kept before.
    const other = await context.newPage();
    await other.goto(server.url);
    const found = await other.evaluate((id) => storagePage.take(id), taken.id);
    expect(found.text).toBe(book(1));
    // The first tab's work is not in the other's book, and goes into a copy as soon as there is room.
    await makeRoom();
    await expect
      .poll(async () => (await page.evaluate(() => storagePage.settle())).keeping.is, { timeout: 10_000 })
      .toBe("kept");
    expect(await lengths(other)).toEqual({ Tried: book(1).length, "Tried (copy)": book(2, 3_000_000).length });
  });

  test("that has room again is used again though nothing more is typed", async ({ device }) => {
    const { context } = await device();
    const page = await context.newPage();
    await page.goto(server.url);
    const makeRoom = await narrow(page);
    const { id } = await page.evaluate((text) => storagePage.take(null, text), book(1));
    const full = await page.evaluate((text) => storagePage.keep(text), book(2, 3_000_000));
    expect(full.keeping.is).toBe("memory");
    await makeRoom();
    await expect.poll(() => page.evaluate(() => storagePage.keeping()?.is), { timeout: 15_000 }).toBe("kept");
    expect((await page.evaluate(() => storagePage.list())).map((entry) => [entry.id, entry.length])).toEqual([
      [id, book(2, 3_000_000).length],
    ]);
  });

  test("that refuses to store is told of, and the work goes on in the tab", async ({ device }) => {
    const { context } = await device();
    const page = await context.newPage();
    await page.goto(server.url + REFUSED);
    const taken = await page.evaluate((text) => storagePage.take(null, text), book(1));
    expect(taken.keeping).toMatchObject({
      is: "memory",
      why: "refused",
      says: expect.stringContaining("save it as a file"),
    });
    const kept = await page.evaluate((text) => storagePage.keep(text), book(2));
    expect(kept.keeping.is).toBe("memory");
    expect((await page.evaluate(() => storagePage.list())).map(({ id, length }) => [id, length])).toEqual([
      [taken.id, book(2).length],
    ]);
    const leave = await page.evaluate(() => dispatchEvent(new Event("beforeunload", { cancelable: true })));
    expect(leave, "the tab asks before it is closed").toBe(false);
  });
});

describe("two tabs", () => {
  for (const plain of [false, true])
    test(`share no book${plain ? ", on a plain connection without locks either" : ""}`, async ({ device }) => {
      const { context } = await device();
      if (plain) await alsoPlain(context, server.url);
      const pages = [await context.newPage(), await context.newPage()] as const;
      for (const page of pages) await page.goto(plain ? PLAIN : server.url);
      const [one, two] = pages;
      expect(await one.evaluate(() => [isSecureContext, "locks" in navigator])).toEqual([!plain, !plain]);
      const { id } = await one.evaluate((text) => storagePage.take(null, text), book(1));
      expect(await two.evaluate((id) => storagePage.open(id), id)).toEqual({
        is: "elsewhere",
        says: "Tried is open in another tab.",
      });
      expect((await two.evaluate((id) => storagePage.take(id), id)).text).toBe(book(1));
      await expect.poll(() => one.evaluate(() => storagePage.keeping()?.is)).toBe("elsewhere");
      await two.evaluate((text) => storagePage.keep(text), book(2));
      const copy = await one.evaluate((text) => storagePage.keep(text), book(3, 10));
      expect(copy.keeping).toMatchObject({ is: "kept", says: expect.stringContaining("copy") });
      expect(await lengths(one)).toEqual({ Tried: book(2).length, "Tried (copy)": book(3, 10).length });
      await one.close();
      await two.close();
      const third = await context.newPage();
      await third.goto(plain ? PLAIN : server.url);
      expect((await third.evaluate((id) => storagePage.open(id), id)).is, "a closed tab holds nothing").toBe("open");
    });

  test("lose nothing though the first answers nobody while the second takes its book", async ({ device }) => {
    const { context } = await device();
    const [one, two] = [await context.newPage(), await context.newPage()];
    for (const page of [one, two]) await page.goto(server.url);
    const { id } = await one.evaluate((text) => storagePage.take(null, text), book(1));
    // A tab that is at work, or put to sleep by the browser, hears the other one only later.
    await one.evaluate((busy) => {
      setTimeout(() => {
        const end = performance.now() + busy;
        while (performance.now() < end);
      });
    }, BUSY_MS);
    expect((await two.evaluate((id) => storagePage.take(id), id)).text).toBe(book(1));
    await two.evaluate((text) => storagePage.keep(text), book(2));
    await expect.poll(() => one.evaluate(() => storagePage.keeping()?.is)).toBe("elsewhere");
    const copy = await one.evaluate((text) => storagePage.keep(text), book(3, 10));
    expect(copy.id).not.toBe(id);
    expect(await lengths(two)).toEqual({ Tried: book(2).length, "Tried (copy)": book(3, 10).length });
  });
});
