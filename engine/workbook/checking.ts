import type { Span } from "../base/span.ts";
import { UNKNOWN_TYPE } from "../checker/check.ts";
import type { CheckedFormula, Step, Within } from "../checker/checked.ts";
import type { CheckEnvironment } from "../checker/environment.ts";
import { checkFormula } from "../checker/formula.ts";
import { eachName } from "../checker/references.ts";
import { Types } from "../checker/types.ts";
import { type Caution, type Fault, fault } from "../diagnostics/diagnostic.ts";
import type { Graph } from "../graph/graph.ts";
import type { ParsedFormula } from "../parser/tree.ts";
import type { Type } from "../values/kind.ts";
import type { HeadReading } from "./head.ts";
import { type Lines, type Origin, scopeOf } from "./lines.ts";

/** What a check leaves behind for showing a node; lines without tail, note or fault have none. */
interface Presentation {
  readonly step: Step | null;
  readonly within: Within | null;
  readonly note: string | null;
  readonly faults: readonly Fault[];
  readonly cautions: readonly Caution[];
  readonly blank: CheckedFormula["blank"];
}

const NOWHERE: Span = { start: 0, end: 0 };

const ASKED_IN_COLUMN = "A column that is asked for is written with a colon and its unit, such as column temp : °C.";

/** Lines of which each needs the next and the last the first, and their names. */
interface Circle {
  readonly nodes: ReadonlySet<number>;
  readonly path: readonly string[];
}

/** Lines that all need one another are each told a circle of its own, up to so many: finding them costs lines times needs. */
const MOST_CIRCLES = 50;

/** What the kinds of all lines are, inferred without values in the order of what needs what. */
export class Checking {
  readonly environment: CheckEnvironment;
  readonly presentations = new Map<number, Presentation>();
  /** How often each kind of work was done: for tests of "recompiles nothing". */
  readonly counts = { parsed: 0, checked: 0 };
  readonly #lines: Lines;
  readonly #graph: Graph;
  readonly #head: HeadReading;
  readonly #types: Type[] = [];
  /** Lines on circles, as they were when circles were last looked for. */
  #cyclic: ReadonlySet<number> = new Set();
  /** By knot: the one circle that all lines of a large knot are told. */
  readonly #sharedCircles = new WeakMap<readonly number[], Circle>();
  /** Parsed while a batch is being checked; let go afterwards. */
  readonly #parsed = new Map<number, ParsedFormula>();

  constructor(lines: Lines, graph: Graph, head: HeadReading) {
    this.#lines = lines;
    this.#graph = graph;
    this.#head = head;
    this.environment = {
      ...head.environment,
      names: lines.names,
      currencies: () => lines.codes(),
      typeOf: (node) => this.typeOf(node),
      bodies: new Map(),
      types: new Types(),
    };
  }

  typeOf(node: number): Type {
    return this.#types[node] ?? UNKNOWN_TYPE;
  }

  /** Reads a formula as the workbook reads it: with its units. */
  parse(text: string): ParsedFormula {
    this.counts.parsed += 1;
    return this.#head.parse(text);
  }

  forget(node: number): void {
    this.presentations.delete(node);
    this.#types[node] = UNKNOWN_TYPE;
  }

  /** The nodes that a node's formula names. */
  needsOf(node: number): number[] {
    const text = this.#lines.formulaText(node);
    const origin = this.#lines.origins[node];
    if (text === null || origin === undefined) return [];
    const { names } = this.#lines;
    const parsed = this.parse(text);
    this.#parsed.set(node, parsed);
    const needs: number[] = [];
    names.looksFor(node);
    eachName(parsed.expression, names, scopeOf(origin), (name, scope) => {
      const found = names.resolve(name, scope);
      if (found.is === "node") needs.push(found.node);
    });
    names.looksFor(null);
    return needs;
  }

