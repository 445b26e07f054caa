import { either } from "../diagnostics/wording.ts";
import type { Marks } from "./figures.ts";
import { bracketOf, entryUnit, formulaUnit, type Header } from "./headers.ts";
import type { ColumnMapping } from "./mapping.ts";
import type { SourceColumn } from "./match.ts";
import { type Asking, choice, type Question, question } from "./question.ts";
import type { ColumnSurvey } from "./survey.ts";
import { type TargetColumn, unitFits, unitText } from "./target.ts";
import { FAILED_READINGS } from "./trouble.ts";
import type { ReadUnit } from "./units-in-text.ts";

/** The unit of a column's figures, and the decimals that they leave out. */
export interface UnitProposal {
  readonly unit: string | null;
  readonly implied: number;
}

/** A scale with all that wort and beer can read on it. */
interface Scale {
  readonly value: string;
  readonly label: string;
  readonly low: number;
  readonly high: number;
  readonly unit: string;
  readonly implied: number;
}

/** Bounds of wort and beer, from a dry beer to the strongest wort: 0.98 to 1.18 SG and the same on each scale. */
const GRAVITY_SCALES: readonly Scale[] = [
  { value: "SG", label: "SG: 1.048", low: 0.98, high: 1.18, unit: "SG", implied: 0 },
  { value: "SG×1000", label: "SG times 1000: 1048", low: 980, high: 1180, unit: "SG", implied: 3 },
  { value: "°P", label: "°P: 12.1", low: -5, high: 40, unit: "°P", implied: 0 },
  { value: "GU", label: "gravity units: 48", low: -20, high: 180, unit: "GU", implied: 0 },
];

/** Bounds of a brewery, from glycol to a strong wort boiling under pressure: -40 to 130 °C on both scales. */
const TEMPERATURE_SCALES: readonly Scale[] = [
  { value: "°C", label: "°C", low: -40, high: 130, unit: "°C", implied: 0 },
  { value: "°F", label: "°F", low: -40, high: 266, unit: "°F", implied: 0 },
];

/** The figures of a column without those that failed probes report: how far they reach, and some from all over the column. */
interface Figures {
  readonly low: number;
  readonly high: number;
  readonly some: readonly number[];
  /** What was left aside. */
  readonly aside: readonly number[];
}

function figuresOf({ low: lows, high: highs, some, aside }: ColumnSurvey, marks: Marks): Figures {
  const side = marks.decimal === "." ? 0 : 1;
  const [low, high] = [lows[side] ?? Number.NaN, highs[side] ?? Number.NaN];
  return {
    low,
    high,
    some: some[side].filter((figure) => !Number.isNaN(figure) && !FAILED_READINGS.has(figure)),
    aside: [...aside].filter((figure) => !(figure >= low && figure <= high)),
  };
}

const holdsAll = (scale: Scale, { low, high }: Figures): boolean => low >= scale.low && high <= scale.high;

const offScale = (scale: Scale, { some }: Figures): number =>
  some.filter((figure) => figure < scale.low || figure > scale.high).length;

/** So many figures to a slip; a lone one may be a slip in any column. */
const FIGURES_TO_A_SLIP = 20;

/** Whether the figures may be on a scale, slips aside. */
function mayHold(scale: Scale, figures: Figures): boolean {
  const [off, all] = [offScale(scale, figures), figures.some.length];
  return off <= Math.max(1, all / FIGURES_TO_A_SLIP) && off * 2 <= all;
}

/** The scales that the figures may be on, and the one that they decide on: it holds all of them, and no other may hold them. */
function weigh(scales: readonly Scale[], figures: Figures): { fitting: readonly Scale[]; decided: Scale | undefined } {
  const fitting = scales.filter((scale) => mayHold(scale, figures));
  const [only, another] = fitting;
  return { fitting, decided: only && another === undefined && holdsAll(only, figures) ? only : undefined };
}

