import { wordCaution, wordFault } from "../../engine/diagnostics/wording.ts";
import type { Session } from "../../engine/session.ts";
import type { CellResult, ColumnResult } from "../../engine/workbook/result.ts";

/** A near name is suggested when a line is checked; later the name may be gone again. */
const withoutSuggestion = (message: string): string => message.replace(/ Did you mean .*\?/, "");

/** Places of faults count from the page of the table that they stand in, so that only their length is compared. */
const told = (result: CellResult | ColumnResult): Record<string, unknown> => ({
  state: result.state,
  kind: result.kindName,
  unit: "unitText" in result ? result.unitText : null,
  value:
    typeof result.value === "object" && result.value !== null
      ? Array.from(result.value as ArrayLike<number | string | null>)
      : result.value,
  waitingFor: result.waitingFor,
  tooFew: result.tooFew,
  because: result.because,
  faults: result.faults.map((fault) => [
    fault.code,
    fault.span.end - fault.span.start,
    withoutSuggestion(wordFault(fault)),
  ]),
  cautions: result.cautions.map(wordCaution),
});

/** Everything that a reader can see of a workbook, by where it stands and not by which node holds it. */
export function standingOf(session: Session): unknown {
  const lines: Record<string, unknown> = {};
  for (const sheet of session.workbook.sheets)
    for (const item of sheet.pages.flat()) {
      const name = "name" in item ? `${sheet.name}.${item.name}` : "";
      if (item.is === "cell") {
        const cell = session.cell(name);
        lines[name] = cell === null ? null : { ...told(cell), shown: cell.shown, label: cell.label };
      } else if (item.is === "table") {
        const table = session.table(name);
        lines[name] = table === null ? null : [table.rowCount, table.label, table.columns.map(told)];
      }
    }
  const { faults, blanks, fileFaults } = session.problems();
  return {
    lines,
    faults: faults.map(({ name, message }) => `${name}: ${withoutSuggestion(message)}`).sort(),
    blanks: [...blanks].sort(),
    fileFaults,
  };
}
