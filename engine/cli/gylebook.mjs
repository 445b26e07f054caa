#!/usr/bin/env node
// Loads the command line that `npm ci` bundles. Committed, because npm links `bin` before it builds.
import { existsSync } from "node:fs";

const bundle = new URL("./dist/gylebook.cjs", import.meta.url);

if (existsSync(bundle)) {
  await import(bundle.href);
} else {
  process.stderr.write("gylebook: the command line has not been built yet; run `npm ci` in its folder first.\n");
  process.exitCode = 2;
}
