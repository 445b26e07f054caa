import { readFileSync, writeFileSync } from "node:fs";
import { nameKey } from "../base/names.ts";
import { nearestSpelling } from "../base/nearest.ts";
import { either } from "../diagnostics/wording.ts";
import { type BookTable, bookTable, readingEdit, tableCsv, troubleIn } from "../readings/book.ts";
import { isoOf } from "../readings/clock.ts";
import { inWords } from "../readings/in-words.ts";
import { parseMapping, printMapping } from "../readings/mapping-text.ts";
import type { Merge } from "../readings/merge.ts";
import type { ProposedMapping } from "../readings/propose.ts";
import { type Answers, idleAnswers, type Question } from "../readings/question.ts";
import { type ReadInto, readInto } from "../readings/read-into.ts";
import { sourceOf } from "../readings/source.ts";
import type { Finding } from "../readings/trouble.ts";
import { unitReader } from "../readings/units-in-text.ts";
import { writeRejects } from "../readings/write.ts";
import type { Session } from "../session.ts";
import { itemsOf } from "../workbook/document.ts";
import type { TableResult } from "../workbook/result.ts";
import { openFile } from "./calc.ts";
import { CallFault, type Output } from "./output.ts";

export interface ReadOptions {
  readonly as?: string;
  readonly anew: boolean;
  readonly answer: readonly string[];
  readonly write: boolean;
  readonly rejects?: string;
}

/** What a table may be called by: its name with its sheet and without, and its label. */
const callings = ({ name, label }: TableResult): string[] => [name, name.slice(name.indexOf(".") + 1), label];

/** Tables that a refusal names; the rest is counted. */
const MOST_NAMED = 8;

/** The tables of the book, as they can be called, those nearest to `name` first. */
function tablesThere(tables: readonly TableResult[], name: string): string {
  if (tables.length === 0) return "The book has no table.";
  const ordered: TableResult[] = [];
  for (let rest = [...tables]; rest.length > 0; rest = rest.filter((table) => !ordered.includes(table))) {
    const near = nearestSpelling(name, rest.flatMap(callings));
    const nearest = rest.find((table) => near !== null && callings(table).includes(near));
    ordered.push(...(nearest === undefined ? rest : [nearest]));
  }
  const named = ordered.slice(0, MOST_NAMED).map((table) => `${table.name} ("${table.label}")`);
  const others = ordered.length - named.length;
  return `The book has ${named.join(", ")}${others > 0 ? ` and ${others} more` : ""}.`;
}

/** The table's full name; a short one or a label will do where only one table has it. */
function tableNamed(session: Session, name: string): string {
  const exact = session.table(name);
  if (exact !== null) return exact.name;
  const tables = session.workbook.sheets.flatMap((sheet) =>
    [...itemsOf(sheet)].flatMap((item) =>
      item.is === "table" ? (session.table(`${sheet.name}.${item.name}`) ?? []) : [],
    ),
  );
  const plain = (text: string): string => nameKey(text.trim().replace(/\s+/g, " "));
  const called = (at: number): TableResult[] =>
    tables.filter((table) => plain(callings(table)[at] ?? "") === plain(name));
  const short = called(1);
  const found = short.length > 0 ? short : called(2);
  const [only, another] = found;
  if (only === undefined) throw new CallFault(`There is no table "${name}". ${tablesThere(tables, name)}`);
  if (another !== undefined)
    throw new CallFault(`More than one table is called "${name}": write ${either(found.map((table) => table.name))}.`);
  return only.name;
}

function bytesOf(path: string): Uint8Array {
  try {
    return readFileSync(path);
  } catch (error) {
    throw new CallFault(
      `${path}: ${(error as NodeJS.ErrnoException).code === "ENOENT" ? "there is no such file" : "it cannot be read"}.`,
    );
  }
}

function writeText(path: string, text: string): void {
  try {
    writeFileSync(path, text);
  } catch {
    throw new CallFault(`${path}: it cannot be written.`);
  }
}

