import type { Session } from "../../engine/index.ts";
import type { SlipAct } from "../slip/slip.ts";
import { type Opening, type Origin, Shelf } from "../storage/books.ts";
import {
  type BookFile,
  droppedFiles,
  launchedFiles,
  type Picked,
  pickFile,
  type Saved,
  type SaveHow,
} from "../storage/files.ts";
import type { LinkRead } from "../storage/link.ts";
import type { Keeping, OpenBook } from "../storage/open-book.ts";
import type { BookEntry, Place } from "../storage/store.ts";
import { nextTitle } from "../storage/title.ts";
import { readShippedBook, SHIPPED_BOOKS } from "./books.ts";
import { type Entry, entryNow, Trail } from "./trail.ts";

/** How a book is kept, short enough for the head on a phone; the sentence is told where there is something to do. */
const BRIEFLY: Readonly<Record<Keeping["is"], string>> = {
  loose: "Kept here from your first change on.",
  keeping: "Keeping on this device …",
  kept: "Kept on this device.",
  memory: "Only in this tab: save a file.",
  elsewhere: "Taken over by another tab.",
};

const FLEETING =
  "Books are kept on this device, but the browser may clear them: when room runs short and, in a private window, when that is closed. Save a file of what must last.";

/** What the keeper needs of the page. */
export interface KeeperHome {
  /** Where dialogs stand. */
  readonly host: () => Element;
  readonly session: () => Session;
  /** A book was taken in hand: this is its text, and where it was open; `first`: it is the sample at a first visit. Gives where it is open now. */
  readonly show: (text: string, place: Place | null, first: boolean) => Place;
  /** The way back leads to a place of the book in hand. */
  readonly back: (to: Entry) => void;
  readonly say: (says: string, grave?: boolean, act?: SlipAct) => void;
  /** How the book is kept, in a few words. */
  readonly kept: (says: string) => void;
}

const sentence = (refused: unknown): string => (refused instanceof Error ? refused.message : String(refused));

/**
 * The book in hand and where it comes from and goes to: this device, files, links, and the books that come with Gylebook.
 * The one place of the page that reaches storage.
 */
export class Keeper {
  readonly home: KeeperHome;
  readonly shelf = new Shelf();
  readonly #trail: Trail;
  #book: OpenBook | null = null;

  constructor(home: KeeperHome) {
    this.home = home;
    this.#trail = new Trail((to) => void this.#back(to));
    this.shelf.addEventListener("trouble", () => {
      if (this.shelf.trouble !== null) home.say(this.shelf.trouble.says, true);
    });
    this.shelf.addEventListener("fleeting", () => home.say(FLEETING));
    // A link that is pasted into the address of this page does not load it anew. What the history leads back to is no link.
    addEventListener("hashchange", () => {
      if (entryNow() === null) void this.#addressed();
    });
  }

  /** The name of the book in hand on this device; null: there is none yet. */
  get id(): string | null {
    return this.#book?.id ?? null;
  }

  /**
   * Takes a first book in hand: of the page that was loaded anew, of the address, the one last in hand, or the sample; then
   * any that the system wants opened.
   */
  async begin(): Promise<void> {
    const here = entryNow();
    const books = await this.shelf.list();
    const known = books.find(({ id }) => id === here?.book);
    const [last] = books;
    if (known === undefined ? !(await this.#addressed()) : !(await this.openKept(known))) {
      if (last === undefined || last === known || !(await this.openKept(last)))
        await this.openShipped("brew-day", last === undefined);
    }
    launchedFiles((picked) => this.#picked(picked));
  }

  /** Takes the book in hand that the address carries or names; false: it does neither. */
  async #addressed(): Promise<boolean> {
    const link = await carried();
    if (link.is === "broken") {
      this.#drop();
      this.home.say(link.says, true);
      return false;
    }
    const named = SHIPPED_BOOKS.find(({ name }) => location.hash === `#${name}`);
    if (link.is === "none" && named === undefined) return false;
    // While the book is taken in hand, the fragment is its own and not that of the book before it.
    this.#addressing = true;
    if (link.is === "text") {
      this.#begin(link.text, "link");
      this.home.say("This book came in a link. It is kept on this device with your first change.");
    } else if (named !== undefined) await this.openShipped(named.name);
    this.#addressing = false;
    return true;
  }

  #addressing = false;

  /** The fragment is taken off the address once its book is kept here: a reload must neither lose it nor bring its old text back over newer work. */
  #drop(): void {
    if (location.hash !== "") history.replaceState(history.state, "", location.pathname + location.search);
  }

  /** The history leads to a place: of the book in hand, of another one on this device, or of one that the address carries. */
  async #back(to: Entry): Promise<void> {
    if (to.book !== this.id) {
      const known = (await this.shelf.list()).find(({ id }) => id === to.book);
      if (known === undefined) await this.#addressed();
      else await this.openKept(known);
    }
    if (this.#book?.keeping.is === "kept") this.#drop();
    this.home.back(to);
  }

