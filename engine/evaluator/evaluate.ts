import { unreachable } from "../base/invariant.ts";
import type { Span } from "../base/span.ts";
import type { CheckedNode } from "../checker/checked.ts";
import { type Caution, caution, fault } from "../diagnostics/diagnostic.ts";
import { COLUMN_FUNCTIONS } from "../operations/columns.ts";
import { compareOver, equalTexts, junctionOver } from "../operations/comparison.ts";
import type { Report } from "../operations/operand.ts";
import { arithmeticOver, entryOf, lengthOf } from "../operations/rows.ts";
import {
  hasEntry,
  isColumn,
  isMissing,
  isNumberColumn,
  isTextColumn,
  type TextColumn,
  type Value,
} from "../values/value.ts";
import { drawsOn, type Frame } from "./draws-on.ts";
import { runLibrary } from "./library.ts";
import type { Memory } from "./memory.ts";
import type { Stop, Stoppable, TooFew, Wait } from "./stop.ts";

export interface Outcome {
  /** Coherent; of no use when `stop` is not null. */
  readonly value: Value;
  readonly stop: Stop | null;
  readonly cautions: readonly Caution[];
}

/**
 * One run of a checked formula. Plain arithmetic on coherent figures; columns whole at a time. Never throws on anything a
 * person can type: what has no value stops the run and says why.
 */
export class Run implements Stoppable {
  stop: Stop | null = null;
  readonly cautions: Caution[] = [];
  readonly #memory: Memory;
  #frame: Frame | null = null;
  /** 1 for each row of a column that is needed, where a choice leaves rows to other branches; null: all are. */
  #needed: Uint8Array | null = null;

  constructor(memory: Memory) {
    this.#memory = memory;
  }

  /** Notes why there is no value; the first reason stands, and with a first wait all others. */
  halt(stop: Stop): Value {
    if (this.stop === null) this.stop = stop;
    else if (this.stop.reason === "waiting" && stop.reason === "waiting")
      this.stop = {
        reason: "waiting",
        nodes: [...this.stop.nodes, ...stop.nodes],
        tooFew: [...this.stop.tooFew, ...stop.tooFew],
      };
    return Number.NaN;
  }

  isNeeded(row: number): boolean {
    return this.#needed === null || this.#needed[row] === 1;
  }

  /** What has no value only in rows that are not needed is not told, and is missing there. */
  reportAt(span: Span, operands: readonly CheckedNode[] = [], values: readonly Value[] = []): Report {
    return {
      noValue: (says, row) => {
        if (row === undefined || this.isNeeded(row)) this.halt(noValue(span, says, row ?? null));
      },
      tooFew: (says, row, among) => {
        // One row after another would say the same.
        if (this.stop === null && (row === undefined || this.isNeeded(row)))
          this.halt(this.waitFor(says, operands.slice(0, among), values) ?? noValue(span, says, row ?? null));
      },
      skipped: (count, of) => {
        this.cautions.push(caution("skipped", { count, of }));
      },
    };
  }

