import { readStatements } from "../parser/file.ts";
import { tidyStatement } from "../parser/tidy.ts";
import type { UnitBook } from "../units/book.ts";
import type { HeadItem } from "./document.ts";
import type { Language } from "./language.ts";
import { Model } from "./model.ts";
import { openWorkbook, spellingsOf, statementFaults } from "./open.ts";
import { pageOffset, placedFaults, placedItems } from "./places.ts";

/** The one spelling of a unit; an ambiguous or unknown one stays as it is. */
const speller =
  (units: UnitBook) =>
  (spelling: string): string => {
    const unit = units.find(spelling);
    return unit === null || unit.is === "ambiguous" ? spelling : unit.symbol;
  };

/**
 * The tidy form of a file's text: canonical units and blanks, statement by statement. A line that has a fault stays to the
 * character, whatever the fault: what it was meant to be is for its writer to say. So does a file that cannot be opened.
 */
export function tidyText(text: string, language: Language): string {
  const faults = faultPlaces(text, language);
  if (faults === null) return text;
  const mark = text.charCodeAt(0) === 0xfeff ? "\ufeff" : "";
  const body = text.slice(mark.length);
  const units = spellingsOf(body);
  const parser = language.reader(units);
  return (
    mark +
    readStatements(body, parser)
      .map((statement) => {
        const at = statement.start + mark.length;
        return tidyStatement(statement, parser, speller(units), (start, end) => anyIn(faults, at + start, at + end));
      })
      .join("")
  );
}

/** Whether one of `places`, which are in order, lies from `start` on and before `end`. */
function anyIn(places: readonly number[], start: number, end: number): boolean {
  let [low, high] = [0, places.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((places[middle] as number) < start) low = middle + 1;
    else high = middle;
  }
  return low < places.length && (places[low] as number) < end;
}

/** Where the text's faults begin, in order: those of a line at its beginning. Null: the text is no workbook. */
function faultPlaces(text: string, language: Language): readonly number[] | null {
  const opened = openWorkbook(text, language);
  if (!opened.ok) return null;
  const { workbook } = opened;
  const model = new Model(workbook, language);
  const starts = new Map<unknown, number>();
  for (const { item, start } of placedItems(workbook)) starts.set(item, start);
  const places = placedFaults(workbook, (item) => [
    ...statementFaults(item, language, model.head.units),
    ...(model.head.faults.get(item as HeadItem) ?? []),
  ]).map(({ span }) => span.start);
  for (const [node, origin] of model.origins.entries()) {
    if (origin === undefined || !model.hasOwnFault(node)) continue;
    if (origin.is === "cell") {
      places.push(starts.get(origin.item) ?? 0);
      continue;
    }
    const { item } = origin.table;
    const start = starts.get(item) ?? 0;
    const ofRows = origin.table.faultsOf(origin.column);
    for (const { fault, page } of ofRows.values()) places.push(start + pageOffset(item, page) + fault.span.start);
    const ofLine = (model.presentations.get(node)?.faults.length ?? 0) > 0 || model.stops.get(node)?.reason === "fault";
    if (ofLine) places.push(start + (item.columns[origin.column]?.span.start ?? 0));
  }
  return places.sort((a, b) => a - b);
}
