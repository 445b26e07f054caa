import type { Workbook } from "../../engine/index.ts";

/** The title of a book; "A book without a title" where the file gives none. */
export const titleOf = (workbook: Workbook): string => {
  for (const item of workbook.head) if (item.is === "title") return item.text;
  return "A book without a title";
};
