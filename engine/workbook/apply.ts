import { unreachable } from "../base/invariant.ts";
import { isName, nameKey } from "../base/names.ts";
import { LIBRARY_VERSION } from "../library/functions.ts";
import { readStatements } from "../parser/file.ts";
import { quoteText } from "../parser/texts.ts";
import { LENSES } from "../units/lens.ts";
import { applyToTable, type TableEdit } from "./apply-table.ts";
import { type Applied, applied, ended, endOf, exchange, itemsFrom, nameFault, refused, reread } from "./change.ts";
import {
  type CellItem,
  formulaOf,
  type HeadItem,
  type Item,
  isLog,
  PAGE_LENGTH,
  type Sheet,
  type Workbook,
} from "./document.ts";
import type { Edit } from "./edit.ts";
import type { Model } from "./model.ts";
import { headItem, paged } from "./open.ts";
import { renameIn } from "./rename.ts";
import type { TableRecord } from "./tables.ts";

/** Whether a text of an edit holds the character NUL: a file with it would not open again. */
const holdsNul = (part: unknown): boolean =>
  typeof part === "string"
    ? part.includes("\0")
    : typeof part === "object" && part !== null && Object.values(part).some(holdsNul);

/** Makes one edit of the version that `model` has compiled. Whatever it says, the version given stays as it was. */
export function applyEdit(model: Model, edit: Edit): Applied {
  const { workbook } = model;
  if (holdsNul(edit)) return refused("A character of this text has no place in a text file. Type it anew.");
  switch (edit.edit) {
    case "set-formula":
      return changeCell(model, edit.cell, (item) => withFormula(item, edit.formula));
    case "set-label":
      return setLabel(model, edit.of, edit.label);
    case "rename":
      return renameIn(model, edit.of, edit.name);
    case "add-cell":
      return addCell(model, edit);
    case "add-text":
      return addText(model, edit.sheet, edit.at, edit.text);
    case "set-text":
      return setText(model, edit.sheet, edit.at, edit.text);
    case "remove-item":
      return changeItems(workbook, edit.sheet, (items) => (edit.at in items ? items.toSpliced(edit.at, 1) : null));
    case "move-item":
      return changeItems(workbook, edit.sheet, (items) => moved(items, edit.at, edit.to));
    case "add-sheet":
      return addSheet(workbook, edit.name, edit.label, edit.at);
    case "remove-sheet":
      return onSheet(workbook, edit.sheet, (_, at) =>
        applied({ ...workbook, sheets: workbook.sheets.toSpliced(at, 1) }),
      );
    case "move-sheet":
      return onSheet(workbook, edit.sheet, (_, at) => {
        const sheets = moved(workbook.sheets, at, edit.to);
        return sheets === null
          ? refused("There is no such place among the sheets.")
          : applied({ ...workbook, sheets: endedSheets(sheets, workbook) });
      });
    case "set-entry":
    case "add-rows":
    case "remove-rows":
    case "move-row":
    case "read-rows":
    case "add-column":
    case "set-column":
    case "remove-column":
      return changeTable(model, edit);
    case "set-title":
      return setHead(model, `title ${quoteText(edit.title)}`);
    case "set-lens":
      return (LENSES as readonly string[]).includes(edit.lens)
        ? setHead(model, `lens ${edit.lens}`)
        : refused(`There is no lens "${edit.lens}"; there are ${LENSES.join(", ")}.`);
    case "set-head":
      return setHead(model, edit.text);
    case "remove-head": {
      const head = workbook.head.filter((item) => headName(item) !== nameKey(edit.of));
      return head.length === workbook.head.length
        ? refused(`The head says nothing of "${edit.of}".`)
        : applied({ ...workbook, head });
    }
    case "empty-blanks":
      return emptyBlanks(model);
    case "accept-library":
      return setHead(model, `library ${LIBRARY_VERSION}`);
    default:
      return unreachable(edit);
  }
}

// — lines —

/** A formula is typed on one line; line breaks pasted into it become blanks. */
const onOneLine = (text: string): string => text.replace(/\s*[\r\n]+\s*/g, " ").trim();

