import { expect } from "vitest";

type Json = Record<string, unknown>;

const keys = (object: unknown): string[] => Object.keys(object as Json).sort();

const FAULT = ["code", "column", "length", "line", "message"];
const STANDING = ["because", "cautions", "faults", "kind", "label", "name", "state", "unit", "waitingFor"];

/** Only what waits for a log with too few entries says what they are too few for. */
const standingKeys = (line: Json): string[] => ("tooFew" in line ? [...STANDING, "tooFew"] : STANDING);

function holdStanding(line: Json): void {
  expect(["ready", "waiting", "faulty"]).toContain(line.state);
  for (const fault of line.faults as Json[]) {
    expect(keys(fault)).toEqual(FAULT);
    for (const place of ["line", "column"]) expect(fault[place]).toBeGreaterThanOrEqual(1);
  }
  for (const caution of line.cautions as Json[]) expect(keys(caution)).toEqual(["code", "message"]);
  expect((line.waitingFor as unknown[]).length > 0).toBe(line.state === "waiting");
  if ("tooFew" in line) expect([typeof line.tooFew, line.state]).toEqual(["string", "waiting"]);
  if (line.state === "faulty") expect((line.faults as unknown[]).length > 0 || line.because !== null).toBe(true);
}

/** The object of `calc --json` as the language reference prints it: closed keys, no figure that JSON cannot hold. */
export function holdCalcJson(text: string): Json {
  expect(text).not.toMatch(/NaN|Infinity/);
  const object = JSON.parse(text) as Json;
  expect(keys(object)).toEqual(["cautions", "cells", "faults", "format", "lens", "tables", "title"]);
  expect(object.format).toBe(1);
  for (const cell of object.cells as Json[]) {
    const held = "values" in cell ? "values" : "value";
    expect(keys(cell)).toEqual([...standingKeys(cell), held, "shown"].sort());
    holdStanding(cell);
    if (cell.state !== "ready") expect({ held: cell[held], shown: cell.shown }).toEqual({ held: null, shown: "" });
  }
  for (const table of object.tables as Json[]) {
    expect(keys(table)).toEqual(["columns", "name", "rows"]);
    for (const column of table.columns as Json[]) {
      expect(keys(column)).toEqual([...standingKeys(column), "values"].sort());
      holdStanding(column);
      expect((column.values as unknown[]).length).toBe(table.rows);
    }
  }
  return object;
}
