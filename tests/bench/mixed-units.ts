import { all, create } from "mathjs";
import { BASE_BOOK } from "../../engine/units/book.ts";
import { columnToCoherent } from "../../engine/units/convert.ts";
import { unitNamed } from "../../engine/units/phrase.ts";
import { bookOf, counted, modelOf, nodeOf, readLines } from "./books.ts";
import type { Workload } from "./race.ts";

/*
 * Formulas in mixed units against the same arithmetic with no units at all, and the conversion of a whole column.
 */

const FORMULAS = 10_000;
const LENGTH = 1_000_000;

const POUND = 0.453_592_37;
const US_GALLON = 3.785_411_784e-3;
const PSI = (POUND * 9.806_65) / 0.0254 ** 2;

/** What the formulas draw on; `share` is edited. Coherent figures stand beside what is written in the book and for mathjs. */
const INPUTS = [
  { name: "share", book: "0.5", mathjs: "0.5", figure: 0.5 },
  { name: "grain", book: "212 kg", mathjs: "212 kg", figure: 212 },
  { name: "extra", book: "12 lb", mathjs: "12 lbm", figure: 12 * POUND },
  { name: "water", book: "640 L", mathjs: "640 L", figure: 0.64 },
  { name: "liquor", book: "31 US gal", mathjs: "31 gallon", figure: 31 * US_GALLON },
  { name: "warmth", book: "152 °F", mathjs: "152 degF", figure: ((152 - 32) * 5) / 9 },
  { name: "rise", book: "3 Δ°C", mathjs: "3 K", figure: 3 },
  { name: "salt", book: "75 mg/L", mathjs: "75 mg/L", figure: 0.075 },
  { name: "pressure", book: "12 psi", mathjs: "12 psi", figure: 12 * PSI },
] as const;

type Figures = Readonly<Record<(typeof INPUTS)[number]["name"], number>>;

interface Form {
  readonly book: (k: number) => string;
  readonly mathjs: (k: number) => string;
  /** The unit that mathjs gives the result in, and what to take off it: it has absolute temperatures. */
  readonly unit: string;
  readonly origin?: number;
  readonly plain: (figures: Figures, k: number) => number;
}

const FORMS: readonly Form[] = [
  {
    book: (k) => `grain * share + ${k} lb`,
    mathjs: (k) => `grain * share + ${k} lbm`,
    unit: "kg",
    plain: ({ grain, share }, k) => grain * share + k * POUND,
  },
  {
    book: (k) => `(water + liquor * share) / grain * ${k} as L/kg`,
    mathjs: (k) => `(water + liquor * share) / grain * ${k}`,
    unit: "m^3/kg",
    plain: ({ water, liquor, share, grain }, k) => ((water + liquor * share) / grain) * k,
  },
  {
    book: (k) => `warmth + rise * share * ${k}`,
    mathjs: (k) => `warmth + rise * share * ${k}`,
    unit: "K",
    origin: 273.15,
    plain: ({ warmth, rise, share }, k) => warmth + rise * share * k,
  },
  {
    book: (k) => `salt * water * share * ${k} as g`,
    mathjs: (k) => `salt * water * share * ${k}`,
    unit: "kg",
    plain: ({ salt, water, share }, k) => salt * water * share * k,
  },
  {
    book: (k) => `pressure * share + ${k} psi`,
    mathjs: (k) => `pressure * share + ${k} psi`,
    unit: "Pa",
    plain: ({ pressure, share }, k) => pressure * share + k * PSI,
  },
  {
    book: (k) => `extra * share * ${k} L/kg - liquor`,
    mathjs: (k) => `extra * share * ${k} L/kg - liquor`,
    unit: "m^3",
    plain: ({ extra, share, liquor }, k) => extra * share * k * 1e-3 - liquor,
  },
];

/** A closure for each operation: what a compiler of formulas without units makes. */
type Closure = () => number;

