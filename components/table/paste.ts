import { type ColumnResult, type Edit, inWords, type Session, type TableResult } from "../../engine/index.ts";
import { apply } from "../actions/apply.ts";
import { tell } from "../events.ts";
import { ask } from "../form/ask.ts";
import type { FormField } from "../form/form.ts";
import type { Place } from "./grid.ts";
import { emptyRow } from "./rows.ts";

type Understood = ReturnType<Session["understand"]>;
type Asking = Extract<Understood, { readonly ask: true }>;

/** An entry that falls on a measured column, and what is made of it; null: it is empty. */
interface Pasted {
  readonly row: number;
  readonly column: ColumnResult;
  readonly typed: string;
  readonly understood: Understood | null;
}

/** Entries of one column that can be read in the same ways: the first of them, and how many there are. */
interface Question {
  readonly first: Pasted;
  readonly asking: Asking;
  readonly count: number;
}

const askingOf = ({ understood }: Pasted): Asking | null =>
  understood !== null && "ask" in understood ? understood : null;

const isUnread = ({ understood }: Pasted): boolean => understood !== null && "ok" in understood && !understood.ok;

/** What entries that are asked about together have in common: the column, the question and the units of its answers. */
const questionOf = ({ column, typed }: Pasted, { says, choices }: Asking): string =>
  [column.name, says.replace(typed.trim(), ""), ...choices.map(({ formula }) => formula.replace(/[\d.,]+/g, "#"))].join(
    "\n",
  );

const questionsOf = (pasted: readonly Pasted[]): ReadonlyMap<string, Question> => {
  const questions = new Map<string, Question>();
  for (const first of pasted) {
    const asking = askingOf(first);
    if (asking === null) continue;
    const key = questionOf(first, asking);
    const known = questions.get(key) ?? { first, asking, count: 0 };
    questions.set(key, { ...known, count: known.count + 1 });
  }
  return questions;
};

const fieldOf = (name: string, { first: { column, typed }, asking, count }: Question): FormField => ({
  name,
  label: `${column.label}: "${typed}"${count === 1 ? "" : ` and ${count - 1} more like it`}`,
  kind: "choice",
  choices: [
    { value: "", label: "to choose" },
    ...asking.choices.map(({ reads }, at) => ({ value: String(at), label: reads })),
  ],
  ...(count === 1 ? {} : { hint: "All of them are read in the same way." }),
});

/** Which of its readings each question is answered with; null: nothing is to be put in. */
const answersTo = async (
  host: Element,
  questions: ReadonlyMap<string, Question>,
): Promise<ReadonlyMap<string, number> | null> => {
  const asked = [...questions];
  const names = asked.map((_, at) => `question-${at}`);
  const values = await ask(host, {
    heading: "Which is meant?",
    says: "Some entries can be read in more than one way. Nothing is put in before it is said which is meant.",
    fields: asked.map(([, question], at) => fieldOf(names[at] ?? "", question)),
    submit: "Paste the rows",
    check: (given) => Object.fromEntries(names.map((name) => [name, given[name] ? null : "Choose which is meant."])),
  });
  return values && new Map(asked.map(([key], at) => [key, Number(values[names[at] ?? ""])]));
};

/** What became of what was not simply put in, in sentences. */
const leftOver = (unread: readonly Pasted[], surplus: number, worked: number): string => {
  const entries = (count: number): string => inWords(count, "entry", "entries");
  const was = (count: number): string => (count === 1 ? "was" : "were");
  const [first] = unread;
  const where = first && `row ${first.row + 1}, ${first.column.label}: "${first.typed}"`;
  const stands = unread.length === 1 ? `stands as it came, in ${where}` : `stand as they came, the first in ${where}`;
  return [
    first && `${entries(unread.length)} could not be read and ${stands}.`,
    surplus > 0 && `${entries(surplus)} had no column and ${was(surplus)} left out.`,
    worked > 0 && `${entries(worked)} fell on a worked column and ${was(worked)} left out.`,
  ]
    .filter(Boolean)
    .join(" ");
};

/**
 * Puts pasted rows into the measured columns from `at` on, as one step; rows beyond the last are added. What can be read in
 * several ways is asked before, once for all entries of a column that are alike. What cannot be read stands as it came; what
 * falls on a worked column or on none is left out; the reader is told of both.
 */
export const pasteRows = async (
  host: Element,
  session: Session,
  table: TableResult,
  at: Place,
  rows: readonly (readonly string[])[],
): Promise<void> => {
  let [surplus, worked] = [0, 0];
  const pasted = rows.map((entries, index) =>
    entries.flatMap((typed, offset): Pasted[] => {
      const column = table.columns[at.column + offset];
      const [row, isEmpty] = [at.row + index, typed.trim() === ""];
      if (column?.measured)
        return [
          { row, column, typed, understood: isEmpty ? null : session.understand(table.name, typed, column.name, row) },
        ];
      if (!isEmpty && column === undefined) surplus += 1;
      else if (!isEmpty) worked += 1;
      return [];
    }),
  );
  const all = pasted.flat();
  const questions = questionsOf(all);
  const answers = questions.size === 0 ? new Map<string, number>() : await answersTo(host, questions);
  if (answers === null) {
    tell(host, "gyle-say", { says: "Nothing was pasted." });
    return;
  }
  const entryOf = (each: Pasted): string => {
    const { understood, typed } = each;
    const asking = askingOf(each);
    if (asking !== null) return asking.choices[answers.get(questionOf(each, asking)) ?? -1]?.formula ?? typed.trim();
    return understood !== null && "ok" in understood && understood.ok ? understood.formula : typed.trim();
  };
  const edits = editsOf(table, at, pasted, entryOf);
  const unread = all.filter(isUnread);
  const rest = leftOver(unread, surplus, worked);
  const count = edits.length === 0 ? 0 : rows.length;
  if (count > 0 && !apply(host, session, edits, `Paste ${count} rows`)) return;
  const says = count === 0 ? "Nothing was pasted." : `${inWords(count, "row")} ${count === 1 ? "was" : "were"} pasted.`;
  tell(host, "gyle-say", { says: `${says} ${rest}`.trim(), grave: unread.length + surplus > 0 });
};

/** Entries of rows that are there, and the rows that are added, with their entries in the order of the measured columns. */
const editsOf = (
  table: TableResult,
  at: Place,
  pasted: readonly (readonly Pasted[])[],
  entryOf: (each: Pasted) => string,
): Edit[] => {
  const measured = table.columns.filter((column) => column.measured);
  const edits: Edit[] = [];
  const added: string[][] = [];
  pasted.forEach((entries, index) => {
    const fresh = at.row + index >= table.rowCount ? emptyRow(table) : null;
    for (const each of entries) {
      const [entry, { row, column }] = [entryOf(each), each];
      if (fresh === null) edits.push({ edit: "set-entry", table: table.name, row, column: column.name, entry });
      else fresh[measured.indexOf(column)] = entry;
    }
    if (fresh !== null) added.push(fresh);
  });
  if (added.length > 0 && measured.length > 0)
    edits.push({ edit: "add-rows", table: table.name, at: null, rows: added });
  return edits;
};
