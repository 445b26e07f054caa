import type { LibraryFunction } from "../../engine/index.ts";

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

/** Units as they are typed in haste. */
const HASTE: Record<string, string> = { F: "°F", C: "°C", P: "°P", l: "L", gr: "g" };

/** What is typed for an argument as a literal: a bare figure takes the field's unit, a decimal comma becomes a point. */
export const literalOf = (argument: Argument, typed: string): string => {
  const text = typed.trim().replaceAll("−", "-");
  const { takes } = argument;
  if ("text" in takes) return `"${text.replaceAll('"', '""')}"`;
  if ("truth" in takes) return text;
  const [, figure = "", unit = ""] = /^(-?\d+(?:[.,]\d+)?)\s*(\S*)$/.exec(text) ?? [];
  if (figure === "") return text;
  const number = figure.replace(",", ".");
  const fields = "unit" in takes && !("money" in takes) && takes.unit !== "1" ? takes.unit : "";
  return `${number} ${unit === "" ? fields : (HASTE[unit] ?? unit)}`.trim();
};

/** The call with its arguments by name; those that are left empty keep their defaults. */
export const callOf = (called: LibraryFunction, typed: Readonly<Record<string, string>>): string => {
  const given = called.arguments.flatMap((argument) => {
    const text = (typed[argument.name] ?? "").trim();
    return text === "" ? [] : [`${argument.name}: ${literalOf(argument, text)}`];
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
