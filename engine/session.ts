import { type Understood, understand } from "./assist/understand.ts";
import { nameKey } from "./base/names.ts";
import { type Place, placeOf } from "./base/span.ts";
import { type Caution, caution, type Fault } from "./diagnostics/diagnostic.ts";
import { wordFault } from "./diagnostics/wording.ts";
import { type Coloured, tokensOf } from "./parser/colours.ts";
import { LENSES, type Lens } from "./units/lens.ts";
import { kindName } from "./values/describe.ts";
import { applyEdit } from "./workbook/apply.ts";
import { type HeadItem, type Item, isLog, type Workbook } from "./workbook/document.ts";
import type { Edit } from "./workbook/edit.ts";
import { History } from "./workbook/history.ts";
import { createLanguage, type Language } from "./workbook/language.ts";
import { type Change, Model } from "./workbook/model.ts";
import { EMPTY_WORKBOOK, openWorkbook, statementFaults, writeWorkbook } from "./workbook/open.ts";
import { placedFaults } from "./workbook/places.ts";
import { readAhead } from "./workbook/read-ahead.ts";
import type { CellResult, TableResult } from "./workbook/result.ts";
import { Results } from "./workbook/results.ts";
import type { Patch, Version } from "./workbook/version.ts";
import { tableOf, tablesWaitedFor } from "./workbook/waiting.ts";

/** What an edit did, or why it was refused; a refused edit changes nothing. */
export type Outcome =
  | {
      readonly ok: true;
      /** Full names of the lines and columns that were checked or worked out anew. */
      readonly changed: readonly string[];
      /** Lines whose kind is another than before, in words: an edit may have meant something else. */
      readonly kindChanges: readonly { readonly name: string; readonly before: string; readonly after: string }[];
    }
  | { readonly ok: false; readonly says: string };

export interface Problems {
  /** Faults of lines and columns, in file order. */
  readonly faults: readonly { readonly name: string; readonly fault: Fault; readonly message: string }[];
  /** What is still to be filled, by full name, in file order: blanks, logs without a row, and other tables that lines wait for. */
  readonly blanks: readonly string[];
  /** What is wrong with the file apart from formulas. */
  readonly fileFaults: readonly (Place & { readonly code: string; readonly message: string })[];
}

/** A fault that an edit would bring. `fault` is null where the edit is refused, or the file is at fault. */
export interface Foreseen {
  readonly name: string;
  readonly fault: Fault | null;
  readonly message: string;
}

export interface SessionChange {
  /** Whether the document changed; otherwise only how it is shown. */
  readonly workbook: boolean;
  readonly results: ReadonlySet<string> | "all";
}

export type Listener = (change: SessionChange) => void;

/** Past this many changed lines a listener is told "all". */
const MOST_NAMED = 1_000;

/** The one holder of the current workbook: edits go in, results come out, everything can be undone. Made by {@link createSession}. */
export class Session {
  /** Why the text could not be used at all; the workbook is then empty. */
  readonly refusal: string | null;
  readonly #language: Language;
  readonly #history = new History();
  readonly #listeners = new Set<Listener>();
  #model: Model;
  #results: Results;
  #lens: Lens;
  #busy = false;

  constructor(text: string, lens: Lens | null, language: Language = createLanguage()) {
    this.#language = language;
    const opened = openWorkbook(text, language);
    this.refusal = opened.ok ? null : opened.says;
    this.#model = new Model(opened.ok ? opened.workbook : EMPTY_WORKBOOK, language);
    this.#lens = lens ?? this.#fileLens();
    this.#results = new Results(this.#model, this.#lens);
  }

  /** The compiled workbook, for help to whoever types and the engine's other helpers; what it holds changes with the next edit. */
  get model(): Model {
    return this.#model;
  }

  /** Results by node, for the engine's own helpers. */
  get results(): Results {
    return this.#results;
  }

  get workbook(): Workbook {
    return this.#model.workbook;
  }

  get lens(): Lens {
    return this.#lens;
  }

