import { nameKey } from "../base/names.ts";
import { nearestSpelling } from "../base/nearest.ts";
import { LIBRARY_FUNCTIONS } from "../library/functions.ts";
import { GENERAL_FUNCTIONS } from "../operations/functions.ts";
import { MONEY_SIGNS } from "../parser/slips.ts";
import type { UnitBook } from "../units/book.ts";
import type { Unit } from "../units/unit.ts";

/*
 * What was most likely meant by a spelling that nothing has: a unit in another case or without its degree sign, a function
 * by a word of the trade.
 */

/** More suggestions than these are no help. */
const MOST_MEANT = 3;

/** A unit's spelling without case, blanks, degree signs and points: `degrees F`, `° f` and `F` are one. */
export const loosened = (spelling: string): string =>
  spelling.toLowerCase().replace(/[°º˚δ∆\s.]|^deg(?:ree)?s?\s*|^delta\s*/g, "");

const isDifference = (spelling: string): boolean => /^(?:[δΔ∆]|delta)/i.test(spelling);

/** The codes of currencies are near to much, `kgs` to one of them; capitals alone mean them. */
const CURRENCY = /^[A-Z]{3}$/;

/** Words for a unit that is another's power. */
const POWERS: readonly (readonly [RegExp, string])[] = [
  [/^sq(?:uare)? (.+)$/i, "²"],
  [/^cu(?:bic)? (.+)$/i, "³"],
  [/^(.+)2$/, "²"],
  [/^(.+)3$/, "³"],
];

/** Spellings in use that are near to nothing. */
const SPOKEN: ReadonlyMap<string, readonly string[]> = new Map([
  ["°", ["°C", "°F", "°P"]],
  ["deg", ["°C", "°F", "°P"]],
  ["degrees", ["°C", "°F", "°P"]],
  ["dollars", ["USD", "CAD", "AUD"]],
  ["euros", ["EUR"]],
  ["us ton", ["short ton"]],
  ["imperial ton", ["long ton"]],
  ["lov", ["°L"]],
  ["d", ["day"]],
  // Measures that have no unit here, and are near to units that nobody means.
  ["ppg", []],
  ["keg", []],
  ["kegs", []],
  ["cup", []],
  ["cups", []],
  ["tsp", []],
  ["tbsp", []],
  ["abv", ["% vol"]],
  ["abw", ["% mass"]],
]);

/** The units that are spelt so but for case, blanks, points and degree signs; a difference only where one is spelt. */
function spelledLoosely(spelling: string, book: UnitBook): readonly Unit[] {
  const word = loosened(spelling.replace(/^(?:imperial|british) /i, "imp "));
  if (word === "") return [];
  const capitals = spelling === spelling.toUpperCase();
  return book
    .all()
    .filter(
      (unit) =>
        (capitals || !CURRENCY.test(unit.symbol)) &&
        [unit.symbol, ...unit.names].some(
          (one) => loosened(one) === word && isDifference(one) === isDifference(spelling),
        ),
    );
}

/** The same but for single letters in the other case: `M` is no metre for sure. */
export const spelledSurely = (spelling: string, book: UnitBook): readonly Unit[] =>
  spelledLoosely(spelling, book).filter(({ symbol }) => spelling.length > 1 || symbol.length > 1);

/** The units that an unknown spelling may stand for, best first; none: nothing is near. */
export function unitsMeant(spelling: string, book: UnitBook): readonly string[] {
  const spoken = SPOKEN.get(spelling.toLowerCase()) ?? MONEY_SIGNS.get(spelling);
  if (spoken !== undefined) return spoken;
  for (const [pattern, power] of POWERS) {
    const base = pattern.exec(spelling)?.[1] ?? "";
    const found = base === "" ? null : book.find(base);
    if (found?.is === "linear") return [`${found.symbol}${power}`];
  }
  const loose = spelledLoosely(spelling, book);
  if (loose.length > 0) return loose.slice(0, MOST_MEANT).map(({ symbol }) => symbol);
  const near = book.near(spelling);
  return near === null ? [] : [near];
}

const FUNCTIONS = [...GENERAL_FUNCTIONS, ...LIBRARY_FUNCTIONS];

const words = (text: string): string => nameKey(text).replace(/[_-]/g, " ");

/** How far a function is from a word of the trade: its first search word, a word of its name, a further search word. */
function farFrom(word: string, { name, searchWords }: (typeof FUNCTIONS)[number]): number {
  const at = searchWords.findIndex((each) => words(each) === word);
  return at === 0 ? 0 : words(name).split(" ").includes(word) ? 1 : at > 0 ? 2 : 3;
}

/** The functions that are looked for under a word of the trade, `abv`, `strike_water`, best first. */
function functionsFor(name: string): readonly string[] {
  const word = words(name);
  return FUNCTIONS.map((of) => ({ name: of.name, far: farFrom(word, of) }))
    .filter(({ far }) => far < 3)
    .sort((a, b) => a.far - b.far)
    .map((of) => of.name);
}

/** The functions that an unknown name may stand for, best first: by a word of the trade, a slip of the pen, or its beginning. */
export function functionsMeant(name: string, own: readonly string[]): readonly string[] {
  const spoken = functionsFor(name);
  if (spoken.length > 0) return spoken.slice(0, MOST_MEANT);
  const near = nearestSpelling(name, [...own, ...FUNCTIONS.map((of) => of.name)]);
  if (near !== null) return [near];
  const word = nameKey(name);
  if (word.length < MOST_MEANT) return [];
  const begins = FUNCTIONS.filter((of) => of.name.startsWith(word)).map((of) => of.name);
  return (
    begins.length > 0 ? begins : FUNCTIONS.filter((of) => words(of.name).includes(words(name))).map((of) => of.name)
  ).slice(0, MOST_MEANT);
}

const tradeFunction = (word: string): string | undefined =>
  LIBRARY_FUNCTIONS.find(({ searchWords }) => searchWords.some((each) => words(each) === word))?.name;

/** What else helps whoever used a name that nothing has in this formula, where a word of the language or a function is meant. */
export function nameHint(name: string, book: UnitBook, formula: string): string {
  const word = nameKey(name);
  if (word === "pi" || word === "π") return "Write 3.14159.";
  if (word === "today" || word === "now") return "batch_date stands for today.";
  if (word === "true" || word === "false") return "Write yes or no.";
  if (book.find(name) !== null) return `${name} is a unit, which stands behind a figure: 5 ${name}.`;
  if (FUNCTIONS.some((each) => each.name === word)) return `The function ${word} works it out: ${word}(…).`;
  const of = tradeFunction(words(name));
  // Where it is called already, the name was one of its arguments.
  return of === undefined || formula.includes(`${of}(`) ? "" : `The function ${of} may be meant: ${of}(…).`;
}
