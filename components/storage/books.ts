/**
 * The books on this device.
 *
 * A book is kept as the text of its file and nothing else. A page has one {@link Shelf}; a book taken from it is an
 * {@link OpenBook}, is given its text after every change (`keep`), and tells by `keeping` whether that text is safe.
 * Nothing here throws at its caller: what the browser refuses is told in a sentence, and the work goes on in this tab.
 *
 * Two tabs never write one book. The browser's locks tell which tab has it; should they fail, a tab's writes carry the
 * term under which it took the book, and a write under a term that has passed goes into a copy instead.
 */

import { DeviceStore } from "./device.ts";
import type { BookFile } from "./files.ts";
import { type BookHome, OpenBook, type Outcome } from "./open-book.ts";
import { type BookEntry, MemoryStore, type StoredBook, type TakenBook } from "./store.ts";
import { type Hold, Tabs } from "./tabs.ts";
import { retitled, titleOf } from "./title.ts";
import { type Trouble, trouble, troubleOf } from "./trouble.ts";

/** The name of the database, of the locks and of the channel between tabs. */
const NAME = "gylebook";

/** Said once in each browser, for it is so at every visit. A private window is another browser each time. */
const TOLD_FLEETING = `${NAME} told that it may not last`;

/** It is told so long after the first change, in milliseconds: what was said of that change is read by then. */
const FLEETING_MS = 8_000;

/** Bytes of chance in the name of a book: enough that no two devices ever make the same. */
const ID_BYTES = 12;

export type Opening =
  | { readonly is: "open"; readonly book: OpenBook }
  /** Another tab has the book. */
  | { readonly is: "elsewhere"; readonly entry: BookEntry; readonly says: string }
  | { readonly is: "missing"; readonly says: string };

/** Where a text that begins a book comes from. From a link or with the program it is a copy until it is changed. */
export type Origin = "new" | "shipped" | "link" | "file";

/**
 * All books of this device.
 *
 * @fires books - the list changed, here or in another tab
 * @fires trouble - `trouble` is another than before
 * @fires fleeting - books are kept, but the browser may clear them by itself; fired once in the life of its storage
 */
export class Shelf extends EventTarget {
  readonly #device: DeviceStore;
  /** What the device did not take; the rest of this tab's work is on the device. */
  readonly #memory = new MemoryStore();
  readonly #tabs: Tabs;
  readonly #inHand = new Set<OpenBook>();
  /** The title under which the list last heard of a book. */
  readonly #told = new Map<string, string>();
  /** This tab among others. */
  readonly #by = newId();
  #trouble: Trouble | null = null;
  #asked = false;

