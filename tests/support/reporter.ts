import type { SerializedError } from "vitest";
import { DefaultReporter, type TestModule, type TestRunEndReason } from "vitest/node";

/** The usual report, ended by one line `N passed, N failed` alone, in which a file that does not load counts as a failure. */
export default class CountingReporter extends DefaultReporter {
  override onTestRunEnd(
    modules: readonly TestModule[],
    errors: readonly SerializedError[],
    reason: TestRunEndReason,
  ): void {
    super.onTestRunEnd(modules, errors, reason);
    const tests = modules.flatMap((module) => [...module.children.allTests()]);
    const count = (state: string): number => tests.filter((test) => test.result().state === state).length;
    const unloaded = modules.filter((module) => module.errors().length > 0).length;
    const failed = count("failed") + unloaded + errors.length;
    this.log(`${count("passed")} passed, ${failed === 0 && reason === "failed" ? 1 : failed} failed`);
  }
}
