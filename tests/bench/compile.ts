import { createToken, EmbeddedActionsParser, Lexer } from "chevrotain";
import { all, create } from "mathjs";
import { checkFormula } from "../../engine/checker/formula.ts";
import { writeTape } from "../../engine/evaluator/tape.ts";
import { bookOf, counted, language, modelOf } from "./books.ts";
import type { Workload } from "./race.ts";

/*
 * From text to what can be run: against a minimal grammar that yields nothing, and against mathjs.
 */

const FORMULAS = 10_000;

const Number_ = createToken({ name: "Number", pattern: /\d+(?:\.\d+)?/ });
const Word = createToken({ name: "Word", pattern: /[A-Za-z_°Δ]\w*/ });
const Sum = createToken({ name: "Sum", pattern: /[+-]/ });
const Product = createToken({ name: "Product", pattern: /[*/]/ });
const Open = createToken({ name: "Open", pattern: /\(/ });
const Close = createToken({ name: "Close", pattern: /\)/ });
const Blank = createToken({ name: "Blank", pattern: /\s+/, group: Lexer.SKIPPED });
const TOKENS = [Blank, Number_, Word, Sum, Product, Open, Close];

/** Sums of products of figures with units, names and parentheses; builds no tree. */
class MinimalParser extends EmbeddedActionsParser {
  constructor() {
    super(TOKENS, { maxLookahead: 1 });
    this.performSelfAnalysis();
  }
  readonly sum = this.RULE("sum", () => {
    this.SUBRULE(this.product);
    this.MANY(() => {
      this.CONSUME(Sum);
      this.SUBRULE1(this.product);
    });
  });
  readonly product = this.RULE("product", () => {
    this.SUBRULE(this.operand);
    this.MANY(() => {
      this.CONSUME(Product);
      this.SUBRULE1(this.operand);
    });
  });
  readonly operand = this.RULE("operand", () => {
    this.OR([
      {
        ALT: () => {
          this.CONSUME(Number_);
          this.MANY(() => {
            this.CONSUME(Word);
          });
        },
      },
      { ALT: () => this.CONSUME1(Word) },
      {
        ALT: () => {
          this.CONSUME(Open);
          this.SUBRULE(this.sum);
          this.CONSUME(Close);
        },
      },
    ]);
  });
}

const INPUTS = ["grain = 212 kg", "extra = 12 lb", "water = 640 L", "rise = 3 Δ°C", "share = 0.5"];
const FORMS: readonly ((k: string) => string)[] = [
  (k) => `grain * share + ${k} lb`,
  (k) => `(water + 31 L * share) / grain * ${k}`,
  (k) => `rise * share + ${k} Δ°C`,
  (k) => `extra * share * ${k} + grain`,
  (k) => `(grain + extra) * (share + ${k}) - 2 kg`,
];

export function compilation(): Workload {
  const texts = counted(FORMULAS).map((at) =>
    (FORMS[at % FORMS.length] as (k: string) => string)(`${1 + (at % 83) / 10}`),
  );
  const lexer = new Lexer(TOKENS, { positionTracking: "onlyOffset" });
  const minimal = new MinimalParser();
  const math = create(all ?? {});
  const model = modelOf(bookOf(INPUTS));
  const scope = { sheet: "lines", table: null, filtered: null };
  return {
    title: "10,000 formulas parsed, checked and compiled",
    contenders: [
      {
        name: "minimal Chevrotain parse",
        run: () => {
          for (const text of texts) {
            minimal.input = lexer.tokenize(text).tokens;
            minimal.sum();
            if (minimal.errors.length > 0) throw new Error(`${text}: ${minimal.errors[0]?.message}`);
          }
        },
      },
      {
        name: "engine",
        run: () => {
          for (const text of texts) {
            const { root } = checkFormula(language.parse(text, model.head.units), model.environment, scope);
            const tape =
              root === null ? null : writeTape(root, 64, { ofNode: (node) => 65 + node, ofConstant: () => 99 });
            if (tape === null) throw new Error(`${text} is not for the tape`);
          }
        },
      },
      {
        name: "mathjs parse and compile",
        run: () => {
          for (const text of texts) math.parse(text.replace(/Δ°C/g, "K")).compile();
        },
      },
    ],
    limits: [{ of: "engine", over: "minimal Chevrotain parse", most: 4 }],
    time: 500,
  };
}
