import { nameKey } from "../base/names.ts";
import type { Model } from "../workbook/model.ts";
import { type ArgumentInHand, type Call, callAround, inHand } from "./argument-in-hand.ts";
import {
  type Candidate,
  columnCandidates,
  filteredCandidates,
  functionCandidates,
  keywordCandidates,
  lineCandidates,
  namedCandidates,
  type Option,
  textCandidates,
  wordCandidates,
} from "./candidates.ts";
import type { Context } from "./context.ts";
import { type Part, partsOf } from "./parts.ts";
import { unitCandidates } from "./unit-candidates.ts";

/** What may stand in the place of `formula.slice(from, to)`, best first, and the argument that the cursor is in. */
export interface Completion {
  readonly from: number;
  readonly to: number;
  readonly options: readonly Option[];
  readonly argument: ArgumentInHand | null;
}

/** More options than these help nobody choose. */
const MOST_OPTIONS = 50;

/** Offers what may stand at `at` of a formula that is being typed where `context` says. Never throws. */
export function complete(model: Model, context: Context, formula: string, at: number): Completion {
  const before = formula.slice(0, at);
  const parts = partsOf(before, model.head.units.speller);
  const call = callAround(parts, before);
  const argument = call === null ? null : inHand(model, call);
  const place = placeOf(parts, before);
  let worked: { readonly from: number; readonly options: readonly Option[] } | null = null;
  // Worked out when a list asks for them: each keystroke asks for the argument in hand alone.
  const offered = (): NonNullable<typeof worked> => {
    worked ??= labelInHand(model, context, parts, before) ?? {
      from: place?.from ?? at,
      options:
        place === null
          ? []
          : ranked(candidatesAt(model, context, place, call, argument, parts, before), before.slice(place.from)),
    };
    return worked;
  };
  return {
    get from() {
      return offered().from;
    },
    to: at,
    get options() {
      return offered().options;
    },
    argument,
  };
}

const WORDS = /(?:\p{L}[\p{L}\p{M}\p{Nd}_]*\s+){1,6}[\p{L}\p{M}\p{Nd}_]*$/u;

/** A label of several words that is being typed: `malt i` offers the line that the screen calls Malt in. */
function labelInHand(
  model: Model,
  context: Context,
  parts: readonly Part[],
  before: string,
): { readonly from: number; readonly options: readonly Option[] } | null {
  const run = WORDS.exec(before);
  const last = parts.at(-1);
  if (run === null || last?.is === "text" || last?.is === "note") return null;
  const lines = lineCandidates(model, context);
  for (const { index } of run[0].matchAll(/(?<!\S)\S+\s/g)) {
    const typed = nameKey(run[0].slice(index)).replace(/\s+/g, " ");
    const found = lines.filter(({ words }) => words.some((label) => nameKey(label).startsWith(typed)));
    if (found.length > 0) return { from: run.index + index, options: found.slice(0, MOST_OPTIONS).map(optionOf) };
  }
  return null;
}

const optionOf = ({ option, detail }: Candidate): Option => ({ ...option, detail: detail?.() ?? option.detail });

/** What is wanted where the cursor is, and where the word in hand begins. */
interface Place {
  readonly wants: "operand" | "unit" | "asked" | "after" | "text";
  readonly from: number;
}

const touches = (part: Part | undefined, at: number): part is Part => part !== undefined && part.end === at;

const ENDS_OPERAND: ReadonlySet<Part["is"]> = new Set([
  "number",
  "unit",
  "text",
  "instant",
  "truth",
  "name",
  "close",
  "broken",
]);

/** Null where nothing is offered: inside a note, a figure, a closed text. */
function placeOf(parts: readonly Part[], text: string): Place | null {
  const at = text.length;
  const last = parts.at(-1);
  if (last === undefined) return { wants: "operand", from: at };
  if (last.is === "note" && touches(last, at)) return null;
  const qualified = /[\p{L}][\p{L}\p{M}\p{Nd}_.]*\.$/u.exec(text);
  if (qualified !== null && last.is !== "text") return { wants: "operand", from: qualified.index };
  if (!touches(last, at)) return { wants: wantsBehind(parts, text), from: at };
  if (last.is === "text")
    return isClosed(text.slice(last.start, last.end)) ? null : { wants: "text", from: last.start };
  if (last.is === "unit")
    return { wants: parts.at(-2)?.is === "blank" ? "asked" : "unit", from: factorStart(text, last) };
  if (last.is === "number" || last.is === "instant" || last.is === "close") return null;
  if (last.is === "blank") return { wants: "asked", from: at };
  if (last.is === "operator" && touches(parts.at(-2), last.start) && parts.at(-2)?.is === "unit")
    return { wants: "unit", from: at };
  if (last.is === "operator" || last.is === "open" || last.is === "comma" || last.is === "argument")
    return { wants: "operand", from: at };
  const from = last.start;
  const earlier = parts.filter(({ end }) => end <= from);
  if (earlier.at(-1)?.is === "blank") return { wants: "asked", from };
  // `3.2 L/k`: the stroke touches the unit, so that another unit may follow.
  const [unit, stroke] = earlier.slice(-2);
  if (unit?.is === "unit" && stroke?.end === from && unit.end === stroke.start) return { wants: "unit", from };
  return { wants: earlier.length === 0 ? "operand" : wantsBehind(earlier, text), from };
}

