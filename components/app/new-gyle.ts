import { createSession, type Edit, type Session } from "../../engine/index.ts";
import { joinFormula, splitFormula } from "../text/formula-text.ts";

/** A note that stands beside a reading. */
export interface ReadingNote {
  /** Full name of the line, `mash.rest_measured`. */
  readonly line: string;
  readonly label: string;
  readonly note: string;
}

/** The notes beside readings, in the order of the book: of the day, or of how the reading is taken; only the brewer knows. */
export const notesOfReadings = (session: Session): readonly ReadingNote[] => {
  const { head, sheets } = session.workbook;
  const names = [
    ...head.flatMap((item) => (item.is === "cell" ? [item.name] : [])),
    ...sheets.flatMap(({ name, pages }) =>
      pages.flatMap((page) => page.flatMap((item) => (item.is === "cell" ? [`${name}.${item.name}`] : []))),
    ),
  ];
  return names.flatMap((name) => {
    const cell = session.cell(name);
    return cell === null || cell.blank === null || !cell.note
      ? []
      : [{ line: name, label: cell.label, note: cell.note }];
  });
};

/** A book's text with every reading to be taken anew, without the notes beside the lines `dropped`. */
export const newGyleOf = (text: string, dropped: ReadonlySet<string>): string => {
  const session = createSession(text);
  session.dispatch({ edit: "empty-blanks" });
  const edits = notesOfReadings(session).flatMap(({ line }): readonly Edit[] => {
    const formula = session.cell(line)?.formula;
    if (formula === undefined || !dropped.has(line)) return [];
    return [{ edit: "set-formula", cell: line, formula: joinFormula({ ...splitFormula(formula), note: null }) }];
  });
  if (edits.length > 0) session.dispatch(edits);
  return session.text();
};
