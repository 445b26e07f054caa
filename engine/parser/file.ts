import { shift } from "../base/span.ts";
import { mend } from "../diagnostics/diagnostic.ts";
import { readPlot, readTable } from "./blocks.ts";
import { isDigit, skipBlanks, skipDigits, skipLine, skipName } from "./characters.ts";
import { type Head, isStructural, readHead, readMeans, skipLineEnd, statementEnd, trimmed } from "./lines.ts";
import type { Parser } from "./parser.ts";
import { StatementReader } from "./statement-reader.ts";
import type { Statement } from "./tree.ts";

/** What is said of a statement beside its source and its faults. */
type Said = Statement extends infer S ? (S extends Statement ? Omit<S, "source" | "start" | "faults"> : never) : never;

/**
 * Reads a file into its statements, in order. Their sources joined are the file, to the character. Never throws; takes time
 * and memory in proportion to the text. `parser` must know the units that the file defines (see `scanUnitNames`).
 */
export function readStatements(text: string, parser: Parser): readonly Statement[] {
  const statements: Statement[] = [];
  const reader = new StatementReader(text, parser);
  let unreadLines = 0;
  let at = 0;
  while (at < text.length) {
    const head = readHead(text, at === 0 && text.charCodeAt(0) === 0xfeff ? 1 : at);
    reader.start = at;
    reader.faults = [];
    const { said, end } = readStatement(reader, head);
    const unread = said.is === "unread";
    if (unread) unreadLines += 1;
    const to = unread && unreadLines > UNREAD_APART ? skipUnread(text, end) : end;
    statements.push(Object.assign(said, { source: text.slice(at, to), start: at, faults: reader.faults }));
    at = to;
  }
  return statements;
}

/** Unread lines beyond these are kept together where they follow each other: a file that is no workbook has millions. */
const UNREAD_APART = 200;

/** Past the lines from `at` on that begin with nothing known. */
function skipUnread(text: string, at: number): number {
  let to = at;
  while (to < text.length) {
    const head = readHead(text, to);
    if (head.is !== null) break;
    to = skipLineEnd(text, head.end);
  }
  return to;
}

/** `end` is past the line end. */
interface Read {
  readonly said: Said;
  readonly end: number;
}

function readStatement(reader: StatementReader, head: Head): Read {
  const { text } = reader;
  const line = (said: Said): Read => ({ said, end: skipLineEnd(text, head.end) });
  switch (head.is) {
    case "gap":
      return line({ is: "gap" });
    case "prose":
      return line({ is: "prose", text: text.slice(skipBlanks(text, head.start + 1), head.end).trimEnd() });
    case "cell":
      return readCell(reader, head);
    case "gylebook":
    case "library":
      return line({ is: head.is === "gylebook" ? "format" : "library", version: readVersion(reader, head) });
    case "title": {
      reader.ends(head.after, head.end);
      return line({ is: "title", text: labelOf(reader, head) ?? "" });
    }
    case "section":
      reader.ends(head.after, head.end);
      return line({ is: "section", label: labelOf(reader, head) ?? "" });
    case "lens":
      return line({ is: "lens", lens: labelOf(reader, head) ?? trimmed(text, head.after, head.end) });
    case "zone":
      return line({ is: "zone", zone: labelOf(reader, head) ?? trimmed(text, head.after, head.end) });
    case "sheet": {
      const { name, nameSpan, after } = reader.name(head.after, head.end);
      const { label, after: end } = reader.label(after);
      reader.ends(end, head.end);
      return line({ is: "sheet", name, nameSpan, label });
    }
    case "means":
      return line(readAgreement(reader, head));
    case "unit":
      return readUnit(reader, head);
    case "function":
      return readFunction(reader, head) ?? line({ is: "unread" });
    case "table":
      return readTable(reader, head);
    case "plot":
      return readPlot(reader, head, labelOf(reader, head) ?? "");
    default:
      tellUnread(reader, head);
      return line({ is: "unread" });
  }
}

/** The label that the head has read; its faults are told now. */
function labelOf(reader: StatementReader, head: Head): string | null {
  return head.label === null ? null : reader.label(head.label.span.start).label;
}

function readVersion(reader: StatementReader, head: Head): number {
  const end = skipDigits(reader.text, head.after);
  reader.ends(end, head.end);
  return Number(reader.text.slice(head.after, end));
}

function readCell(reader: StatementReader, head: Head): Read {
  const { text } = reader;
  const end = statementEnd(text, head.after, false);
  const formula = text.slice(head.after, end);
  const said: Said = {
    is: "cell",
    name: text.slice(head.start, head.wordEnd),
    nameSpan: reader.span(head.start, head.wordEnd),
    label: labelOf(reader, head),
    formula,
    formulaStart: head.after - reader.start,
  };
  return { said, end: skipLineEnd(text, end) };
}

