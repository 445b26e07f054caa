import { openDB } from "idb";
import { afterEach, describe, expect, test } from "vitest";
import { Shelf } from "./books.ts";
import { STORE_VERSION } from "./device.ts";
import { readFile } from "./files.ts";
import type { OpenBook } from "./open-book.ts";

const bookText = (title: string, body = ""): string => `gylebook 1\ntitle "${title}"\nsheet mash\n${body}`;

let made = 0;

/** The name of a store that no other test has. */
const fresh = (): string => {
  made += 1;
  return `storage-test-${made}-${performance.timeOrigin}`;
};

const opened = async (shelf: Shelf, id: string): Promise<OpenBook> => {
  const opening = await shelf.open(id);
  if (opening.is !== "open") throw new Error(opening.says);
  return opening.book;
};

/** A book that another shelf, as another tab would, finds on the device. */
const textIn = async (name: string, id: string): Promise<string | null> => {
  const database = await openDB(name);
  const text: unknown = await database.get("texts", id);
  database.close();
  return typeof text === "string" ? text : null;
};

const until = async (holds: () => boolean): Promise<void> => {
  const end = performance.now() + 5000;
  while (!holds()) {
    if (performance.now() > end) throw new Error("it did not come true");
    await new Promise((later) => setTimeout(later, 5));
  }
};

afterEach(async () => {
  for (const { name } of await indexedDB.databases()) if (name !== undefined) indexedDB.deleteDatabase(name);
});

describe("a book", () => {
  test("is kept as it is typed, and found again with its last text", async () => {
    const name = fresh();
    const shelf = new Shelf({ name });
    const book = shelf.begin(bookText("Amber ale"), "new");
    const seen: string[] = [];
    book.addEventListener("keeping", () => seen.push(book.keeping.is));
    for (let n = 0; n < 50; n++) book.keep(() => bookText("Amber ale", `n = ${n}\n`));
    expect(book.keeping.is).toBe("keeping");
    expect(book.atRisk).toBe(true);
    await until(() => book.keeping.is === "kept");
    expect(book.atRisk).toBe(false);
    expect(seen).toEqual(["kept"]);
    expect(await textIn(name, book.id)).toBe(bookText("Amber ale", "n = 49\n"));
    await book.close();
    const again = await opened(new Shelf({ name }), book.id);
    expect(again.text).toBe(bookText("Amber ale", "n = 49\n"));
    expect(again.keeping.is).toBe("kept");
  });

  test("remembers where it was open, from its first change on, and writes no text for it", async () => {
    const name = fresh();
    const shelf = new Shelf({ name });
    const boil = { sheet: "boil", view: "brew", lens: "US" } as const;
    const book = shelf.begin(bookText("Amber ale"), "shipped");
    book.stay(boil);
    expect(await shelf.list()).toEqual([]);
    book.keep(bookText("Amber ale", "a = 1\n"));
    await book.close();
    const again = await opened(new Shelf({ name }), book.id);
    expect(again.place).toEqual(boil);
    again.stay({ ...boil, sheet: "" });
    await again.close();
    const third = await opened(new Shelf({ name }), book.id);
    expect([third.place?.sheet, third.text]).toEqual(["", bookText("Amber ale", "a = 1\n")]);
    await third.close();
  });

  test("asks for its text once for many changes, and waits no longer than a tenth of a second", async () => {
    const shelf = new Shelf({ name: fresh() });
    const book = shelf.begin(bookText("Slow"), "new");
    await book.flush();
    let asked = 0;
    for (let n = 0; n < 100; n++)
      book.keep(() => {
        asked += 1;
        const end = performance.now() + 60; // a very large book takes as long to write out
        while (performance.now() < end);
        return bookText("Slow", `n = ${n}\n`);
      });
    await until(() => book.keeping.is === "kept");
    expect(asked).toBe(1);
    const started = performance.now();
    book.keep(() => bookText("Slow", `waited = ${performance.now() - started}\n`));
    await until(() => book.keeping.is === "kept");
    expect(Number(/waited = ([\d.]+)/.exec(book.text)?.[1])).toBeLessThan(250);
  });

  test("that is closed is asked for its text at once, before another is shown in its place", async () => {
    const name = fresh();
    const shelf = new Shelf({ name });
    const book = shelf.begin(bookText("First"), "new"); // being written when the change comes
    let shown = bookText("First", "n = 1\n");
    await new Promise((later) => setTimeout(later));
    book.keep(() => shown);
    const closed = book.close();
    shown = bookText("Second");
    await closed;
    expect(await textIn(name, book.id)).toBe(bookText("First", "n = 1\n"));
  });

  test("from a link or with the program is stored with its first change only", async () => {
    const shelf = new Shelf({ name: fresh() });
    const book = shelf.begin(bookText("Lent"), "link");
    expect(book.keeping.is).toBe("loose");
    await book.flush();
    expect(await shelf.list()).toEqual([]);
    book.keep(bookText("Lent", "n = 1\n"));
    expect((await book.flush()).is).toBe("kept");
    expect((await shelf.list()).map(({ title }) => title)).toEqual(["Lent"]);
  });

  test("is copied under another title, and removed", async () => {
    const shelf = new Shelf({ name: fresh() });
    const book = shelf.begin(bookText("Gyle 7", "n = 1\n"), "new");
    const copy = await shelf.openCopy(book.id, "Gyle 8");
    if (copy.is !== "open") throw new Error(copy.says);
    await copy.book.flush();
    expect(copy.book.text).toBe(bookText("Gyle 8", "n = 1\n"));
    expect((await shelf.list()).map(({ title }) => title).sort()).toEqual(["Gyle 7", "Gyle 8"]);
    await book.close();
    expect(await shelf.remove(book.id)).toBe(true);
    expect((await shelf.list()).map(({ title }) => title)).toEqual(["Gyle 8"]);
    expect(await shelf.open(book.id)).toEqual({ is: "missing", says: "This book is no longer on this device." });
    expect(await shelf.openCopy(book.id)).toMatchObject({ is: "missing" });
  });

  test("last in hand stands first in the list", async () => {
    const shelf = new Shelf({ name: fresh() });
    for (const title of ["A", "B", "C"]) {
      const book = shelf.begin(bookText(title), "new");
      await book.close();
      await new Promise((later) => setTimeout(later, 3));
    }
    const first = (await shelf.list()).find(({ title }) => title === "A");
    const book = await opened(shelf, first?.id ?? "");
    expect((await shelf.list()).map(({ title }) => title)).toEqual(["A", "C", "B"]);
    book.keep(bookText("A again"));
    await book.flush();
    expect((await shelf.list()).map(({ title }) => title)).toEqual(["A again", "C", "B"]);
  });

  test("knows the file it came from after the tab was closed, and saves into it", async () => {
    const name = fresh();
    const root = await navigator.storage.getDirectory();
    const handle = await root.getFileHandle("kept.gyle", { create: true });
    const picked = await readFile(await handle.getFile(), handle);
    if (picked.is !== "text") throw new Error("not read");
    const shelf = new Shelf({ name });
    const book = shelf.begin(bookText("From a file"), "file", picked.file);
    await book.close();
    await until(() => book.keeping.is === "kept");
    const other = new Shelf({ name });
    await expect.poll(async () => (await other.list())[0]?.file).toBe("kept.gyle");
    const again = await root.getFileHandle("kept.gyle");
    const entry = await other.bookOfFile({ ...picked.file, handle: again });
    expect(entry?.id).toBe(book.id);
    const reopened = await opened(other, book.id);
    expect(await reopened.checkFile()).toBe("same");
    expect((await reopened.save()).is).toBe("saved");
    expect(await (await handle.getFile()).text()).toBe(bookText("From a file"));
    await root.removeEntry("kept.gyle");
    expect(await reopened.checkFile()).toBe("gone");
  });
});

