import { type HeadItem, isName, type Session } from "../../engine/index.ts";
import { ask } from "../form/form.ts";
import { apply, attempt } from "./apply.ts";
import { askedOf, formulaOf, readsFormula } from "./formula-field.ts";
import { confirmRemoval } from "./lines.ts";

/** Formulas of the head stand on no sheet. */
const HEAD = { sheet: "", cell: null };

/** Asks for a unit of the book's own: a name and what one of it is. */
export const newUnit = async (host: Element, session: Session): Promise<void> => {
  await ask(host, {
    heading: "New unit",
    fields: [
      { name: "name", label: "What it is called", kind: "formula", hint: "sack, keg, tote" },
      {
        name: "is",
        label: "One of it is",
        kind: "formula",
        hint: "25 kg",
        reads: (typed) => readsFormula(session, HEAD, typed),
      },
    ],
    submit: "Add the unit",
    check: ({ name = "", is = "" }) => ({
      name: isName(name.trim()) ? null : "A unit's name is a letter, then letters, figures and _.",
      is: is.trim() === "" ? "It needs to be so much of something." : askedOf(session, HEAD, is),
    }),
    keep: ({ name = "", is = "" }) =>
      attempt(
        host,
        session,
        { edit: "set-head", text: `unit ${name.trim()} = ${formulaOf(session, HEAD, is)}` },
        `New unit ${name.trim()}`,
      ),
  });
};

/** Asks for a function of the book's own. */
export const newFunction = async (host: Element, session: Session): Promise<void> => {
  await ask(host, {
    heading: "New function",
    fields: [
      { name: "call", label: "Name and what it takes", kind: "formula", hint: "share(part, whole)" },
      { name: "formula", label: "What it works out", kind: "formula", hint: "part / whole as %" },
    ],
    submit: "Add the function",
    check: ({ call = "", formula = "" }) => ({
      call: /^\p{L}[\p{L}\p{M}\p{Nd}_]*\(.*\)$/u.test(call.trim())
        ? null
        : "Write its name with what it takes in parentheses: share(part, whole).",
      formula: formula.trim() === "" ? "It needs a formula." : null,
    }),
    keep: ({ call = "", formula = "" }) =>
      attempt(
        host,
        session,
        { edit: "set-head", text: `function ${call.trim()} = ${formula.trim()}` },
        `New function ${call.trim()}`,
      ),
  });
};

const MEANINGS: readonly { readonly word: string; readonly units: readonly string[] }[] = [
  { word: "gal", units: ["US gal", "imp gal"] },
  { word: "bbl", units: ["US bbl", "UK bbl"] },
  { word: "fl oz", units: ["US fl oz", "imp fl oz"] },
  { word: "pt", units: ["US pt", "imp pt"] },
  { word: "qt", units: ["US qt", "imp qt"] },
  { word: "ton", units: ["t", "short ton", "long ton"] },
];

/** Asks what an ambiguous word means in this book. */
export const newMeaning = async (host: Element, session: Session): Promise<void> => {
  const values = await ask(host, {
    heading: "What a word means here",
    says: "It is shown wherever the word is.",
    fields: [
      {
        name: "means",
        label: "Word and meaning",
        kind: "choice",
        choices: MEANINGS.flatMap(({ word, units }) =>
          units.map((unit) => ({ value: `${word} means ${unit}`, label: `${word} means ${unit}` })),
        ),
      },
    ],
    submit: "Say so",
  });
  if (values?.means !== undefined) apply(host, session, { edit: "set-head", text: values.means }, values.means);
};

/** Changes a statement of the head as it stands in the file. */
export const editHead = async (host: Element, session: Session, text: string): Promise<void> => {
  const values = await ask(host, {
    heading: "Change it",
    fields: [{ name: "text", label: "As it stands in the file", kind: "formula", value: text }],
    submit: "Change it",
  });
  const typed = values?.text?.trim();
  if (typed !== undefined && typed !== "" && typed !== text)
    apply(host, session, { edit: "set-head", text: typed }, `Change of ${typed}`);
};

export const removeHead = async (host: Element, session: Session, item: HeadItem): Promise<void> => {
  const of = "name" in item ? item.name : item.is === "means" ? item.word : item.is;
  if ("name" in item && !(await confirmRemoval(host, session, of, item.is))) return;
  apply(host, session, { edit: "remove-head", of }, `Delete ${of}`);
};
