import { html, LitElement, nothing } from "lit";
import {
  type Answers,
  labelFromName,
  type NewColumn,
  type Session,
  tableAlone,
  writeRejects,
} from "../../engine/index.ts";
import { apply, labelOf } from "../actions/apply.ts";
import { deepActive } from "../controllers/focus.ts";
import { breathe, inSlices } from "../controllers/slices.ts";
import { tell } from "../events.ts";
import { base } from "../look/base.ts";
import { icons } from "../look/icons.ts";
import { downloadText } from "../storage/files.ts";
import { editsOf, freeLabel, type Into, likelyTable, nameOf, sizeInWords, tablesOf } from "./carry-out.ts";
import type { Came, Csv } from "./messages.ts";
import { outcome } from "./outcome.ts";
import { firstRows, howItIsRead, newColumns, questions, rowsInWords } from "./parts.ts";
import { CsvReader, type HowFar } from "./reading.ts";
import { readingsStyles } from "./readings-styles.ts";

/** Choice of the table that is made for the file. */
const NEW = "";

/**
 * A dialog that reads a CSV into a table, on one page: the first rows as they will be read, what the file leaves open,
 * how it is read, and what it would bring. The file is read in a worker; nothing of the book changes before "Read in",
 * which is one step of undo.
 *
 * @element gyle-readings
 * @prop session - the book's session
 * @prop table - full name of the table that is read into; empty: one that is made for the file
 * @prop likeliest - the table is a mere beginning: one that files like the chosen one were read into before comes first
 * @prop sheet - name of the sheet where a new table is made
 * @prop csv - the file in hand, or pasted text; null: it is yet to be chosen
 * @fires close - it was put away
 * @fires gyle-go - the table that was read into
 * @fires gyle-say - what was read
 * @csspart dialog - the panel
 */
export class GyleReadings extends LitElement {
  static override properties = {
    session: { attribute: false },
    table: {},
    likeliest: { type: Boolean },
    sheet: {},
    csv: { attribute: false },
    came: { state: true },
    far: { state: true },
    busy: { state: true },
    answers: { state: true },
    kept: { state: true },
    columns: { state: true },
    label: { state: true },
    over: { state: true },
  };
  static override styles = [base, readingsStyles];

  declare session: Session | null;
  declare table: string;
  declare likeliest: boolean;
  declare sheet: string;
  declare csv: Csv | null;
  /** What the last look found. */
  declare came: Exclude<Came, { is: "trouble" }> | null;
  declare far: HowFar | null;
  /** What is under way; "closing": all of it is read in. */
  declare busy: "looking" | "reading in" | "closing" | null;
  declare answers: Answers;
  /** The mapping that is kept with the table is used. */
  declare kept: boolean;
  /** Columns of a new table that were changed by hand. */
  declare columns: readonly NewColumn[] | null;
  /** What a new table is called; null: after the file. */
  declare label: string | null;
  /** A file is held over the dialog. */
  declare over: boolean;

  readonly #reader = new CsvReader();
  #before: HTMLElement | null = null;

  constructor() {
    super();
    this.session = null;
    this.table = NEW;
    this.likeliest = false;
    this.sheet = "";
    this.csv = null;
    this.came = null;
    this.far = null;
    this.busy = null;
    this.answers = {};
    this.kept = true;
    this.columns = null;
    this.label = null;
    this.over = false;
  }