  waitFor(says: string, operands: readonly CheckedNode[], values: readonly Value[]): Wait | null {
    const nodes = new Set<number>();
    const logs = new Set<number>();
    for (const [at, operand] of operands.entries()) {
      const value = values[at];
      if (value !== undefined && !isColumn(value)) continue;
      for (const node of drawsOn(operand, this.#frame)) {
        if (value !== undefined && !hasEntry(value)) for (const each of this.#memory.unfilled(node)) nodes.add(each);
        for (const each of this.#memory.logs(node)) logs.add(each);
      }
    }
    if (nodes.size > 0) return { reason: "waiting", nodes: [...nodes], tooFew: [] };
    const tooFew = Array.from(logs, (column): TooFew => ({ column, says }));
    return tooFew.length === 0 ? null : { reason: "waiting", nodes: [], tooFew };
  }

  evaluate(node: CheckedNode): Value {
    switch (node.op) {
      case "constant":
        return node.value;
      case "load":
        return this.#load(node.node);
      case "parameter":
        return this.#frame?.values[node.index] ?? Number.NaN;
      case "arithmetic":
        return this.#arithmetic(node);
      case "negate":
        return this.#each(this.evaluate(node.operand), (value) => -value);
      case "not":
        return this.#each(this.evaluate(node.operand), (value) => 1 - value);
      case "and":
      case "or":
        return this.#junction(node.op === "and" ? 0 : 1, node.left, node.right);
      case "compare":
        return this.#compare(node);
      case "missing":
        return this.#missing(node.operand, node.negated);
      case "if":
        return this.#choose(node);
      case "where":
        return this.#filter(node);
      case "general":
      case "library":
        return this.#call(node);
      case "apply":
        return this.#apply(node);
      default:
        return unreachable(node);
    }
  }

  #load(node: number): Value {
    const held = this.#memory.read(node);
    if (held.is === "value") return held.value;
    return this.halt({ reason: held.is, nodes: [node], tooFew: [] });
  }

  #operands(nodes: readonly CheckedNode[]): Value[] {
    return nodes.map((node) => this.evaluate(node));
  }

  #arithmetic(node: Extract<CheckedNode, { op: "arithmetic" }>): Value {
    // A long chain leans to the left as deep as it is long: it is walked down first, then worked up.
    const spine: Extract<CheckedNode, { op: "arithmetic" }>[] = [];
    let lowest: CheckedNode = node;
    while (lowest.op === "arithmetic") {
      spine.push(lowest);
      lowest = lowest.left;
    }
    let value = this.evaluate(lowest);
    for (let at = spine.length - 1; at >= 0; at -= 1) {
      const step = spine[at] as (typeof spine)[number];
      const right = this.evaluate(step.right);
      if (this.stop !== null) continue;
      value = arithmeticOver(
        step.operator,
        value,
        right,
        (a, b) => noResult(step.operator, a, b),
        this.reportAt(step.span),
      );
    }
    return this.stop === null ? value : Number.NaN;
  }

