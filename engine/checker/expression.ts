import { unreachable } from "../base/invariant.ts";
import { nameKey } from "../base/names.ts";
import { nearestSpelling } from "../base/nearest.ts";
import { toRational } from "../base/rational.ts";
import type { Span } from "../base/span.ts";
import { type Fault, fault, mend } from "../diagnostics/diagnostic.ts";
import { ounceOfVolume } from "../operations/ambiguity.ts";
import {
  addRule,
  commonKind,
  describeOperand,
  divideRule,
  multiplyRule,
  negateRule,
  overRows,
  powerRule,
} from "../operations/arithmetic.ts";
import { compareRule } from "../operations/comparison.ts";
import { isFault, type Operand, type Ruled } from "../operations/operand.ts";
import type { AsNode, ChainNode, IfNode, NameNode, Node, WhereNode } from "../parser/tree.ts";
import { TEXT, TRUTH, UNKNOWN } from "../values/kind.ts";
import { checkCall } from "./calls.ts";
import { type Check, type Found, hidden, plainly, refuse, ruled } from "./check.ts";
import type { Arithmetic } from "./checked.ts";
import { instantOf, literalOf, unitWritten } from "./literals.ts";
import { nameHint } from "./meant.ts";
import { tableFiltered } from "./references.ts";
import { kindOfUnit, shownIn, unitOf } from "./units.ts";
import { DEPTH_LIMIT } from "./work.ts";

/** Infers kind and dimension of an expression and turns it into arithmetic in coherent units. */
export function checkNode(check: Check, node: Node): Found {
  const { work } = check;
  work.enter();
  // A function's call tells it.
  const found = check.parameters !== null && work.depth > DEPTH_LIMIT ? hidden(node.span) : checkPart(check, node);
  work.leave();
  return found;
}

function checkPart(check: Check, node: Node): Found {
  switch (node.node) {
    case "literal":
      return checkLiteral(check, node);
    case "instant": {
      const { type, value } = instantOf(node, check.environment.zone);
      return plainly({ op: "constant", value, type, span: node.span });
    }
    case "text":
      return plainly({
        op: "constant",
        value: node.value,
        type: { kind: TEXT, unit: null, rows: null },
        span: node.span,
      });
    case "truth":
      return plainly({
        op: "constant",
        value: node.value ? 1 : 0,
        type: { kind: TRUTH, unit: null, rows: null },
        span: node.span,
      });
    case "name":
      return checkName(check, node);
    case "call":
      return checkCall(check, node);
    case "chain":
      return checkChain(check, node);
    case "power":
      return inPlace(checkPower(check, node.base, node.exponents), node.span);
    case "unary":
      return node.operator === "-"
        ? checkSign(check, node.operand, node.times, node.span)
        : checkNot(check, node.operand, node.times, node.span);
    case "compare": {
      const left = checkNode(check, node.left);
      const right = checkNode(check, node.right);
      const kind = commonKind(left.operand, right.operand)?.kind ?? UNKNOWN;
      return ruled(check, compareRule(left.operand, right.operand, node.operator), (type) => ({
        op: "compare",
        comparison: node.operator,
        kind,
        left: left.node,
        right: right.node,
        type,
        span: node.span,
      }));
    }
    case "missing": {
      const { node: operand } = checkNode(check, node.operand);
      return plainly({
        op: "missing",
        negated: node.negated,
        operand,
        type: { kind: TRUTH, unit: null, rows: operand.type.rows },
        span: node.span,
      });
    }
    case "if":
      return checkIf(check, node);
    case "where":
      return checkWhere(check, node);
    case "as":
      return checkAs(check, node);
    case "blank":
      return refuse(
        check,
        fault("syntax", node.span, { says: "A ? stands alone: it is the whole of a line, such as ? °C." }),
      );
    case "broken":
      return hidden(node.span);
    default:
      return unreachable(node);
  }
}

function checkLiteral(check: Check, node: Extract<Node, { node: "literal" }>): Found {
  const literal = literalOf(node, check.environment.units);
  if (isFault(literal)) return refuse(check, literal);
  const type = check.environment.types.of(literal.type);
  const bare = node.figures.length === 1 && node.figures[0]?.unit === null;
  return {
    node: { op: "constant", value: literal.value, type, span: node.span },
    operand: {
      type,
      span: node.span,
      zero: bare && literal.value === 0,
      constant: bare ? toRational(literal.value) : null,
      namesUnit: !bare,
      written: unitWritten(node),
    },
  };
}

