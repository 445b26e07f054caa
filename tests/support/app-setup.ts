import type { TestProject } from "vitest/node";
import { serveBuiltPage } from "./built-page.ts";

declare module "vitest" {
  interface ProvidedContext {
    /** Where the built page is served while end-to-end tests run, ending in a slash. */
    appUrl: string;
  }
}

/** Serves the built page while end-to-end tests run. */
export const setup = async (project: TestProject): Promise<() => Promise<void>> => {
  const page = await serveBuiltPage();
  project.provide("appUrl", page.url);
  return () => page.close();
};
