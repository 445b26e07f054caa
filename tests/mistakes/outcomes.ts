import { scopeAt } from "../../engine/assist/context.ts";
import { nameKey } from "../../engine/base/names.ts";
import { checkFormula } from "../../engine/checker/formula.ts";
import type { Edit } from "../../engine/index.ts";
import type { ParsedFormula } from "../../engine/parser/tree.ts";
import type { Session } from "../../engine/session.ts";
import { type Kind, UNKNOWN } from "../../engine/values/kind.ts";
import type { CellResult, ColumnResult } from "../../engine/workbook/result.ts";
import { changesKind, type KindOf, type Mistaken, mistakesIn, stockOf } from "./mistakes.ts";

/** What becomes of a mistake, best first. */
export const OUTCOMES = [
  "refused",
  "refused where used",
  "harmless",
  "flagged",
  "kind shown",
  "waiting",
  "silent",
] as const;
export type Outcome = (typeof OUTCOMES)[number];

export interface Tried extends Mistaken {
  readonly line: string;
  readonly outcome: Outcome;
  /** Whether what was put in is of another dimension or scale than what stood there. */
  readonly otherKind: boolean;
  /** Whether the line, or one that it feeds, says what it holds: by `as` or `within`. */
  readonly guarded: boolean;
}

interface Line {
  readonly name: string;
  readonly parsed: ParsedFormula;
  readonly kindOf: KindOf;
  readonly edit: (formula: string) => Edit;
}

/** Every line and worked column of a book. */
function linesOf(session: Session): Line[] {
  const { model } = session;
  const lines: Line[] = [];
  for (const sheet of session.workbook.sheets)
    for (const item of sheet.pages.flat()) {
      if (item.is === "cell") {
        const name = `${sheet.name}.${item.name}`;
        const text = session.cell(name)?.formula ?? "";
        lines.push({
          name,
          parsed: model.parse(text),
          kindOf: kindIn(session, sheet.name, null),
          edit: (formula) => ({ edit: "set-formula", cell: name, formula }),
        });
      }
      if (item.is !== "table") continue;
      const table = `${sheet.name}.${item.name}`;
      for (const { name, formula } of item.columns)
        if (formula !== null)
          lines.push({
            name: `${table}.${name}`,
            parsed: model.parse(formula.text),
            kindOf: kindIn(session, sheet.name, item.name),
            edit: (changed) => ({ edit: "set-column", table, column: name, text: `${name} = ${changed}` }),
          });
    }
  return lines;
}

/** What a text would be as a formula on a sheet, or in a table on it. */
function kindIn(session: Session, sheet: string, table: string | null): KindOf {
  const { model } = session;
  const scope = scopeAt(model, { sheet, cell: null, ...(table === null ? {} : { table }) });
  const known = new Map<string, Kind>();
  return (text) => {
    const found = known.get(text) ?? checkFormula(model.parse(text), model.environment, scope).type.kind ?? UNKNOWN;
    known.set(text, found);
    return found;
  };
}

const resultOf = (session: Session, name: string): CellResult | ColumnResult | null => {
  const cell = session.cell(name);
  if (cell !== null) return cell;
  const node = session.model.names.node(name.split(".").map(nameKey).join("."));
  return node === undefined ? null : session.results.column(node);
};

const cautionsOf = (result: CellResult | ColumnResult | null): string =>
  (result?.cautions ?? [])
    .filter(({ code }) => code !== "safety" && code !== "estimate")
    .map(({ code }) => code)
    .sort()
    .join();

/** Within what a figure may differ and still be the same. */
const SAME_WITHIN = 1e-9;

function sameValue(a: CellResult["value"] | undefined, b: CellResult["value"] | undefined): boolean {
  if (a == null || b == null) return a === b;
  if (typeof a === "object" && typeof b === "object")
    return (
      a.length === b.length &&
      Array.from(a as ArrayLike<number | string | null>).every((entry, row) => sameValue(entry, b[row] ?? null))
    );
  if (typeof a !== "number" || typeof b !== "number") return a === b;
  return Object.is(a, b) || Math.abs(a - b) <= SAME_WITHIN * Math.max(Math.abs(a), Math.abs(b));
}

/** The lines that need this one, directly or not. */
function fedBy(session: Session, name: string): Set<string> {
  const found = new Set<string>([name]);
  for (const at of found) for (const user of session.dependants(at)) found.add(user);
  return found;
}

const HOLDS = /\b(?:as|within) /;

/** Makes every mistake in every line of a book, one at a time, and takes it back. */
export function tryMistakes(session: Session): Tried[] {
  const stock = stockOf(session);
  const tried: Tried[] = [];
  for (const { name, parsed, kindOf, edit } of linesOf(session)) {
    const fed = [...fedBy(session, name)];
    const before = new Map(fed.map((one) => [one, resultOf(session, one)]));
    const guarded = fed.some((one) => HOLDS.test(before.get(one)?.formula ?? ""));
    for (const mistaken of mistakesIn(parsed.text, parsed.expression, stock, kindOf)) {
      const otherKind = mistaken.mistake === "SG for °P, points for gravity" || changesKind(mistaken, kindOf);
      const done = session.dispatch(edit(mistaken.formula));
      const outcome: Outcome = done.ok ? outcomeOf(session, name, before, done.kindChanges.length) : "refused";
      if (done.ok) session.undo();
      tried.push({ ...mistaken, line: name, outcome, otherKind, guarded });
    }
  }
  return tried;
}

function outcomeOf(
  session: Session,
  name: string,
  before: ReadonlyMap<string, CellResult | ColumnResult | null>,
  kindChanges: number,
): Outcome {
  const own = resultOf(session, name);
  if ((own?.faults.length ?? 0) > (before.get(name)?.faults.length ?? 0)) return "refused";
  const fed = [...before].map(([at, was]) => ({ was, now: resultOf(session, at) }));
  if (fed.some(({ was, now }) => (now?.faults.length ?? 0) > (was?.faults.length ?? 0))) return "refused where used";
  if (kindChanges > 0) return "kind shown";
  if (fed.every(({ was, now }) => sameValue(was?.value, now?.value) && was?.state === now?.state))
    return own?.state === "waiting" ? "waiting" : "harmless";
  if (fed.some(({ was, now }) => cautionsOf(now) !== cautionsOf(was) && cautionsOf(now) !== "")) return "flagged";
  return "silent";
}
