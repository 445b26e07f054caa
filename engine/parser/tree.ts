import type { Rational } from "../base/rational.ts";
import type { Span } from "../base/span.ts";
import type { Fault } from "../diagnostics/diagnostic.ts";

/** Every node knows its place in the text that was parsed. */
interface Placed {
  readonly span: Span;
}

/** A unit phrase as written: `mg/L CaCO3`, `kg/m^3`. Spellings are not yet looked up. */
export interface UnitPhrase extends Placed {
  readonly factors: readonly { readonly spelling: string; readonly power: Rational; readonly span: Span }[];
}

/** A figure with its unit, or without. `value` is the figure as typed (72 for `72 %`). */
export interface Figure extends Placed {
  readonly value: number;
  /** The figure's characters as typed, sign excluded. */
  readonly text: string;
  readonly unit: UnitPhrase | null;
}

/** `640 L`; several figures are descending units of one dimension: `12 lb 4 oz`. A `-` before it belongs to it where an operand is expected and a unit follows. */
export interface LiteralNode extends Placed {
  readonly node: "literal";
  readonly negative: boolean;
  readonly figures: readonly Figure[];
}
/** ISO 8601 date or date and time. `seconds` counts from 1970-01-01T00:00, wall clock, or UTC when `zoned`. */
export interface InstantNode extends Placed {
  readonly node: "instant";
  readonly seconds: number;
  readonly zoned: boolean;
  /** `2026-03-02` rather than a time of day. */
  readonly dateOnly: boolean;
}
export interface TextNode extends Placed {
  readonly node: "text";
  readonly value: string;
}
export interface TruthNode extends Placed {
  readonly node: "truth";
  readonly value: boolean;
}
/** `grain`, `mash.grain`, `cellar.readings.gravity`: the parts as typed. */
export interface NameNode extends Placed {
  readonly node: "name";
  readonly parts: readonly { readonly text: string; readonly span: Span }[];
}
export interface ArgumentNode extends Placed {
  /** Null for a positional argument. */
  readonly name: { readonly text: string; readonly span: Span } | null;
  readonly value: Node;
}
export interface CallNode extends Placed {
  readonly node: "call";
  readonly name: string;
  readonly nameSpan: Span;
  readonly arguments: readonly ArgumentNode[];
}
export type ChainOperator = "+" | "-" | "*" | "/" | "or" | "and";
/** Operators of one strength in a row, left to right; flat, so that its depth does not grow with its length. All of `+ -`, or `* /`, or `or`, or `and`. */
export interface ChainNode extends Placed {
  readonly node: "chain";
  readonly first: Node;
  readonly rest: readonly { readonly operator: ChainOperator; readonly operatorSpan: Span; readonly operand: Node }[];
}
/** `a ^ b ^ c` is `a ^ (b ^ c)`; flat: base, then exponents from the left. */
export interface PowerNode extends Placed {
  readonly node: "power";
  readonly base: Node;
  readonly exponents: readonly Node[];
}
/** `- - x` has times 2; likewise `not not x`. */
export interface UnaryNode extends Placed {
  readonly node: "unary";
  readonly operator: "-" | "not";
  readonly times: number;
  readonly operand: Node;
}
export type CompareOperator = "is" | "is not" | "<" | "<=" | ">" | ">=";
export interface CompareNode extends Placed {
  readonly node: "compare";
  readonly operator: CompareOperator;
  readonly operatorSpan: Span;
  readonly left: Node;
  readonly right: Node;
}
/** `x is missing`, `x is not missing`. */
export interface MissingNode extends Placed {
  readonly node: "missing";
  readonly negated: boolean;
  readonly operand: Node;
}
export interface IfNode extends Placed {
  readonly node: "if";
  /** `if c1 then v1 else if c2 then v2 … else otherwise`, flat. */
  readonly branches: readonly { readonly condition: Node; readonly value: Node }[];
  readonly otherwise: Node;
}
export interface WhereNode extends Placed {
  readonly node: "where";
  readonly columns: Node;
  readonly condition: Node;
}
export interface AsNode extends Placed {
  readonly node: "as";
  readonly operand: Node;
  readonly unit: UnitPhrase;
}
/** `?`, `? °C`, `? text`, `? instant`, `? truth`, or filled: `? 66.2 °C`, `? "kettle"`, `? 2026-03-01`, `? yes`. Only as the whole of a cell. */
export interface BlankNode extends Placed {
  readonly node: "blank";
  readonly asks:
    | { readonly is: "unit"; readonly unit: UnitPhrase }
    | { readonly is: "number" | "text" | "instant" | "truth" };
  readonly filled: LiteralNode | InstantNode | TextNode | TruthNode | null;
}
/** Where something could not be read; its fault is in the faults of the parse. */
export interface BrokenNode extends Placed {
  readonly node: "broken";
}

