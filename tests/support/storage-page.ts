import { Shelf } from "../../components/storage/books.ts";
import { makeLink, readLink } from "../../components/storage/link.ts";
import type { Keeping, OpenBook } from "../../components/storage/open-book.ts";

/*
 * The script of a page that has nothing but the shelf, so that a tab can be killed, starved and refused while it writes
 * and nothing else is in play. Tests drive it through `globalThis.storagePage`.
 */

/** A text whose first and last line carry the same figure, so that a torn one shows. `padding` in characters. */
const numbered = (n: number, padding: number): string =>
  `gylebook 1\ntitle "Killed"\nn = ${n}\nsheet mash\n# ${"x".repeat(padding)}\nend_n = ${n}\n`;

const figure = (text: string, name: string): number => Number(new RegExp(`^${name} = (\\d+)$`, "m").exec(text)?.[1]);

const shelf = new Shelf();
let book: OpenBook | null = null;

export const storagePage = {
  /** Takes the book of this id in hand, by force if need be, or begins one with this text. Gives its id, its text and how it is kept. */
  async take(id: string | null, text = numbered(0, 0)): Promise<{ id: string; text: string; keeping: Keeping }> {
    const opening = id === null ? null : await shelf.takeOver(id);
    if (opening?.is === "missing" || opening?.is === "elsewhere") throw new Error(opening.says);
    book = opening?.book ?? shelf.begin(text, "new");
    await book.flush();
    return { id: book.id, text: book.text, keeping: book.keeping };
  },

  /** How the book of this id answers to a tab that just wants to open it. */
  async open(id: string): Promise<{ is: string; says: string }> {
    const opening = await shelf.open(id);
    return { is: opening.is, says: opening.is === "open" ? "" : opening.says };
  },

  /** Gives the text to the book; resolves when that is settled. */
  async keep(text: string): Promise<{ id: string; keeping: Keeping; trouble: string | null }> {
    book?.keep(text);
    return storagePage.settle();
  },

  async settle(): Promise<{ id: string; keeping: Keeping; trouble: string | null }> {
    if (book === null) throw new Error("no book is in hand");
    const keeping = await book.flush();
    return { id: book.id, keeping, trouble: shelf.trouble?.says ?? null };
  },

  keeping: (): Keeping | null => book?.keeping ?? null,

  list: () => shelf.list(),

  figures: (text: string): readonly [number, number] => [figure(text, "n"), figure(text, "end_n")],

  /** Types without end, one change every few milliseconds, in texts of up to `most` characters, and reports each figure that was kept. */
  type(report: (kept: number) => void, most: number): void {
    const writer = book;
    if (writer === null) throw new Error("no book is in hand");
    let n = figure(writer.text, "n");
    const given = new Map<number, number>();
    writer.addEventListener("keeping", () => {
      if (writer.keeping.is === "kept") report(figure(writer.text, "n"));
    });
    setInterval(() => {
      n += 1;
      // Lengths that differ from one text to the next, so that a torn write would not go unseen.
      given.set(n, (n * 7919) % most);
      writer.keep(numbered(n, given.get(n) ?? 0));
    }, 3);
  },

  makeLink,
  readLink,
};

Object.assign(globalThis, { storagePage });
