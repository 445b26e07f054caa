import { printRational } from "../base/rational.ts";
import { quoteText } from "./texts.ts";
import type { BlankNode, Figure, LiteralNode, Node, ParsedFormula, UnitPhrase, WithinNode } from "./tree.ts";

/** Gives the one spelling that is written for a spelling as typed: `ltr` is `L`; unknown ones come back as they are. */
export type Spell = (spelling: string) => string;

/** A unit phrase in its tidy form: `kg/m^3`. One that begins with a division is `1/h`, or behind a `?`, where `1` would fill the blank, `h^-1`. */
export function printPhrase(phrase: UnitPhrase, spell: Spell, behindBlank = false): string {
  let out = "";
  for (const { spelling, power } of phrase.factors) {
    const first = out === "";
    const over = power.n < 0 && !(first && behindBlank);
    const shown = over ? { n: -power.n, d: power.d } : power;
    const raised = shown.d !== 1 ? `^(${printRational(shown)})` : shown.n !== 1 ? `^${shown.n}` : "";
    out += (over ? (first ? "1/" : "/") : first ? "" : "*") + spell(spelling) + raised;
  }
  return out;
}

/** The digits of a figure as typed, but `.5` with its nought and the exponent's `e` small. */
const printDigits = ({ text }: Figure): string => (text.startsWith(".") ? `0${text}` : text).replace("E", "e");

export const printFigure = (figure: Figure, spell: Spell): string =>
  figure.unit === null ? printDigits(figure) : `${printDigits(figure)} ${printPhrase(figure.unit, spell)}`;

export const printLiteral = (node: LiteralNode, spell: Spell): string =>
  (node.negative ? "-" : "") + node.figures.map((figure) => printFigure(figure, spell)).join(" ");

/** ISO 8601, with seconds only where there are any; UTC when zoned. */
export function printInstant(seconds: number, zoned: boolean, dateOnly: boolean): string {
  const days = Math.floor(seconds / 86400);
  const rest = seconds - days * 86400;
  // Civil date from days, counted in eras of 400 years from 1 March of year 0.
  const z = days + 719468;
  const era = Math.floor(z / 146097);
  const dayOfEra = z - era * 146097;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36524) - Math.floor(dayOfEra / 146096)) / 365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const shifted = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - Math.floor((153 * shifted + 2) / 5) + 1;
  const month = shifted < 10 ? shifted + 3 : shifted - 9;
  const year = yearOfEra + era * 400 + (month <= 2 ? 1 : 0);
  const two = (value: number): string => String(value).padStart(2, "0");
  const date = `${String(year).padStart(4, "0")}-${two(month)}-${two(day)}`;
  if (dateOnly && rest === 0 && !zoned) return date;
  const whole = Math.floor(rest);
  const fraction = rest - whole;
  const decimals = fraction === 0 ? "" : fraction.toFixed(6).slice(1).replace(/0+$/, "").replace(/^\.$/, "");
  const second = whole % 60;
  const clock = `${two(Math.floor(whole / 3600))}:${two(Math.floor(whole / 60) % 60)}`;
  return `${date}T${clock}${second > 0 || decimals !== "" ? `:${two(second)}${decimals}` : ""}${zoned ? "Z" : ""}`;
}

/** How tightly the outermost operator of a printed node binds; an operand that binds looser than its place gets parentheses. */
const LOOSE = {
  as: 0,
  where: 1,
  if: 2,
  or: 3,
  and: 4,
  not: 5,
  compare: 6,
  add: 7,
  multiply: 8,
  sign: 9,
  power: 10,
  whole: 11,
};

function looseness(node: Node): number {
  switch (node.node) {
    case "as":
    case "where":
    case "if":
    case "power":
      return LOOSE[node.node];
    case "compare":
    case "missing":
      return LOOSE.compare;
    case "unary":
      return node.operator === "not" ? LOOSE.not : LOOSE.sign;
    case "chain": {
      const operator = node.rest[0]?.operator;
      return operator === "or" || operator === "and"
        ? LOOSE[operator]
        : operator === "+" || operator === "-"
          ? LOOSE.add
          : LOOSE.multiply;
    }
    default:
      return LOOSE.whole;
  }
}

