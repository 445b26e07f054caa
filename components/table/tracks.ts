import type { ColumnResult, Session, TableResult } from "../../engine/index.ts";
import { isInstant, shownEntry } from "./entries.ts";

/*
 * How wide the columns of a table are, in rem, reckoned from its texts: measured on the page they would be known only after
 * it was drawn, and move what stands there.
 */

/** Rows whose entries decide how wide a column is. */
const MEASURED = 40;
/** Padding and rule of an entry or header. */
const EDGES = 1.125;
/** A character of the face of figures. */
const FIGURE = 0.625;
/** Characters of the face of words, bold as headers are, by their width; and what is left of it where they are not bold. */
const NARROW = /[iljtfrI.,:;'’()-]/;
const WIDE = /[mwMW%]/;
const NOT_BOLD = 0.92;
/** Lines that the label of a header may take. */
const LABEL_LINES = 2;

/** Least widths in characters: what a reading is, what a result grows to as readings come in, and a moment. */
const READING = 5;
const RESULT = 7;
const MOMENT = 16;
/** Greatest width: longer words are cut and read in the field. */
const WIDEST = 13;
/** The column of what can be done with a row. */
const TOOLS = "var(--gyle-target)";

const widthOfSign = (sign: string): number =>
  sign === " " ? 0.22 : NARROW.test(sign) ? 0.34 : WIDE.test(sign) ? 0.87 : 0.57;
const widthOfWords = (text: string): number => [...text].reduce((sum, sign) => sum + widthOfSign(sign), 0);

/** Lines that a text takes where each is so wide at most. */
const linesIn = (words: readonly string[], width: number): number => {
  let [lines, room] = [0, 0];
  for (const word of words) {
    const wide = widthOfWords(word);
    if (lines === 0 || wide > room) [lines, room] = [lines + 1, width];
    room -= wide;
  }
  return lines;
};

/** The least width at which a label stands in two lines and no word is broken. */
const widthOfLabel = (label: string): number => {
  const words = label.split(/(?<=[ -])/);
  const longest = Math.max(0, ...words.map((word) => widthOfWords(word.trimEnd())));
  let width = longest;
  while (linesIn(words, width) > LABEL_LINES) width += 0.25;
  return width;
};

const widthOfEntry = (column: ColumnResult, longest: number): number => {
  if (column.type.kind.is === "text") return longest;
  const least = isInstant(column) ? MOMENT : column.measured ? READING : RESULT;
  return Math.max(longest, least * FIGURE);
};

const widthOf = (session: Session, table: TableResult, column: ColumnResult): number => {
  const words = column.type.kind.is === "text";
  let longest = 0;
  for (let row = 0; row < Math.min(MEASURED, table.rowCount); row += 1) {
    const text = shownEntry(column, session.entry(table.name, row, column.name), session.lens);
    longest = Math.max(longest, words ? widthOfWords(text) * NOT_BOLD : text.length * FIGURE);
  }
  const header = Math.max(widthOfLabel(column.label), widthOfWords(column.unitText));
  return Math.min(WIDEST, Math.max(widthOfEntry(column, longest), header)) + EDGES;
};

const known = new WeakMap<TableResult, string>();

/** Columns and least width of a row, as custom properties: header and body stand in one measure. Worked out once for a table's results. */
export const tracksOf = (session: Session, table: TableResult): string => {
  const tracks = known.get(table) ?? reckoned(session, table);
  known.set(table, tracks);
  return tracks;
};

const reckoned = (session: Session, table: TableResult): string => {
  const digits = Math.max(3, String(table.rowCount).length);
  const number = 0.5 + digits / 2;
  const widths = table.columns.map((column) => Math.ceil(widthOf(session, table, column) * 100) / 100);
  const least = widths.reduce((sum, width) => sum + width, number);
  return `--tracks: ${number}rem ${widths.map((width) => `minmax(${width}rem, ${width}fr)`).join(" ")} ${TOOLS}; --least: calc(${least.toFixed(2)}rem + ${TOOLS})`;
};
