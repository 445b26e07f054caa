import { labelFromName, nameFromLabel, nameKey } from "../base/names.ts";
import { quoteText } from "../parser/texts.ts";
import type { Workbook } from "../workbook/document.ts";
import { writeWorkbook } from "../workbook/open.ts";
import type { Detection } from "./detect.ts";
import { formulaUnit } from "./headers.ts";
import { sourceColumns } from "./match.ts";
import { timeKind } from "./time-columns.ts";
import type { ReadUnit } from "./units-in-text.ts";

/** A column for a new table, made from a CSV's column. */
export interface NewColumn {
  readonly name: string;
  readonly label: string;
  /** What stands behind the colon: a unit, `number`, `text`, `instant` or `truth`. */
  readonly asks: string;
}

/** Columns for a table that is made to hold this CSV. A lone column of dates is when a reading was taken; of several each keeps its name. */
export function proposeColumns(detection: Detection, readUnit: ReadUnit): NewColumn[] {
  const sources = sourceColumns(detection).map(({ header, survey }) => ({
    header,
    survey,
    is: timeKind(header, survey),
  }));
  const dates = sources.filter(({ is }) => is !== null && is !== "clock");
  // A date and a time of day beside it become one instant.
  const isJoined = dates.length > 0 && dates.every(({ is }) => is === "date");
  const taken = new Set<string>();
  return sources.flatMap(({ header, survey, is }) => {
    if (is === "clock" && isJoined) return [];
    const isTime = is !== null && is !== "clock";
    const label = isTime && dates.length === 1 ? "Taken" : header.label;
    const base = nameFromLabel(label) || "column";
    let name = base;
    for (let turn = 2; taken.has(name); turn += 1) name = `${base}_${turn}`;
    taken.add(name);
    const unit = header.unit === null ? null : formulaUnit(header.unit);
    const asks = isTime
      ? "instant"
      : unit !== null && readUnit(unit) !== null
        ? unit
        : survey.figures.count > 0
          ? "number"
          : survey.truths.count > survey.words.count
            ? "truth"
            : "text";
    return [{ name, label, asks }];
  });
}

const named = (name: string, label: string): string =>
  labelFromName(name) === label ? name : `${name} ${quoteText(label)}`;

/** The statement of a table without rows that is made to hold a CSV. */
export const newTableText = (label: string, columns: readonly NewColumn[]): string =>
  [
    `table ${named(nameFromLabel(label), label)}`,
    ...columns.map((column) => `  column ${named(column.name, column.label)} : ${column.asks}`),
    "  rows",
    "  end",
  ].join("\n");

/** A book's head with one of its tables (full name) and nothing else, as a file: all that reading a CSV into it takes. Without a table: the head alone. */
export function tableAlone(workbook: Workbook, table: string | null): string {
  const key = table === null ? null : nameKey(table);
  const sheets = workbook.sheets.flatMap((sheet) => {
    const item = sheet.pages.flat().find((one) => one.is === "table" && nameKey(`${sheet.name}.${one.name}`) === key);
    return item === undefined ? [] : [{ ...sheet, pages: [[item]] }];
  });
  return writeWorkbook({ ...workbook, sheets });
}
