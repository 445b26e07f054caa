import { html, LitElement, nothing } from "lit";
import { createSession } from "../../engine/index.ts";
import { apply } from "../actions/apply.ts";
import type { Command, GyleEvents } from "../events.ts";
import "../first-run/first-run.ts";
import { ask } from "../form/ask.ts";
import { watchForUpdate } from "../storage/update.ts";
import { titleOf } from "../text/book.ts";
import { KEYS } from "../workbook/keys.ts";
import "../workbook/workbook.ts";
import type { GyleWorkbook } from "../workbook/workbook.ts";
import { readShippedBook, SHIPPED_BOOKS } from "./books.ts";
import { Keeper } from "./keeper.ts";

/** A book from nothing: one sheet to begin on. */
const EMPTY_BOOK = 'gylebook 1\nlibrary 1\ntitle "New book"\n\nsheet first "First sheet"\n';

/** Files of readings by their endings; dropped on the page, they are read into a table and not opened as a book. */
const READINGS = /\.(?:csv|tsv|txt|log)$/i;

/**
 * The page: a book with its keeper (opening, saving, keeping on the device, sharing), the first run, and what the head's
 * commands ask for. It draws into the page itself.
 *
 * @element gyle-app
 */
export class GyleApp extends LitElement {
  static override properties = {
    kept: { state: true },
    first: { state: true },
    begun: { state: true },
  };

  declare kept: string;
  /** The four ways on are shown. */
  declare first: boolean;
  /** A book is in hand. */
  declare begun: boolean;

  readonly #keeper = new Keeper({
    host: () => {
      // A question may come before the first book: it must not stay hidden with the rest.
      this.begun = true;
      return this.#book;
    },
    session: () => this.#book.session,
    show: (text, first) => this.#show(text, first),
    say: (says, grave) => this.#book.say(says, grave),
    kept: (says) => {
      this.kept = says;
    },
  });

  constructor() {
    super();
    this.kept = "";
    this.first = false;
    this.begun = false;
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
    void this.#keeper.begin().then(() => {
      if (!this.begun) this.#show(EMPTY_BOOK, false);
    });
    watchForUpdate((take) => void this.#offer(take));
    addEventListener("dragover", this.#over);
    addEventListener("drop", this.#dropped);
  }

  override disconnectedCallback(): void {
    removeEventListener("dragover", this.#over);
    removeEventListener("drop", this.#dropped);
    super.disconnectedCallback();
  }

  #show(text: string, first: boolean): void {
    const book = this.#book;
    book.session = createSession(text, book.lens === null ? {} : { lens: book.lens });
    book.here = book.session.workbook.sheets[0]?.name ?? "";
    this.first = first;
    this.begun = true;
    this.#titled();
  }

  #titled(): void {
    document.title = `${titleOf(this.#book.session.workbook)} – Gylebook`;
  }

  async #offer(take: () => void): Promise<void> {
    const values = await ask(this.#book, {
      heading: "A newer Gylebook is ready",
      says: "It is put in place by loading this page anew. Your books stay as they are.",
      fields: [],
      submit: "Load it",
    });
    if (values !== null) take();
  }

  readonly #over = (event: DragEvent): void => {
    if (event.dataTransfer?.types.includes("Files")) event.preventDefault();
  };

  readonly #dropped = (event: DragEvent): void => {
    if (event.dataTransfer === null || event.dataTransfer.files.length === 0) return;
    event.preventDefault();
    const [file] = event.dataTransfer.files;
    if (file !== undefined && READINGS.test(file.name)) void this.#book.readCsv(undefined, file);
    else void this.#keeper.openDropped(event.dataTransfer);
  };

  readonly #changed = (): void => {
    this.#keeper.keep();
    this.#titled();
  };

  readonly #command = (event: CustomEvent<GyleEvents["gyle-command"]>): void => {
    if (event.detail.command === "brew") this.first = false;
    void this.#carryOut(event.detail.command);
  };

  async #carryOut(command: Command): Promise<void> {
    const book = this.#book;
    switch (command) {
      case "save":
        return this.#keeper.save();
      case "share":
        return this.#keeper.share();
      case "open":
        return this.#choose();
      case "new":
        return this.#newBook();
      case "new-gyle":
        return this.#newGyle();
      case "plant":
        if (await (await import("../plant/plant.ts")).setUpPlant(book, book.session))
          book.say("Our plant is kept. What hangs on it was worked out anew.");
        return;
      case "one-figure":
        return this.#oneFigure();
      case "keys":
        await ask(book, {
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

  /** A file, a book of this device, or one that comes with Gylebook. */
  async #choose(): Promise<void> {
    const kept = await this.#keeper.list();
    const values = await ask(this.#book, {
      heading: "Open a book",
      says: "Only a book that was changed is kept on this device.",
      fields: [
        {
          name: "book",
          label: "Which",
          kind: "choice",
          choices: [
            { value: "", label: "A file of ours" },
            ...kept.map(({ id, title }) => ({ value: `kept ${id}`, label: `On this device: ${title}` })),
            ...SHIPPED_BOOKS.map(({ name, label, says }) => ({ value: name, label: `${label}: ${says}` })),
          ],
        },
      ],
      submit: "Open",
    });
    if (values === null) return;
    const wanted = values.book ?? "";
    const entry = kept.find(({ id }) => wanted === `kept ${id}`);
    if (wanted === "") await this.#keeper.openFile();
    else if (entry === undefined) await this.#keeper.openShipped(wanted);
    else await this.#keeper.openKept(entry);
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
      this.#keeper.openNew(values.from ? await readShippedBook(values.from) : EMPTY_BOOK);
    } catch (refused) {
      this.#book.say(refused instanceof Error ? refused.message : String(refused), true);
    }
  }

  /** Keeps this gyle as it is, and begins the next with its plant and recipe; what was read is emptied. */
  async #newGyle(): Promise<void> {
    const values = await ask(this.#book, {
      heading: "New gyle from this one",
      says: "Plant and recipe go over; every reading is emptied, to be taken anew. This gyle stays on this device as it is.",
      fields: [
        {
          name: "title",
          label: "Title of the new gyle",
          value: await this.#keeper.nextTitle(titleOf(this.#book.session.workbook)),
        },
      ],
      submit: "Begin the new gyle",
      check: ({ title = "" }) => (title.trim() === "" ? "It needs a title." : null),
    });
    if (values === null || !(await this.#keeper.copy((values.title ?? "").trim()))) return;
    if (apply(this.#book, this.#book.session, { edit: "empty-blanks" }, "New gyle"))
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
    return html`<gyle-workbook ?hidden=${!this.begun} .kept=${this.kept} @gyle-change=${this.#changed} @gyle-command=${this.#command}>
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
