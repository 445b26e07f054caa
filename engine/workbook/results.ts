import { visible } from "../base/deceptive.ts";
import { labelFromName } from "../base/names.ts";
import type { Within } from "../checker/checked.ts";
import { type Caution, caution, type Fault } from "../diagnostics/diagnostic.ts";
import { faultOf } from "../evaluator/stop.ts";
import { EQUAL_WITHIN } from "../operations/comparison.ts";
import type { Node } from "../parser/tree.ts";
import { printUnit } from "../units/compound.ts";
import type { Step } from "../units/format.ts";
import { GRAVITY_HIGH, GRAVITY_LOW } from "../units/gravity.ts";
import { type Lens, lensUnit } from "../units/lens.ts";
import type { ShownUnit } from "../units/unit.ts";
import { kindName } from "../values/describe.ts";
import { isInstant, type Kind, type Type } from "../values/kind.ts";
import { isMidnight, type Shown, showValue } from "../values/show.ts";
import { isColumn, isMissing, isNumberColumn, type Value } from "../values/value.ts";
import { type CellItem, formulaOf } from "./document.ts";
import { askedUnit } from "./field.ts";
import type { Origin } from "./lines.ts";
import type { Model } from "./model.ts";
import type { CellResult, ColumnResult, State, TableResult } from "./result.ts";
import { FAULTY, READY } from "./store.ts";
import { blanksOf, rootCause } from "./waiting.ts";

const STATES: readonly State[] = ["ready", "waiting", "faulty"];

/** What figures of a node are shown in under a lens, and rounded to. */
export interface Shape {
  readonly unit: ShownUnit | null;
  readonly step: Step | null;
  /** Instants with their time of day even at midnight: a column of which one has a time of day. */
  readonly clock?: boolean;
}

export function shapeOf(model: Model, node: number, lens: Lens, value: Value | null): Shape {
  const type = model.typeOf(node);
  const typical = lens === "as-written" ? null : typicalValue(value);
  const shape = shapeIn(type, model.presentations.get(node)?.step ?? stepTyped(model, node), lens, typical);
  if (!isInstant(type.kind) || value === null || !isNumberColumn(value)) return shape;
  return {
    ...shape,
    clock: value.some((entry) => !isMissing(entry) && !isMidnight(entry, type.kind, model.head.zone)),
  };
}

/** An explicit `as` and `by` win only as written; a lens shows by its own table. */
export function shapeIn({ kind, unit }: Type, step: Step | null, lens: Lens, value: number | null): Shape {
  const written = { unit, step };
  if (lens === "as-written" || unit === null || value === null) return written;
  const reads = kind.is === "quantity" ? kind.dimension : kind.is === "reading" ? kind.family : null;
  const seen = reads === null ? null : lensUnit(lens, reads, value, unit);
  if (seen === null) return written;
  return printUnit(seen.unit) === printUnit(unit) ? written : { unit: seen.unit, step: seen.step };
}

const PLAIN_DECIMAL = /^\d+(?:\.(\d+))?$/;

function stepTyped(model: Model, node: number): Step | null {
  const origin = model.origins[node];
  return origin?.is === "cell" ? typedStep(model.parse(formulaOf(origin.item)).expression) : null;
}

/** A figure that is written out is shown with the decimals it was written with. */
export function typedStep(expression: Node): Step | null {
  const literal = expression.node === "blank" ? expression.filled : expression;
  if (literal?.node !== "literal" || literal.figures.length !== 1) return null;
  const [, decimals = ""] = PLAIN_DECIMAL.exec(literal.figures[0]?.text ?? "") ?? [];
  if (!PLAIN_DECIMAL.test(literal.figures[0]?.text ?? "")) return null;
  return { figure: Number(`1e-${decimals.length}`), decimals: decimals.length };
}

/** The largest figure of a column decides which unit of a lens it is shown in. */
export function typicalValue(value: Value | null): number | null {
  if (typeof value === "number") return value;
  if (value === null || !isNumberColumn(value)) return null;
  let [largest, size] = [Number.NaN, -1];
  for (let row = 0; row < value.length; row += 1) {
    const entry = value[row] as number;
    if (Math.abs(entry) > size) [largest, size] = [entry, Math.abs(entry)];
  }
  return isMissing(largest) ? null : largest;
}