const isClosed = (text: string): boolean =>
  text.length > 1 && text.endsWith('"') && (text.length - text.replaceAll('"', "").length) % 2 === 0;

/** Where the last factor of a unit phrase begins: `L/k` is at `k`. */
const factorStart = (text: string, { start, end }: Part): number =>
  start + (/[/·*]([^/·*]*)$/.exec(text.slice(start, end))?.index ?? -1) + 1;

/** What may follow complete parts. */
function wantsBehind(parts: readonly Part[], text: string): Place["wants"] {
  const last = parts.at(-1);
  if (last === undefined) return "operand";
  if (last.is === "blank") return "asked";
  if (last.is === "number") return "unit";
  if (last.is === "keyword") {
    const word = text.slice(last.start, last.end);
    return word === "as" ? "unit" : word.endsWith("missing") || parts.at(-2)?.is === "blank" ? "after" : "operand";
  }
  return ENDS_OPERAND.has(last.is) ? "after" : "operand";
}

function candidatesAt(
  model: Model,
  context: Context,
  { wants, from }: Place,
  call: Call | null,
  argument: ArgumentInHand | null,
  parts: readonly Part[],
  text: string,
): readonly Candidate[] {
  switch (wants) {
    case "text":
      return textCandidates(argument);
    case "unit":
      return [
        ...unitCandidates(model, context, text.slice(0, from), argument),
        ...(text.slice(0, from).trimEnd().endsWith("as") ? [] : keywordCandidates(parts, text.slice(0, from))),
      ];
    case "asked":
      return [...wordCandidates(), ...unitCandidates(model, context, "", null)];
    case "after":
      return keywordCandidates(parts, text.slice(0, from));
    default:
      return [
        ...textCandidates(argument),
        ...(call === null || !call.atStart(from) ? [] : namedCandidates(model, call)),
        ...filteredCandidates(model, context, parts, text.slice(0, from)),
        ...columnCandidates(model, context),
        ...lineCandidates(model, context),
        ...functionCandidates(model),
        ...keywordCandidates(null, text.slice(0, from)),
      ];
  }
}

/** Shorter words are only looked for where words begin. */
const SHORTEST_INSIDE = 3;

/** Lower is better; null: it is not what is typed. */
function score(word: string, { option, words, prose = "" }: Candidate): number | null {
  if (word === "") return 0;
  const name = nameKey(option.label);
  if (name === word) return 0;
  if (name.startsWith(word)) return 1;
  if (name.split(/[_.\s]/).some((part) => part.startsWith(word))) return 2;
  const spelt = words.map(nameKey);
  if (spelt.some((each) => each.startsWith(word))) return 3;
  if (spelt.some((each) => each.split(/[\s_]+/).some((part) => part.startsWith(word)))) return 4;
  if (word.length < SHORTEST_INSIDE) return null;
  if (name.includes(word) || spelt.some((each) => each.includes(word))) return 5;
  return prose.toLowerCase().includes(word) ? 6 : null;
}

/** Where case counts, what is spelt so comes before everything, and what begins so before what only sounds so. */
function exactScore(typed: string, word: string, candidate: Candidate): number | null {
  const { label } = candidate.option;
  if (typed === "" || (label.startsWith(typed) && label !== typed)) return 0;
  const points = score(word, candidate);
  return label === typed ? -1 : points === null ? null : Math.max(points, 2);
}

/** Those that the word in hand begins or is found in, best first; of equals those that come first. */
function ranked(candidates: readonly Candidate[], typed: string): readonly Option[] {
  const word = nameKey(typed.trim());
  const found = candidates.flatMap((candidate, at) => {
    const points = candidate.exactCase === true ? exactScore(typed.trim(), word, candidate) : score(word, candidate);
    return points === null || (word === "" && candidate.rare === true) ? [] : [{ candidate, at, points }];
  });
  found.sort((a, b) => a.points - b.points || a.at - b.at);
  return found.slice(0, MOST_OPTIONS).map(({ candidate }) => optionOf(candidate));
}
