import { nearestSpelling } from "../base/nearest.ts";
import type { Argument, LibraryFunction } from "../library/declaration.ts";
import { LIBRARY_FUNCTIONS } from "../library/functions.ts";
import { GENERAL_FUNCTIONS } from "../operations/functions.ts";
import type { GeneralFunction } from "../operations/operand.ts";
import { AMBIGUOUS_UNITS } from "../units/ambiguous.ts";
import { BASE_BOOK } from "../units/book.ts";
import { CATALOGUE } from "../units/catalogue.ts";
import { printUnit } from "../units/compound.ts";
import type { Unit } from "../units/unit.ts";
import { kindName } from "../values/describe.ts";
import { quantity, reading } from "../values/kind.ts";
import { createLanguage } from "../workbook/language.ts";
import { CallFault, type Output } from "./output.ts";

interface ArgumentJson {
  readonly name: string;
  readonly kind: string;
  readonly unit: string | null;
  readonly default: string | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly column: "each" | "whole" | null;
}

export interface FunctionJson {
  readonly name: string;
  readonly stage: string;
  readonly says: string;
  readonly arguments: readonly ArgumentJson[];
  readonly result: { readonly kind: string; readonly unit: string | null };
  readonly source: string;
  readonly range: string;
  readonly caution: string | null;
}

const { signatures } = createLanguage();

/** What an argument takes, in words and as its unit. */
function takes(argument: Argument): { kind: string; unit: string | null } {
  const { takes: of } = argument;
  if ("text" in of)
    return {
      kind: of.text === "any" ? "text" : `one of ${of.text.map((choice) => `"${choice}"`).join(", ")}`,
      unit: null,
    };
  if ("truth" in of) return { kind: "truth", unit: null };
  if ("instant" in of) return { kind: "instant", unit: null };
  if ("money" in of)
    return of.money === "amount" ? { kind: "money", unit: null } : { kind: "money per unit", unit: `/${of.unit}` };
  const fits = unitKind(of.unit);
  return { kind: fits, unit: of.unit === "1" ? null : of.unit };
}

function unitKind(text: string): string {
  if (text === "1") return "number";
  for (const of of LIBRARY_FUNCTIONS)
    for (const [at, argument] of of.arguments.entries())
      if ("unit" in argument.takes && argument.takes.unit === text && !("money" in argument.takes)) {
        const unit = signatures.find(of.name)?.parameters[at]?.unit;
        if (unit != null)
          return kindName(
            unit.is === "compound"
              ? quantity(unit.dimension)
              : typeof unit.reads === "string"
                ? reading(unit.reads)
                : quantity(unit.reads),
          );
      }
  return text;
}

export function libraryJson(of: LibraryFunction): FunctionJson {
  const result = signatures.find(of.name)?.result ?? null;
  return {
    name: of.name,
    stage: of.stage,
    says: of.says,
    arguments: of.arguments.map((argument) => ({
      name: argument.name,
      ...takes(argument),
      default: argument.default ?? null,
      low: argument.low ?? null,
      high: argument.high ?? null,
      column: argument.column ?? "each",
    })),
    result:
      result === null
        ? { kind: "money", unit: null }
        : { kind: kindName(result.kind), unit: result.unit === null ? null : printUnit(result.unit) || null },
    source: of.source,
    range: of.range,
    caution: of.caution?.says ?? null,
  };
}

export function generalJson(of: GeneralFunction): FunctionJson {
  return {
    name: of.name,
    stage: "general",
    says: of.says,
    arguments: of.arguments.map((argument) => ({
      name: argument.name,
      kind: argument.takes,
      unit: null,
      default: null,
      low: null,
      high: null,
      column: null,
    })),
    result: { kind: of.gives, unit: null },
    source: "arithmetic",
    range: "",
    caution: null,
  };
}

export const bounds = ({ low, high, unit }: ArgumentJson): string => {
  const of = unit === null ? "" : ` ${unit}`;
  if (low !== null && high !== null) return `, ${low} to ${high}${of}`;
  return low !== null ? `, from ${low}${of}` : high !== null ? `, up to ${high}${of}` : "";
};

