import type { Detection } from "./detect.ts";
import { type SourceColumn, sourceColumns } from "./match.ts";
import type { Asking } from "./question.ts";

/** Decimals that an instrument writes; a longer figure is no decimals of the one before it. */
const MOST_DECIMALS = 999;

const MEND = "export the file with semicolons between the entries, or with decimal points.";

/**
 * Tells of figures with a decimal comma in a file that commas part: `12,5` becomes two entries. Rows that have too many so
 * are rejected; a row whose last entry is missing fits by chance, which the data cannot decide. A file with a decimal point
 * anywhere, or with its decimal commas in quotes, has no such figures.
 */
export function notePartedFigures(detection: Detection, asking: Asking): void {
  const { marks, shape, parted } = detection;
  if (shape.separator.value !== "," || marks.decimalPoint.count > 0 || marks.decimalComma.count > 0) return;
  const [example] = parted.first;
  if (example !== undefined)
    asking.note(
      `Line ${example.line} has more entries than the header, as when figures have a decimal comma and commas part the entries too: ${example.entry}. To mend it, ${MEND}`,
    );
  const columns = sourceColumns(detection);
  for (const [at, right] of columns.slice(1).entries()) {
    const left = columns[at];
    const [sighting] = right.survey.figures.first;
    if (left === undefined || sighting === undefined || !mayBeWhole(left) || !mayBeDecimals(right, parted.count > 0))
      continue;
    asking.note(
      `"${sighting.entry}" under "${right.header.text}" on line ${sighting.line} may be the decimals of the figure before it, cut off at a decimal comma. If it is, ${MEND}`,
    );
  }
}

/** Whole figures of something measured. */
const mayBeWhole = ({ header: { unit, role }, survey }: SourceColumn): boolean =>
  survey.whole &&
  survey.figures.count > 0 &&
  survey.words.count === 0 &&
  (unit !== null || role === "gravity" || role === "temperature" || role === "pressure" || role === "pH");

/** Short whole figures: where rows have shown that figures are parted, of any column; else among the words of a column of remarks. */
function mayBeDecimals({ header: { unit, role }, survey }: SourceColumn, isShown: boolean): boolean {
  const {
    figures,
    whole,
    words,
    low: [low = -1],
    high: [high = 0],
  } = survey;
  if (figures.count === 0 || !whole || low < 0 || high > MOST_DECIMALS) return false;
  return isShown || (words.count > 0 && unit === null && role === "other");
}