/** A node in its tidy form, with no parentheses but those it needs. Read again, it is the same tree. */
export function printNode(node: Node, spell: Spell): string {
  /** `each` in a place that takes what binds at least as tightly as `least`. */
  const at = (each: Node, least: number): string =>
    looseness(each) < least ? `(${printNode(each, spell)})` : printNode(each, spell);
  switch (node.node) {
    case "literal":
      return printLiteral(node, spell);
    case "instant":
      return printInstant(node.seconds, node.zoned, node.dateOnly);
    case "text":
      return quoteText(node.value);
    case "truth":
      return node.value ? "yes" : "no";
    case "name":
      return node.parts.map((part) => part.text).join(".");
    case "call": {
      const given = node.arguments.map(
        ({ name, value }) => (name === null ? "" : `${name.text}: `) + printNode(value, spell),
      );
      return `${node.name}(${given.join(", ")})`;
    }
    case "chain": {
      const own = looseness(node);
      return node.rest.reduce(
        (out, { operator, operand }) => `${out} ${operator} ${at(operand, own + 1)}`,
        at(node.first, own + 1),
      );
    }
    case "power": {
      const parts = [node.base, ...node.exponents];
      return parts.reduce((out, part, index) => {
        if (index === 0) return at(part, LOOSE.whole);
        // The last exponent's sign needs no parentheses: `2^-3`. `5 m^2` would raise the metre, `5 m ^ 2` the whole.
        const bare = index === parts.length - 1 && isSigned(part);
        return (
          out + (hasUnit(parts[index - 1]) ? " ^ " : "^") + (bare ? printNode(part, spell) : at(part, LOOSE.whole))
        );
      }, "");
    }
    case "unary":
      return node.operator === "not"
        ? "not ".repeat(node.times) + at(node.operand, LOOSE.not + 1)
        : "-".repeat(node.times) + atSign(node.operand, at);
    case "compare":
      return `${at(node.left, LOOSE.compare + 1)} ${node.operator} ${at(node.right, LOOSE.compare + 1)}`;
    case "missing":
      return `${at(node.operand, LOOSE.compare + 1)} is ${node.negated ? "not " : ""}missing`;
    case "if": {
      const branches = node.branches.map(
        ({ condition, value }) => `if ${at(condition, LOOSE.or)} then ${at(value, LOOSE.or)} else `,
      );
      return branches.join("") + at(node.otherwise, LOOSE.or);
    }
    case "where":
      return `${at(node.columns, LOOSE.if)} where ${at(node.condition, LOOSE.if)}`;
    case "as":
      return `${at(node.operand, LOOSE.where)} as ${printPhrase(node.unit, spell)}`;
    case "blank":
      return printBlank(node, spell);
    case "broken":
      return "";
  }
}

const isSigned = (node: Node): boolean => node.node === "unary" && node.operator === "-";

const hasUnit = (node: Node | undefined): boolean =>
  node?.node === "literal" && node.figures.some(({ unit }) => unit !== null);

/** Behind a minus, a bare figure with a unit would take the sign as its own. */
const atSign = (operand: Node, at: (node: Node, least: number) => string): string =>
  (operand.node === "literal" && !operand.negative && hasUnit(operand)) ||
  (operand.node === "power" && operand.base.node === "literal" && !operand.base.negative && hasUnit(operand.base))
    ? `(${at(operand, LOOSE.power)})`
    : at(operand, LOOSE.power);

export function printBlank({ asks, filled }: BlankNode, spell: Spell): string {
  if (filled !== null) return `? ${printNode(filled, spell)}`;
  if (asks.is === "unit") return `? ${printPhrase(asks.unit, spell, true)}`;
  return asks.is === "number" ? "?" : `? ${asks.is}`;
}

export const printWithin = (within: WithinNode, spell: Spell): string =>
  within.is === "range"
    ? `within ${printNode(within.low, spell)} to ${printNode(within.high, spell)}`
    : `within ${within.texts.map((text) => quoteText(text.value)).join(", ")}`;

/** A formula without faults, with its tail and note, in tidy form on one line. */
export function printFormula({ expression, by, within, note }: ParsedFormula, spell: Spell): string {
  const parts = [printNode(expression, spell)];
  if (by !== null) parts.push(`by ${printFigure(by, spell)}`);
  if (within !== null) parts.push(printWithin(within, spell));
  if (note !== null) parts.push(note.text === "" ? "#" : `# ${note.text}`);
  return parts.join(" ");
}

/** A cell's line: `grain "Malt in" = 8.5 sack`. No line end. */
export const printCellLine = (cell: {
  readonly name: string;
  readonly label: string | null;
  readonly formula: string;
}): string => `${cell.name}${cell.label === null ? "" : ` ${quoteText(cell.label)}`} = ${cell.formula.trim()}`;
