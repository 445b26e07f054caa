import type { CheckedNode } from "../checker/checked.ts";
import { EQUAL_WITHIN } from "../operations/comparison.ts";

/*
 * The tape: single figures worked out as a row of register instructions over one Float64Array. A formula that is nothing
 * but arithmetic, comparisons and choices on single figures becomes a few instructions; running them touches no object.
 * What has no value comes out as NaN, and whoever runs the tape then asks the tree (evaluate.ts) why.
 *
 *   instruction   operation, target, left, right, third        five integers; the last four are slots
 *
 * Two steps of arithmetic in a row, `a * b + c`, are one instruction: half of what an instruction costs is reading it.
 */

export const OPERATION = {
  move: 0,
  add: 1,
  subtract: 2,
  multiply: 3,
  divide: 4,
  power: 5,
  negate: 6,
  not: 7,
  /** Left where it is 0, else right; missing where left is. */
  and: 8,
  /** Left where it is 1, else right; missing where left is. */
  or: 9,
  is: 10,
  isNot: 11,
  less: 12,
  lessOrEqual: 13,
  greater: 14,
  greaterOrEqual: 15,
  /** Target keeps its value where left is 0 and takes right where it is 1. */
  choose: 16,
  /** Pairs: `addMultiply` is (left + right) * third. Numbered by {@link PAIRED}. */
  addAdd: 17,
  addSubtract: 18,
  addMultiply: 19,
  addDivide: 20,
  subtractAdd: 21,
  subtractSubtract: 22,
  subtractMultiply: 23,
  subtractDivide: 24,
  multiplyAdd: 25,
  multiplySubtract: 26,
  multiplyMultiply: 27,
  multiplyDivide: 28,
  divideAdd: 29,
  divideSubtract: 30,
  divideMultiply: 31,
  divideDivide: 32,
} as const;

const INSTRUCTION_LENGTH = 5;

/** The steps that are put together in pairs, in the order in which pairs are numbered. */
const PAIRED: readonly number[] = [OPERATION.add, OPERATION.subtract, OPERATION.multiply, OPERATION.divide];

/** The operation `(left first right) second third`, or null when the two are no pair. */
function pairOf(first: number, second: number): number | null {
  const [one, other] = [PAIRED.indexOf(first), PAIRED.indexOf(second)];
  return one < 0 || other < 0 ? null : OPERATION.addAdd + one * PAIRED.length + other;
}

/** Scratch slots at the start of the slots; a formula that needs more goes to the tree. */
export const SCRATCH_SLOTS = 64;

/** The longest body of a function, in integers of code, that is written out at each call; a longer one goes to the tree, which holds it once. */
const LONGEST_BODY = 64 * INSTRUCTION_LENGTH;

const ARITHMETIC = {
  "+": OPERATION.add,
  "-": OPERATION.subtract,
  "*": OPERATION.multiply,
  "/": OPERATION.divide,
  "^": OPERATION.power,
} as const;

const COMPARISON = {
  is: OPERATION.is,
  "is not": OPERATION.isNot,
  "<": OPERATION.less,
  "<=": OPERATION.lessOrEqual,
  ">": OPERATION.greater,
  ">=": OPERATION.greaterOrEqual,
} as const;

/** Where a formula's operands stand. */
export interface Slots {
  /** The slot of a node of the graph that holds a single figure. */
  readonly ofNode: (node: number) => number;
  /** A slot that always holds this figure. */
  readonly ofConstant: (value: number) => number;
}

export interface Tape {
  readonly code: readonly number[];
  /** Whether every operand is needed whatever the others are: then what an operand lacks, the result lacks. */
  readonly strict: boolean;
}

class TapeWriter {
  readonly code: number[] = [];
  strict = true;
  #scratch = 0;
  readonly #slots: Slots;

  constructor(slots: Slots) {
    this.#slots = slots;
  }

  #take(): number | null {
    if (this.#scratch === SCRATCH_SLOTS) return null;
    this.#scratch += 1;
    return this.#scratch - 1;
  }

