import type { ColumnResult, PlotItem, Session } from "../../engine/index.ts";

/** One column as it is drawn: figures in the unit that is shown, missing ones NaN. */
export interface PlotColumn {
  readonly label: string;
  readonly unitText: string;
  readonly table: string;
  readonly instants: boolean;
  readonly figures: Float64Array;
  /** The entry of a row as the reader sees it. */
  readonly shown: (row: number) => string;
}

export interface PlotData {
  /** Why nothing can be drawn, as a sentence; null when something can. */
  readonly says: string | null;
  readonly across: PlotColumn;
  readonly lines: readonly PlotColumn[];
}

const NOTHING: PlotColumn = {
  label: "",
  unitText: "",
  table: "",
  instants: false,
  figures: new Float64Array(),
  shown: () => "",
};

const figuresOf = (column: ColumnResult): Float64Array | null => {
  if (!(column.value instanceof Float64Array)) return null;
  const { unit, value } = column;
  if (unit === null) return value;
  return unit.is === "scale" ? value.map((each) => unit.fromCoherent(each)) : value.map((each) => each / unit.factor);
};

const fullNameOf = (name: string, sheet: string): string => (name.split(".").length > 2 ? name : `${sheet}.${name}`);
const tableOf = (column: string): string => column.split(".").slice(0, 2).join(".");

/** How many points a line of the plot has. */
export const pointsIn = (session: Session, sheet: string, { across, lines: [first = ""] }: PlotItem): number =>
  session.table(tableOf(fullNameOf(across ?? first, sheet)))?.rowCount ?? 0;

/** What a plot draws: its columns in the reader's units, or why it cannot be drawn. */
export const plotData = (session: Session, sheet: string, plot: PlotItem): PlotData => {
  const refused = (says: string): PlotData => ({ says, across: NOTHING, lines: [] });
  const columns: PlotColumn[] = [];
  const names = [...(plot.across === null ? [] : [plot.across]), ...plot.lines];
  if (plot.lines.length === 0) return refused("This plot names no column to draw.");
  for (const name of names) {
    const full = fullNameOf(name, sheet);
    const table = tableOf(full);
    const column = session.table(table)?.columns.find(({ fullName }) => fullName.toLowerCase() === full.toLowerCase());
    if (column === undefined) return refused(`There is no column ${name} to draw.`);
    const figures = figuresOf(column);
    if (figures === null)
      return refused(
        column.state === "ready"
          ? `${column.label} holds words, which cannot be drawn.`
          : `${column.label} is ${column.state}, so there is nothing to draw yet.`,
      );
    const { kind } = column.type;
    columns.push({
      label: column.label,
      unitText: column.unitText,
      table,
      instants: kind.is === "reading" && (kind.family === "instant" || kind.family === "zoned instant"),
      figures,
      shown: (row) => session.entry(table, row, column.name).shown,
    });
  }
  const first = columns[0];
  if (first === undefined || first.figures.length === 0) return refused("There are no rows to draw yet.");
  if (columns.some(({ figures }) => figures.length !== first.figures.length))
    return refused("The columns of this plot come from tables with different rows.");
  if (plot.across !== null) return { says: null, across: first, lines: columns.slice(1) };
  const rows: PlotColumn = {
    ...NOTHING,
    label: "Row",
    table: first.table,
    figures: first.figures.map((_, row) => row + 1),
    shown: (row) => String(row + 1),
  };
  return { says: null, across: rows, lines: columns };
};

/** One point in words: "2 Mar 08:15 · Gravity 12.1 °P · Temp 17.8 °C". */
export const shownAt = ({ across, lines }: PlotData, row: number): string => {
  const said = ({ label, unitText, shown }: PlotColumn): string => {
    const text = shown(row) || "missing";
    return `${label} ${text}${unitText === "" || text.endsWith(unitText) ? "" : ` ${unitText}`}`;
  };
  return [across, ...lines].map(said).join(" · ");
};