function checkName(check: Check, node: NameNode): Found {
  const parameter =
    check.parameters === null ? null : check.parameters.get(node.parts.map((part) => nameKey(part.text)).join("."));
  if (parameter) return plainly({ op: "parameter", index: parameter.index, type: parameter.type, span: node.span });
  if (check.parameters !== null) {
    const name = node.parts.map((part) => part.text).join(".");
    const own = [...check.parameters.values()].map((parameter) => parameter.name);
    const hint = own.length === 0 ? "It has none." : `They are ${own.join(", ")}.`;
    return refuse(
      check,
      fault("unknown-name", node.span, {
        name,
        near: nearestSpelling(name, own),
        hint: `A function reads only its arguments. ${hint}`,
      }),
    );
  }
  const found = check.environment.names.resolve(node, check.scope);
  if (found.is === "fault") return refuse(check, hinted(check, found.fault));
  return plainly({ op: "load", node: found.node, type: check.environment.typeOf(found.node), span: node.span });
}

/** An unknown name that is a unit, a function or a word of the language was meant as that. */
function hinted(check: Check, found: Fault): Fault {
  if (found.code !== "unknown-name" || found.data.name.includes(".")) return found;
  const hint = nameHint(found.data.name, check.environment.units, check.text);
  if (hint === "") return found;
  const { name, near } = found.data;
  if (check.environment.units.find(name) === null)
    return fault("unknown-name", found.span, { name, near, hint }, found.mends);
  const [typed, gap] = APART.exec(check.text.slice(0, found.span.start)) ?? [];
  if (typed === undefined || gap === undefined) return fault("unknown-name", found.span, { name, near: null, hint });
  const stroke = { start: found.span.start - gap.length, end: found.span.start };
  const closed = `A unit has no blanks round its stroke: write /${name}.`;
  return fault("unknown-name", found.span, { name, near: null, hint: closed }, [mend("Close it up", stroke, "/")]);
}

/** A figure with its unit, and a stroke with blanks round it: `500 g / hL`, `1e6 cells / mL / °P`. */
const APART = /\d\s*[^\s\d+*(),-]+(?:\s*\/\s*[^\s\d+*(),/-]+)*?(\s*\/\s*)$/u;

const RULES = {
  "+": (left: Operand, right: Operand) => addRule(left, right, "added"),
  "-": (left: Operand, right: Operand) => addRule(left, right, "subtracted"),
  "*": multiplyRule,
  "/": divideRule,
} as const;

/** An operand's place includes the parentheses round it. */
const inPlace = ({ node, operand }: Found, span: Span): Found => ({ node, operand: { ...operand, span } });

function checkChain(check: Check, chain: ChainNode): Found {
  let left = checkNode(check, chain.first);
  for (const { operator, operand } of chain.rest) {
    const right = checkNode(check, operand);
    const span = { start: chain.first.span.start, end: operand.span.end };
    if (operator === "and" || operator === "or") {
      const op = operator;
      const before = left;
      left = ruled(check, truthRule([left.operand, right.operand], span), (type) => ({
        op,
        left: before.node,
        right: right.node,
        type,
        span,
      }));
    } else {
      const before = left.operand;
      const rule = check.environment.types.combined(operator, before, right.operand, () =>
        RULES[operator](before, right.operand),
      );
      left = arithmetic(check, rule, operator, left, right, span);
    }
  }
  return inPlace(left, chain.span);
}

function arithmetic(check: Check, rule: Ruled, operator: Arithmetic, left: Found, right: Found, span: Span): Found {
  return ruled(check, rule, (type) => ({ op: "arithmetic", operator, left: left.node, right: right.node, type, span }));
}

function checkPower(check: Check, base: Node, exponents: readonly Node[]): Found {
  const found = [base, ...exponents].map((node) => checkNode(check, node));
  let right = found[found.length - 1] as Found;
  for (let at = found.length - 2; at >= 0; at -= 1) {
    const left = found[at] as Found;
    const span = { start: left.operand.span.start, end: right.operand.span.end };
    right = arithmetic(check, powerRule(left.operand, right.operand), "^", left, right, span);
  }
  return right;
}

function checkSign(check: Check, node: Node, times: number, span: Span): Found {
  const found = checkNode(check, node);
  const answer = ruled(check, negateRule(found.operand, span), (type) => ({
    op: "negate",
    operand: found.node,
    type,
    span,
  }));
  const constant = found.operand.constant;
  if (times % 2 === 0) return { ...found, operand: { ...found.operand, span } };
  return {
    ...answer,
    operand: {
      ...answer.operand,
      zero: found.operand.zero,
      constant: constant === null ? null : { n: -constant.n, d: constant.d },
    },
  };
}