  #write(operation: number, target: number, left: number, right: number): void {
    const { code } = this;
    const last = code.length - INSTRUCTION_LENGTH;
    const continues = last >= 0 && left === target && code[last + 1] === target && right !== target;
    const pair = continues ? pairOf(code[last] as number, operation) : null;
    if (pair === null) code.push(operation, target, left, right, right);
    else {
      code[last] = pair;
      code[last + 4] = right;
    }
  }

  /** Writes what works `node` out and gives the slot that then holds it (`target` if it had to be put somewhere); null: not for the tape. */
  put(node: CheckedNode, target: number, frame: readonly number[]): number | null {
    if (node.type.rows !== null) return null;
    switch (node.op) {
      case "constant":
        return typeof node.value === "number" ? this.#slots.ofConstant(node.value) : null;
      case "load":
        return node.type.kind.is === "text" ? null : this.#slots.ofNode(node.node);
      case "parameter":
        return frame[node.index] ?? null;
      case "arithmetic":
        return this.#chain(node, target, frame);
      case "negate":
        return this.#unary(OPERATION.negate, node.operand, target, frame);
      case "not":
        return this.#unary(OPERATION.not, node.operand, target, frame);
      case "and":
      case "or":
        this.strict = false;
        return this.#binary(OPERATION[node.op], node.left, node.right, target, frame);
      case "compare":
        // Texts are not figures, and instants are compared to the microsecond.
        if (node.kind.is === "text" || (node.kind.is === "reading" && node.kind.family.endsWith("instant")))
          return null;
        return this.#binary(COMPARISON[node.comparison], node.left, node.right, target, frame);
      case "if":
        return this.#choose(node, target, frame);
      case "apply":
        return this.#apply(node, target, frame);
      case "missing":
      case "where":
      case "general":
      case "library":
        return null;
    }
  }

  /** `a + b + c` leans to the left: worked up from its lowest operand without recursion. */
  #chain(node: Extract<CheckedNode, { op: "arithmetic" }>, target: number, frame: readonly number[]): number | null {
    const spine: (typeof node)[] = [];
    let lowest: CheckedNode = node;
    while (lowest.op === "arithmetic") {
      spine.push(lowest);
      lowest = lowest.left;
    }
    let left = this.put(lowest, target, frame);
    for (let at = spine.length - 1; at >= 0 && left !== null; at -= 1) {
      const { operator, right } = spine[at] as typeof node;
      left = this.#join(ARITHMETIC[operator], left, right, target, frame);
    }
    return left;
  }

  /** The right operand goes to a scratch slot where the target already holds the left one. */
  #join(operation: number, left: number, node: CheckedNode, target: number, frame: readonly number[]): number | null {
    const before = this.#scratch;
    const place = left === target ? this.#take() : target;
    const right = place === null ? null : this.put(node, place, frame);
    this.#scratch = before;
    if (right === null) return null;
    this.#write(operation, target, left, right);
    return target;
  }

  #binary(
    operation: number,
    first: CheckedNode,
    second: CheckedNode,
    target: number,
    frame: readonly number[],
  ): number | null {
    const left = this.put(first, target, frame);
    return left === null ? null : this.#join(operation, left, second, target, frame);
  }

  #unary(operation: number, operand: CheckedNode, target: number, frame: readonly number[]): number | null {
    const slot = this.put(operand, target, frame);
    if (slot === null) return null;
    this.#write(operation, target, slot, slot);
    return target;
  }

  /** All branches are worked out; the last condition that holds, seen from the end, decides. */
  #choose(
    { branches, otherwise }: Extract<CheckedNode, { op: "if" }>,
    target: number,
    frame: readonly number[],
  ): number | null {
    this.strict = false;
    const before = this.#scratch;
    const [condition, value] = [this.#take(), this.#take()];
    const rest = condition === null || value === null ? null : this.put(otherwise, target, frame);
    if (condition === null || value === null || rest === null) return null;
    if (rest !== target) this.#write(OPERATION.move, target, rest, rest);
    for (let at = branches.length - 1; at >= 0; at -= 1) {
      const branch = branches[at] as (typeof branches)[number];
      const holds = this.put(branch.condition, condition, frame);
      const taken = holds === null ? null : this.put(branch.value, value, frame);
      if (holds === null || taken === null) return null;
      this.#write(OPERATION.choose, target, holds, taken);
    }
    this.#scratch = before;
    return target;
  }

  #apply(
    { body, operands }: Extract<CheckedNode, { op: "apply" }>,
    target: number,
    frame: readonly number[],
  ): number | null {
    const before = this.#scratch;
    const inner: number[] = [];
    for (const operand of operands) {
      const place = this.#take();
      const slot = place === null ? null : this.put(operand, place, frame);
      if (slot === null) return null;
      inner.push(slot);
    }
    const start = this.code.length;
    const result = this.put(body, target, inner);
    this.#scratch = before;
    return this.code.length - start > LONGEST_BODY ? null : result;
  }
}

