import { writeFileSync } from "node:fs";
import { createLanguage } from "../workbook/language.ts";
import { tidyText } from "../workbook/tidy.ts";
import { openFile, readText } from "./calc.ts";
import { CallFault, type Output } from "./output.ts";

/** `gylebook tidy FILE… [--write]`: prints the tidy form, or writes it back where it differs. */
export function tidy(files: readonly string[], write: boolean, output: Output): number {
  const language = createLanguage();
  for (const file of files) {
    // A file that cannot be used at all is refused before anything is written.
    openFile(file, null);
    const text = readText(file);
    const tidied = tidyText(text, language);
    if (!write) output.out(tidied);
    else if (tidied !== text) {
      try {
        writeFileSync(file, tidied);
      } catch {
        throw new CallFault(`${file}: it cannot be written.`);
      }
    }
  }
  return 0;
}