export function showIn(value: number | string | null, kind: Kind, shape: Shape, model: Model): Shown {
  return showValue(value, kind, shape.unit, shape.step, model.head.zone, shape.clock ?? false);
}

/** How many entries of a column are written out where a line holds one. */
const SHOWN_ENTRIES = 20;

/** A value as a line shows it; of a column its first entries. */
export function showAll(value: Value, type: Type, shape: Shape, model: Model): Shown {
  if (!isColumn(value)) return showIn(value, type.kind, shape, model);
  const entries: string[] = [];
  for (let row = 0; row < Math.min(value.length, SHOWN_ENTRIES); row += 1)
    entries.push(showIn(value[row] ?? null, type.kind, shape, model).figure || "–");
  const unitText = shape.unit === null ? "" : printUnit(shape.unit);
  const figure = entries.join(", ") + (value.length > SHOWN_ENTRIES ? ", …" : "");
  return { figure, unitText, text: unitText === "" ? figure : `${figure} ${unitText}` };
}

/** The caution of a value that is outside what its line accepts. */
export function withinCautions(
  within: Within | null,
  value: Value | null,
  type: Type,
  shape: Shape,
  model: Model,
): Caution[] {
  if (within?.is !== "range" || value === null) return [];
  const entries = typeof value === "number" ? [value] : isNumberColumn(value) ? value : [];
  for (const entry of entries) {
    if (isMissing(entry) || isWithin(entry, within)) continue;
    const [low, high] = [within.lowText, within.highText];
    const text = (end: number, typed: string): string => typed || showIn(end, type.kind, shape, model).text;
    return [
      caution("outside-within", {
        shown: showIn(entry, type.kind, shape, model).text,
        low: text(within.low, low),
        high: text(within.high, high),
      }),
    ];
  }
  return [];
}

/** The ends are inside, and what counts as equal to them. */
export function isWithin(value: number, { low, high }: { readonly low: number; readonly high: number }): boolean {
  const slack = EQUAL_WITHIN * Math.max(Math.abs(low), Math.abs(high), Math.abs(value));
  return value >= low - slack && value <= high + slack;
}

const GRAVITY_READ = { low: GRAVITY_LOW, high: GRAVITY_HIGH };

/** Gravity beyond the published table is continued, and said to be. */
export function gravityCautions(value: Value | null, type: Type, shape: Shape, model: Model): Caution[] {
  if (type.kind.is !== "reading" || type.kind.family !== "gravity" || value === null) return [];
  const entries = typeof value === "number" ? [value] : isNumberColumn(value) ? value : [];
  for (let row = 0; row < entries.length; row += 1) {
    const entry = entries[row] as number;
    if (!isMissing(entry) && !isWithin(entry, GRAVITY_READ))
      return [caution("gravity-range", { shown: showIn(entry, type.kind, shape, model).text })];
  }
  return [];
}

interface Common {
  readonly state: State;
  readonly type: Type;
  readonly kindName: string;
  readonly waitingFor: readonly string[];
  readonly because: string | null;
  readonly faults: readonly Fault[];
  readonly cautions: readonly Caution[];
  readonly value: Value | null;
  readonly unit: ShownUnit | null;
  readonly shape: Shape;
}

function common(model: Model, node: number, lens: Lens): Common {
  const type = model.typeOf(node);
  const code = model.store.state(node);
  const presentation = model.presentations.get(node);
  const value = code === READY ? model.store.value(node) : null;
  const origin = model.origins[node];
  // What can still be read of a column with a bad entry is shown in the same unit as its header says.
  const seen = value ?? (origin?.is === "column" ? origin.table.readable(origin.column) : null);
  const shape = shapeOf(model, node, lens, seen);
  const stopped = code === FAULTY ? faultOf(model.stops.get(node)) : null;
  const faults = [...(presentation?.faults ?? []), ...(stopped === null ? [] : [stopped])];
  const known = presentation?.cautions ?? [];
  return {
    state: STATES[code] ?? "faulty",
    type,
    kindName: kindName(type.kind),
    waitingFor: code !== READY && code !== FAULTY ? blanksOf(model, node) : [],
    because: code === FAULTY && faults.length === 0 ? rootCause(model, node) : null,
    faults,
    cautions:
      code === READY
        ? [
            ...known,
            ...(model.runCautions.get(node) ?? []),
            ...withinCautions(presentation?.within ?? null, value, type, shape, model),
            ...gravityCautions(value, type, shape, model),
          ]
        : code === FAULTY
          ? []
          : known,
    value,
    unit: shape.unit,
    shape,
  };
}