describe("two tabs", () => {
  test("do not have one book: the second is told, and may take it over or open a copy", async () => {
    const name = fresh();
    const [one, two] = [new Shelf({ name }), new Shelf({ name })];
    const first = one.begin(bookText("Shared", "n = 1\n"), "new");
    await first.flush();
    expect(await two.open(first.id)).toMatchObject({ is: "elsewhere", says: "Shared is open in another tab." });

    const copy = await two.openCopy(first.id);
    expect(copy.is === "open" && copy.book.title).toBe("Shared (copy)");

    first.keep(bookText("Shared", "n = 2\n")); // not yet on the device when the other tab asks
    const taken = await two.takeOver(first.id);
    if (taken.is !== "open") throw new Error(taken.says);
    expect(taken.book.text).toBe(bookText("Shared", "n = 2\n"));
    await until(() => first.keeping.is === "elsewhere");

    taken.book.keep(bookText("Shared", "n = 3\n"));
    first.keep(bookText("Shared", "n = typed in the first tab\n"));
    await Promise.all([taken.book.flush(), first.flush()]);
    expect(first.id).not.toBe(taken.book.id);
    expect(first.keeping).toMatchObject({ is: "kept", says: expect.stringContaining("copy") });
    expect(await textIn(name, taken.book.id)).toBe(bookText("Shared", "n = 3\n"));
    expect(await textIn(name, first.id)).toBe(bookText("Shared", "n = typed in the first tab\n"));
  });

  test("hand a book back and forth", async () => {
    const name = fresh();
    const shelves = [new Shelf({ name }), new Shelf({ name })];
    let book = shelves[0]?.begin(bookText("Back", "n = 0\n"), "new");
    await book?.flush();
    for (let n = 1; n <= 10; n++) {
      book?.keep(bookText("Back", `n = ${n}\n`));
      const taken = await shelves[n % 2]?.takeOver(book?.id ?? "");
      if (taken?.is !== "open") throw new Error("not taken");
      expect(taken.book.text).toBe(bookText("Back", `n = ${n}\n`));
      book = taken.book;
    }
    expect(await shelves[0]?.list()).toHaveLength(1);
  });

  test("lose nothing though one was frozen while the other took its book by force", async () => {
    const name = fresh();
    const frozen = new Shelf({ name });
    const book = frozen.begin(bookText("Frozen", "n = 1\n"), "new");
    await book.flush();
    // A frozen tab hears nothing and answers nothing: its book is under a later term when it wakes.
    const database = await openDB(name);
    const entry = await database.get("books", book.id);
    await database.put("books", { ...entry, term: entry.term + 1, by: "another tab" });
    await database.put("texts", bookText("Frozen", "n = other\n"), book.id);
    database.close();
    const id = book.id;
    book.keep(bookText("Frozen", "n = 2\n"));
    expect((await book.flush()).is).toBe("kept");
    expect(book.id).not.toBe(id);
    expect(await textIn(name, id)).toBe(bookText("Frozen", "n = other\n"));
    expect(await textIn(name, book.id)).toBe(bookText("Frozen", "n = 2\n"));
  });

  test("take a book by force from one that does not answer", async () => {
    const name = fresh();

    const shelf = new Shelf({ name });
    const seed = shelf.begin(bookText("Deaf"), "new");
    await seed.close();
    let lost = false;
    const deaf = navigator.locks
      .request(`${name}/${seed.id}`, () => new Promise(() => undefined))
      .catch(() => {
        lost = true;
      });
    expect(await shelf.open(seed.id)).toMatchObject({ is: "elsewhere" });
    expect(await shelf.takeOver(seed.id)).toMatchObject({ is: "open" });
    await deaf;
    expect(lost).toBe(true);
  });

  test("hear of one another's books", async () => {
    const name = fresh();
    const [one, two] = [new Shelf({ name }), new Shelf({ name })];
    let heard = 0;
    two.addEventListener("books", () => {
      heard += 1;
    });
    one.begin(bookText("News"), "new");
    await until(() => heard > 0);
    expect((await two.list()).map(({ title }) => title)).toEqual(["News"]);
  });
});