/** `gylebook read FILE TABLE CSV`: what a CSV would bring, and with `--write` brings. Exit status 1 while something is asked or rows were rejected. */
export async function read(
  file: string,
  table: string,
  csv: string,
  options: ReadOptions,
  output: Output,
): Promise<number> {
  const session = openFile(file, null);
  const name = tableNamed(session, table);
  const book = bookTable(session.model, name);
  if (book === null) throw new CallFault(`There is no table "${table}".`);
  const given = options.as === undefined ? null : parseMapping(options.as);
  if (given !== null && "problem" in given) throw new CallFault(`--as: ${given.problem}`);
  const kept = given ?? (options.anew ? null : book.kept) ?? undefined;
  const answers = answersOf(options.answer);
  const read = await readInto(
    sourceOf(bytesOf(csv)),
    book.target,
    book.existing,
    unitReader(session.model.head.units),
    {
      ...(kept === undefined ? {} : { kept }),
      answers,
    },
  );
  if (read.is === "refused") throw new CallFault(`${csv}: ${read.says}`);
  if (read.is === "stopped") return 1;
  if (given !== null && read.putAside)
    throw new CallFault("--as: this mapping is for a file that is laid out otherwise. Give --anew in its place.");
  refuseIdle(answers, kept?.answers ?? {}, read.proposed);
  if (read.is === "asks") return tellQuestions(read, given === null ? "" : " in place of --as", output);
  tellMerge(read.merge, output);
  tellLeft(read.proposed, read.merge, output);
  // A mapping that has read nothing is no guide for tomorrow's file.
  const isRead = read.reading.rows > 0;
  output.out(isRead ? `mapping: ${printMapping(read.mapping)}\n` : "The file holds no row that can be read.\n");
  if (options.rejects !== undefined && read.merge.rejected.length > 0)
    writeText(options.rejects, writeRejects(read.merge.rejected));
  if (isRead) {
    const outcome = session.dispatch(readingEdit(name, read.merge, read.mapping));
    if (!outcome.ok) throw new CallFault(outcome.says);
    tellTrouble(book, bookTable(session.model, name) ?? book, output);
    if (options.write) writeText(file, session.text());
  }
  return read.merge.rejected.length > 0 ? 1 : 0;
}

/** `--answer ABOUT=VALUE`. */
function answersOf(answers: readonly string[]): Record<string, string> {
  return Object.fromEntries(
    answers.map((answer) => {
      const at = answer.lastIndexOf("=");
      if (at < 0) throw new CallFault(`--answer takes QUESTION=ANSWER, not "${answer}".`);
      return [answer.slice(0, at).trim(), answer.slice(at + 1).trim()];
    }),
  );
}

/** An answer that comes to nothing is a slip: what it was to change would go unnoticed. */
function refuseIdle(answers: Answers, kept: Answers, { questions, answered, settled }: ProposedMapping): void {
  const others = [...answered, ...settled.map(({ question }) => question)];
  const idle = idleAnswers(answers, [...questions, ...others]).find(({ about, value }) => kept[about] !== value);
  if (idle === undefined) return;
  const { about, value, asked } = idle;
  const taken = (one: Question): string => {
    const values = one.choices.map((choice) => JSON.stringify(choice.value));
    return either(one.free ? [...values, "another"] : values);
  };
  if (asked !== null) throw new CallFault(`--answer: "${about}" takes ${taken(asked)}, not "${value}".`);
  const open = questions.map((one) => `"${one.about}" (${taken(one)})`);
  const asks = open.length > 0 ? `It asks ${open.join("; ")}.` : "It leaves nothing open.";
  throw new CallFault(
    `--answer: the file does not ask "${about}". ${asks} What else can be answered: ${others.map((one) => `"${one.about}"`).join(", ")}.`,
  );
}

