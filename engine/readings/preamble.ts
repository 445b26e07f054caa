import type { Asking } from "./question.ts";

/** What a line beside a table says of it: `Product;Pale 330`, `# Time zone: UTC+2`. */
export interface Said {
  readonly key: string;
  readonly value: string;
}

/** A line of that kind among the rows whose key stands above the table too. */
export interface SaidAgain extends Said {
  readonly line: number;
  /** What was said until then. */
  readonly before: string;
}

/** What a line says in two entries, or in one with a colon or a sign of equality; null for any other. */
export function saidBy(entries: readonly string[]): Said | null {
  const [first, second, third] = entries.map((entry) => entry.trim()).filter((entry) => entry !== "");
  if (first === undefined || third !== undefined) return null;
  const [, key, value] = /^[#\s]*(\D[^:=]{0,40}?)\s*[:=]\s*(.*)$/.exec(first) ?? [];
  if (second === undefined) return key !== undefined && value !== undefined && value !== "" ? { key, value } : null;
  const alone = value === "" ? key : /^[#\s]*(\D.{0,40})$/.exec(first)?.[1];
  return alone === undefined ? null : { key: alone, value: second };
}

/** What the lines above a table say, by key in lower case. */
export class Preamble {
  readonly #first: Said[] = [];
  /** By key in lower case, what was said last. */
  readonly #said = new Map<string, string>();

  constructor(lines: Iterable<readonly string[]>) {
    for (const entries of lines) {
      const said = saidBy(entries);
      if (said === null) continue;
      this.#first.push(said);
      this.#said.set(said.key.toLowerCase(), said.value);
    }
  }

  /** What is said under a key that fits; null where nothing is. */
  saidUnder(key: RegExp): Said | null {
    return this.#first.find((said) => key.test(said.key)) ?? null;
  }

  /** What a record among the rows says that was said above the table, with the value that stood until now; null for any other. */
  again(entries: readonly string[]): (Said & { readonly before: string }) | null {
    // Most rows begin with a figure or a date, and no key does.
    const code = (entries[0] ?? "").charCodeAt(0);
    if (this.#said.size === 0 || (code >= 48 && code <= 57)) return null;
    const said = saidBy(entries);
    const before = said === null ? undefined : this.#said.get(said.key.toLowerCase());
    if (said === null || before === undefined) return null;
    this.#said.set(said.key.toLowerCase(), said.value);
    return { ...said, before };
  }
}

/** Why such a record is no row. */
export const repeatsPreamble = ({ key, value, before }: Said & { readonly before: string }): string =>
  value === before
    ? `This line says "${key}: ${value}", as the lines above the table do; it is no reading.`
    : `This line says "${key}: ${value}" where it was "${before}" until here; it is no reading, and the rows below it may be of another.`;

/** Tells of a tank or a product that is another from a line of the file on: no column parts its rows. */
export function noteSaidAgain(again: readonly SaidAgain[], asking: Asking): void {
  const [first] = again;
  if (first === undefined) return;
  const others = again.length > 1 ? `, and so on to line ${again.at(-1)?.line}` : "";
  asking.note(
    `Line ${first.line} says "${first.key}: ${first.value}" where it was "${first.before}" until there${others}: the rows below it may be of another. All are read; to keep them apart, cut the file there.`,
  );
}