describe("what an older program kept", () => {
  test("is all there", async () => {
    const name = fresh();
    const older = await openDB(name, 1, {
      upgrade(database) {
        database.createObjectStore("books", { keyPath: "id" });
      },
    });
    const texts = ["A", "B", "C"].map((title) => bookText(title, `n = "${title}"\r\n`));
    for (const [at, text] of texts.entries())
      await older.put("books", { id: `old-${at}`, title: "ABC"[at], text, changed: 1000 + at });
    older.close();
    const shelf = new Shelf({ name });
    expect((await shelf.list()).map(({ id, title, changed, length }) => ({ id, title, changed, length }))).toEqual(
      [2, 1, 0].map((at) => ({ id: `old-${at}`, title: "ABC"[at], changed: 1000 + at, length: texts[at]?.length })),
    );
    const book = await opened(shelf, "old-1");
    expect(book.text).toBe(texts[1]);
    book.keep(bookText("B2"));
    expect((await book.flush()).is).toBe("kept");
    expect(await textIn(name, "old-1")).toBe(bookText("B2"));
    expect(await textIn(name, "old-2")).toBe(texts[2]);
  });

  test("is brought up to date though a tab of the older program is still open", async () => {
    const name = fresh();
    const older = new Shelf({ name });
    const book = older.begin(bookText("Still open"), "new");
    await book.flush();
    const newer = await openDB(name, STORE_VERSION + 1); // waits until the older one's connection is closed
    newer.close();
    book.keep(bookText("Still open", "n = 1\n"));
    expect(await book.flush()).toMatchObject({
      is: "memory",
      why: "newer",
      says: expect.stringContaining("newer Gylebook"),
    });
    expect(older.trouble?.why).toBe("newer");
    expect(book.text).toBe(bookText("Still open", "n = 1\n"));
  });
});

describe("storage that fails", () => {
  test("of a database that a newer program wrote is told, and the work goes on in this tab", async () => {
    const name = fresh();
    (await openDB(name, STORE_VERSION + 7)).close();
    const shelf = new Shelf({ name });
    let told = 0;
    shelf.addEventListener("trouble", () => {
      told += 1;
    });
    expect(await shelf.list()).toEqual([]);
    expect(shelf.trouble?.why).toBe("newer");
    const book = shelf.begin(bookText("Only here"), "new");
    expect((await book.flush()).is).toBe("memory");
    expect(book.atRisk).toBe(true);
    await book.close();
    expect((await opened(shelf, book.id)).text).toBe(bookText("Only here"));
    expect(told).toBe(1);
    const leaving = new Event("beforeunload", { cancelable: true });
    dispatchEvent(leaving);
    expect(leaving.defaultPrevented).toBe(true);
    await shelf.remove(book.id);
  });

  test("under an open book heals by itself when it was only cleared or closed", async () => {
    const name = fresh();
    const shelf = new Shelf({ name });
    const book = shelf.begin(bookText("Cleared"), "new");
    await book.flush();
    await new Promise((done) => {
      indexedDB.deleteDatabase(name).onsuccess = done; // as "clear site data" does
    });
    book.keep(bookText("Cleared", "n = 1\n"));
    expect((await book.flush()).is).toBe("kept");
    expect(await textIn(name, book.id)).toBe(bookText("Cleared", "n = 1\n"));
  });
});
