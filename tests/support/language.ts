import { createLanguage } from "../../engine/workbook/language.ts";

/** One reader of formulas for all tests of a file: making one costs milliseconds. */
export const language = createLanguage();
