import { html, LitElement, nothing } from "lit";
import { createSession } from "../../engine/index.ts";
import { apply } from "../actions/apply.ts";
import type { Command, GyleEvents } from "../events.ts";
import "../first-run/first-run.ts";
import { ask } from "../form/form.ts";
import { setUpPlant } from "../plant/plant.ts";
import { titleOf } from "../text/book.ts";
import { KEYS } from "../workbook/keys.ts";
import "../workbook/workbook.ts";
import type { GyleWorkbook } from "../workbook/workbook.ts";
import { readShippedBook, SHIPPED_BOOKS } from "./books.ts";
import { Shelf } from "./shelf.ts";

/** A book from nothing: one sheet to begin on. */
const EMPTY_BOOK = 'gylebook 1\nlibrary 1\ntitle "New book"\n\nsheet first "First sheet"\n';

/**
 * The page: a book with its shelf (opening, saving, keeping on the device, sharing), the first run, and what the head's
 * commands ask for. It draws into the page itself.
 *
 * @element gyle-app
 */
export class GyleApp extends LitElement {
  static override properties = { kept: { state: true }, first: { state: true } };

  declare kept: string;
  /** The four ways on are shown. */
  declare first: boolean;

  readonly #shelf = new Shelf(
    () => this.#book.session,
    (says, grave) => this.#book.say(says, grave),
    (kept) => {
      this.kept = kept;
    },
  );

  constructor() {
    super();
    this.kept = "";
    this.first = false;
  }

  protected override createRenderRoot(): this {
    return this;
  }

  get #book(): GyleWorkbook {
    const book = this.querySelector("gyle-workbook");
    if (book === null) throw new Error("the page has no book");
    return book;
  }

  protected override firstUpdated(): void {
    void this.#begin();
    addEventListener("dragover", this.#over);
    addEventListener("drop", this.#dropped);
  }

  override disconnectedCallback(): void {
    removeEventListener("dragover", this.#over);
    removeEventListener("drop", this.#dropped);
    super.disconnectedCallback();
  }

  async #begin(): Promise<void> {
    const book = this.#book;
    const kept = await this.#shelf.begin();
    this.first = kept === null;
    try {
      book.session = createSession(kept ?? (await readShippedBook("brew-day")));
    } catch (refused) {
      book.session = createSession(EMPTY_BOOK);
      book.say(refused instanceof Error ? refused.message : String(refused), true);
    }
    this.#titled();
  }

  #titled(): void {
    document.title = `${titleOf(this.#book.session.workbook)} – Gylebook`;
  }

  readonly #over = (event: DragEvent): void => {
    if (event.dataTransfer?.types.includes("Files")) event.preventDefault();
  };

  readonly #dropped = (event: DragEvent): void => {
    const file = event.dataTransfer?.files[0];
    if (file === undefined) return;
    event.preventDefault();
    void file.text().then((text) => this.#open(text, file.name));
  };

  /** Puts another book in place of the open one; undo brings that back. */
  #open(text: string, name: string): void {
    const refused = createSession(text).refusal;
    if (refused !== null) {
      this.#book.say(`${name}: ${refused}`, true);
      return;
    }
    this.#book.session.replace(text, `Open ${name}`);
    this.first = false;
    this.#book.say(`${name} is open. Undo goes back to the book before.`);
    void this.#book.goTo(this.#book.session.workbook.sheets[0]?.name ?? "");
  }

  readonly #changed = (): void => {
    this.#shelf.keep();
    this.#titled();
  };

  readonly #command = (event: CustomEvent<GyleEvents["gyle-command"]>): void => {
    const { command } = event.detail;
    if (command === "brew") this.first = false;
    void this.#carryOut(command);
  };

  async #carryOut(command: Command): Promise<void> {
    const book = this.#book;
    const { session } = book;
    const says = (sentence: string): void => book.say(sentence);
    switch (command) {
      case "save":
        return this.#shelf.save();
      case "share":
        return this.#shelf.share(book);
      case "open":
        return this.#choose();
      case "new":
        return this.#newBook();
      case "new-gyle":
        return this.#newGyle();
      case "plant":
        if (await setUpPlant(book, session)) says("Our plant is kept. What hangs on it was worked out anew.");
        return;
      case "one-figure":
        return this.#oneFigure();
      case "keys":
        await ask(this.#book, {
          heading: "Keys",
          says: html`<dl>${KEYS.map(({ keys, does }) => html`<dt><kbd>${keys}</kbd></dt><dd>${does}</dd>`)}</dl>`,
          fields: [],
          submit: "Good",
        });
        return;
      default:
        return;
    }
  }

  /** A file of the reader's, or one of the shipped books. */
  async #choose(): Promise<void> {
    const values = await ask(this.#book, {
      heading: "Open a book",
      fields: [
        {
          name: "book",
          label: "Which",
          kind: "choice",
          choices: [
            { value: "", label: "A file of ours" },
            ...SHIPPED_BOOKS.map(({ name, label, says }) => ({ value: name, label: `${label}: ${says}` })),
          ],
        },
      ],
      submit: "Open",
    });
    if (values === null) return;
    if (!values.book) {
      const file = await this.#shelf.openFile();
      if (file !== null) this.#open(file.text, file.name);
      return;
    }
    try {
      this.#open(
        await readShippedBook(values.book),
        SHIPPED_BOOKS.find(({ name }) => name === values.book)?.label ?? values.book,
      );
    } catch (refused) {
      this.#book.say(refused instanceof Error ? refused.message : String(refused), true);
    }
  }

  async #newBook(): Promise<void> {
    const values = await ask(this.#book, {
      heading: "New book",
      fields: [
        {
          name: "from",
          label: "Begin",
          kind: "choice",
          choices: [
            { value: "", label: "from nothing" },
            ...SHIPPED_BOOKS.map(({ name, label, says }) => ({ value: name, label: `from ${label}: ${says}` })),
          ],
        },
      ],
      submit: "Begin",
    });
    if (values === null) return;
    try {
      this.#open(values.from ? await readShippedBook(values.from) : EMPTY_BOOK, "The new book");
    } catch (refused) {
      this.#book.say(refused instanceof Error ? refused.message : String(refused), true);
    }
  }

  /** Keeps plant and recipe, empties what was read. */
  async #newGyle(): Promise<void> {
    const { session } = this.#book;
    const title = titleOf(session.workbook);
    const values = await ask(this.#book, {
      heading: "New gyle from this one",
      says: "Plant and recipe are kept; every reading is emptied, to be taken anew. Undo brings them back. Save this gyle first if you have not.",
      fields: [
        {
          name: "title",
          label: "Title of the new gyle",
          value: title.replace(/\d+(?=\D*$)/, (digits) => String(Number(digits) + 1)),
        },
      ],
      submit: "Begin the new gyle",
    });
    if (values === null) return;
    const edits = [
      { edit: "empty-blanks" },
      { edit: "set-title", title: (values.title ?? "").trim() || title },
    ] as const;
    if (apply(this.#book, session, edits, "New gyle"))
      this.#book.say("A new gyle is begun. Every reading is to be taken.");
  }

  async #oneFigure(): Promise<void> {
    await import("../one-figure/one-figure.ts");
    const dialog = document.createElement("gyle-one-figure");
    dialog.session = this.#book.session;
    dialog.sheet = this.#book.here;
    dialog.addEventListener("close", () => dialog.remove());
    this.#book.shadowRoot?.querySelector("main")?.append(dialog);
  }

  protected override render() {
    return html`<gyle-workbook .kept=${this.kept} @gyle-change=${this.#changed} @gyle-command=${this.#command}>
      ${
        this.first
          ? html`<gyle-first-run @close=${() => {
              this.first = false;
            }}></gyle-first-run>`
          : nothing
      }
    </gyle-workbook>`;
  }
}

customElements.define("gyle-app", GyleApp);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-app": GyleApp;
  }
}
