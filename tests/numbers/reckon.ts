import { createSession } from "../../engine/index.ts";

/** What a book shows, and its figures in full: one entry for each line and worked or measured column. */
export interface Reckoned {
  readonly name: string;
  readonly shown: string;
  readonly values: readonly (number | string | null)[];
}

/** Works a book out. This very function runs in Node and, bundled, in the browser. */
export function reckon(text: string): Reckoned[] {
  const session = createSession(text);
  return session.workbook.sheets.flatMap(({ name: sheet, pages }) =>
    pages.flat().flatMap((item): Reckoned[] => {
      if (item.is === "cell") {
        const cell = session.cell(`${sheet}.${item.name}`);
        return [{ name: `${sheet}.${item.name}`, shown: cell?.shown ?? "", values: valuesOf(cell?.value ?? null) }];
      }
      if (item.is !== "table") return [];
      const table = session.table(`${sheet}.${item.name}`);
      return (table?.columns ?? []).map(({ name, fullName, value }) => ({
        name: fullName,
        shown: Array.from(
          { length: table?.rowCount ?? 0 },
          (_, row) => session.entry(table?.name ?? "", row, name).shown,
        ).join(),
        values: valuesOf(value),
      }));
    }),
  );
}

const valuesOf = (value: unknown): (number | string | null)[] =>
  (typeof value === "object" && value !== null
    ? Array.from(value as ArrayLike<number | string | null>)
    : [value as number]
  ).map((entry) => (typeof entry === "number" && Number.isNaN(entry) ? null : entry));
