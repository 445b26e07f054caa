import { fileOpen, fileSave } from "browser-fs-access";
import type { Session } from "../../engine/index.ts";
import { fileNameOf } from "../text/book.ts";

/** What the page says to its reader. */
type Say = (says: string, grave?: boolean) => void;

/** Where books are opened from and kept: files, this device, links. The one place of the page that reaches storage. */
export class Shelf {
  readonly #session: () => Session;
  readonly #say: Say;
  readonly #kept: (says: string) => void;

  constructor(session: () => Session, say: Say, kept: (says: string) => void) {
    this.#session = session;
    this.#say = say;
    this.#kept = kept;
  }

  /** The text to begin with: of the link, or what this device kept; null at a first visit. */
  async begin(): Promise<string | null> {
    return null;
  }

  /** Keeps the book on this device, soon. */
  keep(): void {
    this.#kept("");
  }

  async openFile(): Promise<{ readonly text: string; readonly name: string } | null> {
    const file = await fileOpen({ description: "Gylebook", extensions: [".gyle"] }).catch(() => null);
    return file === null ? null : { text: await file.text(), name: file.name };
  }

  async save(): Promise<void> {
    const session = this.#session();
    const saved = await fileSave(new Blob([session.text()], { type: "text/plain" }), {
      fileName: fileNameOf(session.workbook),
      extensions: [".gyle"],
    })
      .then(() => true)
      .catch(() => false);
    if (saved) this.#say("The book is saved.");
  }

  async share(_host: Element): Promise<void> {
    this.#say("Sharing is not ready.");
  }
}
