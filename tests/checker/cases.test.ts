import { readdirSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { invariant } from "../../engine/base/invariant.ts";
import { workbookJson } from "../../engine/cli/json.ts";
import { applyMend, type Fault } from "../../engine/diagnostics/diagnostic.ts";
import { FAULT_CODES, wordCaution, wordFault } from "../../engine/diagnostics/wording.ts";
import { Session } from "../../engine/session.ts";
import { LENSES, type Lens } from "../../engine/units/lens.ts";
import type { CellResult } from "../../engine/workbook/result.ts";
import { type Case, type Given, readCases } from "../support/cases.ts";
import { language } from "../support/language.ts";

const CASES = new URL("../cases/", import.meta.url);
/** The parser's own table has another form. */
const files = readdirSync(CASES).filter((name) => name.endsWith(".txt") && name !== "parse.txt");

interface Put {
  readonly session: Session;
  readonly cell: CellResult;
}

/** Puts a formula into the last sheet of a workbook. */
function put(book: string, formula: string, lens: Lens | null = null): Put {
  const session = new Session(`${book}it = ${formula}\n`, lens, language);
  const cell = session.cell(`${session.workbook.sheets.at(-1)?.name}.it`);
  invariant(cell !== null, "the formula makes a line");
  return { session, cell };
}

const mark = (formula: string, fault: Fault): string =>
  `${fault.code} ${formula.slice(0, fault.span.start)}«${formula.slice(fault.span.start, fault.span.end)}»${formula.slice(fault.span.end)}`;

const textsOf = (gives: readonly Given[], is: string): string[] =>
  gives.filter((given) => given.is === is).map(({ text }) => text);

/** What a formula gives in the words of the tables, by what is asked for. */
const ANSWERS: Readonly<Record<string, (put: Put) => readonly string[]>> = {
  kind: ({ cell }) => [cell.kindName],
  shown: ({ cell }) => [cell.shown],
  fault: ({ cell }) => cell.faults.map((fault) => mark(cell.formula, fault)),
  says: ({ cell }) => [...cell.faults.map(wordFault), ...(cell.tooFew === null ? [] : [cell.tooFew])],
  waiting: ({ cell }) => (cell.state === "waiting" ? [cell.waitingFor.join(", ")] : []),
  because: ({ cell }) => (cell.because === null ? [] : [cell.because]),
  caution: ({ cell }) => cell.cautions.map((caution) => `${caution.code} ${wordCaution(caution)}`),
};

const mendsOf = ({ faults, formula }: CellResult): readonly string[] =>
  (faults[0]?.mends ?? []).map((mend) => applyMend(formula, mend));

function holdFormula({ book, gives }: Case, formula: string): void {
  expect(gives.length).toBeGreaterThan(0);
  const made = put(book, formula);
  expect(made.cell.formula).toBe(formula);
  // Faults, what it waits for and cautions are told in full or not at all.
  for (const is of ["fault", "waiting", "because", "caution"])
    expect({ [is]: ANSWERS[is]?.(made) }).toEqual({ [is]: textsOf(gives, is) });
  for (const { is, text } of gives) {
    if (is === "lens") {
      const lens = LENSES.find((one) => text.startsWith(`${one} `));
      invariant(lens !== undefined, `${text} begins with no lens`);
      expect(`${lens} ${put(book, formula, lens).cell.shown}`).toBe(text);
    } else if (is === "mend" || is === "offer") {
      expect(mendsOf(made.cell)).toContain(text);
      // A mend is checked again; an offer still leaves something to be said.
      expect(put(book, text).cell.faults.length === 0 ? "mend" : "offer").toBe(is);
    } else expect(ANSWERS[is]?.(made) ?? `nothing gives ${is}`).toContain(text);
  }
}

/** `mash.grain = 3 kg`, `mash.grain waiting a, b`, `mash.grain because b`. */
function standingOf(session: Session, name: string): string {
  const cell = session.cell(name);
  if (cell === null) return "is not there";
  if (cell.state === "ready") return `= ${cell.shown}`;
  return cell.state === "waiting" ? `waiting ${cell.waitingFor.join(", ")}` : `because ${cell.because ?? "of itself"}`;
}

function holdBook({ book, gives }: Case): void {
  const session = new Session(book, null, language);
  const json = workbookJson(session);
  const found = [
    ...json.faults,
    ...json.cells.flatMap((cell) => cell.faults),
    ...json.tables.flatMap((table) => table.columns.flatMap((column) => column.faults)),
  ].map(({ line, column, length, code, message }) => ({ at: `${line}:${column}+${length} ${code}`, message }));
  expect([...new Set(found.map(({ at }) => at))]).toEqual(textsOf(gives, "fault"));
  for (const text of textsOf(gives, "says")) expect(found.map(({ message }) => message)).toContain(text);
  for (const text of textsOf(gives, "line")) {
    const [name = ""] = text.split(" ", 1);
    expect(`${name} ${standingOf(session, name)}`).toBe(text);
  }
  expect(session.text()).toBe(book);
}

const all = files.map((file) => ({ file, cases: readCases(file) }));

describe.each(all)("the cases of $file", ({ file, cases }) => {
  test.each(cases.map((one) => [one.formula ?? "a workbook", `${file}:${one.line}`, one] as const))(
    "%s gives what %s says",
    (_formula, _where, one) => {
      if (one.formula === null) holdBook(one);
      else holdFormula(one, one.formula);
    },
  );
});

test("every fault code has several cases", () => {
  const counts = new Map<string, number>();
  for (const { cases } of all)
    for (const { gives } of cases)
      for (const text of textsOf(gives, "fault")) {
        const code = text.replace(/^\d+:\d+\+\d+ /, "").split(" ", 1)[0] ?? "";
        counts.set(code, (counts.get(code) ?? 0) + 1);
      }
  // A file that is refused as a whole has no line to point at: its cases stand in tests/files.
  const wanted = FAULT_CODES.filter((code) => code !== "unreadable-file");
  expect(wanted.filter((code) => (counts.get(code) ?? 0) < 3)).toEqual([]);
});
