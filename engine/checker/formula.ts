import { nearestSpelling } from "../base/nearest.ts";
import type { Span } from "../base/span.ts";
import { mendAlike, mendTogether } from "../diagnostics/alike.ts";
import { type Caution, caution, type Fault, fault, mend } from "../diagnostics/diagnostic.ts";
import { equalTexts } from "../operations/comparison.ts";
import { CURRENCIES_OF } from "../parser/slips.ts";
import { quoteText } from "../parser/texts.ts";
import type { BlankNode, ParsedFormula } from "../parser/tree.ts";
import type { UnitBook } from "../units/book.ts";
import type { Type } from "../values/kind.ts";
import { type Check, UNKNOWN_TYPE } from "./check.ts";
import type { CheckedBlank, CheckedFormula, CheckedNode, Step, Within } from "./checked.ts";
import type { CheckEnvironment, Scope } from "./environment.ts";
import { checkNode } from "./expression.ts";
import { habitsMeant } from "./habits.ts";
import { labelsMeant } from "./labels-meant.ts";
import { askedType, instantOf, literalOf, stepOf, withinOf } from "./literals.ts";
import { spelledSurely } from "./meant.ts";
import { moneyMeant } from "./money-meant.ts";
import { statedText } from "./places.ts";
import { Work } from "./work.ts";

/** Checks one formula with its tail. Never throws; every fault has its place in the formula's text. */
export function checkFormula(parsed: ParsedFormula, environment: CheckEnvironment, scope: Scope): CheckedFormula {
  const check: Check = {
    environment,
    scope,
    parameters: null,
    text: parsed.text,
    calls: [],
    work: new Work(),
    faults: [...parsed.faults],
    part: checkNode,
  };
  const blank = parsed.expression.node === "blank" ? checkBlank(check, parsed.expression) : null;
  const root = parsed.expression.node === "blank" ? null : checkNode(check, parsed.expression).node;
  const type = check.faults.length > 0 ? UNKNOWN_TYPE : (blank?.type ?? root?.type ?? UNKNOWN_TYPE);
  const tail = checkTail(check, parsed, type);
  const sound = check.faults.length === 0 && type.kind.is !== "unknown";
  choiceFault(check, parsed, blank?.blank ?? null, root, tail.within);
  const faults = [
    ...parsed.faults,
    ...check.faults.slice(parsed.faults.length).filter((found) => !isTold(parsed, found)),
  ];
  return {
    type: check.faults.length === 0 ? type : UNKNOWN_TYPE,
    root: sound ? root : null,
    blank: check.faults.length === 0 && blank !== null ? blank.blank : null,
    step: tail.step,
    within: tail.within,
    note: parsed.note?.text ?? null,
    faults: faults.length === 0 ? faults : meantBy(parsed, faults, environment, scope),
    cautions: root === null ? [] : cautionsOfCalls(root, environment.library),
  };
}

/** The faults of a formula as whoever typed it meant it, and mended together where that is certain. */
function meantBy(
  parsed: ParsedFormula,
  found: readonly Fault[],
  { names, units, currencies }: CheckEnvironment,
  scope: Scope,
): readonly Fault[] {
  if (parsed.text.length > LONGEST_BY_HAND) return mendAlike(found);
  const stated = statedText(parsed);
  const faults = labelsMeant(stated, habitsMeant(stated, found, units), names, scope);
  return mendTogether(mendAlike(moneyMeant(parsed.text, faults, currencies)), (each) => isCertain(each, units));
}

/** Nobody types more than so many characters, in which places are looked for again and again. */
const LONGEST_BY_HAND = 2_000;

/** A figure or a date in another writing. */
const FIGURE = /^-?\d[\d.]*(?:e[+-]?\d+)?$|^\d{4}-/;

/** Whether the one mend of a fault is what was meant, and no guess at a word that is only near to it. */
function isCertain({ code, data, mends: [only] }: Fault, units: UnitBook): boolean {
  if (code === "syntax") return only?.label.startsWith("Write ") === true;
  if (code === "bad-number") return FIGURE.test(only?.replace[0]?.text ?? "");
  if (code === "unknown-name") return data.labels?.length === 1;
  return (
    code === "unknown-unit" && (spelledSurely(data.spelling, units).length === 1 || CURRENCIES_OF.has(data.spelling))
  );
}

/** Faults of a spelling: they hold, whatever else is wrong round it. */
const OF_SPELLING: ReadonlySet<Fault["code"]> = new Set([
  "unknown-name",
  "unknown-unit",
  "unknown-function",
  "ambiguous-unit",
]);

