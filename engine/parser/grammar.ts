import {
  EmbeddedActionsParser,
  type IParserErrorMessageProvider,
  type IToken,
  type ParserMethod,
  type TokenType,
} from "chevrotain";
import type { Span } from "../base/span.ts";
import { type Fault, fault } from "../diagnostics/diagnostic.ts";
import { Climb, type Link, spanOfToken } from "./climb.ts";
import * as T from "./tokens.ts";
import type {
  ArgumentNode,
  BlankNode,
  BrokenNode,
  Figure,
  IfNode,
  InstantNode,
  LiteralNode,
  Node,
  TextNode,
  UnitPhrase,
  WithinNode,
} from "./tree.ts";

/** The names of tokens are all that the border in faults.ts needs of a message. */
const MESSAGES: IParserErrorMessageProvider = {
  buildMismatchTokenMessage: ({ expected }) => expected.name,
  buildNotAllInputParsedMessage: () => "end",
  buildNoViableAltMessage: () => "operand",
  buildEarlyExitMessage: () => "operand",
};

const NOWHERE: Span = { start: 0, end: 0 };
const BROKEN: BrokenNode = { node: "broken", span: NOWHERE };

/** What the rule `formula` yields; null where recovery gave up. */
export interface FormulaParts {
  readonly expression: Node;
  readonly by: Figure | null;
  readonly within: WithinNode | null;
}

/*
 *   formula     ( blank | expression ) ( by LITERAL )? ( within accepted )?
 *   expression  run ( where run )? ( as UNIT )?
 *   run         operand ( OPERATOR operand )*          grouped by strength in climb.ts
 *   operand     ( - | not )* ( leaf | call | ( expression ) | choice ) ( is missing )?
 *   choice      branches else run
 *   branches    if run then run ( else if run then run )*
 *   blank       ? UNIT | ? ( literal | instant | text | truth )?
 *   accepted    end to end | text ( , text )*
 *
 * A repetition stands last in its rule: Chevrotain's recovery inside repetitions calls itself once per slip, so that a
 * long line of slips would exhaust the stack. Alternatives are built once and kept: they would cost a closure per node.
 */
export class FormulaParser extends EmbeddedActionsParser {
  /** The text whose tokens are the input, and what grouping finds wrong in it. */
  text = "";
  faults: Fault[] = [];

  constructor() {
    super(T.TOKEN_TYPES, {
      recoveryEnabled: true,
      maxLookahead: 1,
      errorMessageProvider: MESSAGES,
      skipValidations: false,
    });
    this.performSelfAnalysis();
  }

  /** A made-up literal or name would have no payload. */
  protected override canTokenTypeBeInsertedInRecovery(type: TokenType): boolean {
    return type === T.Close || type === T.Then || type === T.Else;
  }