function closuresOf(values: Float64Array, at: Readonly<Record<string, number>>): readonly ((k: number) => Closure)[] {
  const load = (name: string): Closure => {
    const place = at[name] as number;
    return () => values[place] as number;
  };
  const constant =
    (figure: number): Closure =>
    () =>
      figure;
  const add =
    (a: Closure, b: Closure): Closure =>
    () =>
      a() + b();
  const subtract =
    (a: Closure, b: Closure): Closure =>
    () =>
      a() - b();
  const multiply =
    (a: Closure, b: Closure): Closure =>
    () =>
      a() * b();
  const divide =
    (a: Closure, b: Closure): Closure =>
    () =>
      a() / b();
  const part = (name: string): Closure => multiply(load(name), load("share"));
  return [
    (k) => add(part("grain"), constant(k * POUND)),
    (k) => multiply(divide(add(load("water"), part("liquor")), load("grain")), constant(k)),
    (k) => add(load("warmth"), multiply(part("rise"), constant(k))),
    (k) => multiply(multiply(multiply(load("salt"), load("water")), load("share")), constant(k)),
    (k) => add(part("pressure"), constant(k * PSI)),
    (k) => subtract(multiply(part("extra"), constant(k * 1e-3)), load("liquor")),
  ];
}

const shareOf = (turn: number): number => 0.5 + (turn % 16) / 64;
const factorOf = (at: number): number => 1 + (at % 50) / 10;

export function mixedUnits(): Workload {
  const at = counted(FORMULAS);
  const formOf = (place: number): Form => FORMS[place % FORMS.length] as Form;
  const names = at.map((place) => `f${place}`);
  const model = modelOf(
    bookOf([
      ...INPUTS.map(({ name, book }) => `${name} = ${book}`),
      ...at.map((place) => `f${place} = ${formOf(place).book(factorOf(place))}`),
    ]),
  );
  const share = nodeOf(model, "share");

  const figures = Object.fromEntries(INPUTS.map(({ name, figure }) => [name, figure])) as Record<keyof Figures, number>;
  const looped = new Float64Array(FORMULAS);
  const factors = Float64Array.from(at, factorOf);

  const values = Float64Array.from(INPUTS, ({ figure }) => figure);
  const places = Object.fromEntries(INPUTS.map(({ name }, place) => [name, place]));
  const makers = closuresOf(values, places);
  const closures = at.map((place) => (makers[place % makers.length] as (k: number) => Closure)(factorOf(place)));
  const closed = new Float64Array(FORMULAS);

  const math = create(all ?? {});
  const scope = new Map<string, unknown>(INPUTS.map(({ name, mathjs }) => [name, math.evaluate(mathjs)]));
  const compiled = at.map((place) => math.compile(formOf(place).mathjs(factorOf(place))));
  let given: unknown[] = [];

  return {
    title: "10,000 formulas in mixed units, from compiled form",
    contenders: [
      {
        name: "plain functions, no units",
        run: (turn) => {
          figures.share = shareOf(turn);
          for (let place = 0; place < FORMULAS; place += 1)
            looped[place] = formOf(place).plain(figures, factors[place] as number);
        },
        read: () => looped,
      },
      {
        name: "closures, no units",
        run: (turn) => {
          values[0] = shareOf(turn);
          for (let place = 0; place < FORMULAS; place += 1) closed[place] = (closures[place] as Closure)();
        },
        read: () => closed,
      },
      { name: "engine", run: (turn) => model.tryFigure(share, shareOf(turn)), read: () => readLines(model, names) },
      {
        name: "mathjs with units",
        run: (turn) => {
          scope.set("share", shareOf(turn));
          given = compiled.map((formula) => formula.evaluate(scope));
        },
        read: () =>
          given.map((result, place) => {
            const { unit, origin = 0 } = formOf(place);
            return (result as { toNumber: (unit: string) => number }).toNumber(unit) - origin;
          }),
      },
    ],
    limits: [{ of: "engine", over: "closures, no units", most: 1.5 }],
  };
}

export function conversions(): Workload {
  const figures = Float64Array.from({ length: LENGTH }, (_, at) => 60 + (at % 997) / 10);
  const fahrenheit = unitNamed("°F", BASE_BOOK);
  let converted: Float64Array = new Float64Array(0);
  let looped = new Float64Array(0);
  return {
    title: "1,000,000 conversions of an array, °F to °C",
    contenders: [
      {
        name: "loop",
        run: () => {
          looped = new Float64Array(LENGTH);
          for (let at = 0; at < LENGTH; at += 1) looped[at] = (((figures[at] as number) - 32) * 5) / 9;
        },
        read: () => looped,
      },
      {
        name: "engine",
        run: () => {
          converted = columnToCoherent(figures, fahrenheit);
        },
        read: () => converted,
      },
    ],
    limits: [{ of: "engine", over: "loop", most: 1.2 }],
    time: 10,
    rounds: 60,
  };
}