  /** The reader moved within the book in hand; `left` is the line that was in hand before. */
  moved(place: Place, left: string | null): void {
    if (this.#book === null) return;
    this.#book.stay(place);
    this.#trail.moved(this.#book.id, place, left);
  }

  #begin(text: string, from: Origin, file: BookFile | null = null, first = false): void {
    this.take(this.shelf.begin(text, from, file), first);
  }

  /** Takes an open book in hand; the one before it is let go. */
  take(book: OpenBook, first = false): void {
    const before = this.#book;
    if (before !== book) void before?.close();
    this.#book = book;
    let toldCopy = false;
    const tell = (): void => {
      if (this.#book !== book) return;
      const { keeping } = book;
      this.home.kept(BRIEFLY[keeping.is]);
      if (keeping.is === "kept") this.#drop();
      if (keeping.is === "memory")
        this.home.say(keeping.says, true, { label: "Save a file", run: () => void this.#saveFile() });
      if (keeping.is === "elsewhere") this.home.say(keeping.says, true);
      if (book.copied && keeping.is === "kept" && !toldCopy) {
        toldCopy = true;
        this.home.say(keeping.says);
      }
    };
    book.addEventListener("keeping", tell);
    const here = entryNow();
    // A book that is not kept has another name each time the page is loaded.
    const known = here?.book === book.id || (before === null && book.keeping.is === "loose");
    const shown = this.home.show(book.text, known && here !== null ? here : book.place, first);
    this.#trail.moved(book.id, shown, null, this.#addressing);
    tell();
  }

  /** Keeps the book's text on the device after a change. */
  keep(): void {
    const session = this.home.session();
    this.#book?.keep(() => session.text());
  }

  /** Everything typed is on the device when this resolves, or it was told why not. */
  async flush(): Promise<void> {
    await this.#book?.flush();
  }

  /** Books of this device, the one last in hand first. */
  list(): Promise<readonly BookEntry[]> {
    return this.shelf.list();
  }

  /** Takes a book of this device in hand; asks when another tab has it. False: it is not in hand. */
  async openKept({ id }: BookEntry): Promise<boolean> {
    return this.#opened(await this.shelf.open(id));
  }

  async #opened(opening: Opening): Promise<boolean> {
    if (opening.is === "open") {
      this.take(opening.book);
      return true;
    }
    if (opening.is === "missing") {
      this.home.say(opening.says, true);
      return false;
    }
    const { entry, says } = opening;
    const how = await (await import("./save.ts")).openElsewhere(this.home.host(), says);
    if (how === null) return false;
    return this.#opened(how === "take" ? await this.shelf.takeOver(entry.id) : await this.shelf.openCopy(entry.id));
  }

  async openShipped(name: string, first = false): Promise<void> {
    try {
      this.#begin(await readShippedBook(name), "shipped", null, first);
    } catch (refused) {
      this.home.say(sentence(refused), true);
    }
  }

  /** Begins a book with this text. */
  openNew(text: string): void {
    this.#begin(text, "new");
  }

  /** Lets a file be chosen and takes it in hand. */
  async openFile(): Promise<void> {
    this.#picked(await pickFile());
  }

  /** Takes what was dropped on the page in hand. Call in the handler of the drop. */
  async openDropped(data: DataTransfer): Promise<void> {
    const [first] = await droppedFiles(data);
    if (first !== undefined) this.#picked(first);
  }

  #picked(picked: Picked): void {
    if (picked.is === "failed") this.home.say(picked.says, true);
    if (picked.is === "text") void this.#file(picked.text, picked.file);
  }

  /** A file that this device already keeps a book of is that book, unless the file is newer. */
  async #file(text: string, file: BookFile): Promise<void> {
    const known = await this.shelf.bookOfFile(file);
    if (known !== null && (await this.openKept(known)) && this.#book?.text === text) return;
    this.#begin(text, "file", file);
    this.home.say(`${file.name} is open.`);
  }

  async #saveFile(): Promise<void> {
    await (await import("./save.ts")).save(this);
  }

  /** Saves the book into its file, or one that is chosen, or as a download. */
  async save(how?: SaveHow): Promise<Saved> {
    return (await this.#book?.save(how)) ?? { is: "cancelled" };
  }

  /** A title for the next gyle, one that no book of this device has. */
  async nextTitle(title: string): Promise<string> {
    const books = await this.shelf.list();
    return nextTitle(
      title,
      books.map((book) => book.title),
    );
  }

  /** Keeps the book in hand as it is, and goes on in a copy under another title; `change` makes the text that the copy begins with. */
  async copy(title: string, change?: (text: string) => string): Promise<boolean> {
    const book = this.#book;
    if (book === null) return false;
    if (book.keeping.is === "loose") this.keep();
    await book.flush();
    return this.#opened(await this.shelf.openCopy(book.id, title, change));
  }
}

/** The book that the page's address carries. What reads one is fetched where there is something to read. Never throws. */
const carried = (): Promise<LinkRead> =>
  location.hash.startsWith("#book.")
    ? import("../storage/link.ts").then(
        ({ readLink }) => readLink(location.href),
        () => ({ is: "broken", says: "What reads links could not be fetched. Load this page anew with a network." }),
      )
    : Promise.resolve({ is: "none" });