export type Node =
  | LiteralNode
  | InstantNode
  | TextNode
  | TruthNode
  | NameNode
  | CallNode
  | ChainNode
  | PowerNode
  | UnaryNode
  | CompareNode
  | MissingNode
  | IfNode
  | WhereNode
  | AsNode
  | BlankNode
  | BrokenNode;

export type WithinNode =
  | (Placed & {
      readonly is: "range";
      readonly low: LiteralNode | InstantNode;
      readonly high: LiteralNode | InstantNode;
    })
  | (Placed & { readonly is: "choices"; readonly texts: readonly TextNode[] });

/** What follows a name's `=`: a formula, then optional `by STEP`, `within …`, `# note`. (`as UNIT` is the outermost node of the expression.) */
export interface ParsedFormula {
  readonly text: string;
  readonly expression: Node;
  readonly by: Figure | null;
  readonly within: WithinNode | null;
  /** The note's text without `#` and outer blanks. */
  readonly note: { readonly text: string; readonly span: Span } | null;
  readonly faults: readonly Fault[];
}

/** A column's line in a table: `column NAME "label" : UNIT by STEP within …` (measured) or `column NAME "label" = FORMULA` (worked). */
export interface ParsedColumn extends Placed {
  readonly name: string;
  readonly nameSpan: Span;
  readonly label: string | null;
  /** Null for a worked column. */
  readonly measured: {
    readonly asks: BlankNode["asks"];
    readonly by: Figure | null;
    readonly within: WithinNode | null;
    readonly note: { readonly text: string; readonly span: Span } | null;
  } | null;
  /** Null for a measured column. Spans inside are relative to the formula's text, which starts at `formulaStart`. */
  readonly formula: ParsedFormula | null;
  readonly formulaStart: number;
}

interface StatementBase {
  /** Verbatim, line end included; joining all sources gives the file back. */
  readonly source: string;
  /** Offset of `source` in the file. */
  readonly start: number;
  /** Spans are relative to `source`. */
  readonly faults: readonly Fault[];
}

/** One statement of a file, in file order. Names and labels are as typed. */
export type Statement = StatementBase &
  (
    | { readonly is: "format"; readonly version: number }
    | { readonly is: "library"; readonly version: number }
    | { readonly is: "title"; readonly text: string }
    | { readonly is: "lens"; readonly lens: string }
    | { readonly is: "zone"; readonly zone: string }
    | { readonly is: "means"; readonly word: string; readonly unit: UnitPhrase }
    | {
        readonly is: "unit";
        readonly name: string;
        readonly nameSpan: Span;
        readonly formula: string;
        readonly formulaStart: number;
      }
    | {
        readonly is: "function";
        readonly name: string;
        readonly nameSpan: Span;
        readonly parameters: readonly string[];
        readonly formula: string;
        readonly formulaStart: number;
      }
    | { readonly is: "sheet"; readonly name: string; readonly nameSpan: Span; readonly label: string | null }
    | { readonly is: "section"; readonly label: string }
    | { readonly is: "prose"; readonly text: string }
    /** Blank lines and lines that hold only a `#` note. */
    | { readonly is: "gap" }
    | {
        readonly is: "cell";
        readonly name: string;
        readonly nameSpan: Span;
        readonly label: string | null;
        /** The text after `=`, to the end of the statement without its line end: a formula with its tail. */
        readonly formula: string;
        readonly formulaStart: number;
      }
    | {
        readonly is: "table";
        readonly name: string;
        readonly nameSpan: Span;
        readonly label: string | null;
        readonly columns: readonly ParsedColumn[];
        /** How readings from CSV were read into it, as `mapping "…"` keeps it for the next time; null when none were. */
        readonly mapping: string | null;
        /** The CSV lines between `rows` and `end`, verbatim, without them; empty when there are none. */
        readonly rows: string;
        readonly rowsStart: number;
      }
    | {
        readonly is: "plot";
        readonly label: string;
        readonly across: NameNode | null;
        readonly lines: readonly NameNode[];
      }
    /** What could not be read; kept verbatim, with at least one fault. */
    | { readonly is: "unread" }
  );

/**
 * What the parser is told of units: the length of the longest catalogued (or workbook-defined) unit spelling that starts
 * at `at`, ambiguous words included; 0 when none does. The match never ends inside a word.
 */
export type UnitSpeller = (text: string, at: number) => number;