/** How far figures reach, and what was left aside. */
function reachOf({ low, high, aside }: Figures): string {
  const failed = either(aside.map(String));
  if (low > high) return `The figures are ${failed}, which failed probes report`;
  const reach = `The figures run from ${low} to ${high}`;
  return aside.length === 0 ? reach : `${reach} (${failed} aside, which failed probes report)`;
}

/** Three decimals and figures that move by this much are SG: no beer is followed in thousandths of a °P around 1 °P. */
const SG_DECIMALS = 3;
const SG_SPREAD = 0.004;

/** The header says SG, under which figures with and without their point are written, or nothing. */
const leavesScale = ({ header: { unit } }: SourceColumn): boolean => unit === null || formulaUnit(unit) === "SG";

/** The scales that a header names; none where it names no gravity. */
const scalesNamed = ({ unit }: Header): readonly Scale[] =>
  GRAVITY_SCALES.filter((scale) => unit !== null && scale.unit === formulaUnit(unit));

/** Whether nearly none of the figures is a gravity of beer on any of these scales, where there are some. */
const isOffAll = (scales: readonly Scale[], { some }: Figures): boolean =>
  scales.length > 0 &&
  some.length > 0 &&
  some.filter((figure) => scales.some(({ low, high }) => figure >= low && figure <= high)).length <=
    some.length / FIGURES_TO_A_SLIP;

/** The gravity scales that the figures may be on, and the one that they decide on, if they do. */
function weighGravity({ header, survey }: SourceColumn, figures: Figures): ReturnType<typeof weigh> {
  const named = scalesNamed(header);
  const scales = named.length === 0 || isOffAll(named, figures) ? GRAVITY_SCALES : named;
  const { fitting, decided } = weigh(scales, figures);
  const moves = survey.fewestDecimals >= SG_DECIMALS && figures.high - figures.low >= SG_SPREAD;
  const sg = moves ? fitting.find((scale) => scale.value === "SG" && holdsAll(scale, figures)) : undefined;
  return { fitting, decided: decided ?? sg };
}

/** What the figures of a gravity or temperature column are against the unit that they were read in until now, chosen or decided; null where they may be in it. */
export function otherScale(
  source: SourceColumn,
  { kind }: TargetColumn,
  { unit, implied, switches }: ColumnMapping,
  isChosen: boolean,
  marks: Marks,
): string | null {
  const figures = figuresOf(source.survey, marks);
  const isGravity = kind.is === "reading" && kind.family === "gravity";
  const isTemperature = kind.is === "reading" && kind.family === "temperature";
  if (!isGravity && !(isTemperature && source.header.unit === null)) return null;
  const { decided } = isGravity ? weighGravity(source, figures) : weigh(TEMPERATURE_SCALES, figures);
  const scales = isGravity ? GRAVITY_SCALES : TEMPERATURE_SCALES;
  const kept = scales.find((scale) => scale.unit === unit && scale.implied === implied);
  const later = scales.filter((scale) => switches.some((one) => one.unit === scale.unit));
  if (kept === undefined || kept === decided || (decided && later.includes(decided))) return null;
  if (isOffAll([kept, ...later], figures)) return decided?.value ?? `no reading of beer in ${kept.value}`;
  // A scale that a person chose is doubted only where no figure can be on it, and so is one that the header names.
  const mayBe = isChosen || (isGravity && !leavesScale(source));
  return decided === undefined || (mayBe && figures.low <= kept.high && figures.high >= kept.low)
    ? null
    : decided.value;
}

/** A share by mass, and a header that says of what: grams of extract in 100 g of wort are °P. */
const MASS_SHARE = /^(?:% ?(?:w\/w|m\/m|mas\b|mass?\b|by (?:mass|weight)|w\b)|(?:gew|mas)[.\w]*-? ?%)/i;
const EXTRACT = /extra[ck]t|stammw|plato|\boe\b/i;

