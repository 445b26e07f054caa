import Papa from "papaparse";

/** Rows as a workbook keeps them: CSV lines in pages. */
export interface RowsPage {
  readonly text: string;
  readonly count: number;
}

/** Rows in one page: the length at which a workbook's own pages are cut. */
export const PAGE_ROWS = 256;

const NEEDS_QUOTES = /[",\r\n]|^[\s\u00a0]|[\s\u00a0]$/;

/** One entry as it stands in a row: quoted where it holds a comma, a quote or outer blanks; a line break becomes a blank, for a row is a line. */
export function entryText(entry: string): string {
  if (!NEEDS_QUOTES.test(entry)) return entry;
  return `"${entry.replace(/\r\n|\r|\n/g, " ").replaceAll('"', '""')}"`;
}

/** A row of entries that are ready to stand in it; a row that would be blank or end the table is quoted. */
export function rowText(entries: readonly string[]): string {
  const [only = ""] = entries;
  if (entries.length === 1 && (only === "" || only.trim() === "end")) return `"${only}"`;
  let line = only;
  for (let at = 1; at < entries.length; at += 1) line += `,${entries[at]}`;
  return line;
}

/** The entries of one row's line. */
export const entriesOfRow = (line: string): readonly string[] =>
  Papa.parse(line, { delimiter: ",", newline: "\n" }).data[0]?.map((entry) => entry.trim()) ?? [];

/** Gathers rows into pages. */
export class PageBuffer {
  readonly #pages: RowsPage[] = [];
  #lines: string[] = [];

  push(line: string): void {
    this.#lines.push(line);
    if (this.#lines.length === PAGE_ROWS) this.#close();
  }

  #close(): void {
    if (this.#lines.length === 0) return;
    this.#lines.push("");
    this.#pages.push({ text: this.#lines.join("\n"), count: this.#lines.length - 1 });
    this.#lines = [];
  }

  finish(): readonly RowsPage[] {
    this.#close();
    return this.#pages;
  }
}

/** The line of a row in pages of {@link PAGE_ROWS}. Keeps the last page split, for rows are asked for in order. */
export class PageReader {
  readonly #pages: readonly RowsPage[];
  #at = -1;
  #lines: readonly string[] = [];

  constructor(pages: readonly RowsPage[]) {
    this.#pages = pages;
  }

  line(row: number): string {
    const page = Math.floor(row / PAGE_ROWS);
    if (page !== this.#at) {
      this.#lines = this.#pages[page]?.text.split("\n") ?? [];
      this.#at = page;
    }
    return this.#lines[row % PAGE_ROWS] ?? "";
  }
}
