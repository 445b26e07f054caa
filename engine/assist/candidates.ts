import { nameKey } from "../base/names.ts";
import { eachName } from "../checker/references.ts";
import { LIBRARY_FUNCTIONS } from "../library/functions.ts";
import { GENERAL_FUNCTIONS } from "../operations/functions.ts";
import { quoteText } from "../parser/texts.ts";
import { kindName } from "../values/describe.ts";
import { labelOf } from "../workbook/document.ts";
import type { Model } from "../workbook/model.ts";
import { type ArgumentInHand, type Call, helpOf } from "./argument-in-hand.ts";
import { type Context, nodeAt, scopeAt } from "./context.ts";
import { innermost, type Part } from "./parts.ts";

export type OptionKind = "line" | "column" | "function" | "unit" | "keyword" | "argument";

/** One thing that may stand where the cursor is. */
export interface Option {
  /** As it is listed: `strike_temperature`. */
  readonly label: string;
  /** What is put in: `strike_temperature(`. */
  readonly insert: string;
  /** A few words beside it: label and kind of a line, what a function gives. */
  readonly detail: string;
  readonly kind: OptionKind;
}

/** Something that could be offered, and the words by which it is found. */
export interface Candidate {
  readonly option: Option;
  readonly words: readonly string[];
  /** A sentence that is searched last. */
  readonly prose?: string;
  /** Not offered before anything is typed. */
  readonly rare?: boolean;
  /** What is spelt exactly so comes before everything: `Mg` is not `mg`. */
  readonly exactCase?: boolean;
  /** The option's detail, where it is only worked out for what is listed. */
  readonly detail?: () => string;
}

export const candidate = (option: Option, words: readonly string[], more: Partial<Candidate> = {}): Candidate => ({
  option,
  words,
  ...more,
});

/** Lines of the own sheet, then of the others by `sheet.line`; never the line itself, which would make a circle. */
export function lineCandidates(model: Model, context: Context): readonly Candidate[] {
  const { sheet } = scopeAt(model, context);
  const own = nodeAt(model, context);
  const [near, far]: [Candidate[], Candidate[]] = [[], []];
  for (const [node, origin] of model.origins.entries()) {
    if (origin === undefined || node === own || origin.key === null) continue;
    const item = origin.is === "cell" ? origin.item : origin.table.item.columns[origin.column];
    const written = origin.is === "cell" ? origin.item.name : `${origin.table.item.name}.${item?.name ?? ""}`;
    const name = origin.sheet === sheet ? written : model.fullName(node);
    const label = item === undefined ? "" : labelOf(item);
    const option: Option = { label: name, insert: name, detail: label, kind: origin.is === "cell" ? "line" : "column" };
    (origin.sheet === sheet ? near : far).push(
      candidate(option, [label], { detail: () => `${label}, ${kindName(model.typeOf(node).kind)}` }),
    );
  }
  return [...near, ...far];
}

/** The columns of the table that the formula stands in: they need no prefix. */
export const columnCandidates = (model: Model, context: Context): readonly Candidate[] =>
  columnsOf(model, context, scopeAt(model, context).table);

/** Behind `where` the columns of the table that is filtered. */
export function filteredCandidates(
  model: Model,
  context: Context,
  parts: readonly Part[],
  text: string,
): readonly Candidate[] {
  const where = parts.findLast(({ is, start, end }) => is === "keyword" && text.slice(start, end) === "where");
  if (where === undefined) return [];
  const scope = scopeAt(model, context);
  let table: string | null = null;
  eachName(model.head.parse(innermost(text.slice(0, where.start))).expression, model.names, scope, (name, within) => {
    const found = model.names.resolve(name, within);
    if (table === null && found.is === "node") table = model.names.tableOf(found.node);
  });
  return columnsOf(model, context, table);
}

function columnsOf(model: Model, context: Context, table: string | null): readonly Candidate[] {
  const record = table === null ? undefined : model.tables.get(table);
  const own = nodeAt(model, context);
  return (record?.nodes ?? []).flatMap((node, at) => {
    const column = record?.item.columns[at];
    if (column === undefined || node === own) return [];
    const label = labelOf(column);
    return [
      candidate(
        {
          label: column.name,
          insert: column.name,
          detail: `${label}, ${kindName(model.typeOf(node).kind)}`,
          kind: "column",
        },
        [label],
      ),
    ];
  });
}

