import type { CheckedFormula } from "../checker/checked.ts";
import type { Scope } from "../checker/environment.ts";
import { checkFormula } from "../checker/formula.ts";
import { eachName } from "../checker/references.ts";
import { type Caution, type Fault, fault } from "../diagnostics/diagnostic.ts";
import { wordFault } from "../diagnostics/wording.ts";
import { evaluate } from "../evaluator/evaluate.ts";
import { faultOf } from "../evaluator/stop.ts";
import type { ParsedFormula } from "../parser/tree.ts";
import type { Lens } from "../units/lens.ts";
import { kindName } from "../values/describe.ts";
import type { Value } from "../values/value.ts";
import { gravityCautions, withinCautions } from "../workbook/cautions.ts";
import type { Model } from "../workbook/model.ts";
import type { Awaited, State } from "../workbook/result.ts";
import { refusedChoice } from "../workbook/running.ts";
import { shapeIn, showAll, typedStep, typicalValue } from "../workbook/shape.ts";
import { FAULTY } from "../workbook/store.ts";
import { awaited, rootCause } from "../workbook/waiting.ts";
import { type Context, nodeAt, scopeAt } from "./context.ts";

/** What a formula would be if it were kept as it now stands in the editor. */
export interface Preview extends Awaited {
  /** In the order of their places in the formula's text, each with its sentence and the mends that can be made. */
  readonly faults: readonly (Fault & { readonly message: string })[];
  /** `3.01 L/kg`; empty unless ready. */
  readonly shown: string;
  readonly kindName: string;
  readonly state: State;
  /** The full name of the faulty line that it needs, when it has no fault of its own. */
  readonly because: string | null;
  readonly cautions: readonly Caution[];
}

/** Checks and works out a formula where it stands, without keeping it: neither the workbook nor what any line holds changes. Never throws. */
export function preview(model: Model, lens: Lens, context: Context, formula: string): Preview {
  const scope = scopeAt(model, context);
  const parsed = model.head.parse(formula);
  // Each look at a formula may make suggestions anew; they cost nothing that is kept.
  model.names.allowSuggestions();
  const needs = needsOf(model, parsed, scope);
  const checked = checkFormula(parsed, model.environment, scope);
  const circle = circleOf(model, nodeAt(model, context), needs, formula);
  const faults = [...(circle === null ? [] : [circle]), ...checked.faults, ...rowFaults(checked, scope)];
  if (faults.length > 0) return standing({ faults, kindName: kindName(checked.type.kind) });
  return workedOut(model, lens, parsed, checked, needs);
}

const standing = ({
  faults = [],
  ...more
}: Partial<Omit<Preview, "faults">> & { readonly faults?: readonly Fault[] }): Preview => ({
  shown: "",
  kindName: "unknown",
  state: "faulty",
  waitingFor: [],
  tooFew: null,
  because: null,
  cautions: [],
  ...more,
  faults: faults.map((each) => ({ ...each, message: wordFault(each) })),
});

function workedOut(
  model: Model,
  lens: Lens,
  parsed: ParsedFormula,
  checked: CheckedFormula,
  needs: readonly number[],
): Preview {
  const { blank, root, type } = checked;
  const known = { kindName: kindName(type.kind) };
  if (blank !== null)
    return blank.filled === null
      ? standing({ ...known, state: "waiting" })
      : ready(model, lens, parsed, checked, blank.filled, []);
  if (root === null) return standing({ ...known, because: causeOf(model, needs) });
  const { value, stop: stopped, cautions } = evaluate(root, model.store);
  const stop = stopped ?? refusedChoice(checked, value);
  if (stop === null) return ready(model, lens, parsed, checked, value, cautions);
  if (stop.reason === "waiting")
    return standing({
      ...known,
      state: "waiting",
      ...awaited(model, stop.nodes, stop.tooFew),
      cautions: checked.cautions,
    });
  if (stop.reason === "faulty") return standing({ ...known, because: causeOf(model, stop.nodes) });
  const found = faultOf(stop);
  return standing({ ...known, faults: found === null ? [] : [found] });
}

function ready(
  model: Model,
  lens: Lens,
  parsed: ParsedFormula,
  checked: CheckedFormula,
  value: Value,
  cautions: readonly Caution[],
): Preview {
  const { type, within } = checked;
  const shape = shapeIn(type, checked.step ?? typedStep(parsed.expression), lens, typicalValue(value));
  return standing({
    state: "ready",
    kindName: kindName(type.kind),
    shown: showAll(value, type, shape, model).text,
    cautions: [
      ...checked.cautions,
      ...cautions,
      ...withinCautions(within, value, type, shape, model),
      ...gravityCautions(value, type, shape, model),
    ],
  });
}

function needsOf(model: Model, parsed: ParsedFormula, scope: Scope): readonly number[] {
  const needs = new Set<number>();
  eachName(parsed.expression, model.names, scope, (name, within) => {
    const found = model.names.resolve(name, within);
    if (found.is === "node") needs.add(found.node);
  });
  return [...needs];
}

/** A worked column has the rows of its own table. */
function rowFaults({ type, root }: CheckedFormula, { table }: Scope): Fault[] {
  if (table === null || root === null || type.rows === null || type.rows === table) return [];
  return [
    fault("column-lengths", root.span, { says: `This has the rows of ${type.rows}, not of the table it stands in.` }),
  ];
}

/** The fault of a formula that needs its own line, directly or by way of others. */
function circleOf(model: Model, own: number | null, needs: readonly number[], formula: string): Fault | null {
  if (own === null || needs.length === 0) return null;
  const cameFrom = new Map<number, number>(needs.map((need) => [need, own]));
  const open = [...needs];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    if (at === own) return fault("circular", { start: 0, end: formula.length }, { path: pathTo(model, own, cameFrom) });
    for (const next of model.graph.dependenciesOf(at)) {
      if (cameFrom.has(next)) continue;
      cameFrom.set(next, at);
      open.push(next);
    }
  }
  return null;
}

/** From the line through what it needs, up to the one that needs the line. */
function pathTo(model: Model, own: number, cameFrom: ReadonlyMap<number, number>): readonly string[] {
  const path: string[] = [];
  for (let at = cameFrom.get(own) ?? own; at !== own; at = cameFrom.get(at) ?? own) path.unshift(model.fullName(at));
  return [model.fullName(own), ...path];
}

/** The faulty line that hides a formula's kind or value. */
function causeOf(model: Model, nodes: readonly number[]): string | null {
  for (const node of nodes) {
    if (model.store.state(node) !== FAULTY) continue;
    return model.hasOwnFault(node) ? model.fullName(node) : rootCause(model, node);
  }
  return null;
}
