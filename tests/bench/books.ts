import { invariant } from "../../engine/base/invariant.ts";
import { createLanguage } from "../../engine/workbook/language.ts";
import { Model } from "../../engine/workbook/model.ts";
import { openWorkbook } from "../../engine/workbook/open.ts";

export const language = createLanguage();

export const bookOf = (lines: readonly string[]): string => `gylebook 1\nsheet lines\n${lines.join("\n")}\n`;

export function modelOf(text: string): Model {
  const opened = openWorkbook(text, language);
  invariant(opened.ok, "the workbook opens");
  return new Model(opened.workbook, language);
}

/** The node of a line of the only sheet. */
export function nodeOf(model: Model, name: string): number {
  const node = model.names.node(`lines.${name}`);
  invariant(node !== undefined, `there is a line ${name}`);
  return node;
}

/** What the named lines hold; all of them must be ready. */
export const readLines = (model: Model, names: readonly string[]): number[] => {
  return names.map((name) => {
    const node = nodeOf(model, name);
    invariant(model.store.state(node) === 0, `${name} is ready`);
    return model.store.value(node) as number;
  });
};

export const counted = (count: number): number[] => Array.from({ length: count }, (_, at) => at);

/** Lines in fives: a figure and four that follow from it. */
export const linesInFives = (count: number): string[] =>
  counted(count).map((at) =>
    at % 5 === 0 ? `c${at} = ${1 + (at % 50) / 10} kg` : `c${at} = c${at - 1} * 1.25 + ${at % 5} kg`,
  );

/** Numbers in [0, 1) that are the same on every run (mulberry32, public domain). */
export function numbersFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}
