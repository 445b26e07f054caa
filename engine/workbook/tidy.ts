import { readStatements } from "../parser/file.ts";
import { tidyStatement } from "../parser/tidy.ts";
import type { UnitBook } from "../units/book.ts";
import type { Language } from "./language.ts";
import { spellingsOf } from "./open.ts";

/** The one spelling of a unit; an ambiguous or unknown one stays as it is. */
const speller =
  (units: UnitBook) =>
  (spelling: string): string => {
    const unit = units.find(spelling);
    return unit === null || unit.is === "ambiguous" ? spelling : unit.symbol;
  };

/** The tidy form of a file's text: canonical units and blanks, statement by statement; what has a fault stays as it is. */
export function tidyText(text: string, language: Language): string {
  const mark = text.charCodeAt(0) === 0xfeff ? "\ufeff" : "";
  const body = text.slice(mark.length);
  const units = spellingsOf(body);
  const parser = language.reader(units);
  return (
    mark +
    readStatements(body, parser)
      .map((statement) => tidyStatement(statement, parser, speller(units)))
      .join("")
  );
}
