import type { Marks } from "./figures.ts";
import { entryUnit, formulaUnit } from "./headers.ts";
import type { ColumnMapping } from "./mapping.ts";
import type { SourceColumn } from "./match.ts";
import { type Asking, choice, type Question, question } from "./question.ts";
import { type TargetColumn, unitFits, unitText } from "./target.ts";
import type { ReadUnit } from "./units-in-text.ts";

/** The unit of a column's figures, and the decimals that they leave out. */
export interface UnitProposal {
  readonly unit: string | null;
  readonly implied: number;
}

/** A gravity scale with all that wort and beer can read on it. */
interface GravityScale {
  readonly value: string;
  readonly label: string;
  readonly low: number;
  readonly high: number;
  readonly unit: string;
  readonly implied: number;
}

/** Bounds of wort and beer, from a dry beer to the strongest wort: 0.98 to 1.18 SG and the same on each scale. */
const GRAVITY_SCALES: readonly GravityScale[] = [
  { value: "SG", label: "SG: 1.048", low: 0.98, high: 1.18, unit: "SG", implied: 0 },
  { value: "SG×1000", label: "SG times 1000: 1048", low: 980, high: 1180, unit: "SG", implied: 3 },
  { value: "°P", label: "°P: 12.1", low: -5, high: 40, unit: "°P", implied: 0 },
  { value: "GU", label: "gravity units: 48", low: -20, high: 180, unit: "GU", implied: 0 },
];

/** Three decimals and figures that move by this much are SG: no beer is followed in thousandths of a °P around 1 °P. */
const SG_DECIMALS = 3;
const SG_SPREAD = 0.004;

/** The header says SG, under which figures with and without their point are written, or nothing. */
const leavesScale = ({ header: { unit } }: SourceColumn): boolean => unit === null || formulaUnit(unit) === "SG";

/** The scales that hold all of these gravities, and the one that the figures decide on, if they do. */
function scalesOf(
  { header, survey }: SourceColumn,
  low: number,
  high: number,
): { fitting: readonly GravityScale[]; decided: GravityScale | undefined } {
  const holding = GRAVITY_SCALES.filter((scale) => low >= scale.low && high <= scale.high);
  const fitting = header.unit === null ? holding : holding.filter(({ unit }) => unit === "SG");
  const isSG = survey.fewestDecimals >= SG_DECIMALS && high - low >= SG_SPREAD;
  return {
    fitting,
    decided: fitting.length === 1 ? fitting[0] : isSG ? fitting.find(({ value }) => value === "SG") : undefined,
  };
}

/** The scale that the figures of a gravity column decide on against the one that they were read on until now, chosen or decided; null where they do not. */
export function otherGravityScale(
  source: SourceColumn,
  { unit, implied }: Pick<ColumnMapping, "unit" | "implied">,
  isChosen: boolean,
  marks: Marks,
): string | null {
  if (!leavesScale(source)) return null;
  const [low, high] = [source.survey.low[side(marks)] ?? Number.NaN, source.survey.high[side(marks)] ?? Number.NaN];
  const { decided } = scalesOf(source, low, high);
  const kept = GRAVITY_SCALES.find((scale) => scale.unit === unit && scale.implied === implied);
  // A scale that a person chose is doubted only where no figure can be on it.
  const mayBe = kept === decided || (isChosen && kept !== undefined && low <= kept.high && high >= kept.low);
  return decided === undefined || mayBe ? null : decided.value;
}

const USUAL_UNITS: Readonly<Record<string, readonly string[]>> = {
  temperature: ["°C", "°F"],
  "absolute pressure": ["bara", "kPaa", "psia"],
  "mass^1": ["g", "kg", "lb", "oz"],
  "length^3": ["L", "hL", "mL", "US gal"],
  "length^-1 mass^1 time^-2": ["bar", "kPa", "psi", "mbar"],
};

const side = (marks: Marks): 0 | 1 => (marks.decimal === "." ? 0 : 1);

/** The unit of a column whose header may name one; a gravity scale is decided by the range of the figures only where one alone holds them. */
export function proposeUnit(
  source: SourceColumn,
  column: TargetColumn,
  marks: Marks,
  readUnit: ReadUnit,
  asking: Asking,
): UnitProposal {
  const { header, survey } = source;
  const { kind } = column;
  if (kind.is !== "quantity" && kind.is !== "reading") return { unit: null, implied: 0 };
  const [low, high] = [survey.low[side(marks)] ?? Number.NaN, survey.high[side(marks)] ?? Number.NaN];
  if (column.unit !== null && allSuffixed(source, readUnit)) return { unit: unitText(column.unit), implied: 0 };
  const isGravity = kind.is === "reading" && kind.family === "gravity";
  if (isGravity && leavesScale(source)) {
    return gravityUnit(source, low, high, asking);
  }
  if (header.unit !== null) {
    const unit = readUnit(header.unit);
    if (unit !== null && unitFits(unit, kind))
      return settleUnit(source, column, header.unit, "The header names it.", readUnit, asking);
  }
  if (column.unit === null || unitText(column.unit) === "" || (kind.is === "reading" && kind.family === "pH")) {
    return { unit: null, implied: impliedDecimals(source, asking) };
  }
  // Nothing but °F reads above the boiling of a strong wort under pressure.
  if (kind.is === "reading" && kind.family === "temperature" && high > 130)
    return settleUnit(source, column, "°F", `Nothing in a brewery reads ${high} °C.`, readUnit, asking);
  const own = unitText(column.unit);
  const asked = unitQuestion(source, column, own, "Neither the header nor the entries name it.", readUnit);
  return {
    unit: usable(asked, asking.ask(asked), column, readUnit, asking) ?? own,
    implied: impliedDecimals(source, asking),
  };
}

