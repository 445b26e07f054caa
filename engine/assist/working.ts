import { visible } from "../base/deceptive.ts";
import { nameKey } from "../base/names.ts";
import type { Caution } from "../diagnostics/diagnostic.ts";
import type { LibraryFunction } from "../library/declaration.ts";
import { callsOf } from "../parser/references.ts";
import type { Node } from "../parser/tree.ts";
import type { Lens } from "../units/lens.ts";
import { labelOf } from "../workbook/document.ts";
import type { Model } from "../workbook/model.ts";
import type { State } from "../workbook/result.ts";
import { cellResult, columnResult } from "../workbook/results.ts";
import { READY, WAITING } from "../workbook/store.ts";
import { nodeNamed } from "./context.ts";
import { brief, figuresOf, putIn } from "./figures-put-in.ts";
import { type Step, stepsOf } from "./steps.ts";

/** A line that a working speaks of. */
export interface Link {
  /** Full name, `mash.grain`. */
  readonly name: string;
  readonly label: string;
  /** As this reader sees it; empty unless ready. */
  readonly shown: string;
  readonly state: State;
}

/** A line's working, as one would write it out on paper. */
export interface Working {
  readonly name: string;
  readonly label: string;
  /** The formula with its tail, without its note; empty for a measured column. */
  readonly formula: string;
  /** The calculation with figures and units in the place of names; null where it has no names. */
  readonly withFigures: string | null;
  /** `3.01 L/kg`; empty unless ready. */
  readonly shown: string;
  readonly state: State;
  /** What the calculation goes through, innermost first: each function it calls, each condition it decides by. */
  readonly steps: readonly Step[];
  readonly drawsOn: readonly Link[];
  readonly feeds: readonly Link[];
  /** The brewing functions it calls, in the order in which they are met. */
  readonly functions: readonly LibraryFunction[];
  readonly cautions: readonly Caution[];
  readonly note: string | null;
}

/** Writes out the working of a line or column; null when there is none of this name. */
export function working(model: Model, lens: Lens, name: string): Working | null {
  const node = nodeNamed(model, name);
  const origin = node === null ? undefined : model.origins[node];
  if (node === null || origin === undefined) return null;
  const result = origin.is === "cell" ? cellResult(model, node, origin, lens) : columnResult(model, node, origin, lens);
  const text = model.formulaText(node) ?? "";
  const parsed = model.head.parse(text);
  const put = figuresOf(model, lens, node, parsed);
  const { expression, note } = parsed;
  return {
    name: model.fullName(node),
    label: result.label,
    formula: visible((note === null ? text : text.slice(0, note.span.start)).trim()),
    withFigures: put.length === 0 ? null : putIn(text, expression.span, put),
    shown: model.store.state(node) === READY ? brief(model, lens, node) : "",
    state: result.state,
    steps: stepsOf(model, lens, node, text, (span) => putIn(text, span, put)),
    drawsOn: linksTo(model, lens, model.graph.dependenciesOf(node)),
    feeds: linksTo(model, lens, model.graph.dependantsOf(node)),
    functions: functionsOf(model, expression),
    cautions: result.cautions,
    note: note?.text ?? null,
  };
}

/** Links in the order in which lines were written. */
const linksTo = (model: Model, lens: Lens, nodes: readonly number[]): readonly Link[] =>
  [...nodes].sort((a, b) => a - b).map((node) => linkTo(model, lens, node));

function linkTo(model: Model, lens: Lens, node: number): Link {
  const origin = model.origins[node];
  const state = model.store.state(node);
  const own = origin?.is === "cell" ? origin.item : origin?.table.item.columns[origin.column];
  return {
    name: model.fullName(node),
    label: own === undefined ? "" : labelOf(own),
    shown: state === READY ? brief(model, lens, node) : "",
    state: state === READY ? "ready" : state === WAITING ? "waiting" : "faulty",
  };
}

/** Library functions of an expression and of the workbook's functions that it calls. */
function functionsOf(model: Model, expression: Node): readonly LibraryFunction[] {
  const found = new Map<string, LibraryFunction>();
  const seen = new Set<string>();
  const look = (node: Node): void => {
    for (const { name } of callsOf(node)) {
      const key = nameKey(name);
      if (seen.has(key)) continue;
      seen.add(key);
      const own = model.environment.functionNamed(key);
      const signature = own === null ? model.environment.signatures.find(key) : null;
      if (signature !== null) found.set(key, signature.function);
      if (own !== null) look(own.body.expression);
    }
  };
  look(expression);
  return [...found.values()];
}