function choicesOf(model: Model, node: number): readonly string[] | null {
  const within = model.presentations.get(node)?.within;
  return within?.is === "choices" ? within.texts : null;
}

const unitTextOf = (unit: ShownUnit | null): string => (unit === null ? "" : printUnit(unit));

/** Figures in a row, 12 lb 4 oz, are shown as they were typed: no one figure stands for them. */
function typedFigures(model: Model, item: CellItem): { readonly figure: string; readonly unitText: string } | null {
  const formula = formulaOf(item);
  const { expression, by } = model.parse(formula);
  const literal = expression.node === "blank" ? expression.filled : expression;
  if (by !== null || literal?.node !== "literal" || literal.figures.length < 2) return null;
  const last = literal.figures.at(-1);
  if (last?.unit == null) return null;
  return {
    figure: formula.slice(literal.span.start, last.unit.span.start).trim(),
    unitText: formula.slice(last.unit.span.start, last.unit.span.end),
  };
}

export function cellResult(
  model: Model,
  node: number,
  origin: Extract<Origin, { is: "cell" }>,
  lens: Lens,
): CellResult {
  const { shape, ...standing } = common(model, node, lens);
  const presentation = model.presentations.get(node);
  const { item } = origin;
  const shown = standing.value === null ? null : showAll(standing.value, standing.type, shape, model);
  const blank = presentation?.blank ?? null;
  const typed = lens === "as-written" && standing.value !== null ? typedFigures(model, item) : null;
  const unitText = shape.unit === null ? "" : printUnit(shape.unit);
  return {
    ...standing,
    name: model.fullName(node),
    label: visible(item.label ?? labelFromName(item.name)),
    formula: formulaOf(item),
    shown: typed === null ? (shown?.text ?? "") : `${typed.figure} ${typed.unitText}`,
    figure: typed?.figure ?? shown?.figure ?? "",
    unitText: typed?.unitText ?? unitText,
    note: presentation?.note == null ? null : visible(presentation.note),
    blank:
      blank === null
        ? null
        : {
            asks: blank.asks,
            unitText: unitTextOf(blank.filled === null ? askedUnit(standing.type, lens) : standing.type.unit),
            filled: blank.filled !== null,
          },
    choices: choicesOf(model, node),
  };
}

export function columnResult(
  model: Model,
  node: number,
  origin: Extract<Origin, { is: "column" }>,
  lens: Lens,
): ColumnResult {
  const { shape, ...standing } = common(model, node, lens);
  const column = origin.table.item.columns[origin.column];
  const name = column?.name ?? "";
  const measured = column?.formula === null;
  const rows = measured ? origin.table.faultsOf(origin.column) : new Map();
  const entryFaults = new Map([...rows].map(([row, found]) => [row, found.fault]));
  return {
    ...standing,
    name,
    fullName: model.fullName(node),
    label: visible(column?.label ?? labelFromName(name)),
    measured,
    formula: column?.formula?.text ?? null,
    unitText: shape.unit === null ? "" : printUnit(shape.unit),
    choices: choicesOf(model, node),
    faults: [...standing.faults, ...entryFaults.values()],
    because: entryFaults.size > 0 ? null : standing.because,
    entryFaults,
  };
}

interface Kept {
  readonly result: CellResult | ColumnResult;
  /** What the result was made of; while these are the same objects and figures, so is the result. */
  readonly made: readonly unknown[];
}

/** The results that a reader has asked for, each made once for as long as nothing of it changes. */
export class Results {
  readonly #model: Model;
  readonly #lens: Lens;
  readonly #kept = new Map<number, Kept>();
  readonly #tables = new Map<string, TableResult>();
  readonly #shapes = new Map<number, { readonly value: Value | null; readonly shape: Shape }>();

  constructor(model: Model, lens: Lens) {
    this.#model = model;
    this.#lens = lens;
  }

