import { either } from "../diagnostics/wording.ts";
import { equalTexts } from "../operations/comparison.ts";
import type { NumberColumn, TextColumn } from "../values/value.ts";
import { type CellReader, type Positions, underHeader } from "./cell.ts";
import { ORDER_WORDS } from "./dates.ts";
import { FigureCells } from "./figure-cells.ts";
import { NumberBuffer, TextBuffer } from "./grow.ts";
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
    this.#order = ORDER_WORDS[column.order ?? "iso"];
  }

  get value(): number {
    return this.#isMissing ? Number.NaN : this.#reader.seconds;
  }

  read(entries: readonly string[]): string | null {
    const date = entries[this.#date] ?? "";
    this.#isMissing = this.#empties?.has(date.trim().toLowerCase()) === true;
    if (this.#isMissing) return null;
    const clock = this.#clock < 0 ? null : (entries[this.#clock] ?? "");
    if (this.#reader.read(date, clock)) return null;
    const entry = clock === null ? date : `${date} ${clock}`;
    return entry.trim() === ""
      ? `There is no time under "${this.#header}".`
      : underHeader(entry, this.#header, `is no date and time (${this.#order}).`);
  }

  text(): string {
    return this.#isMissing ? "" : this.#reader.text();
  }

  keep(): void {
    this.#buffer.push(this.value);
  }

  finish(): NumberColumn {
    return this.#buffer.finish();
  }
}

class TextCells implements CellReader {
  readonly #buffer = new TextBuffer();
  readonly #header: string;
  readonly #at: number;
  readonly #choices: readonly string[] | null;
  readonly #empties: readonly string[];
  readonly value = Number.NaN;
  #entry = "";

  constructor(column: ColumnMapping, { choices }: TargetColumn, { empties }: Mapping, at: Positions) {
    this.#header = column.from[0] ?? "";
    this.#at = at.get(this.#header) ?? -1;
    this.#choices = choices;
    this.#empties = empties;
  }

  read(entries: readonly string[]): string | null {
    const entry = (entries[this.#at] ?? "").trim();
    // A row of a workbook is one line: a break within an entry is a blank there.
    this.#entry = entry.includes("\n") || entry.includes("\r") ? entry.replace(/\r\n|\r|\n/g, " ") : entry;
    return this.#choices === null || entry === "" ? null : this.#choose(entry, this.#choices);
  }

  #choose(entry: string, choices: readonly string[]): string | null {
    if (choices.some((choice) => equalTexts(choice, entry))) return null;
    this.#entry = "";
    if (this.#empties.includes(entry.toLowerCase())) return null;
    return underHeader(entry, this.#header, `is not one of ${either(choices.map((choice) => `"${choice}"`))}.`);
  }

  text(): string {
    return entryText(this.#entry);
  }

  keep(): void {
    this.#buffer.push(this.#entry);
  }

  finish(): TextColumn {
    return this.#buffer.finish();
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

  read(entries: readonly string[]): string | null {
    const entry = (entries[this.#at] ?? "").trim();
    this.value = Number.NaN;
    if (entry === "" || this.#empties.has(entry.toLowerCase())) return null;
    const truth = entry === "1" ? true : entry === "0" ? false : truthOf(entry);
    if (truth === null) return underHeader(entry, this.#header, "is neither yes nor no.");
    this.value = truth ? 1 : 0;
    return null;
  }

  text(): string {
    return Number.isNaN(this.value) ? "" : this.value === 1 ? "yes" : "no";
  }

  keep(): void {
    this.#buffer.push(this.value);
  }

  finish(): NumberColumn {
    return this.#buffer.finish();
  }
}
