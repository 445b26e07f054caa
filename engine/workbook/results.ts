import { visible } from "../base/deceptive.ts";
import type { Caution, Fault } from "../diagnostics/diagnostic.ts";
import { faultOf } from "../evaluator/stop.ts";
import { printUnit } from "../units/compound.ts";
import type { Lens } from "../units/lens.ts";
import type { ShownUnit } from "../units/unit.ts";
import { kindName } from "../values/describe.ts";
import { isInstant, type Type } from "../values/kind.ts";
import { isColumn, isMissing, type Value } from "../values/value.ts";
import { gravityCautions, withinCautions } from "./cautions.ts";
import { type CellItem, formulaOf, labelOf } from "./document.ts";
import { askedUnit } from "./field.ts";
import type { Origin } from "./lines.ts";
import type { Model } from "./model.ts";
import type { Awaited, CellResult, ColumnResult, State, TableResult } from "./result.ts";
import { PLAIN_DECIMAL, type Shape, shapeOf, showAll, showIn, showTyped } from "./shape.ts";
import { FAULTY, READY, WAITING } from "./store.ts";
import { awaited, rootCause, tableOf } from "./waiting.ts";

const NOTHING_AWAITED: Awaited = { waitingFor: [], tooFew: null };

const STATES: readonly State[] = ["ready", "waiting", "faulty"];

interface Common extends Awaited {
  readonly state: State;
  readonly type: Type;
  readonly kindName: string;
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
  const shape = seen === null ? { unit: askedUnit(type, lens), step: null } : shapeOf(model, node, lens, seen);
  const stopped = code === FAULTY ? faultOf(model.stops.get(node)) : null;
  const faults = [...(presentation?.faults ?? []), ...(stopped === null ? [] : [stopped])];
  const known = presentation?.cautions ?? [];
  return {
    state: STATES[code] ?? "faulty",
    type,
    kindName: kindName(type.kind),
    ...(code === WAITING ? awaited(model, [node]) : NOTHING_AWAITED),
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
    label: labelOf(item),
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
            unitText: unitTextOf(blank.filled === null ? shape.unit : standing.type.unit),
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
    label: labelOf({ name, label: column?.label ?? null }),
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
    const lacks = state === READY ? "" : JSON.stringify([awaited(this.#model, [node]), rootCause(this.#model, node)]);
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
    const name = tableOf(this.#model, table.nodes[0] ?? -1);
    const result: TableResult = {
      name: name === "" ? key : name,
      label: labelOf(table.item),
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
    const shape = this.#shape(node, value);
    const missing = isMissing(entry);
    const isTyped = place >= 0 && !missing && (this.#lens !== "as-written" || isInstant(kind));
    const typed =
      isTyped && typeof entry === "number"
        ? showTyped(text, entry, this.#model.typeOf(node), shape, this.#model)
        : null;
    return { text, shown: typed ?? showIn(entry, kind, shape, this.#model).figure, missing, fault };
  }
}
