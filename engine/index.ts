/** The engine's one door: what the page and the command line may use of it. */

export type { Option } from "./assist/candidates.ts";
export { type Completion, complete } from "./assist/complete.ts";
export type { Context } from "./assist/context.ts";
export { type Preview, preview } from "./assist/preview.ts";
export type { Understood } from "./assist/understand.ts";
export { understandNew } from "./assist/understand-new.ts";
export { type Link, type Working, working } from "./assist/working.ts";
export { visible } from "./base/deceptive.ts";
export { isName, labelFromName, nameFromLabel } from "./base/names.ts";
export type { Place, Span } from "./base/span.ts";
export { placeOf } from "./base/span.ts";
export type { Caution, CautionCode, Fault, FaultCode, Mend } from "./diagnostics/diagnostic.ts";
export { applyMend } from "./diagnostics/diagnostic.ts";
export { CAUTION_CODES, FAULT_CODES, wordCaution, wordFault, wordTooFew } from "./diagnostics/wording.ts";
export type { Argument, LibraryFunction, Stage } from "./library/declaration.ts";
export { LIBRARY_FUNCTIONS, LIBRARY_VERSION } from "./library/functions.ts";
export { GENERAL_FUNCTIONS } from "./operations/functions.ts";
export type { GeneralFunction } from "./operations/operand.ts";
export type { Coloured } from "./parser/colours.ts";
export { bookTable, readingEdit, tableReadFrom, troubleIn } from "./readings/book.ts";
export { type FirstRow, firstRows } from "./readings/first-rows.ts";
export { inWords } from "./readings/in-words.ts";
export type { Mapping } from "./readings/mapping.ts";
export type { ChangedRow, Merge } from "./readings/merge.ts";
export { type NewColumn, newTableText, proposeColumns, tableAlone } from "./readings/new-table.ts";
export type { ProposedMapping } from "./readings/propose.ts";
export type { Answers, Question, Settled } from "./readings/question.ts";
export type { Reject } from "./readings/read.ts";
export { lookInto, looksAlike, readInto } from "./readings/read-into.ts";
export { type Source as CsvSource, sourceOf as csvSourceOf } from "./readings/source.ts";
export { targetOf, unitText } from "./readings/target.ts";
export { type Finding, GAP_INTERVALS } from "./readings/trouble.ts";
export { unitReader } from "./readings/units-in-text.ts";
export { writeRejects } from "./readings/write.ts";
export {
  createSession,
  type Foreseen,
  type Outcome,
  type Problems,
  type Session,
  type SessionChange,
} from "./session.ts";
export { printUnit } from "./units/compound.ts";
export { fromCoherent, toCoherent } from "./units/convert.ts";
export { LENSES, type Lens } from "./units/lens.ts";
export type { ShownUnit } from "./units/unit.ts";
export { KIND_NAMES } from "./values/describe.ts";
export type { CellItem, HeadItem, Item, PlotItem, Sheet, TableItem, Workbook } from "./workbook/document.ts";
export { formulaOf, itemsOf } from "./workbook/document.ts";
export type { Edit } from "./workbook/edit.ts";
export type { Awaited, CellResult, ColumnResult, State, TableResult } from "./workbook/result.ts";
