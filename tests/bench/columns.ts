import { createSession } from "../../engine/session.ts";
import { counted } from "./books.ts";
import type { Contender, Workload } from "./race.ts";

/*
 * A table of minute-by-minute readings: three measured columns, three worked ones, five summaries.
 */

const ROWS = 100_000;
const WINDOW = 7;

const massOf = (row: number): number => 100 + ((row * 7919) % 1013) / 10;
const volumeOf = (row: number): number => 20 + ((row * 104_729) % 997) / 50;
const levelOf = (row: number): number => 1 + ((row * 31) % 89) / 10;

const TABLE = [
  "gylebook 1",
  "sheet lines",
  "scale = 1.25",
  "table log",
  "  column mass : kg",
  "  column volume : L",
  "  column level : L",
  "  column each = mass * scale / (volume + level)",
  "  column drop = change(mass)",
  "  column smooth = running_mean(mass, rows: 7)",
  "  rows",
  ...counted(ROWS).map((row) => `    ${massOf(row)}, ${volumeOf(row)}, ${levelOf(row)}`),
  "  end",
  "total = sum(log.mass)",
  "typical = mean(log.each)",
  "highest = max(log.smooth)",
  "lowest = min(log.drop)",
  "scatter = spread(log.smooth)",
];
const SUMMARIES = ["total", "typical", "highest", "lowest", "scatter"];

/** The entry that is edited, and what it holds in a turn. */
const EDITED_ROW = 51_234;
const editedMass = (turn: number): number => 150 + (turn % 16) / 4;

class Sum {
  sum = 0;
  lost = 0;
  add(value: number): void {
    const next = this.sum + value;
    this.lost += Math.abs(this.sum) >= Math.abs(value) ? this.sum - next + value : value - next + this.sum;
    this.sum = next;
  }
  get total(): number {
    return this.sum + this.lost;
  }
}

function columns(): { mass: Float64Array; volume: Float64Array; level: Float64Array } {
  const mass = new Float64Array(ROWS);
  const volume = new Float64Array(ROWS);
  const level = new Float64Array(ROWS);
  for (let row = 0; row < ROWS; row += 1) {
    mass[row] = massOf(row);
    volume[row] = volumeOf(row) * 1e-3;
    level[row] = levelOf(row) * 1e-3;
  }
  return { mass, volume, level };
}

function loops(): Contender {
  const { mass, volume, level } = columns();
  let summaries: number[] = [];
  const sumOf = (column: Float64Array): number => {
    const sum = new Sum();
    for (let row = 0; row < ROWS; row += 1) sum.add(column[row] as number);
    return sum.total;
  };
  return {
    name: "a loop each",
    run: (turn) => {
      mass[EDITED_ROW] = editedMass(turn);
      const each = new Float64Array(ROWS);
      for (let row = 0; row < ROWS; row += 1)
        each[row] = ((mass[row] as number) * 1.25) / ((volume[row] as number) + (level[row] as number));
      const drop = new Float64Array(ROWS);
      drop[0] = Number.NaN;
      for (let row = 1; row < ROWS; row += 1) drop[row] = (mass[row] as number) - (mass[row - 1] as number);
      const smooth = new Float64Array(ROWS);
      for (let row = 0; row < ROWS; row += 1) {
        const first = Math.max(0, row - WINDOW + 1);
        let sum = 0;
        for (let at = first; at <= row; at += 1) sum += mass[at] as number;
        smooth[row] = sum / (row - first + 1);
      }
      let highest = Number.NEGATIVE_INFINITY;
      for (let row = 0; row < ROWS; row += 1) highest = Math.max(highest, smooth[row] as number);
      let lowest = Number.POSITIVE_INFINITY;
      for (let row = 1; row < ROWS; row += 1) lowest = Math.min(lowest, drop[row] as number);
      const mean = sumOf(smooth) / ROWS;
      const squares = new Sum();
      for (let row = 0; row < ROWS; row += 1) squares.add(((smooth[row] as number) - mean) ** 2);
      summaries = [sumOf(mass), sumOf(each) / ROWS, highest, lowest, Math.sqrt(squares.total / (ROWS - 1))];
    },
    read: () => summaries,
  };
}

export function table(): Workload {
  const session = createSession(TABLE.join("\n"));
  const { model } = session;
  const mass = model.names.node("lines.log.mass") ?? -1;
  const measured = columns().mass;
  const edited = createSession(TABLE.join("\n"));
  const read = (of: typeof session) => () => SUMMARIES.map((name) => of.cell(`lines.${name}`)?.value as number);
  return {
    title: "table of 100,000 rows: 3 measured, 3 worked columns, 5 summaries",
    contenders: [
      loops(),
      {
        name: "engine, from scratch",
        run: (turn) => {
          measured[EDITED_ROW] = editedMass(turn);
          model.tryFigure(mass, measured);
        },
        read: () => SUMMARIES.map((name) => model.store.value(model.names.node(`lines.${name}`) ?? -1) as number),
      },
      {
        name: "engine, one entry edited",
        run: (turn) => {
          edited.dispatch({
            edit: "set-entry",
            table: "lines.log",
            row: EDITED_ROW,
            column: "mass",
            entry: `${editedMass(turn)}`,
          });
        },
        read: read(edited),
      },
    ],
    limits: [
      { of: "engine, from scratch", over: "a loop each", most: 2.5 },
      { of: "engine, one entry edited", over: "a loop each", most: 2.5 },
    ],
  };
}
