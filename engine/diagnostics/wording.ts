import type { Caution, CautionCode, CautionData, Fault, FaultCode, FaultData } from "./diagnostic.ts";

/** A list in running text: `a, b or c`. */
export const either = (words: readonly string[], joint = "or"): string =>
  words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} ${joint} ${words[words.length - 1]}`;

const lowerFirst = (text: string): string => text.slice(0, 1).toLowerCase() + text.slice(1);

const meant = (near: readonly string[]): string => (near.length === 0 ? "" : ` Did you mean ${either(near)}?`);

/** A further sentence, where there is one. */
const more = (sentence: string | null | undefined): string => (sentence ? ` ${sentence}` : "");

const PLACES: readonly (readonly [RegExp, string])[] = [
  [/^US /, "in the US"],
  [/^UK /, "in the UK"],
  [/^imp /, "in imperial measure"],
];

/** `3.785 L in the US and 4.546 L in imperial measure`. */
function sizes(choices: FaultData["ambiguous-unit"]["choices"]): string {
  const placed = choices.map(({ symbol, size }) => {
    const where = PLACES.find(([prefix]) => prefix.test(symbol))?.[1];
    return where === undefined ? `${symbol} (${size})` : `${size} ${where}`;
  });
  return either(placed, "and");
}

/** Names of a longer circle that are told from its start and its end. */
const CIRCLE_START = 4;
const CIRCLE_END = 2;

/** `Mass (kg) and volume (L)`, `One text and another`. */
const pair = (left: string, right: string): string =>
  left.startsWith("A ") && lowerFirst(left) === lowerFirst(right)
    ? `One ${left.slice("A ".length)} and another`
    : `${left} and ${lowerFirst(right)}`;

/** Round a circle and back to its first line; a long one is not copied. */
const shortened = (path: readonly string[]): readonly string[] => {
  const first = path[0] ?? "";
  const left = path.length + 1 - CIRCLE_START - CIRCLE_END;
  if (left <= 1) return [...path, first];
  return [...path.slice(0, CIRCLE_START), `${left} more`, ...path.slice(1 - CIRCLE_END), first];
};

/** The wording of every fault, in one place; one line each, in the brewer's words. */
const FAULTS: { readonly [C in FaultCode]: (data: FaultData[C]) => string } = {
  "unlike-units": ({ did, left, right, hint }) =>
    did === "entered"
      ? `${right} does not fit a column of ${left}.${more(hint)}`
      : `${pair(left, right)} cannot be ${did}.${more(hint)}`,
  "ambiguous-unit": ({ word, choices }) =>
    `"${word}" is ${sizes(choices)}. Write ${either(choices.map(({ symbol }) => symbol))}.`,
  "sum-of-readings": ({ family, hint }) => `Two ${family} readings cannot be added. ${hint}`,
  "scaled-reading": ({ what, did, hint }) => `${/^[aeiou]/.test(what) ? "An" : "A"} ${what} cannot be ${did}. ${hint}`,
  "unknown-name": ({ name, near, hint, labels: [label, ...others] = [], columns }) => {
    if (label !== undefined && others.length === 0)
      return `"${name}" is the ${columns === true ? "column" : "line"} ${label}. A formula says its name: ${label}.`;
    if (label !== undefined)
      return `"${name}" is what ${[label, ...others].join(" and ")} are called. A formula says the name of one.`;
    return `There is no "${name}" here.${meant(near === null ? [] : [near])}${more(hint)}`;
  },
  "unknown-unit": ({ spelling, near }) => `"${spelling}" is not a unit that is known here.${meant(near)}`,
  "unknown-function": ({ name, near, hint }) => `There is no function "${name}".${meant(near)}${more(hint)}`,
  circular: ({ path, beside }) => {
    const circle =
      path.length === 1 ? `${path[0]} needs itself.` : `${shortened(path).join(" → ")}: each needs the other.`;
    return beside === undefined ? circle : `${circle} ${beside} needs them, and they need it.`;
  },
  "wrong-argument": ({ function: name, argument, says, takes }) =>
    `${name}${argument === "" ? "" : `: ${argument === "of" ? "what it is given" : argument}`} ${says}${more(takes)}`,
  "missing-argument": ({ function: name, argument, takes }) => `${name} still needs ${argument}.${more(takes)}`,
  "not-a-unit-for": ({ unit, of, hint }) => `${of} cannot be shown in ${unit}.${more(hint)}`,
  "bad-number": ({ text, says }) => `"${text}" cannot be read as it stands. ${says}`,
  syntax: ({ says }) => says,
  "duplicate-name": ({ name, elsewhere }) => `"${name}" is already ${elsewhere}. Every name is given once.`,
  "reserved-name": ({ name, says }) => `"${name}" cannot be a name: ${says}`,
  "no-value": ({ says }) => says,
  "unlike-branches": ({ left, right }) =>
    `One branch gives ${lowerFirst(left)} and the other ${lowerFirst(right)}; both must give the same kind.`,
  "column-lengths": ({ says }) => says,
  "not-a-choice": ({ text, choices }) => `"${text}" is not one of ${either(choices.map((choice) => `"${choice}"`))}.`,
  "unreadable-file": ({ says }) => says,
};

const CAUTIONS: { readonly [C in CautionCode]: (data: CautionData[C]) => string } = {
  "outside-within": ({ shown, low, high }) => `${shown} is outside ${low} to ${high}.`,
  "outside-published-range": ({ function: name, says, source }) => `${name}: ${says} Source: ${source}`,
  skipped: ({ count, of }) =>
    `${count} of ${of} entries ${count === 1 ? "is missing and was" : "are missing and were"} left out.`,
  safety: ({ says }) => says,
  estimate: ({ says }) => says,
  "gravity-range": ({ shown }) =>
    `${shown} is outside −2 to 30 °P, where the published table ends; the figure is continued beyond it.`,
  "figures-changed": ({ function: name, from, to }) =>
    `The figures of ${name} changed between library ${from} and ${to}. Look at this result before you accept the newer library.`,
};

/** One line for a person. */
export const wordFault = (fault: Fault): string => (FAULTS[fault.code] as (data: Fault["data"]) => string)(fault.data);

export const wordCaution = (caution: Caution): string =>
  (CAUTIONS[caution.code] as (data: Caution["data"]) => string)(caution.data);

/** What is said behind the names of what a line waits for: `: a spread needs at least two entries`, or nothing. */
export const wordTooFew = (tooFew: string | null): string =>
  tooFew === null ? "" : `: ${lowerFirst(tooFew).replace(/\.$/, "")}`;

/** The closed lists, for the reference. */
export const FAULT_CODES = Object.keys(FAULTS) as readonly FaultCode[];
export const CAUTION_CODES = Object.keys(CAUTIONS) as readonly CautionCode[];
