import { deceives } from "../base/deceptive.ts";
import { nameKey } from "../base/names.ts";
import { nearestSpelling } from "../base/nearest.ts";
import type { Span } from "../base/span.ts";
import { UNKNOWN_TYPE } from "../checker/check.ts";
import type { CheckEnvironment, WorkbookFunction } from "../checker/environment.ts";
import { checkFormula } from "../checker/formula.ts";
import { Types } from "../checker/types.ts";
import { type Fault, fault, mend } from "../diagnostics/diagnostic.ts";
import { evaluate } from "../evaluator/evaluate.ts";
import { LIBRARY_VERSION } from "../library/functions.ts";
import { GENERAL_FUNCTIONS } from "../operations/functions.ts";
import { RESERVED_WORDS } from "../parser/tokens.ts";
import type { ParsedFormula } from "../parser/tree.ts";
import { BASE_BOOK, createUnitBook, ownUnit, type UnitBook } from "../units/book.ts";
import { LENSES } from "../units/lens.ts";
import type { LinearUnit } from "../units/unit.ts";
import { createZone, type Zone } from "../units/zone.ts";
import type { EntryReader } from "./columns.ts";
import type { HeadItem, Workbook } from "./document.ts";
import type { Language } from "./language.ts";

/** What the head of a workbook says, made ready for reading everything else. */
export interface HeadReading {
  readonly language: Language;
  readonly units: UnitBook;
  readonly zone: Zone | null;
  readonly library: number;
  /** What checking needs, without the names and kinds of the lines. */
  readonly environment: Pick<
    CheckEnvironment,
    "units" | "zone" | "signatures" | "functionNamed" | "functionNames" | "library"
  >;
  readonly entries: EntryReader;
  readonly parse: (text: string) => ParsedFormula;
  /** Faults of head items; spans are in the item's source. */
  readonly faults: ReadonlyMap<HeadItem, readonly Fault[]>;
  /** Why a name cannot be given to a line, or null. */
  readonly reserved: (name: string) => Fault | null;
}

type Found = Map<HeadItem, Fault[]>;

/** Reads the head: units first, since all else is written with them. */
export function readHead(workbook: Workbook, language: Language): HeadReading {
  const faults: Found = new Map();
  const note = (item: HeadItem, found: Fault): void => {
    faults.set(item, [...(faults.get(item) ?? []), found]);
  };
  const library = workbook.head.findLast((item) => item.is === "library")?.version ?? LIBRARY_VERSION;
  checkStatements(workbook.head, note);
  const means = readMeans(workbook.head, note);
  const units = readUnits(workbook.head, means, language, library, note);
  const zone = readZone(workbook.head, note);
  const functions = readFunctions(workbook.head, units, language, library, note);
  const parse = (text: string): ParsedFormula => language.parse(text, units);
  return {
    language,
    units,
    zone,
    library,
    environment: {
      units,
      zone,
      signatures: language.signatures,
      functionNamed: (key) => functions.get(key) ?? null,
      functionNames: [...functions.values()].map(({ name }) => name),
      library,
    },
    entries: { parse, units, zone, pages: new WeakMap() },
    parse,
    faults,
    reserved: (name) => reservedName(name, units, library, { start: 0, end: 0 }),
  };
}

const whole = (item: HeadItem): Span => ({ start: 0, end: item.source.trimEnd().length });

type Note = (item: HeadItem, found: Fault) => void;

