/** A word that two measures share. Nothing guesses: it is refused with its choices, unless a workbook says what it means. */
export interface AmbiguousUnit {
  readonly is: "ambiguous";
  /** The word by which a workbook settles it: `gal`. */
  readonly word: string;
  /** Long and plural forms of the word. */
  readonly names: readonly string[];
  /** Catalogued symbols, each with its size as it is told: `US gal`, `3.785 L`. */
  readonly choices: readonly { readonly symbol: string; readonly size: string }[];
}

const ambiguous = (
  word: string,
  names: readonly string[],
  choices: Readonly<Record<string, string>>,
): AmbiguousUnit => ({
  is: "ambiguous",
  word,
  names,
  choices: Object.entries(choices).map(([symbol, size]) => ({ symbol, size })),
});

/** Every word that is refused. The sizes are rounded for reading; the factors stand in the catalogue. */
export const AMBIGUOUS_UNITS: readonly AmbiguousUnit[] = [
  ambiguous("gal", ["gals", "gallon", "gallons"], { "US gal": "3.785 L", "imp gal": "4.546 L" }),
  ambiguous("bbl", ["bbls", "barrel", "barrels"], { "US bbl": "117.3 L", "UK bbl": "163.7 L" }),
  ambiguous("fl oz", ["fluid ounce", "fluid ounces"], { "US fl oz": "29.57 mL", "imp fl oz": "28.41 mL" }),
  ambiguous("pt", ["pts", "pint", "pints"], { "US pt": "473.2 mL", "imp pt": "568.3 mL" }),
  ambiguous("qt", ["qts", "quart", "quarts"], { "US qt": "946.4 mL", "imp qt": "1137 mL" }),
  ambiguous("ton", ["tons"], { t: "1000 kg", "short ton": "907.2 kg", "long ton": "1016 kg" }),
  ambiguous("cwt", ["cwts", "hundredweight", "hundredweights"], { "UK cwt": "50.80 kg", "US cwt": "45.36 kg" }),
];

/** `oz` is a mass; where a volume is wanted these are told. */
export const OUNCE_OF_VOLUME: AmbiguousUnit = ambiguous("oz", ["ounce", "ounces"], {
  "US fl oz": "29.57 mL",
  "imp fl oz": "28.41 mL",
});

/** What measures of a country begin with. */
const COUNTRIES: readonly (readonly [RegExp, readonly string[]])[] = [
  [/^(?:u\.?s\.?a?\.?|american)$/i, ["US", "short"]],
  [/^(?:u\.?k\.?|imp(?:erial)?\.?|british)$/i, ["imp", "UK", "long"]],
];

const COUNTRY_BEHIND =
  /(?<=\d\s*)(\p{L}[\p{L}.]*(?: \p{L}+\.?)?)[\s,]*(?:\(\s*)?(u\.?s\.?a?\.?|american|u\.?k\.?|imp(?:erial)?\.?|british)(?:\s*\))?(?![\p{L}\p{M}\p{Nd}_])/giu;

/** Units behind figures that have their country behind them, `5 gal US`, `5 gallons (imperial)`, with the unit that is meant: `US gal`. */
export function countriesBehind(
  text: string,
): readonly { readonly start: number; readonly end: number; readonly unit: string }[] {
  return [...text.matchAll(COUNTRY_BEHIND)].flatMap(({ 0: typed, 1: word = "", 2: country = "", index }) => {
    const [, beginnings = []] = COUNTRIES.find(([spelt]) => spelt.test(country)) ?? [];
    const spelling = word.toLowerCase().replace(/\.$/, "");
    const named = AMBIGUOUS_UNITS.find((one) => one.word === spelling || one.names.includes(spelling));
    const unit = named?.choices.find(({ symbol }) => beginnings.some((each) => symbol.startsWith(`${each} `)));
    return unit === undefined ? [] : [{ start: index, end: index + typed.length, unit: unit.symbol }];
  });
}