  /** The lens that the file names, or as written. */
  #fileLens(): Lens {
    const named = this.workbook.head.find((item) => item.is === "lens")?.lens ?? "";
    return LENSES.find((lens) => lens === named) ?? "as-written";
  }

  /** Chooses how results are shown to this reader; the file stays as it is. */
  setLens(lens: Lens): void {
    if (lens === this.#lens) return;
    this.#lens = lens;
    this.#results = new Results(this.#model, lens);
    this.#tell({ workbook: false, results: "all" });
  }

  /** A line by its full name, `mash.grain`; the same object for as long as nothing of it changes. Null when there is none. */
  cell(name: string): CellResult | null {
    return this.#results.cell(nameKey(name));
  }

  table(name: string): TableResult | null {
    return this.#results.table(nameKey(name));
  }

  /** One entry of a table: as it is written, and as the lens shows it. */
  entry(
    table: string,
    row: number,
    column: string,
  ): { readonly text: string; readonly shown: string; readonly missing: boolean; readonly fault: Fault | null } {
    return this.#results.entry(nameKey(table), row, nameKey(column));
  }

  get title(): string {
    return this.workbook.head.find((item) => item.is === "title")?.text ?? "";
  }

  /** How many faults there are and readings to be taken, and where. */
  problems(): Problems {
    const { model } = this;
    const faults: { name: string; fault: Fault; message: string }[] = [];
    const blanks: string[] = [];
    const waitedFor = tablesWaitedFor(model);
    for (const [node, origin] of model.origins.entries()) {
      if (origin === undefined) continue;
      if (model.presentations.get(node)?.blank?.filled === null) blanks.push(model.fullName(node));
      if (origin.is === "column" && origin.column === 0) {
        const name = tableOf(model, node);
        if (waitedFor.has(name) || (origin.table.rowCount === 0 && isLog(origin.table.item))) blanks.push(name);
      }
      if (!model.hasOwnFault(node)) continue;
      const name = model.fullName(node);
      const found = origin.is === "cell" ? this.cell(name)?.faults : this.#results.column(node)?.faults;
      for (const fault of found ?? []) faults.push({ name, fault, message: wordFault(fault) });
    }
    return { faults, blanks, fileFaults: this.#fileFaults() };
  }

  #fileFaults(): Problems["fileFaults"] {
    const { head, workbook } = this.model;
    const found = placedFaults(workbook, (item: Item | HeadItem) => [
      ...(head.faults.get(item as HeadItem) ?? []),
      ...statementFaults(item, this.#language, head.units),
    ]);
    if (found.length === 0) return [];
    const text = this.text();
    return found.map(({ fault, span }) => ({ ...placeOf(text, span), code: fault.code, message: wordFault(fault) }));
  }

  /**
   * Reads the rows that edits would bring, and works out what follows from them, in steps. Gives the edits to dispatch, which
   * then cost little; whoever shows a screen lets it breathe between the steps. Changes nothing, and may be left at any step.
   */
  readAhead(edits: readonly Edit[]): Generator<void, readonly Edit[]> {
    return readAhead(this.#model, edits);
  }

  /** Makes edits as one step, all or none. `label` names the step for undo. */
  dispatch(edit: Edit | readonly Edit[], label = "Edit"): Outcome {
    const edits = Array.isArray(edit) ? (edit as readonly Edit[]) : [edit as Edit];
    return this.#exclusively(() => {
      const before = this.workbook;
      const changes: Change[] = [];
      let rebuilt = false;
      let patch: Patch | null = null;
      for (const one of edits) {
        const applied = applyEdit(this.#model, one);
        if (!applied.ok) {
          if (this.workbook !== before) this.#become({ workbook: before, patch: null });
          return applied;
        }
        patch = this.workbook === before ? applied.patch : null;
        const change = this.#become(applied);
        if (change === null) rebuilt = true;
        else changes.push(change);
      }
      if (this.workbook !== before) this.#history.push(before, patch, label);
      this.#model.forgetAhead();
      return this.#outcome(changes, rebuilt);
    });
  }

  /**
   * What an edit would bring, without keeping it: the faults of lines, columns and the file that are not there now, each with
   * the full name of its line (empty: the file's), or why it would be refused.
   */
  rehearse(edit: Edit): readonly Foreseen[] {
    return this.#exclusively(() => {
      const before = this.workbook;
      const known = new Set(this.#faultsNow().map(({ name, message }) => `${name} ${message}`));
      const applied = applyEdit(this.#model, edit);
      if (!applied.ok) return [{ name: "", fault: null, message: applied.says }];
      this.#become(applied);
      const found = this.#faultsNow().filter(({ name, message }) => !known.has(`${name} ${message}`));
      this.#become({ workbook: before, patch: null });
      return found;
    });
  }

  #faultsNow(): readonly Foreseen[] {
    const { faults, fileFaults } = this.problems();
    return [...faults, ...fileFaults.map(({ message }) => ({ name: "", fault: null, message }))];
  }

  #exclusively<T>(work: () => T): T {
    if (this.#busy) throw new Error("an edit was made while another was being made");
    this.#busy = true;
    try {
      return work();
    } finally {
      this.#busy = false;
    }
  }

  /** Compiles another version of the workbook: what changed, or null when everything was read anew. */
  #become(version: Version): Change | null {
    const change = this.#model.update(version);
    if (change !== null) return change;
    this.#model = new Model(version.workbook, this.#language);
    this.#results = new Results(this.#model, this.#lens);
    return null;
  }

  #outcome(changes: readonly Change[], rebuilt: boolean): Outcome {
    const count = changes.reduce((sum, { sources, run }) => sum + sources.length + run.length, 0);
    const many = rebuilt || count > MOST_NAMED;
    const changed = new Set<string>();
    for (const { sources, run } of many ? [] : changes)
      for (const nodes of [sources, run]) for (const node of nodes) changed.add(this.#model.fullName(node));
    changed.delete("");
    const kindChanges = rebuilt ? [] : changes.flatMap((change) => this.#kindChanges(change));
    this.#tell({ workbook: true, results: many ? "all" : changed });
    return { ok: true, changed: [...changed], kindChanges };
  }

  #kindChanges({ kinds }: Change): { name: string; before: string; after: string }[] {
    return [...kinds].flatMap(([node, type]) => {
      const [before, after] = [type.kind, this.#model.typeOf(node).kind];
      const name = this.#model.fullName(node);
      if (before.is === "unknown" || after.is === "unknown" || name === "") return [];
      const [was, is] = [kindName(before), kindName(after)];
      return was === is ? [] : [{ name, before: was, after: is }];
    });
  }

  undo(): boolean {
    return this.#step(this.#history.back(this.workbook));
  }

  redo(): boolean {
    return this.#step(this.#history.forth(this.workbook));
  }

  #step(version: Version | null): boolean {
    if (version === null) return false;
    this.#exclusively(() => {
      const change = this.#become(version);
      return this.#outcome(change === null ? [] : [change], change === null);
    });
    return true;
  }

  get canUndo(): boolean {
    return this.#history.canGoBack;
  }

  get canRedo(): boolean {
    return this.#history.canGoForth;
  }

  get undoLabel(): string | null {
    return this.#history.backLabel;
  }

  get redoLabel(): string | null {
    return this.#history.forthLabel;
  }

  /** Opens another text as one step that can be undone. */
  replace(text: string, label = "Open"): Outcome {
    return this.#exclusively(() => {
      const opened = openWorkbook(text, this.#language);
      if (!opened.ok) return opened;
      this.#history.push(this.workbook, null, label);
      this.#become({ workbook: opened.workbook, patch: null });
      return this.#outcome([], true);
    });
  }

  /** The file. */
  text(): string {
    return writeWorkbook(this.workbook);
  }

  /** What was typed into the field of a line, or of a table's column, in a row (left out: a new one): the formula or entry that is stored, a question, or why not. */
  understand(name: string, typed: string, column?: string, row?: number): Understood {
    return understand(this.#model, this.#lens, name, typed, column, row);
  }

  /** The parts of a formula for colouring. */
  tokens(formula: string): readonly Coloured[] {
    return tokensOf(formula, this.#model.head.units.speller);
  }

  /** What is to be heeded of the brewing functions that a formula names, whether or not it can be read or worked out. */
  cautionsNamed(formula: string): readonly Caution[] {
    return this.tokens(formula).flatMap(({ is, span }) => {
      const key = is === "function" ? nameKey(formula.slice(span.start, span.end)) : "";
      const own = this.#model.environment.signatures.find(key)?.function.caution;
      return own === undefined ? [] : [caution(own.is, { says: own.says })];
    });
  }

  /** Full names of the lines and columns that use this one directly. */
  dependants(name: string): readonly string[] {
    const node = this.#model.names.node(nameKey(name));
    return node === undefined
      ? []
      : this.#model.graph
          .dependantsOf(node)
          .toSorted((a, b) => a - b)
          .map((user) => this.#model.fullName(user));
  }

  /** Listens for changes; gives what ends it. A listener may edit. */
  subscribe(listener: Listener): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  #tell(change: SessionChange): void {
    const busy = this.#busy;
    this.#busy = false;
    try {
      for (const listener of this.#listeners) listener(change);
    } finally {
      this.#busy = busy;
    }
  }
}

/** Opens a file's text. Never throws: a text that is no Gylebook file leaves an empty workbook and says so in `refusal`. */
export const createSession = (text: string, { lens = null }: { readonly lens?: Lens | null } = {}): Session =>
  new Session(text, lens);
