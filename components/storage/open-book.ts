import { type BookFile, type FileStanding, type Saved, type SaveHow, saveText, standingOf } from "./files.ts";
import type { Place, StoredBook } from "./store.ts";
import type { Hold } from "./tabs.ts";
import { fileNameOf, titleOf } from "./title.ts";
import type { Trouble } from "./trouble.ts";

/** Whether what was typed is safe, and the sentence that says so. */
export type Keeping =
  /** Nothing of it is on the device yet: it came from a link or with the program, and was not changed. */
  | { readonly is: "loose"; readonly says: string }
  /** The last change is on its way to the device. */
  | { readonly is: "keeping"; readonly says: string }
  /** Everything given to `keep` is on the device; `at` in milliseconds since 1970. */
  | { readonly is: "kept"; readonly at: number; readonly says: string }
  /** Only this tab has the work. */
  | { readonly is: "memory"; readonly why: Trouble["why"]; readonly says: string }
  /** Another tab took the book over; nothing typed here is missing there. */
  | { readonly is: "elsewhere"; readonly says: string };

/** What came of writing a text: the store's own answer, or why only this tab has it. */
export type Outcome = "kept" | "overtaken" | Trouble;

/** What an open book needs of the shelf it came from. */
export interface BookHome {
  /** Never rejects. */
  write(entry: StoredBook, text: string): Promise<Outcome>;
  setFile(id: string, file: BookFile | null): Promise<void>;
  /** Never rejects. */
  setPlace(id: string, place: Place): Promise<void>;
  /** The entry of a new copy, and the hold on it. */
  copyOf(entry: StoredBook): { readonly entry: StoredBook; readonly hold: Promise<Hold | null> };
  closed(book: OpenBook): void;
}

/** A change waits no longer than this before it is written, in milliseconds, however much the book costs to write. */
const LONGEST_WAIT_MS = 100;

/** A book that takes long to hand over rests as many times as long before the next time, so that typing stays quick. */
const REST_SHARE = 3;

/** What the device did not take is offered to it again after this long, in milliseconds, though nothing more is typed. */
const AGAIN_MS = 5_000;

const LOOSE = "A copy: it is kept on this device with your first change.";
const KEEPING = "Keeping on this device …";
const KEPT = "Kept on this device.";
const COPIED = "Another tab has the book, so what you typed here is kept on this device as a copy of its own.";
const ELSEWHERE =
  "Another tab has taken this book over, with all that was typed here. What you type here from now on goes into a copy.";

/**
 * A book in hand. Made by a {@link Shelf}; one tab has a book at a time.
 *
 * @fires keeping - `keeping` says something else than before
 */
export class OpenBook extends EventTarget {
  readonly #home: BookHome;
  #entry: StoredBook;
  #hold: Promise<Hold | null>;
  #file: BookFile | null;
  #text: string;
  #keeping: Keeping;
  /** What is still to be written. */
  #pending: string | (() => string) | null = null;
  /** Counts what was handed to the store, so that an earlier failure does not bring back an earlier text. */
  #turn = 0;
  #writing: Promise<void> | null = null;
  #timer: ReturnType<typeof setTimeout> | null = null;
  #rest = 0;
  #lost = false;
  #copied = false;
  #closed = false;