/** What stands in a head once, and what has few values. */
function checkStatements(head: readonly HeadItem[], note: Note): void {
  const seen = new Set<string>();
  for (const item of head) {
    if (
      item.is === "title" ||
      item.is === "lens" ||
      item.is === "zone" ||
      item.is === "format" ||
      item.is === "library"
    ) {
      if (seen.has(item.is))
        note(
          item,
          fault("duplicate-name", whole(item), {
            name: item.is === "format" ? "gylebook" : item.is,
            elsewhere: "said above",
          }),
        );
      seen.add(item.is);
    }
    if (item.is === "lens" && !(LENSES as readonly string[]).includes(item.lens)) {
      const near = nearestSpelling(item.lens, LENSES);
      note(
        item,
        fault(
          "not-a-choice",
          whole(item),
          { text: item.lens, choices: LENSES },
          near === null ? [] : [mend(`Write ${near}`, lensSpan(item), near)],
        ),
      );
    }
    if (item.is === "library" && item.version > LIBRARY_VERSION)
      note(
        item,
        fault("syntax", whole(item), {
          says: `This file was made with library ${item.version}; this program has library ${LIBRARY_VERSION}, whose figures may differ.`,
        }),
      );
    if (item.is === "cell" && nameKey(item.name) !== BATCH_DATE)
      note(
        item,
        fault("syntax", whole(item), {
          says: `Only batch_date stands in the head. Move "${item.name}" below a sheet line.`,
        }),
      );
  }
}

const lensSpan = (item: Extract<HeadItem, { is: "lens" }>): Span => {
  const start = item.source.indexOf(item.lens);
  return { start, end: start + item.lens.length };
};

/** The one line of a head: it stands for today, so that results never depend on the clock. */
export const BATCH_DATE = "batch_date";

function readMeans(head: readonly HeadItem[], note: Note): ReadonlyMap<string, string> {
  const means = new Map<string, string>();
  for (const item of head) {
    if (item.is !== "means") continue;
    const word = BASE_BOOK.find(item.word);
    const unit = BASE_BOOK.find(item.unit);
    if (word?.is !== "ambiguous")
      note(
        item,
        fault("syntax", whole(item), {
          says: `"${item.word}" has one meaning already, or none; only gal, bbl, fl oz, pt, qt, ton and cwt are settled this way.`,
        }),
      );
    else if (unit === null || unit.is === "ambiguous" || !word.choices.some(({ symbol }) => symbol === unit.symbol))
      note(
        item,
        fault("not-a-choice", whole(item), { text: item.unit, choices: word.choices.map(({ symbol }) => symbol) }),
      );
    else if (means.has(word.word))
      note(item, fault("duplicate-name", whole(item), { name: item.word, elsewhere: "settled above" }));
    else means.set(word.word, unit.symbol);
  }
  return means;
}

const nothing = { read: () => ({ is: "faulty" }) as const, unfilled: () => [], logs: () => [] };

/** A unit may be written with those above it: `unit pallet = 40 sack`. */
function readUnits(
  head: readonly HeadItem[],
  means: ReadonlyMap<string, string>,
  language: Language,
  library: number,
  note: Note,
): UnitBook {
  const own: LinearUnit[] = [];
  let book = createUnitBook({ own, means });
  for (const item of head) {
    if (item.is !== "unit") continue;
    const refused = reservedName(item.name, book, library, nameSpan(item));
    if (refused !== null) {
      note(item, refused);
      continue;
    }
    const parsed = language.parse(formulaPart(item), book);
    const checked = checkFormula(parsed, bareEnvironment(book, language, library), {
      sheet: null,
      table: null,
      filtered: null,
    });
    for (const found of checked.faults) note(item, moved(found, item));
    if (checked.root === null) continue;
    const { kind, rows } = checked.type;
    const { value, stop } = evaluate(checked.root, nothing);
    if (kind.is !== "quantity" || rows !== null || stop !== null || typeof value !== "number" || !(value > 0)) {
      note(
        item,
        fault("syntax", whole(item), {
          says: "A unit is a quantity above zero that is written out, such as unit sack = 25 kg.",
        }),
      );
      continue;
    }
    own.push(ownUnit(item.name, kind.dimension, value));
    book = createUnitBook({ own, means });
  }
  return book;
}

