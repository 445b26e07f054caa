import { createServer } from "node:http";
import type { AddressInfo } from "node:net";

/** The built page at an origin of its own. */
export interface ServedAnew {
  /** Ends in a slash. */
  readonly url: string;
  /** From now on the page is served as a newer one: its worker is another, so that browsers take note. */
  release(): void;
  close(): void;
}

/** What a server may do to the page that it serves. */
interface How {
  /** Each answer has the page stand in an origin of its own, to which the browser gives no storage at all. */
  readonly sandboxed?: boolean;
}

/** Serves what is served at `from` (ending in a slash) at another origin, where it can be changed while a test runs. */
export async function serveAnew(from: string, { sandboxed = false }: How = {}): Promise<ServedAnew> {
  let release = 0;
  const server = createServer(async (request, answer) => {
    const path = (request.url ?? "/").slice(1);
    const found = await fetch(from + path);
    answer.statusCode = found.status;
    answer.setHeader("content-type", found.headers.get("content-type") ?? "text/plain");
    answer.setHeader("cache-control", "no-cache");
    if (sandboxed) {
      answer.setHeader("content-security-policy", "sandbox allow-scripts allow-downloads allow-modals");
      // A page without an origin gets even its own parts only by leave.
      answer.setHeader("access-control-allow-origin", "*");
    }
    const body = Buffer.from(await found.arrayBuffer());
    answer.end(path === "sw.js" && release > 0 ? Buffer.concat([body, Buffer.from(`\n// ${release}`)]) : body);
  });
  await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    release() {
      release += 1;
    },
    close() {
      server.closeAllConnections();
      server.close();
    },
  };
}
