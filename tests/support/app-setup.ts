import { build, type PreviewServer, preview } from "vite";
import type { TestProject } from "vitest/node";

declare module "vitest" {
  interface ProvidedContext {
    /** Where the built page is served while end-to-end tests run, ending in a slash. */
    appUrl: string;
  }
}

let server: PreviewServer | undefined;

/** Builds the page as a release would, and serves it on a free port. */
export const setup = async (project: TestProject): Promise<void> => {
  await build({ logLevel: "warn" });
  server = await preview({ preview: { host: "127.0.0.1", port: 0 }, logLevel: "warn" });
  const url = server.resolvedUrls?.local[0];
  if (url === undefined) throw new Error("the built page is served nowhere");
  project.provide("appUrl", url);
};

export const teardown = async (): Promise<void> => {
  await server?.close();
};
