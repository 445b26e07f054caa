import { skipBlanks, skipName } from "./characters.ts";
import { scanRows } from "./csv.ts";
import { endsLine, type Head, readHead, skipLineEnd, startsStatement, statementEnd } from "./lines.ts";
import type { StatementReader } from "./statement-reader.ts";
import type { NameNode, ParsedColumn, Statement } from "./tree.ts";

/** What is said of a table or plot beside its source and its faults, and the end of its source. */
interface ReadBlock<Is extends Statement["is"]> {
  readonly said: Omit<Extract<Statement, { is: Is }>, "source" | "start" | "faults">;
  readonly end: number;
}

/**
 * A table: its columns, its rows and its `end`. Where `end` is missing, the table ends before the next statement that is
 * none of its own (for rows see `scanRows`), is read all the same, and the fault is told at its head.
 */
export function readTable(reader: StatementReader, head: Head): ReadBlock<"table"> {
  const { text } = reader;
  const { name, nameSpan, after } = reader.name(head.after, head.end);
  const { label, after: headEnd } = reader.label(after);
  reader.ends(headEnd, head.end);
  const columns: ParsedColumn[] = [];
  let [rows, rowsStart] = ["", 0];
  let mapping: string | null = null;
  let at = skipLineEnd(text, head.end);
  let closed = false;
  while (at < text.length && !closed) {
    const line = readHead(text, at);
    if (line.is === "rows") {
      const from = skipLineEnd(text, line.end);
      const scanned = scanRows(text, from);
      rows = text.slice(from, scanned.end);
      rowsStart = from - reader.start;
      closed = scanned.closed;
      at = closed ? skipLineEnd(text, readHead(text, scanned.end).end) : scanned.end;
      break;
    }
    if (line.is === "column") {
      const end = statementEnd(text, line.after, true);
      const column = readColumn(reader, line, end);
      columns.push(column);
      at = skipLineEnd(text, end);
    } else if (line.is === "mapping") {
      mapping = line.label?.value ?? null;
      reader.ends(line.after, line.end);
      at = skipLineEnd(text, line.end);
    } else if (line.is === "end") {
      closed = true;
      at = skipLineEnd(text, line.end);
    } else if (startsStatement(line, false)) break;
    else {
      if (line.is === null || line.is === "across" || line.is === "line") {
        reader.tell(line.start, line.end, "Inside a table stand column lines, a mapping, then rows and end.");
      }
      at = skipLineEnd(text, line.end);
    }
  }
  if (!closed)
    reader.tell(head.start, head.end, `The table ${name} has no end: write end on a line of its own behind its rows.`);
  return { said: { is: "table", name, nameSpan, label, columns, mapping, rows, rowsStart }, end: at };
}

/** `column NAME "label" : UNIT by STEP within …`, or `column NAME "label" = FORMULA`. */
function readColumn(reader: StatementReader, head: Head, end: number): ParsedColumn {
  const { text } = reader;
  const { name, nameSpan, after } = reader.name(head.after, end);
  const { label, after: sign } = reader.label(after);
  const place = { name, nameSpan, label, span: reader.span(head.start, end), formulaStart: sign + 1 - reader.start };
  const code = text.charCodeAt(sign);
  if (code === 61 && sign < end) {
    const formula = reader.parser.formula(text.slice(sign + 1, end));
    reader.adopt(formula.faults, sign + 1);
    return { ...place, measured: null, formula };
  }
  const measured = { asks: { is: "number" } as const, by: null, within: null, note: null };
  if (code !== 58 || sign >= end) {
    reader.tell(
      head.start,
      end,
      `A unit follows a column's name behind a colon, or a formula behind =: column ${name} : °C.`,
    );
    return { ...place, measured, formula: null };
  }
  // What a measured column asks for is written like a blank, with a colon for the question mark.
  const asked = reader.parser.formula(`?${text.slice(sign + 1, end)}`);
  reader.adopt(asked.faults, sign);
  const { expression, by, within, note } = asked;
  const asks = expression.node === "blank" ? expression.asks : measured.asks;
  const bare = expression.node === "blank" && expression.filled === null && expression.span.end === 1;
  if (asked.faults.length === 0 && (expression.node !== "blank" || expression.filled !== null || bare)) {
    reader.tell(sign, end, "A unit follows the colon, or number, text, instant, truth: column temp : °C.");
  }
  return { ...place, formulaStart: sign - reader.start, measured: { asks, by, within, note }, formula: null };
}

/** A plot: its `across` and `line` lines, up to the first line that is neither. */
export function readPlot(reader: StatementReader, head: Head, label: string): ReadBlock<"plot"> {
  const { text } = reader;
  reader.ends(head.after, head.end);
  const lines: NameNode[] = [];
  let across: NameNode | null = null;
  let end = skipLineEnd(text, head.end);
  for (let at = end; at < text.length; ) {
    const line = readHead(text, at);
    at = skipLineEnd(text, line.end);
    if (line.is === "gap") continue;
    if (line.is !== "across" && line.is !== "line") break;
    const node = readColumnName(reader, line);
    if (line.is === "line") lines.push(node);
    else if (across === null) across = node;
    else reader.tell(line.start, line.end, "A plot has one across line.");
    end = at;
  }
  if (across === null) reader.tell(head.start, head.end, "A plot needs an across line: across readings.taken.");
  return { said: { is: "plot", label, across, lines }, end };
}

/** `readings.gravity` behind `across` or `line`. */
function readColumnName(reader: StatementReader, head: Head): NameNode {
  const { text } = reader;
  const parts: NameNode["parts"][number][] = [];
  let at = head.after;
  for (;;) {
    const end = skipName(text, at);
    if (end === at) break;
    parts.push({ text: text.slice(at, end), span: reader.span(at, end) });
    at = end;
    if (text.charCodeAt(at) !== 46) break;
    at += 1;
  }
  if (!endsLine(text, at)) reader.tell(skipBlanks(text, at), head.end, "One column stands here: readings.gravity.");
  return { node: "name", parts, span: reader.span(head.after, at) };
}
