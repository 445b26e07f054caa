import { readFileSync } from "node:fs";
import { nameKey } from "../base/names.ts";
import { nearestSpelling } from "../base/nearest.ts";
import { createSession, type Session } from "../session.ts";
import { LENSES, type Lens } from "../units/lens.ts";
import type { Edit } from "../workbook/edit.ts";
import { workbookJson } from "./json.ts";
import { CallFault, type Output } from "./output.ts";
import { printSheets } from "./text.ts";

export interface CalcOptions {
  readonly set: readonly string[];
  readonly expression: readonly string[];
  readonly lens?: string;
  readonly json: boolean;
}

/** The sheet that formulas of the command line stand on. */
const SHEET = "e";

/** Reads a file as UTF-8 text. Throws a CallFault that names the file. */
export function readText(path: string): string {
  let bytes: Buffer;
  try {
    bytes = readFileSync(path);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    throw new CallFault(
      `${path}: ${code === "ENOENT" ? "there is no such file" : code === "EISDIR" ? "this is a folder" : "it cannot be read"}.`,
    );
  }
  try {
    // The byte-order mark is part of the text: it is kept when the file is written.
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new CallFault(`${path}: this is not UTF-8 text, so it is no Gylebook file.`);
  }
}

/** Opens a workbook file. Throws a CallFault for one that cannot be used at all. */
export function openFile(path: string, lens: Lens | null): Session {
  const session = createSession(readText(path), { lens });
  if (session.refusal !== null) throw new CallFault(`${path}: ${session.refusal}`);
  return session;
}

export function lensNamed(name: string | undefined): Lens | null {
  if (name === undefined) return null;
  const lens = LENSES.find((one) => one.toLowerCase() === name.toLowerCase());
  if (lens === undefined) throw new CallFault(`There is no lens "${name}"; there are ${LENSES.join(", ")}.`);
  return lens;
}

/** `gylebook calc`: exit status 0, or 1 when a line is faulty. */
export function calc(file: string | undefined, options: CalcOptions, output: Output): number {
  const lens = lensNamed(options.lens);
  if (options.expression.length > 0) {
    if (file !== undefined) throw new CallFault("Give a file or formulas with -e, not both.");
    return calcFormulas(options, lens, output);
  }
  if (file === undefined) throw new CallFault("Give a file, or a formula with -e.");
  const session = openFile(file, lens);
  for (const assignment of options.set) dispatch(session, setting(session, assignment));
  return print(session, options.json, output);
}

function dispatch(session: Session, edit: Edit): void {
  const outcome = session.dispatch(edit);
  if (!outcome.ok) throw new CallFault(outcome.says);
}

/** `NAME=FORMULA`; the name may leave its sheet out where only one sheet has it. */
function setting(session: Session, assignment: string): Edit {
  const at = assignment.indexOf("=");
  if (at < 0) throw new CallFault(`--set takes NAME=FORMULA, not "${assignment}".`);
  const [name, formula] = [assignment.slice(0, at).trim(), assignment.slice(at + 1).trim()];
  const exact = session.cell(name);
  if (exact !== null)
    return { edit: "set-formula", cell: exact.name, formula: keepBlank(exact.blank !== null, formula) };
  const found = session.workbook.sheets
    .map((sheet) => session.cell(`${sheet.name}.${name}`))
    .filter((cell) => cell !== null);
  const [only, another] = found;
  if (only === undefined) throw new CallFault(`There is no line "${name}" to set.${meant(session, name)}`);
  if (another !== undefined)
    throw new CallFault(`"${name}" is on more than one sheet: write ${found.map((cell) => cell.name).join(" or ")}.`);
  return { edit: "set-formula", cell: only.name, formula: keepBlank(only.blank !== null, formula) };
}

/** The line whose name, with or without its sheet, is nearest. */
function meant(session: Session, name: string): string {
  const full = workbookJson(session).cells.map((cell) => cell.name);
  const near = nearestSpelling(name, [...full, ...full.map((each) => each.slice(each.indexOf(".") + 1))]);
  return near === null ? "" : ` Did you mean ${near}?`;
}

/** A reading that is filled in keeps its mark. */
const keepBlank = (blank: boolean, formula: string): string =>
  blank && !formula.startsWith("?") ? `? ${formula}` : formula;

function calcFormulas(options: CalcOptions, lens: Lens | null, output: Output): number {
  if (options.set.length > 0) throw new CallFault("--set changes the lines of a file; it does not go with -e.");
  const session = createSession(`gylebook 1\nsheet ${SHEET}\n`, { lens });
  for (const [at, formula] of options.expression.entries())
    dispatch(session, { edit: "add-cell", sheet: SHEET, at: null, name: `e${at + 1}`, label: null, formula });
  return print(session, options.json, output, SHEET);
}

/** `within`: the sheet whose name is left out of the lines' names. */
function print(session: Session, json: boolean, output: Output, within?: string): number {
  const result = workbookJson(session);
  const bare = (name: string): string =>
    within === undefined || !nameKey(name).startsWith(`${within}.`) ? name : name.slice(within.length + 1);
  const cells = result.cells.map((cell) => ({
    ...cell,
    name: bare(cell.name),
    waitingFor: cell.waitingFor.map(bare),
    because: cell.because === null ? null : bare(cell.because),
  }));
  const named = within === undefined ? result : { ...result, cells };
  output.out(json ? `${JSON.stringify(named, null, 2)}\n` : printSheets(session, named));
  const faulty = [...result.cells, ...result.tables.flatMap((table) => table.columns)].some(
    (line) => line.state === "faulty",
  );
  return faulty || result.faults.length > 0 ? 1 : 0;
}
