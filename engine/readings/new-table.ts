import { labelFromName, nameFromLabel, nameKey } from "../base/names.ts";
import { quoteText } from "../parser/texts.ts";
import type { Workbook } from "../workbook/document.ts";
import { writeWorkbook } from "../workbook/open.ts";

import type { NewColumn } from "./propose.ts";

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