  constructor(
    home: BookHome,
    entry: StoredBook,
    text: string,
    file: BookFile | null,
    hold: Promise<Hold | null>,
    stored: boolean,
  ) {
    super();
    this.#home = home;
    this.#entry = entry;
    this.#text = text;
    this.#file = file;
    this.#hold = hold;
    this.#keeping = stored ? { is: "kept", at: entry.changed, says: KEPT } : { is: "loose", says: LOOSE };
    addEventListener("pagehide", this.#hidden);
    document.addEventListener("visibilitychange", this.#hidden);
  }

  /** Names the book on this device; a copy made when another tab took the book over has a new one. */
  get id(): string {
    return this.#entry.id;
  }

  /** The text as it was opened, or as it was last handed to the store. */
  get text(): string {
    return this.#text;
  }

  get title(): string {
    return this.#entry.title;
  }

  /** Where the book was last open; null: it never was on this device. */
  get place(): Place | null {
    return this.#entry.place ?? null;
  }

  /** Remembers where its reader is, as soon as the book is kept at all. */
  stay(place: Place): void {
    this.#entry = { ...this.#entry, place };
    if (this.#keeping.is !== "loose" && !this.#lost) void this.#home.setPlace(this.id, place);
  }

  get keeping(): Keeping {
    return this.#keeping;
  }

  get file(): BookFile | null {
    return this.#file;
  }

  /** It became a copy, because another tab has the book. */
  get copied(): boolean {
    return this.#copied;
  }

  /** Another tab took this book over. */
  get lost(): boolean {
    return this.#lost;
  }

  /** Only this tab has some of the work. */
  get atRisk(): boolean {
    return this.#keeping.is === "memory" || this.#keeping.is === "keeping";
  }

  /**
   * Takes the book's text after a change. A function is asked for the text when it is written, and not for each change.
   * What was given is on the device within about {@link LONGEST_WAIT_MS} ms, or `keeping` tells why not. Never throws.
   */
  keep(text: string | (() => string)): void {
    this.#pending = text;
    if (this.#lost) this.#becomeCopy();
    if (this.#keeping.is === "keeping" && this.#timer !== null) return;
    this.#tell({ is: "keeping", says: KEEPING });
    this.#schedule();
  }

  #schedule(wait = this.#rest): void {
    if (this.#pending === null || this.#writing !== null) return;
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      this.#timer = null;
      void this.#write();
    }, wait);
  }

  /** Keeps what is still to be kept, at once; also tries again what failed. Resolves with how it stands then. */
  async flush(): Promise<Keeping> {
    do await (this.#writing ?? this.#write());
    while (this.#pending !== null && this.#keeping.is === "keeping");
    return this.#keeping;
  }

  #write(): Promise<void> {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
    const writing = this.#hand().finally(() => {
      if (this.#writing === writing) this.#writing = null;
      if (this.#closed) return;
      if (this.#keeping.is === "keeping") this.#schedule();
      if (this.#keeping.is === "memory") this.#schedule(AGAIN_MS);
    });
    this.#writing = writing;
    return writing;
  }

  /** Hands the pending text to the store and tells what came of it. */
  async #hand(): Promise<void> {
    const pending = this.#pending;
    if (pending === null) return;
    const started = performance.now();
    this.#pending = null;
    const text = typeof pending === "function" ? pending() : pending;
    this.#text = text;
    this.#turn += 1;
    const turn = this.#turn;
    const title = (titleOf(text) ?? "Untitled") + this.#entry.mark;
    this.#entry = { ...this.#entry, title, changed: Date.now(), length: text.length, file: this.#file?.name ?? null };
    const entry = this.#entry;
    const outcome = this.#home.write(entry, text);
    this.#rest = Math.min(LONGEST_WAIT_MS, (performance.now() - started) * REST_SHARE);
    this.#learn(await outcome, entry, text, turn === this.#turn && this.#pending === null);
  }

  /** `last`: nothing was given or handed over since. */
  #learn(outcome: Outcome, entry: StoredBook, text: string, last: boolean): void {
    if (outcome === "overtaken") {
      if (entry.id === this.#entry.id) this.#becomeCopy();
      if (last) this.keep(text);
    } else if (!last) {
      return;
    } else if (outcome === "kept") {
      this.#tell(
        this.#lost
          ? { is: "elsewhere", says: ELSEWHERE }
          : { is: "kept", at: entry.changed, says: this.#copied ? COPIED : KEPT },
      );
    } else {
      this.#pending = text;
      this.#tell({ is: "memory", ...outcome });
    }
  }

  /** From now on this book is another: what is written goes beside the book that the other tab has. */
  #becomeCopy(): void {
    const { entry, hold } = this.#home.copyOf(this.#entry);
    this.#entry = entry;
    this.#hold = hold;
    this.#file = null;
    this.#lost = false;
    this.#copied = true;
  }

  /** Keeps all and lets the book go, because another tab wants it. */
  async letGo(): Promise<void> {
    await this.flush();
    this.lose();
    (await this.#hold)?.release();
  }

  /** The book is in another tab's hands. What was not kept before goes into a copy. */
  lose(): void {
    this.#lost = true;
    if (this.#pending !== null) this.keep(this.#pending);
    else if (this.#writing === null) this.#tell({ is: "elsewhere", says: ELSEWHERE });
  }

  /** Keeps all, then lets other tabs have the book. Of a loose book that was not changed nothing stays. */
  async close(): Promise<void> {
    removeEventListener("pagehide", this.#hidden);
    document.removeEventListener("visibilitychange", this.#hidden);
    this.#closed = true;
    // Whoever closes a book may show another in its place at once: the text is asked for now.
    if (typeof this.#pending === "function") this.#pending = this.#pending();
    await this.flush();
    this.#home.closed(this);
    (await this.#hold)?.release();
  }

  /** The page may be gone in a moment. What is pending is handed over now, not when what is under way has ended. */
  readonly #hidden = (event: Event): void => {
    if (event.type === "visibilitychange" && document.visibilityState === "visible") return;
    if (this.#pending !== null) void this.#write();
  };

  /** Saves the book into its file, or one that is chosen, or as a download. Call from the handler of a click or key. Never throws. */
  async save(how: SaveHow = {}): Promise<Saved> {
    if (this.#keeping.is === "loose") this.keep(this.#text);
    const flushed = this.flush();
    const text = typeof this.#pending === "function" ? this.#pending() : (this.#pending ?? this.#text);
    const { saved, file } = await saveText(text, fileNameOf(titleOf(text)), this.#file, how);
    await flushed;
    if (saved.is === "saved") {
      this.#file = file;
      this.#entry = { ...this.#entry, file: file?.name ?? null };
      await this.#home.setFile(this.id, file);
    }
    return saved;
  }

  /** Was the file on disk changed since this book read or wrote it? Asks nobody for leave. */
  checkFile(): Promise<FileStanding> {
    return standingOf(this.#file);
  }

  #tell(keeping: Keeping): void {
    const before = this.#keeping;
    this.#keeping = keeping;
    if (before.is !== keeping.is || before.says !== keeping.says) this.dispatchEvent(new Event("keeping"));
  }
}