function readAgreement(reader: StatementReader, head: Head): Said {
  const { word, unitStart } = readMeans(reader.text, head);
  const unit = reader.parser.unit(reader.text, unitStart);
  if (unit === null) {
    reader.tell(unitStart, head.end, "A unit follows means: gal means US gal.");
    return { is: "unread" };
  }
  reader.ends(unit.span.end, head.end);
  const by = -reader.start;
  const factors = unit.factors.map((each) => ({ ...each, span: shift(each.span, by) }));
  return { is: "means", word, unit: { factors, span: shift(unit.span, by) } };
}

function readUnit(reader: StatementReader, head: Head): Read {
  const { text } = reader;
  const { name, nameSpan, after } = reader.name(head.after, head.end);
  const from = after + 1;
  const end = statementEnd(text, from, false);
  const said: Said = { is: "unit", name, nameSpan, formula: text.slice(from, end), formulaStart: from - reader.start };
  return { said, end: skipLineEnd(text, end) };
}

/** `function share(part, whole) = …`; null, with a fault, when what is before the `=` cannot be read. */
function readFunction(reader: StatementReader, head: Head): Read | null {
  const { text } = reader;
  const { name, nameSpan, after } = reader.name(head.after, head.end);
  const parameters: string[] = [];
  let at = skipBlanks(text, after + 1);
  while (text.charCodeAt(at) !== 41) {
    const parameter = skipName(text, at);
    const next = skipBlanks(text, parameter);
    const sign = text.charCodeAt(next);
    if (parameter === at || (sign !== 44 && sign !== 41)) {
      reader.tell(
        at,
        Math.max(at + 1, parameter),
        "The function's arguments are names, separated by commas: function share(part, whole) = ….",
      );
      return null;
    }
    parameters.push(text.slice(at, parameter));
    at = sign === 44 ? skipBlanks(text, next + 1) : next;
  }
  const equals = skipBlanks(text, at + 1);
  if (text.charCodeAt(equals) !== 61) {
    const place = reader.span(equals, equals);
    reader.tell(head.start, head.end, "An = and a formula follow the function's arguments.", [
      mend("Add =", place, " = "),
    ]);
    return null;
  }
  const end = statementEnd(text, equals + 1, false);
  const formula = text.slice(equals + 1, end);
  const said: Said = { is: "function", name, nameSpan, parameters, formula, formulaStart: equals + 1 - reader.start };
  return { said, end: skipLineEnd(text, end) };
}

const STRAY: Readonly<Record<string, string>> = {
  end: "This end closes no table.",
  rows: "Rows stand inside a table, behind its columns.",
  column: "A column stands inside a table.",
  across: "An across line stands inside a plot.",
  line: "A line of a plot stands inside a plot.",
};

const EXPECTS: Readonly<Record<string, string>> = {
  gylebook: "The format's number follows: gylebook 1.",
  library: "The library's number follows: library 1.",
  title: 'The title follows between quotes: title "Amber ale".',
  section: 'The heading follows between quotes: section "Runoff".',
  plot: 'The heading follows between quotes: plot "Fermentation".',
  sheet: 'A name follows: sheet mash "Mash".',
  table: 'A name follows: table readings "Daily readings".',
  unit: "A name, = and a size follow: unit sack = 25 kg.",
  function: "A name and arguments follow: function share(part, whole) = part / whole.",
};

function tellUnread(reader: StatementReader, head: Head): void {
  const { text } = reader;
  const word = text.slice(head.start, head.wordEnd);
  const lower = word.toLowerCase();
  const prose = mend("Make it prose", reader.span(head.start, head.start), "> ");
  const wordSpan = reader.span(head.start, head.wordEnd);
  if (head.is !== null || (isStructural(word) && word in STRAY)) {
    reader.tell(head.start, head.wordEnd, STRAY[word] ?? "This does not stand here.");
  } else if (lower !== word && isStructural(lower)) {
    reader.tell(head.start, head.wordEnd, `Write ${lower} in small letters.`, [
      mend(`Write ${lower}`, wordSpan, lower),
    ]);
  } else if (isStructural(word)) {
    reader.tell(head.start, head.end, EXPECTS[word] ?? "This line is not finished.");
  } else if (head.wordEnd > head.start && isDigit(text.charCodeAt(head.after))) {
    const place = head.label === null ? head.wordEnd : head.label.span.end;
    const add = mend("Add =", reader.span(place, head.after), " = ");
    reader.tell(head.start, head.end, `An = is missing behind ${word}.`, [add]);
  } else {
    const says = "This line could not be read. A line is written name = formula; prose begins with >, a note with #.";
    reader.tell(head.start, Math.max(head.start + 1, skipLine(text, head.start)), says, [prose]);
  }
}