  cell(key: string): CellResult | null {
    const node = this.#model.names.node(key);
    const origin = node === undefined ? undefined : this.#model.origins[node];
    if (node === undefined || origin?.is !== "cell") return null;
    return this.#keep(node, origin.item, () => cellResult(this.#model, node, origin, this.#lens)) as CellResult;
  }

  /** A line by its node: one of two of the same name has no key. */
  cellOf(node: number): CellResult | null {
    const origin = this.#model.origins[node];
    return origin?.is === "cell" ? cellResult(this.#model, node, origin, this.#lens) : null;
  }

  column(node: number): ColumnResult | null {
    const origin = this.#model.origins[node];
    if (origin?.is !== "column") return null;
    return this.#keep(node, origin.table.item, () =>
      columnResult(this.#model, node, origin, this.#lens),
    ) as ColumnResult;
  }

  #keep(node: number, item: unknown, make: () => CellResult | ColumnResult): CellResult | ColumnResult {
    const { store, stops, runCautions, presentations } = this.#model;
    const state = store.state(node);
    // What a line waits for, or why it is faulty, may change while it itself stands still.
    const lacks = state === READY ? "" : `${blanksOf(this.#model, node).join()}|${rootCause(this.#model, node)}`;
    const made = [
      item,
      state,
      state === READY ? store.value(node) : null,
      this.#model.typeOf(node),
      presentations.get(node),
      runCautions.get(node),
      stops.get(node),
      lacks,
    ];
    const kept = this.#kept.get(node);
    if (kept?.made.every((part, at) => Object.is(part, made[at]))) return kept.result;
    const result = make();
    this.#kept.set(node, { result, made });
    return result;
  }

  table(key: string): TableResult | null {
    const table = this.#model.tables.get(key);
    if (table === undefined) return null;
    const columns = table.nodes.flatMap((node) => this.column(node) ?? []);
    const kept = this.#tables.get(key);
    if (
      kept !== undefined &&
      kept.rowCount === table.rowCount &&
      kept.columns.length === columns.length &&
      kept.columns.every((column, at) => column === columns[at])
    )
      return kept;
    const name = this.#model
      .fullName(table.nodes[0] ?? -1)
      .split(".")
      .slice(0, 2)
      .join(".");
    const result: TableResult = {
      name: name === "" ? key : name,
      label: visible(table.item.label ?? labelFromName(table.item.name)),
      rowCount: table.rowCount,
      columns,
    };
    this.#tables.set(key, result);
    return result;
  }

  /** The shape of a column, looked for once: a screen asks for its entries one by one. */
  #shape(node: number, value: Value | null): Shape {
    const known = this.#shapes.get(node);
    if (known?.value === value) return known.shape;
    const shape = shapeOf(this.#model, node, this.#lens, value);
    this.#shapes.set(node, { value, shape });
    return shape;
  }

  entry(
    tableKey: string,
    row: number,
    columnKey: string,
  ): { readonly text: string; readonly shown: string; readonly missing: boolean; readonly fault: Fault | null } {
    const node = this.#model.names.node(`${tableKey}.${columnKey}`);
    const origin = node === undefined ? undefined : this.#model.origins[node];
    if (node === undefined || origin?.is !== "column") return { text: "", shown: "", missing: true, fault: null };
    const { table, column } = origin;
    const result = this.column(node);
    const place = table.measuredColumns.indexOf(column);
    const text = place < 0 ? "" : (table.entriesOf(row)[place] ?? "");
    const value = result?.value ?? table.readable(column);
    const entry = value !== null && isColumn(value) ? (value[row] ?? null) : null;
    const fault = result?.entryFaults.get(row) ?? null;
    const { kind } = this.#model.typeOf(node);
    const asTyped = this.#lens === "as-written" && (this.#model.presentations.get(node)?.step ?? null) === null;
    // Of a column whose kind is not known no figure can be told; a figure typed in its unit keeps its own decimals.
    if (place >= 0 && (kind.is === "unknown" || (asTyped && PLAIN_DECIMAL.test(text))))
      return { text, shown: text, missing: text === "", fault };
    const shown = showIn(entry, kind, this.#shape(node, value), this.#model).figure;
    return { text, shown, missing: isMissing(entry), fault };
  }
}
