import { visible } from "../base/deceptive.ts";
import { nameKey } from "../base/names.ts";
import { type Fault, fault } from "../diagnostics/diagnostic.ts";
import { readRows } from "../parser/csv.ts";
import { readStatements } from "../parser/file.ts";
import { scanUnitNames } from "../parser/lines.ts";
import type { NameNode, Statement } from "../parser/tree.ts";
import { createUnitBook, ownUnit, type UnitBook } from "../units/book.ts";
import { DIMENSIONLESS } from "../units/dimension.ts";
import { type HeadItem, type Item, PAGE_LENGTH, type RowPage, type Sheet, type Workbook } from "./document.ts";
import type { Language } from "./language.ts";

/** The format that this program reads and writes. */
export const FORMAT_VERSION = 1;

/** A file larger than this is refused: it is no brew book, and would only exhaust the device. In characters. */
export const LARGEST_FILE = 64 * 1024 * 1024;

export const EMPTY_WORKBOOK: Workbook = { byteOrderMark: false, lineEnd: "\n", head: [], sheets: [] };

export type Opened =
  | { readonly ok: true; readonly workbook: Workbook }
  /** The file as a whole cannot be used; a full sentence. */
  | { readonly ok: false; readonly says: string };

/** Reads a file's text. What cannot be read is kept verbatim; only a file that is none is refused. Never throws. */
export function openWorkbook(text: string, language: Language): Opened {
  if (text.length > LARGEST_FILE)
    return {
      ok: false,
      says: `This file is larger than ${LARGEST_FILE / 1024 / 1024} MB, the most that Gylebook opens.`,
    };
  if (text.includes("\0")) return { ok: false, says: "This is not a text file, so it is no Gylebook file." };
  const byteOrderMark = text.charCodeAt(0) === 0xfeff;
  const body = byteOrderMark ? text.slice(1) : text;
  const statements = readStatements(body, language.reader(spellingsOf(body)));
  const version = statements.find((statement) => statement.is === "format")?.version ?? FORMAT_VERSION;
  if (version > FORMAT_VERSION)
    return {
      ok: false,
      says: `This file is in format ${version}; this program reads up to format ${FORMAT_VERSION}. A newer Gylebook opens it.`,
    };
  const [lineEnd = "\n"] = /\r\n|\n|\r/.exec(body) ?? [];
  return { ok: true, workbook: { byteOrderMark, lineEnd: lineEnd as Workbook["lineEnd"], ...build(statements) } };
}

/** The units that a file spells, before it is known what they are. */
export function spellingsOf(text: string): UnitBook {
  const { names, means } = scanUnitNames(text);
  return createUnitBook({
    own: names.map((name) => ownUnit(name, DIMENSIONLESS, 1)),
    means: new Map(means.map(({ word, unit }) => [word, unit])),
  });
}

function build(statements: readonly Statement[]): Pick<Workbook, "head" | "sheets"> {
  const head: HeadItem[] = [];
  const sheets: { sheet: Omit<Sheet, "pages">; items: Item[] }[] = [];
  for (const statement of statements) {
    const last = sheets[sheets.length - 1];
    if (statement.is === "sheet") {
      const known = sheets.some(({ sheet }) => nameKey(sheet.name) === nameKey(statement.name));
      if (!known)
        sheets.push({
          sheet: { name: statement.name, label: shown(statement.label), source: statement.source },
          items: [],
        });
      else last?.items.push({ is: "unread", source: statement.source });
    } else if (last === undefined) head.push(headItem(statement));
    else last.items.push(sheetItem(statement));
  }
  return { head, sheets: sheets.map(({ sheet, items }) => ({ ...sheet, pages: paged(items, PAGE_LENGTH) })) };
}

/** A label as it is safe to show; the file keeps its own characters in `source`. */
const shown = (label: string | null): string | null => (label === null ? null : visible(label));

/** A list in pages of at most `length`. */
export function paged<T>(items: readonly T[], length: number): T[][] {
  const pages: T[][] = [];
  for (let at = 0; at < items.length; at += length) pages.push(items.slice(at, at + length));
  return pages;
}

/** A statement as an item of the head; what belongs to a sheet is kept as unread. */
export function headItem(statement: Statement): HeadItem {
  const { source } = statement;
  switch (statement.is) {
    case "format":
    case "library":
      return { is: statement.is, source, version: statement.version };
    case "title":
      return { is: "title", source, text: visible(statement.text) };
    case "lens":
      return { is: "lens", source, lens: statement.lens };
    case "zone":
      return { is: "zone", source, zone: statement.zone };
    case "means":
      return {
        is: "means",
        source,
        word: statement.word,
        unit: statement.unit.factors.map(({ spelling }) => spelling).join("/"),
      };
    case "unit":
      return { is: "unit", source, name: statement.name, formulaStart: statement.formulaStart };
    case "function":
      return {
        is: "function",
        source,
        name: statement.name,
        parameters: statement.parameters,
        formulaStart: statement.formulaStart,
      };
    case "cell":
      return {
        is: "cell",
        source,
        name: statement.name,
        label: shown(statement.label),
        formulaStart: statement.formulaStart,
      };
    case "gap":
      return { is: "gap", source };
    default:
      return { is: "unread", source };
  }
}

