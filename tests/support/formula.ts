import { invariant } from "../../engine/base/invariant.ts";
import type { CheckEnvironment } from "../../engine/checker/environment.ts";
import { checkFormula } from "../../engine/checker/formula.ts";
import { Types } from "../../engine/checker/types.ts";
import type { Caution } from "../../engine/diagnostics/diagnostic.ts";
import { fault } from "../../engine/diagnostics/diagnostic.ts";
import { wordCaution, wordFault } from "../../engine/diagnostics/wording.ts";
import { evaluate } from "../../engine/evaluator/evaluate.ts";
import { faultOf } from "../../engine/evaluator/stop.ts";
import { LIBRARY_VERSION } from "../../engine/library/functions.ts";
import { BASE_BOOK } from "../../engine/units/book.ts";
import { UNKNOWN } from "../../engine/values/kind.ts";
import { showValue } from "../../engine/values/show.ts";
import type { Value } from "../../engine/values/value.ts";
import { language } from "./language.ts";

/** A place without a workbook: no name stands for anything. */
const environment: CheckEnvironment = {
  names: {
    resolve: (name) => ({
      is: "fault",
      fault: fault("unknown-name", name.span, { name: name.parts.map((part) => part.text).join("."), near: null }),
    }),
    tableOf: () => null,
    labelled: () => [],
  },
  typeOf: () => ({ kind: UNKNOWN, unit: null, rows: null }),
  units: BASE_BOOK,
  zone: null,
  signatures: language.signatures,
  functionNamed: () => null,
  functionNames: [],
  currencies: () => new Set(),
  bodies: new Map(),
  types: new Types(),
  library: LIBRARY_VERSION,
};

export interface Calculated {
  /** Coherent; null when there is none. */
  readonly value: Value | null;
  /** As it is shown, or the first sentence that says why there is no value. */
  readonly shown: string;
  /** Sentences of the faults, or the one reason why there is no value. */
  readonly faults: readonly string[];
  readonly cautions: readonly Caution[];
  readonly cautionSentences: readonly string[];
}

/** Parses, checks and evaluates one formula that names no cell: the way of a formula through the engine, without a workbook. */
export function calculate(formula: string): Calculated {
  const parsed = language.parse(formula, BASE_BOOK);
  const checked = checkFormula(parsed, environment, { sheet: null, table: null, filtered: null });
  const none = (faults: readonly string[], cautions: readonly Caution[] = []): Calculated => ({
    value: null,
    shown: faults[0] ?? "",
    faults,
    cautions,
    cautionSentences: cautions.map(wordCaution),
  });
  if (checked.root === null) return none(checked.faults.map(wordFault));
  const {
    value,
    stop,
    cautions: run,
  } = evaluate(checked.root, {
    read: () => ({ is: "faulty" }),
    unfilled: () => [],
    logs: () => [],
  });
  const cautions = [...checked.cautions, ...run];
  if (stop !== null)
    return none(
      [faultOf(stop)].map((found) => (found === null ? "" : wordFault(found))),
      cautions,
    );
  invariant(typeof value !== "object", "a formula without tables gives one value");
  const shown = showValue(value, checked.type.kind, checked.type.unit, checked.step, null).text;
  return { value, shown, faults: [], cautions, cautionSentences: cautions.map(wordCaution) };
}
