import { type Caution, type CellResult, type ColumnResult, type Session, wordCaution } from "../../engine/index.ts";
import { itemsOfSheet } from "../actions/places.ts";

type Standing = Pick<CellResult | ColumnResult, "state" | "cautions" | "formula">;

/** A result is the same object for as long as nothing of it changes. */
const known = new WeakMap<Standing, readonly Caution[]>();

/** What is to be heeded of a line or column. A faulty one carries no cautions, and the hazard of what it names is there all the same. */
const cautionsOf = (session: Session, result: Standing): readonly Caution[] => {
  if (result.state !== "faulty") return result.cautions;
  const found = known.get(result) ?? session.cautionsNamed(result.formula ?? "");
  known.set(result, found);
  return found;
};

/** The results of the lines and columns of a sheet in order; an empty name: the lines of the front page. */
const resultsOf = (session: Session, sheet: string): readonly Standing[] =>
  (sheet === "" ? session.workbook.head : itemsOfSheet(session, sheet)).flatMap((item): readonly Standing[] => {
    if (item.is !== "cell" && item.is !== "table") return [];
    const name = sheet === "" ? item.name : `${sheet}.${item.name}`;
    const cell = item.is === "cell" ? session.cell(name) : null;
    return cell === null ? (session.table(name)?.columns ?? []) : [cell];
  });

/** What is said once for a whole sheet, whatever state its lines are in: safety, then which figures are estimates. */
export const careOf = (session: Session, sheet: string): readonly string[] => {
  const found = resultsOf(session, sheet).flatMap((result) => cautionsOf(session, result));
  const of = (code: string): readonly string[] => found.filter((each) => each.code === code).map(wordCaution);
  return [...new Set([...of("safety"), ...of("estimate")])];
};
