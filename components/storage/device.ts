import { type DBSchema, type IDBPDatabase, type IDBPTransaction, openDB, type StoreNames } from "idb";
import type { BookFile } from "./files.ts";
import { isOvertaken, type Place, type Store, type StoredBook, type TakenBook, type Written } from "./store.ts";

/** The store's form as it is now. Texts stand apart, so that listing books does not read them. */
interface Schema extends DBSchema {
  books: { key: string; value: StoredBook };
  texts: { key: string; value: string };
  files: { key: string; value: BookFile };
}

/** A book in the first form: one record, text and all. */
interface FirstForm {
  id: string;
  title: string;
  text: string;
  changed: number;
}

type Upgrading = IDBPTransaction<Schema, StoreNames<Schema>[], "versionchange">;

/** Each step takes the store from one form to the next, all within the transaction that the browser makes for it: whole or not at all. */
const STEPS: readonly ((database: IDBPDatabase<Schema>, upgrading: Upgrading) => Promise<void>)[] = [
  async (database) => {
    database.createObjectStore("books", { keyPath: "id" });
  },
  async (database, upgrading) => {
    const texts = database.createObjectStore("texts");
    database.createObjectStore("files");
    const books = upgrading.objectStore("books");
    for (const old of (await books.getAll()) as unknown as FirstForm[]) {
      const { id, title, text, changed } = old;
      await texts.put(text, id);
      await books.put({
        id,
        title,
        changed,
        opened: changed,
        length: text.length,
        file: null,
        term: 1,
        by: "",
        mark: "",
      });
    }
  },
];

/** The version of the store that this program writes. */
export const STORE_VERSION = STEPS.length;

/** A store that has not opened after this long is taken as not answering; it is asked again at the next change. */
const OPEN_MS = 10_000;

/** Kept means on the disk, not in a buffer that a flat battery takes with it. */
const DURABLE = { durability: "strict" } as const;

/** The browser's own database. */
export class DeviceStore implements Store {
  readonly #name: string;
  #database: Promise<IDBPDatabase<Schema>> | null = null;

  constructor(name: string) {
    this.#name = name;
  }

  async list(): Promise<readonly StoredBook[]> {
    return this.#with((database) => database.getAll("books"));
  }

  async read(id: string): Promise<string | null> {
    return this.#with(async (database) => (await database.get("texts", id)) ?? null);
  }

  async take(id: string, by: string, now: number): Promise<TakenBook | null> {
    return this.#with(async (database) => {
      const work = database.transaction(["books", "texts", "files"], "readwrite", DURABLE);
      const known = await work.objectStore("books").get(id);
      const text = await work.objectStore("texts").get(id);
      const file = await work.objectStore("files").get(id);
      if (known === undefined || text === undefined) return null;
      const entry = { ...known, term: known.term + 1, by, opened: now };
      await done(work, [work.objectStore("books").put(entry)]);
      return { entry, text, file: file ?? null };
    });
  }

  async write(entry: StoredBook, text: string): Promise<Written> {
    return this.#with(async (database) => {
      const work = database.transaction(["books", "texts"], "readwrite", DURABLE);
      const known = await work.objectStore("books").get(entry.id);
      if (isOvertaken(known, entry)) return "overtaken";
      await done(work, [work.objectStore("books").put(entry), work.objectStore("texts").put(text, entry.id)]);
      return "kept";
    });
  }

  async files(): Promise<ReadonlyMap<string, BookFile>> {
    return this.#with(async (database) => {
      const [ids, files] = await Promise.all([database.getAllKeys("files"), database.getAll("files")]);
      return new Map(files.map((file, at) => [ids[at] ?? "", file]));
    });
  }

  async setFile(id: string, file: BookFile | null): Promise<void> {
    await this.#with(async (database) => {
      const work = database.transaction(["books", "files"], "readwrite", DURABLE);
      const known = await work.objectStore("books").get(id);
      if (known === undefined) return;
      const files = work.objectStore("files");
      await done(work, [
        work.objectStore("books").put({ ...known, file: file?.name ?? null }),
        file === null ? files.delete(id) : files.put(file, id),
      ]);
    });
  }

  async setPlace(id: string, place: Place): Promise<void> {
    await this.#with(async (database) => {
      const work = database.transaction("books", "readwrite");
      const known = await work.store.get(id);
      if (known !== undefined) await done(work, [work.store.put({ ...known, place })]);
    });
  }

  async remove(id: string): Promise<void> {
    await this.#with(async (database) => {
      const work = database.transaction(["books", "texts", "files"], "readwrite", DURABLE);
      await done(work, [
        work.objectStore("books").delete(id),
        work.objectStore("texts").delete(id),
        work.objectStore("files").delete(id),
      ]);
    });
  }

  /** Does the work on the open database; where the connection turns out to be closed, once more on a new one. */
  async #with<T>(work: (database: IDBPDatabase<Schema>) => Promise<T>): Promise<T> {
    const database = await this.#open();
    try {
      return await work(database);
    } catch (error) {
      if (!(error instanceof DOMException) || error.name !== "InvalidStateError") throw error;
      this.#database = null;
      return work(await this.#open());
    }
  }

  async #open(): Promise<IDBPDatabase<Schema>> {
    this.#database ??= this.#connect();
    let timer: ReturnType<typeof setTimeout> | undefined;
    const late = new Promise<never>((_, reject) => {
      timer = setTimeout(() => reject(new DOMException("The store does not open.", "TimeoutError")), OPEN_MS);
    });
    try {
      return await Promise.race([this.#database, late]);
    } finally {
      clearTimeout(timer);
    }
  }

  async #connect(): Promise<IDBPDatabase<Schema>> {
    const forget = (): void => {
      this.#database = null;
    };
    try {
      return await openDB<Schema>(this.#name, STORE_VERSION, {
        async upgrade(database, before, _now, upgrading) {
          for (const step of STEPS.slice(before)) await step(database, upgrading);
        },
        // A newer program in another tab waits for this connection to close before it brings the store into its form.
        blocking(_now, _wanted, event) {
          forget();
          (event.target as IDBDatabase).close();
        },
        terminated: forget,
      });
    } catch (error) {
      forget();
      throw error;
    }
  }
}

/** Ends a transaction now, and rejects with the transaction's own reason where it fails (a full disk tells only there). */
async function done(
  work: { commit(): void; readonly done: Promise<void>; readonly error: DOMException | null },
  requests: readonly Promise<unknown>[],
): Promise<void> {
  try {
    work.commit();
    await Promise.all([...requests, work.done]);
  } catch (error) {
    // Only after the transaction has ended is its reason known.
    await work.done.catch(() => undefined);
    throw work.error ?? error;
  }
}
