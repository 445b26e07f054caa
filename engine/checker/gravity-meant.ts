/** Specific gravities of wort and beer. */
const SG_LOW = 0.98;
const SG_HIGH = 1.2;
/** Degrees above this are no wort: what is typed is more likely points. */
const MOST_DEGREES = 30;
/** Points above this are no wort. */
const MOST_POINTS = 200;
/** Nobody reads degrees so finely that a figure such as 1.048 is one. */
const SG_DECIMALS = 3;
/** Degrees may be read to a tenth; with a figure more, 1.05 may be either. */
const EITHER_DECIMALS = 2;

const decimalsOf = (numeral: string): number => numeral.split(".")[1]?.length ?? 0;

/** `1.048 SG` of 1048 or of 48 points, with the decimals that were typed. */
const sgOfThousandths = (thousandths: number, decimals: number): string =>
  `${(thousandths / 1000).toFixed(SG_DECIMALS + decimals)} SG`;

const isSg = (figure: number): boolean => figure >= SG_LOW && figure <= SG_HIGH;

/** Units whose figures are thousandths above 1. */
const POINTS: ReadonlySet<string> = new Set(["GU", "°Oe"]);

/**
 * What a bare figure may mean in a gravity field that shows `unit`, as literals; none: it is no gravity. Brewers type 1048
 * for 1.048, and 48 for 48 points as well as for degrees: what can be meant two ways is asked.
 */
export function gravitiesMeant(numeral: string, unit: string): readonly string[] {
  const figure = Number(numeral);
  const decimals = decimalsOf(numeral);
  const own = `${numeral} ${unit}`;
  if (isSg(figure / 1000)) return [sgOfThousandths(figure, decimals)];
  if (unit === "SG") {
    if (isSg(figure)) return [own];
    return figure > SG_HIGH && figure <= MOST_POINTS ? [sgOfThousandths(1000 + figure, decimals), `${numeral} °P`] : [];
  }
  if (figure > MOST_POINTS) return [];
  if (isSg(figure) && decimals >= EITHER_DECIMALS) return [`${numeral} SG`, own];
  if (figure > MOST_DEGREES && !POINTS.has(unit)) return [sgOfThousandths(1000 + figure, decimals), own];
  return [own];
}
