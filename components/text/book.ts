import { labelFromName, type Problems, type Session, type Workbook } from "../../engine/index.ts";

/** The title of a book; "A book without a title" where the file gives none. */
export const titleOf = (workbook: Workbook): string => {
  for (const item of workbook.head) if (item.is === "title") return item.text;
  return "A book without a title";
};

const known = new WeakMap<Workbook, Problems>();

/** A session's faults and blanks, counted once for each version of its book, however many elements show them. */
export const problemsOf = (session: Session): Problems => {
  const { workbook } = session;
  const counted = known.get(workbook) ?? session.problems();
  known.set(workbook, counted);
  return counted;
};

/** A place where something is faulty: the full name of a line or column, or of the sheet that holds what could not be read. */
export interface Trouble {
  readonly name: string;
  readonly message: string;
}

const UNREAD = "A part of the file could not be read.";

/** Everything that is faulty, in the order of the book: what could not be read, lines, columns, and columns with faulty entries. */
export const troublesOf = (session: Session): readonly Trouble[] => {
  const { faults } = problemsOf(session);
  const told = new Set(faults.map(({ name }) => name));
  const { head, sheets } = session.workbook;
  const others: Trouble[] = head.filter(({ is }) => is === "unread").map(() => ({ name: "", message: UNREAD }));
  for (const sheet of sheets) {
    for (const item of sheet.pages.flat()) {
      if (item.is === "unread") others.push({ name: sheet.name, message: UNREAD });
      if (item.is !== "table") continue;
      for (const { fullName, label, entryFaults } of session.table(`${sheet.name}.${item.name}`)?.columns ?? [])
        if (entryFaults.size > 0 && !told.has(fullName))
          others.push({
            name: fullName,
            message: `${label} has ${entryFaults.size === 1 ? "a faulty entry" : `${entryFaults.size} faulty entries`}.`,
          });
    }
  }
  return [...faults, ...others];
};

/** The lines, columns and sheets at which something is faulty, each once. */
export const faultyPlaces = (session: Session): readonly string[] => [
  ...new Set(troublesOf(session).map(({ name }) => name)),
];

/** The sheet on which a place stands, told by its full name, or that is the place itself; empty: the front page. */
export const sheetOf = ({ workbook: { sheets } }: Session, place: string): string => {
  const first = place.split(".", 1)[0] ?? "";
  return place.includes(".") || sheets.some(({ name }) => name === first) ? first : "";
};

/** What a sheet is called; an empty name: the front page. */
export const sheetLabel = ({ workbook: { sheets } }: Session, sheet: string): string =>
  sheet === "" ? "Front page" : (sheets.find(({ name }) => name === sheet)?.label ?? labelFromName(sheet));