  readonly formula: ParserMethod<[], FormulaParts | null> = this.RULE(
    "formula",
    () => {
      const expression = this.OR(this.#head) as Node;
      const step = this.OPTION(this.#byStep);
      const within = this.OPTION1(this.#withinAccepted) ?? null;
      if (this.RECORDING_PHASE) return null;
      return { expression, by: step === undefined ? null : this.#step(step), within };
    },
    { recoveryValueFunc: () => null },
  );
  readonly #head = [
    { ALT: (): Node => this.SUBRULE(this.#blank) },
    { ALT: (): Node => this.SUBRULE(this.#expression) },
  ];
  readonly #byStep = (): IToken => {
    this.CONSUME(T.By);
    return this.CONSUME(T.Literal);
  };
  readonly #withinAccepted = (): WithinNode | null => {
    this.CONSUME(T.Within);
    return this.SUBRULE(this.#accepted);
  };

  #step(token: IToken): Figure | null {
    const literal = token.payload as LiteralNode | undefined;
    const first = literal?.figures[0];
    if (literal === undefined || first === undefined) return null;
    if (literal.negative || literal.figures.length > 1) {
      this.#tell(literal.span, "A step is one figure without a sign: by 0.1, by 25 kg.");
    }
    return first;
  }

  #tell(span: Span, says: string): void {
    this.faults.push(fault("syntax", span, { says }));
  }

  readonly #expression: ParserMethod<[], Node> = this.RULE(
    "expression",
    (): Node => {
      const columns = this.SUBRULE(this.#run);
      const condition = this.OPTION(this.#whereCondition);
      const as = this.OPTION1(this.#consumeAs);
      if (this.RECORDING_PHASE) return BROKEN;
      let node = columns;
      if (condition !== undefined) {
        node = { node: "where", span: { start: columns.span.start, end: condition.span.end }, columns, condition };
      }
      const unit = as?.payload as UnitPhrase | null | undefined;
      if (as === undefined || unit === null || unit === undefined) return node;
      return { node: "as", span: { start: node.span.start, end: spanOfToken(as).end }, operand: node, unit };
    },
    { recoveryValueFunc: () => this.#brokenHere() },
  );
  readonly #whereCondition = (): Node => {
    this.CONSUME(T.Where);
    return this.SUBRULE1(this.#run);
  };
  readonly #consumeAs = (): IToken => this.CONSUME(T.As);

  readonly #run: ParserMethod<[], Node> = this.RULE(
    "run",
    (): Node => {
      const links: Link[] = [];
      this.#link(links, this.SUBRULE(this.#operand), null);
      this.MANY(() => {
        const operator = this.CONSUME(T.Operator);
        this.#link(links, this.SUBRULE1(this.#operand), operator);
      });
      const first = links[0];
      if (this.RECORDING_PHASE || first === undefined) return BROKEN;
      if (links.length === 1 && first.prefixes === null) return first.operand;
      this.#choiceAtEnd(links);
      return new Climb(links, this.text, this.faults).run();
    },
    { recoveryValueFunc: () => this.#brokenHere() },
  );

  /** Adds an operand to a run, behind `operator`; `is missing` takes a link of its own. */
  #link(links: Link[], read: Operand, operator: IToken | null): void {
    const last = links[links.length - 1];
    if (last !== undefined) last.after = operator;
    links.push({ prefixes: read.prefixes, operand: read.node, after: read.missing });
    if (read.missing !== null) links.push({ prefixes: null, operand: read.node, after: null });
  }

  /** `1 + if …`: an `if` takes all that follows, so only the last operand can be a bare one. */
  #choiceAtEnd(links: readonly Link[]): void {
    const node = links[links.length - 1]?.operand;
    if (node?.node !== "if" || this.text.charCodeAt(node.span.start) === OPENING) return;
    const { start, end } = node.span;
    const mended = {
      label: "Put parentheses round it",
      replace: [
        { span: { start, end: start }, text: "(" },
        { span: { start: end, end }, text: ")" },
      ],
    };
    this.faults.push(
      fault("syntax", node.span, { says: "An if inside a calculation needs parentheses round it." }, [mended]),
    );
  }

  readonly #operand: ParserMethod<[], Operand> = this.RULE(
    "operand",
    () => {
      const prefixes = this.OPTION(this.#consumePrefixes) ?? null;
      const node = (this.OR(this.#operands) as Node | undefined) ?? BROKEN;
      const missing = this.OPTION1(this.#consumeMissing) ?? null;
      return { prefixes, node, missing };
    },
    { recoveryValueFunc: () => ({ prefixes: null, node: this.#brokenHere(), missing: null }) },
  );
  readonly #consumePrefixes = (): IToken => this.CONSUME(T.Prefixes);
  readonly #consumeMissing = (): IToken => this.CONSUME(T.Missing);
  readonly #operands = [
    { ALT: (): Node => this.CONSUME(T.Literal).payload },
    { ALT: (): Node => this.CONSUME(T.Name).payload },
    { ALT: (): Node => this.SUBRULE(this.#call) },
    { ALT: (): Node => this.SUBRULE(this.#group) },
    { ALT: (): Node => this.CONSUME(T.Text).payload },
    { ALT: (): Node => this.CONSUME(T.Instant).payload },
    { ALT: (): Node => this.CONSUME(T.Truth).payload },
    { ALT: (): Node => this.CONSUME(T.Broken).payload },
    { ALT: (): Node => this.SUBRULE(this.#choice) },
  ];

  readonly #group: ParserMethod<[], Node> = this.RULE(
    "group",
    (): Node => {
      const open = this.CONSUME(T.Open);
      const inner = this.SUBRULE(this.#expression);
      const close = this.CONSUME(T.Close);
      if (this.RECORDING_PHASE) return BROKEN;
      // The parentheses belong to the operand's place: what is put round it or in its stead stays balanced.
      return { ...inner, span: { start: open.startOffset, end: endOf(close, inner.span.end) } };
    },
    { recoveryValueFunc: () => this.#brokenHere() },
  );

  readonly #call: ParserMethod<[], Node> = this.RULE(
    "call",
    (): Node => {
      const token = this.CONSUME(T.FunctionName);
      const given = this.SUBRULE(this.#arguments);
      const close = this.CONSUME(T.Close);
      if (this.RECORDING_PHASE) return BROKEN;
      const { name, nameEnd } = token.payload as T.FunctionPayload;
      const start = token.startOffset;
      const end = endOf(close, given[given.length - 1]?.span.end ?? nameEnd + 1);
      return { node: "call", span: { start, end }, name, nameSpan: { start, end: nameEnd }, arguments: given };
    },
    { recoveryValueFunc: () => this.#brokenHere() },
  );

  readonly #arguments: ParserMethod<[], readonly ArgumentNode[]> = this.RULE(
    "arguments",
    () => {
      const given: ArgumentNode[] = [];
      this.MANY_SEP({
        SEP: T.Comma,
        DEF: () => {
          const named = this.OPTION(this.#consumeArgumentName);
          const value = this.SUBRULE(this.#expression);
          if (this.RECORDING_PHASE) return;
          const name = (named?.payload as ArgumentNode["name"] | undefined) ?? null;
          given.push({
            name,
            value,
            span: { start: name === null ? value.span.start : name.span.start, end: value.span.end },
          });
        },
      });
      return given;
    },
    { recoveryValueFunc: () => [] },
  );
  readonly #consumeArgumentName = (): IToken => this.CONSUME(T.ArgumentName);

  readonly #choice: ParserMethod<[], Node> = this.RULE(
    "choice",
    (): Node => {
      const start = this.LA(1).startOffset;
      const branches = this.SUBRULE(this.#branches);
      this.CONSUME(T.Else);
      const otherwise = this.SUBRULE(this.#run);
      if (this.RECORDING_PHASE) return BROKEN;
      return { node: "if", span: { start, end: otherwise.span.end }, branches, otherwise };
    },
    { recoveryValueFunc: () => this.#brokenHere() },
  );

  readonly #branches: ParserMethod<[], IfNode["branches"]> = this.RULE(
    "branches",
    () => {
      this.CONSUME(T.If);
      const condition = this.SUBRULE(this.#run);
      this.CONSUME(T.Then);
      const branches = [{ condition, value: this.SUBRULE1(this.#run) }];
      this.MANY(() => {
        this.CONSUME(T.ElseIf);
        const next = this.SUBRULE2(this.#run);
        this.CONSUME1(T.Then);
        branches.push({ condition: next, value: this.SUBRULE3(this.#run) });
      });
      return branches;
    },
    { recoveryValueFunc: () => [] },
  );

  readonly #blank: ParserMethod<[], Node> = this.RULE(
    "blank",
    (): Node => {
      const mark = this.CONSUME(T.Blank);
      const filled = (this.OPTION(this.#filled) as BlankNode["filled"] | undefined) ?? null;
      if (this.RECORDING_PHASE) return BROKEN;
      const asked = mark.payload as BlankNode["asks"] | null;
      const { start, end } = spanOfToken(mark);
      return { node: "blank", span: { start, end: filled?.span.end ?? end }, asks: asked ?? asksFor(filled), filled };
    },
    { recoveryValueFunc: () => this.#brokenHere() },
  );
  readonly #filled = (): Node => this.OR1(this.#fillings) as Node;
  readonly #fillings = [
    { ALT: (): Node => this.SUBRULE(this.#signedLiteral) },
    { ALT: (): Node => this.CONSUME(T.Instant).payload },
    { ALT: (): Node => this.CONSUME(T.Text).payload },
    { ALT: (): Node => this.CONSUME(T.Truth).payload },
  ];

  /** Where no calculation is, a sign belongs to a bare number too. */
  readonly #signedLiteral: ParserMethod<[], LiteralNode | BrokenNode> = this.RULE(
    "signedLiteral",
    (): LiteralNode | BrokenNode => {
      const sign = this.OPTION(this.#consumePrefixes);
      const literal = this.CONSUME(T.Literal).payload as LiteralNode;
      if (this.RECORDING_PHASE || sign === undefined) return literal;
      const { nots, minuses } = sign.payload as T.Prefix;
      const span = { start: sign.startOffset, end: literal.span.end };
      if (nots > 0 || minuses > 1 || literal.negative) this.#tell(span, "One sign is enough for a figure.");
      return { ...literal, negative: true, span };
    },
    { recoveryValueFunc: () => this.#brokenHere() },
  );

  readonly #accepted: ParserMethod<[], WithinNode | null> = this.RULE(
    "accepted",
    () => this.OR(this.#acceptedKinds) as WithinNode | null,
    { recoveryValueFunc: () => null },
  );
  readonly #acceptedKinds = [
    { ALT: (): WithinNode | null => this.SUBRULE(this.#range) },
    { ALT: (): WithinNode | null => this.SUBRULE(this.#choices) },
  ];
  readonly #range: ParserMethod<[], WithinNode | null> = this.RULE(
    "range",
    (): WithinNode | null => {
      const low = this.OR(this.#lows) as LiteralNode | InstantNode | BrokenNode;
      this.CONSUME(T.To);
      const high = this.OR1(this.#highs) as LiteralNode | InstantNode | BrokenNode;
      if (this.RECORDING_PHASE || low.node === "broken" || high.node === "broken") return null;
      return { is: "range", span: { start: low.span.start, end: high.span.end }, low, high };
    },
    { recoveryValueFunc: () => null },
  );
  readonly #lows = [
    { ALT: (): Node => this.SUBRULE(this.#signedLiteral) },
    { ALT: (): Node => this.CONSUME(T.Instant).payload },
  ];
  readonly #highs = [
    { ALT: (): Node => this.SUBRULE1(this.#signedLiteral) },
    { ALT: (): Node => this.CONSUME1(T.Instant).payload },
  ];
  readonly #choices: ParserMethod<[], WithinNode | null> = this.RULE(
    "choices",
    (): WithinNode | null => {
      const texts: TextNode[] = [];
      this.AT_LEAST_ONE_SEP({
        SEP: T.Comma,
        DEF: () => {
          texts.push(this.CONSUME(T.Text).payload as TextNode);
        },
      });
      const [first, last] = [texts[0], texts[texts.length - 1]];
      if (this.RECORDING_PHASE || first === undefined || last === undefined) return null;
      return { is: "choices", span: { start: first.span.start, end: last.span.end }, texts };
    },
    { recoveryValueFunc: () => null },
  );

  /** A node for what recovery skipped, placed at the token it stopped before. */
  #brokenHere(): BrokenNode {
    const before = this.LA(0);
    const end = before.startOffset >= 0 ? spanOfToken(before).end : 0;
    return { node: "broken", span: { start: end, end } };
  }
}

const OPENING = 40;

interface Operand {
  readonly prefixes: IToken | null;
  readonly node: Node;
  readonly missing: IToken | null;
}

/** The end of a closing parenthesis; recovery may have made it up. */
const endOf = (close: IToken, otherwise: number): number =>
  close.startOffset >= 0 ? spanOfToken(close).end : otherwise;

/** What a filled blank without a word of its own asks for: what it is filled with. */
function asksFor(filled: BlankNode["filled"]): BlankNode["asks"] {
  if (filled === null) return { is: "number" };
  if (filled.node !== "literal") return { is: filled.node };
  const unit = filled.figures[0]?.unit ?? null;
  return unit === null ? { is: "number" } : { is: "unit", unit };
}
