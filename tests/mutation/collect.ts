import { expect } from "vitest";

type Body = (...row: never[]) => unknown;

/** A test as it was declared: its name within its groups, and what it does. */
export interface Declared {
  readonly name: string;
  readonly run: () => unknown;
}

const named = (name: string, row: readonly unknown[], at: number): string =>
  `${name} (${at}: ${row.filter((part) => typeof part === "string").join(" ")})`;

/** Takes the place of the test runner's module: keeps what tests are declared, in their order, and runs none. */
export function collector(): { readonly module: object; readonly tests: readonly Declared[] } {
  const tests: Declared[] = [];
  const groups: string[] = [];
  const befores: (() => unknown)[][] = [[]];

  const group = (name: string, body: () => void): void => {
    groups.push(name);
    befores.push([]);
    body();
    befores.pop();
    groups.pop();
  };
  const declare = (name: string, run: () => unknown): void => {
    const first = befores.flat();
    const prepared = async (): Promise<void> => {
      for (const before of first) await before();
      await run();
    };
    tests.push({ name: [...groups, name].join(" › "), run: first.length > 0 ? prepared : run });
  };
  const spread = (row: unknown): readonly unknown[] => (Array.isArray(row) ? row : [row]);
  const each =
    (put: (name: string, run: () => void) => void, pass: (body: Body, row: unknown) => unknown) =>
    (rows: readonly unknown[]) =>
    (name: string, body: Body): void => {
      for (const [at, row] of rows.entries()) put(named(name, spread(row), at), () => pass(body, row));
    };
  const spreading = (body: Body, row: unknown): unknown => body(...(spread(row) as never[]));
  const whole = (body: Body, row: unknown): unknown => body(row as never);

  const test = Object.assign(declare, { each: each(declare, spreading), for: each(declare, whole) });
  const describe = Object.assign(group, { each: each(group, spreading), for: each(group, whole) });
  return {
    module: {
      expect,
      test,
      it: test,
      describe,
      beforeAll: (before: () => unknown) => befores.at(-1)?.push(before),
      afterAll: () => undefined,
    },
    tests,
  };
}
