import { writeFileSync } from "node:fs";
import { referencePage } from "./reference-page.ts";

/** Run by `npm run reference`, which names the page to write. */
const [, , path] = process.argv;
if (path === undefined) {
  process.stderr.write("name the page to write\n");
  process.exitCode = 2;
} else writeFileSync(path, referencePage());
