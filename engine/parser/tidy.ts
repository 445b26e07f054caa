import type { IToken } from "chevrotain";
import { isBlank, isLineEnd, skipBlanks } from "./characters.ts";
import { readRows } from "./csv.ts";
import { readHead, skipLineEnd, statementEnd } from "./lines.ts";
import type { Parser } from "./parser.ts";
import { printLiteral, printPhrase, type Spell } from "./print.ts";
import { quoteText } from "./texts.ts";
import { tokenize } from "./tokenizer.ts";
import * as T from "./tokens.ts";
import type { BlankNode, LiteralNode, NameNode, Statement, TextNode, UnitPhrase } from "./tree.ts";

/*
 * Tidying works on tokens, not on the tree, so that parentheses that a brewer put for clarity stay. Nothing is aligned across
 * lines. What has a fault, and a formula that spans lines, stays as it is.
 */

const WORDS: ReadonlyMap<unknown, string> = new Map([
  [T.Open, "("],
  [T.Close, ")"],
  [T.Comma, ", "],
  [T.If, "if "],
  [T.Then, " then "],
  [T.ElseIf, " else if "],
  [T.Else, " else "],
  [T.Where, " where "],
  [T.By, " by "],
  [T.Within, " within "],
  [T.To, " to "],
]);

const hasUnit = (token: IToken | undefined): boolean =>
  token?.tokenType === T.Literal && (token.payload as LiteralNode).figures.some(({ unit }) => unit !== null);

function printToken(token: IToken, before: IToken | undefined, text: string, spell: Spell): string {
  const payload: unknown = token.payload;
  switch (token.tokenType) {
    case T.Literal:
      return printLiteral(payload as LiteralNode, spell);
    case T.Text:
      return quoteText((payload as TextNode).value);
    case T.Name:
      return (payload as NameNode).parts.map((part) => part.text).join(".");
    case T.FunctionName:
      return `${(payload as T.FunctionPayload).name}(`;
    case T.ArgumentName:
      return `${(payload as { text: string }).text}: `;
    case T.Prefixes: {
      const { nots, minuses } = payload as T.Prefix;
      return "not ".repeat(nots) + "-".repeat(minuses);
    }
    case T.Operator:
      // `5 m^2` raises the metre, `5 m ^ 2` the whole.
      return payload === "^" && !hasUnit(before) ? "^" : ` ${payload as string} `;
    case T.Missing:
      return payload === true ? " is not missing" : " is missing";
    case T.As:
      return ` as ${printPhrase(payload as UnitPhrase, spell)}`;
    case T.Blank: {
      const asks = payload as BlankNode["asks"] | null;
      if (asks === null || asks.is === "number") return "?";
      return asks.is === "unit" ? `? ${printPhrase(asks.unit, spell, true)}` : `? ${asks.is}`;
    }
    default:
      return WORDS.get(token.tokenType) ?? text.slice(token.startOffset, (token.endOffset ?? 0) + 1);
  }
}

/** A formula with its tail and note in tidy form, without outer blanks; with a fault, or over several lines, as it is. */
export function tidyFormula(text: string, parser: Parser, spell: Spell): string {
  const as = text.trim();
  if (/[\r\n]/.test(as) || parser.formula(text).faults.length > 0) return as;
  const { tokens, note } = tokenize(text, parser.speller);
  let out = "";
  let before: IToken | undefined;
  for (const token of tokens) {
    if (before?.tokenType === T.Blank && token.tokenType !== T.By && token.tokenType !== T.Within) out += " ";
    out += printToken(token, before, text, spell);
    before = token;
  }
  if (note === null) return out;
  return `${out} ${printNote(note.text)}`;
}

const printNote = (text: string): string => (text === "" ? "#" : `# ${text}`);

/** One line of words, labels and a note: single blanks outside labels, none outside. */
function tidyBlanks(line: string): string {
  let out = "";
  let quoted = false;
  for (let at = skipBlanks(line, 0); at < line.length; at += 1) {
    const code = line.charCodeAt(at);
    if (code === 34) quoted = !quoted;
    if (!quoted && code === 35)
      return `${out}${out === "" || out.endsWith(" ") ? "" : " "}${printNote(line.slice(at + 1).trim())}`;
    if (quoted || !isBlank(code)) out += line.charAt(at);
    else if (!out.endsWith(" ")) out += " ";
  }
  return out.trimEnd();
}

/** Whether something is wrong between two offsets of a statement's source. */
export type Faulty = (start: number, end: number) => boolean;

const SOUND: Faulty = () => false;

/**
 * A statement's source in tidy form, line ends as they are. Tidying the tidy form changes nothing. What is `faulty` stays to
 * the character: of a table the line of the column or row, else the whole statement.
 */
export function tidyStatement(statement: Statement, parser: Parser, spell: Spell, faulty: Faulty = SOUND): string {
  const { source } = statement;
  if (statement.faults.length > 0) return source;
  if (statement.is !== "table" && faulty(0, source.length)) return source;
  const mark = source.charCodeAt(0) === 0xfeff ? source.charAt(0) : "";
  const body = source.slice(mark.length);
  const end = lineEndAt(body);
  const [line, lineEnd] = [body.slice(0, end), body.slice(end)];
  if (statement.is === "table") return mark + tidyTable(body, parser, spell, moved(faulty, mark.length));
  return mark + tidyBody(statement, line, lineEnd, parser, spell);
}

