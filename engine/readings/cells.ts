import { either } from "../diagnostics/wording.ts";
import { equalTexts } from "../operations/comparison.ts";
import type { NumberColumn, TextColumn } from "../values/value.ts";
import { type CellReader, type Positions, underHeader } from "./cell.ts";
import { ORDER_WORDS } from "./dates.ts";
import { FigureCells } from "./figure-cells.ts";
import { NumberBuffer } from "./grow.ts";
import { InstantReader } from "./instants.ts";
import type { ColumnMapping, Mapping } from "./mapping.ts";
import { entryText } from "./rows-text.ts";
import { truthOf } from "./survey.ts";
import { isInstant, type TargetColumn } from "./target.ts";
import type { ReadUnit } from "./units-in-text.ts";

/** Makes the reader of one column of a mapping. */
export function cellReader(
  column: ColumnMapping,
  target: TargetColumn,
  mapping: Mapping,
  at: Positions,
  readUnit: ReadUnit,
): CellReader {
  if (isInstant(target.kind)) return new InstantCells(column, mapping, at);
  if (target.kind.is === "text") return new TextCells(column, target, mapping, at);
  if (target.kind.is === "truth") return new TruthCells(column, mapping, at);
  return new FigureCells(column, target, mapping, at, readUnit);
}

class InstantCells implements CellReader {
  readonly #buffer = new NumberBuffer();
  readonly #reader: InstantReader;
  readonly #date: number;
  readonly #clock: number;
  readonly #header: string;
  readonly #clockHeader: string;
  readonly #order: string;
  /** What stands for no time at all; the first time of a row must be there, for it tells rows apart. */
  readonly #empties: ReadonlySet<string> | null;
  #isMissing = false;

  constructor(column: ColumnMapping, mapping: Mapping, at: Positions) {
    const first = mapping.columns.find(({ order }) => order !== null);
    this.#empties = first === column ? null : new Set(["", ...mapping.empties]);
    this.#reader = new InstantReader({ order: column.order ?? "iso", zone: mapping.zone, clock: mapping.clock });
    this.#date = at.get(column.from[0] ?? "") ?? -1;
    this.#clock = column.from[1] === undefined ? -1 : (at.get(column.from[1]) ?? -1);
    this.#header = column.from.join(" and ");
    this.#clockHeader = column.from[1] ?? "";
    this.#order = ORDER_WORDS[column.order ?? "iso"];
  }

  get value(): number {
    return this.#isMissing ? Number.NaN : this.#reader.seconds;
  }

  read(entries: readonly string[], row: number): string | null {
    const date = entries[this.#date] ?? "";
    this.#isMissing = this.#empties?.has(date.trim().toLowerCase()) === true;
    const clock = this.#clock < 0 ? null : (entries[this.#clock] ?? "");
    if (this.#isMissing || this.#reader.read(date, clock)) {
      this.#buffer.put(row, this.value);
      return null;
    }
    if (clock?.trim() === "" && this.#reader.read(date, null))
      return `There is no time of day under "${this.#clockHeader}".`;
    const entry = clock === null ? date : `${date} ${clock}`;
    return entry.trim() === ""
      ? `There is no time under "${this.#header}".`
      : underHeader(entry, this.#header, `is no date and time (${this.#order}).`);
  }

  get text(): string {
    return this.#isMissing ? "" : this.#reader.text();
  }

  finish(rows: number): NumberColumn {
    return this.#buffer.finish(rows);
  }
}

/** What an entry of a text column comes to. */
interface ReadText {
  readonly value: string | null;
  readonly text: string;
  readonly problem: string | null;
}

const NO_TEXT: ReadText = { value: null, text: "", problem: null };

/** Entries that are remembered: all tanks, products and verdicts, and no more than that of a column of remarks. */
const MOST_KNOWN = 4096;

class TextCells implements CellReader {
  readonly #known = new Map<string, ReadText>();
  readonly #values: (string | null)[] = [];
  readonly #header: string;
  readonly #at: number;
  readonly #choices: readonly string[] | null;
  readonly #empties: readonly string[];
  readonly value = Number.NaN;
  #last = NO_TEXT;

  constructor(column: ColumnMapping, { choices }: TargetColumn, { empties }: Mapping, at: Positions) {
    this.#header = column.from[0] ?? "";
    this.#at = at.get(this.#header) ?? -1;
    this.#choices = choices;
    this.#empties = empties;
  }

  read(entries: readonly string[], row: number): string | null {
    const entry = entries[this.#at] ?? "";
    this.#last = this.#known.get(entry) ?? this.#readNew(entry);
    this.#values[row] = this.#last.value;
    return this.#last.problem;
  }

  #readNew(entry: string): ReadText {
    // A row of a workbook is one line: a break within an entry is a blank there.
    const read = this.#choose(entry.trim().replace(/\r\n|\r|\n/g, " "));
    if (this.#known.size < MOST_KNOWN) this.#known.set(entry, read);
    return read;
  }

  #choose(value: string): ReadText {
    if (value === "") return NO_TEXT;
    if (this.#choices === null || this.#choices.some((choice) => equalTexts(choice, value)))
      return { value, text: entryText(value), problem: null };
    if (this.#empties.includes(value.toLowerCase())) return NO_TEXT;
    const choices = either(this.#choices.map((choice) => `"${choice}"`));
    return { ...NO_TEXT, problem: underHeader(value, this.#header, `is not one of ${choices}.`) };
  }

  get text(): string {
    return this.#last.text;
  }

  finish(rows: number): TextColumn {
    this.#values.length = rows;
    return this.#values;
  }
}

class TruthCells implements CellReader {
  readonly #buffer = new NumberBuffer();
  readonly #header: string;
  readonly #at: number;
  readonly #empties: ReadonlySet<string>;
  value = Number.NaN;

  constructor(column: ColumnMapping, mapping: Mapping, at: Positions) {
    this.#header = column.from[0] ?? "";
    this.#at = at.get(this.#header) ?? -1;
    this.#empties = new Set(mapping.empties);
  }

  read(entries: readonly string[], row: number): string | null {
    const entry = (entries[this.#at] ?? "").trim();
    const isMissing = entry === "" || this.#empties.has(entry.toLowerCase());
    const truth = entry === "1" ? true : entry === "0" ? false : truthOf(entry);
    if (truth === null && !isMissing) return underHeader(entry, this.#header, "is neither yes nor no.");
    this.value = isMissing ? Number.NaN : truth ? 1 : 0;
    this.#buffer.put(row, this.value);
    return null;
  }

  get text(): string {
    return Number.isNaN(this.value) ? "" : this.value === 1 ? "yes" : "no";
  }

  finish(rows: number): NumberColumn {
    return this.#buffer.finish(rows);
  }
}