const isInside = (inner: Span, outer: Span): boolean => outer.start <= inner.start && inner.end <= outer.end;

/** What stands in a place that cannot be read, or is made of it, is no second fault. */
const isTold = ({ faults }: ParsedFormula, { span, code }: Fault): boolean =>
  faults.some((told) => isInside(span, told.span) || (!OF_SPELLING.has(code) && isInside(told.span, span)));

const keep = <T extends object>(check: Check, found: T | Fault): T | null => {
  if (!("code" in found)) return found;
  check.faults.push(found);
  return null;
};

function checkTail(check: Check, parsed: ParsedFormula, type: Type): { step: Step | null; within: Within | null } {
  const { units, zone } = check.environment;
  return {
    step: parsed.by === null ? null : keep(check, stepOf(parsed.by, type, units)),
    within: parsed.within === null ? null : keep(check, withinOf(parsed.within, type, units, zone)),
  };
}

function checkBlank(check: Check, node: BlankNode): { blank: CheckedBlank; type: Type } | null {
  const { units, zone } = check.environment;
  const { asks, filled } = node;
  const type = askedType(asks, units, zone);
  if ("code" in type) {
    check.faults.push(type);
    return null;
  }
  const kind = asks.is === "unit" ? "quantity" : asks.is;
  if (filled === null) return { type, blank: { asks: kind, filled: null } };
  if (filled.node === "text") return { type, blank: { asks: kind, filled: filled.value } };
  if (filled.node === "truth") return { type, blank: { asks: kind, filled: filled.value ? 1 : 0 } };
  if (filled.node === "instant") {
    const instant = instantOf(filled, zone);
    return { type: instant.type, blank: { asks: kind, filled: instant.value } };
  }
  const literal = literalOf(filled, units);
  if ("code" in literal) {
    check.faults.push(literal);
    return null;
  }
  return { type: literal.type, blank: { asks: kind, filled: literal.value } };
}

/** A text outside its list is a fault, told as soon as it is written. */
function choiceFault(
  check: Check,
  parsed: ParsedFormula,
  blank: CheckedBlank | null,
  root: CheckedNode | null,
  within: Within | null,
): void {
  if (within?.is !== "choices") return;
  const text = blank?.filled ?? (root?.op === "constant" ? root.value : null);
  if (typeof text !== "string" || within.texts.some((choice) => equalTexts(choice, text))) return;
  const { expression } = parsed;
  const { span } = (expression.node === "blank" ? expression.filled : null) ?? expression;
  const near = nearestSpelling(text, within.texts);
  const mends = near === null ? [] : [mend(`Write "${near}"`, span, quoteText(near))];
  check.faults.push(fault("not-a-choice", span, { text, choices: within.texts }, mends));
}

/**
 * What is to be heeded of the brewing functions that a formula calls, each told once: known before there is a figure, so
 * that a line which waits carries it. Another one for each whose figures changed since the library that the file was made with.
 */
function cautionsOfCalls(root: CheckedNode, library: number): Caution[] {
  const found = new Map<string, Caution>();
  // A long chain is as deep as it is long, so the tree is walked with a list and not by recursion.
  const open: CheckedNode[] = [root];
  for (let node = open.pop(); node !== undefined; node = open.pop()) {
    if (node.op === "library") {
      const { name, caution: own, changed = [] } = node.function;
      if (own !== undefined) found.set(own.says, caution(own.is, { says: own.says }));
      const newer = changed.filter((version) => version > library);
      if (newer.length > 0)
        found.set(name, caution("figures-changed", { function: name, from: library, to: Math.max(...newer) }));
    }
    open.push(...partsOf(node));
  }
  return [...found.values()];
}

/** The operands of a checked node, one level down. */
export function partsOf(node: CheckedNode): readonly CheckedNode[] {
  switch (node.op) {
    case "constant":
    case "load":
    case "parameter":
      return [];
    case "negate":
    case "not":
    case "missing":
      return [node.operand];
    case "arithmetic":
    case "compare":
    case "and":
    case "or":
      return [node.left, node.right];
    case "if":
      return [...node.branches.flatMap(({ condition, value }) => [condition, value]), node.otherwise];
    case "where":
      return [node.columns, node.condition];
    case "general":
    case "library":
      return node.operands;
    case "apply":
      return [...node.operands, node.body];
  }
}