  #each(value: Value, operation: (value: number) => number): Value {
    if (this.stop !== null) return Number.NaN;
    return isNumberColumn(value) ? value.map(operation) : operation(value as number);
  }

  /** `and` and `or`: the right side is not looked at where the left decides. */
  #junction(decides: 0 | 1, left: CheckedNode, right: CheckedNode): Value {
    const spine: CheckedNode[] = [right];
    let lowest = left;
    const op = decides === 0 ? "and" : "or";
    while (lowest.op === op) {
      spine.push(lowest.right);
      lowest = lowest.left;
    }
    let value = this.evaluate(lowest);
    for (let at = spine.length - 1; at >= 0 && this.stop === null; at -= 1) {
      if (value === decides) return value;
      const rows = isNumberColumn(value) ? this.#undecided(value, decides) : this.#needed;
      if (rows !== null && !rows.includes(1)) return value;
      const next = this.#evaluateFor(rows, spine[at] as CheckedNode);
      if (this.stop === null) value = junctionOver(decides, value, next);
    }
    return this.stop === null ? value : Number.NaN;
  }

  /** The rows that are needed and that the left side of `and` or `or` leaves to the right one. */
  #undecided(left: Float64Array, decides: 0 | 1): Uint8Array {
    const rows = new Uint8Array(left.length);
    for (let row = 0; row < rows.length; row += 1) if (left[row] === 1 - decides && this.isNeeded(row)) rows[row] = 1;
    return rows;
  }

  #compare({ comparison, kind, left, right }: Extract<CheckedNode, { op: "compare" }>): Value {
    const [a, b] = [this.evaluate(left), this.evaluate(right)];
    if (this.stop !== null) return Number.NaN;
    if (kind.is !== "text") return compareOver(comparison, kind, a, b);
    const wanted = comparison === "is";
    const one = (x: number | string | null, y: number | string | null): number =>
      x === null || y === null ? Number.NaN : equalTexts(x as string, y as string) === wanted ? 1 : 0;
    const length = lengthOf([a, b]);
    if (length === null) return one(a as string, b as string);
    return Float64Array.from({ length }, (_, row) => one(entryOf(a, row), entryOf(b, row)));
  }

  /** Runs without letting what waits stop this run; what is faulty, or has no value, stops it still. */
  #attempt(node: CheckedNode): { readonly value: Value; readonly waits: Wait | null } {
    const outer = this.stop;
    this.stop = null;
    const value = this.evaluate(node);
    const stopped = this.stop as Stop | null;
    const waits = stopped?.reason === "waiting" ? stopped : null;
    this.stop = outer ?? (waits === null ? stopped : null);
    return { value, waits };
  }

  #missing(operand: CheckedNode, negated: boolean): Value {
    const { value, waits } = this.#attempt(operand);
    const [yes, no] = negated ? [0, 1] : [1, 0];
    if (waits !== null) return yes;
    if (isNumberColumn(value)) return value.map((entry) => (isMissing(entry) ? yes : no));
    if (isTextColumn(value)) return Float64Array.from(value, (entry) => (entry === null ? yes : no));
    return no;
  }

  #choose(node: Extract<CheckedNode, { op: "if" }>): Value {
    for (const [at, { condition, value }] of node.branches.entries()) {
      const holds = this.evaluate(condition);
      if (this.stop !== null) return Number.NaN;
      if (isColumn(holds)) return this.#chooseByRow(holds as Float64Array, at, node);
      if (holds === 1) return this.evaluate(value);
    }
    return this.evaluate(node.otherwise);
  }

  /** Each row takes the branch of its first condition that holds, from the branch `from` on; a row whose condition is missing is missing. */
  #chooseByRow(first: Float64Array, from: number, node: Extract<CheckedNode, { op: "if" }>): Value {
    const { length } = first;
    const { branches, otherwise, type } = node;
    const picked = type.kind.is === "text" ? noTexts(length) : new Float64Array(length).fill(Number.NaN);
    const open = this.#needed?.slice() ?? new Uint8Array(length).fill(1);
    const put = (branch: CheckedNode, rows: Uint8Array): void => {
      if (this.stop !== null || !rows.includes(1)) return;
      const value = this.#evaluateFor(rows, branch);
      for (let row = 0; row < length; row += 1) {
        const entry = rows[row] === 1 ? entryOf(value, row) : null;
        if (entry !== null) picked[row] = entry;
      }
    };
    for (let at = from; at < branches.length && this.stop === null && open.includes(1); at += 1) {
      const { condition, value } = branches[at] as (typeof branches)[number];
      const holds = at === from ? first : this.#evaluateFor(open, condition);
      const taken = new Uint8Array(length);
      for (let row = 0; row < length; row += 1) {
        if (open[row] !== 1) continue;
        const held = entryOf(holds, row);
        if (held === 1) taken[row] = 1;
        if (held !== 0) open[row] = 0;
      }
      put(value, taken);
    }
    put(otherwise, open);
    return this.stop === null ? picked : Number.NaN;
  }

  /**
   * A part of which some rows are needed. Columns stay whole, so that what looks across rows sees all of them; what is left
   * out is the other rows' faults and their calls of the library.
   */
  #evaluateFor(rows: Uint8Array | null, node: CheckedNode): Value {
    const outer = this.#needed;
    this.#needed = rows;
    const value = this.evaluate(node);
    this.#needed = outer;
    return value;
  }

  /** A call is run apart from a wait that was met before, so that all that is waited for is named. */
  #call(node: Extract<CheckedNode, { op: "general" | "library" }>): Value {
    const outer = this.stop;
    if (outer !== null && outer.reason !== "waiting") return Number.NaN;
    this.stop = null;
    const value = node.op === "general" ? this.#general(node) : this.#library(node);
    const own = this.stop as Stop | null;
    this.stop = outer;
    if (own !== null) this.halt(own);
    return value;
  }

  #library(node: Extract<CheckedNode, { op: "library" }>): Value {
    const { operands, signature } = node;
    const values = operands.map((operand, at) =>
      signature.parameters[at]?.argument.column === "whole" ? this.#evaluateFor(null, operand) : this.evaluate(operand),
    );
    return runLibrary(this, node, values);
  }

  #filter({ columns, condition }: Extract<CheckedNode, { op: "where" }>): Value {
    const [column, holds] = [this.evaluate(columns), this.evaluate(condition)];
    if (this.stop !== null || !isColumn(column)) return Number.NaN;
    if (!isNumberColumn(holds)) return holds === 1 ? column : column.slice(0, 0);
    if (isTextColumn(column)) return column.filter((_, row) => holds[row] === 1);
    let count = 0;
    for (let row = 0; row < holds.length; row += 1) if (holds[row] === 1) count += 1;
    const kept = new Float64Array(count);
    for (let row = 0, at = 0; at < count; row += 1) {
      if (holds[row] !== 1) continue;
      kept[at] = column[row] as number;
      at += 1;
    }
    return kept;
  }

  #general(node: Extract<CheckedNode, { op: "general" }>): Value {
    const { function: general, operands, type, span } = node;
    // Each row of such an operand may matter to every row of the result, or to the one figure that results.
    const across = (operand: CheckedNode): boolean =>
      operand.type.rows !== type.rows || COLUMN_FUNCTIONS.includes(general);
    const values =
      general.name === FIRST_KNOWN
        ? this.#known(operands)
        : operands.map((operand) => this.#evaluateFor(across(operand) ? null : this.#needed, operand));
    if (this.stop !== null) return Number.NaN;
    return general.run(
      values,
      operands.map((operand) => operand.type),
      this.reportAt(span, operands, values),
      type,
    );
  }

  /** Operands of which some may wait, as missing; when all of them wait, so does the whole. */
  #known(operands: readonly CheckedNode[]): Value[] {
    const waiting: Wait[] = [];
    const values = operands.map((operand) => {
      const { value, waits } = this.#attempt(operand);
      if (waits === null) return value;
      waiting.push(waits);
      return Number.NaN;
    });
    const known = values.some((value) => isColumn(value) || typeof value === "string" || !isMissing(value));
    if (!known) for (const wait of waiting) this.halt(wait);
    return values;
  }

  #apply({ body, operands, span }: Extract<CheckedNode, { op: "apply" }>): Value {
    const values = this.#operands(operands);
    if (this.stop !== null) return Number.NaN;
    const outer = this.#frame;
    this.#frame = { values, operands, outer };
    const value = this.evaluate(body);
    this.#frame = outer;
    // Places in the function's own text mean nothing where it is called.
    const stopped = this.stop as Stop | null;
    if (stopped?.reason === "fault") this.stop = { ...stopped, fault: { ...stopped.fault, span, mends: [] } };
    return value;
  }
}

const noTexts = (length: number): (number | string | null)[] & TextColumn => new Array(length).fill(null);

/** The only function that looks past what waits. */
const FIRST_KNOWN = "first_known";

const noValue = (span: Span, says: string, row: number | null): Stop => ({
  reason: "fault",
  fault: fault("no-value", span, { says }),
  row,
});

function noResult(operator: string, a: number, b: number): string {
  if (operator === "/" && b === 0) return "This divides by zero.";
  if (operator === "^" && a < 0) return "The root of a negative figure has no value.";
  if (operator === "^" && a === 0 && b < 0) return "This divides by zero.";
  return "The result is too large to be held.";
}

/** Runs one checked formula. */
export function evaluate(root: CheckedNode, memory: Memory): Outcome {
  const run = new Run(memory);
  const value = run.evaluate(root);
  const { stop } = run;
  if (stop === null && typeof value === "number" && value - value !== 0)
    run.halt(noValue(root.span, "There is no entry to show here.", null));
  return { value, stop: run.stop, cautions: run.cautions };
}
