import type { Session, Workbook } from "../../engine/index.ts";

/** One item of a sheet: a line, a table, a plot, a heading, prose. */
export type SheetItem = Workbook["sheets"][number]["pages"][number][number];

/** The items of a sheet in order, over its pages; empty when there is no such sheet. */
export const itemsOfSheet = (session: Session, sheet: string): readonly SheetItem[] =>
  session.workbook.sheets.find((each) => each.name === sheet)?.pages.flat() ?? [];

/** The sheet and the short name in a full name; a line of the front page has no sheet. */
export const partsOf = (name: string): { sheet: string; short: string } => {
  const dot = name.indexOf(".");
  return dot < 0 ? { sheet: "", short: name } : { sheet: name.slice(0, dot), short: name.slice(dot + 1) };
};

/** Where a line or table stands among the items of its sheet; -1 on the front page. */
export const placeOf = (session: Session, name: string): number => {
  const { sheet, short } = partsOf(name);
  return itemsOfSheet(session, sheet).findIndex(
    (item) => (item.is === "cell" || item.is === "table") && item.name === short,
  );
};
