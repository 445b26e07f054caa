import { EOF, type IRecognitionException, type IToken, type TokenType } from "chevrotain";
import type { Span } from "../base/span.ts";
import { type Fault, fault, type Mend, mend } from "../diagnostics/diagnostic.ts";
import { yesOrNo } from "./asked-words.ts";
import * as T from "./tokens.ts";

/*
 * The one border where Chevrotain's errors become faults. Its end-of-input token and the tokens that recovery inserts have
 * no place (NaN); here every span lies inside the text.
 */

/** The token's stretch, or null for one that stands nowhere in the text. */
const placed = (token: IToken | undefined): Span | null =>
  token === undefined || token.tokenType === EOF || !(token.startOffset >= 0)
    ? null
    : { start: token.startOffset, end: (token.endOffset ?? token.startOffset) + 1 };

const syntax = (span: Span, says: string, mends: readonly Mend[] = []): Fault => fault("syntax", span, { says }, mends);

/** Two operands with nothing between them. */
export function adjacent(
  text: string,
  type: TokenType,
  before: Span,
  next: TokenType,
  after: Span,
  inCall: boolean,
): Fault {
  const [left, right] = [text.slice(before.start, before.end), text.slice(after.start, after.end)];
  const gap = { start: before.end, end: after.start };
  if (type === T.Name && right === "(") {
    const says = `A function's name and its parenthesis stand together: ${left}(. To multiply, write *.`;
    return syntax({ start: before.start, end: after.end }, says, [
      mend(`Write ${left}(`, gap, ""),
      mend(`Write ${left} * (`, gap, " * "),
    ]);
  }
  if (/^\d{1,3}$/.test(left) && /^\d{3}\b/.test(right) && gap.end > gap.start) {
    const joined = `${left}${right}`;
    const span = { start: before.start, end: after.end };
    return fault(
      "bad-number",
      span,
      { text: text.slice(span.start, span.end), says: `Blanks do not group digits here: write ${joined}.` },
      [mend(`Write ${joined}`, gap, "")],
    );
  }
  if (inCall) {
    const says = `Arguments are separated by commas: one is missing between ${left} and ${right}.`;
    return syntax(after.end > after.start ? after : before, says, [
      mend("Put a comma", gap, ", "),
      mend("Multiply them", gap, " * "),
    ]);
  }
  if (type === T.Name && next === T.Name) {
    const says = `The words of one name are joined with _: ${left}_${right}. To calculate, an operator stands between them.`;
    return syntax(after, says, [mend("Join them", gap, "_"), mend("Multiply them", gap, " * ")]);
  }
  const shown = right.length > 0 ? `between ${left} and ${right}` : `after ${left}`;
  return syntax(after.end > after.start ? after : before, `An operator is missing ${shown}.`, [
    mend("Multiply them", gap, " * "),
  ]);
}

const FOLLOWS: ReadonlyMap<TokenType, string> = new Map([
  [T.By, "A step follows by: by 0.1."],
  [T.Within, 'What is accepted follows within: within 65 to 68 °C, or within "kettle", "stand".'],
  [T.To, "The highest accepted figure follows to."],
  [T.If, "A condition follows if."],
  [T.Then, "A value follows then."],
  [T.ElseIf, "A condition follows else if."],
  [T.Else, "A value follows else."],
  [T.Where, "A condition follows where."],
  [T.ArgumentName, "A value follows the argument's name."],
  [T.Comma, "Something is missing after this comma."],
  [T.Open, "Something is missing inside these parentheses."],
]);

/** What is missing after a token that wants an operand; `type` undefined: after nothing. */
export const missingAfter = (typed: string, type: TokenType | undefined): string =>
  type === undefined
    ? "There is nothing to calculate here."
    : (FOLLOWS.get(type) ?? `Something is missing after ${typed}.`);

/** Where the part of the formula that ends before token `at` begins: behind the nearest opening, comma or keyword around it. */
function partStart(tokens: readonly IToken[], at: number): number {
  let closed = 0;
  let start = tokens[at]?.startOffset ?? 0;
  for (let i = at - 1; i >= 0; i -= 1) {
    const token = tokens[i] as IToken;
    const type = token.tokenType;
    if (type === T.Close) closed += 1;
    else if ((type === T.Open || type === T.FunctionName) && closed > 0) closed -= 1;
    else if (closed === 0 && ENDS_PART.has(type)) break;
    start = token.startOffset;
  }
  return start;
}
const ENDS_PART: ReadonlySet<TokenType> = new Set([
  T.Open,
  T.FunctionName,
  T.Comma,
  T.ArgumentName,
  T.If,
  T.Then,
  T.ElseIf,
  T.Else,
]);

