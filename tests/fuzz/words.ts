import { GENERAL_FUNCTIONS, LIBRARY_FUNCTIONS } from "../../engine/index.ts";

/** What formulas and files are made of, so that chance reaches deep. */
export const UNITS: readonly string[] = [
  ..."kg L °C °F K °P SG °Bx GU °Oe % min h day psi psia kPa IBU SRM EBC °L pH ΔpH Δ°C Δ°P vol CAD CAD/kg L/kg g/hL kJ/kg/K mg/L mEq °dH sack cells/mL/°P gal oz m^(1/2) kg^20 L^7".split(
    " ",
  ),
  "US gal",
  "mg/L CaCO3",
  "% vol",
  "fl oz",
];

/** Lines and columns of {@link BOOK}, and names that are nowhere. */
export const NAMES: readonly string[] =
  "mass volume ratio rest gravity absolute gauge taken colour acid word truth blank unread zero huge wrong waits tab.at tab.mass tab.gravity tab.text tab.worked other.share nowhere __proto__ constructor größe mass.mass".split(
    " ",
  );

export const FIGURES: readonly string[] = [
  ..."0 1 2 10 12.1 0.5 72 100 1.048 66.5 -1.2 1e308 5e-324 1e-300 999999999999999999 .25 1.5e6 1,250 66,7 0x1f 1e999 00012".split(
    " ",
  ),
];

export const OPERATORS: readonly string[] = "+ - * / ^ and or is < <= > >= × ÷ − == != && ** |"
  .split(" ")
  .concat(["is not", "as", "where", "within"]);

export const CALLS: readonly string[] = [
  ...GENERAL_FUNCTIONS.map(({ name }) => name),
  ...LIBRARY_FUNCTIONS.map(({ name }) => name),
  "share",
  "nested",
  "hasOwnProperty",
];

/** What single signs and scraps may do where they are least wanted. */
export const SCRAPS: readonly string[] = [
  ..."( ) [ ] , ; : ? # \" “ ' + - * / ^ = . 5 1.5 kg °C % a.b f( x: if then else where as by within to not is missing and or yes no".split(
    " ",
  ),
  " ",
  "\t",
  "\u00a0",
  "\u200b",
  "\u202e",
  "\u2066",
  "\ufeff",
  "\0",
  "\ud800",
  "e\u0301",
  "\u{1f37a}",
  "<b>",
  '""',
  "2026-03-02",
  "2026-13-45T99:99",
];

export const STRUCTURE: readonly string[] = [
  "sheet s",
  'sheet t "T"',
  "table u",
  "rows",
  "end",
  "column c : °C",
  "column d = c + 1 Δ°C",
  "column e : text",
  'plot "p"',
  "line u.c",
  "across u.c",
  "unit sack = 25 kg",
  "unit bag = sack * 2",
  "function share(part, whole) = part / whole as %",
  "function loop(x) = loop(x)",
  "gal means US gal",
  "zone Europe/London",
  "lens metric",
  "library 1",
  "gylebook 1",
  "> prose <b>",
  'section "s"',
  "a = 2 kg",
  "b = a * 2",
  "c = a + 1 L",
  "d = ? °C",
  "a = 1, 2",
  "   1, 2, 3",
  '   "x, y", "',
  'mapping "csv"',
  'title "t"',
  "batch_date = ? 2026-03-01",
];

/** A book with a line of every kind. */
export const BOOK = `gylebook 1
library 1
title "Everything"
batch_date = ? 2026-03-01
unit sack = 25 kg
function share(part, whole) = part / whole as % by 0.1
function nested(x) = share(x, x + x) * x
sheet s "First"
mass "Malt" = 8.5 sack # note
volume = 640 L
ratio = volume / mass as L/kg by 0.01
rest = 66.5 °C within 60 to 70 °C
gravity = 12.1 °P
absolute = 14.7 psia
gauge = 10 psi
taken = 2026-03-02T08:15
colour = 12 SRM
acid = 5.4 pH
word = "kettle" within "kettle", "stand"
truth = mass > 100 kg
blank = ? 61 °F
unread = ? kg
zero = 0
huge = 1e300
wrong = mass + volume
waits = unread * 2
table tab "Table"
  column at : instant
  column mass : kg by 0.1
  column gravity : °P
  column text : text
  column worked = share(mass, s.mass)
  rows
    2026-03-02T08:15, 12.1, 17.8, a
    2026-03-03T08:15, 12 lb, 1.048 SG, "b, c"
    2026-03-04T08:15, , , 
  end
plot "Plot"
  across tab.at
  line tab.gravity
sheet other
share = s.mass / 2
mean = mean(s.tab.gravity)
`;
