import { invariant } from "../base/invariant.ts";
import type { Held, Memory } from "../evaluator/memory.ts";
import { runTape, SCRATCH_SLOTS } from "../evaluator/tape.ts";
import type { Value } from "../values/value.ts";

export const READY = 0;
export const WAITING = 1;
export const FAULTY = 2;
export type StateCode = typeof READY | typeof WAITING | typeof FAULTY;

/** Slots to begin with. */
const FIRST_CAPACITY = 1024;
/** The tape is written anew once this share of it is no longer run. */
const WASTE_SHARE = 0.5;
const SMALLEST_WASTE = 4096;

function grown<T extends Float64Array | Int32Array | Uint8Array>(array: T, length: number): T {
  if (length <= array.length) return array;
  const longer = new (array.constructor as new (length: number) => T)(Math.max(length, array.length * 2));
  longer.set(array as never);
  return longer;
}

/**
 * What every node holds, and the tape of those that are plain arithmetic. Single figures stand in slots: scratch first,
 * then one for each node and each constant, as they come. Anything else (texts, columns) stands beside.
 */
export class Store implements Memory {
  readonly unfilled: Memory["unfilled"];
  readonly logs: Memory["logs"];
  slots = new Float64Array(FIRST_CAPACITY);
  states = new Uint8Array(FIRST_CAPACITY);
  code = new Int32Array(FIRST_CAPACITY);
  /** Where a node's instructions begin; their end. Equal when it has none. */
  starts = new Int32Array(FIRST_CAPACITY);
  ends = new Int32Array(FIRST_CAPACITY);
  slotOfNode = new Int32Array(FIRST_CAPACITY).fill(-1);
  #strict = new Uint8Array(FIRST_CAPACITY);
  readonly #others = new Map<number, Value>();
  readonly #constants = new Map<number, number>();
  #slotCount = SCRATCH_SLOTS;
  #codeLength = 0;
  #waste = 0;
  /** Nodes that are not ready. */
  #unready = 0;
  /** Plans of the tape as it is; forgotten when it is written to. */
  #plans = new WeakMap<Int32Array, Plan>();

  /** Which tables there are is known to whoever knows what the nodes are. */
  constructor({ unfilled, logs }: Pick<Memory, "unfilled" | "logs">) {
    this.unfilled = unfilled;
    this.logs = logs;
  }

  #newSlot(): number {
    this.slots = grown(this.slots, this.#slotCount + 1);
    this.#slotCount += 1;
    return this.#slotCount - 1;
  }

  slotOf(node: number): number {
    if (node >= this.states.length) {
      this.states = grown(this.states, node + 1);
      this.starts = grown(this.starts, node + 1);
      this.ends = grown(this.ends, node + 1);
      this.#strict = grown(this.#strict, node + 1);
      const before = this.slotOfNode.length;
      this.slotOfNode = grown(this.slotOfNode, node + 1);
      this.slotOfNode.fill(-1, before);
    }
    const known = this.slotOfNode[node] as number;
    if (known >= 0) return known;
    const slot = this.#newSlot();
    this.slotOfNode[node] = slot;
    this.slots[slot] = Number.NaN;
    return slot;
  }

  constantSlot(value: number): number {
    // -0 and 0 are one key of a Map and differ in a quotient.
    const key = Object.is(value, -0) ? Number.NEGATIVE_INFINITY : value;
    invariant(value - value === 0, "a constant is finite");
    const known = this.#constants.get(key);
    if (known !== undefined) return known;
    const slot = this.#newSlot();
    this.slots[slot] = value;
    this.#constants.set(key, slot);
    return slot;
  }

  /** What a ready node holds. */
  value(node: number): Value {
    return this.#others.get(node) ?? (this.slots[this.slotOfNode[node] as number] as number);
  }

  /** What a formula that needs a node is given. */
  read(node: number): Held {
    const state = this.state(node);
    if (state === READY) return { is: "value", value: this.value(node) };
    return { is: state === WAITING ? "waiting" : "faulty" };
  }

  state(node: number): StateCode {
    return this.states[node] as StateCode;
  }

  /** Puts a value into a node and makes it ready. */
  put(node: number, value: Value): void {
    const slot = this.slotOf(node);
    if (typeof value === "number") {
      this.slots[slot] = value;
      this.#others.delete(node);
    } else {
      this.slots[slot] = Number.NaN;
      this.#others.set(node, value);
    }
    this.setState(node, READY);
  }

  setState(node: number, state: StateCode): void {
    if (this.states[node] !== READY) this.#unready -= 1;
    if (state !== READY) this.#unready += 1;
    this.states[node] = state;
  }

  /** Takes a node's value away: whoever needs it finds NaN. */
  withhold(node: number, state: typeof WAITING | typeof FAULTY): void {
    this.slots[this.slotOf(node)] = Number.NaN;
    this.#others.delete(node);
    this.setState(node, state);
  }

  isStrict(node: number): boolean {
    return this.#strict[node] === 1;
  }