/** The tape of a formula, which leaves its result in `target`; null when it is not all single figures, or too wide. */
export function writeTape(root: CheckedNode, target: number, slots: Slots): Tape | null {
  const writer = new TapeWriter(slots);
  const result = writer.put(root, target, []);
  if (result === null) return null;
  if (result !== target) writer.code.push(OPERATION.move, target, result, result, result);
  return { code: writer.code, strict: writer.strict };
}

const equal = (a: number, b: number): boolean =>
  a === b || Math.abs(a - b) <= EQUAL_WITHIN * Math.max(Math.abs(a), Math.abs(b));

const truth = (a: number, b: number, holds: boolean): number =>
  Number.isNaN(a) || Number.isNaN(b) ? Number.NaN : holds ? 1 : 0;

/** Runs the instructions from `start` up to `end`. Gives 0, or NaN when any of them, in an untaken branch too, gave no finite figure. */
export function runTape(code: Int32Array, start: number, end: number, slots: Float64Array): number {
  let unsound = 0;
  for (let at = start; at < end; at += INSTRUCTION_LENGTH) {
    const target = code[at + 1] as number;
    const a = slots[code[at + 2] as number] as number;
    const b = slots[code[at + 3] as number] as number;
    let value = Number.NaN;
    switch (code[at]) {
      case OPERATION.move:
        value = a;
        break;
      case OPERATION.add:
        value = a + b;
        break;
      case OPERATION.subtract:
        value = a - b;
        break;
      case OPERATION.multiply:
        value = a * b;
        break;
      case OPERATION.divide:
        value = a / b;
        break;
      case OPERATION.power:
        // What is missing stays so, although anything to the power of 0 is 1.
        value = Number.isNaN(a) ? a : a ** b;
        break;
      case OPERATION.negate:
        value = -a;
        break;
      case OPERATION.not:
        value = 1 - a;
        break;
      case OPERATION.and:
        value = a === 0 || Number.isNaN(a) ? a : b;
        break;
      case OPERATION.or:
        value = a === 1 || Number.isNaN(a) ? a : b;
        break;
      case OPERATION.is:
        value = truth(a, b, equal(a, b));
        break;
      case OPERATION.isNot:
        value = truth(a, b, !equal(a, b));
        break;
      case OPERATION.less:
        value = truth(a, b, a < b && !equal(a, b));
        break;
      case OPERATION.lessOrEqual:
        value = truth(a, b, a < b || equal(a, b));
        break;
      case OPERATION.greater:
        value = truth(a, b, a > b && !equal(a, b));
        break;
      case OPERATION.greaterOrEqual:
        value = truth(a, b, a > b || equal(a, b));
        break;
      case OPERATION.choose:
        value = a === 1 ? b : a === 0 ? (slots[target] as number) : Number.NaN;
        break;
      case OPERATION.addAdd:
        value = a + b + (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.addSubtract:
        value = a + b - (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.addMultiply:
        value = (a + b) * (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.addDivide:
        value = (a + b) / (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.subtractAdd:
        value = a - b + (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.subtractSubtract:
        value = a - b - (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.subtractMultiply:
        value = (a - b) * (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.subtractDivide:
        value = (a - b) / (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.multiplyAdd:
        value = a * b + (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.multiplySubtract:
        value = a * b - (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.multiplyMultiply:
        value = a * b * (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.multiplyDivide:
        value = (a * b) / (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.divideAdd:
        value = a / b + (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.divideSubtract:
        value = a / b - (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.divideMultiply:
        value = (a / b) * (slots[code[at + 4] as number] as number);
        break;
      case OPERATION.divideDivide:
        value = a / b / (slots[code[at + 4] as number] as number);
        break;
    }
    slots[target] = value;
    unsound += value * 0;
  }
  return unsound;
}
