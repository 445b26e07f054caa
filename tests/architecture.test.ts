import { describe, expect, test } from "vitest";
import { files, findCycle, importsOf, read, topLevel } from "./support/sources.ts";

/** Everything that stands at the top; a new name here is a decision, not an accident. */
const TOP_LEVEL = [
  ".ci",
  ".editorconfig",
  ".gitignore",
  ".npmrc",
  "DEVELOPERS.md",
  "LICENSE",
  "README.md",
  "biome.json",
  "components",
  "engine",
  "knip.json",
  "package-lock.json",
  "package.json",
  "tests",
  "tsconfig.json",
  "vite.config.ts",
  "vitest.config.ts",
  "workbooks",
];

/** The engine's parts; each may import only itself and what stands before it. */
const ORDER = [
  "base",
  "graph",
  "units",
  "values",
  "diagnostics",
  "parser",
  "operations",
  "library",
  "checker",
  "evaluator",
  "workbook",
  "assist",
  "readings",
  "session",
  "index",
  "cli",
];

/** Which part may use which package; a package that is not listed for a part may not be used there. */
const PACKAGES: Record<string, readonly string[]> = {
  parser: ["chevrotain"],
  readings: ["papaparse"],
  cli: ["commander", "node:"],
  components: [
    "@codemirror/autocomplete",
    "@codemirror/commands",
    "@codemirror/language",
    "@codemirror/state",
    "@codemirror/view",
    "@fontsource-variable/source-code-pro",
    "@fontsource-variable/source-sans-3",
    "@tanstack/lit-virtual",
    "browser-fs-access",
    "idb",
    "lit",
    "uplot",
    "virtual:pwa-register",
  ],
};

/** Longer than a reader follows in one sitting. */
const LONGEST_FILE = 400;

/** Files that may be longer, because they hold rows of one table and nothing else. */
const TABLES = new Set<string>([]);

const all = files();
const modules = all.filter((path) => path.endsWith(".ts"));
const shipped = modules.filter((path) => /^(?:engine|components)\//.test(path) && !path.endsWith(".test.ts"));
const engine = shipped.filter((path) => path.startsWith("engine/"));
const calculation = engine.filter((path) => !path.startsWith("engine/cli/"));
const isText = (path: string): boolean => !/\.(?:png|ico|woff2?|bin)$/.test(path);

/** The part of the house a file belongs to: a folder or file of the engine, or `components`. */
const partOf = (path: string): string => {
  const [top = "", next = ""] = path.split("/");
  return top === "engine" ? next.replace(/\.ts$/, "") : top;
};

/** Each line of these files that matches, as `path:line: text`. */
const linesMatching = (paths: readonly string[], pattern: RegExp): string[] =>
  paths.flatMap((path) =>
    read(path)
      .split("\n")
      .flatMap((line, at) => (pattern.test(line) ? [`${path}:${at + 1}: ${line.trim()}`] : [])),
  );

/** Each import of these files that breaks a rule, as `path → specifier`. */
const importsBreaking = (
  paths: readonly string[],
  breaks: (from: string, to: ReturnType<typeof importsOf>[number]) => boolean,
): string[] =>
  paths.flatMap((path) =>
    importsOf(path)
      .filter((found) => breaks(path, found))
      .map((found) => `${path} → ${found.specifier}`),
  );

describe("the folders", () => {
  test("at the top are the agreed ones", () => {
    expect(topLevel().filter((name) => !TOP_LEVEL.includes(name))).toEqual([]);
  });

  test("of the engine each have a place in the import order", () => {
    expect(engine.filter((path) => !ORDER.includes(partOf(path)) && !path.endsWith(".d.ts"))).toEqual([]);
  });

  test("of the engine import only from parts before them", () => {
    const backwards = importsBreaking(engine, (from, { file }) => {
      if (file === undefined) return false;
      return !file.startsWith("engine/") || ORDER.indexOf(partOf(file)) > ORDER.indexOf(partOf(from));
    });
    expect(backwards).toEqual([]);
  });

  test("of the page reach the engine through engine/index.ts", () => {
    const components = shipped.filter((path) => path.startsWith("components/"));
    const aside = importsBreaking(components, (_, { file }) => {
      if (file === undefined || file.startsWith("components/") || file.startsWith("workbooks/")) return false;
      return file !== "engine/index.ts";
    });
    expect(aside).toEqual([]);
  });

  test("use only the packages that are theirs", () => {
    const foreign = importsBreaking(shipped, (from, found) => {
      return found.package !== undefined && !(PACKAGES[partOf(from)] ?? []).includes(found.package);
    });
    expect(foreign).toEqual([]);
  });
});

describe("the modules", () => {
  test("import one another in no circle", () => {
    expect(findCycle(modules)).toEqual([]);
  });

  test("have one door to the engine and one to the components", () => {
    const doors = modules.filter((path) => path.endsWith("/index.ts"));
    expect(doors.filter((path) => path !== "engine/index.ts" && path !== "components/index.ts")).toEqual([]);
  });

  test("name the files they import with their endings", () => {
    expect(importsBreaking(modules, (_, { file }) => file !== undefined && !/\.\w+$/.test(file))).toEqual([]);
  });

  test(`are no longer than ${LONGEST_FILE} lines, tables of rows apart`, () => {
    const long = modules.filter((path) => !TABLES.has(path) && read(path).trimEnd().split("\n").length > LONGEST_FILE);
    expect(long).toEqual([]);
  });

  test("name what they export", () => {
    const required = /^(?:vite|vitest)\.config\.ts$|^tests\/support\/reporter\.ts$/;
    const others = modules.filter((path) => !required.test(path));
    expect(linesMatching(others, /^export default\b/)).toEqual([]);
  });

  test("silence no checker and skip no test", () => {
    const silenced =
      /@ts-(?:ignore|expect-error|nocheck)|biome-(?:ignore)|\b(?:test|it|describe)\.(?:only|skip|todo)\b/;
    expect(linesMatching(modules, silenced)).toEqual([]);
  });

  test("write to the console nowhere but on the command line", () => {
    const quiet = shipped.filter((path) => !path.startsWith("engine/cli/"));
    expect(linesMatching(quiet, /\bconsole\.\w+\(/)).toEqual([]);
  });
});

describe("the calculation", () => {
  test("has no clock and no chance in it", () => {
    const hidden =
      /\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\bperformance\.|\bTemporal\.Now\b|\bset(?:Timeout|Interval)\(/;
    expect(linesMatching(calculation, hidden)).toEqual([]);
  });

  test("keeps nothing in a module between calls", () => {
    expect(linesMatching(calculation, /^(?:export )?(?:let|var)\b/)).toEqual([]);
  });
});

describe("the repository", () => {
  const texts = all.filter(isText);

  test("names no machine's folders", () => {
    expect(linesMatching(texts, /(?:^|[\s"'`(=])\/(?:work|home|root|Users)\/\w/)).toEqual([]);
  });

  test("names no package registry", () => {
    expect(linesMatching(texts, /\bregistry[.]\w+[.]\w+|"resolved"[:]/)).toEqual([]);
  });
});
