import { afterEach, expect } from "vitest";

const METHODS = ["debug", "error", "info", "log", "trace", "warn"] as const;

const stray: string[] = [];

// Lit greets every developer build once; that is no fault of ours.
const lit = globalThis as { litIssuedWarnings?: Set<string> };
lit.litIssuedWarnings = (lit.litIssuedWarnings ?? new Set()).add("dev-mode");

for (const method of METHODS) {
  console[method] = (...parts: unknown[]): void => {
    stray.push(`console.${method}: ${parts.map(String).join(" ")}`);
  };
}

afterEach(() => {
  expect(stray.splice(0), "nothing may be written to the console").toEqual([]);
});
