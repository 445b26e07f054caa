import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import type { BrowserContext } from "playwright";

declare global {
  var storagePage: typeof import("./storage-page.ts").storagePage;
}

/** A book in hand as a page tells it. */
export type Taken = Awaited<ReturnType<typeof globalThis.storagePage.take>>;

/** An origin as a brewery's own server on a plain connection has it: without locks and without digests. */
export const PLAIN = "http://brewhouse.test/";

/** A place whose page the browser gives no origin of its own, and so no storage. */
export const REFUSED = "refused/";

/** Serves a page that has nothing but the shelf, on an origin that browsers trust. `url` ends in a slash. */
export async function serveStorage(): Promise<{ readonly url: string; close(): void }> {
  const built = await build({
    entryPoints: [fileURLToPath(new URL("storage-page.ts", import.meta.url))],
    bundle: true,
    write: false,
    format: "iife",
    target: "es2022",
  });
  const script = built.outputFiles[0]?.text ?? "";
  const server = createServer((request, answer) => {
    const path = request.url ?? "/";
    if (path.startsWith(`/${REFUSED}`)) answer.setHeader("content-security-policy", "sandbox allow-scripts");
    answer.setHeader("content-type", path.endsWith(".js") ? "text/javascript" : "text/html");
    answer.end(path.endsWith(".js") ? script : '<!doctype html><title>Storage</title><script src="/page.js"></script>');
  });
  await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    close() {
      server.closeAllConnections();
      server.close();
    },
  };
}

/** Lets the pages of this context find the page at {@link PLAIN} too. */
export const alsoPlain = (context: BrowserContext, url: string): Promise<unknown> =>
  context.route(`${PLAIN}**`, async (route) =>
    route.fulfill({ response: await route.fetch({ url: route.request().url().replace(PLAIN, url) }) }),
  );