/** One function as a person reads it. */
function functionText(json: FunctionJson, of: LibraryFunction | GeneralFunction): string {
  const lines = [
    `${json.name}(${json.arguments.map(({ name }) => name).join(", ")})  [${json.stage}]`,
    `  ${json.says}`,
    "",
    "  Arguments",
  ];
  for (const [at, argument] of json.arguments.entries()) {
    const fixed = argument.default === null ? "" : `, ${argument.default} when not given`;
    const unit = argument.unit === null ? "" : `, in ${argument.unit}`;
    lines.push(
      `    ${argument.name}: ${argument.kind}${unit}${bounds(argument)}${fixed}${argument.column === "whole" ? ", a whole column" : ""}`,
    );
    lines.push(`      ${of.arguments[at]?.says ?? ""}`);
  }
  lines.push("", `  Gives ${json.result.kind}${json.result.unit === null ? "" : `, in ${json.result.unit}`}.`);
  if (json.range !== "") lines.push(`  Range: ${json.range}`);
  if ("error" in of && of.error !== undefined) lines.push(`  Known error: ${of.error}`);
  lines.push(`  Source: ${json.source}`);
  if (json.caution !== null) lines.push(`  Caution: ${json.caution}`);
  return `${lines.join("\n")}\n`;
}

/** `gylebook functions [NAME]`. */
export function functions(name: string | undefined, json: boolean, output: Output): number {
  const all = [
    ...GENERAL_FUNCTIONS.map((of) => ({ of, json: generalJson(of) })),
    ...LIBRARY_FUNCTIONS.map((of) => ({ of, json: libraryJson(of) })),
  ];
  const wanted = name === undefined ? all : all.filter(({ of }) => of.name === name.toLowerCase());
  if (wanted.length === 0 && name !== undefined) {
    const word = name.toLowerCase();
    const near = all
      .filter(({ of }) => of.searchWords.some((search) => search.toLowerCase().includes(word)))
      .map(({ of }) => of.name);
    const [best] =
      near.length > 0
        ? [near.join(", ")]
        : [
            nearestSpelling(
              name,
              all.map(({ of }) => of.name),
            ),
          ];
    throw new CallFault(`There is no function "${name}".${best == null ? "" : ` Did you mean ${best}?`}`);
  }
  if (json)
    output.out(
      `${JSON.stringify(
        wanted.map((one) => one.json),
        null,
        2,
      )}\n`,
    );
  else if (name !== undefined) for (const one of wanted) output.out(functionText(one.json, one.of));
  else output.out(listed(all.map((one) => one.json)));
  return 0;
}

function listed(all: readonly FunctionJson[]): string {
  const lines: string[] = [];
  for (const stage of new Set(all.map((of) => of.stage))) {
    lines.push(lines.length === 0 ? stage : `\n${stage}`);
    for (const of of all)
      if (of.stage === stage)
        lines.push(`  ${of.name}(${of.arguments.map(({ name }) => name).join(", ")})`, `      ${of.says}`);
  }
  return `${lines.join("\n")}\n`;
}

interface UnitJson {
  readonly symbol: string;
  readonly names: readonly string[];
  readonly kind: string;
  readonly factor?: number;
  readonly scale?: string;
  readonly source: string;
}

export function unitJson(unit: Unit): UnitJson {
  const { symbol, names, source } = unit;
  if (unit.is === "linear")
    return { symbol, names, kind: kindName(quantity(unit.dimension)), factor: unit.factor, source };
  const kind = typeof unit.reads === "string" ? reading(unit.reads) : quantity(unit.reads);
  return { symbol, names, kind: kindName(kind), scale: unit.says, source };
}

/** `gylebook units [NAME]`; factors are to the coherent unit of the kind (m³, kg, s, K, Pa, J …). */
export function units(name: string | undefined, json: boolean, output: Output): number {
  let wanted: readonly Unit[] = CATALOGUE;
  if (name !== undefined) {
    const found = BASE_BOOK.find(name);
    const word = AMBIGUOUS_UNITS.find((one) => one === found);
    if (word !== undefined)
      wanted = CATALOGUE.filter((unit) => word.choices.some(({ symbol }) => symbol === unit.symbol));
    else if (found === null || found.is === "ambiguous") {
      const near = BASE_BOOK.near(name);
      throw new CallFault(`There is no unit "${name}".${near === null ? "" : ` Did you mean ${near}?`}`);
    } else wanted = [found];
  }
  const all = wanted.map(unitJson);
  if (json) output.out(`${JSON.stringify(all, null, 2)}\n`);
  else
    for (const unit of all)
      output.out(
        `${unit.symbol}  ${unit.kind}  ${unit.factor ?? unit.scale ?? ""}${name === undefined ? "" : `\n  also written: ${unit.names.join(", ") || "–"}\n  source: ${unit.source}`}\n`,
      );
  return 0;
}
