import type { Workbook } from "../../engine/index.ts";

/** The title of a book; "A book without a title" where the file gives none. */
export const titleOf = (workbook: Workbook): string => {
  for (const item of workbook.head) if (item.is === "title") return item.text;
  return "A book without a title";
};

/** A file name made from a title: `Amber ale, batch 214` is `amber-ale-batch-214.gyle`. */
export const fileNameOf = (workbook: Workbook): string => {
  const words = titleOf(workbook)
    .toLocaleLowerCase("en")
    .split(/[^\p{L}\p{M}\p{Nd}]+/u)
    .filter(Boolean);
  return `${words.join("-") || "book"}.gyle`;
};
