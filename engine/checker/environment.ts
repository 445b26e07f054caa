import type { Span } from "../base/span.ts";
import type { Fault } from "../diagnostics/diagnostic.ts";
import type { NameNode, ParsedFormula } from "../parser/tree.ts";
import type { UnitBook } from "../units/book.ts";
import type { Zone } from "../units/zone.ts";
import type { Type } from "../values/kind.ts";
import type { CheckedNode } from "./checked.ts";
import type { Signatures } from "./signature.ts";
import type { Types } from "./types.ts";

/** What a name stands for where it is used. */
export type Resolution =
  | { readonly is: "node"; readonly node: number }
  | { readonly is: "fault"; readonly fault: Fault };

/** Where names are looked up, nearest first. */
export interface Scope {
  /** The key of the sheet the formula stands in; null in the head. */
  readonly sheet: string | null;
  /** Full key of the table whose columns need no prefix: the one the column stands in. */
  readonly table: string | null;
  /** Full key of the table that a `where` filters; its columns win over everything. */
  readonly filtered: string | null;
}

/** Finds what names stand for. Needs no kinds, so that the order of checking can be known before checking. */
export interface Names {
  resolve(name: NameNode, scope: Scope): Resolution;
  /** The full key of the table that a node is a column of, or null. */
  tableOf(node: number): string | null;
  /** Places of a text, which quotes nothing, where a line or column is called by its label, the longest first. */
  labelled(text: string, scope: Scope): readonly Labelled[];
}

/** A place of a text where something is called by its label and not by its name. */
export interface Labelled {
  readonly span: Span;
  /** The names, as they would be written here, of what is called so; those of the own sheet first. */
  readonly names: readonly string[];
  /** Whether all of them are columns. */
  readonly columns: boolean;
}

/** A function that the workbook defines. */
export interface WorkbookFunction {
  readonly name: string;
  readonly parameters: readonly string[];
  readonly body: ParsedFormula;
}

/** Everything that checking one formula may look at. No values. */
export interface CheckEnvironment {
  readonly names: Names;
  readonly typeOf: (node: number) => Type;
  readonly types: Types;
  readonly units: UnitBook;
  /** The brewery's wall clock, when the file's head names one. */
  readonly zone: Zone | null;
  readonly signatures: Signatures;
  readonly functionNamed: (key: string) => WorkbookFunction | null;
  /** Names of the workbook's functions, for suggestions. */
  readonly functionNames: readonly string[];
  /** Bodies already checked, by function and kinds of the arguments. */
  readonly bodies: Map<string, CheckedBody>;
  /** Codes of the currencies that lines and columns are written in, among other words of three capitals. */
  readonly currencies: () => ReadonlySet<string>;
  /** The library version that the file was made with. */
  readonly library: number;
}

export interface CheckedBody {
  readonly type: Type;
  readonly root: CheckedNode | null;
  readonly faults: readonly Fault[];
  /** How many steps it comes to and how deep it nests, the functions that it calls put in. */
  readonly steps: number;
  readonly depth: number;
}
