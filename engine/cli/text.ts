import { wordTooFew } from "../diagnostics/wording.ts";
import type { Session } from "../session.ts";
import { labelOf } from "../workbook/document.ts";
import type { CellJson, ColumnJson, WorkbookJson } from "./json.ts";

/** Rows of a table that are printed; the rest is counted. */
const MOST_ROWS = 40;

const pad = (text: string, width: number): string => text + " ".repeat(Math.max(0, width - [...text].length));

/** What stands beside a label: the value, or why there is none. */
function standing(line: CellJson | ColumnJson, shown: string): string {
  if (line.state === "waiting")
    return line.waitingFor.includes(line.name)
      ? "still to be filled in"
      : `waiting for ${line.waitingFor.join(", ")}${wordTooFew(line.tooFew ?? null)}`;
  if (line.state === "ready") return shown;
  if (line.faults.length > 0) return line.faults.map(({ message }) => `faulty: ${message}`).join("\n");
  return `faulty because of ${line.because ?? "another line"}`;
}

/** Cautions of safety and estimate are told once on a sheet. */
function told(cautions: readonly { code: string; message: string }[], already: Set<string>): string[] {
  return cautions.flatMap(({ code, message }) => {
    if (code !== "safety" && code !== "estimate") return [message];
    if (already.has(message)) return [];
    already.add(message);
    return [message];
  });
}

function cellLines(cell: CellJson, width: number, already: Set<string>): string[] {
  const [first = "", ...rest] = standing(cell, cell.shown).split("\n");
  const indent = `  ${" ".repeat(width)}  `;
  const beside =
    [...cell.label].length > width ? [`  ${cell.label}`, indent + first] : [`  ${pad(cell.label, width)}  ${first}`];
  return [
    ...beside,
    ...rest.map((line) => indent + line),
    ...told(cell.cautions, already).map((message) => `${indent}caution: ${message}`),
  ];
}

function tableLines(
  session: Session,
  table: WorkbookJson["tables"][number],
  label: string,
  already: Set<string>,
): string[] {
  const lines = [`  ${label} (${table.rows} ${table.rows === 1 ? "row" : "rows"})`];
  const heads = table.columns.map((column) => (column.unit ? `${column.label} (${column.unit})` : column.label));
  const rows = Array.from({ length: Math.min(table.rows, MOST_ROWS) }, (_, row) =>
    table.columns.map((column) => session.entry(table.name, row, column.name).shown || "–"),
  );
  const widths = heads.map((head, at) => Math.max([...head].length, ...rows.map((row) => [...(row[at] ?? "")].length)));
  for (const row of [heads, ...rows])
    lines.push(
      `    ${row
        .map((entry, at) => pad(entry, widths[at] ?? 0))
        .join("  ")
        .trimEnd()}`,
    );
  if (table.rows > MOST_ROWS) lines.push(`    … and ${table.rows - MOST_ROWS} more rows`);
  const seen = new Set<string>();
  for (const column of table.columns) {
    if (column.state !== "ready") lines.push(...columnLines(column, seen));
    for (const message of told(column.cautions, already)) lines.push(`    ${column.label}: caution: ${message}`);
  }
  return lines;
}

/** Why a column has no values; what every column has, a row with too many entries, is told once. */
function columnLines(column: ColumnJson, seen: Set<string>): string[] {
  const all = standing(column, "").split("\n");
  const fresh = all.filter((line) => !seen.has(line));
  for (const line of fresh) seen.add(line);
  const [first = "faulty for the same reason", ...rest] = fresh;
  const indent = " ".repeat([...column.label].length + 6);
  return [`    ${column.label}: ${first}`, ...rest.map((line) => indent + line)];
}

/** Labels up to this length have their value beside them, longer ones below. */
const WIDEST_LABEL = 40;

/** Every sheet with its lines in order, as plain text. */
export function printSheets(session: Session, { title, faults, cells, tables }: WorkbookJson): string {
  const lines: string[] = title === "" ? [] : [title, ""];
  for (const { line, column, code, message } of faults)
    lines.push(`line ${line}, column ${column}: ${code}: ${message}`);
  let at = 0;
  const head = session.workbook.head.filter((item) => item.is === "cell").length;
  const none = new Set<string>();
  for (; at < head; at += 1) lines.push(...cellLines(cells[at] as CellJson, 24, none));
  let table = 0;
  for (const sheet of session.workbook.sheets) {
    const own = sheet.pages.flat();
    const width = Math.min(
      WIDEST_LABEL,
      Math.max(12, ...own.map((item) => (item.is === "cell" ? [...labelOf(item)].length : 0))),
    );
    const already = new Set<string>();
    if (session.workbook.sheets.length > 1 || title !== "") lines.push("", labelOf(sheet));
    for (const item of own) {
      if (item.is === "section") lines.push("", `  ${item.label}`);
      else if (item.is === "cell") {
        lines.push(...cellLines(cells[at] as CellJson, width, already));
        at += 1;
      } else if (item.is === "table" && item.columns.length > 0) {
        lines.push(...tableLines(session, tables[table] as WorkbookJson["tables"][number], labelOf(item), already));
        table += 1;
      }
    }
  }
  return `${lines.join("\n").replace(/^\n+/, "")}\n`;
}
