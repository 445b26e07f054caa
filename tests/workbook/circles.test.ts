import { describe, expect, test } from "vitest";
import { createSession, type Session } from "../../engine/session.ts";

/** `x = y; y = x` as a book of one sheet. */
const bookOf = (lines: string): Session => createSession(`gylebook 1\nsheet s\n${lines.split("; ").join("\n")}\n`);

const told = (session: Session): Record<string, string> =>
  Object.fromEntries(session.problems().faults.map(({ name, message }) => [name, message]));

describe("a circle that changes is told anew by all that are or were in it", () => {
  test.each([
    ["gets shorter", "x = y; y = z; z = x", "y", "x"],
    ["gets longer", "x = y; y = x; z = x", "y", "z"],
    ["is opened", "x = y; y = z; z = x", "z", "1"],
    ["is closed", "x = y; y = z; z = 1", "z", "x"],
    ["parts into two", "a = b; b = a + c; c = d; d = c + a", "d", "c"],
    ["takes another way", "x = y + z; y = x; z = x; u = x", "x", "z"],
    ["is of one line", "x = y; y = x", "y", "y"],
  ])("when it %s", (_, lines, line, formula) => {
    const session = bookOf(lines);
    session.dispatch({ edit: "set-formula", cell: `s.${line}`, formula });
    expect(told(session)).toEqual(told(createSession(session.text())));
    session.undo();
    expect(told(session)).toEqual(told(bookOf(lines)));
  });

  test("when one of its lines goes, and another comes in its place", () => {
    const session = bookOf("x = y; y = z; z = x; u = 1");
    session.dispatch({ edit: "remove-item", sheet: "s", at: 1 });
    expect(told(session)).toEqual(told(createSession(session.text())));
    session.dispatch({ edit: "add-cell", sheet: "s", at: null, name: "w", label: null, formula: "u + 1" });
    expect(session.cell("s.w")?.shown).toBe("2");
    session.dispatch({ edit: "add-cell", sheet: "s", at: null, name: "y", label: null, formula: "z" });
    expect(told(session)).toEqual(told(createSession(session.text())));
  });
});

test("a line of a few is told a shortest circle through itself, one of many the circle of them all", () => {
  const ring = (count: number): string =>
    Array.from({ length: count }, (_, at) => `x${at} = x${(at + 1) % count}${at === 0 ? "" : " + x0"}`).join("; ");
  expect(told(bookOf(ring(50)))["s.x7"]).toMatch(/^s\.x7 → s\.x0 → .* → s\.x7: each needs the other\.$/);
  expect(told(bookOf(ring(51)))["s.x7"]).toBe(
    "s.x0 → s.x1 → s.x0: each needs the other. s.x7 needs them, and they need it.",
  );
});
