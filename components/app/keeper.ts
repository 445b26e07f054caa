import type { Session } from "../../engine/index.ts";
import { ask } from "../form/ask.ts";
import type { SlipAct } from "../slip/slip.ts";
import { type Opening, type Origin, Shelf } from "../storage/books.ts";
import { type BookFile, droppedFiles, launchedFiles, type Picked, pickFile } from "../storage/files.ts";
import { makeLink, readLink } from "../storage/link.ts";
import type { OpenBook } from "../storage/open-book.ts";
import type { BookEntry } from "../storage/store.ts";
import { nextTitle, titleOf } from "../storage/title.ts";
import { readShippedBook, SHIPPED_BOOKS } from "./books.ts";

/** What the keeper needs of the page. */
export interface KeeperHome {
  /** Where dialogs stand. */
  readonly host: () => Element;
  readonly session: () => Session;
  /** A book was taken in hand: this is its text; `first`: it is the sample at a first visit. */
  readonly show: (text: string, first: boolean) => void;
  readonly say: (says: string, grave?: boolean, act?: SlipAct) => void;
  /** How the book is kept, in a sentence. */
  readonly kept: (says: string) => void;
}

const sentence = (refused: unknown): string => (refused instanceof Error ? refused.message : String(refused));

/**
 * The book in hand and where it comes from and goes to: this device, files, links, and the books that come with Gylebook.
 * The one place of the page that reaches storage.
 */
export class Keeper {
  readonly #home: KeeperHome;
  readonly #shelf = new Shelf();
  #book: OpenBook | null = null;

  constructor(home: KeeperHome) {
    this.#home = home;
    this.#shelf.addEventListener("trouble", () => {
      if (this.#shelf.trouble !== null) home.say(this.#shelf.trouble.says, true);
    });
    // A link that is pasted into the address of this page does not load it anew.
    addEventListener("hashchange", () => void this.#addressed());
  }

  /** Takes a first book in hand: of the address, the one last in hand, or the sample; then any that the system wants opened. */
  async begin(): Promise<void> {
    if (!(await this.#addressed())) {
      const [last] = await this.#shelf.list();
      if (last === undefined || !(await this.openKept(last))) await this.openShipped("brew-day", last === undefined);
    }
    launchedFiles((picked) => this.#picked(picked));
  }

  /** Takes the book in hand that the address carries or names; false: it does neither. */
  async #addressed(): Promise<boolean> {
    const link = await readLink(location.href);
    if (link.is === "broken") {
      this.#drop();
      this.#home.say(link.says, true);
      return false;
    }
    const named = SHIPPED_BOOKS.find(({ name }) => location.hash === `#${name}`);
    if (link.is === "none" && named === undefined) return false;
    // While the book is taken in hand, the fragment is its own and not that of the book before it.
    this.#addressing = true;
    if (link.is === "text") {
      this.#begin(link.text, "link");
      this.#home.say("This book came in a link. It is kept on this device with your first change.");
    } else if (named !== undefined) await this.openShipped(named.name);
    this.#addressing = false;
    return true;
  }

  #addressing = false;

  /**
   * The fragment is taken off the address once its book is kept here, or another is in hand: a reload must neither lose
   * the book nor bring its old text back over newer work.
   */
  #drop(): void {
    if (location.hash !== "") history.replaceState(null, "", location.pathname + location.search);
  }

