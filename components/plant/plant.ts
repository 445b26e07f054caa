import type { Edit, Lens, Session } from "../../engine/index.ts";
import { apply } from "../actions/apply.ts";
import { ask, type FormField, type Values } from "../form/form.ts";
import { readField, splitFormula } from "../text/formula-text.ts";

/** The sheet that the answers are kept on, where the book has no line of that name yet. */
const SHEET = "plant";

interface Question {
  /** Name of the line. */
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  /** Kept when the answer is "not known", and marked as a default: common practice for a small plant, no source. */
  readonly usual: string;
  readonly hint: string;
}

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

const SCALES = ["°P", "SG", "°Bx"];
const GAUGES = ["bar", "psi", "kPa"];
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

const before = (session: Session, name: string): string => {
  const line = lineOf(session, name);
  const cell = line === null ? null : session.cell(line);
  const field = cell === null ? null : readField(cell.formula);
  if (field === null || field === undefined || cell?.note?.startsWith(MARK)) return "";
  return [field.figure, field.unit].filter(Boolean).join(" ");
};

const literal = (typed: string, unit: string): string => {
  const text = typed.trim().replace(/^([-−]?\d+),(\d+)(?=\D*$)/, "$1.$2");
  return /^[-−]?[\d.]+$/.test(text) ? `${text} ${unit}` : text;
};

/** The edits that keep the answers: a line that stands keeps its mark, range and step; a new one goes to the plant's sheet. */
const editsFor = (session: Session, values: Values): readonly Edit[] => {
  const edits: Edit[] = [{ edit: "set-lens", lens: values.units ?? "as-written" }];
  if (!session.workbook.sheets.some(({ name }) => name === SHEET))
    edits.push({ edit: "add-sheet", at: 0, name: SHEET, label: "Our plant" });
  const keep = (name: string, label: string, body: string, note: string | null): void => {
    const line = lineOf(session, name);
    if (line === null)
      edits.push({
        edit: "add-cell",
        sheet: SHEET,
        at: null,
        name,
        label,
        formula: note === null ? body : `${body} # ${note}`,
      });
    else {
      const stood = splitFormula(session.cell(line)?.formula ?? "");
      const mark = stood.body.startsWith("?") ? "? " : "";
      edits.push({
        edit: "set-formula",
        cell: line,
        formula: [mark + body, stood.tail, note === null ? "" : `# ${note}`].filter(Boolean).join(" "),
      });
    }
  };
  for (const { name, label, unit, usual } of QUESTIONS) {
    const typed = (values[name] ?? "").trim();
    if (typed !== "") keep(name, label, literal(typed, unit), null);
    else if (lineOf(session, name) === null) keep(name, label, usual, MARK);
  }
  keep("hydrometer", "Hydrometer scale", `"${values.hydrometer ?? "°P"}"`, null);
  keep("gauge", "Pressure gauge", `"${values.gauge ?? "bar"}"`, null);
  const sack = (values.sack ?? "").trim();
  if (sack !== "") edits.push({ edit: "set-head", text: `unit sack = ${literal(sack, "kg")}` });
  return edits;
};

/** Asks ten things of the plant and keeps the answers in the book, as one step; false when it was left. */
export const setUpPlant = async (host: Element, session: Session): Promise<boolean> => {
  const text = ({ name, label, unit, usual, hint }: Question): FormField => ({
    name,
    label: `${label} (${unit})`,
    value: before(session, name),
    hint: `${hint} Not known: ${usual} is kept and marked.`,
  });
  const choice = (name: string, label: string, choices: readonly string[]): FormField => ({
    name,
    label,
    kind: "choice",
    value: before(session, name) || choices[0] || "",
    choices: choices.map((value) => ({ value, label: value })),
  });
  const values = await ask(host, {
    heading: "Our plant",
    says: "Ten questions. Leave a field empty where you do not know: a usual figure is kept, and marked as one.",
    fields: [
      {
        name: "units",
        label: "Units that results are shown in",
        kind: "choice",
        value: session.lens,
        choices: SYSTEMS,
      },
      ...QUESTIONS.map(text),
      choice("hydrometer", "Hydrometer scale", SCALES),
      choice("gauge", "Pressure gauge", GAUGES),
      { name: "sack", label: "Sack of malt (kg)", hint: "25 kg, or 55 lb." },
    ],
    submit: "Keep our plant",
  });
  if (values === null) return false;
  session.setLens((values.units ?? "as-written") as Lens);
  return apply(host, session, editsFor(session, values), "Our plant");
};
