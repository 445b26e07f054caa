import { inWords } from "./in-words.ts";
import { laterPass } from "./instants.ts";

/** How many new rows stand before a row of the table as it was. */
export interface Place {
  readonly before: number;
  readonly count: number;
}

/** How new rows stand in a table. */
export interface Standing {
  /** Rows of the reading, in the order in which they will stand. */
  readonly rows: readonly number[];
  /** Of the first of them, which row of the table they stand before; the rest stand at its end. */
  readonly places: readonly Place[];
  /** What is to be said of it, or null. */
  readonly note: string | null;
}

const rowsInWords = (count: number, rest: string): string => `${inWords(count, "row is", "rows are")} ${rest}`;

/**
 * Puts new rows where a log has them. Where the table's rows and the file's are in order of time, each new row stands after
 * those that are as early; a file with its newest row at the top is turned round. Where either is out of order nobody can
 * tell a place, and the new rows follow at the end in the file's own order.
 */
export function placeAdded(added: readonly number[], times: Float64Array, there: Float64Array): Standing {
  const tableOrder = inOrder(there);
  const turned = isNewestFirst(times);
  const fileOrder = turned ? times : inOrder(times);
  const last = there.reduce((latest, time) => Math.max(latest, time), Number.NEGATIVE_INFINITY);
  const older = added.filter((row) => (times[row] ?? Number.NaN) < last).length;
  if (tableOrder === null || fileOrder === null) {
    const whose = tableOrder === null ? "the table's rows" : "the file's rows";
    const note = `${rowsInWords(older, "older than the last one there")}. New rows stand at the end, for ${whose} are not in order of time.`;
    return { rows: added, places: [], note: older === 0 ? null : note };
  }
  const order = (row: number): number => fileOrder[row] ?? Number.NaN;
  const rows = turned ? added.toSorted((a, b) => order(a) - order(b)) : added;
  const notes = [
    turned && added.length > 1 ? "The file has its newest row at the top; its rows are put in order of time." : "",
    older > 0 ? `${rowsInWords(older, "older than the last one there")}, put in order of time.` : "",
  ].filter((note) => note !== "");
  return { rows, places: placesIn(rows.map(order), tableOrder), note: notes.length === 0 ? null : notes.join(" ") };
}

/**
 * By what rows stand in order: their times, but for the later pass through a repeated hour the last time of the first.
 * Null when they are not in order of time, or one has none.
 */
function inOrder(times: Float64Array): Float64Array | null {
  const later = laterPass(times);
  const order = new Float64Array(times.length);
  let high = Number.NEGATIVE_INFINITY;
  for (let row = 0; row < times.length; row += 1) {
    const time = times[row] ?? Number.NaN;
    if (later?.[row] !== 1) {
      if (!(time >= high)) return null;
      high = time;
    }
    order[row] = high;
  }
  return order;
}

/** Whether a table's rows stand in order of time, a repeated hour allowed for. */
export const isInOrder = (times: Float64Array | null): boolean => times !== null && inOrder(times) !== null;

/** Times only ever go back from row to row, and do. */
const isNewestFirst = (times: Float64Array): boolean =>
  (times[0] ?? 0) > (times.at(-1) ?? 0) && times.every((time, row) => row === 0 || time <= (times[row - 1] ?? 0));

/** Both in order: before which row of the table each of the new ones stands; those past its end are left out. */
function placesIn(order: readonly number[], there: Float64Array): readonly Place[] {
  const places: { before: number; count: number }[] = [];
  let before = 0;
  for (const one of order) {
    while (before < there.length && (there[before] ?? 0) <= one) before += 1;
    if (before === there.length) break;
    const last = places.at(-1);
    if (last?.before === before) last.count += 1;
    else places.push({ before, count: 1 });
  }
  return places;
}
