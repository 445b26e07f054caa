import { CAUTION_CODES, FAULT_CODES } from "../diagnostics/wording.ts";
import { LIBRARY_FUNCTIONS, LIBRARY_VERSION } from "../library/functions.ts";
import { GENERAL_FUNCTIONS } from "../operations/functions.ts";
import { AMBIGUOUS_UNITS } from "../units/ambiguous.ts";
import { BASE_BOOK } from "../units/book.ts";
import { CATALOGUE } from "../units/catalogue.ts";
import { fromCoherent } from "../units/convert.ts";
import { unitNamed } from "../units/phrase.ts";
import { LENS_ROWS, type LensSize } from "../units/rows/lenses.ts";
import { KIND_NAMES, kindName } from "../values/describe.ts";
import { quantity, reading } from "../values/kind.ts";
import { bounds, type FunctionJson, generalJson, libraryJson, unitJson } from "./reference.ts";

const code = (text: string): string => `\`${text}\``;
const cellText = (text: string): string => text.replaceAll("|", "\\|").replaceAll("\n", " ");
const row = (cells: readonly string[]): string => `| ${cells.map(cellText).join(" | ")} |`;
const table = (heads: readonly string[], rows: readonly (readonly string[])[]): string[] => [
  row(heads),
  row(heads.map(() => "---")),
  ...rows.map(row),
];

interface Told {
  readonly json: FunctionJson;
  /** What each argument says. */
  readonly says: readonly string[];
  readonly error: string | undefined;
  readonly searchWords: readonly string[];
}

function functionPart({ json, says, error, searchWords }: Told): string[] {
  const takes = json.arguments.map((argument, at) => [
    code(argument.name),
    `${argument.kind}${argument.unit === null ? "" : ` (${argument.unit})`}${bounds(argument)}${argument.column === "whole" ? "; a whole column" : ""}`,
    argument.default === null ? "" : code(argument.default),
    says[at] ?? "",
  ]);
  const facts = [
    `- Gives ${json.result.kind}${json.result.unit === null ? "" : ` (${json.result.unit})`}.`,
    json.range === "" ? "" : `- Range: ${json.range}`,
    error === undefined ? "" : `- Known error: ${error}`,
    `- Source: ${json.source}`,
    json.caution === null ? "" : `- Caution: ${json.caution}`,
    searchWords.length === 0 ? "" : `- Also looked for as: ${searchWords.join(", ")}.`,
  ].filter(Boolean);
  const call = `${json.name}(${json.arguments.map(({ name }) => name).join(", ")})`;
  return [
    `### ${json.name}`,
    "",
    `${code(call)}: ${json.says}`,
    "",
    ...table(["argument", "takes", "when not given", "says"], takes),
    "",
    ...facts,
    "",
  ];
}

/** `g by 0.01 below 28.3 g, oz by 0.01 below …, lb by 1`. */
const sizesText = (sizes: readonly LensSize[]): string =>
  sizes
    .map(([below, unit, step]) => {
      const shown = unitNamed(unit, BASE_BOOK);
      return `${unit} by ${step}${Number.isFinite(below) ? ` below ${Number(fromCoherent(below, shown).toPrecision(3))} ${unit}` : ""}`;
    })
    .join(", ");

/** The reference of functions, units, kinds and codes as one Markdown page, written from the declarations. */
export function referencePage(): string {
  const lines = [
    "# Functions, units, kinds and codes",
    "",
    `Library ${LIBRARY_VERSION}. Written from the declarations by \`npm run reference\`; do not edit. The language itself is in [language.md](language.md).`,
    "",
    "## General functions",
    "",
  ];
  for (const of of GENERAL_FUNCTIONS)
    lines.push(
      ...functionPart({
        json: generalJson(of),
        says: of.arguments.map(({ says }) => says),
        error: undefined,
        searchWords: of.searchWords,
      }),
    );
  let stage = "";
  for (const of of LIBRARY_FUNCTIONS) {
    if (of.stage !== stage) lines.push(`## ${of.stage[0]?.toUpperCase()}${of.stage.slice(1)}`, "");
    stage = of.stage;
    lines.push(
      ...functionPart({
        json: libraryJson(of),
        says: of.arguments.map(({ says }) => says),
        error: of.error,
        searchWords: of.searchWords,
      }),
    );
  }
  lines.push(
    "## Units",
    "",
    "Factors are to the coherent unit of the kind: m³, kg, m, s, K, mol, Pa, J, W and the trade's own.",
    "",
  );
  lines.push(
    ...table(
      ["unit", "kind", "factor or scale", "also written", "source"],
      CATALOGUE.map((unit) => unitJson(unit)).map((unit) => [
        code(unit.symbol),
        unit.kind,
        String(unit.factor ?? unit.scale ?? ""),
        unit.names.join(", "),
        unit.source,
      ]),
    ),
    "",
  );
  lines.push("Words that are refused because they are more than one unit:", "");
  lines.push(
    ...table(
      ["word", "choices"],
      AMBIGUOUS_UNITS.map(({ word, choices }) => [
        code(word),
        choices.map(({ symbol, size }) => `${symbol} (${size})`).join(", "),
      ]),
    ),
    "",
  );
  lines.push(
    "## Lenses",
    "",
    "What each lens shows a kind in, by size, with the step it rounds to. What is dissolved (mg/L, µg/L, ppm, ppb) stays as it is in every lens. Where a finer step is written, a lens takes one decimal more, or else its next smaller unit that keeps the step.",
    "",
  );
  lines.push(
    ...table(
      ["kind", "metric", "US", "imperial"],
      LENS_ROWS.map((lens) => [
        kindName(typeof lens.of === "string" ? reading(lens.of) : quantity(lens.of)),
        ...[lens.metric, lens.US, lens.imperial].map(sizesText),
      ]),
    ),
    "",
  );
  lines.push(
    "## Kinds",
    "",
    KIND_NAMES.join(", "),
    "",
    "## Fault codes",
    "",
    FAULT_CODES.map(code).join(", "),
    "",
    "## Caution codes",
    "",
    CAUTION_CODES.map(code).join(", "),
  );
  return `${lines.join("\n")}\n`;
}
