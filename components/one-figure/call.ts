import { createSession, type LibraryFunction, type Session, understandNew } from "../../engine/index.ts";
import type { Reading } from "../form/form.ts";

type Argument = LibraryFunction["arguments"][number];

/** The unit that stands beside an argument's field, and the texts it may be; null where it takes every figure. */
export const argumentField = ({
  takes,
}: Argument): { readonly unit: string; readonly choices: readonly string[] | null } => {
  if ("money" in takes) return { unit: "unit" in takes ? `per ${takes.unit}` : "", choices: null };
  if ("unit" in takes) return { unit: takes.unit === "1" ? "" : takes.unit, choices: null };
  if ("text" in takes) return { unit: "", choices: takes.text === "any" ? null : takes.text };
  return { unit: "", choices: "truth" in takes ? ["yes", "no"] : null };
};

const SHEET = "call";

/** A book that asks for what a function takes, in the units of its fields and with the units of the book in hand. */
export const askingFor = (called: LibraryFunction, session: Session): Session => {
  const head = session.workbook.head.flatMap((item) =>
    item.is === "unit" || item.is === "means" ? [item.source.trim()] : [],
  );
  const day = session.cell("batch_date");
  const asks = called.arguments.flatMap(({ name, takes }) => {
    if ("instant" in takes) return [`argument_${name} = ? instant`];
    return "unit" in takes && !("money" in takes)
      ? [`argument_${name} = ? ${takes.unit === "1" ? "" : takes.unit}`]
      : [];
  });
  const dated = day === null ? [] : [`batch_date = ${day.formula}`];
  return createSession(["gylebook 1", ...dated, ...head, `sheet ${SHEET}`, ...asks, ""].join("\n"), {
    lens: "as-written",
  });
};

/** What stands for an argument in the call, and what is to be told of it; null: nothing is. */
export interface ArgumentRead {
  readonly literal: string;
  readonly reading: Reading | null;
  /** It must be said first which of several is meant. */
  readonly asks: boolean;
}

/** Begins as a figure, and calculates nothing. */
const FIGURES = /^[-−+]?[\d.,](?!.*(?:[*+()^]|\s[-/]\s))/;

const A_WORD = /^[\p{L}\p{M}\p{Nd}_ ]+$/u;

const plainly = (literal: string): ArgumentRead => ({ literal, reading: null, asks: false });

/** Reads what is typed for an argument as a field would; what is no figure is a line or a formula, and `faultOf` tells what is wrong with it. */
export const readArgument = (
  asking: Session,
  { name, takes }: Argument,
  typed: string,
  faultOf: (formula: string) => string | null,
): ArgumentRead => {
  const text = typed.trim();
  if ("text" in takes) return plainly(`"${text.replaceAll('"', '""')}"`);
  const line = `${SHEET}.argument_${name}`;
  const money = asking.cell(line) === null;
  if ("truth" in takes) return plainly(text);
  const understood = money
    ? understandNew(asking.model, asking.lens, { sheet: SHEET, cell: null }, text)
    : asking.understand(line, text);
  const told = (says: string | null): ArgumentRead => ({
    literal: text,
    reading: says === null ? null : { says },
    asks: false,
  });
  if (understood === null) return told(faultOf(text));
  const bare = (formula: string): string => formula.replace(/^\?\s*/, "");
  if ("ask" in understood) {
    const choices = understood.choices.map(({ formula, label }) => ({ value: bare(formula), label }));
    return { literal: text, reading: { says: understood.says, choices }, asks: true };
  }
  if (!understood.ok) {
    const fault = FIGURES.test(text) ? understood.says : faultOf(text);
    // One word may be meant as a figure or as a line.
    return told(
      fault !== null && A_WORD.test(text) && fault !== understood.says ? `${understood.says} ${fault}` : fault,
    );
  }
  const literal = bare(understood.formula);
  const plain = understood.says === text || understood.says.startsWith(`${text} `);
  return { literal, reading: plain ? null : { says: `reads ${understood.says}` }, asks: false };
};

/** The call with its arguments by name, `literals`; those that are left empty keep their defaults. */
export const callOf = (called: LibraryFunction, literals: ReadonlyMap<string, string>): string => {
  const given = called.arguments.flatMap(({ name }) => {
    const literal = literals.get(name);
    return literal === undefined ? [] : [`${name}: ${literal}`];
  });
  return `${called.name}(${given.join(", ")})`;
};

/** Whether a function is found by what is typed: every word stands in its name, its sentence or its other words. */
export const finds = (called: LibraryFunction, wanted: string): boolean => {
  const text = [called.name.replaceAll("_", " "), called.says, called.stage, ...called.searchWords]
    .join(" ")
    .toLowerCase();
  return wanted
    .toLowerCase()
    .split(/\s+/)
    .every((word) => text.includes(word));
};