/** The unit that was answered; null where none was, or one that does not fit the column: that is asked again. */
function usable(
  asked: Question,
  answer: string | null,
  { kind, label }: TargetColumn,
  readUnit: ReadUnit,
  asking: Asking,
): string | null {
  const unit = answer === null ? null : readUnit(answer);
  if (answer === null || (unit !== null && unitFits(unit, kind))) return answer;
  asking.refuse(asked, `"${answer}" is no unit for "${label}".`);
  return null;
}

function unitQuestion(
  { header, survey }: SourceColumn,
  { kind, unit: own }: TargetColumn,
  likely: string,
  why: string,
  readUnit: ReadUnit,
): Question {
  const usual =
    kind.is === "reading" || kind.is === "quantity"
      ? (USUAL_UNITS[kind.is === "reading" ? kind.family : kind.dimension.key] ?? [])
      : [];
  const units = new Set([likely, unitText(own), ...usual].filter((unit) => readUnit(unit) !== null));
  return question(
    `unit:${header.text}`,
    `In which unit are the figures under "${header.text}"?`,
    [...units].map((unit) => choice(unit)),
    { why, examples: survey.figures.first.map(({ line, entry }) => `line ${line}: ${entry}`), likely, free: true },
  );
}

/** The unit that the file shows, unless another was given that fits the column too. */
function settleUnit(
  source: SourceColumn,
  column: TargetColumn,
  shown: string,
  why: string,
  readUnit: ReadUnit,
  asking: Asking,
): UnitProposal {
  const asked = unitQuestion(source, column, shown, why, readUnit);
  const unit = usable(asked, asking.settle(asked, shown), column, readUnit, asking);
  return { unit: unit ?? shown, implied: impliedDecimals(source, asking) };
}

/** Every filled entry has its own unit written behind it. */
function allSuffixed({ survey }: SourceColumn, readUnit: ReadUnit): boolean {
  if (survey.figures.count > 0 || survey.suffixes.size === 0) return false;
  return [...survey.suffixes.keys()].every((suffix) => entryUnit(suffix, readUnit) !== null);
}

function gravityUnit({ header, survey }: SourceColumn, low: number, high: number, asking: Asking): UnitProposal {
  const { fitting, decided } = scalesOf({ header, survey }, low, high);
  const inHeader = header.unit === null ? undefined : GRAVITY_SCALES.find(({ value }) => value === header.unit);
  const settled = decided ?? inHeader;
  if (settled) {
    const asked = question(
      `gravity:${header.text}`,
      `On which scale are the gravities under "${header.text}"?`,
      GRAVITY_SCALES.map(({ value, label }) => choice(value, label)),
      {
        why: `The figures run from ${low} to ${high}.`,
        examples: survey.figures.first.map(({ line, entry }) => `line ${line}: ${entry}`),
      },
    );
    const answer = asking.settle(asked, settled.value);
    const { unit, implied } = GRAVITY_SCALES.find(({ value }) => value === answer) ?? settled;
    return { unit, implied };
  }
  const choices = fitting.length > 0 ? fitting : GRAVITY_SCALES;
  const answer = asking.ask(
    question(
      `gravity:${header.text}`,
      `On which scale are the gravities under "${header.text}"?`,
      choices.map(({ value, label }) => choice(value, label)),
      {
        why:
          fitting.length > 0
            ? `The figures run from ${low} to ${high}, and beer reads so on each of these.`
            : `The figures run from ${low} to ${high}; on no scale is all of that beer.`,
        examples: survey.figures.first.map(({ line, entry }) => `line ${line}: ${entry}`),
        // Hardly a beer stays about 1 °P or 1 gravity unit; a bare 1 tells nothing.
        likely: !survey.whole && fitting.some(({ value }) => value === "SG") ? "SG" : null,
      },
    ),
  );
  const chosen = choices.find(({ value }) => value === answer) ?? choices[0];
  return { unit: chosen?.unit ?? null, implied: chosen?.implied ?? 0 };
}

/** Weights sent as whole figures with leading zeros have a fixed point that the file does not show. */
export function impliedDecimals({ header, survey }: SourceColumn, asking: Asking): number {
  const weighs = header.role === "weight" || header.role === "net" || header.role === "gross";
  if (!weighs || !survey.whole || survey.leadingZeros === 0) return 0;
  const example = survey.figures.first[0]?.entry ?? "";
  const shifted = (places: number): string => (Number(example) / 10 ** places).toFixed(places);
  const answer = asking.ask(
    question(
      `implied-decimals:${header.text}`,
      `Where is the decimal point in the figures under "${header.text}"?`,
      [0, 1, 2, 3].map((places) =>
        choice(String(places), `${example} is ${shifted(places)}${header.unit === null ? "" : ` ${header.unit}`}`),
      ),
      {
        why: "The figures are whole and begin with zeros, as instruments write them that leave the point out.",
        examples: survey.figures.first.map(({ line, entry }) => `line ${line}: ${entry}`),
      },
    ),
  );
  return Number(answer ?? 0);
}
