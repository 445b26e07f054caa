import { html, LitElement, nothing } from "lit";
import { keyed } from "lit/directives/keyed.js";
import type { Lens, Session } from "../../engine/index.ts";
import { apply } from "../actions/apply.ts";
import { Media } from "../controllers/media.ts";
import { SessionWatch } from "../controllers/session-watch.ts";
import { type Command, tell } from "../events.ts";
import { base } from "../look/base.ts";
import { icons, stateShapes } from "../look/icons.ts";
import type { MenuItem } from "../menu/menu.ts";
import { openMenu } from "../menu/open-menu.ts";
import { goToNext } from "../sheet/sheet.ts";
import { faultyPlaces, problemsOf, titleOf } from "../text/book.ts";
import { headStyles } from "./head-styles.ts";

const LENSES: readonly { readonly lens: Lens; readonly label: string }[] = [
  { lens: "as-written", label: "as written" },
  { lens: "metric", label: "metric" },
  { lens: "US", label: "US" },
  { lens: "imperial", label: "imperial" },
];

/** A longer title, in characters, is set smaller on a phone, so as to be whole there. */
const LONG_TITLE = 26;

/**
 * The head of the book: title (edited in place), lens, undo and redo, open, save and share, and how many faults and blanks
 * there are, each a button that goes to the next one.
 *
 * @element gyle-head
 * @prop session - the book's session
 * @prop selected - full name of the line in hand, or null: the next fault or blank is the one after it
 * @prop kept - what is said of the book's keeping: "kept on this device"
 * @fires gyle-command - open, save, share, …
 * @fires gyle-go - to the next fault or blank
 * @fires gyle-path - the path is wanted (narrow screens)
 * @csspart title - the title's field
 */
export class GyleHead extends LitElement {
  static override properties = { session: { attribute: false }, selected: {}, kept: {} };
  static override styles = [base, headStyles];

  declare session: Session | null;
  declare selected: string | null;
  declare kept: string;

  readonly #watch = new SessionWatch(this);
  readonly #narrow = new Media(this, "(max-width: 62rem)");
  /** No room for all commands beside the title. */
  readonly #tight = new Media(this, "(max-width: 70rem)");

  constructor() {
    super();
    this.session = null;
    this.selected = null;
    this.kept = "";
  }

  protected override willUpdate(): void {
    this.#watch.watch(this.session);
  }

  protected override render() {
    const { session } = this;
    if (session === null) return nothing;
    const narrow = this.#narrow.holds;
    return html`<header>
      ${narrow ? html`<button class="path" aria-label="Sheets" @click=${() => this.dispatchEvent(new CustomEvent("gyle-path", { bubbles: true, composed: true }))}>${icons.path}</button>` : nothing}
      ${this.#title(session)}
      ${this.#problems(session)}
      <span class="group">
        <button aria-label=${session.canUndo ? `Undo ${session.undoLabel ?? ""}`.trim() : "Undo"} title="Undo (Ctrl Z)" ?disabled=${!session.canUndo} @click=${() => session.undo()}>${icons.undo}</button>
        <button aria-label="Redo" title="Redo (Ctrl Shift Z)" ?disabled=${!session.canRedo} @click=${() => session.redo()}>${icons.redo}</button>
      </span>
      ${
        this.#tight.holds
          ? nothing
          : html`<span class="group">
            <button @click=${() => this.#command("open")}>Open</button>
            <button @click=${() => this.#command("save")}>Save</button>
            <button @click=${() => this.#command("share")}>Share</button>
          </span>`
      }
      ${this.#lens(session)}
      <button class="edged brew" aria-label="Brewing view" @click=${() => this.#command("brew")}>${icons.wet}<span>Brewing view</span></button>
      <button aria-label="More" aria-haspopup="menu" aria-expanded="false" @click=${(event: Event) => openMenu(event.currentTarget as HTMLElement, this.#more(narrow, this.#tight.holds))}>${icons.more}</button>
    </header>`;
  }

  #title(session: Session) {
    const title = titleOf(session.workbook);
    const keep = (event: Event): void => {
      const typed = (event.target as HTMLInputElement).value.trim();
      if (typed !== "" && typed !== title) apply(this, session, { edit: "set-title", title: typed }, `Title ${typed}`);
      else (event.target as HTMLInputElement).value = title;
    };
    return html`<h1 class="unseen">${title}</h1><div class="title">
      <input part="title" class=${title.length > LONG_TITLE ? "long" : ""} aria-label="Title of the book" .value=${title} autocomplete="off" @change=${keep}
        @keydown=${(event: KeyboardEvent) => {
          const field = event.target as HTMLInputElement;
          if (event.key === "Escape") field.value = title;
          if (event.key === "Escape" || event.key === "Enter") field.blur();
        }} />
      <span class="kept" role="status">${this.kept}</span>
    </div>`;
  }

  #problems(session: Session) {
    const { blanks } = problemsOf(session);
    const button = (kind: string, shape: unknown, names: readonly string[], word: string) =>
      html`<button class="count ${kind} ${names.length === 0 ? "none" : ""}" ?disabled=${names.length === 0} title=${names.length === 0 ? `none ${word}` : `Go to the next ${word}`}
        @click=${() => goToNext(this, names, this.selected)}>${shape}<span class="figures">${keyed(names.length, html`<span>${names.length}</span>`)}</span> <span class="word">${word}</span></button>`;
    return html`<span class="group counts">${button("faults", stateShapes.faulty, faultyPlaces(session), "faulty")}${button("blanks", stateShapes.waiting, blanks, "to fill")}</span>`;
  }

  #lens(session: Session) {
    return html`<label class="lens"><span>Units</span>
      <select @change=${(event: Event) => session.setLens((event.target as HTMLSelectElement).value as Lens)}>
        ${LENSES.map(({ lens, label }) => html`<option value=${lens} ?selected=${session.lens === lens}>${label}</option>`)}
      </select></label>`;
  }

  #more(narrow: boolean, tight: boolean): readonly MenuItem[] {
    const command = (label: string, name: Command, keys?: string): MenuItem => ({
      label,
      ...(keys === undefined ? {} : { keys }),
      run: () => this.#command(name),
    });
    const folded = [command("Open", "open", "Ctrl O"), command("Save", "save", "Ctrl S"), command("Share", "share")];
    const lenses = LENSES.map(({ lens, label }) => ({
      label: `Units: ${label}`,
      disabled: this.session?.lens === lens,
      run: () => this.session?.setLens(lens),
    }));
    return [
      ...(tight ? folded : []),
      command("New book", "new"),
      command("New gyle from this one", "new-gyle"),
      command("Work out one figure", "one-figure"),
      command("Set up our plant", "plant"),
      command("Readings from a CSV", "read-csv"),
      command("Print", "print", "Ctrl P"),
      command("Remove a book", "remove-book"),
      command("Keys", "keys"),
      ...(narrow ? lenses : []),
    ];
  }

  #command(command: Command): void {
    tell(this, "gyle-command", { command });
  }
}

customElements.define("gyle-head", GyleHead);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-head": GyleHead;
  }
}