  /** `name` sets this shelf apart from others of the same origin. */
  constructor({ name = NAME }: { name?: string } = {}) {
    super();
    this.#device = new DeviceStore(name);
    this.#tabs = new Tabs(name, {
      books: () => this.dispatchEvent(new Event("books")),
      give: (id) => void this.#bookInHand(id)?.letGo(),
      has: (id) => this.#bookInHand(id) !== undefined,
    });
    addEventListener("beforeunload", (event) => {
      if (this.#memory.size > 0) event.preventDefault();
    });
  }

  /** Why books are not kept on this device at present; null: they are. */
  get trouble(): Trouble | null {
    return this.#trouble;
  }

  /** All books, the one last in hand first. */
  async list(): Promise<readonly BookEntry[]> {
    const memory = await this.#memory.list();
    const device = (await this.#ask(() => this.#device.list())) ?? [];
    const only = device.filter(({ id }) => !memory.some((entry) => entry.id === id));
    return [...memory, ...only].sort((one, other) => other.opened - one.opened);
  }

  /** Begins a book with this text, at once. From a link or with the program, nothing is stored until it is changed. */
  begin(text: string, from: Origin, file: BookFile | null = null): OpenBook {
    const loose = from === "shipped" || from === "link";
    const book = this.#begin(text, file, "");
    if (!loose) {
      book.keep(text);
      if (file !== null) void book.flush().then(() => this.#home.setFile(book.id, file));
    }
    return book;
  }

  /** Takes a book in hand, unless another tab has it. */
  open(id: string): Promise<Opening> {
    return this.#open(id, (lost) => this.#tabs.hold(id, lost));
  }

  /** Takes a book in hand that another tab has: that tab keeps what it has, lets the book go and is told. */
  takeOver(id: string): Promise<Opening> {
    return this.#open(id, (lost) => this.#tabs.takeOver(id, lost));
  }

  async #open(id: string, hold: (lost: () => void) => Promise<Hold | null>): Promise<Opening> {
    const already = this.#bookInHand(id);
    if (already !== undefined) return { is: "open", book: already };
    let book: OpenBook | null = null;
    const held = await hold(() => book?.lose());
    if (held === null) {
      const entry = (await this.list()).find((each) => each.id === id);
      if (entry === undefined) return MISSING;
      return { is: "elsewhere", entry, says: `${entry.title} is open in another tab.` };
    }
    const taken = await this.#take(id);
    if (taken === null) {
      held.release();
      return this.#trouble === null ? MISSING : { is: "missing", says: this.#trouble.says };
    }
    book = new OpenBook(this.#home, taken.entry, taken.text, taken.file, Promise.resolve(held), true);
    this.#inHand.add(book);
    this.#tellBooks();
    return { is: "open", book };
  }

  /** Begins a book with the text that was last kept of another one, changed and under a title of its own if these are given. */
  async openCopy(id: string, title?: string, change = (text: string): string => text): Promise<Opening> {
    await this.#bookInHand(id)?.flush();
    const text = (await this.#memory.read(id)) ?? (await this.#ask(() => this.#device.read(id))) ?? null;
    if (text === null) return this.#trouble === null ? MISSING : { is: "missing", says: this.#trouble.says };
    const own = change(title === undefined ? text : retitled(text, title));
    const book = this.#begin(own, null, title === undefined ? COPY_MARK : "");
    book.keep(own);
    return { is: "open", book };
  }

  /** The book on this device that belongs to the same file on disk; null: none does, or the browser cannot tell. */
  async bookOfFile(file: BookFile): Promise<BookEntry | null> {
    if (file.handle === null) return null;
    const files = (await this.#ask(() => this.#device.files())) ?? new Map<string, BookFile>();
    for (const [id, known] of [...(await this.#memory.files()), ...files]) {
      const same = await known.handle?.isSameEntry(file.handle).catch(() => false);
      if (same === true) return (await this.list()).find((entry) => entry.id === id) ?? null;
    }
    return null;
  }

  /** Removes a book and its text from this device; not its file on disk. False: the device refused. */
  async remove(id: string): Promise<boolean> {
    await this.#memory.remove(id);
    const removed = await this.#ask(async () => {
      await this.#device.remove(id);
      return true;
    });
    this.#tellBooks();
    return removed === true;
  }

  #bookInHand(id: string): OpenBook | undefined {
    return [...this.#inHand].find((book) => book.id === id && !book.lost);
  }

  #begin(text: string, file: BookFile | null, mark: string): OpenBook {
    const now = Date.now();
    const title = (titleOf(text) ?? "Untitled") + mark;
    const entry = {
      id: newId(),
      title,
      changed: now,
      opened: now,
      length: text.length,
      file: file?.name ?? null,
      term: 1,
      by: this.#by,
      mark,
    };
    const book: OpenBook = new OpenBook(
      this.#home,
      entry,
      text,
      file,
      this.#tabs.hold(entry.id, () => book.lose()),
      false,
    );
    this.#inHand.add(book);
    return book;
  }

  /** What this tab alone has is newer than what the device has. */
  async #take(id: string): Promise<TakenBook | null> {
    const now = Date.now();
    return (
      (await this.#memory.take(id, this.#by, now)) ?? (await this.#ask(() => this.#device.take(id, this.#by, now)))
    );
  }

  readonly #home: BookHome = {
    write: async (entry, text): Promise<Outcome> => {
      const outcome = await this.#ask(() => this.#device.write(entry, text), true);
      if (outcome !== null) {
        await this.#memory.remove(entry.id);
        if (outcome === "kept") this.#stored(entry);
        return outcome;
      }
      await this.#memory.write(entry, text);
      return this.#trouble ?? trouble("failed");
    },
    setFile: async (id, file) => {
      await this.#memory.setFile(id, file);
      const stored = await this.#ask(async () => {
        await this.#device.setFile(id, file);
        return true;
      });
      // Some browsers have handles that cannot be stored; the name can.
      if (stored === null && file !== null) await this.#ask(() => this.#device.setFile(id, { ...file, handle: null }));
      this.#tellBooks();
    },
    setPlace: async (id, place) => {
      await this.#memory.setPlace(id, place);
      // Nothing of the work is lost with it.
      await this.#device.setPlace(id, place).catch(() => undefined);
    },
    copyOf: (entry) => {
      void this.#memory.remove(entry.id);
      const copy = { ...entry, id: newId(), term: 1, by: this.#by, opened: Date.now(), mark: COPY_MARK, file: null };
      return { entry: copy, hold: this.#tabs.hold(copy.id, () => this.#bookInHand(copy.id)?.lose()) };
    },
    closed: (book) => this.#inHand.delete(book),
  };

  /** Asks the device; null where it refuses, and `trouble` tells why. A full device still reads: only a write ends that trouble. */
  async #ask<T>(question: () => Promise<T>, writes = false): Promise<T | null> {
    try {
      const answer = await question();
      if (writes || this.#trouble?.why !== "full") this.#learn(null);
      return answer;
    } catch (error) {
      this.#learn(troubleOf(error));
      return null;
    }
  }

  #learn(found: Trouble | null): void {
    const changed = this.#trouble?.why !== found?.why;
    this.#trouble = found;
    if (changed) this.dispatchEvent(new Event("trouble"));
  }

  /** A book was kept: others hear of it, and the browser is asked once not to clear this page's storage by itself. */
  #stored({ id, title }: StoredBook): void {
    if (this.#told.get(id) !== title) this.#tellBooks();
    this.#told.set(id, title);
    if (this.#asked) return;
    this.#asked = true;
    this.#askToLast().catch(() => undefined);
  }

  /** Asks the browser not to clear by itself what is stored; where it does not promise that, it is told. */
  async #askToLast(): Promise<void> {
    const lasting = await navigator.storage?.persist?.().catch(() => false);
    if (lasting === true || localStorage.getItem(TOLD_FLEETING) !== null) return;
    setTimeout(() => {
      this.dispatchEvent(new Event("fleeting"));
      try {
        localStorage.setItem(TOLD_FLEETING, "yes");
      } catch {
        // It is told once more at the next visit.
      }
    }, FLEETING_MS);
  }

  #tellBooks(): void {
    this.dispatchEvent(new Event("books"));
    this.#tabs.tellBooks();
  }
}

const COPY_MARK = " (copy)";

const MISSING: Opening = { is: "missing", says: "This book is no longer on this device." };

function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(ID_BYTES));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
