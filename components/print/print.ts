import type { Session } from "../../engine/index.ts";
import { tokens } from "../look/tokens.ts";
import { GylePlot } from "../plot/plot.ts";
import { titleOf } from "../text/book.ts";
import "./paper.ts";
import type { GylePaper } from "./paper.ts";

/** A text as CSS writes it between quotes; what could end it early or stand for something else is written by its number. */
const quoted = (text: string): string =>
  `"${text.replace(/["\\\p{Cc}]/gu, (sign) => `\\${(sign.codePointAt(0) ?? 0).toString(16)} `)}"`;

/**
 * What holds for the page while a paper is printed: nothing but the paper is on it, and each page has the book's title and
 * its number. The size is the printer's own, so that A4 and Letter both come out whole.
 */
const pageStyles = (title: string): string => `
  @page {
    margin: 12mm 13mm 14mm;
    @bottom-left { content: ${quoted(title)}; font: 8pt sans-serif; }
    @bottom-right { content: counter(page) " / " counter(pages); font: 8pt sans-serif; }
  }
  @media screen {
    gyle-paper { position: absolute; inset-block-start: 0; inset-inline-start: -300mm; inline-size: 184mm; visibility: hidden; }
  }
  @media print {
    body > :not(gyle-paper) { display: none !important; }
    body { background: white; }
  }
`;

/** Sheets of a book that are to be printed, in order; "" is the front page. */
export interface PrintedSheets {
  readonly session: Session;
  readonly names: readonly string[];
}

/** The paper stands on the page in place of all else that would be printed, until it is taken away. */
const stand = ({ session, names }: PrintedSheets): { readonly paper: GylePaper; readonly away: () => void } => {
  const paper = Object.assign(document.createElement("gyle-paper"), { session, names });
  const styles = new CSSStyleSheet();
  styles.replaceSync(pageStyles(titleOf(session.workbook)));
  const added = [...(tokens.styleSheet === undefined ? [] : [tokens.styleSheet]), styles];
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, ...added];
  // Assistive technology keeps to the page itself, which says the same.
  paper.setAttribute("aria-hidden", "true");
  document.body.append(paper);
  return {
    paper,
    away: () => {
      paper.remove();
      const sheets = [...document.adoptedStyleSheets];
      for (const sheet of added) sheets.splice(sheets.lastIndexOf(sheet), 1);
      document.adoptedStyleSheets = sheets;
    },
  };
};

/** Prints these sheets as they stand on paper; resolves when the printing is done or given up. */
export async function printSheets(session: Session, names: readonly string[]): Promise<void> {
  const { paper, away } = stand({ session, names });
  try {
    await paper.updateComplete;
    await document.fonts.ready;
    await drawn(paper);
    await new Promise<void>((printed) => {
      addEventListener("afterprint", () => printed(), { once: true });
      print();
    });
  } finally {
    away();
  }
}

/** From now on the browser's own menu prints these sheets as {@link printSheets} would; asked for anew each time. */
export function printFromMenu(sheets: () => PrintedSheets): void {
  let away: (() => void) | null = null;
  void GylePlot.load();
  addEventListener("beforeprint", () => {
    // What printSheets put up is what is wanted.
    if (document.querySelector("gyle-paper") === null) away = stand(sheets()).away;
  });
  addEventListener("afterprint", () => {
    away?.();
    away = null;
  });
}

/** A plot is drawn by code that comes when it is first needed; a longer wait than this is given up, in milliseconds. */
const DRAWN_MS = 3_000;

/** Waits until every plot has its drawing, or says why it has none. */
async function drawn(paper: HTMLElement): Promise<void> {
  const end = performance.now() + DRAWN_MS;
  const plots = [...(paper.shadowRoot?.querySelectorAll("gyle-plot") ?? [])];
  const waits = (): boolean => plots.some(({ shadowRoot }) => shadowRoot?.querySelector("canvas, .none") === null);
  do await new Promise((frame) => requestAnimationFrame(() => setTimeout(frame)));
  while (waits() && performance.now() < end);
}
