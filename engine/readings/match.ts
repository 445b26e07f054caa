import { nameFromLabel, nameKey } from "../base/names.ts";
import { sameKind } from "../values/kind.ts";
import type { Detection } from "./detect.ts";
import { formulaUnit, type Header, type Role, roleOf } from "./headers.ts";
import { type Asking, choice, type Question, question } from "./question.ts";
import type { ColumnSurvey } from "./survey.ts";
import { isInstant, type TargetColumn, unitFits, unitText } from "./target.ts";
import type { ReadUnit } from "./units-in-text.ts";

/** A column of the CSV with what is known of it. */
export interface SourceColumn {
  readonly header: Header;
  readonly survey: ColumnSurvey;
}

/** Which column of the CSV a column of the table is filled from, by the table's column name. */
export type Matches = ReadonlyMap<string, SourceColumn>;

/** Roles of which a table's column is filled only when it says so by name. */
const BY_NAME_ONLY: ReadonlySet<Role> = new Set(["set point", "angle", "serial", "tare", "unit"]);

/** The choice that leaves a column of the table empty. */
export const LEAVE_EMPTY = "(none)";

export const sourceColumns = (detection: Detection): SourceColumn[] =>
  detection.headers.flatMap((header, at) => {
    const survey = detection.columns[at];
    return survey ? [{ header, survey }] : [];
  });

/** Pairs the table's columns (instants aside) with the CSV's, as answered, by name, then by what they measure; asks where two fit alike. */
export function matchColumns(
  detection: Detection,
  columns: readonly TargetColumn[],
  taken: readonly string[],
  readUnit: ReadUnit,
  asking: Asking,
): Matches {
  const free = sourceColumns(detection)
    .filter(({ header }) => !taken.includes(header.text))
    .map((source) => asWritten(source, columns));
  const matches = new Map<string, SourceColumn>();
  const open = new Set<string>();
  const wanted = columns.filter(({ kind }) => !isInstant(kind));
  const isLeft = (source: SourceColumn): boolean => ![...matches.values()].includes(source);
  const given = new Map(wanted.map((column) => [column, asking.given(`column:${column.name}`)]));
  for (const [column, answer] of given) {
    const chosen = free.find(({ header }) => header.text === answer);
    const other = wanted.find(
      ({ name, kind }) => chosen && matches.get(name) === chosen && !sameKind(kind, column.kind),
    );
    if (chosen && other) {
      open.add(column.name);
      const says = `"${chosen.header.text}" is read into "${other.label}" already, which holds something else.`;
      asking.refuse(
        whichQuestion(column, free.filter(isLeft), "Two columns that hold unlike things are not read from one."),
        says,
      );
    } else if (chosen) matches.set(column.name, chosen);
  }
  // Columns that are called alike are paired first, so that no other takes theirs.
  for (const round of ["named", "measured"] as const) {
    for (const column of wanted) {
      if (matches.has(column.name) || open.has(column.name) || given.get(column) === LEAVE_EMPTY) continue;
      const scored = free
        .filter(
          (source) => isLeft(source) && canHold(source, column, readUnit) && doubtOf(source, column, readUnit) === null,
        )
        .map((source) => ({ source, score: likeness(source.header, column, readUnit) }))
        .filter(({ score }) => (round === "named" ? score >= NAMED : score > 0));
      const best = Math.max(0, ...scored.map(({ score }) => score));
      const alike = scored.filter(({ score }) => score === best).map(({ source }) => source);
      const [only, another] = alike;
      if (another !== undefined) {
        open.add(column.name);
        asking.ask(whichQuestion(column, alike, "More than one column of the file fits it."));
      } else if (only !== undefined) matches.set(column.name, only);
    }
  }
  for (const column of wanted) {
    if (matches.has(column.name) || open.has(column.name) || given.get(column) === LEAVE_EMPTY) continue;
    const doubted = free.filter(
      (source) =>
        isLeft(source) &&
        canHold(source, column, readUnit) &&
        doubtOf(source, column, readUnit) !== null &&
        likeness(source.header, column, readUnit) > 0,
    );
    if (doubted.length === 0) continue;
    open.add(column.name);
    const whys = new Set(doubted.map((source) => doubtOf(source, column, readUnit)));
    asking.ask(whichQuestion(column, doubted, [...whys].join(" ")));
  }
  if (detection.shape.header.value === 0) {
    for (const column of wanted) {
      if (matches.has(column.name) || open.has(column.name) || given.get(column) === LEAVE_EMPTY) continue;
      const fitting = free.filter((source) => isLeft(source) && holdsFor(source, column, readUnit));
      if (fitting.length === 0) continue;
      open.add(column.name);
      asking.ask(whichQuestion(column, fitting, "The columns of the file have no names."));
    }
  }
  for (const { name, kind, label } of wanted) {
    const densities = free.filter((source) => isLeft(source) && isDensity(source.header, readUnit));
    if (matches.has(name) || open.has(name) || kind.is !== "reading" || kind.family !== "gravity") continue;
    for (const { header } of densities)
      asking.note(`"${header.text}" is not read into "${label}": ${DENSITY_OVER_WATER}`);
  }
  for (const column of wanted) {
    if (open.has(column.name)) continue;
    const decided = matches.get(column.name)?.header.text ?? LEAVE_EMPTY;
    asking.settle(whichQuestion(column, free, "By its name, its unit or what it measures."), decided);
  }
  return matches;
}

/** The header that a column of the table without a unit is written out with is all label: the end of `All cells` is no unit then. */
function asWritten(source: SourceColumn, columns: readonly TargetColumn[]): SourceColumn {
  const { header } = source;
  const isOwn = columns.some(({ label, unit }) => unitText(unit) === "" && label === header.text);
  return isOwn && header.unit !== null ? { ...source, header: { ...header, label: header.text, unit: null } } : source;
}