const bareEnvironment = (units: UnitBook, language: Language, library: number): CheckEnvironment => ({
  units,
  zone: null,
  signatures: language.signatures,
  functionNamed: () => null,
  functionNames: [],
  currencies: () => new Set(),
  library,
  bodies: new Map(),
  types: new Types(),
  typeOf: () => UNKNOWN_TYPE,
  names: {
    tableOf: () => null,
    labelled: () => [],
    resolve: (name) => ({
      is: "fault",
      fault: fault("syntax", name.span, {
        says: "A unit is written out with figures and units; it does not read lines.",
      }),
    }),
  },
});

const formulaPart = (item: Extract<HeadItem, { is: "unit" | "function" }>): string =>
  item.source.slice(item.formulaStart).trim();

/** From the formula's text to the item's source. */
const moved = (found: Fault, item: Extract<HeadItem, { is: "unit" | "function" }>): Fault => {
  const part = item.source.slice(item.formulaStart);
  const by = item.formulaStart + (part.length - part.trimStart().length);
  return { ...found, span: { start: found.span.start + by, end: found.span.end + by }, mends: [] };
};

/** `unit`, `function`: what is named stands after it. */
const KEYWORD = /^\s*\S+\s+/;

/** Where a name first stands after the keyword of its line. */
function nameSpan(item: HeadItem & { readonly name: string }, name = item.name, after = 0): Span {
  const start = Math.max(0, item.source.indexOf(name, Math.max(after, KEYWORD.exec(item.source)?.[0].length ?? 0)));
  return { start, end: start + name.length };
}

function readZone(head: readonly HeadItem[], note: Note): Zone | null {
  const item = head.find((one) => one.is === "zone");
  if (item === undefined) return null;
  const zone = createZone(item.zone);
  if (zone.known) return zone;
  note(
    item,
    fault("syntax", whole(item), {
      says: `"${item.zone}" is not a known time zone. Write one such as Europe/London or America/Toronto.`,
    }),
  );
  return null;
}

function readFunctions(
  head: readonly HeadItem[],
  units: UnitBook,
  language: Language,
  library: number,
  note: Note,
): Map<string, WorkbookFunction> {
  const functions = new Map<string, WorkbookFunction>();
  for (const item of head) {
    if (item.is !== "function") continue;
    const key = nameKey(item.name);
    const body = language.parse(formulaPart(item), units);
    for (const found of body.faults) note(item, moved(found, item));
    if (functions.has(key))
      note(item, fault("duplicate-name", nameSpan(item), { name: item.name, elsewhere: "a function above" }));
    else if (isBuiltIn(key, language, library))
      note(
        item,
        fault("reserved-name", nameSpan(item), { name: item.name, says: "the library has a function of this name." }),
      );
    else functions.set(key, { name: item.name, parameters: item.parameters, body });
    const parameters = item.parameters.map(nameKey);
    const again = item.parameters.find((_, at) => parameters.indexOf(parameters[at] ?? "") < at);
    if (again !== undefined) {
      const first = nameSpan(item, again, item.source.indexOf("("));
      note(item, fault("duplicate-name", nameSpan(item, again, first.end), { name: again, elsewhere: "an argument" }));
    }
  }
  return functions;
}

/** Only what was there when the file was made: a function that came later never captures a name. */
function isBuiltIn(key: string, language: Language, library: number): boolean {
  const general = GENERAL_FUNCTIONS.find((row) => row.name === key);
  if (general !== undefined) return general.since <= library;
  const signature = language.signatures.find(key);
  return signature !== null && signature.function.since <= library;
}

function reservedName(name: string, units: UnitBook, library: number, span: Span): Fault | null {
  if (RESERVED_WORDS.has(nameKey(name)))
    return fault("reserved-name", span, { name, says: "the word is part of the language." });
  const deceived = deceives(name);
  if (deceived !== null) return fault("reserved-name", span, { name, says: deceived });
  const unit = units.find(name);
  if (unit === null) return null;
  if (unit.is !== "ambiguous" && unit.since > library) return null;
  return fault("reserved-name", span, {
    name,
    says: `it is the unit ${unit.is === "ambiguous" ? unit.word : unit.symbol}. Add a word, such as ${name}_used.`,
  });
}
