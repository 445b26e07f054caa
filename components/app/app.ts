import { html, LitElement, nothing } from "lit";
import { createSession } from "../../engine/index.ts";
import { partsOf } from "../actions/places.ts";
import type { GyleEvents } from "../events.ts";
import { ask } from "../form/ask.ts";
import type { Place } from "../storage/store.ts";
import { watchForUpdate } from "../storage/update.ts";
import { titleOf } from "../text/book.ts";
import "../workbook/workbook.ts";
import type { GyleWorkbook } from "../workbook/workbook.ts";
import { EMPTY_BOOK } from "./books.ts";
import { Keeper } from "./keeper.ts";
import type { Entry } from "./trail.ts";

/** Files of readings by their endings; dropped on the page, they are read into a table and not opened as a book. */
const READINGS = /\.(?:csv|tsv|txt|log)$/i;

/** The page has come to rest so long after it was first drawn, in milliseconds. */
const AT_REST_MS = 2_000;

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
    show: (text, place, first) => this.#show(text, place, first),
    back: (to) => this.#back(to),
    say: (says, grave, act) => this.#book.say(says, grave, act),
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
      if (!this.#shown) this.#show(EMPTY_BOOK, null, false);
    });
    watchForUpdate((take) => void this.#offer(take));
    addEventListener("dragover", this.#over);
    addEventListener("drop", this.#dropped);
    // The browser's menu waits for nothing: what it prints is loaded before it is asked for, once the page has come to rest.
    // So is what the page says: a screen reader tells only what changes in a place that is there.
    setTimeout(() => {
      import("../slip/slip.ts").catch(() => undefined);
      import("../print/print.ts").then(
        ({ printFromMenu }) => printFromMenu(() => this.#book.printed(false)),
        // With no network before the first visit was kept, the menu prints the page as it stands.
        () => undefined,
      );
    }, AT_REST_MS);
  }

  override disconnectedCallback(): void {
    removeEventListener("dragover", this.#over);
    removeEventListener("drop", this.#dropped);
    super.disconnectedCallback();
  }

  #shown = false;

  #show(text: string, place: Place | null, first: boolean): Place {
    this.#shown = true;
    const book = this.#book;
    const lens = place?.lens ?? book.lens;
    const session = createSession(text, lens === null ? {} : { lens });
    const sheets = session.workbook.sheets.map(({ name }) => name);
    const sheet = place !== null && ["", ...sheets].includes(place.sheet) ? place.sheet : (sheets[0] ?? "");
    const view = place?.view ?? "desk";
    this.#line = null;
    Object.assign(book, { session, here: sheet, view });
    this.first = first;
    // The page waits for what stands above the sheet, so that nothing moves.
    if (first)
      void import("../first-run/first-run.ts").finally(() => {
        this.begun = true;
      });
    else this.begun = true;
    this.#titled();
    return { sheet, view, lens: session.lens };
  }

  #back({ sheet, view, line }: Entry): void {
    const book = this.#book;
    if (sheet !== "" && !book.session.workbook.sheets.some(({ name }) => name === sheet)) return;
    book.view = view;
    void book.goTo(line ?? sheet);
  }

  /** The line that was last in hand. */
  #line: string | null = null;

  readonly #selected = ({ detail: { name } }: CustomEvent<GyleEvents["gyle-select"]>): void => {
    this.#line = name;
  };

  readonly #moved = ({ detail: { here, view, lens } }: CustomEvent<GyleEvents["gyle-place"]>): void => {
    this.#keeper.moved({ sheet: here, view, lens }, this.#line);
    if (this.#line !== null && partsOf(this.#line).sheet !== here) this.#line = null;
  };

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
    if (values === null) return;
    await this.#keeper.flush();
    take();
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
    const { command } = event.detail;
    void import("./commands.ts").then(({ carryOut }) => carryOut(command, this.#book, this.#keeper));
  };

  protected override render() {
    return html`<gyle-workbook ?hidden=${!this.begun} .kept=${this.kept} @gyle-place=${this.#moved} @gyle-select=${this.#selected} @gyle-change=${this.#changed} @gyle-command=${this.#command}>
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
