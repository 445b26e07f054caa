// What the engine uses of Papa Parse. The published types bring the page's and the host's names with them,
// and the engine may see neither.
declare module "papaparse" {
  /** Reports trouble in one row; `row` counts from 0 and is absent when the whole text is meant. */
  export interface ParseError {
    readonly type: "Quotes" | "Delimiter" | "FieldMismatch";
    readonly code:
      | "MissingQuotes"
      | "InvalidQuotes"
      | "UndetectableDelimiter"
      | "TooFewFields"
      | "TooManyFields"
      | "MissingDelimiter";
    readonly message: string;
    readonly row?: number;
    /** Offset in the text, for trouble with quotes. */
    readonly index?: number;
  }

  export interface ParseMeta {
    readonly delimiter: string;
    readonly linebreak: string;
    readonly aborted: boolean;
    readonly truncated: boolean;
    /** Offset in the text after the last character read. */
    readonly cursor: number;
  }

  export interface ParseResult<Row> {
    readonly data: Row;
    readonly errors: readonly ParseError[];
    readonly meta: ParseMeta;
  }

  export interface ParseConfig {
    /** Empty to have it guessed. */
    readonly delimiter?: string;
    readonly delimitersToGuess?: readonly string[];
    readonly newline?: "\r" | "\n" | "\r\n";
    readonly quoteChar?: string;
    readonly escapeChar?: string;
    /** How many rows to read; 0 for all. */
    readonly preview?: number;
    readonly comments?: string | false;
    readonly skipEmptyLines?: boolean | "greedy";
    readonly fastMode?: boolean;
  }

  export interface UnparseConfig {
    readonly delimiter?: string;
    readonly newline?: string;
    readonly quotes?: boolean;
    /** Guards cells that another program would read as a formula. */
    readonly escapeFormulae?: boolean | RegExp;
  }

  export interface Parser {
    abort(): void;
  }

  /** The reader beneath `parse`, for a text that comes in pieces. */
  interface PieceReader {
    /** With `ignoreLastRow` the last row, which may be cut, is left; `meta.cursor` is the offset where it begins. */
    parse(text: string, baseIndex: number, ignoreLastRow: boolean): ParseResult<string[][]>;
  }

  interface Papa {
    readonly Parser: new (config: ParseConfig) => PieceReader;
    /** Reads the whole text at once, each row as its cells. */
    parse(text: string, config?: ParseConfig): ParseResult<string[][]>;
    /** Hands over one row at a time and keeps none. */
    parse(
      text: string,
      config: ParseConfig & { readonly step: (row: ParseResult<string[]>, parser: Parser) => void },
    ): void;
    unparse(rows: readonly (readonly string[])[], config?: UnparseConfig): string;
  }

  const papa: Papa;
  export default papa;
}