  setTape(node: number, code: readonly number[], strict: boolean): void {
    this.slotOf(node);
    this.clearTape(node);
    this.#others.delete(node);
    this.#plans = new WeakMap();
    this.#strict[node] = strict ? 1 : 0;
    this.code = grown(this.code, this.#codeLength + code.length);
    this.code.set(code, this.#codeLength);
    this.starts[node] = this.#codeLength;
    this.#codeLength += code.length;
    this.ends[node] = this.#codeLength;
  }

  clearTape(node: number): void {
    if (this.starts[node] === this.ends[node]) return;
    this.#plans = new WeakMap();
    this.#strict[node] = 0;
    this.#waste += (this.ends[node] as number) - (this.starts[node] as number);
    this.starts[node] = 0;
    this.ends[node] = 0;
    if (this.#waste > SMALLEST_WASTE && this.#waste > WASTE_SHARE * this.#codeLength) this.#rewrite();
  }

  /** Drops the instructions that no node runs any more. */
  #rewrite(): void {
    const code = new Int32Array(this.#codeLength - this.#waste + SMALLEST_WASTE);
    let length = 0;
    for (let node = 0; node < this.starts.length; node += 1) {
      const [start, end] = [this.starts[node] as number, this.ends[node] as number];
      if (start === end) continue;
      code.set(this.code.subarray(start, end), length);
      this.starts[node] = length;
      length += end - start;
      this.ends[node] = length;
    }
    this.code = code;
    this.#codeLength = length;
    this.#waste = 0;
  }

  release(node: number): void {
    this.clearTape(node);
    this.withhold(node, FAULTY);
    this.setState(node, READY);
  }

  /**
   * Works out `nodes`, which stand in order and must not be written to afterwards. A node without instructions, and one
   * whose figure is not finite or was not ready before, is handed to `settle`.
   */
  run(nodes: Int32Array, settle: (node: number) => void): void {
    let plan = this.#plans.get(nodes);
    if (plan === undefined) {
      plan = planOf(nodes, this.starts, this.ends);
      this.#plans.set(nodes, plan);
    }
    const { stretches, parts } = plan;
    let stretch = 0;
    let at = 0;
    for (let part = 0; part < parts.length; part += PART_LENGTH) {
      const [stretchesEnd, tapedEnd, end] = [
        parts[part] as number,
        parts[part + 1] as number,
        parts[part + 2] as number,
      ];
      let unsound = 0;
      for (; stretch < stretchesEnd; stretch += 2)
        unsound += runTape(this.code, stretches[stretch] as number, stretches[stretch + 1] as number, this.slots);
      if (unsound !== 0 || this.#anyUnready(nodes, at, tapedEnd)) this.#runEach(nodes, at, tapedEnd, settle);
      for (at = tapedEnd; at < end; at += 1) settle(nodes[at] as number);
    }
  }

  #anyUnready(nodes: Int32Array, from: number, to: number): boolean {
    if (this.#unready === 0) return false;
    for (let at = from; at < to; at += 1) if (this.states[nodes[at] as number] !== READY) return true;
    return false;
  }

  /** One after another, so that none works with a figure that another should not have given. */
  #runEach(nodes: Int32Array, from: number, to: number, settle: (node: number) => void): void {
    for (let at = from; at < to; at += 1) this.runOne(nodes[at] as number, settle);
  }

  runOne(node: number, settle: (node: number) => void): void {
    const [start, end] = [this.starts[node] as number, this.ends[node] as number];
    const unsound = runTape(this.code, start, end, this.slots);
    // A later step can hide what an earlier one did not give: 1 / (2 / 0) would be 0.
    if (unsound !== 0) this.slots[this.slotOfNode[node] as number] = Number.NaN;
    if (unsound !== 0 || start === end || this.states[node] !== READY) settle(node);
  }
}

/** How nodes are worked out: in parts, each of some stretches of the tape and then nodes that are not on it. */
interface Plan {
  /** Start and end of each stretch: nodes that follow each other on the tape too are one. */
  readonly stretches: Int32Array;
  /** For each part, where its stretches end, and where among the nodes those on the tape end and the others. */
  readonly parts: Int32Array;
}

const PART_LENGTH = 3;

function planOf(nodes: Int32Array, starts: Int32Array, ends: Int32Array): Plan {
  const stretches: number[] = [];
  const parts: number[] = [];
  for (let at = 0; at < nodes.length; ) {
    let reached = -1;
    for (; at < nodes.length; at += 1) {
      const [start, end] = [starts[nodes[at] as number] as number, ends[nodes[at] as number] as number];
      if (start === end) break;
      if (start === reached) stretches[stretches.length - 1] = end;
      else stretches.push(start, end);
      reached = end;
    }
    const tapedEnd = at;
    while (at < nodes.length && starts[nodes[at] as number] === ends[nodes[at] as number]) at += 1;
    parts.push(stretches.length, tapedEnd, at);
  }
  return { stretches: Int32Array.from(stretches), parts: Int32Array.from(parts) };
}
