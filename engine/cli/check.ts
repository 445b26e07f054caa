import { openFile } from "./calc.ts";
import { linePlaces, workbookJson } from "./json.ts";
import type { Output } from "./output.ts";

/** `gylebook check FILE…`: faults and cautions as `file:line:column code message`; a caution stands at its line's start. */
export function check(files: readonly string[], output: Output): number {
  let faulty = false;
  for (const file of files) {
    const session = openFile(file, null);
    const json = workbookJson(session);
    const places = linePlaces(session);
    const told: { line: number; column: number; text: string }[] = [];
    const seen = new Set<string>();
    for (const fault of json.faults) told.push({ ...fault, text: `${fault.code} ${fault.message}` });
    for (const line of [
      ...json.cells,
      ...json.tables.flatMap((table) =>
        table.columns.map((column) => ({ ...column, name: `${table.name}.${column.name}` })),
      ),
    ]) {
      for (const fault of line.faults) told.push({ ...fault, text: `${fault.code} ${fault.message}` });
      for (const caution of line.cautions) {
        // What is to be heeded on a sheet is told once there.
        const key = `${line.name.split(".")[0]}|${caution.message}`;
        if ((caution.code === "safety" || caution.code === "estimate") && seen.has(key)) continue;
        seen.add(key);
        const { line: at, column } = places.get(line.name) ?? { line: 1, column: 1 };
        told.push({ line: at, column, text: `${caution.code} ${line.name}: ${caution.message}` });
      }
    }
    told.sort((a, b) => a.line - b.line || a.column - b.column);
    // A row with too many entries is a fault of every column.
    const once = new Set(told.map(({ line, column, text }) => `${file}:${line}:${column} ${text}\n`));
    for (const line of once) output.out(line);
    faulty ||=
      json.faults.length > 0 ||
      json.cells.some((cell) => cell.faults.length > 0) ||
      json.tables.some((table) => table.columns.some((column) => column.faults.length > 0));
  }
  return faulty ? 1 : 0;
}