/** What else the trade calls a thing that functions name. */
const OTHER_WORDS: readonly (readonly [named: RegExp, also: string])[] = [
  [/kettle/i, "copper"],
  [/spent grain/i, "draff"],
];

function functionCandidate(name: string, says: string, words: readonly string[]): Candidate {
  const text = [name, says, ...words].join(" ");
  const also = OTHER_WORDS.flatMap(([named, word]) => (named.test(text) ? [word] : []));
  return candidate({ label: name, insert: `${name}(`, detail: says, kind: "function" }, [...words, ...also], {
    prose: says,
  });
}

const BUILT_IN: readonly Candidate[] = [...GENERAL_FUNCTIONS, ...LIBRARY_FUNCTIONS].map(({ name, says, searchWords }) =>
  functionCandidate(name, says, searchWords),
);

/** Functions of the workbook, general ones, then those of the library in the order of the work. */
export function functionCandidates(model: Model): readonly Candidate[] {
  const own = model.environment.functionNames;
  const taken = new Set(own.map(nameKey));
  const mine = own.map((name) => functionCandidate(name, helpOf(model, name)?.says ?? "", []));
  return [...mine, ...(taken.size === 0 ? BUILT_IN : BUILT_IN.filter(({ option }) => !taken.has(option.label)))];
}

/** Names of the arguments that are not given yet. */
export function namedCandidates(model: Model, { name, named, placed }: Call): readonly Candidate[] {
  const given = new Set(named.map(nameKey));
  const help = helpOf(model, name);
  if (help === null || help.arguments.length < 2) return [];
  return help.arguments
    .filter((argument, at) => at >= placed && !given.has(nameKey(argument.name)))
    .map((argument) =>
      candidate(
        {
          label: `${argument.name}:`,
          insert: `${argument.name}: `,
          detail: usually(argument.says, argument.usual),
          kind: "argument",
        },
        [],
      ),
    );
}

const usually = (says: string, usual: string | null): string =>
  usual === null || usual === "" ? says : `${says} Usually ${usual}.`;

/** The texts that the argument in hand takes. */
export const textCandidates = (inHand: ArgumentInHand | null): readonly Candidate[] =>
  (inHand?.argument?.choices ?? []).map((text) =>
    candidate(
      { label: quoteText(text), insert: quoteText(text), detail: inHand?.argument?.name ?? "", kind: "keyword" },
      [text, `"${text}`],
    ),
  );

const ASKED = ["number", "text", "instant", "truth"];

/** What a `?` may ask for beside units. */
export const wordCandidates = (): readonly Candidate[] =>
  ASKED.map((word) => candidate({ label: word, insert: word, detail: "what is asked for", kind: "keyword" }, []));

const BEHIND: readonly (readonly [word: string, detail: string])[] = [
  ["as", "shown in a unit"],
  ["by", "rounded to a step where it is shown"],
  ["within", "the range or the texts that are accepted"],
  ["where", "only the rows for which a condition holds"],
  ["is", "equal"],
  ["is not", "not equal"],
  ["is missing", "not there, or not yet"],
  ["and", "both conditions"],
  ["or", "either condition"],
  ["to", "up to the high end of a range"],
];
const BEFORE: readonly (readonly [word: string, detail: string])[] = [
  ["if", "if a condition holds, then … else …"],
  ["not", "the opposite of a condition"],
  ["yes", "a truth"],
  ["no", "a truth"],
];

const keyword = ([word, detail]: readonly [string, string]): Candidate =>
  candidate({ label: word, insert: word, detail, kind: "keyword" }, []);

/** Words that may stand before an operand (`parts` null), or behind one. */
export function keywordCandidates(parts: readonly Part[] | null, text: string): readonly Candidate[] {
  if (parts === null) return BEFORE.map(keyword);
  const written = parts
    .filter(({ is, end }) => is === "keyword" && end <= text.length)
    .map(({ start, end }) => text.slice(start, end));
  const count = (word: RegExp): number => written.filter((each) => word.test(each)).length;
  const [ifs, thens, elses] = [count(/if$/), count(/^then$/), count(/^else/)];
  const open: (readonly [string, string])[] = [];
  if (ifs > thens) open.push(["then", "what it is when the condition holds"]);
  else if (thens > elses) open.push(["else", "what it is otherwise"]);
  const inRange = written.includes("within") && !written.includes("to");
  return [...open, ...BEHIND.filter(([word]) => (word === "to" ? inRange : !(inRange || written.includes(word))))].map(
    keyword,
  );
}