const USUAL_UNITS: Readonly<Record<string, readonly string[]>> = {
  temperature: ["°C", "°F"],
  "absolute pressure": ["bara", "kPaa", "psia"],
  "mass^1": ["g", "kg", "lb", "oz"],
  "length^3": ["L", "hL", "mL", "US gal"],
  "length^-1 mass^1 time^-2": ["bar", "kPa", "psi", "mbar"],
};

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
  const figures = figuresOf(survey, marks);
  if (kind.is !== "quantity" && kind.is !== "reading") return { unit: null, implied: 0 };
  if (column.unit !== null && allSuffixed(source, readUnit)) return { unit: unitText(column.unit), implied: 0 };
  const isGravity = kind.is === "reading" && kind.family === "gravity";
  const share = isGravity ? bracketOf(header) : null;
  if (share !== null && MASS_SHARE.test(share) && EXTRACT.test(header.text))
    return settleUnit(source, column, "°P", `"${share}" of extract is °P.`, readUnit, asking);
  if (isGravity && (leavesScale(source) || isOffAll(scalesNamed(header), figures))) {
    return gravityUnit(source, column, figures, readUnit, asking);
  }
  if (header.unit !== null) {
    const unit = readUnit(header.unit);
    if (unit !== null && unitFits(unit, kind))
      return settleUnit(source, column, header.unit, "The header names it.", readUnit, asking);
  }
  if (column.unit === null || unitText(column.unit) === "" || (kind.is === "reading" && kind.family === "pH")) {
    return { unit: null, implied: impliedDecimals(source, asking) };
  }
  const isTemperature = kind.is === "reading" && kind.family === "temperature";
  const odd = oddUnit(header, column, readUnit);
  if (isTemperature && odd === null && weigh(TEMPERATURE_SCALES, figures).decided?.value === "°F")
    return settleUnit(source, column, "°F", `Nothing in a brewery reads ${figures.high} °C.`, readUnit, asking);
  const own = unitText(column.unit);
  const asked = unitQuestion(source, column, odd === null ? own : null, whyUnit(header, column, odd), readUnit);
  return {
    unit: usable(asked, asking.ask(asked), column, readUnit, asking) ?? own,
    implied: impliedDecimals(source, asking),
  };
}

/** A share, a step or a multiple in a header's brackets: `% w/w`, `0.1 g`, `x10`. */
const LIKE_A_UNIT = /[%°/]|^[x×*] ?\d|^\d+(?:[.,]\d+)? ?[^\d\s]{1,4}$/i;

/** What the header says like a unit and is none that the column can be in; null where it says nothing of the kind. */
function oddUnit(header: Header, { kind }: TargetColumn, readUnit: ReadUnit): string | null {
  const says = header.unit ?? bracketOf(header) ?? "";
  // `bar over tank` may be another bar; `in tank` is no inch, and what gravities are their range tells.
  const words = kind.is === "quantity" ? says.split(/\s+/).flatMap((word) => readUnit(word) ?? []) : [];
  const isUnit = header.unit !== null || LIKE_A_UNIT.test(says) || words.some((unit) => unitFits(unit, kind));
  return isUnit ? says : null;
}

