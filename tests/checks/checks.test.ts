import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { invariant } from "../../engine/base/invariant.ts";
import { calculate } from "../support/formula.ts";

/** The check values are numbered from D001 to this one. */
const LAST_ID = 320;

/** How a table of rows is written stands at the head of mash.txt. */
interface Row {
  readonly id: string;
  readonly formula: string;
  readonly expected: string;
  readonly tolerance: string;
  readonly source: string;
}

const folder = new URL("../checks/", import.meta.url);
const tables = readdirSync(folder)
  .filter((name) => name.endsWith(".txt"))
  .map((name) => ({ name, lines: readFileSync(new URL(name, folder), "utf8").split("\n") }));

function readRow(line: string, where: string): Row {
  const fields = line.split("|").map((field) => field.trim());
  const [id, formula, expected, tolerance, source] = fields;
  invariant(fields.length === 5 && id && formula && expected && tolerance && source, `${where} has not five fields`);
  invariant(/^D\d{3}[a-z]?$/.test(id), `${where} starts with ${id}, which is no id`);
  return { id, formula, expected, tolerance, source };
}

const rowsOf = (table: (typeof tables)[number]): Row[] =>
  table.lines.flatMap((line, at) =>
    line.trim() === "" || line.startsWith("#") ? [] : [readRow(line, `${table.name}:${at + 1}`)],
  );

/** The language itself compares: whether the formula is within the tolerance of what is expected. */
function comparison({ formula, expected, tolerance }: Row): string {
  if (tolerance === "exactly") return `(${formula}) is (${expected})`;
  const apart = `abs((${formula}) - (${expected}))`;
  return tolerance.endsWith("%") && !expected.endsWith("%")
    ? `${apart} <= abs(${expected}) * (${tolerance})`
    : `${apart} <= (${tolerance})`;
}

const filled = tables.map((table) => [table.name, rowsOf(table)] as const).filter(([, rows]) => rows.length > 0);

describe.each(filled)("%s", (_name, rows) => {
  test.each(rows.map((row) => [row.id, row.formula, row.expected, row.tolerance, row] as const))(
    "%s: %s is %s, to %s",
    (_id, _formula, _expected, _tolerance, row) => {
      const found = calculate(row.formula);
      expect({ found: found.shown, faults: found.faults }).toEqual({ found: found.shown, faults: [] });
      const compared = calculate(comparison(row));
      expect({ found: found.shown, compared: compared.shown }).toEqual({ found: found.shown, compared: "yes" });
    },
  );
});

describe("the check values", () => {
  const rows = tables.flatMap(rowsOf);

  test("stand once each", () => {
    const ids = rows.map((row) => row.id);
    expect(ids.filter((id, at) => ids.indexOf(id) !== at)).toEqual([]);
  });

  test("are all there: as a row, or in a comment that says where they are held, or why they are wrong or left out", () => {
    const named = new Set(rows.map((row) => row.id.slice(0, 4)));
    for (const { lines } of tables)
      for (const line of lines) {
        const told = /^# (D\d{3})(?: to (D\d{3}))? (?:is|are) (?:held by|wrong|left out)\b/.exec(line);
        if (!told?.[1]) continue;
        for (let id = Number(told[1].slice(1)); id <= Number((told[2] ?? told[1]).slice(1)); id += 1)
          named.add(`D${String(id).padStart(3, "0")}`);
      }
    const all = Array.from({ length: LAST_ID }, (_, at) => `D${String(at + 1).padStart(3, "0")}`);
    expect(all.filter((id) => !named.has(id))).toEqual([]);
  });
});