/** Offsets counted from `by` on. */
const moved =
  (faulty: Faulty, by: number): Faulty =>
  (start, end) =>
    faulty(start + by, end + by);

function tidyBody(
  statement: Exclude<Statement, { is: "table" }>,
  line: string,
  lineEnd: string,
  parser: Parser,
  spell: Spell,
): string {
  switch (statement.is) {
    case "unread":
      return line + lineEnd;
    case "prose":
      return (statement.text === "" ? ">" : `> ${statement.text}`) + lineEnd;
    case "cell":
    case "unit":
    case "function": {
      const before = statement.source.slice(0, statement.formulaStart - 1);
      return `${tidyHead(before.replace(/^\uFEFF/, ""))} = ${tidyFormula(statement.formula, parser, spell)}${lineEnd}`;
    }
    case "plot":
      return eachLine(line + lineEnd, (one, first) => (first || one === "" ? one : `  ${one}`));
    default:
      return tidyBlanks(line) + lineEnd;
  }
}

/** What stands before the `=`: a name and label, or a function's name and arguments. */
const tidyHead = (head: string): string =>
  tidyBlanks(head).replace(/^(function \S+?) ?\((.*)\)$/, (_, name: string, given: string) => {
    const parameters = given.split(",").map((each) => each.trim());
    return `${name}(${parameters.join(", ")})`;
  });

/** Where the last line end of `text` begins; its length when it has none. */
function lineEndAt(text: string): number {
  let at = text.length;
  if (text.charCodeAt(at - 1) === 10) at -= 1;
  if (text.charCodeAt(at - 1) === 13) at -= 1;
  return at;
}

/** Each line tidied by itself, then given to `indent`. */
function eachLine(text: string, indent: (line: string, first: boolean) => string): string {
  let out = "";
  for (let at = 0; at < text.length; ) {
    let end = at;
    while (end < text.length && !isLineEnd(text.charCodeAt(end))) end += 1;
    const next = skipLineEnd(text, end);
    out += indent(tidyBlanks(text.slice(at, end)), at === 0) + text.slice(end, next);
    at = next;
  }
  return out;
}

function tidyTable(text: string, parser: Parser, spell: Spell, faulty: Faulty): string {
  const head = readHead(text, 0);
  let at = skipLineEnd(text, head.end);
  let out = tidyBlanks(text.slice(0, head.end)) + text.slice(head.end, at);
  while (at < text.length) {
    const line = readHead(text, at);
    const end = line.is === "column" ? statementEnd(text, line.after, true) : line.end;
    const next = skipLineEnd(text, end);
    const typed = text.slice(at, end);
    const tidied = line.is === "column" ? tidyColumn(typed, parser, spell) : tidyBlanks(typed);
    out += faulty(at, end) ? typed : tidied === "" ? "" : `  ${tidied}`;
    out += text.slice(end, next);
    at = next;
    if (line.is === "rows") break;
  }
  if (at >= text.length) return out;
  // The last line is `end`: the table has no fault.
  const last = text.slice(0, lineEndAt(text));
  const endStart = Math.max(last.lastIndexOf("\n"), last.lastIndexOf("\r")) + 1;
  return `${out}${tidyRows(text.slice(at, endStart), moved(faulty, at))}  ${tidyBlanks(last.slice(endStart))}${text.slice(last.length)}`;
}

/** `column NAME "label" : …` or `= …`. */
function tidyColumn(line: string, parser: Parser, spell: Spell): string {
  const head = readHead(line, 0);
  const sign = /^[^\s:="]+\s*("(?:[^"]|"")*"\s*)?/.exec(line.slice(head.after))?.[0].length ?? 0;
  const at = head.after + sign;
  const before = tidyBlanks(line.slice(0, at));
  if (line.charAt(at) === "=") return `${before} = ${tidyFormula(line.slice(at + 1), parser, spell)}`;
  // A bare `?` asks for a number; in a column the word has to stand.
  const asked = tidyFormula(`?${line.slice(at + 1)}`, parser, spell).replace(/^\?(?= (?:by|within|#)|$)/, "? number");
  return `${before} : ${asked.replace(/^\? ?/, "")}`;
}

/** Past the blank lines from `at` on. */
function skipGaps(text: string, at: number): number {
  let from = at;
  for (;;) {
    const end = skipBlanks(text, from);
    if (!isLineEnd(text.charCodeAt(end))) return from;
    from = skipLineEnd(text, end);
  }
}

/** Rows one to a line, entries as written with a comma and a blank between them. */
function tidyRows(text: string, faulty: Faulty): string {
  const rows = readRows(text);
  let out = "";
  let before = 0;
  for (let row = 0; row < rows.count; row += 1) {
    const from = rows.firsts[row] ?? 0;
    const to = rows.firsts[row + 1] ?? from;
    const entries: string[] = [];
    let end = 0;
    for (let entry = from; entry < to; entry += 1) {
      const quote = rows.quoted[entry] === 1 ? 1 : 0;
      end = (rows.ends[entry] ?? 0) + quote;
      entries.push(text.slice((rows.starts[entry] ?? 0) - quote, end));
    }
    const lineEnd = skipBlanks(text, end);
    const next = skipLineEnd(text, lineEnd);
    const start = skipGaps(text, before);
    out += faulty(start, lineEnd)
      ? text.slice(start, next)
      : `    ${entries.join(", ").trimEnd()}${text.slice(lineEnd, next)}`;
    before = next;
  }
  return out;
}
