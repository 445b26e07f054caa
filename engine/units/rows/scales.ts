import { massShare, specificGravity } from "../gravity.ts";
import type { LinearUnit, ReadingLine, ScaleUnit } from "../unit.ts";
import {
  ATMOSPHERE,
  BAR,
  DELTA_C,
  DELTA_F,
  DELTA_K,
  INCH_OF_MERCURY,
  KILOPASCAL,
  MILLIBAR,
  MILLIMETRE_OF_MERCURY,
  PSI,
} from "./physics.ts";
import { COLOUR, DIASTATIC_POWER, FIRST, SI, SP811, TRADE } from "./row.ts";
import { DELTA_P, DELTA_PH } from "./trade.ts";

const C440 = "NBS Circular C440 (1942), Table 114";

interface Row extends Pick<ScaleUnit, "symbol" | "names" | "decimals" | "source" | "says" | "difference" | "reads"> {}

const curved = (
  of: Row,
  toCoherent: (figure: number) => number,
  fromCoherent: (value: number) => number,
): ScaleUnit => ({
  is: "scale",
  ...of,
  line: null,
  toCoherent,
  fromCoherent,
  since: FIRST,
});

/** A scale whose figures lie on a straight line: coherent value = (figure − origin) × size ÷ per. */
const straight = (of: Row, line: ReadingLine): ScaleUnit => ({
  is: "scale",
  ...of,
  line,
  toCoherent: (figure) => ((figure - line.origin) * line.size) / line.per,
  fromCoherent: (value) => (value * line.per) / line.size + line.origin,
  since: FIRST,
});

const temperature = (
  symbol: string,
  names: readonly string[],
  line: ReadingLine,
  difference: LinearUnit,
  says: string,
  decimals: number,
) => straight({ symbol, names, decimals, source: SP811, says, difference, reads: "temperature" }, line);

const TEMPERATURES: readonly ScaleUnit[] = [
  temperature("°C", ["degC", "℃", "deg C", "celsius", "Celsius"], { origin: 0, size: 1, per: 1 }, DELTA_C, "°C", 1),
  temperature(
    "°F",
    ["degF", "℉", "deg F", "fahrenheit", "Fahrenheit"],
    { origin: 32, size: 5, per: 9 },
    DELTA_F,
    "°F = 9/5 °C + 32",
    1,
  ),
  temperature("K", ["kelvin", "Kelvin"], { origin: 273.15, size: 1, per: 1 }, DELTA_K, "K = °C + 273.15", 2),
];

const gravity = (
  symbol: string,
  names: readonly string[],
  decimals: number,
  says: string,
  source: string,
  toGravity: (figure: number) => number,
  fromGravity: (gravity: number) => number,
): ScaleUnit =>
  curved(
    { symbol, names, decimals, source, says, difference: null, reads: "gravity" },
    (figure) => massShare(toGravity(figure)),
    (value) => fromGravity(specificGravity(value)),
  );

const share = (symbol: string, names: readonly string[], says: string): ScaleUnit =>
  straight(
    { symbol, names, decimals: 2, source: C440, says, difference: DELTA_P, reads: "gravity" },
    { origin: 0, size: 1, per: 100 },
  );

/** The US modulus for liquids heavier than water. */
const BAUME_MODULUS = 145;

const GRAVITIES: readonly ScaleUnit[] = [
  share(
    "°P",
    ["degP", "deg P", "Plato", "plato", "°Plato", "degrees Plato"],
    "g of extract in 100 g of wort, along the sucrose table",
  ),
  share("°Bx", ["degBx", "deg Bx", "Brix", "brix", "°Brix", "degrees Brix"], "g of sucrose in 100 g of solution"),
  gravity(
    "SG",
    ["sg"],
    4,
    "apparent specific gravity 20/20 °C",
    C440,
    (figure) => figure,
    (s) => s,
  ),
  gravity(
    "GU",
    [],
    1,
    "GU = 1000 (SG − 1)",
    C440,
    (figure) => 1 + figure / 1000,
    (s) => (s - 1) * 1000,
  ),
  gravity(
    "°Oe",
    ["degOe", "deg Oe", "Oechsle", "oechsle", "Öchsle", "°Oechsle"],
    1,
    "°Oe = 1000 (SG − 1)",
    C440,
    (figure) => 1 + figure / 1000,
    (s) => (s - 1) * 1000,
  ),
  gravity(
    "°Bé",
    ["degBe", "degBé", "°Be", "°Be\u0301", "Baumé", "Baume", "baume", "°Baumé"],
    2,
    "°Bé = 145 − 145/SG",
    `NBS Circular C440 (1942), modulus ${BAUME_MODULUS}`,
    (figure) => (figure < BAUME_MODULUS ? BAUME_MODULUS / (BAUME_MODULUS - figure) : Number.POSITIVE_INFINITY),
    (s) => (s > 0 ? BAUME_MODULUS - BAUME_MODULUS / s : Number.NEGATIVE_INFINITY),
  ),
];

const absolute = (of: LinearUnit, symbol: string, names: readonly string[]): ScaleUnit =>
  straight(
    {
      symbol,
      names,
      decimals: of.decimals,
      source: of.source,
      says: `absolute pressure in ${of.symbol}`,
      difference: of,
      reads: "absolute pressure",
    },
    { origin: 0, size: of.factor, per: 1 },
  );

const ABSOLUTE_PRESSURES: readonly ScaleUnit[] = [
  absolute(PSI, "psia", ["psi abs"]),
  absolute(BAR, "bara", ["bar abs"]),
  absolute(KILOPASCAL, "kPaa", ["kPa abs"]),
  absolute(MILLIBAR, "mbara", ["mbar abs"]),
  absolute(ATMOSPHERE, "atma", ["atm abs"]),
  absolute(INCH_OF_MERCURY, "inHga", ["inHg abs"]),
  absolute(MILLIMETRE_OF_MERCURY, "mmHga", ["mmHg abs"]),
];

const OTHERS: readonly ScaleUnit[] = [
  straight(
    { symbol: "pH", names: [], decimals: 2, source: SI, says: "pH", difference: DELTA_PH, reads: "pH" },
    { origin: 0, size: 1, per: 1 },
  ),
  curved(
    {
      symbol: "°L",
      names: ["degL", "Lovibond", "lovibond", "°Lov", "°Lovibond"],
      decimals: 1,
      source: "ASBC Methods of Analysis, Beer-10",
      says: "SRM = 1.3546 °L − 0.76",
      difference: null,
      reads: COLOUR,
    },
    (figure) => 1.3546 * figure - 0.76,
    (value) => (value + 0.76) / 1.3546,
  ),
  curved(
    {
      symbol: "°WK",
      names: ["degWK", "WK", "Windisch-Kolbach"],
      decimals: 0,
      source: `${TRADE} (MEBAK; °WK = 3.5 °Lintner − 16)`,
      says: "°WK = 3.5 °Lintner − 16",
      difference: null,
      reads: DIASTATIC_POWER,
    },
    (figure) => (figure + 16) / 3.5,
    (value) => 3.5 * value - 16,
  ),
];

/** Every scale: readings with an origin or a curve. */
export const SCALES: readonly ScaleUnit[] = [...TEMPERATURES, ...GRAVITIES, ...ABSOLUTE_PRESSURES, ...OTHERS];
