import type { LitElement, PropertyValues } from "lit";
import type { ColumnResult, Session, TableResult } from "../../engine/index.ts";
import { tell } from "../events.ts";
import type { Place } from "./grid.ts";
import { keepEntry, setEntry } from "./rows.ts";

/** What of a table an open entry has to do with. */
interface Host extends LitElement {
  readonly session: Session | null;
  readonly name: string;
  at: Place;
  anchor: Place;
  draft: string | null;
}

/** An entry that was left open with a question, and of how many rows the table was. */
interface Left {
  readonly at: Place;
  readonly typed: string;
  readonly rowCount: number;
}

/** By table, for as long as the table is not on the page: another sheet is open. */
const left = new WeakMap<Session, Map<string, Left>>();

/**
 * The entry of a table that is being typed in: its host's `draft`, at its host's `at`. It is kept as it is left, in whatever way.
 * What can be read in several ways is not: it stays open until it is answered, and is open again when its table comes back.
 */
export class OpenEntry {
  readonly #host: Host;
  #rowCount = 0;

  constructor(host: Host) {
    this.#host = host;
    host.addController({
      hostConnected: () => host.requestUpdate(),
      hostDisconnected: () => this.#putAside(host.session, host.name),
    });
  }

  get #table(): TableResult | null {
    return this.#host.session?.table(this.#host.name) ?? null;
  }

  get #column(): ColumnResult | undefined {
    return this.#table?.columns[this.#host.at.column];
  }

  get #input(): HTMLInputElement | null {
    return this.#host.renderRoot.querySelector<HTMLInputElement>(".entry input");
  }

  /** To be called from `willUpdate`: what is open stays with its table, as another may be drawn in the host's place. */
  follow(changed: PropertyValues): void {
    const { session, name } = this.#host;
    if (changed.has("session") || changed.has("name"))
      this.#putAside(changed.get("session") ?? session, changed.get("name") ?? name);
    this.#takeUp();
    // Rows that came or went may have put another entry in its place.
    if (this.#host.draft === null || this.#table?.rowCount === this.#rowCount) return;
    const says = `"${this.#host.draft}" is not kept: the rows of ${this.#table?.label} have changed.`;
    this.#host.draft = null;
    tell(this.#host, "gyle-say", { says });
  }

  #putAside(session: Session | null, table: string): void {
    const { at, draft } = this.#host;
    if (draft === null || session === null) return;
    const drafts = left.get(session) ?? new Map<string, Left>();
    left.set(session, drafts.set(table, { at, typed: draft, rowCount: this.#rowCount }));
    this.#host.draft = null;
  }

  #takeUp(): void {
    const { session, name, draft, isConnected } = this.#host;
    const known = session === null || draft !== null ? undefined : left.get(session)?.get(name);
    if (session === null || known === undefined || !isConnected) return;
    left.get(session)?.delete(name);
    Object.assign(this.#host, { at: known.at, anchor: known.at, draft: known.typed });
    this.#rowCount = known.rowCount;
  }

  /** Opens the entry in hand with a text in it, all of it chosen where it is what stood there. */
  open(text: string, chosen: boolean): void {
    this.#host.draft = text;
    this.#rowCount = this.#table?.rowCount ?? 0;
    void this.#host.updateComplete.then(() => {
      this.#input?.focus();
      if (chosen) this.#input?.select();
    });
  }

  /** Keeps what is typed and closes the entry; false: it can be read in several ways, and stays open. */
  keep(): boolean {
    const { session, name, at, draft } = this.#host;
    const column = this.#column;
    if (draft !== null && session !== null && column !== undefined)
      if (!keepEntry(this.#host, session, name, at.row, column.name, draft)) return false;
    this.#host.draft = null;
    return true;
  }

  /** The same before one goes on in the table: an entry that stays open takes the focus; with Tab its first answer does. */
  settle(key = ""): boolean {
    const settled = this.keep();
    const answer = this.#host.renderRoot.querySelector<HTMLElement>(".answers button");
    if (!settled) (key === "Tab" ? answer : this.#input)?.focus();
    return settled;
  }

  /** The focus has gone: what stays open is told. Another window in front or the answers to the question leave nothing. */
  readonly leave = ({ relatedTarget }: FocusEvent): void => {
    if (this.keep()) return;
    const { renderRoot, draft, at } = this.#host;
    const stays = [relatedTarget, this.#host.shadowRoot?.activeElement].some(
      (each) => each instanceof Element && each.closest(".entry input, .answers") !== null && renderRoot.contains(each),
    );
    const where = `${this.#table?.label}, row ${at.row + 1}, ${this.#column?.label}`;
    if (!stays) tell(this.#host, "gyle-say", { says: `${where}: "${draft}" is not kept yet. Say which is meant.` });
  };

  /** The question is answered: the entry is kept so; null leaves it as it was. False: it stays open. */
  answer(entry: string | null): boolean {
    const { session, name, at } = this.#host;
    const column = this.#column;
    if (session === null || column === undefined) return false;
    if (entry !== null && !setEntry(this.#host, session, name, at.row, column.name, entry)) return false;
    this.#host.draft = null;
    return true;
  }
}
