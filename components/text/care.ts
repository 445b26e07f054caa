import {
  type CellResult,
  type ColumnResult,
  LIBRARY_FUNCTIONS,
  type Session,
  wordCaution,
} from "../../engine/index.ts";
import { itemsOfSheet } from "../actions/places.ts";

type Care = readonly [code: string, says: string];
type Standing = Pick<CellResult | ColumnResult, "state" | "cautions" | "formula">;

/** A result is the same object for as long as nothing of it changes. */
const known = new WeakMap<Standing, readonly Care[]>();

/** What is to be heeded of the functions that a formula names. A faulty one carries no cautions, and the hazard is there all the same. */
const caresOf = (session: Session, result: Standing): readonly Care[] => {
  const { state, cautions, formula } = result;
  if (state !== "faulty") return cautions.map((caution) => [caution.code, wordCaution(caution)]);
  const found = known.get(result) ?? named(session, formula ?? "");
  known.set(result, found);
  return found;
};

const named = (session: Session, formula: string): readonly Care[] =>
  session.tokens(formula).flatMap(({ is, span }) => {
    const name = is === "function" ? formula.slice(span.start, span.end).toLowerCase() : "";
    const caution = LIBRARY_FUNCTIONS.find((each) => each.name === name)?.caution;
    return caution === undefined ? [] : [[caution.is, caution.says] as const];
  });

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
  const cares = resultsOf(session, sheet).flatMap((result) => caresOf(session, result));
  const said = ["safety", "estimate"].flatMap((code) => cares.flatMap(([is, says]) => (is === code ? [says] : [])));
  return [...new Set(said)];
};
