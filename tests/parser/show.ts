import type { Node, ParsedFormula, UnitPhrase, UnitSpeller, WithinNode } from "../../engine/parser/tree.ts";

const UNITS = [
  "kg",
  "g",
  "mg",
  "t",
  "lb",
  "oz",
  "L",
  "hL",
  "mL",
  "l",
  "US gal",
  "gal",
  "US fl oz",
  "fl oz",
  "m",
  "m³",
  "h",
  "min",
  "day",
  "°C",
  "degC",
  "°F",
  "K",
  "Δ°C",
  "delta degC",
  "°P",
  "Δ°P",
  "SG",
  "pH",
  "%",
  "% vol",
  "mg/L CaCO3",
  "kJ",
  "cells",
  "bar",
  "psi",
  "CAD",
  "sack",
  "GU",
];

/** A speller for tests of the parser alone. */
export const speller: UnitSpeller = (text, at) => {
  let best = 0;
  for (const unit of UNITS) {
    if (unit.length > best && text.startsWith(unit, at) && !/[\p{L}\p{M}\p{Nd}_]/u.test(text.charAt(at + unit.length)))
      best = unit.length;
  }
  return best;
};

const phrase = ({ factors }: UnitPhrase): string =>
  factors
    .map(({ spelling, power: { n, d } }) => spelling + (d !== 1 ? `^${n}/${d}` : n !== 1 ? `^${n}` : ""))
    .join(" ");

/** A tree with all its parentheses, units in brackets. */
export function show(node: Node): string {
  switch (node.node) {
    case "literal":
      return (
        (node.negative ? "-" : "") +
        node.figures.map((each) => each.text + (each.unit ? `[${phrase(each.unit)}]` : "")).join(" ")
      );
    case "instant":
      return `@${node.seconds}${node.zoned ? " zoned" : ""}${node.dateOnly ? " date" : ""}`;
    case "text":
      return JSON.stringify(node.value);
    case "truth":
      return node.value ? "yes" : "no";
    case "name":
      return node.parts.map(({ text }) => text).join(".");
    case "call":
      return `${node.name}(${node.arguments.map(({ name, value }) => (name ? `${name.text}: ` : "") + show(value)).join(", ")})`;
    case "chain":
      return `{${show(node.first)}${node.rest.map((each) => ` ${each.operator} ${show(each.operand)}`).join("")}}`;
    case "power":
      return `{${[node.base, ...node.exponents].map(show).join(" ^ ")}}`;
    case "unary":
      return `{${node.operator}${node.times > 1 ? node.times : ""} ${show(node.operand)}}`;
    case "compare":
      return `{${show(node.left)} ${node.operator} ${show(node.right)}}`;
    case "missing":
      return `{${show(node.operand)} is ${node.negated ? "not " : ""}missing}`;
    case "if":
      return `{${node.branches.map((each) => `if ${show(each.condition)} then ${show(each.value)}`).join(" else ")} else ${show(node.otherwise)}}`;
    case "where":
      return `{${show(node.columns)} where ${show(node.condition)}}`;
    case "as":
      return `{${show(node.operand)} as [${phrase(node.unit)}]}`;
    case "blank":
      return `?${node.asks.is === "unit" ? `[${phrase(node.asks.unit)}]` : node.asks.is}${node.filled ? ` ${show(node.filled)}` : ""}`;
    case "broken":
      return "…";
  }
}

const within = (node: WithinNode): string =>
  node.is === "range" ? `${show(node.low)} to ${show(node.high)}` : node.texts.map(show).join(", ");

/** A whole formula: its tree, step, range and note. */
export const showFormula = (parsed: ParsedFormula): string =>
  [
    show(parsed.expression),
    parsed.by ? `by ${parsed.by.text}${parsed.by.unit ? `[${phrase(parsed.by.unit)}]` : ""}` : "",
    parsed.within ? `within ${within(parsed.within)}` : "",
    parsed.note ? `# ${parsed.note.text}` : "",
  ]
    .filter(Boolean)
    .join(" ");
