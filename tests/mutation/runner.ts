import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { Script } from "node:vm";
import { declareClassPlugin, PluginKind, tokens } from "@stryker-mutator/api/plugin";
import {
  type DryRunResult,
  DryRunStatus,
  determineHitLimitReached,
  type MutantRunOptions,
  type MutantRunResult,
  type TestResult,
  type TestRunner,
  TestStatus,
  toMutantRunResult,
} from "@stryker-mutator/api/test-runner";
import { collector, type Declared } from "./collect.ts";

/** What the mutated code and its runner share; the names are the tool's. */
interface Shared {
  activeMutant?: string | undefined;
  currentTestId?: string | undefined;
  hitCount?: number | undefined;
  hitLimit?: number | undefined;
  mutantCoverage?: { static: Record<string, number>; perTest: Record<string, Record<string, number>> };
}

const global = globalThis as { __stryker__?: Shared };
global.__stryker__ ??= {};
const shared = global.__stryker__;

/** Where the build command puts the quick tests with all that they test, seen from the sandbox. */
const BUNDLE = "tests/dist/mutation.cjs";

/** A random law finds in so many tries what a change of a line breaks, or hardly ever. */
process.env.GYLEBOOK_LAW_RUNS ??= "200";

const said = (error: unknown): string => (error instanceof Error ? (error.stack ?? error.message) : String(error));

/**
 * Runs the bundled quick tests within its own process. Each mutant gets the bundle loaded afresh, so that nothing which one
 * of them leaves behind reaches the next: that takes some tens of milliseconds, a new worker takes a second and more.
 */
class BundleRunner implements TestRunner {
  static readonly inject = tokens();
  readonly #path = resolve(BUNDLE);
  readonly #require = createRequire(this.#path);
  #script: Script | null = null;

  capabilities(): { reloadEnvironment: boolean } {
    return { reloadEnvironment: true };
  }

  #load(): readonly Declared[] {
    const { module, tests } = collector();
    this.#script ??= new Script(`(function (require, address) {${readFileSync(this.#path, "utf8")}\n})`, {
      filename: this.#path,
    });
    const requireHere = (name: string): unknown => (name === "vitest" ? module : this.#require(name));
    this.#script.runInThisContext()(requireHere, pathToFileURL(this.#path).href);
    return tests;
  }

  async #run(tests: readonly Declared[], filter: ReadonlySet<string> | null, bail: boolean): Promise<TestResult[]> {
    const results: TestResult[] = [];
    for (const [at, { name, run }] of tests.entries()) {
      const id = `${at} ${name}`;
      if (filter !== null && !filter.has(id)) continue;
      const began = performance.now();
      let failure: string | null = null;
      shared.currentTestId = id;
      try {
        await run();
      } catch (error) {
        failure = said(error);
      }
      shared.currentTestId = undefined;
      const result = { id, name, timeSpentMs: performance.now() - began };
      results.push(
        failure === null
          ? { ...result, status: TestStatus.Success }
          : { ...result, status: TestStatus.Failed, failureMessage: failure },
      );
      if (bail && failure !== null) break;
    }
    return results;
  }

  async dryRun(): Promise<DryRunResult> {
    shared.activeMutant = undefined;
    const tests = await this.#run(this.#load(), null, false);
    return {
      status: DryRunStatus.Complete,
      tests,
      ...(shared.mutantCoverage === undefined ? {} : { mutantCoverage: shared.mutantCoverage }),
    };
  }

  /** The mutant is active from the first line of the bundle: a table that is built while it loads is built by the mutant. */
  async mutantRun({ activeMutant, testFilter, hitLimit, disableBail }: MutantRunOptions): Promise<MutantRunResult> {
    shared.activeMutant = activeMutant.id;
    shared.hitCount = hitLimit === undefined ? undefined : 0;
    shared.hitLimit = hitLimit;
    let tests: TestResult[];
    try {
      tests = await this.#run(this.#load(), testFilter === undefined ? null : new Set(testFilter), !disableBail);
    } catch (error) {
      const id = "the program does not load";
      tests = [{ id, name: id, timeSpentMs: 0, status: TestStatus.Failed, failureMessage: said(error) }];
    }
    return toMutantRunResult(
      determineHitLimitReached(shared.hitCount, hitLimit) ?? { status: DryRunStatus.Complete, tests },
    );
  }
}

export const strykerPlugins = [declareClassPlugin(PluginKind.TestRunner, "bundle", BundleRunner)];