  protected override firstUpdated(): void {
    this.#before = deepActive();
    this.renderRoot.querySelector("dialog")?.showModal();
  }

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.csv !== null) void this.#begin();
  }

  override disconnectedCallback(): void {
    this.#reader.stop();
    super.disconnectedCallback();
  }

  #close(): void {
    this.#reader.stop();
    this.renderRoot.querySelector("dialog")?.close();
    this.#before?.focus();
    this.dispatchEvent(new CustomEvent("close"));
  }

  /** Takes a file or pasted text in hand. */
  take(csv: Csv): void {
    this.csv = csv;
    this.came = null;
    this.answers = {};
    this.kept = true;
    this.columns = null;
    void this.#begin();
  }

  /** Files like this one were read into a table before: it is the likeliest, unless another was asked for. */
  async #begin(): Promise<void> {
    const { session, csv } = this;
    if (session !== null && this.likeliest) this.table = (await likelyTable(session, csv)) ?? this.table;
    await this.#look();
  }

  async #look(): Promise<void> {
    const { session, csv } = this;
    if (session === null || csv === null) return;
    const table = this.table === NEW ? null : this.table;
    const request = { is: "read", table, columns: this.columns, csv, answers: this.answers, kept: this.kept } as const;
    this.busy = "looking";
    this.far = null;
    const came = await this.#reader.ask({ ...request, book: tableAlone(session.workbook, table) }, (far) => {
      this.far = far;
    });
    // Stopped, or another look has begun.
    if (came === null || came.is === "trouble") return;
    this.busy = null;
    this.came = came;
    await this.updateComplete;
    if (!this.isConnected || deepActive()?.closest("dialog") !== null) return;
    this.renderRoot.querySelector<HTMLElement>(".question input, #brings, .refused")?.focus();
  }

  #stop(): void {
    this.#reader.stop();
    this.busy = null;
    if (this.came === null) this.csv = null;
  }

  readonly #answer = (about: string, value: string): void => {
    this.answers = { ...this.answers, [about]: value };
    void this.#look();
  };

  get #into(): Into {
    const { session, csv } = this;
    if (this.table !== NEW || session === null) return { is: "table", name: this.table };
    const file = csv instanceof File ? labelFromName(csv.name.replace(/\.\w+$/, "").replace(/[-\s]+/g, "_")) : "";
    const sheet = this.sheet || (session.workbook.sheets[0]?.name ?? "");
    return { is: "new", sheet, label: this.label ?? freeLabel(session, sheet, file || "Readings") };
  }

  async #readIn(): Promise<void> {
    const { session, came } = this;
    if (session === null || came?.is !== "read") return;
    const into = this.#into;
    const { brings, look } = came;
    this.busy = "reading in";
    this.far = null;
    const stopped = (): boolean => this.busy !== "reading in" || !this.isConnected;
    const edits = await inSlices(session.readAhead(editsOf(into, brings, look.newColumns ?? [])), stopped);
    // Reading in, what is drawn after it, and what is said of it are tasks of their own: the page answers between them.
    await breathe();
    if (edits === null || stopped()) return;
    this.busy = "closing";
    const name = nameOf(into);
    const from = this.csv instanceof File ? this.csv.name : "pasted rows";
    const isIn = apply(this, session, edits, `Read in ${from}`);
    await breathe();
    this.busy = null;
    if (!isIn) return;
    const says = [
      brings.added > 0 ? `${rowsInWords(brings.added)} added` : "",
      brings.changed.length > 0 ? `${rowsInWords(brings.changed.length)} corrected` : "",
      brings.rejected.length > 0 ? `${rowsInWords(brings.rejected.length)} not read` : "",
    ].filter((part) => part !== "");
    tell(this, "gyle-say", { says: `${labelOf(session, name)}: ${says.join(", ")}. Undo takes it back.` });
    tell(this, "gyle-go", { name });
    this.#before = null;
    this.#close();
  }

  #saveRejects(): void {
    if (this.came?.is !== "read") return;
    const name = this.csv instanceof File ? this.csv.name.replace(/\.\w+$/, "") : "pasted";
    const saved = downloadText(writeRejects(this.came.brings.rejected), `${name} rejects.csv`);
    if ("says" in saved) tell(this, "gyle-say", { says: saved.says });
  }

  protected override render() {
    const { session, came } = this;
    if (session === null) return nothing;
    return html`<dialog part="dialog" class=${this.over ? "over" : ""} aria-labelledby="heading" @cancel=${(
      event: Event,
    ) => {
      event.preventDefault();
      this.#close();
    }} @dragover=${this.#dragged} @dragleave=${() => {
      this.over = false;
    }} @drop=${this.#dropped}>
      <header>
        <h2 id="heading">Readings from a CSV</h2>
        <button aria-label="Leave without reading in" @click=${() => this.#close()}>${icons.close}</button>
      </header>
      <div class="body" aria-busy=${this.busy === null ? "false" : "true"}>
        ${this.#intoFields(session)}
        ${this.csv === null ? this.#choose() : this.#source(this.csv)}
        ${this.busy === "looking" || this.busy === "reading in" ? this.#progress() : nothing}
        ${came === null ? nothing : this.#found(came)}
      </div>
      <footer>
        <p role="status">${this.#standing()}</p>
        <button class="edged" @click=${() => this.#close()}>Leave it</button>
        <button class="firm" ?disabled=${this.busy !== null || came?.is !== "read" || !bringsAny(came)} @click=${() => void this.#readIn()}>Read in</button>
      </footer>
    </dialog>`;
  }

  #intoFields(session: Session) {
    const into = this.#into;
    const sheet = session.workbook.sheets.find(({ name }) => name === (into.is === "new" ? into.sheet : this.sheet));
    return html`<div class="into">
      <label>Into <select @change=${(event: Event) => {
        this.table = (event.target as HTMLSelectElement).value;
        this.likeliest = false;
        this.answers = {};
        this.kept = true;
        this.columns = null;
        void this.#look();
      }}>
        ${tablesOf(session).map(({ name, label }) => html`<option value=${name} .selected=${name === this.table}>${label}</option>`)}
        <option value=${NEW} .selected=${this.table === NEW}>a new table${sheet === undefined ? "" : ` on ${sheet.label ?? labelFromName(sheet.name)}`}</option>
      </select></label>
      ${
        into.is === "new"
          ? html`<label>What it is called <input autocomplete="off" .value=${into.label} @change=${(event: Event) => {
              const label = (event.target as HTMLInputElement).value.trim();
              this.label = label === "" ? null : freeLabel(session, into.sheet, label);
            }} /></label>`
          : nothing
      }
    </div>`;
  }

  #choose() {
    return html`<p>Choose the export of a logger, a hydrometer, a scale or a laboratory, drop it here, or paste its rows. Nothing is read into the book before you have seen what it brings.</p>
      <div class="source">
        <button class="firm" autofocus @click=${() => this.#file?.click()}>Choose a CSV</button>
        ${this.#fileInput()}
      </div>
      <label class="paste">Rows to paste
        <textarea rows="8" spellcheck="false" placeholder="Time;Temp (°C);SG" @paste=${(event: ClipboardEvent) => {
          const text = event.clipboardData?.getData("text/plain") ?? "";
          if (text.trim() === "") return;
          event.preventDefault();
          this.take(text);
        }}></textarea></label>
      <button class="edged" @click=${() => {
        const text = this.renderRoot.querySelector<HTMLTextAreaElement>(".paste textarea")?.value ?? "";
        if (text.trim() !== "") this.take(text);
      }}>Look at these rows</button>`;
  }

  get #file(): HTMLInputElement | null {
    return this.renderRoot.querySelector<HTMLInputElement>('input[type="file"]');
  }

  #fileInput() {
    return html`<input type="file" hidden aria-label="CSV" accept=".csv,.tsv,.txt,.log,text/csv,text/tab-separated-values,text/plain" @change=${(
      event: Event,
    ) => {
      const input = event.target as HTMLInputElement;
      const file = input.files?.[0];
      input.value = "";
      if (file !== undefined) this.take(file);
    }} />`;
  }

  #source(csv: Csv) {
    return html`<div class="source">
      <span class="file"><b>${csv instanceof File ? csv.name : "Pasted rows"}</b>, ${sizeInWords(csv)}</span>
      <button class="link" @click=${() => this.#file?.click()}>Choose another</button>
      ${this.#fileInput()}
    </div>`;
  }

  #progress() {
    const { far } = this;
    return html`<div class="far">
      ${far?.of ? html`<progress aria-label="How much is read" max=${far.of} .value=${far.done}></progress>` : html`<progress aria-label="How much is read"></progress>`}
      ${far === null ? nothing : html`<span class="figures">${rowsInWords(far.rows)}</span>`}
      <button class="edged" @click=${() => this.#stop()}>Stop</button>
    </div>`;
  }

  #found(came: NonNullable<GyleReadings["came"]>) {
    if (came.is === "refused") return html`<p class="refused" tabindex="-1">${came.says}</p>`;
    const { look } = came;
    return html`
      ${look.against.length === 0 ? nothing : this.#against(look.against)}
      ${look.questions.length === 0 ? nothing : questions(look.questions, this.#answer)}
      ${came.is === "asks" && look.notes.length > 0 ? html`<ul class="notes">${look.notes.map((note) => html`<li>${note}</li>`)}</ul>` : nothing}
      ${firstRows(look)}
      ${came.is === "read" ? outcome(came.brings, look.columns, () => this.#saveRejects()) : nothing}
      ${
        look.newColumns === null
          ? nothing
          : newColumns(look.newColumns, (columns) => {
              this.columns = columns;
              void this.#look();
            })
      }
      ${howItIsRead(look, this.#answer)}
      ${
        look.byKept
          ? html`<p class="soft">This is how it was read last time. <button class="link" @click=${() => this.#afresh()}>Look at the file afresh</button></p>`
          : nothing
      }`;
  }

  #against(against: readonly string[]) {
    return html`<div class="against" role="alert">
      <p><b>The file is not as it was last time.</b></p>
      <ul>${against.map((says) => html`<li>${says}</li>`)}</ul>
      <p>Beneath is how it would be read now. <button class="edged" @click=${() => this.#afresh()}>Read it so</button></p>
    </div>`;
  }

  #afresh(): void {
    this.kept = false;
    void this.#look();
  }

  #standing(): string {
    const { came } = this;
    if (this.busy === "looking") return "The file is being read; the book stays as it is.";
    if (this.busy !== null) return "It is being read in; the book stays as it is until all of it is.";
    if (came === null) return "";
    if (came.is === "refused") return "Nothing can be read.";
    if (came.is === "asks") {
      const { length } = came.look.questions;
      if (length === 0) return "Say first whether it is to be read otherwise than last time.";
      return `${length} ${length === 1 ? "answer is" : "answers are"} wanted first.`;
    }
    if (!bringsAny(came))
      return came.brings.read === 0 ? "The file holds no row to read." : "Every row that can be read is there already.";
    return `${rowsInWords(came.brings.added + came.brings.changed.length)} to read in, as one step that undo takes back.`;
  }

  readonly #dragged = (event: DragEvent): void => {
    if (event.dataTransfer?.types.includes("Files") !== true) return;
    event.preventDefault();
    this.over = true;
  };

  readonly #dropped = (event: DragEvent): void => {
    this.over = false;
    const file = event.dataTransfer?.files[0];
    if (file === undefined) return;
    event.preventDefault();
    // The page would take it for a book.
    event.stopPropagation();
    this.take(file);
  };
}

const bringsAny = ({ brings }: Extract<Came, { is: "read" }>): boolean => brings.added > 0 || brings.changed.length > 0;

customElements.define("gyle-readings", GyleReadings);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-readings": GyleReadings;
  }
}