/** Yes and no only. */
function truthRule(operands: readonly Operand[], span: Span): Ruled {
  return overRows(operands, span, () => {
    const wrong = operands.find((operand) => operand.type.kind.is !== "truth");
    if (wrong === undefined) return { kind: TRUTH, unit: null };
    return fault("unlike-units", wrong.span, {
      did: "combined",
      left: describeOperand(wrong),
      right: "a condition",
      hint: "A condition is yes or no, such as x > 3 kg.",
    });
  });
}

function checkNot(check: Check, node: Node, times: number, span: Span): Found {
  const found = checkNode(check, node);
  const answer = ruled(check, truthRule([found.operand], span), (type) => ({
    op: "not",
    operand: found.node,
    type,
    span,
  }));
  return inPlace(times % 2 === 0 ? found : answer, span);
}

function checkIf(check: Check, node: IfNode): Found {
  const branches = node.branches.map((branch) => ({
    condition: checkNode(check, branch.condition),
    value: checkNode(check, branch.value),
  }));
  const otherwise = checkNode(check, node.otherwise);
  for (const { condition } of branches) {
    const rule = truthRule([condition.operand], condition.operand.span);
    if (isFault(rule)) return refuse(check, rule);
  }
  const values = [...branches.map(({ value }) => value), otherwise];
  const all = [...branches.map(({ condition }) => condition.operand), ...values.map(({ operand }) => operand)];
  const answer = overRows(all, node.span, () => {
    let common = (values[0] as Found).operand;
    for (const { operand } of values.slice(1)) {
      const kind = commonKind(common, operand);
      if (kind === null)
        return fault("unlike-branches", operand.span, {
          left: describeOperand(common),
          right: describeOperand(operand),
        });
      common = { ...common, zero: common.zero && operand.zero, type: { ...common.type, ...kind } };
    }
    return { kind: common.type.kind, unit: common.type.unit };
  });
  return ruled(check, answer, (type) => ({
    op: "if",
    branches: branches.map(({ condition, value }) => ({ condition: condition.node, value: value.node })),
    otherwise: otherwise.node,
    type,
    span: node.span,
  }));
}

/**
 * The rows of a filtered table are told apart by the condition that made them and the sheet it stands in; inside a
 * workbook function every call is taken to keep other rows, as its arguments may differ.
 */
function filteredRows(rows: string, check: Check, condition: Span): string {
  const place = check.parameters === null ? (check.scope.sheet ?? "") : `call ${check.environment.bodies.size}`;
  return `${rows} where ${check.text.slice(condition.start, condition.end)} (${place})`;
}

function checkWhere(check: Check, node: WhereNode): Found {
  const columns = checkNode(check, node.columns);
  const { rows, kind } = columns.node.type;
  if (kind.is === "unknown") return columns;
  if (rows === null || rows.includes(" where "))
    return refuse(
      check,
      fault("column-lengths", node.columns.span, {
        says:
          rows === null
            ? "Only a column can be filtered with where."
            : "These rows are filtered already. Write both conditions in one where, joined with and.",
      }),
    );
  const scope = { ...check.scope, filtered: tableFiltered(node, check.environment.names, check.scope) };
  const condition = checkNode({ ...check, scope }, node.condition);
  const rule = truthRule([condition.operand], condition.operand.span);
  if (isFault(rule)) return refuse(check, rule);
  if (condition.node.type.kind.is === "unknown") return hidden(node.span);
  if (condition.node.type.rows !== null && condition.node.type.rows !== rows)
    return refuse(
      check,
      fault("column-lengths", node.condition.span, {
        says: `The condition is about the rows of ${condition.node.type.rows}, but it filters those of ${rows}.`,
      }),
    );
  return plainly({
    op: "where",
    columns: columns.node,
    condition: condition.node,
    type: { kind, unit: columns.node.type.unit, rows: filteredRows(rows, check, node.condition.span) },
    span: node.span,
  });
}

function checkAs(check: Check, node: AsNode): Found {
  const found = checkNode(check, node.operand);
  const unit = unitOf(node.unit, check.environment.units);
  if ("code" in unit) return refuse(check, unit);
  const type = shownIn(found.node.type, unit, node.unit.span);
  if ("code" in type) return refuse(check, ounceOfVolume(found.operand.written, kindOfUnit(unit)) ?? type);
  const shown = { ...found.node, type, span: node.span };
  return { node: shown, operand: { ...found.operand, type, span: node.span, zero: false, namesUnit: true } };
}
