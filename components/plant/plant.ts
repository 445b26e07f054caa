import { createSession, type Edit, type Lens, type Session } from "../../engine/index.ts";
import { apply } from "../actions/apply.ts";
import { ask, type FormField, type Reading, type Values } from "../form/form.ts";
import { joinFormula, readField, splitFormula } from "../text/formula-text.ts";

/** The sheet that the answers are kept on, where the book has no line of that name yet. */
const SHEET = "plant";

interface Question {
  /** Name of the line. */
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  /** Kept where the answer is left empty, and marked as a default: common practice for a small plant, no source. */
  readonly usual: string;
  readonly hint: string;
}

/** The one answer that the head keeps, as a unit of the book. */
const SACK: Question = {
  name: "sack",
  label: "Sack of malt",
  unit: "kg",
  usual: "25 kg",
  hint: "What one weighs: 25 kg, or 55 lb.",
};

const QUESTIONS: readonly Question[] = [
  {
    name: "altitude",
    label: "Altitude of the brewery",
    unit: "m",
    usual: "0 m",
    hint: "It lowers the boiling point: metres or feet above the sea.",
  },
  {
    name: "evaporation",
    label: "Evaporation in the kettle",
    unit: "%",
    usual: "8 %",
    hint: "How much boils off in an hour, of what is in the kettle at the start.",
  },
  {
    name: "kettle_loss",
    label: "Kettle loss",
    unit: "L",
    usual: "40 L",
    hint: "Wort that stays behind with hops and trub.",
  },
  {
    name: "dead_space",
    label: "Dead space under the false bottom",
    unit: "L",
    usual: "20 L",
    hint: "Water or wort that never runs off.",
  },
  {
    name: "grain_absorption",
    label: "Grain absorption",
    unit: "L/kg",
    usual: "1.0 L/kg",
    hint: "Wort that stays in the grain.",
  },
  {
    name: "tun_heat",
    label: "Heat of the tun",
    unit: "kJ/K",
    usual: "0 kJ/K",
    hint: "What warms with the mash: 0 when the tun is preheated.",
  },
];

const CHOICES = [
  { name: "hydrometer", label: "Hydrometer scale", of: ["°P", "SG", "°Bx"] },
  { name: "gauge", label: "Pressure gauge", of: ["bar", "psi", "kPa"] },
] as const;
const SYSTEMS: readonly { readonly value: Lens; readonly label: string }[] = [
  { value: "as-written", label: "as written in the book" },
  { value: "metric", label: "metric" },
  { value: "US", label: "US" },
  { value: "imperial", label: "imperial" },
];

/** The full name of the line that holds an answer, wherever the book keeps it; null when it has none. */
const lineOf = (session: Session, name: string): string | null => {
  const { sheets } = session.workbook;
  const ordered = [...sheets.filter((sheet) => sheet.name === SHEET), ...sheets];
  const home = ordered.find((sheet) =>
    sheet.pages.some((page) => page.some((item) => item.is === "cell" && item.name === name)),
  );
  return home === undefined ? null : `${home.name}.${name}`;
};

const MARK = "not known: the usual figure";

/** The formula that holds an answer now; null: the book has none. */
const formulaNow = (session: Session, name: string): string | null => {
  if (name === SACK.name) {
    const unit = session.workbook.head.find((item) => item.is === "unit" && item.name === name);
    return unit?.is === "unit" ? unit.source.slice(unit.formulaStart).replace(/^\s*=/, "").trim() : null;
  }
  const line = lineOf(session, name);
  return line === null ? null : (session.cell(line)?.formula ?? null);
};

/** What stands in the field when the dialog opens: the figure as it was written; empty where it is not known, or worked out. */
const before = (session: Session, name: string): string => {
  const formula = formulaNow(session, name);
  const field = formula === null ? null : readField(formula);
  if (formula === null || field === null || splitFormula(formula).note?.startsWith(MARK)) return "";
  return [field.figure, field.unit].filter(Boolean).join(" ");
};

const isWorked = (session: Session, name: string): boolean => {
  const formula = formulaNow(session, name);
  return formula !== null && readField(formula) === null;
};

/** A sheet that asks the same things: it understands what is typed as the fields of a sheet do, in the units of the reader's lens. */
const asking = (lens: Lens): Session =>
  createSession(
    `gylebook 1\nsheet ${SHEET}\n${[...QUESTIONS, SACK].map(({ name, unit }) => `${name} = ? ${unit}\n`).join("")}`,
    { lens },
  );