  /**
   * Looks for circles anew after `touched` nodes were linked otherwise or removed. Gives the nodes to check again: a circle
   * is told by all its lines, so that one that changed is told anew by those that are in it and those that were.
   */
  noticeCycles(touched: readonly number[]): number[] {
    const before = this.#cyclic;
    const isThere = (node: number): boolean => this.#lines.origins[node] !== undefined;
    const onCircle = (node: number): boolean => isThere(node) && this.#graph.knotOf(node) !== null;
    if (!touched.some((node) => before.has(node) || onCircle(node))) return [];
    this.#cyclic = new Set(this.#graph.knots().flat());
    return [...before, ...this.#cyclic].filter(isThere);
  }

  /**
   * Checks what is pending in order, and whatever uses a line whose kind changed. Each node is handed to `compile` with
   * its formula, null for a measured column; gives the nodes checked, and those whose type changed with the one before.
   */
  checkPending(
    pending: Iterable<number>,
    compile: (node: number, checked: CheckedFormula | null) => void,
  ): { checked: Set<number>; kinds: Map<number, Type> } {
    const checked = new Set<number>();
    const kinds = new Map<number, Type>();
    for (let round = [...pending]; round.length > 0; ) {
      round.sort((a, b) => this.#graph.rank(a) - this.#graph.rank(b));
      const users: number[] = [];
      for (const node of round) {
        const origin = this.#lines.origins[node];
        if (origin === undefined) continue;
        checked.add(node);
        const before = this.typeOf(node);
        this.#check(node, origin, compile);
        if (this.typeOf(node) === before) continue;
        if (!kinds.has(node)) kinds.set(node, before);
        for (const user of this.#graph.dependantsOf(node)) users.push(user);
      }
      round = users.length < 2 ? users : [...new Set(users)];
    }
    this.#parsed.clear();
    return { checked, kinds };
  }

  /** Checks every node once, in order: those of a workbook that was just opened. */
  checkAll(order: Int32Array, compile: (node: number, checked: CheckedFormula | null) => void): void {
    for (const node of order) {
      const origin = this.#lines.origins[node];
      if (origin !== undefined) this.#check(node, origin, compile);
    }
    this.#parsed.clear();
  }

  #check(node: number, origin: Origin, compile: (node: number, checked: CheckedFormula | null) => void): void {
    this.counts.checked += 1;
    if (origin.is === "column" && origin.table.item.columns[origin.column]?.formula === null) {
      const column = origin.table.measured(origin.column, this.#head.entries);
      const faults = [...this.#nameFaults(origin), ...column.faults];
      this.#present(node, { ...column, faults, note: null, cautions: [], blank: null });
      this.#types[node] = this.environment.types.of(
        faults.length > 0 ? UNKNOWN_TYPE : { ...column.type, rows: origin.table.key },
      );
      compile(node, null);
      return;
    }
    const parsed = this.#parsed.get(node) ?? this.parse(this.#lines.formulaText(node) ?? "");
    const own = this.#ownFaults(node, origin, parsed.expression.span);
    const found = this.#checkIn(parsed, origin);
    const checked = own.length === 0 ? found : { ...found, faults: [...own, ...found.faults] };
    this.#present(node, checked);
    this.#types[node] = this.environment.types.of(checked.faults.length > 0 ? UNKNOWN_TYPE : checked.type);
    compile(node, checked);
  }

  /** Checks a node's formula once more, where only its tape was kept; null for a measured column. */
  checkAgain(node: number): CheckedFormula | null {
    const origin = this.#lines.origins[node];
    const text = this.#lines.formulaText(node);
    return origin === undefined || text === null ? null : this.#checkIn(this.parse(text), origin);
  }

  /** A worked column has the rows of its table: a single value stands in each, other rows are refused. */
  #checkIn(parsed: ParsedFormula, origin: Origin): CheckedFormula {
    const checked = checkFormula(parsed, this.environment, scopeOf(origin));
    if (origin.is === "cell" || checked.type.kind.is === "unknown") return checked;
    const { rows } = checked.type;
    const refuse = (found: Fault): CheckedFormula => ({
      ...checked,
      root: null,
      blank: null,
      type: UNKNOWN_TYPE,
      faults: [found],
    });
    if (checked.blank !== null) return refuse(fault("syntax", parsed.expression.span, { says: ASKED_IN_COLUMN }));
    if (rows === null || rows === origin.table.key)
      return { ...checked, type: { ...checked.type, rows: origin.table.key } };
    const says = `This has the rows of ${rows}, not of the table it stands in.`;
    return refuse(fault("column-lengths", parsed.expression.span, { says }));
  }

  /** What is wrong with a line apart from its formula. */
  #ownFaults(node: number, origin: Origin, span: Span): Fault[] {
    const knot = this.#graph.knotOf(node);
    if (knot === null) return this.#nameFaults(origin);
    const { nodes, path } = knot.length > MOST_CIRCLES ? this.#sharedCircle(knot) : this.#circleThrough(node);
    const beside = nodes.has(node) ? {} : { beside: this.#lines.fullName(node) };
    return [fault("circular", span, { path, ...beside })];
  }

  #sharedCircle(knot: readonly number[]): Circle {
    const known = this.#sharedCircles.get(knot);
    if (known !== undefined) return known;
    const circle = this.#circleThrough(knot[0] as number);
    this.#sharedCircles.set(knot, circle);
    return circle;
  }

  #circleThrough(node: number): Circle {
    const nodes = this.#graph.cycleThrough(node) ?? [node];
    return { nodes: new Set(nodes), path: nodes.map((at) => this.#lines.fullName(at)) };
  }

  /** A fault of a name has an empty place: the name stands before the formula. */
  #nameFaults(origin: Origin): Fault[] {
    const onSheet = "the name of a line or table on this sheet";
    if (origin.is === "cell") return this.#nameFault(origin.item.name, origin.key === null ? onSheet : null);
    const { table, column, key } = origin;
    return [
      ...this.#nameFault(table.item.name, table.misnamed ? onSheet : null),
      ...this.#nameFault(table.item.columns[column]?.name ?? "", key === null ? "a column of this table" : null),
    ];
  }

  /** `taken`: what had the name first. */
  #nameFault(name: string, taken: string | null): Fault[] {
    if (taken !== null) return [fault("duplicate-name", NOWHERE, { name, elsewhere: taken })];
    const reserved = this.#head.reserved(name);
    return reserved === null ? [] : [reserved];
  }

  #present(node: number, { step, within, note, faults, cautions, blank }: Presentation): void {
    const empty =
      step === null &&
      within === null &&
      note === null &&
      faults.length === 0 &&
      cautions.length === 0 &&
      blank === null;
    if (empty) this.presentations.delete(node);
    else this.presentations.set(node, { step, within, note, faults, cautions, blank });
  }
}
