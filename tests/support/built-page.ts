import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build, preview } from "vite";

export interface BuiltPage {
  /** Where it is served on this machine, ending in a slash. */
  readonly url: string;
  /** Ends serving, and removes what was built. */
  close(): Promise<void>;
}

/** Builds the page as a release would, into a folder of this run's own, and serves it on a free port until it is closed. */
export const serveBuiltPage = async (): Promise<BuiltPage> => {
  const outDir = mkdtempSync(join(tmpdir(), "gylebook-page-"));
  // A test run's own setting would build the page as developers see it.
  const { NODE_ENV } = process.env;
  process.env.NODE_ENV = "production";
  await build({ logLevel: "warn", build: { outDir } });
  if (NODE_ENV === undefined) delete process.env.NODE_ENV;
  else process.env.NODE_ENV = NODE_ENV;
  const server = await preview({ logLevel: "warn", build: { outDir }, preview: { host: "127.0.0.1", port: 0 } });
  const url = server.resolvedUrls?.local[0];
  if (url === undefined) throw new Error("the built page is served nowhere");
  return {
    url,
    async close() {
      await server.close();
      rmSync(outDir, { recursive: true });
    },
  };
};