function tellQuestions(
  { proposed, against }: Extract<ReadInto, { is: "asks" }>,
  inPlace: string,
  output: Output,
): number {
  for (const note of proposed.notes) output.out(`${note}\n`);
  for (const says of against) output.out(`${says}\n`);
  // As long as the file is not as the mapping has it, no answer but to a fresh look comes to anything.
  const answer = against.length > 0 ? "--anew --answer" : "--answer";
  for (const question of proposed.questions) {
    output.out(`${question.asks}\n  ${question.why}\n`);
    for (const example of question.examples) output.out(`  ${example}\n`);
    for (const { value, label } of question.choices) {
      const words = [label === value ? "" : `   ${label}`, value === question.likely ? "   likelier" : ""].join("");
      output.out(`  ${answer} "${question.about}=${value}"${words}\n`);
    }
    if (question.free) output.out(`  ${answer} "${question.about}=…"   another\n`);
  }
  output.out(
    against.length > 0
      ? `Nothing was read. The file is not as the mapping has it: with --anew${inPlace} it is looked at afresh${proposed.questions.length > 0 ? " and asks the above" : ""}.\n`
      : "Nothing was read. Answer with --answer, as shown.\n",
  );
  return 1;
}

/** Rejects and corrections that are listed one by one; the rest is counted. */
const MOST_LISTED = 20;

function tellMerge(merge: Merge, output: Output): void {
  for (const note of merge.notes) output.out(`${note}\n`);
  for (const { row, line, differences } of merge.changed.slice(0, MOST_LISTED))
    output.out(
      `line ${line} corrects row ${row + 1}: ${differences.map((one) => `${one.column} ${one.old || "–"} → ${one.new || "–"}`).join(", ")}\n`,
    );
  if (merge.changed.length > MOST_LISTED)
    output.out(`and ${inWords(merge.changed.length - MOST_LISTED, "more correction")}\n`);
  for (const { line, reason } of merge.rejected.slice(0, MOST_LISTED)) output.out(`line ${line} rejected: ${reason}\n`);
  if (merge.rejected.length > MOST_LISTED)
    output.out(`and ${merge.rejected.length - MOST_LISTED} more rejected; --rejects FILE writes all of them\n`);
  output.out(
    `${merge.read} read: ${merge.added} added, ${merge.changed.length} changed, ${merge.same} same, ${merge.rejected.length} rejected\n`,
  );
}

/** What was not read of the file, and what it does not fill: nothing is left out without a word. */
function tellLeft({ unread, unfilled }: ProposedMapping, { leftOut }: Merge, output: Output): void {
  if (leftOut.filtered > 0) output.out(`left out by the mapping: ${inWords(leftOut.filtered, "row")}\n`);
  if (unread.length > 0) output.out(`not read: ${unread.map((header) => `"${header}"`).join(", ")}\n`);
  if (unfilled.length > 0) output.out(`left empty: ${unfilled.join(", ")}\n`);
}

/** What does not look like a reading in the rows that came: what the table had before was told when it came. */
function tellTrouble(before: BookTable, after: BookTable, output: Output): void {
  // Rows may move by others that come between; one without a time stands where it stood.
  const mark = ({ is, column, time, row }: Finding): string =>
    `${is} ${column} ${Number.isNaN(time) ? `row ${row}` : time}`;
  const known = new Set(troubleIn(before).map(mark));
  const found = troubleIn(after).filter((one) => !known.has(mark(one)));
  for (const { row, time, column, says } of found.slice(0, MOST_LISTED)) {
    const at = Number.isNaN(time) ? "" : `, ${isoOf(time).replace("T", " ")}`;
    output.out(`look at row ${row + 1}${at}${column === null ? "" : `, ${column}`}: ${says}\n`);
  }
  if (found.length > MOST_LISTED) output.out(`and ${found.length - MOST_LISTED} more to look at\n`);
}

/** `gylebook table FILE TABLE`: the measured columns as CSV. */
export function table(file: string, name: string, output: Output): number {
  const session = openFile(file, null);
  for (const piece of tableCsv(session.model, tableNamed(session, name)) ?? []) output.out(piece);
  return 0;
}
