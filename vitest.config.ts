import { playwright } from "@vitest/browser-playwright";
import { defineConfig } from "vitest/config";
import { CHROMIUM_FLAGS, CHROMIUM_VARIABLE, TEST_LOCALE } from "./tests/support/chromium.ts";

const COMPONENT_TESTS = ["components/**/*.test.ts", "tests/components/**/*.test.ts"];
const END_TO_END_TESTS = ["tests/e2e/**/*.e2e.test.ts"];

/** What component tests load from packages: bundled before the first of them, for a bundling in between reloads a test under way. */
const BUNDLED = [
  "@codemirror/autocomplete",
  "@codemirror/commands",
  "@codemirror/language",
  "@codemirror/state",
  "@codemirror/view",
  "@tanstack/lit-virtual",
  "axe-core",
  "browser-fs-access",
  "chevrotain",
  "fast-check",
  "idb",
  "immer",
  "lit",
  "lit/directives/guard.js",
  "lit/directives/keyed.js",
  "lit/directives/ref.js",
  "lit/directives/repeat.js",
  "papaparse",
  "uplot",
];

export default defineConfig({
  test: {
    reporters: ["./tests/support/reporter.ts"],
    setupFiles: ["tests/support/no-stray-console.ts"],
    // Laws try thousands of cases, and a busy machine is many times slower than an idle one: time is measured in tests/bench.
    testTimeout: 120_000,
    hookTimeout: 180_000,
    expect: { poll: { timeout: 20_000 } },
    coverage: { include: ["engine/**/*.ts"], exclude: ["**/*.d.ts"], reporter: ["text"], reportOnFailure: true },
    projects: [
      {
        extends: true,
        test: {
          name: "node",
          include: ["tests/**/*.test.ts"],
          exclude: [...COMPONENT_TESTS, ...END_TO_END_TESTS],
        },
      },
      {
        extends: true,
        optimizeDeps: { include: BUNDLED },
        test: {
          name: "browser",
          include: COMPONENT_TESTS,
          globalSetup: ["tests/support/browser-setup.ts"],
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            instances: [{ browser: "chromium" }],
            provider: playwright({
              launchOptions: {
                // Read when the browser is launched: the set-up has found it by then.
                get executablePath() {
                  return process.env[CHROMIUM_VARIABLE];
                },
                args: CHROMIUM_FLAGS,
              },
              contextOptions: { locale: TEST_LOCALE },
            }),
          },
        },
      },
      {
        extends: true,
        test: {
          name: "e2e",
          include: END_TO_END_TESTS,
          globalSetup: ["tests/support/browser-setup.ts", "tests/support/app-setup.ts"],
        },
      },
    ],
  },
});