/** Parentheses round the part that ends with token `last`. */
function parentheses(tokens: readonly IToken[], last: number): Mend {
  const start = partStart(tokens, last);
  const end = (tokens[last]?.endOffset ?? 0) + 1;
  return {
    label: "Put parentheses round it",
    replace: [
      { span: { start, end: start }, text: "(" },
      { span: { start: end, end }, text: ")" },
    ],
  };
}

/** A comma outside a function: in figures in a row, or in an `if` that is written like a function. */
function strayComma(tokens: readonly IToken[], at: number, span: Span): Fault {
  const literals = tokens[at - 1]?.tokenType === T.Literal && tokens[at + 1]?.tokenType === T.Literal;
  if (literals && tokens.length === 3) {
    const says = "A comma separates the arguments of a function. Figures of one quantity stand in a row without it.";
    return syntax(span, says, [mend("Take it out", span, "")]);
  }
  const open = tokens.findLastIndex(({ tokenType }, index) => index < at && tokenType === T.Open);
  const otherwise = tokens.findIndex(({ tokenType }, index) => index > at && tokenType === T.Comma);
  const close = tokens.findIndex(({ tokenType }, index) => index > otherwise && tokenType === T.Close);
  const places = [open, at, otherwise, close].map((index) => placed(tokens[index]));
  const [opening, first, second, closing] = places;
  if (tokens[open - 1]?.tokenType !== T.If || !opening || !first || !second || !closing)
    return syntax(span, "A comma separates the arguments of a function: there is no function here.");
  const mended = {
    label: "Write then and else",
    replace: [
      { span: opening, text: " " },
      { span: first, text: " then" },
      { span: second, text: " else" },
      { span: closing, text: "" },
    ],
  };
  return syntax(span, "An if is written without commas: if … then … else ….", [mended]);
}

/** The fault for one of Chevrotain's errors, in the words of someone who knows brewing and not grammars. */
export function translate(error: IRecognitionException, tokens: readonly IToken[], text: string): Fault {
  const here = placed(error.token);
  const at = here === null ? tokens.length : tokens.indexOf(error.token);
  const previous = tokens[at - 1];
  const before = placed(previous);
  const span = here ?? before ?? { start: 0, end: text.length };
  const type = here === null ? null : error.token.tokenType;
  const typed = text.slice(span.start, span.end);
  if (type === T.Blank || previous?.tokenType === T.Blank || tokens[0]?.tokenType === T.Blank) {
    const says =
      "A ? is a reading still to be taken: it stands alone, with its unit. Calculate with it in a line of its own.";
    return yesOrNo(text) ?? syntax(span, says);
  }
  if (previous?.tokenType === T.As && type !== null && type !== T.Close) {
    const says = `After ${text.slice(before?.start ?? 0, before?.end ?? 0)} nothing more is calculated: put parentheses round what is converted.`;
    return syntax(span, says, [parentheses(tokens, at - 1)]);
  }
  switch (type) {
    case T.As: {
      const says = "Inside if, then and else, as needs parentheses round what is converted.";
      return syntax(span, says, [parentheses(tokens, at)]);
    }
    case T.Where:
      return previous !== undefined && tokens.slice(0, at).some((each) => each.tokenType === T.Where)
        ? syntax(span, "Conditions are joined by and.", [mend("Write and", span, "and")])
        : syntax(span, "Inside if, then and else, where needs parentheses round it.");
    case T.Comma:
      return strayComma(tokens, at, span);
    case T.To:
      return syntax(span, "A range with to is written after within: within 65 to 68 °C.");
    case T.ArgumentName:
      return syntax(span, "A named argument stands inside a function's parentheses.");
    case T.By:
    case T.Within:
      return syntax(span, "What stands at the end of a line has an order: as UNIT, by STEP, within …, # note.");
    case T.Then:
    case T.Else:
    case T.ElseIf:
      return syntax(span, `There is no if before this ${typed}: write if … then … else ….`);
  }
  if (error.message === T.Then.name) return syntax(span, "A then is missing: write if … then … else ….");
  if (error.message === T.Else.name) return syntax(span, "An else is missing: write if … then … else ….");
  if (previous?.tokenType === T.By) return syntax(span, "A step follows by, as a number without sign: by 0.1.");
  return syntax(span, typed.trim() === "" ? "This formula is not finished." : `${typed.trim()} cannot stand here.`);
}