  #begin(text: string, from: Origin, file: BookFile | null = null, first = false): void {
    this.#take(this.#shelf.begin(text, from, file), first);
  }

  #take(book: OpenBook, first = false): void {
    const before = this.#book;
    if (before !== book) void before?.close();
    if (before !== null && !this.#addressing) this.#drop();
    this.#book = book;
    const tell = (): void => {
      if (this.#book !== book) return;
      const { keeping } = book;
      this.#home.kept(keeping.says);
      if (keeping.is === "kept") this.#drop();
      if (keeping.is === "memory")
        this.#home.say(keeping.says, true, { label: "Save a file", run: () => void this.save() });
      if (keeping.is === "elsewhere") this.#home.say(keeping.says, true);
    };
    book.addEventListener("keeping", tell);
    this.#home.show(book.text, first);
    tell();
  }

  /** Keeps the book's text on the device after a change. */
  keep(): void {
    const session = this.#home.session();
    this.#book?.keep(() => session.text());
  }

  /** Everything typed is on the device when this resolves, or it was told why not. */
  async flush(): Promise<void> {
    await this.#book?.flush();
  }

  /** Removes a book from this device, but not the one in hand; the sentence that says so offers to take it back. */
  async remove({ id, title }: BookEntry): Promise<void> {
    if (id === this.#book?.id) {
      this.#home.say(`${title} is in hand. Open another book first.`, true);
      return;
    }
    const opening = await this.#shelf.open(id);
    if (opening.is !== "open") {
      this.#home.say(opening.is === "elsewhere" ? `${opening.says} Close it there first.` : opening.says, true);
      return;
    }
    const { book } = opening;
    const { text } = book;
    await book.close();
    if (!(await this.#shelf.remove(id))) {
      this.#home.say(this.#shelf.trouble?.says ?? `${title} could not be removed.`, true);
      return;
    }
    this.#home.say(`${title} is removed from this device.`, false, {
      label: "Take it back",
      run: () => {
        const back = this.#shelf.begin(text, "new");
        void back.close().then(() => this.#home.say(`${titleOf(text) ?? title} is on this device again.`));
      },
    });
  }

  /** Books of this device, the one last in hand first. */
  list(): Promise<readonly BookEntry[]> {
    return this.#shelf.list();
  }

  /** Takes a book of this device in hand; asks when another tab has it. False: it is not in hand. */
  async openKept({ id }: BookEntry): Promise<boolean> {
    return this.#opened(await this.#shelf.open(id));
  }

  async #opened(opening: Opening): Promise<boolean> {
    if (opening.is === "open") {
      this.#take(opening.book);
      return true;
    }
    if (opening.is === "missing") {
      this.#home.say(opening.says, true);
      return false;
    }
    const { entry, says } = opening;
    const values = await ask(this.#home.host(), {
      heading: "Open in another tab",
      says: `${says} Two tabs cannot write one book.`,
      fields: [
        {
          name: "how",
          label: "What now?",
          kind: "choice",
          choices: [
            { value: "take", label: "Go on here: the other tab keeps what it has and lets go" },
            { value: "copy", label: "Open a copy here" },
          ],
        },
      ],
      submit: "Go on",
    });
    if (values === null) return false;
    return this.#opened(
      values.how === "take" ? await this.#shelf.takeOver(entry.id) : await this.#shelf.openCopy(entry.id),
    );
  }

  async openShipped(name: string, first = false): Promise<void> {
    try {
      this.#begin(await readShippedBook(name), "shipped", null, first);
    } catch (refused) {
      this.#home.say(sentence(refused), true);
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
    if (picked.is === "failed") this.#home.say(picked.says, true);
    if (picked.is === "text") void this.#file(picked.text, picked.file);
  }

  /** A file that this device already keeps a book of is that book, unless the file is newer. */
  async #file(text: string, file: BookFile): Promise<void> {
    const known = await this.#shelf.bookOfFile(file);
    if (known !== null && (await this.openKept(known)) && this.#book?.text === text) return;
    this.#begin(text, "file", file);
    this.#home.say(`${file.name} is open.`);
  }

  /** Saves the book into its file, or one that is chosen, or as a download; asks before writing over another's work. */
  async save(): Promise<void> {
    const saved = await this.#book?.save();
    if (saved === undefined || saved.is === "cancelled") return;
    if (saved.is !== "changed") {
      this.#home.say(saved.says, saved.is === "failed");
      return;
    }
    const values = await ask(this.#home.host(), {
      heading: "Changed elsewhere",
      says: saved.says,
      fields: [
        {
          name: "how",
          label: "What now?",
          kind: "choice",
          choices: [
            { value: "as", label: "Save under another name" },
            { value: "over", label: "Write over it" },
          ],
        },
      ],
      submit: "Save",
    });
    if (values === null) return;
    const again = await this.#book?.save({ as: values.how === "as", over: values.how === "over" });
    if (again !== undefined && again.is !== "cancelled") this.#home.say(again.says, again.is === "failed");
  }

  /** Makes a link that carries the whole book, and copies it. */
  async share(): Promise<void> {
    const link = await makeLink(this.#home.session().text(), location.href);
    if (link.is === "failed") {
      this.#home.say(link.says, true);
      return;
    }
    const values = await ask(this.#home.host(), {
      heading: "Share by link",
      says: `The whole book is in the link itself; no server sees it. ${link.warning ?? ""}`,
      fields: [{ name: "url", label: "Link", kind: "long", value: link.url }],
      submit: "Copy the link",
    });
    if (values === null) return;
    const copied = await navigator.clipboard.writeText(link.url).then(
      () => true,
      () => false,
    );
    this.#home.say(
      copied
        ? "The link is copied."
        : "The browser did not let the link be copied. Mark it in the field and copy it by hand.",
      !copied,
    );
  }

  /** A title for the next gyle, one that no book of this device has. */
  async nextTitle(title: string): Promise<string> {
    const books = await this.#shelf.list();
    return nextTitle(
      title,
      books.map((book) => book.title),
    );
  }

  /** Keeps the book in hand as it is, and goes on in a copy under another title. */
  async copy(title: string): Promise<boolean> {
    const book = this.#book;
    if (book === null) return false;
    if (book.keeping.is === "loose") this.keep();
    await book.flush();
    return this.#opened(await this.#shelf.openCopy(book.id, title));
  }
}