/** Where a table's rows begin in its source, or would: before its `end` line. */
function rowsStart({ rowsStart: start, source }: Extract<Statement, { is: "table" }>): number {
  if (start > 0) return start;
  const end = /(?:^|[\r\n])[^\S\r\n]*end[^\S\r\n]*(?:#[^\r\n]*)?(?:\r\n|\r|\n)?$/.exec(source);
  return end === null ? source.length : end.index + (/^[\r\n]/.test(end[0]) ? 1 : 0);
}

/** A statement as an item of a sheet; what belongs to the head is kept as unread. */
export function sheetItem(statement: Statement): Item {
  const { source } = statement;
  const rowsAt = statement.is === "table" ? rowsStart(statement) : 0;
  switch (statement.is) {
    case "cell":
      return {
        is: "cell",
        source,
        name: statement.name,
        label: shown(statement.label),
        formulaStart: statement.formulaStart,
      };
    case "section":
      return { is: "section", source, label: visible(statement.label) };
    case "prose":
      return { is: "prose", source, text: visible(statement.text) };
    case "gap":
      return { is: "gap", source };
    case "table":
      return {
        is: "table",
        source: source.slice(0, rowsAt),
        tail: source.slice(rowsAt + statement.rows.length),
        name: statement.name,
        label: shown(statement.label),
        columns: statement.columns,
        mapping: statement.mapping,
        rows: rowPages(statement.rows),
      };
    case "plot":
      return {
        is: "plot",
        source,
        label: visible(statement.label),
        across: statement.across === null ? null : nameText(statement.across),
        lines: statement.lines.map(nameText),
      };
    default:
      return { is: "unread", source };
  }
}

const nameText = (node: NameNode): string => node.parts.map(({ text }) => text).join(".");

/** The lines of a table's rows in pages; blank lines stay with the row before them. */
export function rowPages(text: string): RowPage[] {
  if (text === "") return [];
  const rows = readRows(text);
  const pages: RowPage[] = [];
  let start = 0;
  for (let row = 0; row < rows.count; row += PAGE_LENGTH) {
    const next = Math.min(rows.count, row + PAGE_LENGTH);
    const end = next === rows.count ? text.length : lineStart(text, rows.starts[rows.firsts[next] as number] as number);
    pages.push({ text: text.slice(start, end), count: next - row });
    start = end;
  }
  return rows.count === 0 ? [{ text, count: 0 }] : pages;
}

/** The start of the line that `at` stands in. */
function lineStart(text: string, at: number): number {
  let start = at;
  while (start > 0 && text[start - 1] !== "\n" && text[start - 1] !== "\r") start -= 1;
  return start;
}

/** The file's text: every part's own characters. */
export function writeWorkbook(workbook: Workbook): string {
  const parts: string[] = [workbook.byteOrderMark ? "\ufeff" : ""];
  for (const item of workbook.head) parts.push(item.source);
  for (const sheet of workbook.sheets) {
    parts.push(sheet.source);
    for (const page of sheet.pages) for (const item of page) for (const part of partsOf(item)) parts.push(part);
  }
  // Joined once: a large table's rows are megabytes.
  return parts.join("");
}

const partsOf = (item: Item): readonly string[] =>
  item.is === "table" ? [item.source, ...item.rows.map(({ text }) => text), item.tail] : [item.source];

/** An item's own characters. */
export const sourceOf = (item: Item): string => partsOf(item).join("");

/** What is wrong with an item as a statement, apart from its formula; spans in its source. */
export function statementFaults(item: Item | HeadItem, language: Language, units: UnitBook): readonly Fault[] {
  if (item.is === "cell" || item.is === "gap" || item.is === "prose") return [];
  const source = item.is === "table" ? item.source + item.tail : item.source;
  const worked = item.is === "table" ? item.columns.filter(({ formula }) => formula !== null) : [];
  // A worked column's formula tells its own faults.
  const told = ({ span }: Fault): boolean =>
    worked.some((column) => span.start >= column.formulaStart && span.end <= column.span.end);
  const faults = readStatements(source, language.reader(units)).flatMap(({ faults: found, start }) =>
    found
      .map((one) => ({ ...one, span: { start: one.span.start + start, end: one.span.end + start } }))
      .filter((one) => !told(one)),
  );
  if (item.is !== "unread" || faults.length > 0) return faults;
  return [fault("syntax", { start: 0, end: source.trimEnd().length }, { says: misplaced(source) })];
}

/** A statement that is sound but stands where it does not belong. */
function misplaced(source: string): string {
  const [word = ""] = /\S+/.exec(source) ?? [];
  if (word === "sheet") return "A sheet of this name stands above; every sheet has its own name.";
  return ["gylebook", "library", "title", "lens", "zone", "unit", "function"].includes(word)
    ? `A ${word} line stands in the head of the file, above the first sheet.`
    : 'This belongs on a sheet, below a line such as: sheet mash "Mash"';
}
