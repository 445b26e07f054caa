import { nearestSpelling } from "../base/nearest.ts";
import { AMBIGUOUS_UNITS, type AmbiguousUnit } from "./ambiguous.ts";
import { CATALOGUE } from "./catalogue.ts";
import type { Dimension } from "./dimension.ts";
import { addSpelling, emptySpellings, type SpellingNode, spellingEnd, spelt } from "./speller.ts";
import type { LinearUnit, ShownUnit, Unit } from "./unit.ts";

/** The units that a workbook knows: the catalogue, its own units, and what it says of ambiguous words. */
export interface UnitBook {
  /** The length of the longest unit spelling at `at`, ambiguous words included; 0 when none starts there. Never ends inside a word. */
  readonly speller: (text: string, at: number) => number;
  /** The unit that is spelt so, or the ambiguous word with its choices; null when there is none. Case counts. */
  readonly find: (spelling: string) => Unit | AmbiguousUnit | null;
  /** The spelling that was most likely meant, or null. */
  readonly near: (spelling: string) => string | null;
  /** Phrases that were looked up, by what is written: one phrase is one object, however often it is written. */
  readonly resolved: Map<string, ShownUnit>;
  /** Own units first, then the catalogue in its order. */
  readonly all: () => readonly Unit[];
}

type Entry = Unit | AmbiguousUnit;

const spellingsOf = (entry: Entry): readonly string[] => [
  entry.is === "ambiguous" ? entry.word : entry.symbol,
  ...entry.names,
];

function spellingTree(entries: readonly Entry[]): SpellingNode<Entry> {
  const root = emptySpellings<Entry>();
  for (const entry of entries) for (const spelling of spellingsOf(entry)) addSpelling(root, spelling, entry);
  return root;
}

const CATALOGUE_ENTRIES: readonly Entry[] = [...CATALOGUE, ...AMBIGUOUS_UNITS];
const WITHOUT_MONEY = CATALOGUE_ENTRIES.filter(
  (entry) => entry.is !== "linear" || !entry.dimension.powers.some(([base]) => base.startsWith("currency:")),
);
const CAPITALS = /^[A-Z]+$/;

/** The many short codes of currencies are near to nearly everything; one is meant only by capitals. */
const meantBy = (spelling: string): readonly Entry[] => (CAPITALS.test(spelling) ? CATALOGUE_ENTRIES : WITHOUT_MONEY);

const CATALOGUE_TREE = spellingTree(CATALOGUE_ENTRIES);

/**
 * Makes a book. `own` are the workbook's units; they win over the catalogue. `means` maps an ambiguous word (`gal`) to the
 * symbol of one of its choices (`US gal`); any other pair is ignored, so whoever reads the line says what is wrong with it.
 */
export function createUnitBook({
  own,
  means,
}: {
  readonly own: readonly LinearUnit[];
  readonly means: ReadonlyMap<string, string>;
}): UnitBook {
  const ownTree = own.length > 0 ? spellingTree(own) : null;
  const settled = new Map<AmbiguousUnit, Unit>();
  for (const [word, symbol] of means) {
    const entry = spelt(CATALOGUE_TREE, word);
    const unit = spelt(CATALOGUE_TREE, symbol);
    if (
      entry?.is === "ambiguous" &&
      unit &&
      unit.is !== "ambiguous" &&
      entry.choices.some((choice) => choice.symbol === unit.symbol)
    ) {
      settled.set(entry, unit);
    }
  }
  const find = (spelling: string): Entry | null => {
    const found = (ownTree && spelt(ownTree, spelling)) ?? spelt(CATALOGUE_TREE, spelling);
    return found?.is === "ambiguous" ? (settled.get(found) ?? found) : found;
  };
  return {
    find,
    speller(text, at) {
      const end = spellingEnd(CATALOGUE_TREE, text, at);
      const ownEnd = ownTree ? spellingEnd(ownTree, text, at) : -1;
      const longest = Math.max(end, ownEnd);
      return longest < 0 ? 0 : longest - at;
    },
    near: (spelling) => nearestSpelling(spelling, [...own, ...meantBy(spelling)].flatMap(spellingsOf)),
    resolved: new Map(),
    all: () => [...own, ...CATALOGUE],
  };
}

/** The book of a workbook that defines nothing. */
export const BASE_BOOK: UnitBook = createUnitBook({ own: [], means: new Map() });

/** How many decimals a result in a workbook's own unit shows at the least: half sacks and tenths of a skip are usual. */
const OWN_DECIMALS = 2;

/** A unit that a workbook defines, `unit sack = 25 kg`: its value in coherent units. An English plural is understood with it. */
export const ownUnit = (name: string, dimension: Dimension, factor: number): LinearUnit => ({
  is: "linear",
  symbol: name,
  names: /\p{L}$/u.test(name) && !name.endsWith("s") ? [`${name}s`] : [],
  dimension,
  factor,
  decimals: OWN_DECIMALS,
  source: "this workbook",
  since: 0,
});