/** Asks which column of the CSV a column of the table is filled from. */
export const whichQuestion = (column: TargetColumn, sources: readonly SourceColumn[], why: string): Question =>
  question(
    `column:${column.name}`,
    `Which column of the file is "${column.label}"?`,
    [...sources.map(({ header }) => choice(header.text)), choice(LEAVE_EMPTY, "none: leave it empty")],
    {
      why,
      examples: sources.map(
        ({ header, survey }) =>
          `${header.text}: ${(survey.figures.first[0] ?? survey.times.first[0] ?? survey.words.first[0])?.entry ?? "empty"}`,
      ),
    },
  );

/** Whether a column without a name has entries that may be the table's column's. */
const holdsFor = (source: SourceColumn, column: TargetColumn, readUnit: ReadUnit): boolean =>
  canHold(source, column, readUnit) &&
  (column.kind.is === "text" ? source.survey.words : source.survey.figures).count + source.survey.suffixes.size > 0;

function canHold({ header, survey }: SourceColumn, column: TargetColumn, readUnit: ReadUnit): boolean {
  const { kind } = column;
  // Dates are no texts, unless the table has a column of texts that is called so.
  if (kind.is === "text") return survey.times.count === 0 || likeness(header, column, readUnit) >= NAMED;
  if (kind.is === "truth") return survey.truths.count > 0 || survey.figures.count > 0;
  const unit = header.unit === null ? null : readUnit(formulaUnit(header.unit));
  if (header.unit !== null && (unit === null || !unitFits(unit, kind))) return false;
  if (survey.figures.count === 0 && survey.suffixes.size === 0)
    return survey.words.count === 0 && survey.times.count === 0;
  return survey.times.count === 0;
}

/** Density of water at 20 °C: engine/library/physics/ethanol.ts, the formula of the OIML at no alcohol. */
const DENSITY_OVER_WATER =
  "a density in kg/m³ is no SG; over the 998.2 kg/m³ of water at 20 °C it is one. Read it into a column of kg/m³ and work that out in another.";

/** Whether a header means mass per volume, by its unit or, without one, in words: `Density`, but neither `Relative density` nor `Density (SG)`. */
function isDensity({ text, unit: spelling, role }: Header, readUnit: ReadUnit): boolean {
  if (role !== "gravity") return false;
  const unit = spelling === null ? null : readUnit(formulaUnit(spelling));
  if (unit !== null) return unit.is !== "scale" && unit.dimension.key === "length^-3 mass^1";
  return /densit|dichte/i.test(text) && !/\brel|\bspe[cz]|\d ?°?c?\/ ?\d/i.test(text);
}

/** Why a column that measures what the table's does may be something else all the same, as its words say; null where nothing speaks against it. */
function doubtOf({ header }: SourceColumn, { name, label, kind }: TargetColumn, readUnit: ReadUnit): string | null {
  if (kind.is === "reading" && kind.family === "gravity" && isDensity(header, readUnit))
    return `"${header.text}" says density: ${DENSITY_OVER_WATER}`;
  const other = header.role === "net" ? "gross" : header.role === "gross" ? "net" : null;
  if (other === null || ![label, name].some((words) => roleOf(words) === other)) return null;
  return `"${header.text}" is ${header.role} and "${label}" ${other}: they differ by the tare.`;
}

/** What a label says, whatever its case, its blanks and hyphens, and whether it is in the plural: `Setpoints` is `Set point`. */
export const plainLabel = (label: string): string =>
  nameKey(nameFromLabel(label))
    .split("_")
    .map((word) => (word.length > 3 ? word.replace(/ies$/, "y").replace(/([^su])s$/, "$1") : word))
    .join("");

/** A likeness from which on a column is called as the table's. */
const NAMED = 3;

/** 5: the same name; 4: the same label; 3: either, written otherwise; 2: one name holds the other, or it measures the same thing and says so; 1: its unit fits. */
function likeness(header: Header, column: TargetColumn, readUnit: ReadUnit): number {
  const source = nameKey(nameFromLabel(header.label));
  const target = nameKey(column.name);
  const label = nameKey(nameFromLabel(column.label));
  if (source === target || nameKey(nameFromLabel(header.text)) === target) return 5;
  if (source === label) return 4;
  const plain = plainLabel(header.label);
  if (plain !== "" && [column.name, column.label].some((one) => plainLabel(one) === plain)) return 3;
  if (BY_NAME_ONLY.has(header.role)) return 0;
  const words = new Set(source.split("_"));
  if (source !== "" && [...target.split("_"), ...label.split("_")].some((word) => word.length > 2 && words.has(word)))
    return 2;
  const unit = header.unit === null ? null : readUnit(formulaUnit(header.unit));
  if (measures(header.role, column)) return 2;
  return unit !== null && column.unit !== null && column.kind.is !== "text" && isTelling(header.unit) ? 1 : 0;
}

/** A bare `%` or a count fits too many things to pair columns by. */
const isTelling = (unit: string | null): boolean => unit !== null && unit !== "%";

function measures(role: Role, { kind }: TargetColumn): boolean {
  if (kind.is === "reading") return role === (kind.family === "absolute pressure" ? "pressure" : kind.family);
  if (kind.is === "text") return role === "tank" || role === "product" || role === "verdict";
  if (kind.is !== "quantity") return role === "verdict";
  const { key } = kind.dimension;
  if (key === "mass^1") return role === "weight" || role === "net" || role === "gross";
  if (key === "length^3") return role === "volume";
  return key.startsWith("length^-1 mass^1 time^-2") && role === "pressure";
}