function withFormula(item: CellItem, formula: string): CellItem {
  if (formula.trim() === formulaOf(item)) return item;
  const before = item.source.slice(0, item.formulaStart).trimEnd();
  return { ...item, source: `${before} ${onOneLine(formula)}${endOf(item.source)}`, formulaStart: before.length };
}

function changeCell(model: Model, name: string, change: (item: CellItem) => CellItem): Applied {
  const node = model.names.node(nameKey(name));
  const origin = node === undefined ? undefined : model.origins[node];
  if (origin?.is !== "cell") return refused(`There is no line "${name}".`);
  return { ok: true, ...exchange(model.workbook, origin.sheet, origin.item, change(origin.item), origin.page) };
}

const labelled = (source: string, nameAt: number, name: string, label: string | null): string => {
  const rest = source.slice(nameAt + name.length).replace(/^\s*"(?:[^"\r\n]|"")*"/, "");
  return `${source.slice(0, nameAt)}${name}${label === null ? "" : ` ${quoteText(label)}`}${rest.startsWith(" ") || /^[\r\n]|^$/.test(rest) ? rest : ` ${rest}`}`;
};

function setLabel(model: Model, of: string, label: string | null): Applied {
  const { workbook } = model;
  const key = nameKey(of);
  const sheetAt = workbook.sheets.findIndex(({ name }) => nameKey(name) === key);
  const sheet = workbook.sheets[sheetAt];
  if (sheet !== undefined) {
    const source = labelled(sheet.source, sheet.source.search(/\S+\s*("|$|[\r\n#])/u), sheet.name, label);
    return applied({ ...workbook, sheets: workbook.sheets.with(sheetAt, { ...sheet, label, source }) });
  }
  const table = model.tables.get(key);
  if (table !== undefined) {
    const { item } = table;
    return relabelled(model, table, item.source.indexOf(item.name, item.source.indexOf("table") + 5), item.name, label);
  }
  const dot = key.lastIndexOf(".");
  const owner = model.tables.get(key.slice(0, dot));
  const column = owner?.item.columns.find(({ name }) => nameKey(name) === key.slice(dot + 1));
  if (owner !== undefined && column !== undefined)
    return relabelled(model, owner, column.nameSpan.start, column.name, label);
  return changeCell(model, of, (item) => {
    const source = labelled(item.source, item.source.indexOf(item.name), item.name, label);
    return { ...item, label, source, formulaStart: item.formulaStart + source.length - item.source.length };
  });
}

/** A table with another label behind the name at this place of its header lines: its own, or a column's. */
function relabelled(
  model: Model,
  { item, sheet }: TableRecord,
  at: number,
  name: string,
  label: string | null,
): Applied {
  const source = labelled(item.source, at, name, label);
  return reread(model, sheet, item, source + item.rows.map(({ text }) => text).join("") + item.tail);
}

// — sheets —

function onSheet(workbook: Workbook, name: string, change: (sheet: Sheet, at: number) => Applied): Applied {
  const at = workbook.sheets.findIndex((sheet) => nameKey(sheet.name) === nameKey(name));
  const sheet = workbook.sheets[at];
  return sheet === undefined ? refused(`There is no sheet "${name}".`) : change(sheet, at);
}

/** Changes the list of a sheet's items; pages that stay the same are shared. */
function changeItems(
  workbook: Workbook,
  name: string,
  change: (items: readonly Item[]) => readonly Item[] | null,
): Applied {
  return onSheet(workbook, name, (sheet, at) => {
    const items = change(sheet.pages.flat());
    if (items === null) return refused("There is no such line on this sheet.");
    const sources = items.map((item, index) => (index < items.length - 1 ? endedItem(item, workbook) : item));
    const sheets = workbook.sheets.with(at, {
      ...sheet,
      source: ended(sheet.source, workbook),
      pages: sharedPages(sheet.pages, sources),
    });
    return applied({ ...workbook, sheets: endedSheets(sheets, workbook) });
  });
}

const endedItem = (item: Item, workbook: Workbook): Item => {
  if (item.is === "table") return endOf(item.tail) === "" ? { ...item, tail: ended(item.tail, workbook) } : item;
  return endOf(item.source) === "" ? { ...item, source: ended(item.source, workbook) } : item;
};

/** Every sheet but the last ends with a line end, however the file ended before. */
function endedSheets(sheets: readonly Sheet[], workbook: Workbook): Sheet[] {
  return sheets.map((sheet, at) => {
    if (at === sheets.length - 1) return sheet;
    const lastPage = sheet.pages.at(-1);
    const last = lastPage?.at(-1);
    if (lastPage === undefined || last === undefined)
      return endOf(sheet.source) === "" ? { ...sheet, source: ended(sheet.source, workbook) } : sheet;
    const whole = endedItem(last, workbook);
    return whole === last ? sheet : { ...sheet, pages: sheet.pages.with(-1, lastPage.with(-1, whole)) };
  });
}

/** New pages for a list, with those of the old ones that it begins and ends with. */
function sharedPages(before: readonly (readonly Item[])[], items: readonly Item[]): (readonly Item[])[] {
  const begins: (readonly Item[])[] = [];
  let from = 0;
  for (const page of before) {
    if (page.length === 0 || !page.every((item, at) => items[from + at] === item)) break;
    begins.push(page);
    from += page.length;
  }
  const ends: (readonly Item[])[] = [];
  let to = items.length;
  for (const page of before.slice(begins.length).toReversed()) {
    if (
      page.length === 0 ||
      to - page.length < from ||
      !page.every((item, at) => items[to - page.length + at] === item)
    )
      break;
    ends.unshift(page);
    to -= page.length;
  }
  return [...begins, ...paged(items.slice(from, to), PAGE_LENGTH), ...ends];
}

function moved<T>(list: readonly T[], from: number, to: number): T[] | null {
  const one = list[from];
  if (one === undefined || to < 0 || to >= list.length) return null;
  return list.toSpliced(from, 1).toSpliced(to, 0, one);
}

function addCell(model: Model, edit: Extract<Edit, { edit: "add-cell" }>): Applied {
  const wrong = nameFault(model, edit.name, `${nameKey(edit.sheet)}.${nameKey(edit.name)}`);
  if (wrong !== null) return refused(wrong);
  const label = edit.label === null ? "" : ` ${quoteText(edit.label)}`;
  return addText(model, edit.sheet, edit.at, `${edit.name}${label} = ${onOneLine(edit.formula)}`);
}

function addText(model: Model, sheet: string, at: number | null, text: string): Applied {
  const items = itemsFrom(model, text);
  if (items.some(beginsSheet)) return refused(NOT_WITHIN);
  return changeItems(model.workbook, sheet, (old) => {
    const place = at ?? lastPlace(old);
    return place < 0 || place > old.length ? null : old.toSpliced(place, 0, ...items);
  });
}

const NOT_WITHIN = "A sheet line begins another sheet, which would take what follows it here. Add a sheet of its own.";

const beginsSheet = (item: Item): boolean => item.is === "unread" && /^\s*sheet\s/.test(item.source);

/** What is added at the end stands before the blank lines that end the sheet. */
function lastPlace(items: readonly Item[]): number {
  let place = items.length;
  while (place > 0 && items[place - 1]?.is === "gap" && items[place - 1]?.source.trim() === "") place -= 1;
  return place;
}

function setText(model: Model, sheet: string, at: number, text: string): Applied {
  const items = itemsFrom(model, text);
  if (items.some(beginsSheet)) return refused(NOT_WITHIN);
  return changeItems(model.workbook, sheet, (old) => (at in old ? old.toSpliced(at, 1, ...items) : null));
}

function addSheet(workbook: Workbook, name: string, label: string | null, at: number | null): Applied {
  if (!isName(name))
    return refused(`"${name}" cannot be a name. A name begins with a letter; letters, digits and _ follow.`);
  if (workbook.sheets.some((sheet) => nameKey(sheet.name) === nameKey(name)))
    return refused(`There is already a sheet "${name}".`);
  const source = `sheet ${name}${label === null ? "" : ` ${quoteText(label)}`}${workbook.lineEnd}`;
  const sheet: Sheet = { name, label, source, pages: [[{ is: "gap", source: workbook.lineEnd }]] };
  const sheets = workbook.sheets.toSpliced(at ?? workbook.sheets.length, 0, sheet);
  return applied({ ...workbook, head: endedHead(workbook), sheets: endedSheets(sheets, workbook) });
}

// — tables —

function changeTable(model: Model, edit: TableEdit): Applied {
  const table = model.tables.get(nameKey(edit.table));
  if (table === undefined) return refused(`There is no table "${edit.table}".`);
  const item = applyToTable(table.item, edit, model.workbook.lineEnd);
  if (typeof item === "string") return refused(item);
  if (item.is === "rows") return { ok: true, ...exchange(model.workbook, table.sheet, table.item, item.table, 0) };
  return reread(model, table.sheet, table.item, item.text);
}

// — the head —

const endedHead = (workbook: Workbook): readonly HeadItem[] =>
  workbook.head.map((item) => (endOf(item.source) === "" ? { ...item, source: ended(item.source, workbook) } : item));

/** What a head statement is known by: one of a name replaces another. */
function headName(item: HeadItem): string | null {
  if (item.is === "gap" || item.is === "unread") return null;
  if (item.is === "unit" || item.is === "function" || item.is === "cell") return nameKey(item.name);
  if (item.is === "means") return nameKey(item.word);
  return item.is === "format" ? "gylebook" : item.is;
}

/** The order in which a head's single statements stand. */
const HEAD_ORDER: readonly HeadItem["is"][] = [
  "format",
  "library",
  "title",
  "lens",
  "zone",
  "means",
  "cell",
  "gap",
  "unit",
  "function",
  "unread",
];

function setHead(model: Model, text: string): Applied {
  const { workbook } = model;
  const statements = readStatements(ended(onOneLine(text), workbook), model.head.language.reader(model.head.units));
  const [statement] = statements;
  if (statements.length !== 1 || statement === undefined) return refused("This is more than one line.");
  const item = headItem(statement);
  if (item.is === "unread" || item.is === "gap") return refused("This does not belong in the head of a book.");
  const at = workbook.head.findIndex((old) => headName(old) !== null && headName(old) === headName(item));
  if (at >= 0) return applied({ ...workbook, head: workbook.head.with(at, item) });
  const head = endedHead(workbook);
  const rank = HEAD_ORDER.indexOf(item.is);
  const after = head.findLastIndex((old) => old.is !== "gap" && HEAD_ORDER.indexOf(old.is) <= rank);
  return applied({ ...workbook, head: head.toSpliced(after + 1, 0, item) });
}

// — a new gyle —

/** The formula with its reading taken out: `? 66.2 °C within …` is `? °C within …`. */
export function emptied(model: Model, formula: string): string {
  const { expression } = model.parse(formula);
  if (expression.node !== "blank" || expression.filled === null) return formula;
  const { filled } = expression;
  const unit = filled.node === "literal" ? filled.figures[0]?.unit : null;
  const asks =
    filled.node === "literal" ? (unit == null ? "" : formula.slice(unit.span.start, unit.span.end)) : filled.node;
  return `${formula.slice(0, filled.span.start)}${asks}${formula.slice(filled.span.end)}`.replace(/^\?\s+$/, "?");
}

/** Blanks and logs begin anew; recipes and calibrations stay. */
function emptyBlanks(model: Model): Applied {
  const { workbook } = model;
  const empty = <T extends Item | HeadItem>(item: T): T => {
    if (item.is === "cell") return withFormula(item as CellItem, emptied(model, formulaOf(item as CellItem))) as T;
    return item.is === "table" && isLog(item) && item.rows.length > 0 ? { ...item, rows: [] } : item;
  };
  return applied({
    ...workbook,
    head: workbook.head.map(empty),
    sheets: workbook.sheets.map((sheet) => ({ ...sheet, pages: sheet.pages.map((page) => page.map(empty)) })),
  });
}
