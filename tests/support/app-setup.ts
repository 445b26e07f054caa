import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build, preview } from "vite";
import type { TestProject } from "vitest/node";

declare module "vitest" {
  interface ProvidedContext {
    /** Where the built page is served while end-to-end tests run, ending in a slash. */
    appUrl: string;
  }
}

/** Builds the page as a release would, into a folder of this run's own, and serves it on a free port until the end. */
export const setup = async (project: TestProject): Promise<() => Promise<void>> => {
  const outDir = mkdtempSync(join(tmpdir(), "gylebook-page-"));
  // A test run's own setting would build the page as developers see it.
  const { NODE_ENV } = process.env;
  process.env.NODE_ENV = "production";
  await build({ logLevel: "warn", build: { outDir } });
  process.env.NODE_ENV = NODE_ENV;
  const server = await preview({ logLevel: "warn", build: { outDir }, preview: { host: "127.0.0.1", port: 0 } });
  const url = server.resolvedUrls?.local[0];
  if (url === undefined) throw new Error("the built page is served nowhere");
  project.provide("appUrl", url);
  return async () => {
    await server.close();
    rmSync(outDir, { recursive: true });
  };
};
