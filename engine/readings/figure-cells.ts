import { fromCoherent, toCoherent } from "../units/convert.ts";
import type { ShownUnit } from "../units/unit.ts";
import type { NumberColumn } from "../values/value.ts";
import { type CellReader, type Positions, underHeader } from "./cell.ts";
import { type Marks, plainFigure, readFigure, readPlain, shiftPoint } from "./figures.ts";
import { NumberBuffer } from "./grow.ts";
import { entryUnit } from "./headers.ts";
import type { ColumnMapping, Mapping } from "./mapping.ts";
import { type TargetColumn, unitFits, unitText } from "./target.ts";
import type { ReadUnit } from "./units-in-text.ts";

/** One figure with a unit behind it, in an entry such as `12 lb 4 oz`. */
const FIGURE_WITH_UNIT =
  /[\s\u00a0]*([+\-\u2212]?[\d.,'\u2019]*\d(?:[eE][+-]?\d+)?)[\s\u00a0]*([^\d\s\u00a0][^\d]*?)(?=[\s\u00a0]*[+\-\u2212]?\d|$)/gy;

/** Reads figures in the units of a mapping into coherent values. */
export class FigureCells implements CellReader {
  readonly #buffer = new NumberBuffer();
  readonly #column: ColumnMapping;
  readonly #target: TargetColumn;
  readonly #header: string;
  readonly #at: number;
  readonly #unitAt: number;
  readonly #marks: Marks;
  readonly #empties: ReadonlySet<string>;
  readonly #readUnit: ReadUnit;
  readonly #own: string;
  /** The unit of the mapping, which its offset is in. */
  readonly #mapped: ShownUnit | null;
  readonly #isPlain: boolean;
  #unit: ShownUnit | null;
  /** What stands behind a bare figure in the workbook: a blank and its unit, nothing where that is the column's own. */
  #behind: string;
  text = "";
  value = Number.NaN;

  constructor(column: ColumnMapping, target: TargetColumn, mapping: Mapping, at: Positions, readUnit: ReadUnit) {
    this.#column = column;
    this.#target = target;
    this.#header = column.from[0] ?? "";
    this.#at = at.get(this.#header) ?? -1;
    this.#unitAt = column.unitFrom === null ? -1 : (at.get(column.unitFrom) ?? -1);
    this.#marks = mapping.marks;
    this.#empties = new Set(mapping.empties);
    this.#readUnit = readUnit;
    this.#own = unitText(target.unit);
    this.#mapped = column.unit === null ? target.unit : readUnit(column.unit);
    this.#unit = this.#mapped;
    this.#behind = this.#withUnit("", this.#unit);
    this.#isPlain = column.implied === 0 && column.offset === 0 && this.#unitAt < 0 && column.switches.length === 0;
  }

  /** From here on bare figures are in this unit: a header that stood again in the file says so. */
  changeUnit(unit: ShownUnit): void {
    this.#unit = unit;
    this.#behind = this.#withUnit("", unit);
  }

  get header(): string {
    return this.#header;
  }

  read(entries: readonly string[], row: number, instant: number): string | null {
    const entry = entries[this.#at] ?? "";
    const plain = this.#marks.decimal === "." ? readPlain(entry) : Number.NaN;
    const isPlain = !Number.isNaN(plain);
    const figure = isPlain ? plain : readFigure(entry, this.#marks);
    if (!this.#isPlain || Number.isNaN(figure)) {
      const problem = this.#readSlowly(entries, entry.trim(), figure, instant);
      this.#buffer.put(row, this.value);
      return problem;
    }
    this.text = (isPlain ? entry : plainFigure(entry, this.#marks)) + this.#behind;
    this.value = this.#unit === null ? figure : toCoherent(figure, this.#unit);
    this.#buffer.put(row, this.value);
    return Number.isFinite(this.value)
      ? null
      : underHeader(entry, this.#header, `is no reading in ${unitText(this.#unit)}.`);
  }

  #readSlowly(entries: readonly string[], entry: string, bare: number, instant: number): string | null {
    this.value = Number.NaN;
    this.text = "";
    if (entry === "" || this.#empties.has(entry.toLowerCase())) return null;
    if (Number.isNaN(bare)) return this.#readWithUnits(entry);
    const unit = this.#unitHere(entries, instant);
    if (typeof unit === "string")
      return underHeader(unit, this.#column.unitFrom ?? "", `is no unit for ${this.#target.label}.`);
    const plain = this.#withOffset(shiftPoint(plainFigure(entry, this.#marks), this.#column.implied), unit);
    const figure = Number(plain);
    this.value = unit === null ? figure : toCoherent(figure, unit);
    this.text = this.#withUnit(plain, unit);
    return Number.isFinite(this.value) ? null : underHeader(entry, this.#header, "is no reading.");
  }

  /** The unit of a bare figure in this row, or the spelling that is none. */
  #unitHere(entries: readonly string[], instant: number): ShownUnit | string | null {
    if (this.#unitAt >= 0) {
      const spelling = (entries[this.#unitAt] ?? "").trim();
      const unit = entryUnit(spelling, this.#readUnit);
      return unit !== null && unitFits(unit, this.#target.kind) ? unit : spelling;
    }
    let unit = this.#unit;
    for (const later of this.#column.switches) if (instant >= later.from) unit = this.#readUnit(later.unit) ?? unit;
    return unit;
  }

  #readWithUnits(entry: string): string | null {
    const parts: { plain: string; unit: ShownUnit }[] = [];
    let end = 0;
    for (const found of entry.matchAll(FIGURE_WITH_UNIT)) {
      const figure = readFigure(found[1] ?? "", this.#marks);
      const unit = entryUnit((found[2] ?? "").trim(), this.#readUnit);
      if (Number.isNaN(figure) || unit === null) break;
      if (!unitFits(unit, this.#target.kind))
        return underHeader(entry, this.#header, `is in ${unitText(unit)}, and ${this.#target.label} is not.`);
      // Only linear units are added up: 12 lb 4 oz, never 20 °C 5 °C.
      if (parts.length > 0 && unit.is === "scale") break;
      parts.push({ plain: plainFigure(found[1] ?? "", this.#marks), unit });
      end = (found.index ?? 0) + found[0].length;
      while (entry[end] === " " || entry[end] === "\u00a0") end += 1;
    }
    const last = parts.at(-1);
    if (last === undefined || end < entry.length) return underHeader(entry, this.#header, "is no figure.");
    last.plain = this.#withOffset(last.plain, last.unit);
    this.value = parts.reduce((sum, { plain, unit }) => sum + toCoherent(Number(plain), unit), 0);
    this.text = parts.map(({ plain, unit }) => this.#withUnit(plain, unit, parts.length > 1)).join(" ");
    return Number.isFinite(this.value) ? null : underHeader(entry, this.#header, "is no reading.");
  }

  /** A figure with the offset added, a difference in the mapping's unit, still in its own. */
  #withOffset(plain: string, unit: ShownUnit | null): string {
    const { offset } = this.#column;
    if (offset === 0) return plain;
    const mapped = this.#mapped;
    if (unit === null || mapped === null || unitText(unit) === unitText(mapped)) return addDecimal(plain, offset);
    const moved = toCoherent(fromCoherent(toCoherent(Number(plain), unit), mapped) + offset, mapped);
    const decimals = decimalsOf(plain);
    // Two more decimals hold the offset well enough; zeros there are none of the file's.
    const [whole = "", fraction = ""] = fromCoherent(moved, unit)
      .toFixed(Math.min(12, decimals + 2))
      .split(".");
    const kept = fraction.slice(0, decimals) + fraction.slice(decimals).replace(/0+$/, "");
    return kept === "" ? whole : `${whole}.${kept}`;
  }

  #withUnit(plain: string, unit: ShownUnit | null, always = false): string {
    const spelling = unitText(unit);
    return spelling === "" || (spelling === this.#own && !always) ? plain : `${plain} ${spelling}`;
  }

  finish(rows: number): NumberColumn {
    return this.#buffer.finish(rows);
  }
}

const decimalsOf = (text: string): number =>
  text.includes(".") && !/[eE]/.test(text) ? text.length - text.indexOf(".") - 1 : 0;

/** Adds two decimals as text, with as many decimals as the longer of the two: 1.048 and 0.002 is 1.050. */
function addDecimal(plain: string, offset: number): string {
  return (Number(plain) + offset).toFixed(Math.min(12, Math.max(decimalsOf(plain), decimalsOf(String(offset)))));
}
