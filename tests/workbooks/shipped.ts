import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { invariant } from "../../engine/base/invariant.ts";
import { wordCaution } from "../../engine/diagnostics/wording.ts";
import { createSession, type Session } from "../../engine/session.ts";
import { printUnit } from "../../engine/units/compound.ts";
import { fromCoherent } from "../../engine/units/convert.ts";
import { createLanguage } from "../../engine/workbook/language.ts";
import type { CellResult, ColumnResult } from "../../engine/workbook/result.ts";
import { tidyText } from "../../engine/workbook/tidy.ts";

const FOLDER = new URL("../../workbooks/", import.meta.url);

export const shippedFiles = (): readonly string[] => readdirSync(FOLDER).sort();
export const shippedBytes = (file: string): Uint8Array => readFileSync(new URL(file, FOLDER));
export const shippedText = (file: string): string => readFileSync(new URL(file, FOLDER), "utf8");
export const openShipped = (book: string): Session => createSession(shippedText(`${book}.gyle`));

/** A line's result; the test fails when there is none. */
export function lineOf(session: Session, name: string): CellResult {
  const line = session.cell(name);
  invariant(line, `there is no line ${name}`);
  return line;
}

/** A ready line's figure, in the unit that it is shown in. */
export function figureOf(session: Session, name: string): number {
  const { value, unit } = lineOf(session, name);
  invariant(typeof value === "number", `${name} has no figure`);
  return unit === null ? value : fromCoherent(value, unit);
}

/** A column's figures, in the unit that they are shown in. */
export function columnOf(session: Session, table: string, column: string): readonly number[] {
  const found = session.table(table)?.columns.find(({ name }) => name === column);
  invariant(found?.value instanceof Float64Array, `${table} has no figures in ${column}`);
  const { unit } = found;
  return Array.from(found.value, (value) => (unit === null ? value : fromCoherent(value, unit)));
}

/** What a line comes to: its figure, the unit it is shown in, how near, and where the figure comes from. */
type Pin = readonly [name: string, figure: number, unit: string, within: number, why: string];

/** Each line says what the hand arithmetic or the published figure beside it says. */
export function holdsPins(session: Session, pins: readonly Pin[]): void {
  test.each(pins)("%s is %d %s within %d: %s", (name, figure, unit, within) => {
    const line = lineOf(session, name);
    expect(line.unit === null ? "" : printUnit(line.unit)).toBe(unit);
    expect(Math.abs(figureOf(session, name) - figure)).toBeLessThanOrEqual(within);
  });
}

/** What a shipped book may show beside its results, by the first words. */
interface Standing {
  readonly blanks: readonly string[];
  readonly cautions: readonly string[];
}

/** The book opens with no fault, is tidy, comes back as it was, and shows these blanks and cautions and no others. */
export function standsWell(book: string, { blanks, cautions }: Standing): Session {
  const text = shippedText(`${book}.gyle`);
  const session = createSession(text);
  test("opens with no fault, waiting only for its open blanks", () => {
    expect(session.refusal).toBeNull();
    expect(session.problems()).toEqual({ faults: [], blanks, fileFaults: [] });
    for (const result of results(session)) {
      expect(result.faults).toEqual([]);
      expect(result.state === "ready" || result.waitingFor.every((name) => blanks.includes(name))).toBe(true);
    }
  });
  test("is tidy, and comes back as it was", () => {
    expect(tidyText(text, createLanguage())).toBe(text);
    expect(session.text()).toBe(text);
  });
  test("shows the cautions that its work calls for and no others", () => {
    const shown = new Set(results(session).flatMap((result) => result.cautions.map(wordCaution)));
    expect([...shown].map((says) => says.slice(0, LEAD)).sort()).toEqual(
      cautions.map((says) => says.slice(0, LEAD)).sort(),
    );
  });
  test("says in prose on every sheet what it is about", () => {
    for (const { name, pages } of session.workbook.sheets) {
      expect(
        pages.flat().some((item) => item.is === "prose"),
        `sheet ${name} has prose`,
      ).toBe(true);
    }
  });
  return session;
}

/** So many letters tell one caution from another. */
const LEAD = 24;

function results(session: Session): readonly (CellResult | ColumnResult)[] {
  return session.workbook.sheets.flatMap(({ name: sheet, pages }) =>
    pages.flat().flatMap((item): readonly (CellResult | ColumnResult)[] => {
      if (item.is === "cell") return [lineOf(session, `${sheet}.${item.name}`)];
      return item.is === "table" ? (session.table(`${sheet}.${item.name}`)?.columns ?? []) : [];
    }),
  );
}