function whyUnit(header: Header, { label }: TargetColumn, odd: string | null): string {
  if (odd !== null && STEP.test(odd))
    return `The header says "${odd}", which is no unit: the figures may be counted in that, or be exact to it.`;
  if (odd !== null)
    return `The header says "${odd}", which "${label}" cannot be in. Where the figures are just that, leave it empty.`;
  const says = bracketOf(header);
  const none = "Neither the header nor the entries name it";
  return says === null ? `${none}.` : `${none}: "${says}" is no unit that is known.`;
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
  likely: string | null,
  why: string,
  readUnit: ReadUnit,
): Question {
  const usual =
    kind.is === "reading" || kind.is === "quantity"
      ? (USUAL_UNITS[kind.is === "reading" ? kind.family : kind.dimension.key] ?? [])
      : [];
  const units = new Set([likely ?? "", unitText(own), ...usual].filter((unit) => readUnit(unit) !== null));
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

function gravityUnit(
  source: SourceColumn,
  column: TargetColumn,
  figures: Figures,
  readUnit: ReadUnit,
  asking: Asking,
): UnitProposal {
  const { header, survey } = source;
  const { fitting, decided } = weighGravity(source, figures);
  const inHeader = header.unit === null ? undefined : GRAVITY_SCALES.find(({ value }) => value === header.unit);
  const named = scalesNamed(header);
  const isDoubted = isOffAll(named, figures);
  const odd = named.length > 0 ? null : oddUnit(header, column, readUnit);
  const settled = isDoubted || odd !== null ? undefined : (decided ?? inHeader);
  const asked = (choices: readonly Scale[], why: string, likely: string | null): Question =>
    question(
      `gravity:${header.text}`,
      `On which scale are the gravities under "${header.text}"?`,
      choices.map(({ value, label }) => choice(value, label)),
      { why, examples: survey.figures.first.map(({ line, entry }) => `line ${line}: ${entry}`), likely },
    );
  if (settled) {
    const answer = asking.settle(asked(GRAVITY_SCALES, `${reachOf(figures)}.`, null), settled.value);
    // Who says SG of 1048 says so of figures without their point.
    const isSame = answer === settled.unit || answer === settled.value;
    const { unit, implied } = isSame ? settled : (GRAVITY_SCALES.find(({ value }) => value === answer) ?? settled);
    return { unit, implied };
  }
  const own = unitText(column.unit);
  const choices =
    fitting.length > 0
      ? GRAVITY_SCALES.filter((one) => fitting.includes(one) || one.value === own || one === inHeader)
      : GRAVITY_SCALES;
  const why =
    odd !== null
      ? `${reachOf(figures)}. ${whyUnit(header, column, odd)}`
      : isDoubted
        ? `${reachOf(figures)}; the header says ${header.unit}, and no beer reads so.`
        : fitting.length === 0
          ? `${reachOf(figures)}; on no scale is all of that beer.`
          : fitting.every((scale) => holdsAll(scale, figures))
            ? `${reachOf(figures)}, and beer reads so on each of these.`
            : `${reachOf(figures)}; not all of that is beer on one of these, but most may be.`;
  // Hardly a beer stays about 1 °P or 1 gravity unit; a bare 1 tells nothing.
  const likely =
    !survey.whole && odd === null && !isDoubted && fitting.some(({ value }) => value === "SG") ? "SG" : null;
  const answer = asking.ask(asked(choices, why, likely));
  const chosen = choices.find(({ value }) => value === answer) ?? choices[0];
  return { unit: chosen?.unit ?? null, implied: chosen?.implied ?? 0 };
}

/** Figures counted in tenths or less: `0.1 g`, `1/10`, `x10`. */
const STEP = /^(?:0[.,]0*1(?!\d)|[x×*] ?10+$|1 ?\/ ?10+(?!\d))/i;

/** Weights sent as whole figures with leading zeros have a fixed point that the file does not show. */
export function impliedDecimals({ header, survey }: SourceColumn, asking: Asking): number {
  const weighs = header.role === "weight" || header.role === "net" || header.role === "gross";
  const step = STEP.test(bracketOf(header) ?? "") ? bracketOf(header) : null;
  if (!survey.whole || survey.figures.count === 0 || (step === null && !(weighs && survey.leadingZeros > 0))) return 0;
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
        why:
          step === null
            ? "The figures are whole and begin with zeros, as instruments write them that leave the point out."
            : `The figures are whole, and the header says "${step}".`,
        examples: survey.figures.first.map(({ line, entry }) => `line ${line}: ${entry}`),
      },
    ),
  );
  return Number(answer ?? 0);
}
