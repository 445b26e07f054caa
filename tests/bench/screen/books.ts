import { counted } from "../books.ts";

/*
 * Books for the screen, in the shape of ours: entries with units first, then results in layers, here and there a table
 * and a plot.
 */

export const SHEETS = 20;
const ENTRIES = 25;
const LAYERS = 3;
/** Results of one layer; with the entries 100 lines a sheet. */
const WIDTH = 25;
/** Neighbours on the layer before that a result draws on. With its one entry it draws on six: a mean fan-out of 4.5 over all lines. */
const NEIGHBOURS = [-2, -1, 0, 1, 2];
/** One sheet in so many has a table and a plot, the first too. */
const TABLE_EVERY = 6;
const TABLE_ROWS = 200;

export const sheetLabel = (sheet: number): string => `Sheet ${sheet}`;
export const entryLabel = (place: number): string => `Entry ${place}`;
export const resultLabel = (layer: number, place: number): string => `Result ${layer} of ${place}`;

/** The table of one sheet: a reading every hour, a column that draws on an entry of the sheet, and a plot of both. */
const tableLines = (): string[] => [
  'table log "Log"',
  "  column taken : instant",
  "  column weight : kg",
  "  column rest = e1 - weight as kg",
  "  rows",
  ...counted(TABLE_ROWS).map((row) => `    ${hour(row)}, ${(1 + (row % 90) / 10).toFixed(1)}`),
  "  end",
  'plot "Weights"',
  "  across log.taken",
  "  line log.weight",
  "  line log.rest",
];

/** The hour so many hours after the first of March, as a file writes it. */
const hour = (after: number): string => new Date(Date.UTC(2026, 2, 1) + after * 3_600_000).toISOString().slice(0, 16);

/** A formula of a layer: neighbours on the layer before, around its own place, and one entry of the sheet. */
function formula(sheet: number, layer: number, place: number): string {
  const before = (at: number): string => {
    if (layer > 1) return `r${layer - 1}_${at}`;
    return sheet === 1 ? `e${at}` : `s${sheet - 1}.r${LAYERS}_${at}`;
  };
  const around = NEIGHBOURS.map((by) => before(1 + ((place - 1 + by + WIDTH) % WIDTH)));
  return `(${[...new Set([...around, `e${1 + ((place * 7 + layer) % ENTRIES)}`])].join(" + ")}) / 6 as kg by 0.001`;
}

/** 2,000 lines on 20 sheets, each sheet drawing on the one before, a mean fan-out near 5, four tables and plots. */
export const largeBook = (): string =>
  [
    "gylebook 1",
    "library 1",
    'title "Two thousand lines"',
    ...counted(SHEETS).flatMap((at) => {
      const sheet = at + 1;
      return [
        `sheet s${sheet} "${sheetLabel(sheet)}"`,
        ...counted(ENTRIES).map((place) => `e${place + 1} "${entryLabel(place + 1)}" = ${sheet + place / 10} kg`),
        ...(at % TABLE_EVERY === 0 ? tableLines() : []),
        ...counted(LAYERS).flatMap((layer) =>
          counted(WIDTH).map(
            (place) =>
              `r${layer + 1}_${place + 1} "${resultLabel(layer + 1, place + 1)}" = ${formula(sheet, layer + 1, place + 1)}`,
          ),
        ),
      ];
    }),
    "",
  ].join("\n");

/** A short sheet, and one of so many lines: every fourth an entry, the others worked out from their neighbours. */
export const longSheet = (lines: number): string =>
  [
    "gylebook 1",
    "library 1",
    'title "A long sheet"',
    'sheet short "Short"',
    "first = 3 kg",
    'sheet long "Long"',
    ...counted(lines).map((line) =>
      line % 4 === 0
        ? `e${line} "${entryLabel(line)}" = ${1 + (line % 90) / 10} kg`
        : `r${line} "Result ${line}" = (e${line - (line % 4)} + short.first) / ${1 + (line % 7)} as kg by 0.01`,
    ),
    "",
  ].join("\n");

/** One table of so many rows: two readings and a worked column. */
export const longTable = (rows: number): string =>
  [
    "gylebook 1",
    "library 1",
    'title "A long table"',
    'sheet cellar "Cellar"',
    "original = 12.1 °P",
    'table readings "Readings"',
    "  column taken : instant",
    "  column gravity : °P by 0.1",
    "  column temp : °C",
    "  column gone = (original - gravity) / 12.1 Δ°P as %",
    "  rows",
    ...counted(rows).map(
      (row) => `    ${hour(row)}, ${(12 - (row % 100) / 10).toFixed(1)}, ${(17 + (row % 40) / 10).toFixed(1)}`,
    ),
    "  end",
    "",
  ].join("\n");
