import { computed, signal } from "alien-signals";
import { bookOf, counted, modelOf, nodeOf, readLines } from "./books.ts";
import type { Contender, Workload } from "./race.ts";

/*
 * One figure is edited and everything that depends on it is worked out: a chain, a fan, a grid.
 */

const LENGTH = 100_000;
const SIDE = 300;

/** The figure of a turn: never twice the same in a row. */
const figureOf = (turn: number): number => 1 + (turn % 16) / 64;

const engineEditing = (text: string, edited: string, names: readonly string[]): Contender => {
  const model = modelOf(text);
  const node = nodeOf(model, edited);
  return {
    name: "engine",
    run: (turn) => model.tryFigure(node, figureOf(turn)),
    read: () => readLines(model, names),
  };
};

function loop(values: Float64Array, edited: number, work: () => void): Contender {
  return {
    name: "loop",
    run: (turn) => {
      values[edited] = figureOf(turn);
      work();
    },
    read: () => values,
  };
}

function signals(head: (value: number) => void, cells: readonly (() => number)[]): Contender {
  return {
    name: "alien-signals",
    run: (turn) => {
      head(figureOf(turn));
      for (const cell of cells) cell();
    },
    read: () => cells.map((cell) => cell()),
  };
}

export function chain(): Workload {
  const names = counted(LENGTH + 1).map((at) => `c${at}`);
  const text = bookOf(names.map((name, at) => (at === 0 ? "c0 = 1" : `${name} = c${at - 1} * 0.999 + 0.5`)));
  const values = new Float64Array(LENGTH + 1);
  const head = signal(1);
  const cells: (() => number)[] = [head];
  for (let at = 1; at <= LENGTH; at += 1) {
    const before = cells[at - 1] as () => number;
    const cell = computed(() => before() * 0.999 + 0.5);
    cell();
    cells.push(cell);
  }
  return {
    title: "chain of 100,000 lines, head edited",
    contenders: [
      loop(values, 0, () => {
        for (let at = 1; at <= LENGTH; at += 1) values[at] = (values[at - 1] as number) * 0.999 + 0.5;
      }),
      engineEditing(text, "c0", names),
      signals(head, cells),
    ],
    limits: [{ of: "engine", over: "loop", most: 6 }],
  };
}

export function fan(): Workload {
  const factor = (at: number): number => 1 + (at % 97) / 128;
  const offset = (at: number): number => (at % 89) / 4;
  const names = ["input", ...counted(LENGTH).map((at) => `c${at}`)];
  const text = bookOf(
    names.map((name, at) => (at === 0 ? "input = 1" : `${name} = input * ${factor(at)} + ${offset(at)}`)),
  );
  const values = new Float64Array(LENGTH + 1);
  const factors = Float64Array.from(values, (_, at) => factor(at));
  const offsets = Float64Array.from(values, (_, at) => offset(at));
  const input = signal(1);
  const cells: (() => number)[] = [input];
  for (let at = 1; at <= LENGTH; at += 1) {
    const [by, and] = [factor(at), offset(at)];
    cells.push(computed(() => input() * by + and));
  }
  return {
    title: "one input feeding 100,000 lines, input edited",
    contenders: [
      loop(values, 0, () => {
        for (let at = 1; at <= LENGTH; at += 1)
          values[at] = (values[0] as number) * (factors[at] as number) + (offsets[at] as number);
      }),
      engineEditing(text, "input", names),
      signals(input, cells),
    ],
    limits: [{ of: "engine", over: "loop", most: 8 }],
  };
}

/** Each cell from left and above; the edges from their one neighbour. */
function gridWorkload(title: string, from: number, most: number, repeat: number): Workload {
  const name = (row: number, column: number): string => `r${row}c${column}`;
  const places = counted(SIDE * SIDE).map((at) => ({ row: Math.floor(at / SIDE), column: at % SIDE }));
  const text = bookOf(
    places.map(({ row, column }) => {
      const own = name(row, column);
      if (row === 0 && column === 0) return `${own} = 1`;
      if (row === 0) return `${own} = ${name(row, column - 1)} * 0.5`;
      if (column === 0) return `${own} = ${name(row - 1, column)} * 0.5`;
      return `${own} = (${name(row, column - 1)} + ${name(row - 1, column)}) * 0.5`;
    }),
  );
  const values = new Float64Array(SIDE * SIDE);
  const cellOf = (row: number, column: number): number =>
    row === 0
      ? (values[column - 1] as number) * 0.5
      : column === 0
        ? (values[(row - 1) * SIDE] as number) * 0.5
        : ((values[row * SIDE + column - 1] as number) + (values[(row - 1) * SIDE + column] as number)) * 0.5;
  values[0] = 1;
  for (let at = 1; at < values.length; at += 1) values[at] = cellOf(Math.floor(at / SIDE), at % SIDE);
  const corner = from * SIDE + from;
  // The interior has no edge to ask for: the plain loop over it is the peer.
  const interior = (): void => {
    if (from === 0)
      for (let at = 1; at < SIDE; at += 1) {
        values[at] = (values[at - 1] as number) * 0.5;
        values[at * SIDE] = (values[(at - 1) * SIDE] as number) * 0.5;
      }
    const first = Math.max(1, from);
    for (let row = first; row < SIDE; row += 1) {
      const start = row * SIDE;
      for (let column = row === from ? from + 1 : first; column < SIDE; column += 1)
        values[start + column] =
          ((values[start + column - 1] as number) + (values[start - SIDE + column] as number)) * 0.5;
    }
  };
  const all: (() => number)[] = [];
  const edited = signal(1);
  for (const { row, column } of places) {
    const left = column === 0 ? null : (all[row * SIDE + column - 1] as () => number);
    const above = row === 0 ? null : (all[(row - 1) * SIDE + column] as () => number);
    const at = row * SIDE + column;
    const cell = at === corner ? edited : computed(() => (at === 0 ? 1 : ((left?.() ?? 0) + (above?.() ?? 0)) * 0.5));
    cell();
    all.push(cell);
  }
  const reached = places.filter(({ row, column }) => row >= from && column >= from);
  return {
    title,
    contenders: [
      loop(values, corner, interior),
      engineEditing(
        text,
        name(from, from),
        places.map(({ row, column }) => name(row, column)),
      ),
      {
        ...signals(
          edited,
          reached.map(({ row, column }) => all[row * SIDE + column] as () => number),
        ),
        read: () => all.map((cell) => cell()),
      },
    ],
    limits: [{ of: "engine", over: "loop", most }],
    repeat,
  };
}

export const gridCorner = (): Workload => gridWorkload("grid of 300 × 300, corner edited", 0, 12, 1);

/** Ten rows and columns from the far corner. */
export const gridFarCorner = (): Workload =>
  gridWorkload("grid of 300 × 300, edited near the far corner", SIDE - 10, 20, 200);
