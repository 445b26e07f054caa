import type { Lens } from "../../engine/index.ts";
import type { BookFile } from "./files.ts";

/** A book on the device, without its text. Times are milliseconds since 1970. */
export interface BookEntry {
  readonly id: string;
  /** From the head of its text; "Untitled" where it has none. */
  readonly title: string;
  /** When its text was last kept. */
  readonly changed: number;
  /** When it was last taken in hand. */
  readonly opened: number;
  /** Characters of its text. */
  readonly length: number;
  /** Name of the file on disk it belongs to; null: none. */
  readonly file: string | null;
}

/** Where its reader is in a book, and how results are shown there. */
export interface Place {
  /** Name of the open sheet; empty: the front page. */
  readonly sheet: string;
  readonly view: "desk" | "brew";
  readonly lens: Lens;
}

/** An entry as it is stored. */
export interface StoredBook extends BookEntry {
  /** Where the book was last open; none in what an older program kept. */
  readonly place?: Place;
  /**
   * How often the book was taken in hand. A tab writes under the term it was given, and never over a later one: so a tab
   * that lost the book cannot undo the work of the tab that has it, whatever became of locks and messages between them.
   */
  readonly term: number;
  /** The tab that took it under this term: a tab on its own, without the device, may have counted to the same. */
  readonly by: string;
  /** What follows the title, such as ` (copy)`. */
  readonly mark: string;
}

/** A book taken in hand, under a term of its own. */
export interface TakenBook {
  readonly entry: StoredBook;
  readonly text: string;
  readonly file: BookFile | null;
}

/** `overtaken`: nothing was written, for the book was taken in hand elsewhere since. */
export type Written = "kept" | "overtaken";

/** May a book that is stored as `known` not be written as `entry`, because it was taken in hand since? */
export const isOvertaken = (known: StoredBook | undefined, entry: StoredBook): boolean =>
  known !== undefined && (known.term > entry.term || (known.term === entry.term && known.by !== entry.by));

/** Where books are kept. Its promises reject with what the browser throws. */
export interface Store {
  list(): Promise<readonly StoredBook[]>;
  /** The text that was last kept; null: there is no such book. */
  read(id: string): Promise<string | null>;
  /** Takes a book in hand: under the next term, by this tab, now. Null: there is no such book. */
  take(id: string, by: string, now: number): Promise<TakenBook | null>;
  /** Keeps the text in one piece with its entry, or neither. */
  write(entry: StoredBook, text: string): Promise<Written>;
  /** Which file on disk each book belongs to. */
  files(): Promise<ReadonlyMap<string, BookFile>>;
  setFile(id: string, file: BookFile | null): Promise<void>;
  setPlace(id: string, place: Place): Promise<void>;
  remove(id: string): Promise<void>;
}

/** Books in this tab only: what stands in for the device where it refuses. */
export class MemoryStore implements Store {
  readonly #books = new Map<string, TakenBook>();

  get size(): number {
    return this.#books.size;
  }

  async list(): Promise<readonly StoredBook[]> {
    return [...this.#books.values()].map(({ entry }) => entry);
  }

  async read(id: string): Promise<string | null> {
    return this.#books.get(id)?.text ?? null;
  }

  async take(id: string, by: string, now: number): Promise<TakenBook | null> {
    const book = this.#books.get(id);
    if (book === undefined) return null;
    const taken = { ...book, entry: { ...book.entry, term: book.entry.term + 1, by, opened: now } };
    this.#books.set(id, taken);
    return taken;
  }

  async write(entry: StoredBook, text: string): Promise<Written> {
    const known = this.#books.get(entry.id);
    if (isOvertaken(known?.entry, entry)) return "overtaken";
    this.#books.set(entry.id, { entry, text, file: known?.file ?? null });
    return "kept";
  }

  async files(): Promise<ReadonlyMap<string, BookFile>> {
    return new Map([...this.#books].flatMap(([id, { file }]) => (file === null ? [] : [[id, file]])));
  }

  async setFile(id: string, file: BookFile | null): Promise<void> {
    const book = this.#books.get(id);
    if (book !== undefined) this.#books.set(id, { ...book, entry: { ...book.entry, file: file?.name ?? null }, file });
  }

  async setPlace(id: string, place: Place): Promise<void> {
    const book = this.#books.get(id);
    if (book !== undefined) this.#books.set(id, { ...book, entry: { ...book.entry, place } });
  }

  async remove(id: string): Promise<void> {
    this.#books.delete(id);
  }
}
