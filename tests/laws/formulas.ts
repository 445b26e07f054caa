import fc from "fast-check";

/** A book of single figures of several kinds, some of them missing or of a table without a row or of a log with one, for formulas that are made at random. */
export const FIGURES = `gylebook 1
library 1
function twice(x) = 2 * x
function pick(c, x, y) = if c then x else y
sheet here
m1 = 3 kg
m2 = -2 lb
v1 = 640 L
n0 = 0
n1 = 2.5
n2 = -4
t1 = 66 °C
t2 = 61 °F
d1 = 5 Δ°C
g1 = 12.1 °P
g2 = 1.010 SG
i1 = 2026-03-02T08:15
i2 = 2026-03-04
c1 = yes
c2 = no
w1 = ? kg
w2 = ?
e1 = last(none.m)
e2 = spread(begun.m)
x1 = 1 / 0
x2 = 3 kg + 4 L
table none
  column m : kg
  rows
  end
table begun
  column taken : instant
  column m : kg
  rows
    2026-03-02, 3
  end
`;

const names = [
  "m1",
  "m2",
  "v1",
  "n0",
  "n1",
  "n2",
  "t1",
  "t2",
  "d1",
  "g1",
  "g2",
  "i1",
  "i2",
  "c1",
  "c2",
  "w1",
  "w2",
  "e1",
  "e2",
  "x1",
  "x2",
];
const literals = ["0", "2", "-3", "0.5", "4 kg", "10 L", "20 °C", "3 Δ°C", "7 °P", "1 day", "yes"];

/** Formulas of single figures, most of which some kind rule refuses. */
export const { formula } = fc.letrec<{ formula: string; leaf: string }>((tie) => ({
  leaf: fc.oneof({ weight: 3, arbitrary: fc.constantFrom(...names) }, fc.constantFrom(...literals)),
  formula: fc.oneof(
    { depthSize: "small", withCrossShrink: true },
    tie("leaf"),
    fc
      .tuple(tie("formula"), fc.constantFrom("+", "-", "*", "/"), tie("formula"))
      .map(([a, operator, b]) => `(${a}) ${operator} (${b})`),
    fc
      .tuple(tie("formula"), fc.constantFrom("<", "<=", ">", ">=", "is", "is not"), tie("formula"))
      .map(([a, operator, b]) => `(${a}) ${operator} (${b})`),
    fc
      .tuple(tie("formula"), fc.constantFrom("and", "or"), tie("formula"))
      .map(([a, word, b]) => `(${a}) ${word} (${b})`),
    fc.tuple(tie("formula"), fc.constantFrom("2", "0", "0.5", "-1", "3")).map(([a, power]) => `(${a}) ^ ${power}`),
    tie("formula").map((a) => `not (${a})`),
    tie("formula").map((a) => `-(${a})`),
    tie("formula").map((a) => `twice(${a})`),
    tie("formula").map((a) => `(${a}) is missing`),
    fc.tuple(tie("formula"), tie("formula"), tie("formula")).map(([c, a, b]) => `if (${c}) then (${a}) else (${b})`),
    fc.tuple(tie("formula"), tie("formula"), tie("formula")).map(([c, a, b]) => `pick(${c}, ${a}, ${b})`),
    fc.tuple(tie("formula"), tie("formula")).map(([a, b]) => `max(${a}, ${b})`),
    fc.tuple(tie("formula"), tie("formula")).map(([a, b]) => `first_known(${a}, ${b})`),
  ),
}));