/** The figure that was typed, as the file writes it; or why it cannot be read. */
const figureOf = (
  asked: Session,
  name: string,
  typed: string,
): { readonly figure: string; readonly reads: string } | Reading => {
  const understood = asked.understand(`${SHEET}.${name}`, typed);
  const figure = (formula: string): string => formula.replace(/^\?\s*/, "");
  if ("ask" in understood)
    return {
      says: understood.says,
      choices: understood.choices.map(({ formula, label }) => ({ value: figure(formula), label })),
    };
  return understood.ok ? { figure: figure(understood.formula), reads: understood.says } : { says: understood.says };
};

/** The answers that cannot be read, each with the reason. */
const refusals = (asked: Session, values: Values): Record<string, string> =>
  Object.fromEntries(
    [...QUESTIONS, SACK].flatMap(({ name }) => {
      const typed = (values[name] ?? "").trim();
      const read = typed === "" ? null : figureOf(asked, name, typed);
      return read !== null && "says" in read ? [[name, read.says]] : [];
    }),
  );

/** What a field makes of what is typed in it, once it says more than was typed. */
const told = (asked: Session, name: string, typed: string): Reading | null => {
  const read = typed.trim() === "" ? null : figureOf(asked, name, typed);
  if (read === null || "says" in read) return read;
  return read.reads === typed.trim() ? null : { says: `reads ${read.reads}` };
};

/**
 * The edits that keep what was answered otherwise than it stands. A line keeps its mark, range and step, and its note while
 * the figure is one of the brewer's; an emptied answer becomes the usual figure, marked as one; what is worked out stays.
 */
const editsFor = (session: Session, asked: Session, values: Values): readonly Edit[] => {
  const edits: Edit[] = [];
  if (values.units !== session.lens) edits.push({ edit: "set-lens", lens: values.units ?? "as-written" });
  if (!session.workbook.sheets.some(({ name }) => name === SHEET))
    edits.push({ edit: "add-sheet", at: 0, name: SHEET, label: "Our plant" });
  const keep = ({ name, label }: Pick<Question, "name" | "label">, figure: string, marked: boolean): void => {
    const stood = formulaNow(session, name);
    const { tail, note, body } = splitFormula(stood ?? "");
    const own = note?.startsWith(MARK) === true ? null : note;
    const mark = body.startsWith("?") ? "? " : "";
    const formula = joinFormula({ body: mark + figure, tail, note: marked ? MARK : own });
    const line = lineOf(session, name);
    if (name === SACK.name) edits.push({ edit: "set-head", text: `unit ${name} = ${formula}` });
    else if (line !== null) edits.push({ edit: "set-formula", cell: line, formula });
    else edits.push({ edit: "add-cell", sheet: SHEET, at: null, name, label, formula });
  };
  for (const question of [...QUESTIONS, SACK]) {
    const typed = (values[question.name] ?? "").trim();
    const stood = before(session, question.name);
    const read = typed === "" ? null : figureOf(asked, question.name, typed);
    if (read !== null && "figure" in read && typed !== stood) keep(question, read.figure, false);
    if (typed === "" && (stood !== "" || formulaNow(session, question.name) === null))
      keep(question, question.usual, true);
  }
  for (const choice of CHOICES) {
    const chosen = values[choice.name] ?? choice.of[0];
    if (chosen !== before(session, choice.name)) keep(choice, `"${chosen}"`, false);
  }
  return edits;
};

/** Asks ten things of the plant and keeps the answers in the book, as one step; false when it was left. */
export const setUpPlant = async (host: Element, session: Session): Promise<boolean> => {
  const asked = asking(session.lens);
  const text = (question: Question): FormField => {
    const { name, label, usual, hint } = question;
    const unit = asked.cell(`${SHEET}.${name}`)?.blank?.unitText ?? question.unit;
    const empty = isWorked(session, name)
      ? "The book works it out: left empty, it stays so."
      : `Left empty: ${usual}, marked as not known.`;
    return {
      name,
      label: `${label} (${unit})`,
      value: before(session, name),
      hint: `${hint} ${empty}`,
      reads: (typed) => told(asked, name, typed),
    };
  };
  const choice = ({ name, label, of }: (typeof CHOICES)[number]): FormField => ({
    name,
    label,
    kind: "choice",
    value: before(session, name) || of[0],
    choices: of.map((value) => ({ value, label: value })),
  });
  const values = await ask(host, {
    heading: "Our plant",
    says: "Ten questions. Empty a field where you do not know: the usual figure is kept, and marked as not known.",
    fields: [
      {
        name: "units",
        label: "Units that results are shown in",
        kind: "choice",
        value: session.lens,
        choices: SYSTEMS,
      },
      ...QUESTIONS.map(text),
      ...CHOICES.map(choice),
      text(SACK),
    ],
    submit: "Keep our plant",
    check: (given) => refusals(asked, given),
  });
  if (values === null) return false;
  const edits = editsFor(session, asked, values);
  session.setLens((values.units ?? "as-written") as Lens);
  return edits.length === 0 || apply(host, session, edits, "Our plant");
};
